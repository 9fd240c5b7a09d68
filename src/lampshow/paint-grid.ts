// Where the cells of painted frames lie on the panel, for whoever paints: the box that the grid fills, the cell at a place, a grid that suits an area,
// and what frames cost. Which cell an LED takes is said in cells.ts.
import type { ColourOrder } from '../catalogue/index.ts';
import type { BoundsMm, PointMm } from '../panel/index.ts';
import { type Cell, type PaintedEffect, paintedLimits } from '../project/index.ts';
import type { CellGrid } from './cells.ts';
import { cellsOf } from './cells.ts';
import { columnPitchMm, ledRows } from './letters.ts';
import { wholeArea } from './maps.ts';
import { framesBytes, packFrames, paletteBytes } from './painted.ts';
import { clipSize } from './show-data.ts';

/** A cell of an area whose LEDs all lie on one place. */
const loneCellMm = 10;

interface Stretch {
  readonly fromMm: number;
  readonly toMm: number;
}

const stretchOf = (values: readonly number[]): Stretch => ({
  fromMm: values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
  toMm: values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
});

/** The stretch itself, or where it has no length one of `count` cells of this size whose middle cell lies round it. */
function drawn({ fromMm, toMm }: Stretch, count: number, cellMm: number): Stretch {
  if (toMm > fromMm) return { fromMm, toMm };
  const from = fromMm - (Math.floor(count / 2) + 0.5) * cellMm;
  return { fromMm: from, toMm: from + count * cellMm };
}

/**
 * The box (mm) that the grid fills: that around the area's planned LEDs, which lie on its edges. Where they lie in one line it is given square cells,
 * so that the line runs through the middle of those that its LEDs take. Undefined for an area without LEDs.
 */
export function cellBoxOf(leds: readonly PointMm[], { columns, rows }: CellGrid): BoundsMm | undefined {
  const all = wholeArea(leds);
  if (all.length === 0) return undefined;
  const across = stretchOf(all.map(({ xMm }) => xMm));
  const down = stretchOf(all.map(({ yMm }) => yMm));
  const widthMm = (across.toMm - across.fromMm) / columns;
  const heightMm = (down.toMm - down.fromMm) / rows;
  const x = drawn(across, columns, heightMm > 0 ? heightMm : loneCellMm);
  const y = drawn(down, rows, widthMm > 0 ? widthMm : loneCellMm);
  return { leftMm: x.fromMm, topMm: y.fromMm, rightMm: x.toMm, bottomMm: y.toMm };
}

/** The cell at a place of the panel; its column and row lie outside the grid where the place does. */
export const cellAtPlace = (box: BoundsMm, { columns, rows }: CellGrid, { xMm, yMm }: PointMm): Cell => ({
  column: Math.floor(((xMm - box.leftMm) / (box.rightMm - box.leftMm)) * columns),
  row: Math.floor(((yMm - box.topMm) / (box.bottomMm - box.topMm)) * rows),
});

const within = (cells: number): number => Math.min(paintedLimits.cells, Math.max(1, cells));

/** The least count of rows, from so many on, in which LEDs of different rows take different rows of cells; as many as there are where none does. */
function rowsApart(leds: readonly PointMm[], rows: readonly (readonly number[])[]): number {
  for (let count = rows.length; count <= paintedLimits.cells; count++) {
    const cells = cellsOf(leds, { columns: 1, rows: count });
    const taken = new Set(rows.map((row) => cells[row[0]!]!));
    if (taken.size === rows.length) return count;
  }
  return within(rows.length);
}

/** A grid near the LEDs' own rows and columns: a row of cells for each row of LEDs, and a column for each step between neighbours. */
export function gridFor(leds: readonly PointMm[]): CellGrid {
  const all = wholeArea(leds);
  if (all.length === 0) return { columns: 1, rows: 1 };
  const rows = ledRows(all);
  const { fromMm, toMm } = stretchOf(all.map(({ xMm }) => xMm));
  const pitchMm = columnPitchMm(rows, all);
  return {
    columns: pitchMm > 0 ? within(Math.round((toMm - fromMm) / pitchMm) + 1) : 1,
    rows: rowsApart(all, rows),
  };
}

/** The palette's place in the table of colours. */
const offsetBytes = 2;
/** The length is the same in all. */
const anyOrder: ColourOrder = 'RGB';

/**
 * Flash (bytes) that a clip of painted frames takes on LEDs that `mappedLeds` gave: its own row, frames and palette; its area's list is shared. Less
 * where another clip has the same frames or palette, and a palette more for each further colour order that the panel's strips have.
 */
export const paintedClipBytes = (effect: PaintedEffect, leds: readonly PointMm[]): number =>
  clipSize +
  framesBytes(packFrames(effect, leds)) +
  offsetBytes +
  paletteBytes(effect.palette, anyOrder).length;
