// Proof that a chain is the least, or a shorter one, by cases: one jumper of the lightest tree is taken for certain in one case and ruled out in the
// other, until every case is bounded above the best chain (branch and bound). Where the cases are too many, what is left open still gives a bound.
import { type Case, chainOf, isImpossible, openCase, type Relaxation, relax } from './chain-bound.ts';
import { type ChainCosts, chainLengthMm, type Entries, noWayMm } from './chain-costs.ts';

export interface Proof {
  readonly entries: Entries;
  readonly lengthMm: number;
  /** No chain is shorter, mm. */
  readonly boundMm: number;
  /** The bound is as long as the chain, to a thousandth of a millimetre. */
  readonly proved: boolean;
}

/** Chains that differ by less are equally long: nobody cuts wire to a thousandth of a millimetre. */
const equalMm = 1e-3;
/** More than all sums here are rounded by. */
const roundingMm = 1e-6;

/** What one case decides: a jumper between two ends, taken or ruled out. */
interface Decision {
  readonly a: number;
  readonly b: number;
  readonly taken: boolean;
}
interface OpenCase {
  readonly decisions: readonly Decision[];
  readonly relaxation: Relaxation;
}

/** Which way data passes an end: in, out, or either. */
type Way = 0 | 1 | 2;
const either = 0;
const into = 1;
const outOf = 2;

/** Writes decisions into a copy of the table, with all that follows: an end has one jumper, joined runs close no ring, data passes them one way. */
function caseOf(costs: ChainCosts, decisions: readonly Decision[]): Case {
  const { endCount, runCount } = costs;
  const open = openCase(costs);
  const lengthsMm = open.lengthsMm.slice();
  const { joined } = open;
  const ways = new Uint8Array(endCount) as Uint8Array & Record<number, Way>;
  for (let end = 0; end < endCount; end++)
    if (costs.mayTurn[end >> 1] === 0) ways[end] = end < 2 * runCount === ((end & 1) === 0) ? into : outOf;
  const ruleOut = (a: number, b: number): void => {
    lengthsMm[a * endCount + b] = noWayMm;
    lengthsMm[b * endCount + a] = noWayMm;
  };
  /** The other end of the joined runs that begin with this end. */
  const farEnd = (end: number): number => {
    let far = end ^ 1;
    while (joined[far]! >= 0) far = joined[far]! ^ 1;
    return far;
  };
  let taken = 0;
  for (const { a, b, taken: isTaken } of decisions) {
    if (!isTaken) {
      ruleOut(a, b);
      continue;
    }
    const ends = [farEnd(a), farEnd(b)] as const;
    for (let other = 0; other < endCount; other++) {
      if (other !== b) ruleOut(a, other);
      if (other !== a) ruleOut(b, other);
    }
    joined[a] = b;
    joined[b] = a;
    taken++;
    if (taken < runCount) ruleOut(...ends);
    const way = ways[a] !== either ? ways[a]! : ways[b] === into ? outOf : ways[b] === outOf ? into : either;
    if (way === either) continue;
    // Where data leaves at `a` it has entered at the far end of its runs, and enters at `b`.
    ways[ends[0]] = way === into ? outOf : into;
    ways[ends[1]] = way;
    for (const end of ends)
      for (let other = 0; other < endCount; other++)
        if (other !== end && ways[other] === ways[end] && joined[other]! < 0) ruleOut(end, other);
  }
  return { lengthsMm, joined };
}

/** A jumper to decide next: of the tree's end with most jumpers, the shortest that isn't decided; undefined where all are. */
function undecided(one: Case, endCount: number, { neighbours }: Relaxation): Decision | undefined {
  let best: Decision | undefined;
  let most = 0;
  let leastMm = Number.POSITIVE_INFINITY;
  for (const [a, list] of neighbours.entries())
    for (const b of list) {
      if (one.joined[a] === b) continue;
      const lengthMm = one.lengthsMm[a * endCount + b]!;
      if (list.length > most || (list.length === most && lengthMm < leastMm)) {
        best = { a, b, taken: true };
        most = list.length;
        leastMm = lengthMm;
      }
    }
  return best;
}

/** Takes the open case of the lowest bound out of the list. */
function takeLowest(open: OpenCase[]): OpenCase {
  let lowest = 0;
  for (const [i, one] of open.entries())
    if (one.relaxation.boundMm < open[lowest]!.relaxation.boundMm) lowest = i;
  const [taken] = open.splice(lowest, 1);
  return taken!;
}

/** How much work a proof may be: trees for the first bound and for each case, and cases at most. */
export interface Effort {
  readonly firstTrees: number;
  readonly caseTrees: number;
  readonly cases: number;
}

/** Bounds a chain from below and, as far as the effort goes, proves it least or finds the one that is. */
export function proveChain(costs: ChainCosts, found: Entries, effort: Effort): Proof {
  let entries = found;
  let lengthMm = chainLengthMm(costs, found);
  const consider = (one: Relaxation): void => {
    const chain = chainOf(costs, one.neighbours);
    if (!chain) return;
    const chainMm = chainLengthMm(costs, chain);
    if (chainMm < lengthMm) [entries, lengthMm] = [chain, chainMm];
  };
  const first = relax(costs, openCase(costs), lengthMm, new Float64Array(costs.endCount), effort.firstTrees);
  consider(first);
  const open: OpenCase[] = [{ decisions: [], relaxation: first }];
  /** Lowest bound of all cases that were closed. */
  let closedMm = Number.POSITIVE_INFINITY;
  for (let cases = 0; cases < effort.cases && open.length > 0; ) {
    const { decisions, relaxation } = takeLowest(open);
    const isDone = relaxation.boundMm >= lengthMm - equalMm;
    // Where all jumpers are decided the tree is a chain, and has been considered.
    const decision = isDone ? undefined : undecided(caseOf(costs, decisions), costs.endCount, relaxation);
    if (!decision) {
      closedMm = Math.min(closedMm, relaxation.boundMm);
      continue;
    }
    for (const taken of [true, false]) {
      cases++;
      const next = [...decisions, { ...decision, taken }];
      const bounded = relax(costs, caseOf(costs, next), lengthMm, relaxation.prices, effort.caseTrees);
      if (isImpossible(bounded.boundMm)) continue;
      // A case is part of the one it came from, whose bound holds for it too.
      bounded.boundMm = Math.max(bounded.boundMm, relaxation.boundMm);
      consider(bounded);
      open.push({ decisions: next, relaxation: bounded });
    }
  }
  const leastMm = open.reduce((least, one) => Math.min(least, one.relaxation.boundMm), closedMm);
  const boundMm = Math.max(0, Math.min(leastMm, lengthMm) - roundingMm);
  return { entries, lengthMm, boundMm, proved: boundMm >= lengthMm - equalMm - roundingMm };
}
