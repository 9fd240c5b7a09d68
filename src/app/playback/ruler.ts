// Where a time ruler has its marks. No drawing here.

/** Steps that read well, ms. */
const stepsMs = [100, 200, 500, 1000, 2000, 5000, 10_000, 30_000, 60_000, 300_000, 600_000];
const mostMarks = 13;

/** The narrowest that the ruler gets, at a window of 1366 px; and what a figure takes at 11 px, with the room beside it. */
const narrowestPx = 760;
const digitPx = 6.6;
const figurePaddingPx = 8;

/** Figures stand on the right of their mark, that of the last at the very end on its left: the one before shares its room. */
function lastTwoOverlap(marks: readonly number[], lengthMs: number): boolean {
  const [before, last] = marks.slice(-2);
  if (before === undefined || before === 0 || last !== lengthMs) return false;
  const widthPx = (ms: number) => String(ms / 1000).length * digitPx + figurePaddingPx;
  return (narrowestPx * (last - before)) / lengthMs < widthPx(before) + widthPx(last);
}

/** Marks from 0 up to the length, in the finest step that keeps them apart; without the last but one where its figure would meet the last. */
export function rulerMarks(lengthMs: number): number[] {
  const step = stepsMs.find((ms) => lengthMs / ms <= mostMarks) ?? stepsMs.at(-1)!;
  const marks = Array.from({ length: Math.floor(lengthMs / step) + 1 }, (_, i) => i * step);
  return lastTwoOverlap(marks, lengthMs) ? marks.toSpliced(-2, 1) : marks;
}

/** Closer marks, for a part of a show. */
const fineStepsMs = [1, 2, 5, 10, 20, 50, ...stepsMs];
const apartPx = 74;

/** Marks of the part from one moment to another in the finest step that keeps them apart at this scale. */
export function rulerMarksBetween(fromMs: number, toMs: number, pxPerMs: number): number[] {
  const step = fineStepsMs.find((ms) => ms * pxPerMs >= apartPx) ?? fineStepsMs.at(-1)!;
  const first = Math.ceil(Math.max(0, fromMs) / step);
  const last = Math.floor(toMs / step);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step);
}
