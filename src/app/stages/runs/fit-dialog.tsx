// "Fit to channels": a drawing of engraved channels is picked, and the most LEDs that fit come to lie in each, with what is left over told before it is done.
import { useMemo, useState } from 'react';
import { FileTrigger } from 'react-aria-components';
import {
  type ChannelFit,
  channelsFrom,
  type Drawing,
  drawingSizeProblem,
  fitChannels,
  readDrawing,
} from '../../../panel/index.ts';
import { failed, type Problem, type Project, type Result } from '../../../project/index.ts';
import { Button, Buttons, SelectField } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useSettled } from '../../workbench/context.ts';
import css from './dialog.module.css';
import { Halves, Note, Outcome, StageDialog } from './dialog.tsx';
import { isMisfit, remarks } from './fit-words.ts';
import { inWords, outlookOf } from './lay-out-tasks.ts';
import { LayoutSketch } from './layout-sketch.tsx';

/** The layer that channels are looked for in by themselves. */
const usualLayer = 'channels';

interface Picked {
  readonly name: string;
  readonly drawing: Result<Drawing>;
}

async function readPicked(file: File, panelHeightMm: number): Promise<Picked> {
  const tooLarge: Problem | undefined = drawingSizeProblem(file.size, file.name);
  if (tooLarge) return { name: file.name, drawing: failed([tooLarge]) };
  const bytes = new Uint8Array(await file.arrayBuffer());
  return { name: file.name, drawing: readDrawing(bytes, file.name, panelHeightMm) };
}

/** What a drawing's layer comes to on this panel. */
function fittingOf(project: Project, drawing: Drawing, layer: string) {
  const found = channelsFrom(drawing, { layer, panel: project.panel });
  if (!found.ok) return found;
  const { edit, report } = fitChannels(project, found.value.channels);
  const fresh = new Set(report.flatMap(({ run }) => run ?? []));
  return {
    ok: true as const,
    value: { edit, report, fresh, notes: found.value.notes, outlook: outlookOf(project, edit) },
  };
}

const ChannelTable = ({
  project,
  report,
}: {
  readonly project: Project;
  readonly report: readonly ChannelFit[];
}) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
  <section className={css['table']} tabIndex={0} aria-label="Channels">
    <table>
      <thead>
        <tr>
          {['Channel', 'Run', 'Long, mm', 'LEDs', 'Left over, mm', ''].map((head) => (
            <th key={head} scope="col">
              {head === '' ? <span className="visually-hidden">Remarks</span> : head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {report.map((fit) => {
          const run = project.runs.find(({ id }) => id === fit.run);
          return (
            <tr key={fit.channel}>
              <th scope="row">{fit.channel}</th>
              <td>{fit.run === undefined ? '–' : run ? runName(run) : 'new'}</td>
              <td>{fit.lengthMm.toFixed(1)}</td>
              <td>{fit.ledCount}</td>
              <td data-tone={isMisfit(fit) ? 'warn' : undefined}>{Math.max(0, fit.leftOverMm).toFixed(2)}</td>
              <td data-words data-tone="warn">
                {remarks(fit)}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  </section>
);

const Problems = ({ problems }: { readonly problems: readonly Problem[] }) =>
  problems.map(({ code, expected, found, mend }) => (
    <Outcome key={code} tone="warn">
      Expected {expected}, found {found}. {mend}
    </Outcome>
  ));

export function FitDialog({ onClose }: { readonly onClose: () => void }) {
  const edit = useEdit();
  const { project } = useSettled();
  const [picked, setPicked] = useState<Picked>();
  const [layer, setLayer] = useState(usualLayer);
  const drawing = picked?.drawing.ok ? picked.drawing.value : undefined;
  const layers = drawing?.layers ?? [];
  const hasUsual = layers.some((one) => one.trim().toLowerCase() === usualLayer);
  const fitting = useMemo(() => drawing && fittingOf(project, drawing, layer), [project, drawing, layer]);
  const fit = fitting?.ok ? fitting.value : undefined;
  const leds = fit?.report.reduce((sum, { ledCount }) => sum + ledCount, 0) ?? 0;
  const apply = () => {
    if (fit) edit('Fit runs to channels', fit.edit);
    onClose();
  };
  return (
    <StageDialog
      title="Fit to engraved channels"
      act="Lay runs in these channels"
      onAct={fit && leds > 0 ? apply : undefined}
      onClose={onClose}
    >
      <Halves
        fields={
          <>
            <Note>
              An SVG or DXF drawing at true scale: closed outlines, or middle lines. A DXF counts from the
              panel's bottom left, an SVG from its top left.
            </Note>
            <Buttons>
              <FileTrigger
                acceptedFileTypes={['.svg', '.dxf']}
                onSelect={(files) => {
                  const file = files?.[0];
                  if (file)
                    void readPicked(file, project.panel.heightMm).then((read) => {
                      setPicked(read);
                      setLayer(usualLayer);
                    });
                }}
              >
                <Button onPress={() => undefined}>
                  {picked ? 'Another drawing...' : 'Pick a drawing...'}
                </Button>
              </FileTrigger>
            </Buttons>
            {picked && <Note>{picked.name}</Note>}
            {layers.length > 0 && (
              <SelectField
                label="Layer"
                value={layers.find((one) => one === layer) ?? usualLayer}
                choices={[
                  ...(hasUsual && layers.includes(usualLayer)
                    ? []
                    : [{ id: usualLayer, label: hasUsual ? 'Channels' : 'All outlines' }]),
                  ...layers.map((one) => ({ id: one, label: one })),
                ]}
                onChange={setLayer}
              />
            )}
            {fit && <LayoutSketch outlook={fit.outlook} fresh={fit.fresh} />}
          </>
        }
      >
        {picked && !picked.drawing.ok && <Problems problems={picked.drawing.problems} />}
        {fitting && !fitting.ok && <Problems problems={fitting.problems} />}
        {fit && (
          <>
            <Outcome tone={leds > 0 ? 'plain' : 'warn'}>
              {inWords(leds, 'LED')} in {inWords(fit.report.length, 'channel')}; the panel then draws{' '}
              {fit.outlook.amps.toFixed(2)} A at most.
            </Outcome>
            <ChannelTable project={project} report={fit.report} />
            {fit.notes.map((note) => (
              <Note key={note}>{note}</Note>
            ))}
          </>
        )}
      </Halves>
    </StageDialog>
  );
}
