// Flash thresholds against the rules as published, each vector on both sides of its limit; rates; the area that may flash; and a slow, plain counting
// of random light that the analysis never falls short of.
// Sources: WCAG 2.2, success criterion 2.3.1 with its definitions "general flash and red flash thresholds" and "relative luminance"; WCAG 2.0 for the
// older wording of the red rule; ITU-R BT.1702 as articles tell it. Geometry is worked out here.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FlashCounter } from '../../src/light/flash-counter.ts';
import { largestField } from '../../src/light/flash-field.ts';
import {
  chromaticityRule,
  colourOf,
  fieldRadiusMm,
  isGeneralChange,
  luminanceOf,
  mostAreaMm2,
  rednessRule,
} from '../../src/light/flash-rules.ts';
import type { LightGrid } from '../../src/light/index.ts';
import { seedOf } from '../support/seed.ts';

type Rgb = readonly [number, number, number];
const grey = (value: number): Rgb => [value, value, value];

/** Whether one place that shows these lights, `frameMs` apart, is ever told to flash too often. */
function tells(lights: readonly Rgb[], frameMs: number): { general: boolean; red: boolean } {
  const counter = new FlashCounter(1, frameMs);
  const told = { general: false, red: false };
  for (const light of lights) {
    const { hasGeneral, hasRed } = counter.add(Float32Array.from(light));
    told.general ||= hasGeneral;
    told.red ||= hasRed;
  }
  return told;
}

/** Half of each period the one light, half the other, sampled at each frame's beginning. */
const square = (hertz: number, a: Rgb, b: Rgb, frameMs: number, lastsMs = 3000): Rgb[] =>
  Array.from({ length: Math.ceil(lastsMs / frameMs) }, (_, i) =>
    ((i * frameMs * hertz) / 1000) % 1 < 0.5 ? a : b,
  );

describe('a change of luminance', () => {
  test('weights of relative luminance', () => {
    expect(luminanceOf(1, 0, 0)).toBe(0.2126);
    expect(luminanceOf(0, 1, 0)).toBe(0.7152);
    expect(luminanceOf(0, 0, 1)).toBe(0.0722);
    expect(luminanceOf(1, 1, 1)).toBeCloseTo(1, 12);
  });

  // A tenth of the maximum or more, the darker state below 0.80 (WCAG).
  test.each([
    [0, 0.1, true],
    [0, 0.09, false],
    [0.79, 0.9, true],
    [0.8, 0.95, false],
    [0.7999, 0.9, true],
    [0.3, 0.4, true],
    [0.3, 0.3999, false],
    // In front of crowded LEDs, where it is brighter than the mean white, the brighter state is the white that 0.80 is a share of.
    [1, 2.2, true],
    [1.77, 2.2, false],
  ])('%d and %d: %s', (dark, bright, counts) => {
    expect(isGeneralChange(dark, bright)).toBe(counts);
    expect(isGeneralChange(bright, dark)).toBe(counts);
    // At four a second, what counts is told, and nothing else.
    expect(tells(square(4, grey(dark), grey(bright), 20), 20).general).toBe(counts);
  });

  test('a slow rise of many tenths is one change, not many', () => {
    const ramp = Array.from({ length: 50 }, (_, i) => grey(i / 50));
    expect(tells([...ramp, ...ramp.toReversed()], 20).general).toBe(false);
  });
});

describe('rates', () => {
  const frameTimes = [5, 12, 16, 20, 23, 25, 33];
  test.each(frameTimes)('three flashes a second pass, four do not, at %d ms a frame', (frameMs) => {
    expect(tells(square(3, grey(0), grey(1), frameMs), frameMs).general).toBe(false);
    expect(tells(square(4, grey(0), grey(1), frameMs), frameMs).general).toBe(true);
    expect(tells(square(3, [0, 0, 0], [1, 0, 0], frameMs), frameMs).red).toBe(false);
    expect(tells(square(4, [0, 0, 0], [1, 0, 0], frameMs), frameMs).red).toBe(true);
  });

  test('four flashes within one second and then none are told; four over more than a second are not', () => {
    const burst = (gapFrames: number): Rgb[] =>
      Array.from({ length: 8 }, (_, i) =>
        Array.from({ length: gapFrames }, () => grey(i % 2 === 0 ? 1 : 0)),
      ).flat();
    const dark = Array.from({ length: 60 }, () => grey(0));
    // Eight changes: the first and the last lie seven gaps apart. 7 x 7 x 20 ms = 0.98 s, 7 x 8 x 20 ms = 1.12 s.
    expect(tells([...dark, ...burst(7), ...dark], 20).general).toBe(true);
    expect(tells([...dark, ...burst(8), ...dark], 20).general).toBe(false);
  });
});

describe('red', () => {
  const rule = (name: 'old' | 'new') => (name === 'old' ? rednessRule : chromaticityRule);
  const state = (light: Rgb) => colourOf(...light);

  // Places of the colours in u', v' (CIE 1976, sRGB primaries, D65): worked out from the primaries' published x, y.
  test.each([
    ['red', [1, 0, 0], 0.4507, 0.5229],
    ['green', [0, 1, 0], 0.125, 0.5625],
    ['blue', [0, 0, 1], 0.1754, 0.1579],
    ['white', [1, 1, 1], 0.1978, 0.4683],
  ] as const)('%s lies where the primaries put it', (_, light, u, v) => {
    expect(state(light).u).toBeCloseTo(u, 4);
    expect(state(light).v).toBeCloseTo(v, 4);
  });

  // Old wording: (R - G - B) x 320 changes by more than 20, one state being saturated red; so 0.0625 of red from black is exactly not enough.
  // New wording: more than 0.2 apart. White is 0.2587 from red, green 0.3281, blue 0.4572; linear amber (1, 0.2, 0) only 0.1262.
  test.each([
    ['old', [1, 0, 0], [0, 0, 0], true],
    ['old', [0.0625, 0, 0], [0, 0, 0], false],
    ['old', [0.0626, 0, 0], [0, 0, 0], true],
    ['old', [0.8, 0.1, 0.1], [0.8, 0.1, 0.1], false],
    ['old', [0.79, 0.105, 0.105], [0, 0, 0], false],
    ['new', [1, 0, 0], [1, 1, 1], true],
    ['new', [1, 0, 0], [0, 1, 0], true],
    ['new', [1, 0, 0], [0, 0, 1], true],
    ['new', [1, 0, 0], [1, 0.2, 0], false],
    ['new', [0.7, 0.2, 0.1], [0, 0, 1], false],
    ['new', [1, 0, 0], [0, 0, 0], true],
    ['new', [0.06, 0, 0], [0, 0, 0], false],
  ] as const)('%s wording, %j and %j: %s', (wording, a, b, counts) => {
    expect(rule(wording)(state(a), state(b)) !== 0).toBe(counts);
    expect(rule(wording)(state(b), state(a)) !== 0).toBe(counts);
  });

  test('a red share of exactly 0.8 is saturated, less is not', () => {
    expect(colourOf(0.8, 0.1, 0.1).isRed).toBe(true);
    expect(colourOf(0.799, 0.1, 0.101).isRed).toBe(false);
    expect(colourOf(0, 0, 0).isRed).toBe(false);
  });

  test('red that swells and fades in one sweep is no flash, however many steps it takes', () => {
    const swell = Array.from({ length: 25 }, (_, i): Rgb => [i / 25, 0, 0]);
    expect(tells([...swell, ...swell.toReversed()], 20).red).toBe(false);
  });

  test('red and white in turn are told by the new wording though luminance hardly changes', () => {
    // As bright as red: 0.2126 of white.
    const white = grey(0.2126);
    expect(tells(square(4, [1, 0, 0], white, 20), 20)).toEqual({ general: false, red: true });
    expect(tells(square(3, [1, 0, 0], white, 20), 20)).toEqual({ general: false, red: false });
    expect(tells(square(4, [0, 1, 0], white, 20), 20).red).toBe(false);
  });
});

describe('the area that may flash', () => {
  test('ten degrees and 0.006 sr at one metre', () => {
    // tan 5 degrees = 0.087489: a disc 175 mm wide; 0.006 x 1 m2 = 60 cm2, a square of 77.5 mm.
    expect(2 * fieldRadiusMm(1000)).toBeCloseTo(174.98, 2);
    expect(mostAreaMm2(1000)).toBeCloseTo(6000, 9);
    expect(Math.sqrt(mostAreaMm2(1000))).toBeCloseTo(77.46, 2);
    expect(mostAreaMm2(600)).toBeCloseTo(2160, 9);
  });

  const gridOfCells = (columns: number, rows: number, cellMm: number): LightGrid => ({
    leftMm: 0,
    topMm: 0,
    columns,
    rows,
    cellWidthMm: cellMm,
    cellHeightMm: cellMm,
  });

  test('what lies together counts together, what lies more than a field apart does not', () => {
    const grid = gridOfCells(60, 40, 10);
    const block = (x: number, y: number, side: number, cells: Uint8Array) => {
      for (let row = y; row < y + side; row++)
        for (let column = x; column < x + side; column++) cells[row * 60 + column] = 1;
      return cells;
    };
    // A square of 5 x 5 cells is 25 cm2, one of 8 x 8 is 64 cm2.
    expect(largestField(grid, block(10, 10, 5, new Uint8Array(2400)), 1000).areaMm2).toBe(2500);
    expect(largestField(grid, block(10, 10, 8, new Uint8Array(2400)), 1000).areaMm2).toBe(6400);
    const near = block(18, 10, 5, block(10, 10, 5, new Uint8Array(2400)));
    expect(largestField(grid, near, 1000).areaMm2).toBe(5000);
    const far = block(45, 10, 5, block(10, 10, 5, new Uint8Array(2400)));
    expect(largestField(grid, far, 1000).areaMm2).toBe(2500);
    const { xMm, yMm } = largestField(grid, far, 1000);
    expect(Math.hypot(xMm - 125, yMm - 125)).toBeLessThan(fieldRadiusMm(1000) + 20);
  });

  test('no field, wherever its middle is, holds more than is told', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 300, maxLength: 300, max: 1 }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 150, noNaN: true }),
        fc.integer({ min: 200, max: 1500 }),
        (flashing, xMm, yMm, distanceMm) => {
          const grid = gridOfCells(20, 15, 10);
          let inside = 0;
          for (const [cell, is] of flashing.entries()) {
            const away = Math.hypot(((cell % 20) + 0.5) * 10 - xMm, (Math.floor(cell / 20) + 0.5) * 10 - yMm);
            if (is && away <= fieldRadiusMm(distanceMm)) inside += 100;
          }
          expect(largestField(grid, flashing, distanceMm).areaMm2).toBeGreaterThanOrEqual(inside);
        },
      ),
      { seed: seedOf(61), numRuns: 300 },
    );
  });
});

// ---- the slow, plain counting ----

/** The longest chain of opposing changes among these states: for each end the best of all beginnings. */
function longestChain(count: number, turn: (from: number, to: number) => number): number {
  /** By state and direction of the chain's last change: how many changes it has. */
  const best = Array.from({ length: count }, () => new Map<number, number>());
  let most = 0;
  for (let to = 0; to < count; to++)
    for (let from = 0; from < to; from++) {
      const direction = turn(from, to);
      if (direction === 0) continue;
      // The chain before may end at any state up to the one where this change begins.
      let before = 0;
      for (let end = 0; end <= from; end++) before = Math.max(before, best[end]!.get(-direction) ?? 0);
      const changes = before + 1;
      best[to]!.set(direction, Math.max(best[to]!.get(direction) ?? 0, changes));
      most = Math.max(most, changes);
    }
  return most;
}

/** Straight from the rules: the most opposing changes that any second, half open, holds among its own frames. */
function plainly(lights: readonly Rgb[], frameMs: number): { general: number; red: number } {
  const most = { general: 0, red: 0 };
  const framesASecond = Math.ceil(1000 / frameMs);
  for (let first = 0; first < lights.length; first++) {
    const second = lights.slice(first, first + framesASecond);
    const luminance = second.map(([r, g, b]) => 0.2126 * r + 0.7152 * g + 0.0722 * b);
    const states = second.map((light) => colourOf(...light));
    most.general = Math.max(
      most.general,
      longestChain(second.length, (from, to) =>
        isGeneralChange(luminance[from]!, luminance[to]!) ? Math.sign(luminance[to]! - luminance[from]!) : 0,
      ),
    );
    for (const red of [rednessRule, chromaticityRule])
      most.red = Math.max(
        most.red,
        longestChain(second.length, (from, to) => red(states[from]!, states[to]!)),
      );
  }
  return most;
}

describe('random light', () => {
  // Levels of which several differ by about a tenth, colours of which some are saturated red; each is held for one to six frames of 40 ms, so that
  // rates lie on both sides of three a second.
  const level = fc.oneof(
    fc.constantFrom<Rgb>(
      [0, 0, 0],
      [1, 0, 0],
      [1, 1, 1],
      [0.2, 0.04, 0],
      [0.9, 0.1, 0.1],
      [1, 0.3, 0],
      [0, 0.5, 0],
    ),
    fc.integer({ min: 0, max: 20 }).map((n) => grey(n / 20)),
    fc
      .array(fc.integer({ min: 0, max: 10 }), { minLength: 3, maxLength: 3 })
      .map(([r, g, b]): Rgb => [r! / 10, g! / 10, b! / 10]),
  );
  const series = fc
    .array(fc.tuple(level, fc.integer({ min: 1, max: 6 })), { minLength: 8, maxLength: 22 })
    .map((parts) => parts.flatMap(([light, frames]) => Array.from({ length: frames }, () => light)));
  let flashing = 0;
  let calm = 0;

  test('the analysis never says less than counting plainly', () => {
    fc.assert(
      fc.property(series, (lights) => {
        const told = tells(lights, 40);
        const plain = plainly(lights, 40);
        for (const kind of ['general', 'red'] as const) {
          if (plain[kind] >= 8) expect(told[kind]).toBe(true);
          // Nor much more: a change that began just before the second may be counted in it.
          if (told[kind]) expect(plain[kind]).toBeGreaterThanOrEqual(7);
        }
        if (Math.max(plain.general, plain.red) >= 8) flashing++;
        else calm++;
      }),
      { seed: seedOf(62), numRuns: 400 },
    );
    // Both kinds came up.
    expect(Math.min(flashing, calm)).toBeGreaterThan(20);
  });
});
