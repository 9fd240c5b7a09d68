// How far a data wire behind the panel stays from the wiring of coils: their pulses couple into it. Not here: the route itself (jumper-route.ts).
import type { KeepOut, Panel } from '../project/index.ts';
import { jumperClearanceMm, jumperRoute } from './jumper-route.ts';
import { distanceToPathMm, outlineGapMm, type PointMm, rectangleOutline } from './plane.ts';

/** Data wires keep this far from coil wiring (common practice, no source). */
export const coilClearanceMm = 50;

/**
 * The way that a wire takes between two places: behind the backing round the keep-outs; the straight line without a backing. Where coil wiring is in
 * the way, that is round its very edge.
 */
export const wireWay = (
  { backing, keepOuts }: Pick<Panel, 'backing' | 'keepOuts'>,
  from: PointMm,
  to: PointMm,
): PointMm[] => (backing ? jumperRoute(from, to, keepOuts ?? [], jumperClearanceMm) : [from, to]);

/** Least distance from a drawn line of two or more points to the edge of a keep-out; 0 where it touches or crosses it. */
export function wayToKeepOutMm(way: readonly PointMm[], { shape }: KeepOut): number {
  if (shape.kind === 'circle') return Math.max(0, distanceToPathMm(way, shape.centre) - shape.diameterMm / 2);
  const outline = rectangleOutline(shape.xMm, shape.yMm, shape.widthMm, shape.heightMm);
  return way
    .slice(1)
    .reduce(
      (least, point, i) => Math.min(least, outlineGapMm([way[i]!, point], outline)),
      Number.POSITIVE_INFINITY,
    );
}

/** The coil wiring that a way comes nearest to; undefined where the panel has none. */
export function nearestCoilWiring(
  way: readonly PointMm[],
  keepOuts: readonly KeepOut[],
): { readonly keepOut: KeepOut; readonly distanceMm: number } | undefined {
  let nearest: { readonly keepOut: KeepOut; readonly distanceMm: number } | undefined;
  for (const keepOut of keepOuts) {
    if (keepOut.purpose !== 'coil-wiring') continue;
    const distanceMm = wayToKeepOutMm(way, keepOut);
    if (nearest === undefined || distanceMm < nearest.distanceMm) nearest = { keepOut, distanceMm };
  }
  return nearest;
}
