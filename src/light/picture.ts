// The reference picture: the whole panel as the eye sees it, from LEDs' flux to RGBA pixels, every step as the model says and none hurried.
// Not here: the same for moving pictures (live-picture.ts, webgl-renderer.ts), which must agree with this one; reading and writing files.
// Left out of the model: light that bounces inside the box, but for once on a wall (light-ways.ts).
import type { Sheet } from '../catalogue/index.ts';
import type { PointMm } from '../panel/index.ts';
import { faceLight } from './face.ts';
import { columnMm, type LightGrid, narrowed, type RectangleMm, rowMm, widened } from './grid.ts';
import type { LightWays } from './light-ways.ts';
import { screenCode } from './screen.ts';
import { channelCount } from './sources.ts';
import { spread, spreadCells } from './spread.ts';
import { coverage, type ViewingFactors } from './viewing.ts';

export interface Glow {
  /** Light on the diffuser's face, and behind the sheet before its transmission; per mm2, over `grid`. */
  readonly face: Float32Array<ArrayBuffer>;
  readonly behindSheet: Float32Array<ArrayBuffer>;
}

/** Light on the face and behind the sheet. Light that the sheet brings in from beside the grid is counted. `ways` as faceLight takes them. */
export function glowOf(
  places: readonly PointMm[],
  flux: Float32Array,
  grid: LightGrid,
  airGapMm: number,
  { spreadMm }: Pick<Sheet, 'spreadMm'>,
  ways?: LightWays,
): Glow {
  const columns = spreadCells(spreadMm / grid.cellWidthMm);
  const rows = spreadCells(spreadMm / grid.cellHeightMm);
  const wide = widened(grid, columns, rows);
  const map = faceLight(places, flux, wide, airGapMm, ways);
  const face = narrowed(map, grid, columns, rows);
  spread(map, wide, spreadMm);
  return { face, behindSheet: narrowed(map, grid, columns, rows) };
}

export interface PictureParts {
  readonly grid: LightGrid;
  readonly behindSheet: Float32Array;
  /** As inkTransmission gives it for the same grid; undefined without artwork, then all light passes. */
  readonly ink: Float32Array | undefined;
  readonly opening: RectangleMm;
  readonly factors: ViewingFactors;
}

/** Fills `seen` with a row's linear light at the eye; 1 is the screen's white. Beside the opening only the frame is seen. */
function rowAtEye(parts: PictureParts, row: number, openAcross: Float64Array, seen: Float32Array): void {
  const { grid, behindSheet, ink, opening, factors } = parts;
  const { through, printLight, frameLight } = factors;
  const openDown = coverage(rowMm(grid, row), opening.yMm, opening.heightMm, grid.cellHeightMm);
  const first = row * seen.length;
  for (let column = 0, to = 0; column < grid.columns; column++) {
    const open = openDown * openAcross[column]!;
    const frame = (1 - open) * frameLight;
    for (let channel = 0; channel < channelCount; channel++, to++) {
      const from = first + to;
      seen[to] = frame + open * (ink?.[from] ?? 1) * (through * behindSheet[from]! + printLight);
    }
  }
}

/** The picture as opaque RGBA pixels. */
export function pictureOf(
  parts: PictureParts,
  pixels: Uint8ClampedArray = new Uint8ClampedArray(parts.grid.columns * parts.grid.rows * 4),
): Uint8ClampedArray {
  const { grid, opening } = parts;
  const openAcross = Float64Array.from({ length: grid.columns }, (_, column) =>
    coverage(columnMm(grid, column), opening.xMm, opening.widthMm, grid.cellWidthMm),
  );
  const seen = new Float32Array(grid.columns * channelCount);
  for (let row = 0, to = 0; row < grid.rows; row++) {
    rowAtEye(parts, row, openAcross, seen);
    for (let from = 0; from < seen.length; from += channelCount, to += 4) {
      pixels[to] = screenCode(seen[from]!);
      pixels[to + 1] = screenCode(seen[from + 1]!);
      pixels[to + 2] = screenCode(seen[from + 2]!);
      pixels[to + 3] = 255;
    }
  }
  return pixels;
}
