// Thins flattened outlines: takes corners out while every one stays within a tolerance of the line that is left (Ramer, Douglas and Peucker).
import { distanceToLineMm, type PointMm } from '../plane.ts';

/** Whether each point stays; the first and the last do. Without recursion: a line may have a hundred thousand points. */
function kept(points: readonly PointMm[], toleranceMm: number): boolean[] {
  const stays = points.map((_, i) => i === 0 || i === points.length - 1);
  const open: [number, number][] = [[0, points.length - 1]];
  for (let part = open.pop(); part; part = open.pop()) {
    const [from, to] = part;
    let farthest = toleranceMm;
    let at = -1;
    for (let i = from + 1; i < to; i++) {
      const off = distanceToLineMm(points[from]!, points[to]!, points[i]!);
      if (off > farthest) [farthest, at] = [off, i];
    }
    if (at < 0) continue;
    stays[at] = true;
    open.push([from, at], [at, to]);
  }
  return stays;
}

export function thinLine(points: readonly PointMm[], toleranceMm: number): PointMm[] {
  const stays = kept(points, toleranceMm);
  return points.filter((_, i) => stays[i]);
}

/** A closed outline, cut at its two outermost corners, so that both stay. */
export function thinOutline(points: readonly PointMm[], toleranceMm: number): PointMm[] {
  const along = (p: PointMm): number => p.xMm + p.yMm * 1e-3;
  const outermost = (sign: 1 | -1): number =>
    points.reduce((best, p, i) => (sign * along(p) > sign * along(points[best]!) ? i : best), 0);
  const [start, far] = [outermost(-1), outermost(1)];
  if (start === far) return [...points];
  const turned = [...points.slice(start), ...points.slice(0, start)];
  const split = (far - start + points.length) % points.length;
  return [
    ...thinLine(turned.slice(0, split + 1), toleranceMm).slice(0, -1),
    ...thinLine([...turned.slice(split), turned[0]!], toleranceMm).slice(0, -1),
  ];
}
