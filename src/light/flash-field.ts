// How much of the panel flashes at once within one visual field of ten degrees, and whether that is more than may. Not here: which cells flash.
import { fieldRadiusMm } from './flash-rules.ts';
import type { LightGrid } from './grid.ts';

export interface FieldArea {
  /** The largest area of flashing cells in any one field, mm2. */
  readonly areaMm2: number;
  /** The middle of that field, mm on the panel. */
  readonly xMm: number;
  readonly yMm: number;
}

/**
 * Cells count whole. A field's middle is tried at every cell, and the field is taken wider by a cell's diagonal, so that no field anywhere holds
 * more than is told. `flashing`: 1 or 0 a cell, row by row.
 */
export function largestField(grid: LightGrid, flashing: Uint8Array, distanceMm: number): FieldArea {
  const { columns, rows, cellWidthMm, cellHeightMm } = grid;
  const radius = fieldRadiusMm(distanceMm) + Math.hypot(cellWidthMm, cellHeightMm);
  // Cells of each row up to a column: a field's share of a row is a difference of two.
  const upTo = new Int32Array(rows * (columns + 1));
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++)
      upTo[row * (columns + 1) + column + 1] =
        upTo[row * (columns + 1) + column]! + flashing[row * columns + column]!;
  const rowsAway = Math.floor(radius / cellHeightMm);
  const halves = Array.from({ length: rowsAway + 1 }, (_, away) =>
    Math.floor(Math.sqrt(Math.max(0, radius * radius - (away * cellHeightMm) ** 2)) / cellWidthMm),
  );
  let most = 0;
  let at = 0;
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      let cells = 0;
      for (let away = -rowsAway; away <= rowsAway; away++) {
        const line = row + away;
        if (line < 0 || line >= rows) continue;
        const half = halves[Math.abs(away)]!;
        const from = Math.max(0, column - half);
        const to = Math.min(columns, column + half + 1);
        cells += upTo[line * (columns + 1) + to]! - upTo[line * (columns + 1) + from]!;
      }
      if (cells > most) {
        most = cells;
        at = row * columns + column;
      }
    }
  return {
    areaMm2: most * cellWidthMm * cellHeightMm,
    xMm: grid.leftMm + ((at % columns) + 0.5) * cellWidthMm,
    yMm: grid.topMm + (Math.floor(at / columns) + 0.5) * cellHeightMm,
  };
}
