// Reads what the tests need from a drawing, without knowing how it was made: groups by id, closed paths of straight lines, texts.
import type { PointMm } from '../../src/panel/index.ts';

/** The text inside a group, or undefined if the drawing has none of that id. */
export const groupText = (svg: string, id: string): string | undefined =>
  new RegExp(`<g id="${id}"[^>]*>([^]*?)</g>`).exec(svg)?.[1];

/** The attributes of a group's opening tag. */
export const groupTag = (svg: string, id: string): string =>
  new RegExp(`<g id="${id}"([^>]*)>`).exec(svg)?.[1] ?? '';

/** Corners of every closed path of a group, by the path's id, or its number where it has none. */
export function pathsOf(svg: string, group: string): Map<string, PointMm[]> {
  const paths = [...(groupText(svg, group) ?? '').matchAll(/<path(?: id="([^"]*)")? d="([^"]*)"\/>/g)];
  return new Map(
    paths.map(([, id, d], index) => {
      if (!/^M[^MLZ]+(L[^MLZ]+)+Z$/.test(d!)) throw new Error(`not a closed path of lines: ${d}`);
      const points = [...d!.matchAll(/[ML](\S+) ([^LZ]+)/g)];
      return [id ?? String(index), points.map(([, x, y]) => ({ xMm: Number(x), yMm: Number(y) }))];
    }),
  );
}

/** Distance of a point from each side of a convex outline, mm; above 0 inside. */
export function depthsInside(outline: readonly PointMm[], point: PointMm): number[] {
  const area = outline.reduce((sum, a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    return sum + a.xMm * b.yMm - b.xMm * a.yMm;
  }, 0);
  return outline.map((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    const cross = (b.xMm - a.xMm) * (point.yMm - a.yMm) - (b.yMm - a.yMm) * (point.xMm - a.xMm);
    return (Math.sign(area) * cross) / Math.hypot(b.xMm - a.xMm, b.yMm - a.yMm);
  });
}
