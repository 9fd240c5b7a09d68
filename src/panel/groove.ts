// The straight groove that a channel offers to a strip: its long axis, how wide it is, and the longest piece of a strip's board that lies wholly
// inside. A channel of two points is its middle line; more are a closed outline, with rounded ends, dogbones or whatever the cutter left.
import type { Channel } from '../project/index.ts';
import { distanceMm, hullOf, isInside, type PointMm } from './plane.ts';

export interface Groove {
  /** Ends of the longest piece of board that fits, on its middle line. */
  readonly from: PointMm;
  readonly to: PointMm;
  readonly lengthMm: number;
  /** Free width; undefined for a middle line, which says nothing about it. */
  readonly widthMm: number | undefined;
  /** Direction from `from` to `to`, of length 1; y down. */
  readonly along: Direction;
  /** Whether the board isn't too wide; where it is, the length is that of a board as wide as the groove. */
  readonly takesBoard: boolean;
}

export interface Direction {
  readonly x: number;
  readonly y: number;
}

/** A board as wide as its groove, both rounded to a hundredth of a mm, still goes in. */
export const drawnToMm = 0.01;
/** Keeps a band off edges that it only touches. */
const hair = 1e-6;

const directionOf = (a: PointMm, b: PointMm): Direction => {
  const length = distanceMm(a, b);
  return { x: (b.xMm - a.xMm) / length, y: (b.yMm - a.yMm) / length };
};

const turned = ({ x, y }: Direction): Direction => ({ x: -y, y: x });
const inAxes = (u: Direction, { xMm, yMm }: PointMm): PointMm => ({
  xMm: xMm * u.x + yMm * u.y,
  yMm: yMm * u.x - xMm * u.y,
});
const outOfAxes = (u: Direction, { xMm: s, yMm: t }: PointMm): PointMm => ({
  xMm: s * u.x - t * u.y,
  yMm: s * u.y + t * u.x,
});

const extent = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/** Direction of the least rectangle round the points: one of its sides lies on a side of the hull (Freeman and Shapira 1975). */
function leastRectangle(points: readonly PointMm[]): Direction {
  const hull = hullOf(points);
  let least = Number.POSITIVE_INFINITY;
  let best: Direction = { x: 1, y: 0 };
  for (const [i, a] of hull.entries()) {
    const b = hull[(i + 1) % hull.length]!;
    if (distanceMm(a, b) < hair) continue;
    const u = directionOf(a, b);
    const held = hull.map((p) => inAxes(u, p));
    const area = extent(held.map((p) => p.xMm)) * extent(held.map((p) => p.yMm));
    if (area < least - hair) [least, best] = [area, u];
  }
  return best;
}

/** The longest straight sides show most exactly where the groove runs; the least rectangle, which may lean on a short end, helps where all is curved. */
const sidesTried = 3;

function directionsToTry(points: readonly PointMm[]): Direction[] {
  const sides = points
    .map((a, i) => ({ a, b: points[(i + 1) % points.length]! }))
    .toSorted((one, other) => distanceMm(other.a, other.b) - distanceMm(one.a, one.b))
    .slice(0, sidesTried)
    .filter(({ a, b }) => distanceMm(a, b) > hair);
  const all = [...sides.map(({ a, b }) => directionOf(a, b)), leastRectangle(points)];
  return all.flatMap((u) => [u, turned(u)]);
}

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1]!;

/** Where along the outline its width is looked at: shares of its length, ends left out. Odd, so that the median is one of them. */
const stations = Array.from({ length: 17 }, (_, i) => 0.1 + (0.8 * i) / 16);

/** Middle and width of the free way across, as most stations along it have them. */
function corridorOf(outline: readonly PointMm[]): { middle: number; width: number } | undefined {
  const places = outline.map((p) => p.xMm);
  const [start, length] = [Math.min(...places), extent(places)];
  const widest = stations.flatMap((share) => {
    const s = start + length * share;
    const crossings: number[] = [];
    for (const [i, a] of outline.entries()) {
      const b = outline[(i + 1) % outline.length]!;
      if (a.xMm > s !== b.xMm > s) crossings.push(a.yMm + ((b.yMm - a.yMm) * (s - a.xMm)) / (b.xMm - a.xMm));
    }
    crossings.sort((a, b) => a - b);
    let best: { middle: number; width: number } | undefined;
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const [low, high] = [crossings[i]!, crossings[i + 1]!];
      if (!best || high - low > best.width) best = { middle: (low + high) / 2, width: high - low };
    }
    return best ? [best] : [];
  });
  if (widest.length === 0) return undefined;
  return { middle: median(widest.map((w) => w.middle)), width: median(widest.map((w) => w.width)) };
}

const turnAt = (a: PointMm, b: PointMm, c: PointMm): number => {
  const [ux, uy, vx, vy] = [b.xMm - a.xMm, b.yMm - a.yMm, c.xMm - b.xMm, c.yMm - b.yMm];
  return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
};

/** Lines of a flattened curve turn by less from one to the next, radians; more is a corner. */
const mostTurn = 0.2;
/** And are about as long as their neighbours. */
const mostUneven = 3;

/**
 * How strongly the curve was bent, 1/mm, of which a line of a flattened outline is a chord; 0 where it is just a line. Why: where a rounded end narrows
 * to the board's width, what a chord cuts off across shows many times over along.
 */
function bendOf(before: PointMm, a: PointMm, b: PointMm, behind: PointMm): number {
  const chord = distanceMm(a, b);
  const bends = [
    { turn: turnAt(before, a, b), beside: distanceMm(before, a) },
    { turn: turnAt(a, b, behind), beside: distanceMm(b, behind) },
  ]
    .filter(({ beside }) => beside < mostUneven * chord && beside > chord / mostUneven)
    .map(({ turn, beside }) => ({ turn, bend: (2 * turn) / (chord + beside) }));
  if (bends.length === 0 || bends.some(({ turn }) => Math.abs(turn) > mostTurn)) return 0;
  if (bends.some(({ turn }) => turn > 0) && bends.some(({ turn }) => turn < 0)) return 0;
  return bends.reduce((sum, { bend }) => sum + bend, 0) / bends.length;
}

/** Where, along, the curve with this chord passes a line at `t` across: the chord's crossing, moved out to the arc over it. */
function crossing(a: PointMm, b: PointMm, bend: number, t: number): number {
  const [ds, dt] = [b.xMm - a.xMm, b.yMm - a.yMm];
  // The arc rises over the chord by bend x f (1 - f) x chord squared / 2, to the right of the way where it turns left.
  const rise = (f: number): number => (bend * f * (1 - f) * Math.hypot(ds, dt)) / 2;
  let f = (t - a.yMm) / dt;
  for (let round = 0; round < 4; round++) f = Math.min(1, Math.max(0, (t - a.yMm + rise(f) * ds) / dt));
  return a.xMm + ds * f + rise(f) * dt;
}

/** The longest way along on which no edge of the outline comes into a band of this width about the middle. */
function clearWay(outline: readonly PointMm[], middle: number, bandMm: number): [number, number] {
  const [low, high] = [middle - bandMm / 2, middle + bandMm / 2];
  const blocked: [number, number][] = [];
  const corner = (i: number): PointMm => outline[(i + outline.length) % outline.length]!;
  for (const [i, a] of outline.entries()) {
    const b = corner(i + 1);
    if (Math.max(a.yMm, b.yMm) <= low || Math.min(a.yMm, b.yMm) >= high) continue;
    const isIn = (p: PointMm): boolean => p.yMm > low && p.yMm < high;
    const nearest = (p: PointMm): number =>
      isIn(p) ? p.xMm : crossing(a, b, bendOf(corner(i - 1), a, b, corner(i + 2)), p.yMm <= low ? low : high);
    const ends = [nearest(a), nearest(b)];
    blocked.push([Math.min(...ends), Math.max(...ends)]);
  }
  blocked.sort((one, other) => one[0] - other[0]);
  let best: [number, number] = [0, 0];
  let reached = blocked[0]?.[1] ?? 0;
  for (const [from, to] of blocked) {
    if (from - reached > best[1] - best[0] && isInside(outline, { xMm: (from + reached) / 2, yMm: middle }))
      best = [reached, from];
    reached = Math.max(reached, to);
  }
  return best;
}

const wayLength = ([from, to]: readonly [number, number]): number => to - from;

/** Sides that were rounded when they were drawn may lean into a board as wide as the groove; they must not cut its length short. */
const tightShare = 0.9;

/** Only a groove for one LED or two may be wider than it is long; any other that is too narrow is just that. */
const shortGrooveBoards = 2;

function grooveAlong(points: readonly PointMm[], u: Direction, boardWidthMm: number): Groove | undefined {
  const outline = points.map((p) => inAxes(u, p));
  const across = extent(outline.map((p) => p.yMm));
  if (across > extent(outline.map((p) => p.xMm)) && across > shortGrooveBoards * boardWidthMm)
    return undefined;
  const corridor = corridorOf(outline);
  if (!corridor) return undefined;
  const { middle, width } = corridor;
  const boardMm = Math.min(boardWidthMm, width);
  const exact = clearWay(outline, middle, boardMm - hair);
  const eased = clearWay(outline, middle, boardMm - 2 * drawnToMm);
  const way = wayLength(exact) < tightShare * wayLength(eased) ? eased : exact;
  if (wayLength(way) <= 0) return undefined;
  return {
    from: outOfAxes(u, { xMm: way[0], yMm: middle }),
    to: outOfAxes(u, { xMm: way[1], yMm: middle }),
    lengthMm: wayLength(way),
    widthMm: width,
    along: u,
    takesBoard: boardWidthMm <= width + drawnToMm,
  };
}

/** Another axis has to win by more than rounding. */
const clearlyLongerMm = 0.02;

/** The better of two grooves: one that takes the board, and then the longer. */
function better(best: Groove | undefined, next: Groove | undefined): Groove | undefined {
  if (!best || !next) return best ?? next;
  if (best.takesBoard !== next.takesBoard) return best.takesBoard ? best : next;
  return next.lengthMm > best.lengthMm + clearlyLongerMm ? next : best;
}

/** The groove of a channel for a board of this width; undefined where the outline holds none at all. */
export function grooveOf({ points }: Channel, boardWidthMm: number): Groove | undefined {
  const [a, b] = [points[0]!, points[1]!];
  if (points.length > 2)
    return directionsToTry(points)
      .map((u) => grooveAlong(points, u, boardWidthMm))
      .reduce(better, undefined);
  if (distanceMm(a, b) < hair) return undefined;
  const line = { from: a, to: b, lengthMm: distanceMm(a, b), along: directionOf(a, b) };
  return { ...line, widthMm: undefined, takesBoard: true };
}
