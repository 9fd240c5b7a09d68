// The light model against its closed forms: one LED, the ripple of an endless square grid, and all of an LED's flux.
import { describe, expect, it } from 'vitest';
import { gridOver, lightMap, lightWeights, meanWhiteLight, reachMm } from '../../src/light/index.ts';
import type { PointMm } from '../../src/panel/index.ts';

const white = (leds: number) => new Float32Array(leds * 3).fill(1);

describe('one LED', () => {
  // Source: Lambertian LED over a parallel plane, E = (flux / pi) z^2 / (r^2 + z^2)^2; written out anew here.
  const airGapMm = 28;
  const led = { xMm: 33.3, yMm: 41.7 };
  const grid = gridOver({ xMm: 10, yMm: 5, widthMm: 120, heightMm: 60 }, 4);
  const map = lightMap(lightWeights([led], grid, airGapMm), new Float32Array([1, 0.25, 0]));

  it('lights fifty places within 1 % of the formula, each channel by its own flux', () => {
    for (let place = 0; place < 50; place++) {
      const cell = place * 9;
      const xMm = 10 + ((cell % 30) + 0.5) * 4;
      const yMm = 5 + (Math.floor(cell / 30) + 0.5) * 4;
      const r2 = (xMm - 33.3) ** 2 + (yMm - 41.7) ** 2;
      const expected = (1 / Math.PI) * (28 ** 2 / (r2 + 28 ** 2) ** 2);
      expect(Math.abs(map[cell * 3]! / expected - 1)).toBeLessThan(0.01);
      expect(Math.abs(map[cell * 3 + 1]! / (expected / 4) - 1)).toBeLessThan(0.01);
      expect(map[cell * 3 + 2]).toBe(0);
    }
  });

  it.each([
    // Source: from the same formula, E(r = z) / E(0) = 0.25, E(r = z / 2) / E(0) = 0.64, half at r = 0.6436 z.
    { shareOfPeak: 0.25, perGap: 1 },
    { shareOfPeak: 0.64, perGap: 0.5 },
    { shareOfPeak: 0.5, perGap: 0.6436 },
  ])('falls to $shareOfPeak of its peak at $perGap air gaps', ({ shareOfPeak, perGap }) => {
    expect(reachMm(shareOfPeak, 20)).toBeCloseTo(20 * perGap, 3);
  });
});

describe('all of an LED’s flux', () => {
  // Source: the formula's integral over a disc of radius R is R^2 / (R^2 + z^2), which tends to 1.
  it.each([5, 10, 20])('falls on the disc of %i air gaps as the integral says', (radius) => {
    const airGapMm = 10;
    const radiusMm = radius * airGapMm;
    const grid = gridOver(
      { xMm: -radiusMm, yMm: -radiusMm, widthMm: 2 * radiusMm, heightMm: 2 * radiusMm },
      1,
    );
    const map = lightMap(lightWeights([{ xMm: 0.3, yMm: -0.2 }], grid, airGapMm), white(1));
    let sum = 0;
    for (let cell = 0; cell < map.length / 3; cell++) {
      const xMm = (cell % grid.columns) + 0.5 - radiusMm;
      const yMm = Math.floor(cell / grid.columns) + 0.5 - radiusMm;
      if (xMm ** 2 + yMm ** 2 <= radiusMm ** 2) sum += map[cell * 3]!;
    }
    expect(sum).toBeCloseTo(radius ** 2 / (radius ** 2 + 1), 3);
  });

  it('averages to the flux per area where the rectangle takes nearly all of it', () => {
    const square = { xMm: 0, yMm: 0, widthMm: 2000, heightMm: 2000 };
    // 1 unit over 4 m2; a square of 50 air gaps to each side misses less than 1 / 2501 of it (disc inside the square).
    expect(Math.abs(meanWhiteLight([{ xMm: 1000, yMm: 1000 }], square, 20) * 4e6 - 1)).toBeLessThan(1e-3);
  });

  // Source: the formula itself, added up over cells of a hundredth of the air gap (midpoints; their error runs with the cell squared).
  it.each([
    { where: 'above', xMm: 3, yMm: 4 },
    { where: 'beside', xMm: -6, yMm: 5 },
    { where: 'beyond a corner of', xMm: 31, yMm: -12 },
  ])('averages over a rectangle $where which the LED stands as the formula adds up', ({ xMm, yMm }) => {
    const rectangle = { xMm: 1, yMm: 2, widthMm: 20, heightMm: 12 };
    let sum = 0;
    for (let row = 0; row < 120; row++)
      for (let column = 0; column < 200; column++) {
        const r2 = (1 + (column + 0.5) / 10 - xMm) ** 2 + (2 + (row + 0.5) / 10 - yMm) ** 2;
        sum += 10 ** 2 / (Math.PI * (r2 + 10 ** 2) ** 2);
      }
    expect(meanWhiteLight([{ xMm, yMm }], rectangle, 10) / (sum / (120 * 200))).toBeCloseTo(1, 4);
  });
});

describe('a large square grid', () => {
  // Source: E / mean of an endless grid as a Fourier series with coefficients u K1(u), u = 2 pi z / p; min / max from it.
  it.each([
    { gapPerPitch: 0.5, minPerMax: 0.4394 },
    { gapPerPitch: 0.75, minPerMax: 0.8115 },
    { gapPerPitch: 1, minPerMax: 0.9516 },
  ])('at $gapPerPitch gaps a pitch has its darkest place at $minPerMax of its brightest', (row) => {
    const pitchMm = 20;
    const side = 121;
    const leds = Array.from({ length: side * side }, (_, i) => ({
      xMm: ((i % side) - (side - 1) / 2) * pitchMm,
      yMm: (Math.floor(i / side) - (side - 1) / 2) * pitchMm,
    }));
    // Four cells whose centres are on an LED, between two, and in the middle of four.
    const grid = gridOver(
      { xMm: -pitchMm / 4, yMm: -pitchMm / 4, widthMm: pitchMm, heightMm: pitchMm },
      pitchMm / 2,
    );
    const map = lightMap(lightWeights(leds, grid, row.gapPerPitch * pitchMm), white(leds.length));
    expect(Math.abs(map[9]! / map[0]! / row.minPerMax - 1)).toBeLessThan(0.01);
  });
});

describe('leaving out faint light', () => {
  const leds = Array.from({ length: 60 }, (_, i) => ({
    xMm: 20 + (i % 12) * 40,
    yMm: 30 + 50 * Math.floor(i / 12),
  }));
  const grid = gridOver({ xMm: 0, yMm: 0, widthMm: 480, heightMm: 260 }, 5);
  const exact = lightMap(lightWeights(leds, grid, 12), white(leds.length));
  const fast = lightWeights(leds, grid, 12, 1 / 1000);

  it('never adds light, and loses at most a thousandth of a peak for each LED', () => {
    const map = lightMap(fast, white(leds.length));
    // Peak of one LED: 1 / (pi z^2), the formula at r = 0.
    const mostLost = leds.length / 1000 / (Math.PI * 12 ** 2);
    for (const [index, light] of map.entries()) {
      expect(light).toBeLessThanOrEqual(exact[index]! * (1 + 1e-6));
      expect(exact[index]! - light).toBeLessThanOrEqual(mostLost);
    }
  });

  it('reaches as far as an LED’s light is above that share of its peak, and no further', () => {
    // (z^2 / (r^2 + z^2))^2 = 1 / 1000 at r = z sqrt(sqrt(1000) - 1) = 66.4 mm, between the 66th and the 67th cell of 1 mm.
    const row = gridOver({ xMm: -0.5, yMm: -0.5, widthMm: 100, heightMm: 1 }, 1);
    const map = lightMap(lightWeights([{ xMm: 0, yMm: 0 }], row, 12, 1 / 1000), white(1));
    const lit = Array.from({ length: 100 }, (_, cell) => map[cell * 3]! > 0);
    expect(lit.lastIndexOf(true)).toBe(66);
    expect(lit.indexOf(false)).toBe(67);
  });

  it('keeps fewer weights', () => {
    const kept = fast.leds.reduce((sum, { weight }) => sum + weight.length, 0);
    expect(kept).toBeLessThan((grid.columns * grid.rows * leds.length) / 4);
  });
});

describe('weights taken over after an edit', () => {
  const grid = gridOver({ xMm: 0, yMm: 0, widthMm: 300, heightMm: 120 }, 4);
  const runs = [0, 1, 2].map((run) =>
    Array.from({ length: 8 }, (_, led) => ({ xMm: 20.3 + led * 33, yMm: 25 + run * 35 })),
  );
  const before = lightWeights(runs.flat(), grid, 12, 1 / 1000, 1.5);
  const [first, second, third] = runs as [PointMm[], PointMm[], PointMm[]];
  const moved = [...first, ...second.map(({ xMm, yMm }) => ({ xMm: xMm + 2.5, yMm: yMm - 7 })), ...third];
  // Every LED another colour; some with one channel, some dark.
  const flux = Float32Array.from({ length: 3 * 24 }, (_, i) => Math.max(0, ((i * 31) % 17) - 8) / 8);

  it('give the map that weights made anew give', () => {
    const after = lightWeights(moved, grid, 12, 1 / 1000, 1.5, before);
    const anew = lightWeights(moved, grid, 12, 1 / 1000, 1.5);
    expect(lightMap(after, flux)).toEqual(lightMap(anew, flux));
    expect(lightMap(after, flux)).not.toEqual(lightMap(before, flux));
  });

  it('are the very same for LEDs that stayed, and new for those that moved', () => {
    const after = lightWeights(moved, grid, 12, 1 / 1000, 1.5, before);
    for (const [index, led] of after.leds.entries()) {
      const stayed = index < 8 || index >= 16;
      expect(before.leds.includes(led)).toBe(stayed);
      if (stayed) expect(led).toBe(before.leds[index]);
    }
  });

  it('follow their places where numbers on the wire change', () => {
    const after = lightWeights([...third, ...first], grid, 12, 1 / 1000, 1.5, before);
    expect(after.leds).toHaveLength(16);
    for (const [index, led] of after.leds.entries()) expect(led).toBe(before.leds[(index + 16) % 24]);
  });

  it.each([
    { what: 'air gap', cellMm: 4, airGapMm: 12.5, ignoredShare: 1 / 1000, spreadMm: 1.5 },
    { what: 'grid', cellMm: 4.1, airGapMm: 12, ignoredShare: 1 / 1000, spreadMm: 1.5 },
    { what: 'share left out', cellMm: 4, airGapMm: 12, ignoredShare: 1 / 500, spreadMm: 1.5 },
    { what: 'sheet', cellMm: 4, airGapMm: 12, ignoredShare: 1 / 1000, spreadMm: 1 },
  ])('are all new with another $what', ({ cellMm, airGapMm, ignoredShare, spreadMm }) => {
    const other = gridOver({ xMm: 0, yMm: 0, widthMm: 300, heightMm: 120 }, cellMm);
    const after = lightWeights(runs.flat(), other, airGapMm, ignoredShare, spreadMm, before);
    expect(after.leds.some((led) => before.leds.includes(led))).toBe(false);
    const anew = lightWeights(runs.flat(), other, airGapMm, ignoredShare, spreadMm);
    expect(lightMap(after, flux)).toEqual(lightMap(anew, flux));
  });
});

describe('dark channels', () => {
  const grid = gridOver({ xMm: 0, yMm: 0, widthMm: 60, heightMm: 40 }, 4);
  const weights = lightWeights([{ xMm: 21, yMm: 17 }], grid, 10);
  const alone = [0, 1, 2].map((channel) =>
    lightMap(
      weights,
      Float32Array.from({ length: 3 }, (_, i) => (i === channel ? 0.5 : 0)),
    ),
  );

  it.each(
    [0, 1, 2, 3, 4, 5, 6, 7].map((bits) => ({ lit: [0, 1, 2].filter((channel) => (bits >> channel) & 1) })),
  )('get nothing, and lit ones what they get alone: $lit', ({ lit }) => {
    const map = lightMap(
      weights,
      Float32Array.from({ length: 3 }, (_, i) => (lit.includes(i) ? 0.5 : 0)),
    );
    for (const [i, light] of map.entries()) expect(light).toBe(lit.includes(i % 3) ? alone[i % 3]![i] : 0);
    expect(map.some((light) => light > 0)).toBe(lit.length > 0);
  });
});

describe('the grid', () => {
  it('fills its rectangle exactly with cells near the wished size', () => {
    const grid = gridOver({ xMm: 10, yMm: 10, widthMm: 581, heightMm: 279 }, 4);
    expect(grid).toMatchObject({ columns: 145, rows: 70, leftMm: 10, topMm: 10 });
    expect(grid.columns * grid.cellWidthMm).toBeCloseTo(581, 9);
    expect(grid.rows * grid.cellHeightMm).toBeCloseTo(279, 9);
  });
});
