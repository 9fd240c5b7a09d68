// Loads into the least number of equal bins. Not here: what loads and bins are (supply-choice.ts).
// Method: first fit, largest first, gives an answer; up to 25 loads are then tried with fewer bins by branch and bound, so that the answer is the least. Among as many bins they are
// made even where that fits.

export interface Packing {
  /** Indices of the loads in each bin. */
  readonly bins: readonly (readonly number[])[];
  /** Whether fewer bins are proved not to do. */
  readonly isProvedLeast: boolean;
}

/** As many loads are packed exactly, 24 zones and a board; with more, the first answer stands. A set of them is the bits of one number. */
export const mostPackedExactly = 25;
/** Some tenths of a second of search: more than loads ever took that were drawn at random to be awkward. */
const mostSteps = 2_000_000;

function firstFit(loads: readonly number[], order: readonly number[], room: number): number[][] {
  const bins: { free: number; loads: number[] }[] = [];
  for (const load of order) {
    const bin = bins.find(({ free }) => free >= loads[load]!);
    if (bin) {
      bin.free -= loads[load]!;
      bin.loads.push(load);
    } else bins.push({ free: room - loads[load]!, loads: [load] });
  }
  return bins.map((bin) => bin.loads);
}

/** No packing has fewer bins: all loads together, and those over half a bin, of which no two share one. */
const leastThinkable = (loads: readonly number[], room: number): number =>
  Math.max(
    Math.ceil(loads.reduce((sum, load) => sum + load, 0) / room),
    loads.filter((load) => 2 * load > room).length,
  );

/**
 * All loads in `count` bins; undefined where that can't be, 'given-up' where it took too long to say.
 * Bin after bin: each takes the largest load left and as many of the others as fit, in every way that leaves no room for another one or for a
 * larger one instead. What is left and the bins that are left say all about what follows, so no such state is looked at twice.
 */
function packInto(
  count: number,
  loads: readonly number[],
  order: readonly number[],
  room: number,
): number[][] | 'given-up' | undefined {
  const sizes = order.map((load) => loads[load]!);
  const hopeless = new Set<number>();
  const bins: number[][] = [];
  let steps = 0;
  /** Whether a load of the bin (not its first) could give way to a larger one that is left: what is left then would only be smaller. */
  const isBeaten = (bin: readonly number[], left: number, free: number): boolean =>
    bin.some((chosen, i) => {
      if (i === 0) return false;
      for (let at = 0; at < chosen; at++) {
        const more = sizes[at]! - sizes[chosen]!;
        if ((left & (1 << at)) !== 0 && more > 0 && more <= free) return true;
      }
      return false;
    });
  /** Whether the loads of a set (bits, by place in the order), `sum` together, go into the bins that are left. */
  const fill = (set: number, sum: number): boolean => {
    if (set === 0) return true;
    const state = set * (mostPackedExactly + 1) + bins.length;
    if (sum > (count - bins.length) * room || hopeless.has(state)) return false;
    const first = 31 - Math.clz32(set & -set);
    const bin = [first];
    bins.push(bin);
    /** Loads from a place on, with `free` left in this bin and `least` the smallest load that was passed over though it fitted. */
    const choose = (from: number, left: number, free: number, least: number): boolean => {
      if (++steps > mostSteps) return false;
      for (let at = from; at < sizes.length; at++) {
        const size = sizes[at]!;
        if ((left & (1 << at)) === 0 || size > free) continue;
        bin.push(at);
        if (choose(at + 1, left & ~(1 << at), free - size, least)) return true;
        bin.pop();
        // Without it: then also without all others of its size, which would be the same.
        least = Math.min(least, size);
        while (at + 1 < sizes.length && sizes[at + 1] === size) at++;
      }
      if (free >= least || isBeaten(bin, left, free)) return false;
      return fill(left, sum - (room - free));
    };
    if (choose(first + 1, set & ~(1 << first), room - sizes[first]!, Number.POSITIVE_INFINITY)) return true;
    bins.pop();
    if (steps <= mostSteps) hopeless.add(state);
    return false;
  };
  const total = sizes.reduce((sum, size) => sum + size, 0);
  if (fill(2 ** sizes.length - 1, total)) return bins.map((bin) => bin.map((at) => order[at]!));
  return steps > mostSteps ? 'given-up' : undefined;
}

/** The same number of bins, as even as largest first into the emptiest makes them; as they are where a bin would not hold it. */
function evened(
  bins: number[][],
  loads: readonly number[],
  order: readonly number[],
  room: number,
): number[][] {
  const even = bins.map(() => ({ sum: 0, loads: [] as number[] }));
  for (const load of order) {
    const emptiest = even.reduce((least, bin) => (bin.sum < least.sum ? bin : least));
    emptiest.sum += loads[load]!;
    emptiest.loads.push(load);
  }
  return even.every(({ sum }) => sum <= room) ? even.map((bin) => bin.loads) : bins;
}

/**
 * @param loads whole numbers, each from 0 to `room`
 * @param room of one bin, a whole number > 0
 */
export function packLeast(loads: readonly number[], room: number): Packing {
  const order = [...loads.keys()].sort((a, b) => loads[b]! - loads[a]!);
  const packing = (bins: number[][], isProvedLeast: boolean): Packing => ({
    bins: evened(bins, loads, order, room),
    isProvedLeast,
  });
  const bins = firstFit(loads, order, room);
  const least = leastThinkable(loads, room);
  if (bins.length <= least) return packing(bins, true);
  if (loads.length > mostPackedExactly) return packing(bins, false);
  for (let count = least; count < bins.length; count++) {
    const packed = packInto(count, loads, order, room);
    if (packed === 'given-up') return packing(bins, false);
    if (packed) return packing(packed, true);
  }
  return packing(bins, true);
}
