// Plane geometry in the panel's millimetres: distances, outlines, and where lines meet. Points are plain pairs; nothing here knows of runs or strips.
export interface PointMm {
  readonly xMm: number;
  readonly yMm: number;
}

export const distanceMm = (a: PointMm, b: PointMm): number => Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm);

export const between = (a: PointMm, b: PointMm, share: number): PointMm => ({
  xMm: a.xMm + (b.xMm - a.xMm) * share,
  yMm: a.yMm + (b.yMm - a.yMm) * share,
});

/** The share (0 at `a`, 1 at `b`) of the place on a line that is nearest to a point. */
export function nearestShare(a: PointMm, b: PointMm, to: PointMm): number {
  const dx = b.xMm - a.xMm;
  const dy = b.yMm - a.yMm;
  const squared = dx * dx + dy * dy;
  if (squared === 0) return 0;
  return Math.min(1, Math.max(0, ((to.xMm - a.xMm) * dx + (to.yMm - a.yMm) * dy) / squared));
}

export const distanceToLineMm = (a: PointMm, b: PointMm, to: PointMm): number =>
  distanceMm(between(a, b, nearestShare(a, b, to)), to);

/** Least distance to a drawn line of one or more points. */
export const distanceToPathMm = (points: readonly PointMm[], to: PointMm): number =>
  points.reduce(
    (least, point, i) => Math.min(least, distanceToLineMm(points[Math.max(0, i - 1)]!, point, to)),
    Number.POSITIVE_INFINITY,
  );

/** Whether a point lies inside a closed outline, by the even-odd rule. The last point joins the first. */
export function isInside(outline: readonly PointMm[], { xMm, yMm }: PointMm): boolean {
  let inside = false;
  for (const [i, a] of outline.entries()) {
    const b = outline[(i + 1) % outline.length]!;
    if (a.yMm > yMm !== b.yMm > yMm && xMm < a.xMm + ((yMm - a.yMm) * (b.xMm - a.xMm)) / (b.yMm - a.yMm))
      inside = !inside;
  }
  return inside;
}

/** Pairs of neighbouring corners, the last one with the first. */
export const edgesOf = (outline: readonly PointMm[]): [PointMm, PointMm][] =>
  outline.map((point, i) => [point, outline[(i + 1) % outline.length]!]);

/** On which side of the line from `a` to `b` a point lies: positive on the right of it, with y down. Twice the triangle's area, mm2. */
const sideMm2 = (a: PointMm, b: PointMm, p: PointMm): number =>
  (b.xMm - a.xMm) * (p.yMm - a.yMm) - (b.yMm - a.yMm) * (p.xMm - a.xMm);

/** Whether two lines cross between their ends; touching doesn't count. */
export const linesCross = (a: PointMm, b: PointMm, c: PointMm, d: PointMm): boolean =>
  sideMm2(a, b, c) * sideMm2(a, b, d) < 0 && sideMm2(c, d, a) * sideMm2(c, d, b) < 0;

/** Least distance between two closed outlines; 0 where they touch, cross, or one holds the other. */
export function outlineGapMm(one: readonly PointMm[], other: readonly PointMm[]): number {
  if (isInside(one, other[0]!) || isInside(other, one[0]!)) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (const [a, b] of edgesOf(one))
    for (const [c, d] of edgesOf(other)) {
      if (linesCross(a, b, c, d)) return 0;
      least = Math.min(
        least,
        distanceToLineMm(a, b, c),
        distanceToLineMm(a, b, d),
        distanceToLineMm(c, d, a),
        distanceToLineMm(c, d, b),
      );
    }
  return least;
}

/** Area of a closed outline, mm2, positive whichever way it runs. */
export const areaMm2 = (outline: readonly PointMm[]): number =>
  Math.abs(edgesOf(outline).reduce((sum, [a, b]) => sum + a.xMm * b.yMm - b.xMm * a.yMm, 0)) / 2;

export interface BoundsMm {
  readonly leftMm: number;
  readonly topMm: number;
  readonly rightMm: number;
  readonly bottomMm: number;
}

/** The upright rectangle round these points, however many. */
export function boundsOf(points: readonly PointMm[]): BoundsMm {
  const bounds = {
    leftMm: Number.POSITIVE_INFINITY,
    topMm: Number.POSITIVE_INFINITY,
    rightMm: Number.NEGATIVE_INFINITY,
    bottomMm: Number.NEGATIVE_INFINITY,
  };
  for (const { xMm, yMm } of points) {
    bounds.leftMm = Math.min(bounds.leftMm, xMm);
    bounds.topMm = Math.min(bounds.topMm, yMm);
    bounds.rightMm = Math.max(bounds.rightMm, xMm);
    bounds.bottomMm = Math.max(bounds.bottomMm, yMm);
  }
  return bounds;
}

/** Corners of an upright rectangle, in order round it. */
export const rectangleOutline = (xMm: number, yMm: number, widthMm: number, heightMm: number): PointMm[] => [
  { xMm, yMm },
  { xMm: xMm + widthMm, yMm },
  { xMm: xMm + widthMm, yMm: yMm + heightMm },
  { xMm, yMm: yMm + heightMm },
];

/**
 * The convex outline round these points, clockwise as seen; two points or fewer where they lie on one line.
 * Source: the monotone chain, lower and upper side one after the other.
 */
export function hullOf(points: readonly PointMm[]): PointMm[] {
  const sorted = [...points].sort((a, b) => a.xMm - b.xMm || a.yMm - b.yMm);
  const side = (ordered: readonly PointMm[]): PointMm[] => {
    const chain: PointMm[] = [];
    for (const point of ordered) {
      while (chain.length >= 2 && sideMm2(chain.at(-2)!, chain.at(-1)!, point) <= 0) chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...side(sorted), ...side(sorted.reverse())];
}
