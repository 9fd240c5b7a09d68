// Curves as lines: arcs of ellipses, Bezier curves, bulges and splines, each flattened so that no line is further from the curve than a tolerance.
// All give the points behind the first one, the last one included. Units are the caller's.
import { drawingLimits } from './limits.ts';

export type Point = readonly [x: number, y: number];

const pieceCount = (wanted: number): number =>
  Number.isFinite(wanted) ? Math.min(drawingLimits.pointsPerCurve, Math.max(1, Math.ceil(wanted))) : 1;

const sampled = (count: number, at: (share: number) => Point): Point[] =>
  Array.from({ length: count }, (_, i) => at((i + 1) / count));

export interface EllipseArc {
  readonly centre: Point;
  /** From the centre to where the angle is 0, and to where it is a quarter turn. */
  readonly first: Point;
  readonly second: Point;
  readonly startRadians: number;
  /** Towards `second` where positive. */
  readonly sweepRadians: number;
}

/** A chord of the unit circle over an angle lies 1 - cos(angle / 2) off it, and the longer half axis stretches that most. */
export function flattenArc(arc: EllipseArc, tolerance: number): Point[] {
  const { centre, first, second, startRadians, sweepRadians } = arc;
  const radius = Math.max(Math.hypot(...first), Math.hypot(...second));
  const step = 2 * Math.acos(Math.max(0, 1 - tolerance / radius));
  return sampled(pieceCount(Math.abs(sweepRadians) / step), (share) => {
    const angle = startRadians + sweepRadians * share;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    return [centre[0] + first[0] * cos + second[0] * sin, centre[1] + first[1] * cos + second[1] * sin];
  });
}

const bend = (a: Point, b: Point, c: Point): number =>
  Math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]);

/** Chords lie within (second derivative) x (step squared) / 8 of the curve; the second derivative is largest at an end. */
export function flattenCubic(a: Point, b: Point, c: Point, d: Point, tolerance: number): Point[] {
  const second = 6 * Math.max(bend(a, b, c), bend(b, c, d));
  return sampled(pieceCount(Math.sqrt(second / (8 * tolerance))), (t) => {
    const s = 1 - t;
    const at = (i: 0 | 1): number =>
      s * s * s * a[i] + 3 * s * s * t * b[i] + 3 * s * t * t * c[i] + t * t * t * d[i];
    return [at(0), at(1)];
  });
}

export function flattenQuadratic(a: Point, b: Point, c: Point, tolerance: number): Point[] {
  return sampled(pieceCount(Math.sqrt((2 * bend(a, b, c)) / (8 * tolerance))), (t) => {
    const s = 1 - t;
    const at = (i: 0 | 1): number => s * s * a[i] + 2 * s * t * b[i] + t * t * c[i];
    return [at(0), at(1)];
  });
}

/** The arc between two corners whose bulge is tan(angle / 4), counter-clockwise where positive (y up). */
export function flattenBulge(from: Point, to: Point, bulge: number, tolerance: number): Point[] {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  if (bulge === 0 || (dx === 0 && dy === 0)) return [to];
  const sweepRadians = 4 * Math.atan(bulge);
  const toCentre = 1 / (2 * Math.tan(sweepRadians / 2));
  const centre: Point = [(from[0] + to[0]) / 2 - dy * toCentre, (from[1] + to[1]) / 2 + dx * toCentre];
  const radius = Math.hypot(from[0] - centre[0], from[1] - centre[1]);
  const startRadians = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const arc = { centre, first: [radius, 0], second: [0, radius], startRadians, sweepRadians } as const;
  return [...flattenArc(arc, tolerance).slice(0, -1), to];
}

/** SVG's arc between two points (SVG 1.1, appendix F.6). Radii that don't reach are stretched until they do. */
export function flattenSvgArc(
  from: Point,
  radii: Point,
  turnDegrees: number,
  large: boolean,
  sweep: boolean,
  to: Point,
  tolerance: number,
): Point[] {
  let [rx, ry] = [Math.abs(radii[0]), Math.abs(radii[1])];
  if (rx === 0 || ry === 0 || (from[0] === to[0] && from[1] === to[1])) return [to];
  const turn = (turnDegrees * Math.PI) / 180;
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const halfX = (from[0] - to[0]) / 2;
  const halfY = (from[1] - to[1]) / 2;
  const x = cos * halfX + sin * halfY;
  const y = -sin * halfX + cos * halfY;
  const reach = Math.hypot(x / rx, y / ry);
  if (reach > 1) [rx, ry] = [rx * reach, ry * reach];
  const off = (x / rx) ** 2 + (y / ry) ** 2;
  const side = (large === sweep ? -1 : 1) * Math.sqrt(Math.max(0, 1 / off - 1));
  const cx = (side * rx * y) / ry;
  const cy = (-side * ry * x) / rx;
  const startRadians = Math.atan2((y - cy) / ry, (x - cx) / rx);
  const turned = Math.atan2((-y - cy) / ry, (-x - cx) / rx) - startRadians;
  const full = 2 * Math.PI;
  const sweepRadians = sweep ? ((turned % full) + full) % full : -(((-turned % full) + full) % full);
  const arc: EllipseArc = {
    centre: [cos * cx - sin * cy + (from[0] + to[0]) / 2, sin * cx + cos * cy + (from[1] + to[1]) / 2],
    first: [rx * cos, rx * sin],
    second: [-ry * sin, ry * cos],
    startRadians,
    sweepRadians,
  };
  return [...flattenArc(arc, tolerance).slice(0, -1), to];
}

export interface Spline {
  readonly degree: number;
  readonly controls: readonly Point[];
  /** As many as controls + degree + 1, never falling. */
  readonly knots: readonly number[];
  /** One a control point; all 1 where absent. */
  readonly weights: readonly number[] | undefined;
}

/** The point at a knot value inside span `span` (knots[span] to knots[span + 1]), by de Boor's algorithm on weighted points. */
function splinePoint({ degree, controls, knots, weights }: Spline, span: number, at: number): Point {
  const held = Array.from({ length: degree + 1 }, (_, i) => {
    const index = span - degree + i;
    const weight = weights?.[index] ?? 1;
    const [x, y] = controls[index]!;
    return [x * weight, y * weight, weight] as [number, number, number];
  });
  for (let round = 1; round <= degree; round++)
    for (let i = degree; i >= round; i--) {
      const low = knots[span - degree + i]!;
      const high = knots[span + 1 + i - round]!;
      const share = high === low ? 0 : (at - low) / (high - low);
      const [before, here] = [held[i - 1]!, held[i]!];
      held[i] = [0, 1, 2].map((k) => before[k]! * (1 - share) + here[k]! * share) as [number, number, number];
    }
  const [x, y, weight] = held[degree]!;
  return [x / weight, y / weight];
}

function offLine(a: Point, b: Point, p: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  const share =
    squared === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / squared));
  return Math.hypot(a[0] + dx * share - p[0], a[1] + dy * share - p[1]);
}

/** Halvings of one piece of a span: 2 ^ 12 lines each. */
const mostHalvings = 12;

function halve(
  at: (t: number) => Point,
  from: number,
  to: number,
  tolerance: number,
  depth: number,
): Point[] {
  const [start, end] = [at(from), at(to)];
  const inner = [0.25, 0.5, 0.75].map((share) => at(from + (to - from) * share));
  // Three looks inside miss little of what a piece can do; asking for half the tolerance covers what they miss.
  if (depth === 0 || !inner.some((point) => offLine(start, end, point) > tolerance / 2)) return [end];
  const middle = (from + to) / 2;
  return [...halve(at, from, middle, tolerance, depth - 1), ...halve(at, middle, to, tolerance, depth - 1)];
}

/** The whole spline, its first point included; undefined where it would have more points. */
export function flattenSpline(spline: Spline, tolerance: number, mostPoints: number): Point[] | undefined {
  const { degree, controls, knots } = spline;
  const points: Point[] = [];
  for (let span = degree; span < controls.length; span++) {
    const [from, to] = [knots[span]!, knots[span + 1]!];
    if (!(to > from)) continue;
    const at = (t: number): Point => splinePoint(spline, span, t);
    if (points.length === 0) points.push(at(from));
    for (let piece = 0; piece < degree; piece++) {
      const place = (i: number): number => from + ((to - from) * i) / degree;
      points.push(...halve(at, place(piece), place(piece + 1), tolerance, degree === 1 ? 0 : mostHalvings));
      if (points.length > mostPoints) return undefined;
    }
  }
  return points;
}
