// What a dragged run clings to: the panel's and the opening's edges and middles, guides, the grid, keep-outs' middles, and the LEDs and ends of
// other runs, so that rows line up and pitches fall under each other. Pure; the tolerance comes from the zoom.
import { pitchMm } from '../catalogue/index.ts';
import type { Project } from '../project/index.ts';
import type { Layout, PlacedRun } from './layout.ts';
import type { PointMm } from './plane.ts';
import { stripById } from './strips.ts';

/** Places along one axis, in rising order, mm. */
export interface SnapLines {
  /** Guides, the grid, edges and middles: meant as lines, so clung to from farther away. */
  readonly linesMm: readonly number[];
  /** LEDs and cut edges of other runs, to which LEDs and cut edges cling. */
  readonly ledsMm: readonly number[];
  readonly endsMm: readonly number[];
}
export interface SnapTargets {
  readonly x: SnapLines;
  readonly y: SnapLines;
}

/** Distance of the grid's columns, mm. */
export function gridColumnMm(project: Pick<Project, 'panel' | 'strips'>): number | undefined {
  const { grid } = project.panel;
  if (!grid) return undefined;
  if (grid.strip === undefined) return grid.rowMm;
  return pitchMm(stripById(project, grid.strip)) * (grid.everyLeds ?? 1);
}

/** All lines of a grid over a length, from its origin both ways; none where they would lie closer than a millimetre. */
export function gridLines(originMm: number, stepMm: number, lengthMm: number): number[] {
  if (stepMm < 1) return [];
  const first = originMm - Math.floor(originMm / stepMm) * stepMm;
  return Array.from({ length: Math.floor((lengthMm - first) / stepMm) + 1 }, (_, i) => first + i * stepMm);
}

const rising = (values: readonly number[]): number[] => [...new Set(values)].sort((a, b) => a - b);

/** What of a run clings: its first and last LED, and both cut edges. */
export const snapPoints = ({
  leds,
  dinEnd,
  doutEnd,
}: PlacedRun): { readonly leds: readonly PointMm[]; readonly ends: readonly PointMm[] } => ({
  leds: [leds[0]!, leds.at(-1)!],
  ends: [dinEnd, doutEnd],
});

/** Everything that runs can cling to, but for the moving ones themselves. */
export function snapTargets(project: Project, layout: Layout, moving: ReadonlySet<string>): SnapTargets {
  const { widthMm, heightMm, opening, guides = [], keepOuts = [], grid } = project.panel;
  const others = layout.runs.filter(({ run }) => !moving.has(run.id));
  const middles = keepOuts.map(({ shape }) =>
    shape.kind === 'circle'
      ? shape.centre
      : { xMm: shape.xMm + shape.widthMm / 2, yMm: shape.yMm + shape.heightMm / 2 },
  );
  const edges = (at: number, length: number): number[] => [at, at + length / 2, at + length];
  const linesAlong = (key: keyof PointMm, axis: 'x' | 'y', both: readonly number[]): SnapLines => {
    const shared = [
      ...both,
      ...guides.filter((guide) => guide.axis === axis).map(({ atMm }) => atMm),
      ...middles.map((middle) => middle[key]),
    ];
    return {
      linesMm: rising(shared),
      ledsMm: rising(others.flatMap(({ leds }) => leds.map((led) => led[key]))),
      endsMm: rising(others.flatMap(({ dinEnd, doutEnd }) => [dinEnd[key], doutEnd[key]])),
    };
  };
  const columnMm = gridColumnMm(project);
  return {
    x: linesAlong('xMm', 'x', [
      ...edges(0, widthMm),
      ...(opening ? edges(opening.xMm, opening.widthMm) : []),
      ...(grid && columnMm ? gridLines(grid.origin.xMm, columnMm, widthMm) : []),
    ]),
    y: linesAlong('yMm', 'y', [
      ...edges(0, heightMm),
      ...(opening ? edges(opening.yMm, opening.heightMm) : []),
      ...(grid ? gridLines(grid.origin.yMm, grid.rowMm, heightMm) : []),
    ]),
  };
}

/** The value of a rising list that is nearest; undefined in an empty one. */
export function nearestOf(rising: readonly number[], value: number): number | undefined {
  let low = 0;
  let high = rising.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rising[middle]! < value) low = middle + 1;
    else high = middle;
  }
  const [below, above] = [rising[low - 1], rising[low]];
  if (below === undefined || above === undefined) return below ?? above;
  return value - below <= above - value ? below : above;
}

export interface Snap {
  /** What is still to be added to the way, mm. */
  readonly byMm: number;
  /** Where the line lies that it clings to. */
  readonly atMm: number;
}

/** The smaller of two corrections, if any. */
export const nearerSnap = (a: Snap | undefined, b: Snap | undefined): Snap | undefined =>
  a && b ? (Math.abs(b.byMm) < Math.abs(a.byMm) ? b : a) : (a ?? b);

/** The least correction that brings one of the places onto a target within the tolerance; undefined where none is near enough. */
export function snapOf(
  places: readonly number[],
  targets: readonly number[],
  toleranceMm: number,
): Snap | undefined {
  let best: Snap | undefined;
  for (const place of places) {
    const target = nearestOf(targets, place);
    if (target === undefined || Math.abs(target - place) > toleranceMm) continue;
    if (!best || Math.abs(target - place) < Math.abs(best.byMm))
      best = { byMm: target - place, atMm: target };
  }
  return best;
}
