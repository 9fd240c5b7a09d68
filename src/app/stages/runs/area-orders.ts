// The orders that an area can have: what they are called, what a new one begins with, and the points of a drawn line. Pure.
import { distanceMm } from '../../../panel/index.ts';
import { type AreaOrder, mostPathPoints } from '../../../project/index.ts';

export interface PlaceMm {
  readonly xMm: number;
  readonly yMm: number;
}

type PathOrder = Extract<AreaOrder, { kind: 'path' }>;

export const orderChoices: readonly { readonly id: AreaOrder['kind']; readonly label: string }[] = [
  { id: 'across', label: 'Left to right' },
  { id: 'up', label: 'Bottom to top' },
  { id: 'outward', label: 'Outward' },
  { id: 'around', label: 'Clockwise around' },
  { id: 'wiring', label: 'As it is wired' },
  { id: 'path', label: 'Along a line' },
];

/** An order that begins sensibly: around the area's middle, along its middle line. */
const firstOrder: {
  readonly [K in AreaOrder['kind']]: (
    middle: PlaceMm,
    halfWidthMm: number,
  ) => Extract<AreaOrder, { kind: K }>;
} = {
  across: () => ({ kind: 'across' }),
  up: () => ({ kind: 'up' }),
  outward: (centre) => ({ kind: 'outward', centre }),
  around: (centre) => ({ kind: 'around', centre, startDeg: 90 }),
  wiring: () => ({ kind: 'wiring' }),
  path: ({ xMm, yMm }, half) => ({
    kind: 'path',
    points: [
      { xMm: xMm - half, yMm },
      { xMm: xMm + half, yMm },
    ],
  }),
};

/** An order of another kind, travelled the same way round as the one before. */
export function orderOfKind(
  kind: AreaOrder['kind'],
  before: AreaOrder,
  middle: PlaceMm,
  halfWidthMm: number,
): AreaOrder {
  const first: AreaOrder = firstOrder[kind](middle, halfWidthMm);
  return before.reversed === undefined ? first : { ...first, reversed: before.reversed };
}

const withPoints = (order: PathOrder, points: readonly PlaceMm[]): PathOrder => ({
  ...order,
  points: [...points] as unknown as PathOrder['points'],
});

export const movedPoint = (order: PathOrder, index: number, to: Partial<PlaceMm>): PathOrder =>
  withPoints(
    order,
    order.points.map((point, i) => (i === index ? { ...point, ...to } : point)),
  );

export const hasRoomForPoint = ({ points }: PathOrder): boolean => points.length < mostPathPoints;

/** One more point, in the middle of the longest stretch: the line stays as it is until the point is moved. */
export function addedPoint(order: PathOrder): PathOrder {
  const { points } = order;
  const lengths = points.slice(1).map((point, i) => distanceMm(points[i]!, point));
  const at = lengths.indexOf(Math.max(...lengths));
  const [from, to] = [points[at]!, points[at + 1]!];
  const middle = { xMm: (from.xMm + to.xMm) / 2, yMm: (from.yMm + to.yMm) / 2 };
  return withPoints(order, [...points.slice(0, at + 1), middle, ...points.slice(at + 1)]);
}

/** A line has two points at least. */
export const canLosePoint = ({ points }: PathOrder): boolean => points.length > 2;

export const removedPoint = (order: PathOrder, index: number): PathOrder =>
  withPoints(
    order,
    order.points.filter((_, i) => i !== index),
  );
