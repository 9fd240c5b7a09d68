// Which shapes of a drawing are engraved channels: closed outlines, and single straight lines as middle lines. They come out as the document holds
// them, numbered in reading order.
import { type Channel, failed, limits, ok, type Problem, type Result } from '../../project/index.ts';
import { boundsOf, distanceMm, type PointMm } from '../plane.ts';
import { drawingLimits, thinnedToMm } from './limits.ts';
import type { Drawing, DrawingShape } from './read-drawing.ts';
import { thinLine, thinOutline } from './thin.ts';

export interface ChannelSource {
  /** The layer or group that holds the channels; where the drawing has none of that name, all of it counts. */
  readonly layer: string;
  /** An outline round all of it is the panel's edge, and no channel. */
  readonly panel: { readonly widthMm: number; readonly heightMm: number };
}

export interface FoundChannels {
  readonly channels: readonly Channel[];
  readonly notes: readonly string[];
}

/** Straight pieces shorter than the closest pitch sold (144 per m, 6.9 mm) can hold no LED: a curve's flattened pieces are such. */
const shortestLineMm = 6;
/** How near an outline has to be to the panel's edge to be it. */
const edgeMm = 0.5;
/** Finest first: a thinning that isn't needed would only move corners. */
const thinningsMm = [0.002, 0.005, thinnedToMm] as const;

const isNamed = ({ layers }: DrawingShape, layer: string): boolean =>
  layers.some((one) => one.trim().toLowerCase() === layer.toLowerCase());

function isPanelEdge(
  { points, closed }: DrawingShape,
  { widthMm, heightMm }: ChannelSource['panel'],
): boolean {
  if (!closed) return false;
  const { leftMm, topMm, rightMm, bottomMm } = boundsOf(points);
  const off = [leftMm, topMm, rightMm - widthMm, bottomMm - heightMm];
  return off.every((mm) => Math.abs(mm) <= edgeMm);
}

const rounded = ({ xMm, yMm }: PointMm): PointMm => ({
  xMm: Math.round(xMm * 1e4) / 1e4 + 0,
  yMm: Math.round(yMm * 1e4) / 1e4 + 0,
});

function thinned(points: readonly PointMm[]): PointMm[] {
  let least = [...points];
  for (const toleranceMm of thinningsMm) {
    if (least.length <= limits.channelPoints) break;
    least = thinOutline(points, toleranceMm);
  }
  return least;
}

/** A line's straight pieces that could hold an LED. */
function straightPieces(points: readonly PointMm[]): PointMm[][] {
  const corners = thinLine(points, thinnedToMm);
  return corners
    .slice(1)
    .map((corner, i) => [corners[i]!, corner])
    .filter(([from, to]) => distanceMm(from!, to!) >= shortestLineMm);
}

/** Rows from the top, each from the left; what starts within this height is one row. */
const rowMm = 1;

/** In order of `main`, those nearer than a tolerance taken as one and put in order of `other`. */
export function inLines<T>(
  things: readonly T[],
  main: (thing: T) => number,
  other: (thing: T) => number,
  toleranceMm: number,
): T[] {
  const sorted = things.toSorted((a, b) => main(a) - main(b));
  const lines: T[][] = [];
  for (const thing of sorted) {
    const line = lines.at(-1);
    if (line && main(thing) - main(line[0]!) <= toleranceMm) line.push(thing);
    else lines.push([thing]);
  }
  return lines.flatMap((line) => line.toSorted((a, b) => other(a) - other(b)));
}

const problem = (code: string, expected: string, found: string, mend: string): Problem => ({
  code,
  at: '--channels',
  expected,
  found,
  mend,
});

function tooFine(points: readonly PointMm[], most: number): Problem {
  const { leftMm, topMm } = boundsOf(points);
  return problem(
    'channel-too-fine',
    `outlines of at most ${most} corners`,
    `${points.length} in the one at ${leftMm.toFixed(1)}, ${topMm.toFixed(1)} mm`,
    'Draw the channel with fewer curves, or put the channels alone into a layer.',
  );
}

/** The drawing's channels; a problem where it has none, or too many. */
export function channelsFrom(drawing: Drawing, { layer, panel }: ChannelSource): Result<FoundChannels> {
  const notes: string[] = [...drawing.notes];
  const named = drawing.shapes.filter((shape) => isNamed(shape, layer));
  const all = named.length > 0 ? named : drawing.shapes.filter((shape) => !isPanelEdge(shape, panel));
  if (named.length === 0) {
    notes.push(`No layer or group "${layer}": all closed outlines and lines are taken.`);
    if (all.length < drawing.shapes.length)
      notes.push("The outline round the whole panel is taken as the panel's edge.");
  }
  const found: PointMm[][] = [];
  for (const { points, closed } of all) {
    if (points.length > drawingLimits.outlinePoints)
      return failed([tooFine(points, drawingLimits.outlinePoints)]);
    const ring = closed ? thinOutline(points, thinningsMm[0]) : [];
    if (ring.length > 2) {
      found.push(thinned(points));
      continue;
    }
    const pieces = straightPieces(points);
    if (pieces.length > 1) notes.push(`A line with corners is taken as ${pieces.length} straight channels.`);
    if (pieces.length === 0)
      notes.push('A line without a straight piece long enough for an LED is left out.');
    for (const piece of pieces) found.push(piece);
  }
  if (found.length === 0)
    return failed([
      problem(
        'no-channels',
        'closed outlines, or straight middle lines',
        'none',
        'Draw one for each channel.',
      ),
    ]);
  if (found.length > limits.runs)
    return failed([
      problem(
        'too-many-channels',
        `at most ${limits.runs} channels`,
        `${found.length}`,
        `Put the channels alone into a layer or group named "${layer}".`,
      ),
    ]);
  const fine = found.find((points) => points.length > limits.channelPoints);
  if (fine) return failed([tooFine(fine, limits.channelPoints)]);
  const ordered = inLines(
    found.map((points) => ({ points, bounds: boundsOf(points) })),
    ({ bounds }) => bounds.topMm,
    ({ bounds }) => bounds.leftMm,
    rowMm,
  );
  const channels = ordered.map(({ points }, i) => ({ id: `channel-${i + 1}`, points: points.map(rounded) }));
  const offLimits = channels.find(({ points }) =>
    points.some((p) => Math.max(Math.abs(p.xMm), Math.abs(p.yMm)) > 10_000),
  );
  if (offLimits)
    return failed([
      problem(
        'channel-off-panel',
        'channels within 10 m',
        'one farther off',
        'Draw at true scale, near the origin.',
      ),
    ]);
  // The list can't be empty and each has two points at least, which its type asks for.
  return ok({ channels: channels as unknown as Channel[], notes: [...new Set(notes)] });
}
