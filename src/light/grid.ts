// Grids of cells over the panel, on which light is worked out: a cell's light is the light at its centre. Maps on a grid hold red, green
// and blue interleaved, row by row.
// Not here: what fills them (face.ts, light-map.ts).
import { channelCount } from './sources.ts';

/** Cells side by side over a rectangle of the panel. */
export interface LightGrid {
  readonly leftMm: number;
  readonly topMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly cellWidthMm: number;
  readonly cellHeightMm: number;
}

export interface RectangleMm {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A grid that fills the rectangle exactly, with cells as near to `cellMm` as whole numbers allow. */
export function gridOver(rectangle: RectangleMm, cellMm: number): LightGrid {
  const columns = Math.max(1, Math.round(rectangle.widthMm / cellMm));
  const rows = Math.max(1, Math.round(rectangle.heightMm / cellMm));
  return gridOf(rectangle, columns, rows);
}

/** A grid of so many cells that fills the rectangle exactly. */
export const gridOf = (
  { xMm, yMm, widthMm, heightMm }: RectangleMm,
  columns: number,
  rows: number,
): LightGrid => ({
  leftMm: xMm,
  topMm: yMm,
  columns,
  rows,
  cellWidthMm: widthMm / columns,
  cellHeightMm: heightMm / rows,
});

/** Pixels of a picture of the whole panel. They are exactly `mmPerPx` wide, so the last ones may end beside the panel's edge. */
export const pixelGrid = (
  panel: { readonly widthMm: number; readonly heightMm: number },
  mmPerPx: number,
): LightGrid => ({
  leftMm: 0,
  topMm: 0,
  columns: Math.max(1, Math.round(panel.widthMm / mmPerPx)),
  rows: Math.max(1, Math.round(panel.heightMm / mmPerPx)),
  cellWidthMm: mmPerPx,
  cellHeightMm: mmPerPx,
});

/** The same cells with more of them on each side. */
export const widened = (grid: LightGrid, columns: number, rows: number): LightGrid => ({
  ...grid,
  leftMm: grid.leftMm - columns * grid.cellWidthMm,
  topMm: grid.topMm - rows * grid.cellHeightMm,
  columns: grid.columns + 2 * columns,
  rows: grid.rows + 2 * rows,
});

/** The inner part of a map over `widened(inner, columns, rows)`: the map over `inner`. */
export function narrowed(
  map: Float32Array,
  inner: LightGrid,
  columns: number,
  rows: number,
): Float32Array<ArrayBuffer> {
  const width = inner.columns * channelCount;
  const wholeWidth = (inner.columns + 2 * columns) * channelCount;
  const part = new Float32Array(width * inner.rows);
  for (let row = 0; row < inner.rows; row++) {
    const from = (row + rows) * wholeWidth + columns * channelCount;
    part.set(map.subarray(from, from + width), row * width);
  }
  return part;
}

/** Middle of a column and of a row. */
export const columnMm = (grid: LightGrid, column: number): number =>
  grid.leftMm + (column + 0.5) * grid.cellWidthMm;
export const rowMm = (grid: LightGrid, row: number): number => grid.topMm + (row + 0.5) * grid.cellHeightMm;
