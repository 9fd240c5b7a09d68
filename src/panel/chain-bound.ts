// How short a chain can be at the least: trees instead of chains. A chain joins all runs, so it weighs at least as much as the lightest tree that
// does; prices on ends, raised where a tree joins too much and lowered where it joins nothing, bring the tree close to a chain (Held and Karp, Operations Research 18, 1138, 1970).
// Where the tree is a chain already, it is the least one. chain-proof.ts closes gaps by cases.
import { type ChainCosts, type Entries, noWayMm } from './chain-costs.ts';

/** What has been settled about a chain so far, as one case among others. */
export interface Case {
  /** Wire from end to end, `noWayMm` where this case rules the jumper out. */
  readonly lengthsMm: Float64Array;
  /** The end that each end is joined to in this case, or -1. */
  readonly joined: Int32Array;
}

export interface Relaxation {
  /** No chain of this case is shorter, mm; at least `noWayMm` where there is none. */
  boundMm: number;
  /** Prices of the ends at the best tree. */
  readonly prices: Float64Array;
  /** For every end the ends that the best tree joins it to. */
  neighbours: number[][];
}

/** One lightest tree under given prices. The two ends of a run hang together, and so do ends that are joined already. */
class Tree {
  private readonly endCount: number;
  private readonly board: number;
  private readonly isIn: Uint8Array;
  private readonly nearest: Int32Array;
  private readonly nearestMm: Float64Array;
  private readonly waiting: number[] = [];
  /** How many jumpers the tree gives each end; every end of a chain has one. */
  readonly degrees: Int32Array;
  readonly edges: Int32Array;
  private edgeCount = 0;
  private weightMm = 0;

  constructor({ runCount, endCount }: ChainCosts) {
    this.endCount = endCount;
    this.board = 2 * runCount;
    this.isIn = new Uint8Array(endCount);
    this.nearest = new Int32Array(endCount);
    this.nearestMm = new Float64Array(endCount);
    this.degrees = new Int32Array(endCount);
    this.edges = new Int32Array(endCount);
  }

  private join(a: number, b: number, priced: number): void {
    this.weightMm += priced;
    this.degrees[a]!++;
    this.degrees[b]!++;
    this.edges[this.edgeCount++] = a;
    this.edges[this.edgeCount++] = b;
  }

  /** Takes in an end, and all that hangs on it. */
  private take({ lengthsMm, joined }: Case, prices: Float64Array, end: number): void {
    const finish = this.board + 1;
    this.waiting.push(end);
    for (let next = this.waiting.pop(); next !== undefined; next = this.waiting.pop()) {
      if (this.isIn[next] === 1) continue;
      this.isIn[next] = 1;
      if (next !== this.board && this.isIn[next ^ 1] === 0) this.waiting.push(next ^ 1);
      const partner = joined[next]!;
      const row = next * this.endCount;
      if (partner >= 0 && partner !== finish && this.isIn[partner] === 0) {
        this.join(next, partner, lengthsMm[row + partner]! + prices[next]! + prices[partner]!);
        this.waiting.push(partner);
      }
      const price = prices[next]!;
      for (let other = 0; other < this.board; other++) {
        if (this.isIn[other] === 1) continue;
        const priced = lengthsMm[row + other]! + price + prices[other]!;
        if (priced < this.nearestMm[other]!) {
          this.nearestMm[other] = priced;
          this.nearest[other] = next;
        }
      }
    }
  }

  /** Weight of the lightest tree of the board's end and all runs, with one jumper to the finish, less the prices: a bound. */
  grow(one: Case, prices: Float64Array): number {
    const finish = this.board + 1;
    this.isIn.fill(0);
    this.isIn[finish] = 1;
    this.nearestMm.fill(Number.POSITIVE_INFINITY);
    this.degrees.fill(0);
    this.edgeCount = 0;
    this.weightMm = 0;
    this.take(one, prices, this.board);
    for (;;) {
      let next = -1;
      for (let end = 0; end < this.board; end++)
        if (this.isIn[end] === 0 && (next < 0 || this.nearestMm[end]! < this.nearestMm[next]!)) next = end;
      if (next < 0) break;
      this.join(this.nearest[next]!, next, this.nearestMm[next]!);
      this.take(one, prices, next);
    }
    let last = 0;
    const row = finish * this.endCount;
    const pricedFinish = (end: number): number => one.lengthsMm[row + end]! + prices[end]! + prices[finish]!;
    for (let end = 1; end < this.board; end++) if (pricedFinish(end) < pricedFinish(last)) last = end;
    this.join(last, finish, pricedFinish(last));
    return prices.reduce((sum, price) => sum - price, this.weightMm);
  }

  neighbours(): number[][] {
    const lists: number[][] = Array.from({ length: this.endCount }, () => []);
    for (let i = 0; i < this.edgeCount; i += 2) {
      lists[this.edges[i]!]!.push(this.edges[i + 1]!);
      lists[this.edges[i + 1]!]!.push(this.edges[i]!);
    }
    return lists;
  }
}

/** Where prices stop moving: steps below this share of the first one change nothing that counts. */
const leastStepShare = 1e-3;

/**
 * Bounds one case from below, by so many trees.
 * @param aimMm length of a chain that is known: prices move towards it, and above it the rest of the trees is spared
 * @param prices to begin with; zeros where nothing is known
 */
export function relax(
  costs: ChainCosts,
  one: Case,
  aimMm: number,
  prices: Float64Array,
  trees: number,
): Relaxation {
  const tree = new Tree(costs);
  const now = prices.slice();
  const best: Relaxation = { boundMm: Number.NEGATIVE_INFINITY, prices: now.slice(), neighbours: [] };
  const patience = Math.max(4, Math.ceil(trees / 20));
  let step = 1;
  let since = 0;
  const before = new Float64Array(costs.endCount);
  for (let i = 0; i < trees && step > leastStepShare; i++) {
    const boundMm = tree.grow(one, now);
    if (boundMm > best.boundMm) {
      if (boundMm > best.boundMm + 1e-6 * Math.abs(boundMm)) since = 0;
      best.boundMm = boundMm;
      best.prices.set(now);
      best.neighbours = tree.neighbours();
    } else since++;
    if (boundMm >= aimMm) break;
    let square = 0;
    for (let end = 0; end < costs.endCount; end++) square += (tree.degrees[end]! - 1) ** 2;
    if (square === 0) break;
    if (since > patience) {
      step /= 2;
      since = 0;
    }
    const lengthMm = (step * Math.max(aimMm - boundMm, 1e-6 * aimMm)) / square;
    for (let end = 0; end < costs.endCount; end++) {
      const over = tree.degrees[end]! - 1;
      // Seven parts of where this tree points, three of the one before: prices swing less (Volgenant and Jonker, 1982).
      now[end]! += lengthMm * (0.7 * over + 0.3 * before[end]!);
      before[end] = over;
    }
  }
  return best;
}

/** The chain that a tree is, where every end has one jumper, all runs hang on the board's end, and none is turned that may not be; else undefined. */
export function chainOf(
  { runCount, mayTurn }: ChainCosts,
  neighbours: readonly number[][],
): Entries | undefined {
  const entries = new Int32Array(runCount);
  let end = 2 * runCount;
  for (let place = 0; place < runCount; place++) {
    const joined = neighbours[end]!;
    if (joined.length !== 1) return undefined;
    const entry = joined[0]!;
    if (entry >> 1 >= runCount || ((entry & 1) === 1 && mayTurn[entry >> 1] === 0)) return undefined;
    entries[place] = entry;
    end = entry ^ 1;
  }
  return neighbours[end]!.length === 1 && neighbours[end]![0] === 2 * runCount + 1 ? entries : undefined;
}

export const openCase = ({ lengthsMm, endCount }: ChainCosts): Case => ({
  lengthsMm,
  joined: new Int32Array(endCount).fill(-1),
});

export const isImpossible = (boundMm: number): boolean => boundMm >= noWayMm / 2;
