// What the sheet does to a light map: each point of light becomes a Gaussian spot. One pass along the rows, one along the columns.
// The Gaussian is sampled at the cells and cut at 4 standard deviations, which leaves out 0.006 % of it; the weights then sum to 1, so even
// light stays as it is. Where the map ends, its last cells go on: whoever needs the edge exact widens the map first (picture.ts).
// Not here: the kernel of one LED with the spread worked in (spread-kernel.ts).
import type { LightGrid } from './grid.ts';
import { channelCount } from './sources.ts';

const reachInSigmas = 4;

/** How many cells the spot reaches to each side. */
export const spreadCells = (sigmaCells: number): number => Math.ceil(reachInSigmas * sigmaCells);

/** Weights from the middle of the spot outwards; the middle once and all others twice sum to 1. */
export function halfKernel(sigmaCells: number): Float64Array {
  const reach = spreadCells(sigmaCells);
  const weights = Float64Array.from({ length: reach + 1 }, (_, cell) =>
    cell === 0 ? 1 : Math.exp(-0.5 * (cell / sigmaCells) ** 2),
  );
  const sum = weights.reduce((total, weight, cell) => total + (cell === 0 ? weight : 2 * weight), 0);
  return weights.map((weight) => weight / sum);
}

/** Spreads one line of cells in place; `padded` has room for the line and the reach on both sides. */
function spreadLine(
  map: Float32Array,
  first: number,
  step: number,
  length: number,
  kernel: Float64Array,
  padded: Float64Array,
): void {
  const reach = kernel.length - 1;
  for (let i = 0; i < length; i++) padded[reach + i] = map[first + i * step]!;
  padded.fill(padded[reach]!, 0, reach);
  padded.fill(padded[reach + length - 1]!, reach + length);
  for (let i = 0; i < length; i++) {
    const middle = reach + i;
    let sum = kernel[0]! * padded[middle]!;
    for (let k = 1; k <= reach; k++) sum += kernel[k]! * (padded[middle - k]! + padded[middle + k]!);
    map[first + i * step] = sum;
  }
}

/** The map behind a sheet of this spread, in place. */
export function spread(map: Float32Array, grid: LightGrid, sigmaMm: number): void {
  if (sigmaMm <= 0) return;
  const across = halfKernel(sigmaMm / grid.cellWidthMm);
  const down = halfKernel(sigmaMm / grid.cellHeightMm);
  const { columns, rows } = grid;
  const rowStep = columns * channelCount;
  const paddedRow = new Float64Array(columns + 2 * (across.length - 1));
  for (let row = 0; row < rows; row++)
    for (let channel = 0; channel < channelCount; channel++)
      spreadLine(map, row * rowStep + channel, channelCount, columns, across, paddedRow);
  const paddedColumn = new Float64Array(rows + 2 * (down.length - 1));
  for (let place = 0; place < rowStep; place++) spreadLine(map, place, rowStep, rows, down, paddedColumn);
}
