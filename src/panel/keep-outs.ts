// Keep-outs as shapes: where no strip may lie, and what wires go round.
import type { KeepOut } from '../project/index.ts';
import { distanceMm, distanceToLineMm, edgesOf, isInside, type PointMm, rectangleOutline } from './plane.ts';

/** How many corners stand for a circle where an outline is asked for; they lie outside it, so that going round them never cuts it. */
const circleCorners = 24;

/** Closed outline of a keep-out: exact for a rectangle, for a circle the regular polygon drawn around it. */
export function keepOutOutline({ shape }: KeepOut): PointMm[] {
  if (shape.kind === 'rectangle')
    return rectangleOutline(shape.xMm, shape.yMm, shape.widthMm, shape.heightMm);
  const half = Math.PI / circleCorners;
  const radiusMm = shape.diameterMm / 2 / Math.cos(half);
  return Array.from({ length: circleCorners }, (_, i) => ({
    xMm: shape.centre.xMm + radiusMm * Math.cos(2 * half * i),
    yMm: shape.centre.yMm + radiusMm * Math.sin(2 * half * i),
  }));
}

/** Rounding of a drawing must not make two things meet. */
const roundingMm = 0.01;

/** Whether a closed outline reaches into a keep-out, and how deep is left to the eye. Touching its edge is allowed. */
export function reachesInto(
  outline: readonly PointMm[],
  { shape }: KeepOut,
  toleranceMm = roundingMm,
): boolean {
  if (shape.kind === 'circle') {
    if (isInside(outline, shape.centre)) return true;
    return edgesOf(outline).some(
      ([a, b]) => distanceToLineMm(a, b, shape.centre) < shape.diameterMm / 2 - toleranceMm,
    );
  }
  return overlaps(
    outline,
    rectangleOutline(shape.xMm, shape.yMm, shape.widthMm, shape.heightMm),
    toleranceMm,
  );
}

/** Whether two convex outlines share some area that is deeper than the tolerance (separating axes). */
export function overlaps(
  one: readonly PointMm[],
  other: readonly PointMm[],
  toleranceMm = roundingMm,
): boolean {
  for (const outline of [one, other])
    for (const [a, b] of edgesOf(outline)) {
      const lengthMm = distanceMm(a, b);
      if (lengthMm === 0) continue;
      const along = (p: PointMm): number => ((b.yMm - a.yMm) * p.xMm - (b.xMm - a.xMm) * p.yMm) / lengthMm;
      const first = one.map(along);
      const second = other.map(along);
      const depthMm = Math.min(
        Math.max(...first) - Math.min(...second),
        Math.max(...second) - Math.min(...first),
      );
      if (depthMm <= toleranceMm) return false;
    }
  return true;
}
