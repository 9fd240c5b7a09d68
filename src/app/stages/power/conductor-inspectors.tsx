// The chosen jumper or run as the power sees it: what passes along it, what it gets, and what would follow if it broke.
import { useState } from 'react';
import { along, type ConductorPlace, type JumperConductors, voltsFigure } from '../../../power/index.ts';
import { setJumper } from '../../../project/index.ts';
import {
  Button,
  Buttons,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
} from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useProject, useShownPower, useWorkbench } from '../../workbench/context.ts';
import { drawnAmps, leastVolts } from '../../workbench/power-view.ts';
import { intoInspector } from '../runs/into-inspector.ts';
import { lowered, useCaseTitle, useIsBroken } from './use-case-title.ts';
import { WhatIfGroup, whatIfs } from './what-if.tsx';

export function JumperPower({ line, place }: { readonly line: number; readonly place: number }) {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { assessment, shown } = useShownPower();
  const title = useCaseTitle();
  const conductors = assessment.panel.jumpers.find((one) => one.line === line && one.place === place);
  if (!conductors) return null;
  const { jumper, wire, plus, ground } = conductors;
  const { from, to, power } = jumper;
  const most = Math.max(Math.abs(along(shown.linkAmps, plus)), Math.abs(along(shown.linkAmps, ground)));
  const nameOf = (id: string) => runName(project.runs.find((run) => run.id === id) ?? { id });
  return (
    <>
      <InspectorTitle title="Jumper">
        From {nameOf(from.run.id)} to {nameOf(to.run.id)}
      </InspectorTitle>
      <Group title="What it joins">
        <SelectField
          label="+ is"
          value={power}
          choices={[
            { id: 'carried', label: 'Carried on' },
            { id: 'cut', label: 'Cut: a new zone begins' },
          ]}
          onChange={(to) => edit('Change jumper', setJumper(line, place, { power: to }))}
        />
        <Derived label="Data and ground">always</Derived>
      </Group>
      <Group title={`What passes: ${lowered(title)}`}>
        <Derived label="Along +" unit={plus === undefined ? '' : 'A'}>
          {plus === undefined ? 'cut' : Math.abs(along(shown.linkAmps, plus)).toFixed(2)}
        </Derived>
        <Derived label="Along ground" unit={ground === undefined ? '' : 'A'}>
          {ground === undefined ? 'cut' : Math.abs(along(shown.linkAmps, ground)).toFixed(2)}
        </Derived>
        <Derived label={`${wire.id} may carry`} unit="A" tone={most > wire.designAmps ? 'warn' : 'plain'}>
          {wire.designAmps}
        </Derived>
      </Group>
      <WhatIfGroup
        title="What if, here"
        choices={whatIfs((rail) => ({ kind: 'jumper', line, place, rail }), power === 'carried')}
      />
    </>
  );
}

export function RunPower({ id }: { readonly id: string }) {
  const run = useProject(({ runs }) => runs.find((one) => one.id === id));
  const workbench = useWorkbench();
  const { assessment, shown } = useShownPower();
  const title = useCaseTitle();
  const isBroken = useIsBroken();
  const [behind, setBehind] = useState(0);
  if (!run) return null;
  const { panel } = assessment;
  const first = Math.max(
    0,
    panel.leds.findIndex((one) => one.run === id),
  );
  const { lowest, withoutPower } = leastVolts(assessment, shown, first, run.ledCount);
  const zone = panel.leds[first]?.zone ?? 0;
  const before = panel.jumpers.find(({ jumper }) => jumper.to.run.id === id);
  const after = panel.jumpers.find(({ jumper }) => jumper.from.run.id === id);
  const led = Math.min(behind, Math.max(0, run.ledCount - 2));
  const goTo = ({ line, place }: JumperConductors) => {
    intoInspector(() => workbench.select({ kind: 'jumper', line, place }));
  };
  const place = (rail: 'plus' | 'ground'): ConductorPlace => ({ kind: 'segment', run: id, led, rail });
  return (
    <>
      <InspectorTitle title={runName(run)}>
        {run.ledCount} {run.ledCount === 1 ? 'LED' : 'LEDs'} in zone {zone + 1}
      </InspectorTitle>
      <Group title={`What it gets: ${lowered(title)}`}>
        <Derived label={lowest || isBroken ? 'Draws' : 'Would draw'} unit="A">
          {drawnAmps(assessment, shown, isBroken, first, run.ledCount).toFixed(2)}
        </Derived>
        <Derived label="Lowest" unit={lowest ? 'V' : ''} tone={lowest ? 'plain' : 'warn'}>
          {lowest ? voltsFigure(lowest.volts) : 'no power'}
        </Derived>
        <Derived label="At LED">{lowest ? panel.leds[lowest.led]!.led : '-'}</Derived>
        <Derived label="Works down to" unit="V">
          {panel.leds[first]?.strip.floorVolts.toFixed(1)}
        </Derived>
        {withoutPower > 0 && (
          <Derived label="LEDs without power" tone="warn">
            {withoutPower}
          </Derived>
        )}
        {(before || after) && (
          <Buttons>
            {before && <Button onPress={() => goTo(before)}>Jumper before</Button>}
            {after && <Button onPress={() => goTo(after)}>Jumper behind</Button>}
          </Buttons>
        )}
      </Group>
      {run.ledCount > 1 && (
        <>
          <Group title="A joint of this run">
            <NumberField
              label="Behind LED"
              value={led}
              least={0}
              most={run.ledCount - 2}
              digits={0}
              onChange={setBehind}
            />
          </Group>
          <WhatIfGroup title="What if, there" choices={whatIfs(place, true)} />
        </>
      )}
    </>
  );
}
