// From light on a coarse grid to the screen's pixels in one pass: drawn smooth between cells, through the ink, and encoded. It does for moving
// pictures what `pictureOf` does for the reference (a test holds both together), with all that stays the same from frame to frame worked
// out beforehand.
// Not here: the light (light-map.ts), the model's stages one by one (picture.ts).
import { columnMm, type LightGrid, type RectangleMm, rowMm } from './grid.ts';
import { brightestStep, codeOfStep, stepsPerLight } from './screen.ts';
import { channelCount } from './sources.ts';
import { coverage, type ViewingFactors } from './viewing.ts';

/** Light behind the sheet, on the coarse grid, to RGBA pixels. */
export type PixelPainter = (
  behindSheet: Float64Array,
  factors: ViewingFactors,
  pixels: Uint8ClampedArray,
) => void;

/** Where a line of fine cells lies among coarse ones: the one before, and how far from it to the next. */
function between(fine: number, coarse: number) {
  const low = new Uint32Array(fine);
  const share = new Float64Array(fine);
  for (let i = 0; i < fine; i++) {
    const place = Math.max(0, Math.min(coarse - 1, ((i + 0.5) * coarse) / fine - 0.5));
    low[i] = Math.floor(place);
    share[i] = place - low[i]!;
  }
  return { low, share };
}

/** From the first line that lies wholly in the opening up to the end of those that do. */
function insideOf(open: Float64Array): { readonly from: number; readonly end: number } {
  const from = open.indexOf(1);
  return from < 0 ? { from: open.length, end: open.length } : { from, end: open.lastIndexOf(1) + 1 };
}

/** `ink` as inkTransmission gives it for `grid`; undefined lets all light pass. Both grids lie over the same rectangle. */
export function pixelPainter(
  coarse: LightGrid,
  grid: LightGrid,
  ink: Float32Array | undefined,
  opening: RectangleMm,
): PixelPainter {
  const { columns, rows } = grid;
  const down = between(rows, coarse.rows);
  const across = between(columns, coarse.columns);
  const left = across.low.map((column) => column * channelCount);
  const openAcross = Float64Array.from({ length: columns }, (_, column) =>
    coverage(columnMm(grid, column), opening.xMm, opening.widthMm, grid.cellWidthMm),
  );
  const openDown = Float64Array.from({ length: rows }, (_, row) =>
    coverage(rowMm(grid, row), opening.yMm, opening.heightMm, grid.cellHeightMm),
  );
  const inside = insideOf(openAcross);
  const coarseLine = coarse.columns * channelCount;
  /** One row between coarse rows, in steps of the table of codes; a cell more, so that the last has a next one, of which it takes nothing. */
  const line = new Float64Array(coarseLine + channelCount);
  const pass = ink ?? new Float32Array(columns * channelCount).fill(1);
  const passPerRow = ink ? columns * channelCount : 0;

  function prepareLine(row: number, behindSheet: Float64Array, factors: ViewingFactors): void {
    const through = factors.through * stepsPerLight;
    const print = factors.printLight * stepsPerLight;
    const upper = down.low[row]! * coarseLine;
    const lower = Math.min(coarse.rows - 1, down.low[row]! + 1) * coarseLine;
    const share = down.share[row]!;
    for (let i = 0; i < coarseLine; i++) {
      const above = behindSheet[upper + i]!;
      line[i] = through * (above + share * (behindSheet[lower + i]! - above)) + print;
    }
  }

  /** Pixels wholly in the opening: nearly all of them, so every operation here counts. */
  function paintInside(row: number, bytes: Uint8Array): void {
    let from = row * passPerRow + inside.from * channelCount;
    let to = (row * columns + inside.from) * 4;
    for (let column = inside.from; column < inside.end; column++, from += channelCount, to += 4) {
      const share = across.share[column]!;
      const at = left[column]!;
      const red = line[at]!;
      const green = line[at + 1]!;
      const blue = line[at + 2]!;
      const redStep = pass[from]! * (red + share * (line[at + 3]! - red));
      const greenStep = pass[from + 1]! * (green + share * (line[at + 4]! - green));
      const blueStep = pass[from + 2]! * (blue + share * (line[at + 5]! - blue));
      bytes[to] = codeOfStep[redStep < brightestStep ? (redStep + 0.5) | 0 : brightestStep]!;
      bytes[to + 1] = codeOfStep[greenStep < brightestStep ? (greenStep + 0.5) | 0 : brightestStep]!;
      bytes[to + 2] = codeOfStep[blueStep < brightestStep ? (blueStep + 0.5) | 0 : brightestStep]!;
      bytes[to + 3] = 255;
    }
  }

  /** Pixels that the frame covers, wholly or in part. */
  function paintRim(row: number, first: number, end: number, frameLight: number, bytes: Uint8Array): void {
    const frameStep = frameLight * stepsPerLight;
    let from = row * passPerRow + first * channelCount;
    let to = (row * columns + first) * 4;
    for (let column = first; column < end; column++) {
      const open = openDown[row]! * openAcross[column]!;
      for (let at = left[column]!; at < left[column]! + channelCount; at++, from++) {
        const lit = line[at]! + across.share[column]! * (line[at + channelCount]! - line[at]!);
        const step = (1 - open) * frameStep + open * pass[from]! * lit;
        bytes[to++] = codeOfStep[Math.min(brightestStep, Math.round(step))]!;
      }
      bytes[to++] = 255;
    }
  }

  return (behindSheet, factors, pixels) => {
    // Codes need no clamping.
    const bytes = new Uint8Array(pixels.buffer, pixels.byteOffset, pixels.length);
    for (let row = 0; row < rows; row++) {
      const isInside = openDown[row] === 1;
      if (openDown[row]! > 0) prepareLine(row, behindSheet, factors);
      paintRim(row, 0, isInside ? inside.from : columns, factors.frameLight, bytes);
      if (!isInside) continue;
      paintInside(row, bytes);
      paintRim(row, inside.end, columns, factors.frameLight, bytes);
    }
  };
}
