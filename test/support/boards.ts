// Boards of placed runs as tests compare them: made smaller by less than anyone sees, so that two that touch to the last digit don't overlap.
import {
  between,
  distanceMm,
  outline,
  overlaps,
  type PlacedRun,
  type PointMm,
} from '../../src/panel/index.ts';

/** Corners of a run's board, each a ten-thousandth of a millimetre nearer to its middle. */
export function shrunkBoard(placed: PlacedRun): PointMm[] {
  const board = outline(placed);
  const middle = between(board[0]!, board[2]!, 0.5);
  return board.map((corner) => between(corner, middle, 1e-4 / distanceMm(corner, middle)));
}

/** Pairs of straight runs whose boards overlap by more than touching. */
export const overlappingPairs = (runs: readonly PlacedRun[]): [string, string][] =>
  runs.flatMap((a, i) =>
    runs
      .slice(i + 1)
      .filter((b) => overlaps(shrunkBoard(a), shrunkBoard(b)))
      .map((b): [string, string] => [a.run.id, b.run.id]),
  );
