// What a drawing may hold, and why; and how a drawing that holds more, or can't be read, is told.
import type { Problem } from '../../project/index.ts';

export const drawingLimits = {
  /** As large as a whole project may be; a drawing of a panel's channels has some 100 KB. */
  bytes: 20 * 1024 * 1024,
  /** Elements or entities, each copy by reference counted: a panel's drawing with its artwork has some thousands. */
  elements: 100_000,
  /** Groups within groups; drawing programs nest a dozen deep. */
  depth: 100,
  /** Copies of copies. Writers nest two or three deep; a copy of itself would never end. */
  copyDepth: 8,
  /** Corners after curves are flattened: 24 MB in memory. */
  points: 500_000,
  /** One curve may become so many lines: a full circle of 100 m at a thousandth of a mm has 22,000. */
  pointsPerCurve: 30_000,
  /** The largest panel is 3 m; drawings with something far off are still read. */
  coordinateMm: 100_000,
  /** Degree of a spline; drawing programs write 3. */
  degree: 11,
  /** Corners of one outline before it is thinned; a slot with rounded ends has some 200. */
  outlinePoints: 5000,
} as const;

/** Flattened curves stay this near to the true ones, mm: where a rounded end narrows, an error across counts three times along. */
export const chordErrorMm = 0.001;

/** Outlines with too many corners may be thinned by this much: drawings are rounded to a hundredth of a mm, too. */
export const thinnedToMm = 0.01;

/** Ends nearer than this touch: a line's end and an arc's, each rounded to a thousandth of an inch, lie up to 0.04 mm apart. */
export const touchMm = 0.05;

/** A drawing that can't be read: thrown in this folder only, and turned into a Result where the folder is entered. */
export class UnreadableDrawing extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.code);
    this.problem = problem;
  }
}

export function unreadable(code: string, at: string, expected: string, found: string, mend: string): never {
  throw new UnreadableDrawing({ code, at, expected, found, mend });
}

export const tooMuch = (at: string, limit: number, what: string): never =>
  unreadable(
    'drawing-too-large',
    at,
    `at most ${limit} ${what}`,
    'more',
    'Save a drawing that holds little besides the channels.',
  );
