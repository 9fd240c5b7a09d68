// Ring boards and strips laid otherwise, in the drawings and lists. Worked out by hand: a ring of 30 mm with a 10 mm board and 0.3 mm beside it lies
// between circles of 24.7 and 35.3 mm.
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import type { Project, Run } from '../../src/project/index.ts';
import { backingSvg, channels, cutList } from '../../src/workshop/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const ring = (radiusMm: number): Run => ({
  id: 'ring',
  firstLed: { xMm: 100 + radiusMm, yMm: 80 },
  arrowDeg: 90,
  ledCount: 12,
  strip: 'ws2812b-60',
  ring: { radiusMm },
});
const withRing = (radiusMm: number): Project =>
  projectOf({
    runs: [...rowsOfStrip(30).map((run) => ({ ...run, firstLed: { xMm: 20, yMm: 200 } })), ring(radiusMm)],
  });
const radii = (points: readonly { xMm: number; yMm: number }[]) =>
  points.map(({ xMm, yMm }) => Math.hypot(xMm - 100, yMm - 80));

describe('[WRK8] ring boards', () => {
  test('lie in a round groove; a small one in a round pocket', () => {
    const groove = channels(layOut(withRing(30)))[1]!;
    // The polygon is drawn around the circle: never less, and less than a twentieth of a millimetre more.
    for (const radius of radii(groove.corners)) {
      expect(radius).toBeGreaterThanOrEqual(35.3 - 1e-9);
      expect(radius).toBeLessThan(35.35);
    }
    for (const radius of radii(groove.island!)) {
      expect(radius).toBeGreaterThanOrEqual(24.7 - 1e-9);
      expect(radius).toBeLessThan(24.75);
    }
    const pocket = channels(layOut(withRing(11)))[1]!;
    expect(pocket.island).toBeUndefined();
    expect(pocket.widthMm).toBeCloseTo(2 * 16.3, 9);
  });
  test('are drawn with their island, and cut from no reel', () => {
    const project = withRing(30);
    const path = /<path id="channel-ring" d="([^"]+)"/.exec(backingSvg(project, layOut(project)))![1]!;
    expect(path.match(/M/g)).toHaveLength(2);
    const { pieces, totals } = cutList(project, layOut(project));
    expect(pieces.map(({ run }) => run)).toEqual(['row-0']);
    expect(totals.map(({ ledCount }) => ledCount)).toEqual([30]);
  });
});

test('[WRK9] a strip laid the other way round lies in the same channel; another reel is told in the cut list', () => {
  const plan = projectOf({ runs: rowsOfStrip(60) });
  const built: Project = {
    ...plan,
    asBuilt: { runs: [{ run: 'row-1', laidReversed: true, strip: 'ws2813-60' }], swaps: [] },
  };
  expect(channels(layOut(built))).toEqual(channels(layOut(plan)));
  expect(cutList(built, layOut(built)).pieces.map(({ strip }) => strip)).toEqual(['ws2812b-60', 'ws2813-60']);
});
