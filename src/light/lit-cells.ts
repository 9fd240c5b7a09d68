// Which cells of a grid a way of light reaches, and by how much, tile by tile: most tiles lie wholly in a shadow or wholly in the light, and then
// their cells need not be asked one by one.
// Not here: what a single place gets (openShare of light-ways.ts), with which this agrees exactly.
import { columnMm, type LightGrid, rowMm } from './grid.ts';
import { type LightWay, openShare } from './light-ways.ts';
import { depthIn } from './regions.ts';

const cellsPerTile = 12;

/** Whether a way reaches every place of a disc, or none; undefined where an edge runs through it. */
export function reachesDisc(
  { within, shadows }: LightWay,
  xMm: number,
  yMm: number,
  radiusMm: number,
): boolean | undefined {
  let isWhole = true;
  for (let i = 0; i < within.length; i++) {
    const depth = depthIn(within[i]!, xMm, yMm);
    if (depth < -radiusMm) return false;
    if (depth <= radiusMm) isWhole = false;
  }
  for (let i = 0; i < shadows.length; i++) {
    const depth = depthIn(shadows[i]!, xMm, yMm);
    if (depth > radiusMm) return false;
    if (depth >= -radiusMm) isWhole = false;
  }
  return isWhole ? true : undefined;
}

/** Calls `take` for each cell that a way reaches, with its place and the share that gets through (openShare with `softMm`). */
export function eachLitCell(
  way: LightWay,
  grid: LightGrid,
  softMm: number,
  take: (row: number, column: number, xMm: number, yMm: number, open: number) => void,
): void {
  const { columns, rows, cellWidthMm, cellHeightMm } = grid;
  for (let top = 0; top < rows; top += cellsPerTile)
    for (let left = 0; left < columns; left += cellsPerTile) {
      const bottom = Math.min(rows, top + cellsPerTile);
      const right = Math.min(columns, left + cellsPerTile);
      const xMm = grid.leftMm + ((left + right) / 2) * cellWidthMm;
      const yMm = grid.topMm + ((top + bottom) / 2) * cellHeightMm;
      const radiusMm =
        Math.hypot((right - left) * cellWidthMm, (bottom - top) * cellHeightMm) / 2 + softMm / 2;
      const reaches = reachesDisc(way, xMm, yMm, radiusMm);
      if (reaches === false) continue;
      for (let row = top; row < bottom; row++) {
        const y = rowMm(grid, row);
        for (let column = left; column < right; column++) {
          const x = columnMm(grid, column);
          const open = reaches ? 1 : openShare(way, x, y, softMm);
          if (open > 0) take(row, column, x, y, open);
        }
      }
    }
}
