// Gamma tables: colour level to wire byte for one channel, with the white balance multiplied in.
// Rule: round(255 x balance x (i / 255) ^ gamma). Level 0 is always dark and level 255 the channel's brightest.

/** 256 bytes. `gamma` from 1, `balance` 0 to 1. */
export function gammaTable(gamma: number, balance: number): Uint8Array {
  return Uint8Array.from({ length: 256 }, (_, level) => Math.round(255 * balance * (level / 255) ** gamma));
}
