// What planning a chain counts with: the ends of the runs, and the wire from each to each. Ends are numbered 2 i for DIN and 2 i + 1 for DOUT of run i;
// behind them come the board's end, where the chain begins, and an end that stands for its open finish, reached from anywhere for nothing.
// So a chain is a closed tour, and the end opposite of end e, through its run, is always e ^ 1.
import type { PointMm } from './plane.ts';

export interface ChainRun {
  readonly dinEnd: PointMm;
  readonly doutEnd: PointMm;
  /** Whether the run may be turned round, so that data enters where DOUT was. */
  readonly mayTurn: boolean;
}

export interface ChainTask {
  readonly runs: readonly ChainRun[];
  /** Where the chain comes from; the wire from there to the first run counts then. Undefined: it begins with any run for nothing. */
  readonly start?: PointMm | undefined;
  /** Index of the run that comes first. */
  readonly first?: number | undefined;
  /** Wire between two ends, mm; the same both ways, and at least 0. */
  readonly lengthMm: (from: PointMm, to: PointMm) => number;
}

/** One run of a chain, and which way data passes it. */
export interface ChainStep {
  /** Index in the task's runs. */
  readonly run: number;
  readonly reversed: boolean;
}

export interface ChainCosts {
  readonly runCount: number;
  /** Ends, the board's and the finish included: 2 x runs + 2. */
  readonly endCount: number;
  /** Wire from end to end, mm, row after row; `noWayMm` where no chain can join the two. */
  readonly lengthsMm: Float64Array;
  /** 1 for a run that may be turned round; 0 for the pair of board and finish, behind the last run. */
  readonly mayTurn: Uint8Array;
}

/** Longer than any chain, and short enough to be added up without losing the rest. */
export const noWayMm = 1e10;

export function chainCosts({ runs, start, first, lengthMm }: ChainTask): ChainCosts {
  const runCount = runs.length;
  const endCount = 2 * runCount + 2;
  const board = 2 * runCount;
  const finish = board + 1;
  const lengthsMm = new Float64Array(endCount * endCount).fill(noWayMm);
  const set = (a: number, b: number, mm: number): void => {
    lengthsMm[a * endCount + b] = mm;
    lengthsMm[b * endCount + a] = mm;
  };
  const places = runs.flatMap((run) => [run.dinEnd, run.doutEnd]);
  const isFixed = (end: number): boolean => !runs[end >> 1]!.mayTurn;
  for (let a = 0; a < board; a++) {
    for (let b = a + 1; b < board; b++) {
      // Two runs that may not be turned are joined from DOUT to DIN alone.
      const clash = (a & 1) === (b & 1) && isFixed(a) && isFixed(b);
      if (a >> 1 !== b >> 1 && !clash) set(a, b, lengthMm(places[a]!, places[b]!));
    }
    const isEntry = (a & 1) === 0;
    if ((isEntry || !isFixed(a)) && (first === undefined || first === a >> 1))
      set(board, a, start ? lengthMm(start, places[a]!) : 0);
    if (!isEntry || !isFixed(a)) set(finish, a, 0);
  }
  const mayTurn = new Uint8Array(runCount + 1);
  for (const [i, run] of runs.entries()) mayTurn[i] = run.mayTurn ? 1 : 0;
  return { runCount, endCount, lengthsMm, mayTurn };
}

/** A chain as the ends that data enters: 2 i where run i is passed as drawn, 2 i + 1 where it is turned round. */
export type Entries = Int32Array;

/** Wire of a whole chain, from the board's end on, mm. */
export function chainLengthMm({ runCount, endCount, lengthsMm }: ChainCosts, entries: Entries): number {
  let sum = 0;
  let leaves = 2 * runCount;
  for (const entry of entries) {
    sum += lengthsMm[leaves * endCount + entry]!;
    leaves = entry ^ 1;
  }
  return sum;
}

export const stepsOf = (entries: Entries): ChainStep[] =>
  Array.from(entries, (entry) => ({ run: entry >> 1, reversed: (entry & 1) === 1 }));
