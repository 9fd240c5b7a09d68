// Keep-outs as a table, and the chosen one by its numbers.
import { useDeferredValue, useMemo } from 'react';
import {
  addKeepOut,
  changeKeepOut,
  freeId,
  type KeepOut,
  limits,
  removeKeepOut,
} from '../../../project/index.ts';
import {
  Button,
  Buttons,
  Derived,
  FieldRow,
  Group,
  NumberField,
  SelectField,
  ShortName,
  TextField,
} from '../../fields/index.ts';
import { useEdit, useProject, useSelected, useSettled, useWorkbench } from '../../workbench/context.ts';
import {
  centreOf,
  cornerScrews,
  inShape,
  keepOutName,
  nearestStripMm,
  purposes,
  sizeOf,
} from './keep-out-facts.ts';
import css from './panel.module.css';

const furthestMm = 10_000;
const kinds = [
  { id: 'circle', label: 'Circle' },
  { id: 'rectangle', label: 'Rectangle' },
] as const;

function Table({
  keepOuts,
  chosen,
}: {
  readonly keepOuts: readonly KeepOut[];
  readonly chosen: string | undefined;
}) {
  const workbench = useWorkbench();
  return (
    <table className={css['keep-outs']}>
      <thead>
        <tr>
          <th scope="col">
            <span className="visually-hidden">Name</span>
          </th>
          <th scope="col">Size, mm</th>
          <th scope="col">Centre x, y</th>
        </tr>
      </thead>
      <tbody>
        {keepOuts.map((keepOut) => {
          const { xMm, yMm } = centreOf(keepOut);
          return (
            <tr key={keepOut.id} data-chosen={keepOut.id === chosen}>
              <th scope="row">
                <button
                  type="button"
                  aria-pressed={keepOut.id === chosen}
                  onClick={() => workbench.select({ kind: 'keep-out', id: keepOut.id })}
                >
                  <ShortName>{keepOutName(keepOut)}</ShortName>
                </button>
              </th>
              <td>{sizeOf(keepOut)}</td>
              <td>
                {xMm.toFixed(0)}, {yMm.toFixed(0)}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

interface ShapeField {
  readonly label: string;
  readonly value: number;
  readonly isSize: boolean;
  readonly changed: (mm: number) => KeepOut['shape'];
}

/** The numbers of a shape in rows of up to two. */
function shapeRows(shape: KeepOut['shape']): readonly { label: string; fields: readonly ShapeField[] }[] {
  if (shape.kind === 'circle') {
    const { centre, diameterMm } = shape;
    return [
      {
        label: 'Diameter',
        fields: [
          {
            label: 'Diameter',
            value: diameterMm,
            isSize: true,
            changed: (mm) => ({ ...shape, diameterMm: mm }),
          },
        ],
      },
      {
        label: 'Centre x, y',
        fields: (['xMm', 'yMm'] as const).map((key) => ({
          label: key === 'xMm' ? 'Centre from the left' : 'Centre from the top',
          value: centre[key],
          isSize: false,
          changed: (mm) => ({ ...shape, centre: { ...centre, [key]: mm } }),
        })),
      },
    ];
  }
  const field = (
    key: 'xMm' | 'yMm' | 'widthMm' | 'heightMm',
    label: string,
    isSize: boolean,
  ): ShapeField => ({
    label,
    value: shape[key],
    isSize,
    changed: (mm) => ({ ...shape, [key]: mm }),
  });
  return [
    {
      label: 'Width, height',
      fields: [field('widthMm', 'Keep-out width', true), field('heightMm', 'Keep-out height', true)],
    },
    {
      label: 'Left, top',
      fields: [field('xMm', 'Keep-out from the left', false), field('yMm', 'Keep-out from the top', false)],
    },
  ];
}

function Chosen({ keepOut }: { readonly keepOut: KeepOut }) {
  const edit = useEdit();
  const { id, name = '', purpose, shape } = keepOut;
  const change = (what: Parameters<typeof changeKeepOut>[1], gesture?: string) =>
    edit('Change keep-out', changeKeepOut(id, what), gesture);
  return (
    <div className={css['chosen']}>
      <TextField
        label="Name"
        value={name}
        onChange={(typed) => change({ name: typed === '' ? undefined : typed })}
      />
      <SelectField
        label="For"
        value={purpose}
        choices={purposes}
        onChange={(value) => change({ purpose: value })}
      />
      <SelectField
        label="Shape"
        value={shape.kind}
        choices={kinds}
        onChange={(kind) => change({ shape: inShape(keepOut, kind) })}
      />
      {shapeRows(shape).map(({ label, fields }) => (
        <FieldRow key={label} label={label}>
          {fields.map((field) => (
            <NumberField
              key={field.label}
              isBare
              label={field.label}
              unit="mm"
              value={field.value}
              least={field.isSize ? 0.1 : -furthestMm}
              most={field.isSize ? limits.panelMm : furthestMm}
              onChange={(mm, gesture) => change({ shape: field.changed(mm) }, gesture)}
            />
          ))}
        </FieldRow>
      ))}
    </div>
  );
}

/** How near strip comes to the chosen keep-out, or to any. */
function NearestStrip({ keepOuts }: { readonly keepOuts: readonly KeepOut[] }) {
  const { layout } = useDeferredValue(useSettled());
  const shown = useDeferredValue(keepOuts);
  const nearest = useMemo(
    () => shown.flatMap((keepOut) => nearestStripMm(layout, keepOut) ?? []),
    [layout, shown],
  );
  if (nearest.length === 0) return null;
  const leastMm = Math.min(...nearest);
  return (
    <Derived label="Nearest strip" unit="mm" tone={leastMm > 0 ? 'plain' : 'warn'}>
      {leastMm.toFixed(1)}
    </Derived>
  );
}

export function KeepOutsGroup() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const panel = useProject((project) => project.panel);
  const { keepOuts = [], widthMm, heightMm } = panel;
  const selected = useSelected('keep-out');
  const chosen = selected && keepOuts.find(({ id }) => id === selected.id);
  const looked = useMemo(() => (chosen ? [chosen] : keepOuts), [chosen, keepOuts]);
  const add = () => {
    const id = freeId(
      keepOuts.map((one) => one.id),
      'keep-out',
    );
    const centre = { xMm: Math.round(widthMm / 2), yMm: Math.round(heightMm / 2) };
    edit(
      'Add keep-out',
      addKeepOut({ id, purpose: 'other', shape: { kind: 'circle', centre, diameterMm: 40 } }),
    );
    workbench.select({ kind: 'keep-out', id });
  };
  const addScrews = () =>
    edit('Add four corner screws', (draft) => {
      for (const screw of cornerScrews(panel)) addKeepOut(screw)(draft);
    });
  return (
    <Group title="Keep-outs">
      {keepOuts.length > 0 && <Table keepOuts={keepOuts} chosen={chosen?.id} />}
      {chosen && <Chosen key={chosen.id} keepOut={chosen} />}
      <NearestStrip keepOuts={looked} />
      <Buttons>
        <Button isDisabled={keepOuts.length >= limits.keepOuts} onPress={add}>
          Add a keep-out
        </Button>
        <Button isDisabled={keepOuts.length + 4 > limits.keepOuts} onPress={addScrews}>
          Four corner screws
        </Button>
        {chosen && <Button onPress={() => edit('Remove keep-out', removeKeepOut(chosen.id))}>Remove</Button>}
      </Buttons>
    </Group>
  );
}
