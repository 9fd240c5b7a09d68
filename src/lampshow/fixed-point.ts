// Numbers as the player counts them: rates, shares and 8.8 fixed point.

/** Turns (or cells) a millisecond, 8.24 fixed point, two's complement. */
export const rate = (turnsPerSecond: number): number => Math.round((turnsPerSecond / 1000) * 2 ** 24) >>> 0;
export const byte = (share: number): number => Math.min(255, Math.max(0, Math.round(share * 255)));
export const word = (value: number): number => Math.min(65_535, Math.max(0, Math.round(value)));
export const fixed = (value: number): number => word(value * 256);
