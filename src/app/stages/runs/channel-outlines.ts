// Engraved channels as the chosen runs' outlines, as wide and long as the tool cuts them. Pure.
import { channelAllowanceMm, layOut, outline, type PlacedRun, type PointMm } from '../../../panel/index.ts';
import { type Channel, freeId, type Project } from '../../../project/index.ts';

const tidy = (mm: number): number => Math.round(mm * 1e3) / 1e3 + 0;

/** Corners of the run's channel: the board's, moved apart by half the allowance on every side. */
function channelOutline(placed: PlacedRun): PointMm[] {
  const corners = outline(placed);
  const [a, b, , d] = corners as [PointMm, PointMm, unknown, PointMm];
  const unit = (from: PointMm, to: PointMm) => {
    const lengthMm = Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
    return { x: (to.xMm - from.xMm) / lengthMm, y: (to.yMm - from.yMm) / lengthMm };
  };
  const [along, across] = [unit(a, b), unit(a, d)];
  const half = channelAllowanceMm / 2;
  const signs = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ] as const;
  return corners.map(({ xMm, yMm }, i) => {
    const [s, t] = signs[i]!;
    return {
      xMm: tidy(xMm + half * (s * along.x + t * across.x)),
      yMm: tidy(yMm + half * (s * along.y + t * across.y)),
    };
  });
}

/** One channel for each straight run, in the order given; ring boards lie in none. */
export function channelsOfRuns(project: Project, ids: readonly string[]): Channel[] {
  const { runs } = layOut(project);
  const taken = (project.channels ?? []).map(({ id }) => id);
  return ids.flatMap((run): Channel[] => {
    const placed = runs.find((one) => one.run.id === run);
    if (!placed || placed.run.ring) return [];
    const id = freeId(taken, 'channel-1');
    taken.push(id);
    return [{ id, points: channelOutline(placed) as unknown as Channel['points'] }];
  });
}
