// Parts of the sheet as half planes: where an LED's light is cut off, and the lit part behind a window. Everything that stands upright on the
// backing and ends at one height casts a shadow with straight edges from a point of light, so a few half planes say it exactly.
// Not here: which walls there are and which ways light takes (light-ways.ts).
import type { PointMm } from '../panel/index.ts';

/**
 * A convex part of the plane: three numbers for each half plane, its unit normal (x, y) and the least n . p in mm that lies inside. No
 * half plane at all is the whole plane.
 */
export type Region = Float64Array;

/** At most so many half planes make a region; a graphics card has room for them. */
export const mostPlanes = 4;

/** How far inside the region a place is, from the nearest edge, in mm; negative outside. */
export function depthIn(region: Region, xMm: number, yMm: number): number {
  let depth = Number.POSITIVE_INFINITY;
  for (let at = 0; at < region.length; at += 3) {
    const own = region[at]! * xMm + region[at + 1]! * yMm - region[at + 2]!;
    if (own < depth) depth = own;
  }
  return depth;
}

/**
 * Share of a cell `softMm` wide around a place that lies in the region: right for a straight edge and for a strip between two, and a little too
 * little in corners.
 */
export function coverOf(region: Region, xMm: number, yMm: number, softMm: number): number {
  const half = softMm / 2;
  let cover = 1;
  for (let at = 0; at < region.length; at += 3) {
    const depth = region[at]! * xMm + region[at + 1]! * yMm - region[at + 2]!;
    if (depth <= -half) return 0;
    if (depth < half) cover -= 0.5 - depth / softMm;
  }
  return Math.max(0, cover);
}

/** Half plane on one side of the line through `from` and `through`: the side where `inside` lies. */
function besideLine(from: PointMm, through: PointMm, inside: PointMm): readonly number[] {
  const x = through.yMm - from.yMm;
  const y = from.xMm - through.xMm;
  const length = Math.hypot(x, y);
  const side = x * (inside.xMm - from.xMm) + y * (inside.yMm - from.yMm) < 0 ? -1 : 1;
  const normal = [(side * x) / length, (side * y) / length] as const;
  return [...normal, normal[0] * from.xMm + normal[1] * from.yMm];
}

/** Nearer to an outline's edge than this, a light stands on it. */
const touchMm = 1e-9;

/**
 * Where an upright block with a convex outline keeps the light of a point away. A ray is kept off if it is still below the block's upper edge where
 * it meets the outline: it has then gone less than 1 / `reach` of its way, so the shadow is the outline's own in the plane, its near edge
 * moved away from the light by the factor `reach`.
 * @param outline in order around it, four corners at most, either way round
 * @param reach the light's way to the sheet over its way to the block's upper edge, in height; 1 where the block reaches the sheet
 * @returns the whole plane where the light stands inside the block
 */
export function shadowOf(light: PointMm, outline: readonly PointMm[], reach: number): Region {
  const count = outline.length;
  const middle = {
    xMm: outline.reduce((sum, { xMm }) => sum + xMm, 0) / count,
    yMm: outline.reduce((sum, { yMm }) => sum + yMm, 0) / count,
  };
  const sides = outline.map((from, i) => besideLine(from, outline[(i + 1) % count]!, middle));
  const seen = sides.map(([x, y, least]) => x! * light.xMm + y! * light.yMm - least! <= touchMm);
  if (!seen.includes(true)) return new Float64Array(0);
  const planes: number[] = [];
  for (const [i, [x, y, least]] of sides.entries()) {
    if (!seen[i]) continue;
    const atLight = x! * light.xMm + y! * light.yMm;
    planes.push(x!, y!, atLight + reach * (least! - atLight));
    // Where a side that is seen meets one that is not, the outline's rim begins.
    const next = (i + 1) % count;
    for (const [corner, beyond] of [
      [outline[i]!, (i + count - 1) % count],
      [outline[next]!, next],
    ] as const)
      if (!seen[beyond] && Math.hypot(corner.xMm - light.xMm, corner.yMm - light.yMm) > touchMm)
        planes.push(...besideLine(light, corner, middle));
  }
  return Float64Array.from(planes);
}

/**
 * The part of the sheet that light reaches through an upright window on its way: from `from` to `to`, as high as `reach` says (see shadowOf).
 * The light must not stand in the window's line.
 */
export function throughWindow(light: PointMm, from: PointMm, to: PointMm, reach: number): Region {
  const middle = { xMm: (from.xMm + to.xMm) / 2, yMm: (from.yMm + to.yMm) / 2 };
  const [x, y, atWindow] = besideLine(from, to, light);
  const atLight = x! * light.xMm + y! * light.yMm;
  const beyond = atLight + reach * (atWindow! - atLight);
  return Float64Array.from([
    ...besideLine(light, from, middle),
    ...besideLine(light, to, middle),
    -x!,
    -y!,
    -beyond,
  ]);
}
