// The chain of least wire, exactly: for every set of runs passed and every end that data entered last, the least wire so far (Held and Karp's
// dynamic programme, J. SIAM 10, 196, 1962, with two states a run). Time and memory double with each run.
import { type ChainCosts, type Entries, noWayMm } from './chain-costs.ts';

/** 2^16 sets x 32 ends: 17 MB and a fraction of a second; one more run takes twice of both. */
export const mostExactRuns = 16;

export function leastChain({ runCount, endCount, lengthsMm, mayTurn }: ChainCosts): Entries {
  const ends = 2 * runCount;
  const sets = 1 << runCount;
  const least = new Float64Array(sets * ends).fill(Number.POSITIVE_INFINITY);
  const allowed = Int32Array.from({ length: ends }, (_, end) => end).filter(
    (end) => (end & 1) === 0 || mayTurn[end >> 1] === 1,
  );
  for (const end of allowed) {
    const wayMm = lengthsMm[ends * endCount + end]!;
    if (wayMm < noWayMm) least[(1 << (end >> 1)) * ends + end] = wayMm;
  }
  for (let set = 1; set < sets; set++)
    for (const last of allowed) {
      const soFarMm = least[set * ends + last]!;
      if (soFarMm === Number.POSITIVE_INFINITY) continue;
      const row = (last ^ 1) * endCount;
      for (const next of allowed) {
        const bit = 1 << (next >> 1);
        if ((set & bit) !== 0) continue;
        const at = (set | bit) * ends + next;
        const wayMm = soFarMm + lengthsMm[row + next]!;
        if (wayMm < least[at]!) least[at] = wayMm;
      }
    }

  const entries = new Int32Array(runCount);
  let set = sets - 1;
  let last = bestOf(allowed, (end) => least[set * ends + end]!);
  for (let place = runCount - 1; ; place--) {
    entries[place] = last;
    if (place === 0) return entries;
    const before = set & ~(1 << (last >> 1));
    const next = last;
    // The end before is found again by its sum, which saves a table as large as the first.
    last = bestOf(allowed, (end) => least[before * ends + end]! + lengthsMm[(end ^ 1) * endCount + next]!);
    set = before;
  }
}

const bestOf = (ends: Int32Array, value: (end: number) => number): number =>
  ends.reduce((best, end) => (value(end) < value(best) ? end : best), ends[0]!);
