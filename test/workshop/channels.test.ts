// Channels: corners worked out by hand, from 60 LEDs per m (16.6667 mm apart), 10 mm of strip, 0.3 mm beside and 0.5 mm beyond it.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layOut, type PointMm } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { channels, numberedRuns, overlaps, panelOutline, rectangle } from '../../src/workshop/index.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';
import { wiredProject } from '../support/wired-project.ts';
import { depthsInside } from './svg-reader.ts';

const oneRun = (arrowDeg: number): Project =>
  projectOf({
    runs: [{ id: 'one', firstLed: { xMm: 100, yMm: 100 }, arrowDeg, ledCount: 3, strip: 'ws2812b-60' }],
  });

const channelOf = (project: Project, run: string) =>
  channels(layOut(project)).find((one) => one.run === run)!;

function expectCorners(
  found: readonly PointMm[],
  wanted: readonly (readonly [x: number, y: number])[],
): void {
  expect(found).toHaveLength(wanted.length);
  for (const [i, [x, y]] of wanted.entries()) {
    expect(found[i]!.xMm).toBeCloseTo(x, 4);
    expect(found[i]!.yMm).toBeCloseTo(y, 4);
  }
}

describe('[WRK1] channels', () => {
  test('three LEDs take 50 mm of strip: 51 mm of channel, 10.6 mm wide, 3 mm deep', () => {
    const { lengthMm, widthMm, depthMm } = channelOf(oneRun(0), 'one');
    expect([lengthMm, widthMm, depthMm]).toEqual([51, 10.6, 3]);
  });

  // Half a pitch and 0.5 mm before the first LED: 100 - 8.3333 - 0.5; half the width above and below: 100 -/+ 5.3.
  test('a run to the right begins half a pitch and half a millimetre before its first LED', () => {
    expectCorners(channelOf(oneRun(0), 'one').corners, [
      [91.166667, 94.7],
      [142.166667, 94.7],
      [142.166667, 105.3],
      [91.166667, 105.3],
    ]);
  });

  test('a run upwards has its left side on the left', () => {
    expectCorners(channelOf(oneRun(90), 'one').corners, [
      [94.7, 108.833333],
      [94.7, 57.833333],
      [105.3, 57.833333],
      [105.3, 108.833333],
    ]);
  });

  // Arrow (cos 30, -sin 30) = (0.8660254, -0.5). Ends on the middle line: 8.8333 behind and 42.1667 before the first LED.
  // (92.350109, 104.416667) and (136.517405, 78.916667); half a width to the left is (-2.65, -4.589935).
  test('a run at 30 degrees has its channel turned with it', () => {
    expectCorners(channelOf(oneRun(30), 'one').corners, [
      [89.700109, 99.826732],
      [133.867405, 74.326732],
      [139.167405, 83.506602],
      [95.000109, 109.006602],
    ]);
  });

  // From the file: first LED (560, 82), downwards, 12 LEDs. 82 - 8.8333 and 82 + 11 x 16.6667 + 8.8333.
  test("the carnival's right tower lies where its file says", () => {
    expectCorners(channelOf(sample('midnight-carnival'), 'tower-1').corners, [
      [565.3, 73.166667],
      [565.3, 274.166667],
      [554.7, 274.166667],
      [554.7, 73.166667],
    ]);
  });

  test('every LED lies in its channel, half a width from the sides and half a pitch or more from the ends', () => {
    fc.assert(
      fc.property(wiredProject, (project) => {
        const layout = layOut(project);
        const all = channels(layout);
        expect(all.map((one) => one.run).sort()).toEqual(project.runs.map((run) => run.id).sort());
        for (const { run, corners } of all)
          for (const led of layout.runs.find((one) => one.run.id === run)!.leds) {
            const [left, dout, right, din] = depthsInside(corners, led) as [number, number, number, number];
            // Strips of 10 mm and 60 LEDs per m, all of them.
            expect(left).toBeCloseTo(5.3, 6);
            expect(right).toBeCloseTo(5.3, 6);
            expect(Math.min(dout, din)).toBeGreaterThan(8.8333);
          }
      }),
      { seed: 31, numRuns: 60 },
    );
  });

  test('the panel is cut along its own edge', () => {
    expectCorners(panelOutline(sample('midnight-carnival')), [
      [0, 0],
      [600, 0],
      [600, 300],
      [0, 300],
    ]);
  });
});

describe('[WRK2] numbers', () => {
  test('follow the wire, line after line, and end with runs outside every chain', () => {
    const run = (id: string) => ({
      id,
      firstLed: { xMm: 9, yMm: 9 },
      arrowDeg: 0,
      ledCount: 2,
      strip: 'ws2812b-60',
    });
    const layout = layOut(
      projectOf({
        runs: ['a', 'b', 'c', 'd'].map(run),
        dataLines: [{ chain: [{ run: 'd' }, { run: 'b' }] }, { chain: [{ run: 'c' }] }],
      }),
    );
    expect(numberedRuns(layout).map(({ number, line, placed }) => [number, line, placed.run.id])).toEqual([
      [1, 1, 'd'],
      [2, 1, 'b'],
      [3, 2, 'c'],
      [4, null, 'a'],
    ]);
  });
});

describe('[WRK3] overlaps', () => {
  const square = rectangle(0, 0, 10, 10);
  const diamond = (xMm: number, yMm: number, reachMm: number): PointMm[] => [
    { xMm: xMm + reachMm, yMm },
    { xMm, yMm: yMm + reachMm },
    { xMm: xMm - reachMm, yMm },
    { xMm, yMm: yMm - reachMm },
  ];

  // A diamond's edge is the line |x - cx| + |y - cy| = reach; the corner (10, 10) is 3 + 3 from (13, 13).
  test.each([
    ['one inside the other', rectangle(2, 2, 3, 3), true],
    ['crossing like a plus', rectangle(-5, 4, 20, 2), true],
    ['beside', rectangle(10.1, 0, 5, 5), false],
    ['below', rectangle(0, 10.1, 5, 5), false],
    ['a corner inside a diamond', diamond(13, 13, 6.1), true],
    ['a diamond before the corner, though their bounding boxes meet', diamond(13, 13, 5.9), false],
  ])('%s', (_, other, meets) => {
    expect(overlaps(square, other)).toBe(meets);
    expect(overlaps(other, square)).toBe(meets);
    expect(overlaps([...square].reverse(), other)).toBe(meets);
  });
});
