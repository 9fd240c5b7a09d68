// Sizes of enclosed supplies, amperes by output voltage, as one maker's popular series has them (from memory: check before buying).
export const supplyAmps: Readonly<Record<'5' | '12', readonly number[]>> = {
  '5': [10, 14, 18, 40, 60],
  '12': [4.2, 6, 8.5, 12.5, 17, 29],
};

/** A supply should run at no more than 80 % of its rating (common practice, no source). */
export const supplyLoadShare = 0.8;
