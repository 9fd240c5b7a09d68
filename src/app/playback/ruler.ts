// Where a time ruler has its marks. No drawing here.

/** Steps that read well, ms. */
const stepsMs = [100, 200, 500, 1000, 2000, 5000, 10_000, 30_000, 60_000, 300_000, 600_000];
const mostMarks = 13;

/** Marks from 0 up to the length, in the finest step that keeps them apart. */
export function rulerMarks(lengthMs: number): number[] {
  const step = stepsMs.find((ms) => lengthMs / ms <= mostMarks) ?? stepsMs.at(-1)!;
  return Array.from({ length: Math.floor(lengthMs / step) + 1 }, (_, i) => i * step);
}
