// The ripple of endless grids and rows against the published series' tables, against plain sums, and the advice on both sides of its limit.
import { describe, expect, test } from 'vitest';
import { strips } from '../../src/catalogue/index.ts';
import { gapFor, pitchFor, ripple, rowsFor } from '../../src/light/index.ts';

const within = (share: number, found: number, expected: number): void => {
  // Table values have four digits.
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(share * expected + 0.00005);
};

describe('ripple', () => {
  // Source: E / mean of an endless square grid as a Fourier series with coefficients u K1(u), u = 2 pi z / pitch: min/max, min/mean, Michelson.
  test.each([
    [0.5, 0.4394, 0.71, 0.3894],
    [0.6, 0.6181, 0.8159, 0.236],
    [0.75, 0.8115, 0.9127, 0.1041],
    [0.8, 0.8545, 0.9328, 0.0785],
    [0.9, 0.9152, 0.9607, 0.0443],
    [1, 0.9516, 0.9774, 0.0248],
    [1.25, 0.9887, 0.9946, 0.0057],
    [1.5, 0.9974, 0.9987, 0.0013],
  ])('of a square grid at %d gaps a pitch', (gaps, minByMax, minByMean, michelson) => {
    const found = ripple(20, 20, 20 * gaps);
    within(0.01, found.minByMax, minByMax);
    within(0.01, found.minByMean, minByMean);
    within(0.01, found.michelson, michelson);
  });

  // Source: the same for a long row on its axis with (1 + u) e^-u.
  test.each([
    [0.5, 0.4814, 0.3501],
    [0.6, 0.6417, 0.2183],
    [0.75, 0.8141, 0.1025],
    [0.8, 0.8535, 0.079],
    [1, 0.947, 0.0272],
    [1.25, 0.9863, 0.0069],
    [1.5, 0.9966, 0.0017],
  ])('of a row at %d gaps a pitch', (gaps, minByMax, michelson) => {
    const found = ripple(16, undefined, 16 * gaps);
    within(0.01, found.minByMax, minByMax);
    within(0.01, found.michelson, michelson);
    // The series itself: 1 + 2 sum (1 + k u) e^(-k u) cos(pi k).
    let least = 1;
    for (let k = 1; k < 60; k++) {
      const u = 2 * Math.PI * gaps * k;
      least += 2 * (1 + u) * Math.exp(-u) * (-1) ** k;
    }
    expect(found.minByMean).toBeCloseTo(least, 9);
  });

  test('of 60 a metre in rows: the rows govern', () => {
    // Source: the same series by axis, added: 0.0124 at rows 50 mm apart and a gap of 50 mm, 0.0223 at 33.3 and 30 mm.
    const pitch = 1000 / 60;
    within(0.01, ripple(pitch, 50, 50).michelson, 0.0124);
    within(0.01, ripple(pitch, 33.3, 30).michelson, 0.0223);
    // Along the rows alone there is none.
    within(0.01, ripple(pitch, undefined, 50).michelson, 0);
  });

  test.each([
    [10, 40, 12],
    [30, 30, 6],
    [16.7, 100, 25],
    [40, 12, 30],
  ])('of a grid of %d x %d mm at %d mm is that of a plain sum, and nowhere darker', (along, across, gap) => {
    // Rows and columns as far as 3 m, the rest as an even sheet: its share is z^2 / (R^2 + z^2).
    const reachMm = 3000;
    const lightAt = (x: number, y: number): number => {
      let sum = 0;
      for (let row = Math.ceil(-reachMm / across); row <= reachMm / across; row++) {
        const down = row * across - y;
        const half = Math.sqrt(Math.max(0, reachMm * reachMm - down * down));
        for (let column = Math.ceil(-half / along); column <= half / along; column++)
          sum += 1 / ((column * along - x) ** 2 + down ** 2 + gap ** 2) ** 2;
      }
      return (sum * gap ** 2 * along * across) / Math.PI + gap ** 2 / (reachMm ** 2 + gap ** 2);
    };
    const found = ripple(along, across, gap);
    const least = lightAt(along / 2, across / 2);
    expect(found.minByMean).toBeCloseTo(least, 4);
    expect(found.minByMax / (least / lightAt(0, 0))).toBeCloseTo(1, 4);
    for (const [x, y] of [
      [0, 0.5],
      [0.5, 0],
      [0.25, 0.5],
      [0.5, 0.25],
      [0.1, 0.9],
    ] as const) {
      const light = lightAt(x * along, y * across);
      expect(light).toBeGreaterThan(least - 1e-6);
      expect(light).toBeLessThan(lightAt(0, 0) + 1e-6);
    }
  });
});

describe('advice', () => {
  test.each([
    [0.9, 20, 20],
    [0.9, 1000 / 60, 33.3],
    [0.97, 1000 / 30, undefined],
    [0.5, 10, 80],
  ])(
    'the least gap for %d at %d x %s mm: at it the light is even enough, just below not',
    (target, along, across) => {
      const gap = gapFor(target, along, across)!;
      expect(ripple(along, across, gap).minByMean).toBeGreaterThanOrEqual(target);
      expect(ripple(along, across, gap - 0.02).minByMean).toBeLessThan(target);
    },
  );

  test('a square grid reaches 0.9 between 0.6 and 0.75 pitches of gap, as the table says', () => {
    const gap = gapFor(0.9, 20, 20)!;
    expect(gap).toBeGreaterThan(12);
    expect(gap).toBeLessThan(15);
  });

  test('no gap that can be built makes rows 3 m apart even', () => {
    expect(gapFor(0.99, 10, 3000)).toBeUndefined();
  });

  const sixty = strips.find(({ id }) => id === 'ws2812b-60')!;
  const thirty = strips.find(({ id }) => id === 'ws2812b-30')!;

  test('the widest rows: at them the light is even enough, just beyond not', () => {
    for (const [target, gap] of [
      [0.9, 30],
      [0.95, 50],
    ] as const) {
      const rows = rowsFor(target, gap, sixty)!;
      expect(ripple(1000 / 60, rows, gap).minByMean).toBeGreaterThanOrEqual(target);
      expect(ripple(1000 / 60, rows + 0.02, gap).minByMean).toBeLessThan(target);
    }
  });

  test('a gap too small for the pitch has no row spacing', () => {
    // At 0.5 gaps a pitch a row's own ripple leaves less than 0.9: 30 a metre are 33.3 mm.
    expect(rowsFor(0.9, 33.3 * 0.4, thirty)).toBeUndefined();
    expect(rowsFor(0.9, 33.3 * 0.4, sixty)).toBeGreaterThan(10);
  });

  test('the sparsest strip that reaches the target at the rows’ spacing', () => {
    // Rows 33.3 mm apart at 33.3 mm of gap: 30 a metre make a square grid at 1.0, which is 0.9774.
    expect(pitchFor(0.97, 33.333, strips, 33.333).sparsest?.ledsPerMetre).toBe(30);
    // Half the gap: 30 a metre is 0.71 at 0.5; even endlessly dense rows stay below 0.9, so none.
    expect(pitchFor(0.9, 16.667, strips, 33.333).sparsest).toBeUndefined();
    // A single row at 0.5 gaps of 30 a metre fails, at 1.0 of 60 a metre it holds.
    expect(pitchFor(0.9, 16.667, strips).sparsest?.ledsPerMetre).toBe(60);
    expect(pitchFor(0.9, 16.667, strips).rows.map(({ strip }) => strip.id)).toEqual(
      strips.filter((strip) => rowsFor(0.9, 16.667, strip) !== undefined).map(({ id }) => id),
    );
  });
});
