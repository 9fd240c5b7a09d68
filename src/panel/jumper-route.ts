// Jumpers behind the backing: the shortest way round the keep-outs from one wire hole to another, and how much wire it takes.
// Not here: which runs a jumper joins (layout.ts), and the order that needs least wire (chain-plan.ts).
import type { KeepOut, Panel } from '../project/index.ts';
import { keepOutOutline } from './keep-outs.ts';
import { type BoundsMm, boundsOf, distanceMm, distanceToLineMm, edgesOf, type PointMm } from './plane.ts';

/** From the middle of a jumper's wires to the edge of what it goes round (common practice, no source). */
export const jumperClearanceMm = 2;
/** Wire to strip, bend and solder at both ends together (common practice, no source). */
export const jumperSlackMm = 20;
/** No wire can be shorter and still be soldered at both ends (common practice, no source). */
const shortestMm = 10;
/** Touching an edge is no crossing; a millionth of a millimetre is below any tool. */
const toleranceMm = 1e-6;
/** How many ends are remembered for each set of keep-outs: both ends of every run a panel can have, and a drag's worth more. */
const mostKnownEnds = 1024;

/** One keep-out, and the convex outline round it that wires keep to. Corners run so that the inside is on the right, with y down. */
interface Obstacle {
  readonly shape: KeepOut['shape'];
  readonly outline: readonly PointMm[];
  readonly bounds: BoundsMm;
}

/** What an obstacle bars to a line that ends at a given place: all of it, the bare keep-out, or nothing, where the place lies in the keep-out itself. */
type Barred = 'grown' | 'bare' | 'nothing';

/** A way on: to which corner, and how far. */
interface Leg {
  readonly corner: number;
  readonly lengthMm: number;
}

/** What is known of a jumper's end: the corners in sight, and how far each corner is from here by the shortest way. */
interface End {
  readonly barred: readonly Barred[];
  seen?: readonly Leg[];
  ways?: Ways;
}
interface Ways {
  readonly lengthsMm: Float64Array;
  /** The corner before each on its shortest way; -1 where it is seen from the end itself. */
  readonly before: Int32Array;
}

interface Corner extends PointMm {
  readonly obstacle: number;
  readonly previous: PointMm;
  readonly next: PointMm;
}

interface Surroundings {
  readonly obstacles: readonly Obstacle[];
  readonly corners: readonly Corner[];
  readonly legs: readonly (readonly Leg[])[];
  readonly ends: Map<string, End>;
}

function obstacleOf(keepOut: KeepOut, clearanceMm: number): Obstacle {
  const { shape } = keepOut;
  const grown: KeepOut['shape'] =
    shape.kind === 'circle'
      ? { ...shape, diameterMm: shape.diameterMm + 2 * clearanceMm }
      : {
          kind: 'rectangle',
          xMm: shape.xMm - clearanceMm,
          yMm: shape.yMm - clearanceMm,
          widthMm: shape.widthMm + 2 * clearanceMm,
          heightMm: shape.heightMm + 2 * clearanceMm,
        };
  const outline = keepOutOutline({ ...keepOut, shape: grown });
  return { shape, outline, bounds: boundsOf(outline) };
}

/** How far a point lies on the right of the line from `a` to `b`, mm; negative on its left. */
const rightOfMm = (a: PointMm, b: PointMm, p: PointMm): number =>
  ((b.xMm - a.xMm) * (p.yMm - a.yMm) - (b.yMm - a.yMm) * (p.xMm - a.xMm)) / distanceMm(a, b);

/** Whether a line passes through the inside of a convex outline whose corners run with the inside on the right. */
function passesThrough(outline: readonly PointMm[], from: PointMm, to: PointMm): boolean {
  let enters = 0;
  let leaves = 1;
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i]!;
    const b = outline[i + 1] ?? outline[0]!;
    const start = rightOfMm(a, b, from) - toleranceMm;
    const end = rightOfMm(a, b, to) - toleranceMm;
    if (start <= 0 && end <= 0) return false;
    if (start < 0) enters = Math.max(enters, start / (start - end));
    else if (end < 0) leaves = Math.min(leaves, start / (start - end));
    if (enters >= leaves) return false;
  }
  return true;
}

const rectangleOf = (shape: Extract<KeepOut['shape'], { kind: 'rectangle' }>): PointMm[] =>
  keepOutOutline({ id: 'bare', purpose: 'other', shape });

/** Whether a line passes through the keep-out itself, its clearance left aside. */
const passesThroughShape = (shape: KeepOut['shape'], from: PointMm, to: PointMm): boolean =>
  shape.kind === 'circle'
    ? distanceToLineMm(from, to, shape.centre) < shape.diameterMm / 2 - toleranceMm
    : passesThrough(rectangleOf(shape), from, to);

const isWithin = (outline: readonly PointMm[], p: PointMm): boolean =>
  edgesOf(outline).every(([a, b]) => rightOfMm(a, b, p) > toleranceMm);

function barredTo({ shape, outline }: Obstacle, end: PointMm): Barred {
  if (!isWithin(outline, end)) return 'grown';
  return passesThroughShape(shape, end, end) ? 'nothing' : 'bare';
}

const isApart = (bounds: BoundsMm, from: PointMm, to: PointMm): boolean =>
  Math.max(from.xMm, to.xMm) <= bounds.leftMm ||
  Math.min(from.xMm, to.xMm) >= bounds.rightMm ||
  Math.max(from.yMm, to.yMm) <= bounds.topMm ||
  Math.min(from.yMm, to.yMm) >= bounds.bottomMm;

function weaker(one: Barred | undefined, other: Barred | undefined): Barred {
  if (one === 'nothing' || other === 'nothing') return 'nothing';
  return one === 'bare' || other === 'bare' ? 'bare' : 'grown';
}

/** Whether nothing lies between two places; `one` and `other` say what is barred where a place is a jumper's end. */
function isFree(
  obstacles: readonly Obstacle[],
  from: PointMm,
  to: PointMm,
  one?: readonly Barred[],
  other?: readonly Barred[],
): boolean {
  for (let i = 0; i < obstacles.length; i++) {
    const { shape, outline, bounds } = obstacles[i]!;
    if (isApart(bounds, from, to)) continue;
    const barred = weaker(one?.[i], other?.[i]);
    if (barred === 'nothing') continue;
    if (barred === 'bare' ? passesThroughShape(shape, from, to) : passesThrough(outline, from, to))
      return false;
  }
  return true;
}

/** Whether a wire pulled tight can bend here on its way: it leaves the obstacle's outline on one side. No shortest way has other corners. */
function isTangent(corner: Corner, other: PointMm): boolean {
  const before = rightOfMm(corner, other, corner.previous);
  const after = rightOfMm(corner, other, corner.next);
  return Math.min(before, after) > -toleranceMm || Math.max(before, after) < toleranceMm;
}

function surroundingsOf(keepOuts: readonly KeepOut[], clearanceMm: number): Surroundings {
  const obstacles = keepOuts.map((keepOut) => obstacleOf(keepOut, clearanceMm));
  const corners = obstacles.flatMap(({ outline }, obstacle) =>
    outline
      .map(
        (point, i): Corner => ({
          ...point,
          obstacle,
          previous: outline.at(i - 1)!,
          next: outline[(i + 1) % outline.length]!,
        }),
      )
      .filter((corner) => !obstacles.some((one) => isWithin(one.outline, corner))),
  );
  const legs: Leg[][] = corners.map(() => []);
  for (const [a, from] of corners.entries())
    for (let b = a + 1; b < corners.length; b++) {
      const to = corners[b]!;
      const lengthMm = distanceMm(from, to);
      if (lengthMm === 0 || (isTangent(from, to) && isTangent(to, from) && isFree(obstacles, from, to))) {
        legs[a]!.push({ corner: b, lengthMm });
        legs[b]!.push({ corner: a, lengthMm });
      }
    }
  return { obstacles, corners, legs, ends: new Map() };
}

/** Keep-outs never change in place, so what was found for a list of them stays true. */
const knownSurroundings = new WeakMap<readonly KeepOut[], Map<number, Surroundings>>();

function knownFor(keepOuts: readonly KeepOut[], clearanceMm: number): Surroundings {
  const byClearance = knownSurroundings.get(keepOuts) ?? new Map<number, Surroundings>();
  knownSurroundings.set(keepOuts, byClearance);
  const found = byClearance.get(clearanceMm) ?? surroundingsOf(keepOuts, clearanceMm);
  byClearance.set(clearanceMm, found);
  return found;
}

function endAt({ obstacles, ends }: Surroundings, at: PointMm): End {
  const key = `${at.xMm} ${at.yMm}`;
  const known = ends.get(key);
  if (known) return known;
  if (ends.size >= mostKnownEnds) ends.clear();
  const end: End = { barred: obstacles.map((obstacle) => barredTo(obstacle, at)) };
  ends.set(key, end);
  return end;
}

function seenFrom({ obstacles, corners }: Surroundings, at: PointMm, end: End): readonly Leg[] {
  end.seen ??= corners.flatMap((to, corner): Leg[] => {
    const bends = end.barred[to.obstacle] !== 'grown' || distanceMm(at, to) === 0 || isTangent(to, at);
    return bends && isFree(obstacles, at, to, end.barred) ? [{ corner, lengthMm: distanceMm(at, to) }] : [];
  });
  return end.seen;
}

/** Shortest ways from an end to all corners (Dijkstra). Corners are few, so the nearest open one is looked for, without a heap. */
function waysFrom(around: Surroundings, at: PointMm, end: End): Ways {
  if (end.ways) return end.ways;
  const count = around.corners.length;
  const lengthsMm = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const before = new Int32Array(count).fill(-1);
  const open = new Set<number>();
  const reach = (from: number, wayMm: number, legs: readonly Leg[]): void => {
    for (const { corner, lengthMm } of legs)
      if (wayMm + lengthMm < lengthsMm[corner]!) {
        lengthsMm[corner] = wayMm + lengthMm;
        before[corner] = from;
        open.add(corner);
      }
  };
  reach(-1, 0, seenFrom(around, at, end));
  while (open.size > 0) {
    let nearest = -1;
    for (const corner of open) if (nearest < 0 || lengthsMm[corner]! < lengthsMm[nearest]!) nearest = corner;
    open.delete(nearest);
    reach(nearest, lengthsMm[nearest]!, around.legs[nearest]!);
  }
  end.ways = { lengthsMm, before };
  return end.ways;
}

/**
 * The shortest way behind the backing that crosses no keep-out and stays `clearanceMm` away from them: the places where the wire bends, both ends
 * included. An end that lies nearer to a keep-out than that may leave along it; from an end inside one the way out is straight. The straight line
 * where nothing is in the way, and where no way leads there.
 */
export function jumperRoute(
  from: PointMm,
  to: PointMm,
  keepOuts: readonly KeepOut[],
  clearanceMm: number,
): PointMm[] {
  if (keepOuts.length === 0) return [from, to];
  const around = knownFor(keepOuts, clearanceMm);
  const start = endAt(around, from);
  const goal = endAt(around, to);
  if (isFree(around.obstacles, from, to, start.barred, goal.barred)) return [from, to];
  const { lengthsMm, before } = waysFrom(around, from, start);
  let last = -1;
  let leastMm = Number.POSITIVE_INFINITY;
  for (const { corner, lengthMm } of seenFrom(around, to, goal))
    if (lengthsMm[corner]! + lengthMm < leastMm) {
      leastMm = lengthsMm[corner]! + lengthMm;
      last = corner;
    }
  const bends: PointMm[] = [];
  for (let corner = last; corner >= 0; corner = before[corner]!) {
    const { xMm, yMm } = around.corners[corner]!;
    bends.unshift({ xMm, yMm });
  }
  return [from, ...bends, to];
}

/** Length of a way of two or more places. */
export const routeLengthMm = (points: readonly PointMm[]): number =>
  points.slice(1).reduce((sum, point, i) => sum + distanceMm(points[i]!, point), 0);

/**
 * The wire that a jumper between two cut ends takes, at least 10 mm. Where the panel has a backing: the way behind it round the keep-outs, through it
 * twice, and slack; the straight distance otherwise.
 */
export function jumperLengthMm(
  panel: Pick<Panel, 'backing' | 'keepOuts'>,
  from: PointMm,
  to: PointMm,
): number {
  if (!panel.backing) return Math.max(shortestMm, distanceMm(from, to));
  const wayMm = routeLengthMm(jumperRoute(from, to, panel.keepOuts ?? [], jumperClearanceMm));
  return Math.max(shortestMm, wayMm + 2 * panel.backing.thicknessMm + jumperSlackMm);
}
