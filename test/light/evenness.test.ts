// Evenness along a row against the exact series of a long row on its axis: E / mean = 1 + 2 sum (1 + k u) e^(-k u) cos(2 pi k x / p),
// u = 2 pi z / p (derived from the formula in diffuser.ts; the row column of the published-form table: min/max 0.4814, 0.8141, 0.9470).
import { describe, expect, test } from 'vitest';
import { evenness } from '../../src/light/evenness.ts';

/** Far more LEDs than the middle can see, so that the ends don't count. */
const row = Array.from({ length: 401 }, (_, led) => ({ xMm: (led - 200) * 10, yMm: 0 }));
const middle = Array.from({ length: 41 }, (_, step) => ({ xMm: step * 0.5, yMm: 0 }));

function leastByMean(gapByPitch: number): number {
  const u = 2 * Math.PI * gapByPitch;
  let least = 1;
  for (let k = 1; k < 60; k++) least += 2 * (1 + k * u) * Math.exp(-k * u) * Math.cos(Math.PI * k);
  return least;
}

describe('evenness along a row', () => {
  test.each([0.5, 0.75, 1])('a long row at gap / pitch %d is as even as the series says', (gapByPitch) => {
    expect(evenness(row, middle.slice(0, 40), 10 * gapByPitch)).toBeCloseTo(leastByMean(gapByPitch), 3);
  });

  test('one LED alone seen at its own place is even', () => {
    expect(evenness([{ xMm: 5, yMm: 5 }], [{ xMm: 5, yMm: 5 }], 20)).toBe(1);
  });

  test('no place has no evenness', () => {
    expect(evenness(row, [], 20)).toBe(0);
  });
});
