// sRGB's encoding: from 8-bit codes to linear light and back, 0 to 1.
// Not here: what a screen does with stronger light (src/light/screen.ts).
// Source: IEC 61966-2-1 (sRGB).

/** Linear light to sRGB's 0 to 1. */
export const encodeSrgb = (linear: number): number =>
  linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;

/** sRGB's 0 to 1 to linear light. */
export const decodeSrgb = (encoded: number): number =>
  encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;

/** Linear light of each 8-bit code. */
export const lightOfCode: Float32Array = Float32Array.from({ length: 256 }, (_, code) =>
  decodeSrgb(code / 255),
);

/** One step is a twentieth of a code in the steep part near black. */
const steps = 65_536;
const codeOfStep: Uint8Array = Uint8Array.from({ length: steps + 1 }, (_, step) =>
  Math.round(255 * encodeSrgb(step / steps)),
);

/** The 8-bit code of linear light from 0 to 1. */
export const codeOfLight = (linear: number): number => codeOfStep[Math.round(linear * steps)]!;
