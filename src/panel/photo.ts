// A photo of the artwork: straightened by its four corners, and brought down to as many pixels as the panel needs.
// Places in an image are counted in pixels from its top left corner, x right, y down; the first pixel's middle is at 0.5, 0.5.
// Not here: decoding and encoding files, which the app does; the curved lines of a wide lens, which four corners can't tell.
import { failed, ok, type Problem, type Result } from '../project/index.ts';
import { type Image, scaledImage, writePixel } from './image.ts';
import { lightOfCode } from './srgb.ts';

export interface PointPx {
  readonly x: number;
  readonly y: number;
}
/** Top left, then clockwise. */
export type Corners = readonly [PointPx, PointPx, PointPx, PointPx];

/**
 * The projective map of a plane, as nine numbers row by row, the last one 1: x' = (h0 x + h1 y + h2) / (h6 x + h7 y + h8), and y' with h3 to h5.
 */
export type Homography = readonly number[];

/**
 * The map that takes four points to four others, of which no three may lie on one line. Undefined where there is none.
 * Source: each pair gives two linear equations in the eight unknowns (the definition, multiplied out).
 */
export function homography(from: Corners, to: Corners): Homography | undefined {
  const rows = from.flatMap(({ x, y }, i) => {
    const { x: u, y: v } = to[i]!;
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, v],
    ];
  });
  const solved = solution(rows);
  return solved && [...solved, 1];
}

/** Below this share of a row's largest entry a pivot is nothing but rounding. */
const leastPivot = 1e-10;

/** Solves rows of coefficients with the right side as last entry, by elimination with row pivoting; undefined where it can't be. */
function solution(rows: number[][]): number[] | undefined {
  const count = rows.length;
  const sizes = rows.map((row) => Math.max(...row.map(Math.abs)));
  for (let column = 0; column < count; column++) {
    let best = column;
    for (let row = column + 1; row < count; row++)
      if (Math.abs(rows[row]![column]!) / sizes[row]! > Math.abs(rows[best]![column]!) / sizes[best]!)
        best = row;
    // Also where it is no number.
    if (!(Math.abs(rows[best]![column]!) > leastPivot * sizes[best]!)) return undefined;
    [rows[column], rows[best]] = [rows[best]!, rows[column]!];
    [sizes[column], sizes[best]] = [sizes[best]!, sizes[column]!];
    const pivot = rows[column]!;
    for (const [r, row] of rows.entries()) {
      if (r === column) continue;
      const factor = row[column]! / pivot[column]!;
      if (factor !== 0) for (let i = column; i <= count; i++) row[i]! -= factor * pivot[i]!;
    }
  }
  return rows.map((row, i) => row[count]! / row[i]!);
}

export function mappedPoint(h: Homography, { x, y }: PointPx): PointPx {
  const depth = h[6]! * x + h[7]! * y + h[8]!;
  return { x: (h[0]! * x + h[1]! * y + h[2]!) / depth, y: (h[3]! * x + h[4]! * y + h[5]!) / depth };
}

const problem = (code: string, expected: string, found: string, mend: string): Problem => ({
  code,
  at: '/panel/artwork',
  expected,
  found,
  mend,
});

/** A corner this flat (sine of its angle) is a straight line to the eye. */
const flattest = 0.02;
/** Less is no picture. */
const shortestEdgePx = 8;

/** What is wrong with corners, or undefined: they must go clockwise round a shape without dents. */
function cornerProblem(corners: Corners): Problem | undefined {
  const mend = 'Set the four corners again: top left first, then clockwise.';
  if (!corners.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y)))
    return problem('photo-corners', 'four places on the photo', 'one that is no place', mend);
  const edges = corners.map((corner, i) => {
    const next = corners[(i + 1) % 4]!;
    return { x: next.x - corner.x, y: next.y - corner.y };
  });
  const lengths = edges.map(({ x, y }) => Math.hypot(x, y));
  if (Math.min(...lengths) < shortestEdgePx)
    return problem(
      'photo-corners',
      `edges of at least ${shortestEdgePx} pixels`,
      `one of ${Math.min(...lengths).toFixed(1)}`,
      mend,
    );
  const turns = edges.map((edge, i) => {
    const before = edges[(i + 3) % 4]!;
    return (before.x * edge.y - before.y * edge.x) / (lengths[i]! * lengths[(i + 3) % 4]!);
  });
  if (turns.every((turn) => turn < -flattest))
    return problem('photo-corners', 'corners that go clockwise', 'counter-clockwise ones', mend);
  if (turns.some((turn) => turn < -flattest))
    return problem('photo-corners', 'the outline of a sheet', 'edges that cross or bend inwards', mend);
  if (turns.some((turn) => turn < flattest))
    return problem('photo-corners', 'four corners', 'three of them on one line', mend);
  return undefined;
}

/** Sixteen million: 1,000 x 700 mm at 4 pixels a mm are 11 million, and small computers still hold them. */
const mostPixels = 16e6;

/**
 * The photo's part between the corners as a straight rectangle of so many pixels. Where the photo is finer than they are, a pixel takes the
 * average light of all that it covers, seen at places at most one pixel of the photo apart.
 */
export function straighten(image: Image, corners: Corners, widthPx: number, heightPx: number): Result<Image> {
  const wrong = cornerProblem(corners);
  if (wrong) return failed([wrong]);
  if (!(widthPx >= 1 && heightPx >= 1 && widthPx * heightPx <= mostPixels))
    return failed([
      problem(
        'photo-size',
        `1 to ${mostPixels / 1e6} million pixels`,
        `${widthPx} x ${heightPx}`,
        'Check the size of the panel.',
      ),
    ]);
  const rectangle: Corners = [
    { x: 0, y: 0 },
    { x: widthPx, y: 0 },
    { x: widthPx, y: heightPx },
    { x: 0, y: heightPx },
  ];
  const map = homography(rectangle, corners);
  if (!map)
    return failed([problem('photo-corners', 'four corners', 'three of them on one line', 'Set them again.')]);
  const rgba = new Uint8ClampedArray(widthPx * heightPx * 4);
  const sums = new Float64Array(4);
  for (let row = 0, at = 0; row < heightPx; row++)
    for (let column = 0; column < widthPx; column++, at += 4) {
      const across = tapsBetween(map, { x: column, y: row + 0.5 }, { x: column + 1, y: row + 0.5 });
      const down = tapsBetween(map, { x: column + 0.5, y: row }, { x: column + 0.5, y: row + 1 });
      sums.fill(0);
      for (let j = 0; j < down; j++)
        for (let i = 0; i < across; i++) {
          const place = { x: column + (i + 0.5) / across, y: row + (j + 0.5) / down };
          addLightAt(image, mappedPoint(map, place), sums);
        }
      writePixel(rgba, at, sums[0]!, sums[1]!, sums[2]!, sums[3]!, across * down);
    }
  return ok({ widthPx, heightPx, rgba });
}

/** How many places it takes from one end of a pixel to the other, so that none of the photo's pixels between them is missed. */
function tapsBetween(map: Homography, from: PointPx, to: PointPx): number {
  const a = mappedPoint(map, from);
  const b = mappedPoint(map, to);
  return Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y)));
}

/** Adds light x alpha and alpha at a place, on straight lines between the middles of the four pixels around it; the edge's pixels go on outside. */
function addLightAt({ widthPx, heightPx, rgba }: Image, place: PointPx, sums: Float64Array): void {
  const x = Math.min(widthPx - 1, Math.max(0, place.x - 0.5));
  const y = Math.min(heightPx - 1, Math.max(0, place.y - 0.5));
  const left = Math.min(widthPx - 1, Math.floor(x));
  const top = Math.min(heightPx - 1, Math.floor(y));
  for (let j = 0; j < 2; j++)
    for (let i = 0; i < 2; i++) {
      const weight = (i === 0 ? 1 - (x - left) : x - left) * (j === 0 ? 1 - (y - top) : y - top);
      if (weight === 0) continue;
      const at = ((top + j) * widthPx + left + i) * 4;
      const alpha = (weight * rgba[at + 3]!) / 255;
      sums[0]! += alpha * lightOfCode[rgba[at]!]!;
      sums[1]! += alpha * lightOfCode[rgba[at + 1]!]!;
      sums[2]! += alpha * lightOfCode[rgba[at + 2]!]!;
      sums[3]! += alpha;
    }
}

/** About 100 dots per inch. The lit picture has a pixel every 1 mm to 0.25 mm, so finer print can't be seen in it (common practice, no source). */
export const mostPxPerMm = 4;

interface SizeMm {
  readonly widthMm: number;
  readonly heightMm: number;
}
interface SizePx {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** What the panel needs of a picture that has so many pixels: `pxPerMm` at most, each way no more than there are, and no more than can be held. */
function neededSize(has: SizePx, { widthMm, heightMm }: SizeMm, pxPerMm: number): SizePx {
  const perMm = Math.min(pxPerMm, mostPxPerMm, Math.sqrt(mostPixels / (widthMm * heightMm)));
  const needed = (lengthMm: number, px: number): number =>
    Math.max(1, Math.min(Math.floor(px), Math.floor(lengthMm * perMm)));
  return { widthPx: needed(widthMm, has.widthPx), heightPx: needed(heightMm, has.heightPx) };
}

/** The pixels to straighten a photo to: what the panel needs, and no more than the photo has along its longer edges. */
export function straightenedSize(corners: Corners, panel: SizeMm, pxPerMm = mostPxPerMm): SizePx {
  const lengths = corners.map(({ x, y }, i) =>
    Math.hypot(corners[(i + 1) % 4]!.x - x, corners[(i + 1) % 4]!.y - y),
  );
  const has = {
    widthPx: Math.max(lengths[0]!, lengths[2]!),
    heightPx: Math.max(lengths[1]!, lengths[3]!),
  };
  return neededSize(has, panel, pxPerMm);
}

/**
 * The artwork in as many pixels as the panel needs; the very same image where it has no more than that. More would make the project's file
 * larger and every picture slower without being seen.
 */
export function resampled(image: Image, pxPerMm: number, panel: SizeMm): Image {
  const { widthPx, heightPx } = neededSize(image, panel, pxPerMm);
  if (widthPx === image.widthPx && heightPx === image.heightPx) return image;
  return scaledImage(image, widthPx, heightPx);
}
