// What drawing snaps to: the grid, tied to a strip's pitch if wished, and guides.
import { X } from 'lucide-react';
import { rowById, strips } from '../../../catalogue/index.ts';
import { defaultStripOf, gridColumnMm } from '../../../panel/index.ts';
import { addGuide, limits, moveGuide, type Panel, removeGuide, setGrid } from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckField,
  Derived,
  FieldRow,
  Group,
  NumberField,
  SelectField,
} from '../../fields/index.ts';
import { useEdit, useProject, useSelected, useWorkbench } from '../../workbench/context.ts';
import css from './panel.module.css';

const furthestMm = 10_000;
const usualRowMm = 25;

type Grid = NonNullable<Panel['grid']>;

export function GridGroup() {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { grid } = project.panel;
  const set = (change: Partial<Grid>, gesture?: string) =>
    grid && edit('Change the grid', setGrid({ ...grid, ...change }), gesture);
  const follow = (strip: string) => {
    if (!grid) return;
    const { strip: _strip, everyLeds: _every, ...plain } = grid;
    edit('Change the grid', setGrid(strip === '' ? plain : { ...plain, strip, everyLeds: 1 }));
  };
  const own = project.strips ?? [];
  const choices = [
    { id: '', label: 'as far as rows' },
    ...own.map(({ id }) => ({ id, label: `${rowById(strips, id)?.label ?? id} (own)` })),
    ...strips.filter(({ id }) => !rowById(own, id)).map(({ id, label }) => ({ id, label })),
  ];
  return (
    <Group title="Grid">
      <CheckField
        label="Grid to snap to"
        value={grid !== undefined}
        onChange={(has) =>
          edit(
            has ? 'Lay a grid' : 'Remove the grid',
            setGrid(
              has
                ? {
                    origin: { xMm: 0, yMm: 0 },
                    rowMm: usualRowMm,
                    strip: defaultStripOf(project),
                    everyLeds: 1,
                  }
                : undefined,
            ),
          )
        }
      />
      {grid && (
        <>
          <NumberField
            label="Rows every"
            unit="mm"
            value={grid.rowMm}
            least={1}
            most={limits.panelMm}
            onChange={(rowMm, gesture) => set({ rowMm }, gesture)}
          />
          <SelectField label="Columns" value={grid.strip ?? ''} choices={choices} onChange={follow} />
          {grid.strip !== undefined && (
            <NumberField
              label="A column every so many LEDs"
              value={grid.everyLeds ?? 1}
              least={1}
              most={100}
              digits={0}
              onChange={(everyLeds, gesture) => set({ everyLeds }, gesture)}
            />
          )}
          <Derived label="Columns every" unit="mm">
            {gridColumnMm(project)?.toFixed(3)}
          </Derived>
          <FieldRow label="Begins at">
            {(['xMm', 'yMm'] as const).map((key) => (
              <NumberField
                key={key}
                isBare
                label={key === 'xMm' ? 'Grid from the left' : 'Grid from the top'}
                unit="mm"
                value={grid.origin[key]}
                least={-furthestMm}
                most={furthestMm}
                onChange={(mm, gesture) => set({ origin: { ...grid.origin, [key]: mm } }, gesture)}
              />
            ))}
          </FieldRow>
        </>
      )}
    </Group>
  );
}

const axisWords = { x: 'standing', y: 'lying' } as const;

export function GuidesGroup() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const { guides = [], widthMm, heightMm } = useProject((project) => project.panel);
  const selected = useSelected('guide');
  const add = (axis: 'x' | 'y') => {
    edit('Add guide', addGuide(axis, Math.round((axis === 'x' ? widthMm : heightMm) / 2)));
    workbench.select({ kind: 'guide', index: guides.length });
  };
  const isFull = guides.length >= limits.guides;
  return (
    <Group title="Guides">
      {guides.length === 0 && <p className={css['soft']}>Pull one out of a ruler, or add it here.</p>}
      {guides.map(({ axis, atMm }, index) => {
        const name = `Guide ${index + 1}, ${axisWords[axis]}`;
        return (
          // Guides have no id of their own.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          <div key={index} className={css['guide']} data-chosen={selected?.index === index}>
            <button type="button" onClick={() => workbench.select({ kind: 'guide', index })}>
              {name}
            </button>
            <NumberField
              isBare
              label={`${name}, at`}
              unit="mm"
              value={atMm}
              least={-furthestMm}
              most={furthestMm}
              onChange={(mm, gesture) => edit('Move guide', moveGuide(index, mm), gesture)}
            />
            <Button label={`Remove ${name}`} onPress={() => edit('Remove guide', removeGuide(index))}>
              <X size={14} aria-hidden="true" />
            </Button>
          </div>
        );
      })}
      <Buttons>
        <Button isDisabled={isFull} onPress={() => add('x')}>
          Add standing
        </Button>
        <Button isDisabled={isFull} onPress={() => add('y')}>
          Add lying
        </Button>
      </Buttons>
    </Group>
  );
}
