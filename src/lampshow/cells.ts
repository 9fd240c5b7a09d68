// Which cell of a grid an LED falls in. The grid lies over the box around the area's LEDs, so painted frames know LEDs by place alone.
import type { PointMm } from '../panel/index.ts';
import { overWholeArea } from './maps.ts';

export interface CellGrid {
  readonly columns: number;
  readonly rows: number;
}

/** An LED this share of a cell before a border counts as behind it: places of runs laid from left and from right differ in their last digits. */
const borderShare = 1e-6;

/** The cell of each value when `count` cells lie from the least to the greatest; all in the middle one where the values don't differ. */
function cellsAlong(valuesMm: readonly number[], count: number): number[] {
  const least = valuesMm.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const range = valuesMm.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY) - least;
  if (!(range > 0)) return valuesMm.map(() => Math.floor(count / 2));
  return valuesMm.map((value) =>
    Math.min(count - 1, Math.floor(((value - least) / range) * count + borderShare)),
  );
}

/**
 * The cell of each LED, counted row by row from the top left. A cell's left and upper border belong to it. LEDs in one single row take the middle
 * row of cells (of two, the lower one), those in one single column the middle column (of two, the right one).
 */
export const cellsOf = (leds: readonly PointMm[], grid: CellGrid): readonly number[] =>
  overWholeArea(leds, (all) => cellsIn(all, grid));

function cellsIn(leds: readonly PointMm[], { columns, rows }: CellGrid): number[] {
  const along = cellsAlong(
    leds.map((led) => led.xMm),
    columns,
  );
  const down = cellsAlong(
    leds.map((led) => led.yMm),
    rows,
  );
  return leds.map((_, i) => down[i]! * columns + along[i]!);
}
