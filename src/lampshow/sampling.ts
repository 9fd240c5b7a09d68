// Pictures to painted frames: each cell takes the average light of its part of the picture, and all cells the nearest colour of a small palette.
// Not here: reading picture files (gif.ts; src/cli/pictures.ts and the page, which decode the others), choosing the palette (palette.ts).
import { type PaintedEffect, type PaintedFrame, paintedLimits } from '../project/index.ts';
import type { CellGrid } from './cells.ts';
import { oklabDistance, oklabOf, srgbDecoded } from './oklab.ts';
import { colourCode, hexColour, oklabOfColour, paletteOf } from './palette.ts';

export interface Picture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** sRGB-encoded red, green, blue, and alpha; row by row from the top left. */
  readonly rgba: Uint8Array | Uint8ClampedArray;
}

/** One picture brought down to cells. */
export interface SampledFrame {
  /** Linear light 0..1: red, green, blue of each cell, row by row from the top left. */
  readonly light: Float32Array;
  readonly holdMs: number;
}

export interface PaintedPictures {
  readonly effect: PaintedEffect;
  /** OKLab distance between what a cell is and what it should be, over all cells of all frames. */
  readonly meanError: number;
  readonly worstError: number;
}

/** A single picture is held for so long; it comes again at once. */
export const stillHoldMs = 1000;

/** A frame's hold as the document can hold it. */
const shortestHoldMs = 20;
const longestHoldMs = 60_000;

interface Coverage {
  readonly pixel: number;
  readonly share: number;
}

/** For each of `cells` equal parts of a line of `pixels`: the pixels that it covers, each with its share of the part. */
function coverages(pixels: number, cells: number): Coverage[][] {
  const width = pixels / cells;
  return Array.from({ length: cells }, (_, cell) => {
    const from = cell * width;
    const to = (cell + 1) * width;
    const covered: Coverage[] = [];
    for (let pixel = Math.floor(from); pixel < Math.min(pixels, Math.ceil(to)); pixel++) {
      const share = (Math.min(to, pixel + 1) - Math.max(from, pixel)) / width;
      if (share > 0) covered.push({ pixel, share });
    }
    return covered;
  });
}

const decoded = Float64Array.from({ length: 256 }, (_, level) => srgbDecoded(level / 255));

/**
 * The average light of each cell when the grid is stretched over the whole picture. What is transparent shows black behind it.
 * @returns linear red, green, blue (0..1) of each cell, row by row from the top left
 */
export function cellLight({ widthPx, heightPx, rgba }: Picture, { columns, rows }: CellGrid): Float32Array {
  const across = coverages(widthPx, columns);
  const light = new Float32Array(columns * rows * 3);
  for (const [row, lines] of coverages(heightPx, rows).entries())
    for (const [column, pixels] of across.entries()) {
      let red = 0;
      let green = 0;
      let blue = 0;
      for (const line of lines)
        for (const { pixel, share } of pixels) {
          const at = 4 * (line.pixel * widthPx + pixel);
          const weight = (line.share * share * rgba[at + 3]!) / 255;
          red += weight * decoded[rgba[at]!]!;
          green += weight * decoded[rgba[at + 1]!]!;
          blue += weight * decoded[rgba[at + 2]!]!;
        }
      light.set([red, green, blue], 3 * (row * columns + column));
    }
  return light;
}

/** Equal neighbours become one frame that is held for both, as far as the document can hold it. */
function mergedFrames(frames: readonly PaintedFrame[]): PaintedFrame[] {
  const merged: PaintedFrame[] = [];
  for (const frame of frames) {
    const last = merged.at(-1);
    if (last?.cells === frame.cells && last.holdMs + frame.holdMs <= longestHoldMs)
      merged[merged.length - 1] = { ...last, holdMs: last.holdMs + frame.holdMs };
    else merged.push(frame);
  }
  return merged;
}

/**
 * Painted frames from sampled ones, with a palette of at most so many colours (1 to 16). The same pictures give the same frames, always.
 * Undefined where more frames are left than the document can hold. At least one frame must be given.
 */
export function paintedFrom(
  sampled: readonly SampledFrame[],
  { columns, rows }: CellGrid,
  colours: number = paintedLimits.colours,
): PaintedPictures | undefined {
  const counts = new Map<number, number>();
  for (const { light } of sampled)
    for (let at = 0; at < light.length; at += 3) {
      const code = colourCode(light[at]!, light[at + 1]!, light[at + 2]!);
      counts.set(code, (counts.get(code) ?? 0) + 1);
    }
  const { palette, numbers } = paletteOf(counts, colours);
  const labs = palette.map(oklabOfColour);
  let sum = 0;
  let worstError = 0;
  let cellCount = 0;
  const frames = sampled.map(({ light, holdMs }): PaintedFrame => {
    let cells = '';
    for (let at = 0; at < light.length; at += 3) {
      const [red, green, blue] = [light[at]!, light[at + 1]!, light[at + 2]!];
      const number = numbers.get(colourCode(red, green, blue))!;
      const error = oklabDistance(oklabOf(red, green, blue), labs[number]!);
      sum += error;
      worstError = Math.max(worstError, error);
      cellCount++;
      cells += number.toString(16);
    }
    const hold = Math.min(longestHoldMs, Math.max(shortestHoldMs, Math.round(holdMs)));
    return { holdMs: hold, cells };
  });
  const [first, ...others] = mergedFrames(frames);
  const [darkest, ...brighter] = palette.map(hexColour);
  if (!first || darkest === undefined || others.length + 1 > paintedLimits.frames) return undefined;
  return {
    effect: {
      kind: 'painted',
      columns,
      rows,
      palette: [darkest, ...brighter],
      frames: [first, ...others],
    },
    meanError: sum / cellCount,
    worstError,
  };
}
