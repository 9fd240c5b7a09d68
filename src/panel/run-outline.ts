// The shape that a run takes up on the backing, as convex pieces, and how near two runs come to each other.

import { overlaps } from './keep-outs.ts';
import { arrowVector, type PlacedRun, runPath } from './layout.ts';
import { type BoundsMm, boundsOf, outlineGapMm, type PointMm } from './plane.ts';

/** Corners of the cut piece, in order; of a ring board, the circle round it, as a polygon. */
export function outline(placed: PlacedRun): PointMm[] {
  if (placed.run.ring) return ringCircle(placed, placed.strip.boardWidthMm / 2);
  const arrow = arrowVector(placed.run.arrowDeg);
  const side = placed.strip.boardWidthMm / 2;
  const corner = (end: PointMm, sign: number): PointMm => ({
    xMm: end.xMm + sign * side * arrow.y,
    yMm: end.yMm - sign * side * arrow.x,
  });
  const [din, dout] = placed.isTurned ? [placed.doutEnd, placed.dinEnd] : [placed.dinEnd, placed.doutEnd];
  return [corner(din, 1), corner(dout, 1), corner(dout, -1), corner(din, -1)];
}

const ringCorners = 96;

/** A circle about a ring board's middle, so much wider than the circle of its LEDs, as the polygon drawn around it. Only for runs that are rings. */
export function ringCircle({ run }: PlacedRun, beyondMm: number): PointMm[] {
  const radiusMm = (run.ring!.radiusMm + beyondMm) / Math.cos(Math.PI / ringCorners);
  const { at } = runPath({ ...run, ledCount: ringCorners, ring: { ...run.ring!, radiusMm } }, 1);
  // The same middle, though the radius is another.
  const shift = radiusMm - run.ring!.radiusMm;
  const arrow = arrowVector(run.arrowDeg);
  const left = run.ring!.clockwise ? -1 : 1;
  return Array.from({ length: ringCorners }, (_, i) => {
    const { xMm, yMm } = at(i);
    return { xMm: xMm - left * shift * arrow.y, yMm: yMm + left * shift * arrow.x };
  });
}

/** Convex pieces that together are the run's board: one for a straight strip, one for each LED of a ring board, whose middle is free. */
export function boardPieces(placed: PlacedRun): PointMm[][] {
  if (!placed.run.ring) return [outline(placed)];
  const half = placed.strip.boardWidthMm / 2;
  const outer = ringCircle(placed, half);
  const inner = ringCircle(placed, -half);
  return outer.map((a, i) => {
    const next = (i + 1) % ringCorners;
    return [a, outer[next]!, inner[next]!, inner[i]!];
  });
}

interface Footprint {
  readonly placed: PlacedRun;
  readonly pieces: readonly PointMm[][];
  readonly bounds: BoundsMm;
}

export const footprint = (placed: PlacedRun): Footprint => ({
  placed,
  pieces: boardPieces(placed),
  bounds: boundsOf(outline(placed)),
});

const boxGapMm = (a: BoundsMm, b: BoundsMm): number =>
  Math.hypot(
    Math.max(0, a.leftMm - b.rightMm, b.leftMm - a.rightMm),
    Math.max(0, a.topMm - b.bottomMm, b.topMm - a.bottomMm),
  );

export interface NearPair {
  readonly a: PlacedRun;
  readonly b: PlacedRun;
  /** Between the two boards; 0 where they touch or overlap. */
  readonly gapMm: number;
  readonly overlap: boolean;
}

/** Pairs of runs whose boards come nearer to each other than `withinMm`, or overlap. */
export function nearPairs(runs: readonly PlacedRun[], withinMm: number): NearPair[] {
  const prints = runs.map(footprint).sort((a, b) => a.bounds.leftMm - b.bounds.leftMm);
  const pairs: NearPair[] = [];
  for (const [i, one] of prints.entries())
    for (let j = i + 1; j < prints.length; j++) {
      const other = prints[j]!;
      if (other.bounds.leftMm > one.bounds.rightMm + withinMm) break;
      if (boxGapMm(one.bounds, other.bounds) > withinMm) continue;
      const overlap = one.pieces.some((p) => other.pieces.some((q) => overlaps(p, q)));
      const gapMm = overlap
        ? 0
        : Math.min(...one.pieces.flatMap((p) => other.pieces.map((q) => outlineGapMm(p, q))));
      const [a, b] =
        one.placed.runIndex < other.placed.runIndex ? [one.placed, other.placed] : [other.placed, one.placed];
      if (overlap || gapMm < withinMm) pairs.push({ a, b, gapMm, overlap });
    }
  return pairs.sort((p, q) => p.a.runIndex - q.a.runIndex || p.b.runIndex - q.b.runIndex);
}
