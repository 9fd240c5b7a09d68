// The chosen area: which LEDs belong to it, and the order along which effects travel through them.
import { areaLeds } from '../../../panel/index.ts';
import {
  type Area,
  type AreaMembers,
  type AreaOrder,
  deleteArea,
  renameArea,
  setAreaMembers,
  setAreaOrder,
} from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckField,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
  TextField,
} from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useCompiled, useEdit, useProject } from '../../workbench/context.ts';
import css from './runs.module.css';

type Rectangle = Extract<AreaMembers, { kind: 'rectangle' }>;

const orders: readonly { readonly id: AreaOrder['kind']; readonly label: string }[] = [
  { id: 'across', label: 'Left to right' },
  { id: 'up', label: 'Bottom to top' },
  { id: 'outward', label: 'Outward' },
  { id: 'around', label: 'Clockwise around' },
  { id: 'wiring', label: 'As it is wired' },
  { id: 'path', label: 'Along a line' },
];

interface Middle {
  readonly xMm: number;
  readonly yMm: number;
}

/** An order of another kind that begins sensibly: around the area's middle, along its middle line. */
const newOrder: {
  readonly [K in AreaOrder['kind']]: (middle: Middle, halfWidthMm: number) => Extract<AreaOrder, { kind: K }>;
} = {
  across: () => ({ kind: 'across' }),
  up: () => ({ kind: 'up' }),
  outward: (centre) => ({ kind: 'outward', centre }),
  around: (centre) => ({ kind: 'around', centre, startDeg: 90 }),
  wiring: () => ({ kind: 'wiring' }),
  path: ({ xMm, yMm }, half) => ({
    kind: 'path',
    points: [
      { xMm: xMm - half, yMm },
      { xMm: xMm + half, yMm },
    ],
  }),
};

function Order({
  area,
  middle,
  halfWidthMm,
}: {
  readonly area: Area;
  readonly middle: Middle;
  readonly halfWidthMm: number;
}) {
  const edit = useEdit();
  const { order } = area;
  const set = (label: string, next: AreaOrder) => edit(label, setAreaOrder(area.id, next));
  return (
    <Group title="Effects travel">
      <SelectField
        label="Order"
        value={order.kind}
        choices={orders}
        onChange={(kind) => set('Change order', newOrder[kind](middle, halfWidthMm))}
      />
      <CheckField
        label="The other way"
        value={order.reversed ?? false}
        onChange={(reversed) => set('Turn order round', { ...order, reversed })}
      />
      {(order.kind === 'outward' || order.kind === 'around') &&
        (['xMm', 'yMm'] as const).map((key) => (
          <NumberField
            key={key}
            label={`Centre ${key.charAt(0)}`}
            unit="mm"
            value={order.centre[key]}
            onChange={(value) => set('Move centre', { ...order, centre: { ...order.centre, [key]: value } })}
          />
        ))}
      {order.kind === 'around' && (
        <NumberField
          label="Begins at"
          unit="°"
          value={order.startDeg ?? 0}
          least={-360}
          most={360}
          step={15}
          onChange={(startDeg) => set('Turn beginning', { ...order, startDeg })}
        />
      )}
    </Group>
  );
}

const rectangleFields = [
  { key: 'xMm', label: 'Left', least: -10_000 },
  { key: 'yMm', label: 'Top', least: -10_000 },
  { key: 'widthMm', label: 'Width', least: 0.1 },
  { key: 'heightMm', label: 'Height', least: 0.1 },
] as const;

function RectangleFields({
  rectangle,
  onChange,
}: {
  readonly rectangle: Rectangle;
  readonly onChange: (rectangle: Rectangle) => void;
}) {
  return (
    <Group title="Rectangle">
      {rectangleFields.map(({ key, label, least }) => (
        <NumberField
          key={key}
          label={label}
          unit="mm"
          least={least}
          value={rectangle[key]}
          onChange={(value) => onChange({ ...rectangle, [key]: value })}
        />
      ))}
    </Group>
  );
}

function Members({ area }: { readonly area: Area }) {
  const edit = useEdit();
  const runs = useProject((project) => project.runs);
  const set = (label: string, members: AreaMembers[]) => edit(label, setAreaMembers(area.id, members));
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
      {area.members.map((members, index) =>
        members.kind === 'rectangle' ? (
          <RectangleFields
            // Members have no id of their own.
            // biome-ignore lint/suspicious/noArrayIndexKey: see above
            key={index}
            rectangle={members}
            onChange={(rectangle) =>
              set(
                'Change rectangle',
                area.members.map((one, at) => (at === index ? rectangle : one)),
              )
            }
          />
        ) : null,
      )}
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

export function AreaInspector({ id }: { readonly id: string }) {
  const edit = useEdit();
  const { layout } = useCompiled();
  const area = useProject(({ areas }) => areas.find((one) => one.id === id));
  const panel = useProject((project) => project.panel);
  if (!area) return null;
  const leds = areaLeds(layout, area).map(({ wire }) => layout.wireLeds[wire]!);
  const spanOf = (key: 'xMm' | 'yMm', fallbackMm: number) => {
    const values = leds.map((led) => led[key]);
    return values.length === 0 ? [0, fallbackMm] : [Math.min(...values), Math.max(...values)];
  };
  const [left, right] = spanOf('xMm', panel.widthMm) as [number, number];
  const [top, bottom] = spanOf('yMm', panel.heightMm) as [number, number];
  const middle = { xMm: (left + right) / 2, yMm: (top + bottom) / 2 };
  return (
    <>
      <InspectorTitle title={area.name ?? area.id}>{leds.length} LEDs</InspectorTitle>
      <Group title="Area">
        <TextField
          label="Name"
          value={area.name ?? ''}
          onChange={(name) => edit('Rename area', renameArea(id, name))}
        />
        <Buttons>
          <Button onPress={() => edit('Delete area', deleteArea(id))}>Delete area and its clips</Button>
        </Buttons>
      </Group>
      <Order area={area} middle={middle} halfWidthMm={Math.max(1, (right - left) / 2)} />
      <Members area={area} />
    </>
  );
}
