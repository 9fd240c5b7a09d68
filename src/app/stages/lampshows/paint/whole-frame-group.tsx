// What is done with whole frames: shifted, turned, mirrored, emptied; and the grid that all frames of the clip share.
import { gridFor } from '../../../../lampshow/index.ts';
import {
  cellsOfOne,
  type GridSize,
  mirroredCells,
  paintedLimits,
  setCells,
  setPaintedGrid,
  shiftedCells,
  turnedCells,
} from '../../../../project/index.ts';
import { ledsOfArea } from '../../../canvas/drags-paint.ts';
import { Button, Buttons, Group, NumberField } from '../../../fields/index.ts';
import { useEdit, useProject, useSettled } from '../../../workbench/context.ts';
import type { PaintedPlace } from '../../../workbench/painting.ts';
import inspector from '../inspector.module.css';
import css from './paint.module.css';

const changes: readonly {
  readonly text: string;
  readonly label: string;
  readonly change: (cells: string, grid: GridSize) => string;
}[] = [
  { text: '←', label: 'Shift frame left', change: (cells, grid) => shiftedCells(cells, grid, -1, 0) },
  { text: '→', label: 'Shift frame right', change: (cells, grid) => shiftedCells(cells, grid, 1, 0) },
  { text: '↑', label: 'Shift frame up', change: (cells, grid) => shiftedCells(cells, grid, 0, -1) },
  { text: '↓', label: 'Shift frame down', change: (cells, grid) => shiftedCells(cells, grid, 0, 1) },
  { text: 'Turn', label: 'Turn frame a quarter clockwise', change: turnedCells },
  {
    text: 'Mirror across',
    label: 'Mirror frame left and right',
    change: (cells, grid) => mirroredCells(cells, grid, 'left-right'),
  },
  {
    text: 'Mirror down',
    label: 'Mirror frame up and down',
    change: (cells, grid) => mirroredCells(cells, grid, 'up-down'),
  },
  { text: 'Empty', label: 'Empty frame', change: (_, grid) => cellsOfOne(grid) },
];

export function WholeFrameGroup({ painted }: { readonly painted: PaintedPlace }) {
  const edit = useEdit();
  const { place, effect, frames } = painted;
  return (
    <Group title={frames.length === 1 ? 'Whole frame' : `Whole frames, ${frames.length} chosen`}>
      <div className={css['tight']}>
        <Buttons>
          {changes.map(({ text, label, change }) => (
            <Button
              key={label}
              label={label}
              onPress={() =>
                edit(
                  label,
                  setCells(
                    place,
                    frames.map((frame) => ({ frame, cells: change(effect.frames[frame]!.cells, effect) })),
                  ),
                )
              }
            >
              {text}
            </Button>
          ))}
        </Buttons>
      </div>
    </Group>
  );
}

export function GridGroup({ painted }: { readonly painted: PaintedPlace }) {
  const edit = useEdit();
  const { layout } = useSettled();
  const { place, effect, clip } = painted;
  const { columns, rows } = effect;
  const area = useProject(({ areas }) => areas.find(({ id }) => id === clip.area));
  return (
    <Group title="Grid">
      <NumberField
        label="Columns"
        digits={0}
        least={1}
        most={paintedLimits.cells}
        value={columns}
        onChange={(typed, gesture) => edit('Change grid', setPaintedGrid(place, typed, rows), gesture)}
      />
      <NumberField
        label="Rows"
        digits={0}
        least={1}
        most={paintedLimits.cells}
        value={rows}
        onChange={(typed, gesture) => edit('Change grid', setPaintedGrid(place, columns, typed), gesture)}
      />
      <Buttons>
        <Button
          isDisabled={!area}
          onPress={() => {
            const grid = gridFor(ledsOfArea(layout, area!));
            edit('Change grid', setPaintedGrid(place, grid.columns, grid.rows));
          }}
        >
          As the LEDs lie
        </Button>
      </Buttons>
      <p className={inspector['note']}>
        The grid fills the box round the area’s LEDs; what is painted stays where it lies. Frames cost flash
        by LEDs, not by cells: 1 bit each with 2 colours, 2 bits with 4, else 4. Equal frames are stored once.
      </p>
    </Group>
  );
}
