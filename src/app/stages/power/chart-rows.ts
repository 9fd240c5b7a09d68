// Where the rows of the power chart lie, px from its top. Pure.
export const sides = { left: 86, right: 28 } as const;

/** Supplies whose lines would meet lie on levels of their own: so far apart, and together at most so much. */
const level = { height: 14, most: 56 } as const;

export interface ChartRows {
  /** Of the first level of supplies, and from level to level. */
  readonly supply: number;
  readonly perLevel: number;
  readonly fuse: number;
  readonly plus: number;
  readonly data: number;
  readonly dataHeight: number;
  readonly ground: number;
  /** Bands of current above + and below ground are at most so high. */
  readonly bandHeight: number;
  readonly top: number;
  readonly bottom: number;
  readonly axis: number;
  readonly height: number;
}

/** The curves give up the room that levels take. @param levels of supplies, at least 1 */
export function chartRows(levels: number): ChartRows {
  const down = Math.min(level.most, (levels - 1) * level.height);
  return {
    supply: 16,
    perLevel: levels > 1 ? down / (levels - 1) : 0,
    fuse: 26 + down,
    plus: 76 + down,
    data: 84 + down,
    dataHeight: 18,
    ground: 110 + down,
    bandHeight: 12,
    top: 138 + down,
    bottom: 246,
    axis: 264,
    height: 276,
  };
}
