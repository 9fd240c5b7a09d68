// Nothing chosen: what there is, as lists to choose from, and what can be added.
import { useState } from 'react';
import { defaultStripOf, stripById } from '../../../panel/index.ts';
import { addArea, addRun, freeId, limits, type Run } from '../../../project/index.ts';
import { Button, Buttons, Group, InspectorTitle } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useCompiled, useEdit, useProject, useScreen, useWorkbench } from '../../workbench/context.ts';
import { ChannelsGroup } from './channels-group.tsx';
import { intoInspector } from './into-inspector.ts';
import { ReelsDialog } from './reels-dialog.tsx';
import css from './runs.module.css';
import { SpotsGroup } from './spots-group.tsx';

/** A new run begins here, from the panel's left edge. */
const newRunMm = 40;

export function PanelOverview() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const project = useProject((one) => one);
  const { layout } = useCompiled();
  const { runs, areas, panel } = project;
  const hasSpots = useScreen((state) => state.spots.length > 0);
  const [areReelsOpen, setReelsOpen] = useState(false);

  const add = () => {
    const strip = defaultStripOf(project);
    const pitch = 1000 / stripById(project, strip).ledsPerMetre;
    const id = freeId(
      runs.map((run) => run.id),
      'run',
    );
    const run: Run = {
      id,
      firstLed: { xMm: newRunMm, yMm: Math.round(panel.heightMm / 2) },
      arrowDeg: 0,
      ledCount: Math.max(
        1,
        Math.min(limits.ledsPerRun, Math.floor((panel.widthMm - 2 * newRunMm) / pitch) + 1),
      ),
      strip,
    };
    intoInspector(() => {
      edit('Add run', addRun(run, Math.max(0, project.dataLines.length - 1)));
      workbench.select({ kind: 'run', id });
    });
  };
  const gather = () => {
    const id = freeId(
      areas.map((area) => area.id),
      'area',
    );
    intoInspector(() => {
      edit('Add area', addArea({ id, members: [{ kind: 'runs', runs: [] }], order: { kind: 'across' } }));
      workbench.select({ kind: 'area', id });
    });
  };

  return (
    <>
      <InspectorTitle title="Runs and areas">
        {layout.wireLeds.length} LEDs on {layout.lines.length} data{' '}
        {layout.lines.length === 1 ? 'line' : 'lines'}
      </InspectorTitle>
      {hasSpots && <SpotsGroup />}
      <Group title="Areas">
        <ul className={css['list']}>
          {areas.map((area) => (
            <li key={area.id}>
              <button
                type="button"
                onClick={() => intoInspector(() => workbench.select({ kind: 'area', id: area.id }))}
              >
                {area.name ?? area.id}
              </button>
            </li>
          ))}
        </ul>
        <Buttons>
          <Button onPress={gather}>Add an area of runs</Button>
        </Buttons>
      </Group>
      <Group title="Runs">
        <ul className={css['list']}>
          {runs.map((run) => (
            <li key={run.id}>
              <button
                type="button"
                onClick={() => intoInspector(() => workbench.select({ kind: 'run', id: run.id }))}
              >
                <span>{runName(run)}</span>
                <span className={css['figure']}>{run.ledCount}</span>
              </button>
            </li>
          ))}
        </ul>
        <Buttons>
          <Button onPress={add}>Add a run</Button>
          <Button onPress={() => setReelsOpen(true)}>Reels</Button>
        </Buttons>
      </Group>
      <ChannelsGroup />
      {areReelsOpen && <ReelsDialog onClose={() => setReelsOpen(false)} />}
    </>
  );
}
