// Where a strip's board has room along a straight line: inside closed outlines, and away from what is in the way. Exact for straight edges and circles.
// Lines run along x of a frame that may be turned against the panel. Not here: how many LEDs go there (auto-layout.ts, light-spots.ts).

import type { Project } from '../project/index.ts';
import { keepOutOutline } from './keep-outs.ts';
import { channelAllowanceMm, leastWall } from './laying-findings.ts';
import { layOut } from './layout.ts';
import { boundsOf, edgesOf, isInside, type PointMm, rectangleOutline } from './plane.ts';
import { boardPieces } from './run-outline.ts';

/** Boards stay this far from keep-outs (common practice, no source). */
export const keepOutClearanceMm = 2;

/** A closed outline that boards stay inside of, and how far from its edges. */
interface Fence {
  readonly points: readonly PointMm[];
  readonly marginMm: number;
}
/** A convex shape that boards stay away from. One point with a distance is a circle. */
export interface Obstacle {
  readonly points: readonly PointMm[];
  readonly awayMm: number;
}
export interface Ground {
  readonly fences: readonly Fence[];
  readonly obstacles: readonly Obstacle[];
}

/** The unit vector that lines run along; y of the frame points to its right, with y down. */
export type Along = PointMm;

/** A place of the panel in the frame, and back. */
export const intoFrame = (along: Along, p: PointMm): PointMm => ({
  xMm: p.xMm * along.xMm + p.yMm * along.yMm,
  yMm: p.yMm * along.xMm - p.xMm * along.yMm,
});
export const outOfFrame = (along: Along, p: PointMm): PointMm => ({
  xMm: p.xMm * along.xMm - p.yMm * along.yMm,
  yMm: p.xMm * along.yMm + p.yMm * along.xMm,
});

export function groundInFrame({ fences, obstacles }: Ground, along: Along): Ground {
  const turned = (points: readonly PointMm[]): PointMm[] => points.map((p) => intoFrame(along, p));
  return {
    fences: fences.map((fence) => ({ ...fence, points: turned(fence.points) })),
    obstacles: obstacles.map((one) => ({ ...one, points: turned(one.points) })),
  };
}

/** Wood between two boards, the channels' allowance included, mm. */
export function boardsApartMm({ backing }: Project['panel']): number {
  const { wallMm } = leastWall(backing);
  return wallMm > 0 ? wallMm + channelAllowanceMm : 0;
}

/** The panel, an outline on it, its keep-outs, and the runs that lie on it already unless they are to go. */
export function groundOf(project: Project, outline: Fence, clearanceMm: number, isCleared: boolean): Ground {
  const { panel } = project;
  const keepOuts = (panel.keepOuts ?? []).map((keepOut): Obstacle => {
    const { shape } = keepOut;
    return shape.kind === 'circle'
      ? { points: [shape.centre], awayMm: shape.diameterMm / 2 + clearanceMm }
      : { points: keepOutOutline(keepOut), awayMm: clearanceMm };
  });
  const boards = isCleared ? [] : layOut(project).runs.flatMap((placed) => boardPieces(placed));
  const awayMm = boardsApartMm(panel);
  return {
    fences: [{ points: rectangleOutline(0, 0, panel.widthMm, panel.heightMm), marginMm: 0 }, outline],
    obstacles: [...keepOuts, ...boards.map((points): Obstacle => ({ points, awayMm }))],
  };
}

/** The outline that is filled where none is given: the visible opening, or the whole panel. */
export function openingOutline({ opening, widthMm, heightMm }: Project['panel']): PointMm[] {
  if (!opening) return rectangleOutline(0, 0, widthMm, heightMm);
  return rectangleOutline(opening.xMm, opening.yMm, opening.widthMm, opening.heightMm);
}

export interface Stretch {
  readonly fromMm: number;
  readonly toMm: number;
}

/** What only touches a board is not in its way: a millionth of a millimetre is below any tool. */
const toleranceMm = 1e-6;

/** What lies nearer than `awayMm` to the line from `a` to `b` is a strip with round ends. Its reach in x at one height, as all candidates for least and most. */
function reachAt(a: PointMm, b: PointMm, awayMm: number, yMm: number): number[] {
  const reach: number[] = [];
  for (const end of [a, b]) {
    const off = Math.abs(yMm - end.yMm);
    if (off > awayMm) continue;
    const half = Math.sqrt(awayMm * awayMm - off * off);
    reach.push(end.xMm - half, end.xMm + half);
  }
  const lengthMm = Math.hypot(b.xMm - a.xMm, b.yMm - a.yMm);
  const rise = b.yMm - a.yMm;
  if (lengthMm === 0 || rise === 0) return reach;
  for (const side of [-awayMm, awayMm]) {
    const startX = a.xMm - (side * rise) / lengthMm;
    const startY = a.yMm + (side * (b.xMm - a.xMm)) / lengthMm;
    const share = (yMm - startY) / rise;
    if (share >= 0 && share <= 1) reach.push(startX + share * (b.xMm - a.xMm));
  }
  return reach;
}

/** Where, along x, a band between two heights comes nearer than `awayMm` to a line. */
function barredBy(
  a: PointMm,
  b: PointMm,
  awayMm: number,
  topMm: number,
  bottomMm: number,
): Stretch | undefined {
  if (Math.max(a.yMm, b.yMm) + awayMm <= topMm || Math.min(a.yMm, b.yMm) - awayMm >= bottomMm)
    return undefined;
  // Such a strip is convex, so it reaches farthest at its own ends' heights or at the band's edges.
  const heights = [topMm, bottomMm, a.yMm, b.yMm].filter((yMm) => yMm >= topMm && yMm <= bottomMm);
  const reach = heights.flatMap((yMm) => reachAt(a, b, awayMm, yMm));
  if (reach.length === 0) return undefined;
  return { fromMm: Math.min(...reach), toMm: Math.max(...reach) };
}

function barredByObstacle({ points, awayMm }: Obstacle, topMm: number, bottomMm: number): Stretch[] {
  const barred = edgesOf(points).flatMap(([a, b]) => barredBy(a, b, awayMm, topMm, bottomMm) ?? []);
  if (barred.length === 0) return [];
  return [
    {
      fromMm: Math.min(...barred.map((one) => one.fromMm)),
      toMm: Math.max(...barred.map((one) => one.toMm)),
    },
  ];
}

/** The stretches along a line at this height where a board of this width lies wholly inside all fences and clear of all obstacles, from left to right. */
export function freeStretches({ fences, obstacles }: Ground, yMm: number, boardWidthMm: number): Stretch[] {
  const topMm = yMm - boardWidthMm / 2 + toleranceMm;
  const bottomMm = yMm + boardWidthMm / 2 - toleranceMm;
  const barred = [
    ...fences.flatMap(({ points, marginMm }) =>
      edgesOf(points).flatMap(([a, b]) => barredBy(a, b, marginMm, topMm, bottomMm) ?? []),
    ),
    ...obstacles.flatMap((obstacle) => barredByObstacle(obstacle, topMm, bottomMm)),
  ].sort((a, b) => a.fromMm - b.fromMm);
  const free: Stretch[] = [];
  let toMm = barred[0]?.toMm ?? 0;
  for (const next of barred.slice(1)) {
    const middle = { xMm: (toMm + next.fromMm) / 2, yMm };
    // No edge lies between, so what holds for the middle holds for the whole stretch.
    if (next.fromMm > toMm + toleranceMm && fences.every(({ points }) => isInside(points, middle)))
      free.push({ fromMm: toMm, toMm: next.fromMm });
    toMm = Math.max(toMm, next.toMm);
  }
  return free;
}

/** The heights between which boards of this width can lie inside all fences. */
export function heightsFor({ fences }: Ground, boardWidthMm: number): Stretch {
  const bounds = fences.map(({ points, marginMm }) => ({ ...boundsOf(points), marginMm }));
  return {
    fromMm: Math.max(...bounds.map(({ topMm, marginMm }) => topMm + marginMm)) + boardWidthMm / 2,
    toMm: Math.min(...bounds.map(({ bottomMm, marginMm }) => bottomMm - marginMm)) - boardWidthMm / 2,
  };
}
