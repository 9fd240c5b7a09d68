// The chosen area: which LEDs belong to it, and the order along which effects travel through them.
import { Trash2 } from 'lucide-react';
import { areaLeds } from '../../../panel/index.ts';
import {
  type Area,
  type AreaOrder,
  deleteArea,
  renameArea,
  setAreaOrder,
  setAreaRole,
} from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckField,
  FieldRow,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
  TextField,
} from '../../fields/index.ts';
import { useCompiled, useEdit, useProject } from '../../workbench/context.ts';
import { AreaMembersGroups } from './area-members.tsx';
import {
  addedPoint,
  canLosePoint,
  hasRoomForPoint,
  movedPoint,
  orderChoices,
  orderOfKind,
  type PlaceMm,
  removedPoint,
} from './area-orders.ts';
import { Note } from './dialog.tsx';

const furthestMm = 10_000;

function PathFields({
  order,
  onChange,
}: {
  readonly order: Extract<AreaOrder, { kind: 'path' }>;
  readonly onChange: (label: string, order: AreaOrder, gesture?: string) => void;
}) {
  return (
    <>
      {order.points.map((point, index) => (
        // Points have no id: their place in the line is what they are known by.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <FieldRow key={index} label={`Point ${index + 1}`}>
          {(['xMm', 'yMm'] as const).map((key) => (
            <NumberField
              key={key}
              isBare
              label={`Point ${index + 1} ${key.charAt(0)}`}
              unit="mm"
              least={-furthestMm}
              most={furthestMm}
              value={point[key]}
              onChange={(value, gesture) =>
                onChange('Move point', movedPoint(order, index, { [key]: value }), gesture)
              }
            />
          ))}
          <Button
            label={`Remove point ${index + 1}`}
            isDisabled={!canLosePoint(order)}
            onPress={() => onChange('Remove point', removedPoint(order, index))}
          >
            <Trash2 size={14} aria-hidden="true" />
          </Button>
        </FieldRow>
      ))}
      <Buttons>
        <Button isDisabled={!hasRoomForPoint(order)} onPress={() => onChange('Add point', addedPoint(order))}>
          Add a point
        </Button>
      </Buttons>
    </>
  );
}

function Order({
  area,
  middle,
  halfWidthMm,
}: {
  readonly area: Area;
  readonly middle: PlaceMm;
  readonly halfWidthMm: number;
}) {
  const edit = useEdit();
  const { order } = area;
  const set = (label: string, next: AreaOrder, gesture?: string) =>
    edit(label, setAreaOrder(area.id, next), gesture);
  return (
    <Group title="Effects travel">
      <SelectField
        label="Order"
        value={order.kind}
        choices={orderChoices}
        onChange={(kind) => set('Change order', orderOfKind(kind, order, middle, halfWidthMm))}
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
            least={-furthestMm}
            most={furthestMm}
            onChange={(value, gesture) =>
              set('Move centre', { ...order, centre: { ...order.centre, [key]: value } }, gesture)
            }
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
          onChange={(startDeg, gesture) => set('Turn beginning', { ...order, startDeg }, gesture)}
        />
      )}
      {order.kind === 'path' && <PathFields order={order} onChange={set} />}
    </Group>
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
        <TextField
          mono
          label="Role"
          hint="One word in small letters, such as sky, sea or tower"
          value={area.role ?? area.id}
          onChange={(role) => edit('Change role', setAreaRole(id, role))}
        />
        <Note>What it is on any panel. Shows that another builder gives you find their areas by it.</Note>
        <Buttons>
          <Button onPress={() => edit('Delete area', deleteArea(id))}>Delete area and its clips</Button>
        </Buttons>
      </Group>
      <Order area={area} middle={middle} halfWidthMm={Math.max(1, (right - left) / 2)} />
      <AreaMembersGroups area={area} />
    </>
  );
}
