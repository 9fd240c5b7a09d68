// Where the chart's supplies and the words at its feeds lie, so that no line joins feeds of two supplies and no words cover each other. Pure, px.

/** What a supply's line reaches over. */
export interface Stretch {
  readonly supply: number;
  readonly from: number;
  readonly to: number;
}

export interface SupplyLine extends Stretch {
  /** 0 at the top; lines on one level never meet. */
  readonly level: number;
}

/** Beyond the last feed, and before the first one. */
const overhang = 10;

/**
 * One line for each supply that has feeds, on as few levels as keep them apart.
 * @param feeds in any order: the supply of each and where it enters
 * @param leastWidth room for its name
 */
export function supplyLines(
  feeds: readonly { readonly supply: number; readonly x: number }[],
  leastWidth: number,
): SupplyLine[] {
  const supplies = [...new Set(feeds.map(({ supply }) => supply))];
  const stretches = supplies
    .map((supply): Stretch => {
      const own = feeds.filter((feed) => feed.supply === supply).map(({ x }) => x);
      const from = Math.min(...own) - overhang;
      return { supply, from, to: Math.max(from + leastWidth, Math.max(...own) + overhang) };
    })
    .toSorted((a, b) => a.from - b.from || a.supply - b.supply);
  const ends: number[] = [];
  return stretches.map((stretch) => {
    const free = ends.findIndex((end) => end <= stretch.from);
    const level = free < 0 ? ends.length : free;
    ends[level] = stretch.to;
    return { ...stretch, level };
  });
}

export interface FeedWords {
  readonly x: number;
  /** Widths of its two lines of words. */
  readonly first: number;
  readonly second: number;
}

export interface PlacedWords {
  /** Whether the words stand on the left of the feed: at the right edge. */
  readonly isLeft: boolean;
  readonly showsFirst: boolean;
  readonly showsSecond: boolean;
}

/** From a feed's wire to its words, and from words to the next wire. */
const wordsAway = 9;
const clear = 5;

/** Words beside each feed as far as they have room up to the next wire and the next words: without room the second line goes first, then both. */
export function placedWords(feeds: readonly FeedWords[], right: number): PlacedWords[] {
  const placed: PlacedWords[] = feeds.map(() => ({ isLeft: false, showsFirst: false, showsSecond: false }));
  const order = [...feeds.keys()].sort((a, b) => feeds[a]!.x - feeds[b]!.x);
  // How far words of either line reach already.
  let reach = Number.NEGATIVE_INFINITY;
  for (const [at, index] of order.entries()) {
    const { x, first, second } = feeds[index]!;
    const next = order[at + 1];
    const before = order[at - 1];
    const isLeft = x + wordsAway + first > right;
    const room = isLeft
      ? x -
        wordsAway -
        Math.max(reach, before === undefined ? Number.NEGATIVE_INFINITY : feeds[before]!.x) -
        clear
      : Math.min(next === undefined ? Number.POSITIVE_INFINITY : feeds[next]!.x - clear, right) -
        x -
        wordsAway;
    const showsFirst = first <= room;
    const showsSecond = showsFirst && second <= room;
    placed[index] = { isLeft, showsFirst, showsSecond };
    if (showsFirst && !isLeft) reach = x + wordsAway + Math.max(first, showsSecond ? second : 0);
  }
  return placed;
}
