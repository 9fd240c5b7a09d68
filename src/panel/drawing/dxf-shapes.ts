// What each kind of DXF entity draws, as flattened points in the file's units, y up.
import { flattenArc, flattenBulge, flattenSpline, type Point, type Spline } from './curves.ts';
import type { DxfEntity } from './dxf-tags.ts';
import { drawingLimits, tooMuch, unreadable } from './limits.ts';

export interface DxfOutline {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** What an entity draws; a text where it draws nothing that can be used. */
type Draw = (entity: DxfEntity, tolerance: number, vertices: readonly DxfEntity[]) => DxfOutline | string;

const full = 2 * Math.PI;
const radiansOf = (degrees: number): number => (degrees * Math.PI) / 180;
const pointOf = (entity: DxfEntity, x: number): Point => [entity.number(x, 0), entity.number(x + 10, 0)];

/** How far round counter-clockwise from one angle to another; a whole turn where they are alike. */
function sweepOf(start: number, end: number): number {
  const sweep = (((end - start) % full) + full) % full;
  return sweep < 1e-12 ? full : sweep;
}

function circular(entity: DxfEntity, tolerance: number, start: number, end: number): DxfOutline {
  const centre = pointOf(entity, 10);
  const radius = Math.abs(entity.number(40, 0));
  const sweepRadians = sweepOf(start, end);
  const arc = { centre, first: [radius, 0], second: [0, radius], startRadians: start, sweepRadians } as const;
  const from: Point = [centre[0] + radius * Math.cos(start), centre[1] + radius * Math.sin(start)];
  return { points: [from, ...flattenArc(arc, tolerance)], closed: sweepRadians === full };
}

interface Corner {
  readonly at: Point;
  /** tan(angle / 4) of the arc to the next corner. */
  readonly bulge: number;
}

function corners(at: string, held: readonly Corner[], closed: boolean, tolerance: number): DxfOutline {
  const points: Point[] = held.length > 0 ? [held[0]!.at] : [];
  const legs = closed ? held.length : held.length - 1;
  for (let i = 0; i < legs; i++) {
    const to = held[(i + 1) % held.length]!.at;
    for (const point of flattenBulge(held[i]!.at, to, held[i]!.bulge, tolerance)) points.push(point);
    if (points.length > drawingLimits.points) tooMuch(at, drawingLimits.points, 'corners');
  }
  return { points, closed };
}

const lwpolyline: Draw = (entity, tolerance) => {
  const held: { at: [number, number]; bulge: number }[] = [];
  for (const [code, value] of entity.pairs) {
    const last = held.at(-1);
    if (code === 10) held.push({ at: [entity.parsed(value, 10), 0], bulge: 0 });
    else if (code === 20 && last) last.at[1] = entity.parsed(value, 20);
    else if (code === 42 && last) last.bulge = entity.parsed(value, 42);
  }
  return corners(entity.at, held, (entity.number(70, 0) & 1) !== 0, tolerance);
};

const meshFlags = 16 | 64;
/** A corner of the frame that pulls a smoothed polyline, not of the line itself. */
const frameFlag = 16;

const polyline: Draw = (entity, tolerance, vertices) => {
  const flags = entity.number(70, 0);
  if ((flags & meshFlags) !== 0) return 'Meshes are left out.';
  const held = vertices
    .filter((vertex) => (vertex.number(70, 0) & frameFlag) === 0)
    .map((vertex): Corner => ({ at: pointOf(vertex, 10), bulge: vertex.number(42, 0) }));
  return corners(entity.at, held, (flags & 1) !== 0, tolerance);
};

/** Centre, end of the longer half axis seen from it, the shorter as a share of the longer; angles are those of the parameter. */
const ellipse: Draw = (entity, tolerance) => {
  const centre = pointOf(entity, 10);
  const first = pointOf(entity, 11);
  const ratio = entity.number(40, 1) * (entity.number(230, 1) < 0 ? -1 : 1);
  const second: Point = [-first[1] * ratio, first[0] * ratio];
  const startRadians = entity.number(41, 0);
  const sweepRadians = sweepOf(startRadians, entity.number(42, full));
  const [cos, sin] = [Math.cos(startRadians), Math.sin(startRadians)];
  const from: Point = [
    centre[0] + first[0] * cos + second[0] * sin,
    centre[1] + first[1] * cos + second[1] * sin,
  ];
  const arc = { centre, first, second, startRadians, sweepRadians };
  // Writers say a whole turn as 0 to 6.28318...
  return { points: [from, ...flattenArc(arc, tolerance)], closed: Math.abs(sweepRadians - full) < 1e-6 };
};

function splineOf(entity: DxfEntity): Spline | string {
  const xs = entity.numbers(10);
  const ys = entity.numbers(20);
  const knots = entity.numbers(40);
  const weights = entity.numbers(41);
  const degree = entity.number(71, 3);
  if (xs.length === 0) return 'A spline given only by points on it is left out; give it control points.';
  const refuse = (expected: string, found: string): never =>
    unreadable('drawing-spline', entity.at, expected, found, 'Turn the spline into a polyline.');
  if (!(Number.isInteger(degree) && degree >= 1 && degree <= drawingLimits.degree))
    refuse(`a spline's degree from 1 to ${drawingLimits.degree}`, String(degree));
  if (xs.length !== ys.length || xs.length <= degree || knots.length !== xs.length + degree + 1)
    refuse(
      `a spline of degree ${degree} with more control points than that, and ${degree + 1} knots more than points`,
      `${xs.length} control points and ${knots.length} knots`,
    );
  if (knots.some((knot, i) => i > 0 && knot < knots[i - 1]!)) refuse('knots that never fall', 'some that do');
  if (weights.length > 0 && (weights.length !== xs.length || weights.some((weight) => !(weight > 0))))
    refuse('one weight above 0 for each control point', `${weights.length} weights, or one of 0 and less`);
  return {
    degree,
    controls: xs.map((x, i) => [x, ys[i]!]),
    knots,
    weights: weights.length > 0 ? weights : undefined,
  };
}

const spline: Draw = (entity, tolerance) => {
  const read = splineOf(entity);
  if (typeof read === 'string') return read;
  const points = flattenSpline(read, tolerance, drawingLimits.pointsPerCurve);
  return points
    ? { points, closed: false }
    : tooMuch(entity.at, drawingLimits.pointsPerCurve, 'corners in one spline');
};

const draws: Readonly<Record<string, Draw>> = {
  LINE: (entity) => ({ points: [pointOf(entity, 10), pointOf(entity, 11)], closed: false }),
  CIRCLE: (entity, tolerance) => circular(entity, tolerance, 0, full),
  ARC: (entity, tolerance) =>
    circular(entity, tolerance, radiansOf(entity.number(50, 0)), radiansOf(entity.number(51, 360))),
  LWPOLYLINE: lwpolyline,
  POLYLINE: polyline,
  ELLIPSE: ellipse,
  SPLINE: spline,
};

/** By entity type. A map, since a file's names are anyone's: an object would answer to `constructor`. */
export const dxfShapes: ReadonlyMap<string, Draw> = new Map(Object.entries(draws));

/** Entities whose places are given in a plane of their own, which may be turned over (mirrored by a drawing program). */
export const inOwnPlane: ReadonlySet<string> = new Set(['CIRCLE', 'ARC', 'LWPOLYLINE', 'POLYLINE', 'INSERT']);
