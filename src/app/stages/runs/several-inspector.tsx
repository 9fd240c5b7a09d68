// Several runs at once: what they have in common, and what is done with all of them. Parts that a drag doesn't change are not drawn again by it.
import { memo, useState } from 'react';
import { colourOrders } from '../../../catalogue/index.ts';
import { copyInRows, inSequence, moveRuns, turnRuns } from '../../../panel/index.ts';
import { limits, setRunColourOrder, setRunStrip } from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckField,
  FieldRow,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
} from '../../fields/index.ts';
import { commands } from '../../workbench/commands/index.ts';
import { useCommander, useEdit, useProject, useScreen } from '../../workbench/context.ts';
import { AreasOfRuns } from './areas-of-runs.tsx';
import { ChannelsOfRuns } from './channels-of-runs.tsx';
import { stripChoices } from './strip-choices.ts';

const furthestMm = 10_000;
const join = commands.find(({ id }) => id === 'run-join')!;
/** What the choice says where the runs differ. */
const mixed = 'mixed';

/** The value that all have; undefined where they differ. */
function common<T>(values: readonly T[]): T | undefined {
  return values.every((value) => value === values[0]) ? values[0] : undefined;
}

/** Both undefined where the runs differ. */
const Strip = memo(function Strip({
  ids,
  strip,
  order,
}: {
  readonly ids: readonly string[];
  readonly strip: string | undefined;
  readonly order: string | undefined;
}) {
  const edit = useEdit();
  const strips = useProject((project) => project.strips);
  const asMixed = { id: mixed, label: 'Mixed' };
  return (
    <Group title="Strip">
      <SelectField<string>
        label="Type"
        value={strip ?? mixed}
        choices={[...(strip === undefined ? [asMixed] : []), ...stripChoices({ strips })]}
        onChange={(to) => {
          if (to !== mixed) edit('Change strip', inSequence(ids.map((id) => setRunStrip(id, to))));
        }}
      />
      <SelectField<string>
        label="Colour order"
        value={order ?? mixed}
        choices={[
          ...(order === undefined ? [asMixed] : []),
          { id: '', label: 'As the strip' },
          ...colourOrders.map((id) => ({ id, label: [...id].join(' ') })),
        ]}
        onChange={(to) => {
          const wanted = colourOrders.find((one) => one === to);
          if (to !== mixed)
            edit('Change colour order', inSequence(ids.map((id) => setRunColourOrder(id, wanted))));
        }}
      />
    </Group>
  );
});

const Placing = memo(function Placing({ ids }: { readonly ids: readonly string[] }) {
  const edit = useEdit();
  const commander = useCommander();
  const [by, setBy] = useState({ xMm: 10, yMm: 0, deg: 90 });
  const canJoinThem = useScreen(join.when!);
  return (
    <Group title="Placement">
      <FieldRow label="Move by x, y">
        {(['xMm', 'yMm'] as const).map((key) => (
          <NumberField
            key={key}
            isBare
            label={`Move by ${key.charAt(0)}`}
            unit="mm"
            least={-furthestMm}
            most={furthestMm}
            value={by[key]}
            onChange={(value) => setBy({ ...by, [key]: value })}
          />
        ))}
      </FieldRow>
      <NumberField
        label="Turn by"
        unit="°"
        least={-360}
        most={360}
        step={15}
        value={by.deg}
        onChange={(deg) => setBy({ ...by, deg })}
      />
      <Buttons>
        <Button takesFigures onPress={() => edit('Move runs', moveRuns(ids, by.xMm, by.yMm))}>
          Move
        </Button>
        <Button takesFigures onPress={() => edit('Turn runs', turnRuns(ids, by.deg))}>
          Turn
        </Button>
        <Button onPress={() => commander.run('run-mirror-across')}>Mirror left and right</Button>
        <Button onPress={() => commander.run('run-mirror-down')}>Mirror up and down</Button>
        <Button isDisabled={!canJoinThem} onPress={() => commander.run('run-join')}>
          Join into one run
        </Button>
      </Buttons>
    </Group>
  );
});

export const Copies = memo(function Copies({ ids }: { readonly ids: readonly string[] }) {
  const edit = useEdit();
  const [copies, setCopies] = useState({ count: 1, xMm: 0, yMm: 30, alternates: true });
  const { count, xMm, yMm, alternates } = copies;
  return (
    <Group title="Copy in rows">
      <NumberField
        label="Copies"
        least={1}
        most={limits.runs}
        digits={0}
        value={count}
        onChange={(value) => setCopies({ ...copies, count: value })}
      />
      <FieldRow label="Each across, down">
        {(['xMm', 'yMm'] as const).map((key) => (
          <NumberField
            key={key}
            isBare
            label={key === 'xMm' ? 'Each copy across' : 'Each copy down'}
            unit="mm"
            least={-furthestMm}
            most={furthestMm}
            value={copies[key]}
            onChange={(value) => setCopies({ ...copies, [key]: value })}
          />
        ))}
      </FieldRow>
      <CheckField
        label="Every second one turned round"
        value={alternates}
        onChange={(value) => setCopies({ ...copies, alternates: value })}
      />
      <Buttons>
        <Button
          takesFigures
          onPress={() => edit('Copy in rows', copyInRows(ids, count, xMm, yMm, alternates))}
        >
          Copy
        </Button>
      </Buttons>
    </Group>
  );
});

export function SeveralInspector({ ids }: { readonly ids: readonly string[] }) {
  const commander = useCommander();
  const all = useProject((project) => project.runs);
  const runs = ids.flatMap((id) => all.find((run) => run.id === id) ?? []);
  const leds = runs.reduce((sum, run) => sum + run.ledCount, 0);
  return (
    <>
      <InspectorTitle title={`${runs.length} runs`}>{leds} LEDs together</InspectorTitle>
      <Group title="Runs">
        <Buttons>
          <Button onPress={() => commander.run('run-reverse')}>Turn the arrows round</Button>
          <Button onPress={() => commander.run('run-duplicate')}>Duplicate</Button>
          <Button onPress={() => commander.run('run-delete')}>Delete</Button>
        </Buttons>
      </Group>
      <Placing ids={ids} />
      <Strip
        ids={ids}
        strip={common(runs.map((run) => run.strip))}
        order={common(runs.map((run) => run.colourOrder ?? ''))}
      />
      <Copies ids={ids} />
      <AreasOfRuns ids={ids} />
      <ChannelsOfRuns ids={ids} />
    </>
  );
}
