// A small palette for many colours: median cut to begin with, then k-means, both in OKLab. Nothing in it is left to chance or to the order of input.
// Colours are numbers 0xRRGGBB, sRGB-encoded.
import { linearOf, oklabOf, srgbDecoded, srgbEncoded, type Triple } from './oklab.ts';

export interface Palette {
  /** From dark to bright, no two equal. */
  readonly palette: readonly number[];
  /** Each given colour's number in the palette. */
  readonly numbers: ReadonlyMap<number, number>;
}

/** Means move by less than can be told apart long before. */
const mostRounds = 24;

const byteOf = (linear: number): number =>
  Math.min(255, Math.max(0, Math.round(255 * srgbEncoded(Math.max(0, linear)))));

/** Linear red, green, blue (0..1) to the nearest colour of 8 bits a channel. */
export const colourCode = (red: number, green: number, blue: number): number =>
  (byteOf(red) << 16) | (byteOf(green) << 8) | byteOf(blue);

export const hexColour = (code: number): string => `#${code.toString(16).padStart(6, '0')}`;

export const oklabOfColour = (code: number): Triple =>
  oklabOf(
    srgbDecoded((code >> 16) / 255),
    srgbDecoded(((code >> 8) & 255) / 255),
    srgbDecoded((code & 255) / 255),
  );

interface Point {
  readonly code: number;
  readonly lab: Triple;
  readonly weight: number;
}

function meanOf(points: readonly Point[]): Triple {
  const sum = [0, 0, 0];
  let weight = 0;
  for (const point of points) {
    weight += point.weight;
    for (const axis of [0, 1, 2]) sum[axis]! += point.weight * point.lab[axis]!;
  }
  return [sum[0]! / weight, sum[1]! / weight, sum[2]! / weight];
}

interface Box {
  readonly points: readonly Point[];
  /** Along which its colours differ most, and their weighted squared distance from their mean there. */
  readonly axis: 0 | 1 | 2;
  readonly spread: number;
}

function boxOf(points: readonly Point[]): Box {
  const mean = meanOf(points);
  const spreads = ([0, 1, 2] as const).map((axis) =>
    points.reduce((sum, point) => sum + point.weight * (point.lab[axis] - mean[axis]) ** 2, 0),
  );
  const spread = Math.max(...spreads);
  return { points, axis: spreads.indexOf(spread) as 0 | 1 | 2, spread };
}

/** Cuts a box in two where half of its weight lies on each side; at least one colour goes to each. */
function cut({ points, axis }: Box): [Box, Box] {
  const along = [...points].sort((a, b) => a.lab[axis] - b.lab[axis] || a.code - b.code);
  const half = along.reduce((sum, point) => sum + point.weight, 0) / 2;
  let at = 0;
  for (let weight = 0; at < along.length - 1 && weight < half; at++) weight += along[at]!.weight;
  const split = Math.max(1, at);
  return [boxOf(along.slice(0, split)), boxOf(along.slice(split))];
}

function medianCut(points: readonly Point[], count: number): Triple[] {
  const boxes = [boxOf(points)];
  while (boxes.length < count) {
    const widest = boxes.reduce((best, box, i) => (box.spread > boxes[best]!.spread ? i : best), 0);
    if (boxes[widest]!.points.length < 2) break;
    boxes.splice(widest, 1, ...cut(boxes[widest]!));
  }
  return boxes.map((box) => meanOf(box.points));
}

function nearestOf({ lab }: Point, centres: readonly Triple[]): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let c = 0; c < centres.length; c++) {
    const centre = centres[c]!;
    const distance = (lab[0] - centre[0]) ** 2 + (lab[1] - centre[1]) ** 2 + (lab[2] - centre[2]) ** 2;
    if (distance < least) {
      least = distance;
      best = c;
    }
  }
  return best;
}

/** Moves each centre to the mean of the colours that are nearest to it, until none changes sides. `fixed` centres stay. */
function settled(points: readonly Point[], start: readonly Triple[], fixed: number): Triple[] {
  let centres = [...start];
  let sides: number[] = [];
  for (let round = 0; round < mostRounds; round++) {
    const next = points.map((point) => nearestOf(point, centres));
    if (next.every((side, i) => side === sides[i])) break;
    sides = next;
    const groups: Point[][] = centres.map(() => []);
    for (const [i, side] of sides.entries()) groups[side]!.push(points[i]!);
    centres = centres.map((centre, c) =>
      c < fixed || groups[c]!.length === 0 ? centre : meanOf(groups[c]!),
    );
  }
  return centres;
}

/**
 * A palette of at most `most` colours for these, and each one's place in it. Few enough colours stay as they are. Black stays black, so that an LED
 * that should be dark is dark.
 * @param counts how often each colour occurs
 */
export function paletteOf(counts: ReadonlyMap<number, number>, most: number): Palette {
  const points = [...counts]
    .sort(([a], [b]) => a - b)
    .map(([code, weight]): Point => ({ code, weight, lab: oklabOfColour(code) }));
  const codes = points.length <= most ? points.map((point) => point.code) : chosenColours(points, most);
  const candidates = [...new Set(codes)].map(oklabOfColour);
  const taken = new Set(points.map((point) => codeOf(candidates[nearestOf(point, candidates)]!)));
  const palette = [...taken].sort((a, b) => oklabOfColour(a)[0] - oklabOfColour(b)[0] || a - b);
  const centres = palette.map(oklabOfColour);
  return { palette, numbers: new Map(points.map((point) => [point.code, nearestOf(point, centres)])) };
}

function chosenColours(points: readonly Point[], most: number): number[] {
  const black = points.find((point) => point.code === 0);
  if (most === 1) return [codeOf(meanOf(points))];
  const others = points.filter((point) => point !== black);
  const fixed = black ? [black.lab] : [];
  const start = [...fixed, ...medianCut(others, most - fixed.length)];
  return settled(points, start, fixed.length).map(codeOf);
}

const codeOf = (lab: Triple): number => colourCode(...linearOf(lab));
