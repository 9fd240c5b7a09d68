// What dragged runs cling to. Places are worked out by hand; a 60 per m strip has a pitch of 16.667 mm.
import { describe, expect, test } from 'vitest';
import {
  gridColumnMm,
  gridLines,
  layOut,
  nearestOf,
  snapOf,
  snapPoints,
  snapTargets,
} from '../../src/panel/index.ts';
import type { Project, Run } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

const run = (id: string, xMm: number, yMm: number): Run => ({
  id,
  firstLed: { xMm, yMm },
  arrowDeg: 0,
  ledCount: 7,
  strip: 'ws2812b-60',
});
const panel: Project['panel'] = {
  widthMm: 600,
  heightMm: 300,
  airGapMm: 20,
  sheet: 'opal-pmma',
  opening: { xMm: 10, yMm: 20, widthMm: 580, heightMm: 260 },
  guides: [
    { axis: 'x', atMm: 123 },
    { axis: 'y', atMm: 77 },
  ],
  keepOuts: [
    { id: 'screw', purpose: 'screw', shape: { kind: 'circle', centre: { xMm: 15, yMm: 16 }, diameterMm: 4 } },
  ],
};
const project = projectOf({ runs: [run('a', 100, 50), run('b', 140, 90)], panel });

describe('[SNAP]', () => {
  test('edges, middles, guides, keep-outs, and other runs’ LEDs and ends', () => {
    const { x: across, y: down } = snapTargets(project, layOut(project), new Set(['b']));
    const near = (list: readonly number[], value: number) => list.some((one) => Math.abs(one - value) < 1e-9);
    for (const x of [0, 300, 600, 10, 590, 123, 15]) expect(near(across.linesMm, x), String(x)).toBe(true);
    for (const y of [0, 150, 300, 20, 280, 77, 16]) expect(near(down.linesMm, y), String(y)).toBe(true);
    // LEDs to LEDs, cut edges to cut edges.
    for (const x of [100, 200, 100 + 4000 / 60])
      expect([near(across.ledsMm, x), near(across.endsMm, x)], String(x)).toEqual([true, false]);
    for (const x of [100 - 1000 / 120, 200 + 1000 / 120])
      expect([near(across.ledsMm, x), near(across.endsMm, x)], String(x)).toEqual([false, true]);
    expect(near(down.ledsMm, 50)).toBe(true);
    // Not to itself.
    expect(near(across.ledsMm, 140)).toBe(false);
    expect(near(down.ledsMm, 90)).toBe(false);
    expect(across.ledsMm).toEqual([...across.ledsMm].sort((a, b) => a - b));
  });
  test('the grid, its columns tied to a strip’s pitch', () => {
    const gridded: Project = {
      ...project,
      panel: {
        ...panel,
        grid: { origin: { xMm: 5, yMm: 10 }, rowMm: 40, strip: 'ws2812b-60', everyLeds: 3 },
      },
    };
    expect(gridColumnMm(gridded)).toBeCloseTo(50, 12);
    expect(gridLines(5, 50, 600)).toEqual(Array.from({ length: 12 }, (_, i) => 5 + 50 * i));
    expect(gridLines(105, 50, 200)).toEqual([5, 55, 105, 155]);
    expect(gridColumnMm(project)).toBeUndefined();
  });
  test('the nearest of a rising list', () => {
    expect(nearestOf([], 3)).toBeUndefined();
    expect([-5, 0, 4.9, 5.1, 99].map((value) => nearestOf([0, 10, 20], value))).toEqual([0, 0, 0, 10, 20]);
  });
  test('the least correction within the tolerance', () => {
    expect(snapOf([9, 31], [10, 30.5], 2)).toEqual({ byMm: -0.5, atMm: 30.5 });
    expect(snapOf([9], [10], 0.99)).toBeUndefined();
    expect(snapOf([9], [10], 1)).toEqual({ byMm: 1, atMm: 10 });
  });
  test('a run clings with its first and last LED and its cut edges', () => {
    const { leds, ends } = snapPoints(layOut(project).runs[0]!);
    const rounded = (points: typeof leds) => points.map(({ xMm }) => Math.round(xMm * 1000) / 1000);
    expect([rounded(leds), rounded(ends)]).toEqual([
      [100, 200],
      [91.667, 208.333],
    ]);
  });
});
