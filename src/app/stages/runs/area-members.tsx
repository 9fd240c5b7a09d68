// What belongs to an area: whole runs, parts of runs, rectangles, lines round LEDs, brushed lines. Each can be taken out again.
import { Trash2 } from 'lucide-react';
import { type Area, type AreaMembers, limits, setAreaMembers } from '../../../project/index.ts';
import { Button, CheckField, Group, NumberField } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useProject } from '../../workbench/context.ts';
import css from './runs.module.css';

type Rectangle = Extract<AreaMembers, { kind: 'rectangle' }>;
type Set = (label: string, members: readonly AreaMembers[], gesture?: string) => void;

const furthestMm = 10_000;

const rectangleFields = [
  { key: 'xMm', label: 'Left', least: -furthestMm },
  { key: 'yMm', label: 'Top', least: -furthestMm },
  { key: 'widthMm', label: 'Width', least: 0.1 },
  { key: 'heightMm', label: 'Height', least: 0.1 },
] as const;

const RectangleFields = ({
  rectangle,
  onChange,
}: {
  readonly rectangle: Rectangle;
  readonly onChange: (rectangle: Rectangle, gesture?: string) => void;
}) =>
  rectangleFields.map(({ key, label, least }) => (
    <NumberField
      key={key}
      label={label}
      unit="mm"
      least={least}
      most={furthestMm}
      value={rectangle[key]}
      onChange={(value, gesture) => onChange({ ...rectangle, [key]: value }, gesture)}
    />
  ));

/** What an entry is, in words; nothing for what has a part of the inspector of its own. */
const words: {
  readonly [K in AreaMembers['kind']]: (
    members: Extract<AreaMembers, { kind: K }>,
    nameOf: (run: string) => string,
  ) => string | undefined;
} = {
  all: () => undefined,
  runs: () => undefined,
  leds: ({ run, from, to }, nameOf) => `${nameOf(run)}, LED ${Math.min(from, to)} to ${Math.max(from, to)}`,
  rectangle: () => 'Rectangle',
  outline: ({ points }) => `Inside a line of ${points.length} points`,
  stroke: ({ points }) => (points.length === 1 ? 'Brushed spot' : `Brushed line of ${points.length} points`),
};

const wordsOf = (members: AreaMembers, nameOf: (run: string) => string): string | undefined =>
  (words[members.kind] as (members: AreaMembers, nameOf: (run: string) => string) => string | undefined)(
    members,
    nameOf,
  );

/** Everything drawn, and parts of runs. */
function Drawn({ area, set }: { readonly area: Area; readonly set: Set }) {
  const runs = useProject((project) => project.runs);
  const nameOf = (id: string) => runName(runs.find((run) => run.id === id) ?? { id });
  const replace = (label: string, index: number, by: AreaMembers | undefined, gesture?: string) =>
    set(
      label,
      area.members.flatMap((one, at) => (at === index ? (by ?? []) : one)),
      gesture,
    );
  const drawn = area.members
    .map((members, index) => ({ members, index, text: wordsOf(members, nameOf) }))
    .filter(({ text }) => text !== undefined);
  if (drawn.length === 0) return null;
  return (
    <Group title="Drawn, and parts of runs">
      {drawn.map(({ members, index, text }) => (
        // Members have no id of their own: their place in the list is what they are known by.
        <div key={index} className={css['member']}>
          <div>
            <span>{text}</span>
            <Button
              label={`Take out: ${text}`}
              onPress={() => replace('Take a part out of the area', index, undefined)}
            >
              <Trash2 size={14} aria-hidden="true" />
            </Button>
          </div>
          {members.kind === 'rectangle' && (
            <RectangleFields
              rectangle={members}
              onChange={(next, gesture) => replace('Change rectangle', index, next, gesture)}
            />
          )}
          {members.kind === 'stroke' && (
            <NumberField
              label="Brush radius"
              unit="mm"
              least={0.1}
              most={limits.panelMm}
              value={members.radiusMm}
              onChange={(radiusMm, gesture) =>
                replace('Change brush', index, { ...members, radiusMm }, gesture)
              }
            />
          )}
        </div>
      ))}
    </Group>
  );
}

export function AreaMembersGroups({ area }: { readonly area: Area }) {
  const edit = useEdit();
  const runs = useProject((project) => project.runs);
  const set: Set = (label, members, gesture) => edit(label, setAreaMembers(area.id, members), gesture);
  const isAll = area.members.some(({ kind }) => kind === 'all');
  const whole = area.members.find((members) => members.kind === 'runs');
  const others = area.members.filter((members) => members !== whole);
  const setRuns = (label: string, ids: readonly string[]) =>
    set(label, [
      ...others,
      ...(ids.length > 0 || others.length === 0 ? [{ kind: 'runs' as const, runs: [...ids] }] : []),
    ]);
  return (
    <>
      <Drawn area={area} set={set} />
      <Group title="Runs">
        <CheckField
          label="Every LED of the panel"
          value={isAll}
          onChange={(all) => set('Change area', [all ? { kind: 'all' } : { kind: 'runs', runs: [] }])}
        />
        {!isAll && (
          <div className={css['members']}>
            {runs.map((run) => (
              <CheckField
                key={run.id}
                label={runName(run)}
                value={whole?.runs.includes(run.id) ?? false}
                onChange={(isIn) =>
                  setRuns(
                    isIn ? 'Add run to area' : 'Take run out of area',
                    runs
                      .map(({ id }) => id)
                      .filter((id) => (id === run.id ? isIn : (whole?.runs.includes(id) ?? false))),
                  )
                }
              />
            ))}
          </div>
        )}
      </Group>
    </>
  );
}
