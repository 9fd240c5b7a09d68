// From linear light to the screen: exposure, a soft end where a screen can't get brighter, and sRGB encoding.
// Not here: the artwork. It is multiplied in by whoever draws, so that it keeps its full sharpness.
// Source of the encoding: IEC 61966-2-1 (sRGB). The soft end is ours: a screen clips where an eye would still see colour.

/** Linear light, 0 to 1, to sRGB's 0 to 1. */
export const encodeSrgb = (linear: number): number =>
  linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;

/** sRGB's 0 to 1 to linear light. */
export const decodeSrgb = (encoded: number): number =>
  encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;

/** Above this share of the screen's white the soft end begins. */
export const softFrom = 0.55;

/** Leaves light up to `softFrom` as it is and bends the rest towards 1, which it never passes; slope 1 where the bend begins. */
export function softEnd(linear: number): number {
  if (linear <= softFrom) return linear;
  const room = 1 - softFrom;
  return 1 - room * Math.exp(-(linear - softFrom) / room);
}

/** Exposure: what light per mm2 is multiplied by, so that `whiteLight` lands `stops` above (or below 0, under) the screen's white. */
export const exposureGain = (whiteLight: number, stops: number): number =>
  whiteLight > 0 ? 2 ** stops / whiteLight : 0;

/** Finer than an 8-bit code everywhere: one step is 0.2 of a code in the steep part near black. */
const tableSteps = 65_536;
/** The soft end comes within half a code of white here. */
const brightestInTable = 4;
const codeTable = Uint8Array.from({ length: tableSteps + 1 }, (_, step) =>
  Math.round(255 * encodeSrgb(softEnd((step / tableSteps) * brightestInTable))),
);

/** 8-bit code of light that is exposed already. */
export const screenCode = (exposed: number): number =>
  codeTable[
    exposed >= brightestInTable ? tableSteps : Math.round((exposed / brightestInTable) * tableSteps)
  ]!;

/**
 * A light map as opaque RGBA pixels. `roomLight` is light from the room that the print reflects, as a share of the screen's white;
 * the artwork multiplies it just as it does the light from behind.
 */
export function screenPixels(
  light: Float32Array,
  gain: number,
  roomLight: number,
  into: Uint8ClampedArray = new Uint8ClampedArray((light.length / 3) * 4),
): Uint8ClampedArray {
  for (let from = 0, to = 0; from < light.length; from += 3, to += 4) {
    into[to] = screenCode(light[from]! * gain + roomLight);
    into[to + 1] = screenCode(light[from + 1]! * gain + roomLight);
    into[to + 2] = screenCode(light[from + 2]! * gain + roomLight);
    into[to + 3] = 255;
  }
  return into;
}
