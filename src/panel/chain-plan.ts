// Planning a chain: the order of runs, and which of them to turn round, that takes least jumper wire. Up to 16 runs the answer is exact; beyond, a short
// chain is looked for and then proved least, or bounded from below. No clock and no chance: the same task always gives the same plan.
// Not here: writing a plan into a project (chain-edits.ts).
import {
  type ChainStep,
  type ChainTask,
  chainCosts,
  chainLengthMm,
  type Entries,
  stepsOf,
} from './chain-costs.ts';
import { leastChain, mostExactRuns } from './chain-exact.ts';
import { type Effort, proveChain } from './chain-proof.ts';
import { shortChain } from './chain-search.ts';

export type { ChainRun, ChainStep, ChainTask } from './chain-costs.ts';

export interface ChainPlan {
  readonly order: readonly ChainStep[];
  /** Wire of all jumpers, and from the board's end where one is given. */
  readonly lengthMm: number;
  /** No chain is shorter. */
  readonly boundMm: number;
  /** Proved least: exactly up to 16 runs, to a thousandth of a millimetre beyond. Otherwise the best that was found. */
  readonly proved: boolean;
}

/** Work by the number of runs: rows up to so many. Measured (npm run bench -- plan) so that 40 runs stay well under 2 s and 255 take a few. */
const efforts: readonly (Effort & { readonly upToRuns: number; readonly exchanges: number })[] = [
  { upToRuns: 24, exchanges: 1500, firstTrees: 300, caseTrees: 40, cases: 1200 },
  { upToRuns: 40, exchanges: 4000, firstTrees: 400, caseTrees: 40, cases: 500 },
  { upToRuns: 80, exchanges: 12_000, firstTrees: 600, caseTrees: 40, cases: 200 },
  { upToRuns: Number.POSITIVE_INFINITY, exchanges: 12_000, firstTrees: 700, caseTrees: 30, cases: 0 },
];

/** Plans a chain through all runs of the task. Runs that may not turn are passed from DIN to DOUT. */
export function planChain(task: ChainTask): ChainPlan {
  const count = task.runs.length;
  if (count === 0) return { order: [], lengthMm: 0, boundMm: 0, proved: true };
  if (task.first !== undefined && !task.runs[task.first])
    throw new Error(`no run ${task.first} to begin with`);
  const costs = chainCosts(task);
  const plan = (entries: Entries): ChainPlan => {
    const lengthMm = chainLengthMm(costs, entries);
    return { order: stepsOf(entries), lengthMm, boundMm: lengthMm, proved: true };
  };
  if (count <= mostExactRuns) return plan(leastChain(costs));
  const effort = efforts.find(({ upToRuns }) => count <= upToRuns)!;
  const { entries, boundMm, proved } = proveChain(costs, shortChain(costs, effort.exchanges), effort);
  return { ...plan(entries), boundMm, proved };
}

/** A short chain at once, without a bound: for proposals that are drawn anew with every change. */
export function quickChain(task: ChainTask): ChainStep[] {
  if (task.runs.length === 0) return [];
  return stepsOf(shortChain(chainCosts(task), 0));
}
