// From linear light at the eye to the screen's colours: a soft shoulder where a screen can't get brighter, and sRGB encoding.
// Not here: exposure and room (viewing.ts).
// Source of the encoding: IEC 61966-2-1 (sRGB). The shoulder is ours: a screen clips where an eye would still see colour.

/** Linear light, 0 to 1, to sRGB's 0 to 1. */
export const encodeSrgb = (linear: number): number =>
  linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;

/** sRGB's 0 to 1 to linear light. */
export const decodeSrgb = (encoded: number): number =>
  encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;

/** Here the shoulder begins. By eye: lower dulls white print, higher burns holes into coloured light. */
export const shoulderFrom = 0.65;

/** Leaves light up to `shoulderFrom` as it is and bends the rest towards 1, the screen's white; slope 1 where it begins. */
export function shoulder(linear: number): number {
  if (linear <= shoulderFrom) return linear;
  const room = 1 - shoulderFrom;
  return 1 - room * Math.exp(-(linear - shoulderFrom) / room);
}

/** The shoulder is within a tenth of a code of white here. */
const mostInTable = 4;
/** Number of the table's last step, which stands for all stronger light too. */
export const brightestStep = 65_536;
/** One step is 0.2 of a code in the steep part near black. */
export const stepsPerLight: number = brightestStep / mostInTable;
/** The 8-bit code of light at the eye, by steps: light x `stepsPerLight`, rounded. */
export const codeOfStep: Uint8Array = Uint8Array.from({ length: brightestStep + 1 }, (_, step) =>
  Math.round(255 * encodeSrgb(shoulder(step / stepsPerLight))),
);

/** The 8-bit code of light at the eye; 1 is the screen's white, and stronger light is welcome. */
export const screenCode = (light: number): number =>
  codeOfStep[light >= mostInTable ? brightestStep : Math.round(light * stepsPerLight)]!;

/** Linear light of each 8-bit sRGB code. */
export const lightOfCode: Float32Array = Float32Array.from({ length: 256 }, (_, code) =>
  decodeSrgb(code / 255),
);
