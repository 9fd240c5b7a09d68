// Where the rows of the power chart lie, px from its top.
export const rows = {
  supply: 16,
  fuse: 26,
  plus: 76,
  data: 84,
  dataHeight: 18,
  ground: 110,
  /** Bands of current above + and below ground are at most so high. */
  bandHeight: 12,
  top: 138,
  bottom: 246,
  axis: 264,
  height: 276,
} as const;
export const sides = { left: 86, right: 28 } as const;
