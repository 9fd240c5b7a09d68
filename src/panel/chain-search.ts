// A short chain, found by looking: the nearest run next, then stretches turned round and moved until nothing gets shorter, then chosen stretches
// exchanged by a seeded series of numbers and all of it again. The same task always gives the same chain. How good it is, chain-bound.ts says.
import { type ChainCosts, chainLengthMm, type Entries } from './chain-costs.ts';

/** A gain below this is rounding. */
const leastGainMm = 1e-7;
/** Stretches of up to so many runs are moved whole; longer ones gain little (common practice, no source). */
const longestMoved = 3;
/** Chains by the nearest run next are begun at up to so many places. */
const mostBeginnings = 24;
/** Exchanged stretches lie within so many runs, so that what was good elsewhere stays. */
const exchangeWindow = 30;

/** Numbers from 0 up to 1 in a fixed series (a 32-bit linear congruential generator, constants of Numerical Recipes, 2nd edition, chapter 7.1). */
function seededSeries(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** A chain under improvement, and the runs around which something has changed. */
class Search {
  private readonly count: number;
  private readonly stopEnd: number;
  private readonly places: Int32Array;
  private readonly waiting: number[] = [];
  private readonly isWaiting: Uint8Array;
  private readonly costs: ChainCosts;
  readonly entries: Entries;

  constructor(costs: ChainCosts, entries: Entries) {
    this.costs = costs;
    this.entries = entries;
    this.count = costs.runCount;
    this.stopEnd = 2 * costs.runCount + 1;
    this.places = new Int32Array(this.count);
    this.isWaiting = new Uint8Array(this.count);
    this.number(0, this.count - 1);
  }

  /** The end entered at a place; before the first and behind the last run comes the pair of board and finish. */
  private at(place: number): number {
    return place < 0 || place >= this.count ? this.stopEnd : this.entries[place]!;
  }

  private wayMm(from: number, to: number): number {
    return this.costs.lengthsMm[from * this.costs.endCount + to]!;
  }

  private number(from: number, to: number): void {
    for (let place = from; place <= to; place++) this.places[this.entries[place]! >> 1] = place;
  }

  wake(place: number): void {
    if (place < 0 || place >= this.count) return;
    const run = this.entries[place]! >> 1;
    if (this.isWaiting[run] === 1) return;
    this.isWaiting[run] = 1;
    this.waiting.push(run);
  }

  /** Improves around every run that waits, until none is left. */
  settle(): void {
    for (let run = this.waiting.pop(); run !== undefined; run = this.waiting.pop()) {
      this.isWaiting[run] = 0;
      while (this.turnStretch(this.places[run]!) || this.moveStretch(this.places[run]!));
    }
  }

  /** Turns round the stretch that begins or ends here and gains most; whether one did. */
  private turnStretch(here: number): boolean {
    let best = -leastGainMm;
    let from = -1;
    let to = -1;
    const { mayTurn } = this.costs;
    const consider = (first: number, last: number): void => {
      const before = this.at(first - 1) ^ 1;
      const behind = this.at(last + 1);
      const one = this.entries[first]!;
      const other = this.entries[last]!;
      const gain =
        this.wayMm(before, other ^ 1) +
        this.wayMm(one, behind) -
        this.wayMm(before, one) -
        this.wayMm(other ^ 1, behind);
      if (gain < best) [best, from, to] = [gain, first, last];
    };
    for (let last = here; last < this.count && mayTurn[this.entries[last]! >> 1] === 1; last++)
      consider(here, last);
    for (let first = here; first >= 0 && mayTurn[this.entries[first]! >> 1] === 1; first--)
      consider(first, here);
    if (from < 0) return false;
    this.turn(from, to);
    this.number(from, to);
    for (const place of [from - 1, from, to, to + 1]) this.wake(place);
    return true;
  }

  private turn(from: number, to: number): void {
    this.entries.subarray(from, to + 1).reverse();
    for (let place = from; place <= to; place++) this.entries[place]! ^= 1;
  }

  /** Moves the short stretch that begins or ends here to where it gains most, either way round; whether one did. */
  private moveStretch(here: number): boolean {
    let best = -leastGainMm;
    let move = { from: -1, to: -1, behind: -1, turned: false };
    for (let length = 1; length <= Math.min(longestMoved, this.count - 1); length++)
      for (const from of length === 1 ? [here] : [here, here - length + 1]) {
        const to = from + length - 1;
        if (from < 0 || to >= this.count) continue;
        const first = this.entries[from]!;
        const last = this.entries[to]! ^ 1;
        const left = this.at(from - 1) ^ 1;
        const right = this.at(to + 1);
        const freed = this.wayMm(left, right) - this.wayMm(left, first) - this.wayMm(last, right);
        if (freed >= best) continue;
        const mayTurn = this.mayTurnAll(from, to);
        for (let behind = -1; behind < this.count; behind++) {
          if (behind >= from - 1 && behind <= to) continue;
          const before = this.at(behind) ^ 1;
          const next = this.at(behind + 1);
          const opened = freed - this.wayMm(before, next);
          const kept = opened + this.wayMm(before, first) + this.wayMm(last, next);
          if (kept < best) [best, move] = [kept, { from, to, behind, turned: false }];
          if (!mayTurn) continue;
          const turned = opened + this.wayMm(before, last) + this.wayMm(first, next);
          if (turned < best) [best, move] = [turned, { from, to, behind, turned: true }];
        }
      }
    if (move.from < 0) return false;
    this.shift(move.from, move.to, move.behind, move.turned);
    return true;
  }

  private mayTurnAll(from: number, to: number): boolean {
    for (let place = from; place <= to; place++)
      if (this.costs.mayTurn[this.entries[place]! >> 1] === 0) return false;
    return true;
  }

  /** Puts the runs at these places behind another place outside them. */
  private shift(from: number, to: number, behind: number, turned: boolean): void {
    if (turned) this.turn(from, to);
    const stretch = this.entries.slice(from, to + 1);
    const at = behind < from ? behind + 1 : behind - stretch.length + 1;
    if (behind < from) this.entries.copyWithin(at + stretch.length, at, from);
    else this.entries.copyWithin(from, to + 1, behind + 1);
    this.entries.set(stretch, at);
    this.number(Math.min(from, at), Math.max(to, behind));
    const seams =
      behind < from ? [at - 1, at + stretch.length, to, to + 1] : [from - 1, from, at - 1, behind + 1];
    for (const place of [at, at + stretch.length - 1, ...seams]) this.wake(place);
  }

  /** Exchanges two neighbouring stretches, which no single move above does or undoes. Directions stay as they are. */
  exchange(random: () => number): void {
    const reach = Math.min(this.count, exchangeWindow);
    const base = Math.floor(random() * (this.count - reach + 1));
    const cuts = [0, 1, 2].map(() => base + Math.floor(random() * (reach + 1))).sort((a, b) => a - b);
    const [a, b, c] = cuts as [number, number, number];
    if (a === b || b === c) return;
    const first = this.entries.slice(a, b);
    this.entries.copyWithin(a, b, c);
    this.entries.set(first, a + c - b);
    this.number(a, c - 1);
    for (const place of [a - 1, a, a + c - b - 1, a + c - b, c - 1, c]) this.wake(place);
  }
}

/** From one run on, the nearest end of a run that is left, every time. */
function nearestNext({ runCount, endCount, lengthsMm, mayTurn }: ChainCosts, first: number): Entries {
  const entries = new Int32Array(runCount);
  const isPassed = new Uint8Array(runCount);
  entries[0] = first;
  isPassed[first >> 1] = 1;
  for (let place = 1; place < runCount; place++) {
    const row = (entries[place - 1]! ^ 1) * endCount;
    let best = -1;
    for (let end = 0; end < 2 * runCount; end++) {
      if (isPassed[end >> 1] === 1 || ((end & 1) === 1 && mayTurn[end >> 1] === 0)) continue;
      if (best < 0 || lengthsMm[row + end]! < lengthsMm[row + best]!) best = end;
    }
    entries[place] = best;
    isPassed[best >> 1] = 1;
  }
  return entries;
}

function beginnings({ runCount, endCount, lengthsMm, mayTurn }: ChainCosts): number[] {
  const wayMm = (end: number): number => lengthsMm[2 * runCount * endCount + end]!;
  const all = Array.from({ length: 2 * runCount }, (_, end) => end).filter(
    (end) => (end & 1) === 0 || mayTurn[end >> 1] === 1,
  );
  // Ends that the board can't be joined to come last, and are then never taken: at least one can.
  all.sort((a, b) => wayMm(a) - wayMm(b) || a - b);
  const reached = all.filter((end) => wayMm(end) < 2 * wayMm(all[0]!) + 1);
  const step = Math.max(1, reached.length / mostBeginnings);
  return Array.from(
    { length: Math.min(reached.length, mostBeginnings) },
    (_, i) => reached[Math.floor(i * step)]!,
  );
}

/**
 * A short chain. `exchanges` says how many times two stretches are exchanged and improved again; time grows with it.
 * Needs at least one run.
 */
export function shortChain(costs: ChainCosts, exchanges: number): Entries {
  let best: Entries | undefined;
  let leastMm = Number.POSITIVE_INFINITY;
  for (const first of beginnings(costs)) {
    const search = new Search(costs, nearestNext(costs, first));
    for (let place = 0; place < costs.runCount; place++) search.wake(place);
    search.settle();
    const lengthMm = chainLengthMm(costs, search.entries);
    if (lengthMm < leastMm - leastGainMm) [best, leastMm] = [search.entries, lengthMm];
  }
  const random = seededSeries(costs.runCount);
  let kept = best!;
  for (let i = 0; i < exchanges; i++) {
    const search = new Search(costs, kept.slice());
    search.exchange(random);
    search.settle();
    const lengthMm = chainLengthMm(costs, search.entries);
    if (lengthMm > leastMm + leastGainMm) continue;
    kept = search.entries;
    leastMm = lengthMm;
  }
  return kept;
}
