// Lighting marked spots: an LED in reach of each, few runs, spare LEDs between, long gaps split. Counts are worked out by hand at 60 LEDs per m, 16.667 mm apart.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  distanceMm,
  layOut,
  lightSpots,
  lightSpotsEdit,
  outline,
  type PointMm,
  type Spot,
  type SpotsTask,
} from '../../src/panel/index.ts';
import { reachesInto } from '../../src/panel/keep-outs.ts';
import type { KeepOut, Project } from '../../src/project/index.ts';
import { overlappingPairs } from '../support/boards.ts';
import { holdsLaws } from '../support/edit-laws.ts';
import { projectOf } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';

const strip = 'ws2812b-60';
const pitch = 1000 / 60;
const at = (xMm: number, yMm: number): Spot => ({ xMm, yMm });
const empty = (panel: Partial<Project['panel']> = {}, more: Partial<Project> = {}): Project => ({
  ...projectOf({ runs: [] }),
  dataLines: [],
  panel: { widthMm: 600, heightMm: 400, airGapMm: 30, sheet: 'opal-pmma', ...panel },
  ...more,
});
const task = (spots: readonly Spot[], more: Partial<SpotsTask> = {}): SpotsTask => ({
  spots,
  strip,
  direction: 'rows',
  ...more,
});
const laid = (project: Project, one: SpotsTask): Project =>
  holdsLaws(project, 'light spots', lightSpotsEdit(project, one).edit);
/** LED counts with their spare LEDs, by the run's leftmost or topmost LED. */
const shapes = (project: Project, one: SpotsTask): [number, number[]][] =>
  lightSpots(project, one).runs.map((run) => [run.ledCount, run.spareLeds ?? []]);

describe('[SPOT1] spots by hand', () => {
  test('one spot gets one LED, right at it', () => {
    const layout = lightSpots(empty(), task([at(123, 77)]));
    expect(layout.runs).toHaveLength(1);
    expect(layout.runs[0]).toMatchObject({ ledCount: 1, firstLed: { xMm: 123, yMm: 77 } });
    expect(layout).toMatchObject({ ledCount: 1, spareCount: 0, dark: [] });
  });

  test('windows in a row share a run; LEDs between are spare', () => {
    // Two pitches apart each: LEDs 0, 2 and 4 of five.
    expect(shapes(empty(), task([0, 2, 4].map((n) => at(100 + n * pitch, 50))))).toEqual([[5, [1, 3]]]);
  });

  test.each([
    // Five pitches apart: four LEDs between light nothing.
    [4, [[6, [1, 2, 3, 4]]]],
    [
      3,
      [
        [1, []],
        [1, []],
      ],
    ],
  ])('with at most %i spare in a row', (mostSpare, expected) => {
    expect(shapes(empty(), task([at(100, 50), at(100 + 5 * pitch, 50)], { mostSpare }))).toEqual(expected);
  });

  test('spots a little off one line share a run as far as LEDs reach', () => {
    // Half a pitch and 1 mm is 9.33 mm: 9 mm above and 9 mm below one row, three pitches apart.
    const shared = lightSpots(empty(), task([at(100, 100), at(100 + 3 * pitch, 118)]));
    expect(shared.runs).toHaveLength(1);
    expect(shared.runs[0]!.firstLed.yMm).toBeCloseTo(109, 6);
    // 20 mm apart no row reaches both.
    expect(lightSpots(empty(), task([at(100, 100), at(100 + 3 * pitch, 120)])).runs).toHaveLength(2);
  });

  test('a large window is lit by any LED in it, and all LEDs of the run in it stay lit', () => {
    const layout = lightSpots(empty(), task([{ ...at(100, 100), radiusMm: 40 }, at(100 + 6 * pitch, 100)]));
    // The window's edge is 40 mm out: 60 mm before the small spot, so the run may begin there; whatever lies in the window is not spare.
    expect(layout.runs).toHaveLength(1);
    const [run] = layOut(
      laid(empty(), task([{ ...at(100, 100), radiusMm: 40 }, at(100 + 6 * pitch, 100)])),
    ).runs;
    for (const led of run!.leds) {
      const inWindow = distanceMm(led, at(100, 100)) <= 40;
      const atSpot = distanceMm(led, at(100 + 6 * pitch, 100)) <= pitch / 2 + 1;
      expect(led.spare).toBe(!inWindow && !atSpot);
    }
  });

  test('a block of windows takes one run a row', () => {
    const windows = [0, 1, 2].flatMap((row) => [0, 3, 6, 9].map((n) => at(80 + n * pitch, 60 + 45 * row)));
    const layout = lightSpots(empty(), task(windows));
    // Ten LEDs a row, four at windows.
    expect(layout.runs.map((run) => run.ledCount)).toEqual([10, 10, 10]);
    expect(layout).toMatchObject({ ledCount: 30, spareCount: 18, dark: [] });
  });

  test('LEDs in a window count as lit where a run is split', () => {
    // Six pitches are 100 mm; LEDs 0 to 2 lie in the window of 40 mm, so LEDs 3, 4 and 5 light nothing.
    const spots = [{ ...at(100, 100), radiusMm: 40 }, at(100 + 6 * pitch, 100)];
    const one = lightSpots(empty(), task(spots, { mostSpare: 3 }));
    expect(one.runs).toHaveLength(1);
    expect(one.spareCount).toBe(3);
    expect(lightSpots(empty(), task(spots, { mostSpare: 2 })).runs).toHaveLength(2);
  });

  test('two spots too near for two boards: one is lit, the other told', () => {
    // 6 mm apart, boards 10 mm wide, and an LED may be 2 mm off at most.
    const layout = lightSpots(empty(), task([at(100, 100), at(100, 106)], { reachMm: 2 }));
    expect(layout.ledCount).toBe(1);
    expect(layout.dark.map(({ reason }) => reason)).toEqual(['no-room']);
  });

  test('columns lie upright', () => {
    const layout = lightSpots(
      empty(),
      task([at(200, 50), at(200, 50 + 2 * pitch)], { direction: 'columns' }),
    );
    expect(layout.runs.map((run) => [run.ledCount, run.arrowDeg % 180])).toEqual([[3, 90]]);
  });

  test('pieces end at cut marks, the LEDs added are spare', () => {
    const byThree = { ...cutByThree };
    const layout = lightSpots(
      empty({}, { strips: [byThree] }),
      task([at(200, 50), at(200 + 3 * pitch, 50)], { strip: 'by-three' }),
    );
    expect(layout.runs.map((run) => run.ledCount)).toEqual([6]);
    expect(layout.spareCount).toBe(4);
  });

  test('spots that can not be lit are told, with the reason', () => {
    const keepOuts: KeepOut[] = [
      { id: 'speaker', purpose: 'speaker', shape: { kind: 'circle', centre: at(300, 200), diameterMm: 120 } },
    ];
    const layout = lightSpots(
      empty({ keepOuts }),
      task([at(300, 200), at(100, 100), at(-20, 50), at(600, 396), at(600, 0)]),
    );
    expect(layout.dark).toEqual([
      { spot: 0, reason: 'keep-out' },
      { spot: 2, reason: 'off-panel' },
      { spot: 4, reason: 'no-room' },
    ]);
    // An LED stands half a pitch, 8.333 mm, from the right edge at most, and half a board, 5 mm, from the lower one: 8.39 mm from the
    // fourth spot, in reach of 9.333 mm, but 9.72 mm from the corner.
    expect(layout.runs.reduce((sum, run) => sum + run.ledCount, 0)).toBe(2);
  });

  test('a spot that a run lies over already has no room', () => {
    const project = empty(
      {},
      {
        runs: [{ id: 'old', firstLed: at(100, 100), arrowDeg: 0, ledCount: 20, strip }],
        dataLines: [{ pin: 6, chain: [{ run: 'old' }] }],
      },
    );
    expect(lightSpots(project, task([at(200, 100)])).dark).toEqual([{ spot: 0, reason: 'no-room' }]);
    expect(lightSpots(project, task([at(200, 100)], { replace: true })).dark).toEqual([]);
  });
});

const cutByThree: NonNullable<Project['strips']>[number] = {
  id: 'by-three',
  supplyVolts: 12,
  floorVolts: 10,
  ledsPerMetre: 60,
  boardWidthMm: 10,
  colourOrder: 'GRB',
  channelMilliamps: 15,
  quiescentMilliamps: 1,
  currentModel: 'largest',
  railOhmPerMetre: 0.1,
  cutEveryLeds: 3,
};

describe('[SPOT2] any spots', () => {
  const whole = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });
  const anySpot = fc
    .tuple(whole(0, 600), whole(0, 400), fc.option(whole(2, 25), { nil: undefined, freq: 2 }))
    .map(([x, y, radiusMm]): Spot => ({ ...at(x, y), radiusMm }));
  const anyKeepOut = fc
    .tuple(whole(50, 550), whole(50, 350), whole(5, 80))
    .map(([x, y, diameterMm]): KeepOut['shape'] => ({ kind: 'circle', centre: at(x, y), diameterMm }));
  const anyTask = fc.record({
    spots: fc.array(anySpot, { minLength: 1, maxLength: 20 }),
    strip: fc.constantFrom('ws2812b-30', strip, 'by-three'),
    direction: fc.constantFrom('rows', 'columns'),
    mostSpare: whole(0, 6),
    reachMm: fc.option(whole(1, 12), { nil: undefined }),
  });

  test('every spot has a lit LED in reach or is told; boards lie on the panel, clear of keep-outs and of each other; gaps are no longer than allowed', () => {
    let lit = 0;
    let dark = 0;
    fc.assert(
      fc.property(anyTask, fc.array(anyKeepOut, { maxLength: 3 }), (one, shapes) => {
        const keepOuts = shapes.map((shape, i): KeepOut => ({ id: `k-${i}`, purpose: 'other', shape }));
        const project = empty({ keepOuts }, { strips: [cutByThree] });
        const { layout } = lightSpotsEdit(project, one);
        const after = laid(project, one);
        const { runs, plannedLeds } = layOut(after);
        const ledPitch = one.strip === 'ws2812b-30' ? 1000 / 30 : pitch;
        const told = new Set(layout.dark.map(({ spot }) => spot));
        for (const [s, spot] of one.spots.entries()) {
          const reach = Math.max(spot.radiusMm ?? 0, one.reachMm ?? ledPitch / 2 + 1) + 1e-4;
          const isLit = plannedLeds.some(
            (led: PointMm & { spare: boolean }) => !led.spare && distanceMm(led, spot) <= reach,
          );
          expect(isLit || told.has(s)).toBe(true);
          if (told.has(s)) dark++;
          else lit++;
        }
        for (const placed of runs) {
          const board = outline(placed);
          expect(Math.min(...board.flatMap((p) => [p.xMm, p.yMm, 600 - p.xMm, 400 - p.yMm]))).toBeGreaterThan(
            -1e-4,
          );
          for (const keepOut of keepOuts) expect(reachesInto(board, keepOut)).toBe(false);
          if (one.strip === 'by-three') expect(placed.run.ledCount % 3).toBe(0);
          const spares = placed.leds
            .map((led) => (led.spare ? 's' : '.'))
            .join('')
            .split('.')
            .slice(1, -1);
          expect(Math.max(0, ...spares.map((gap) => gap.length))).toBeLessThanOrEqual(one.mostSpare);
        }
        expect(overlappingPairs(runs)).toEqual([]);
        expect(layout.ledCount).toBe(plannedLeds.length);
        expect(layout.spareCount).toBe(plannedLeds.filter((led) => led.spare).length);
      }),
      { seed: seedOf(81), numRuns: 120 },
    );
    expect(lit).toBeGreaterThan(10 * dark);
  });
});
