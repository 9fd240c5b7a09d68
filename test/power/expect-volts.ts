// Two ways to compare a figure: with a formula, to rounding; with a printed table, to its last digit.
import { expect } from 'vitest';

/** Equal to 1e-9, absolute below 1 and relative above. */
export function expectClose(actual: number, expected: number, what = ''): void {
  const error = Math.abs(actual - expected) / Math.max(1, Math.abs(expected));
  expect(error, `${what} expected ${expected}, found ${actual}`).toBeLessThanOrEqual(1e-9);
}

/** Rounds to the text as it stands in the table, digit by digit. */
export function expectPrinted(actual: number, printed: string): void {
  expect(actual.toFixed(printed.split('.')[1]?.length ?? 0)).toBe(printed);
}
