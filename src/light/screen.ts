// From linear light to the screen: exposure, a soft end where a screen can't get brighter, and sRGB encoding.
// Not here: the artwork. It is multiplied in by whoever draws, so that it keeps its full sharpness.
// Source of the encoding: IEC 61966-2-1 (sRGB). The soft end is ours: a screen clips where an eye would still see colour.

/** Linear light, 0 to 1, to sRGB's 0 to 1. */
export const encodeSrgb = (linear: number): number =>
  linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;

/** sRGB's 0 to 1 to linear light. */
export const decodeSrgb = (encoded: number): number =>
  encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;

/** The brightest that half codes hold: light whose encoded value is twice white's. */
export const brightestLight = decodeSrgb(2);
/** Here the soft end begins: half of that. */
export const softFrom = brightestLight / 2;

/** Leaves light up to `softFrom` as it is and bends the rest towards `brightestLight`, which it never passes; slope 1 where it begins. */
export function softEnd(linear: number): number {
  if (linear <= softFrom) return linear;
  const room = brightestLight - softFrom;
  return brightestLight - room * Math.exp(-(linear - softFrom) / room);
}

/** Exposure: what light per mm2 is multiplied by, so that `whiteLight` lands `stops` above (or below 0, under) the screen's white. */
export const exposureGain = (whiteLight: number, stops: number): number =>
  whiteLight > 0 ? 2 ** stops / whiteLight : 0;

/** One step is 0.2 of a half code in the steep part near black. */
const tableSteps = 131_072;
/** The soft end comes within a quarter of a code of its limit here. */
const mostInTable = 16;
const codeTable = Uint8Array.from({ length: tableSteps + 1 }, (_, step) =>
  Math.round((255 / 2) * encodeSrgb(softEnd((step / tableSteps) * mostInTable))),
);

/**
 * Half of the 8-bit code of light that is exposed already (1 is the screen's white). Half, so that light stronger than white still has a
 * code: behind dark print it must not look like white light. Whoever multiplies the artwork in doubles the result.
 */
export const halfCode = (exposed: number): number =>
  codeTable[exposed >= mostInTable ? tableSteps : Math.round((exposed / mostInTable) * tableSteps)]!;

/**
 * A light map as opaque RGBA pixels of half codes. `roomLight` is light from the room that the print reflects, as a share of the screen's white;
 * the artwork multiplies it just as it does the light from behind.
 */
export function screenPixels(
  light: Float32Array,
  gain: number,
  roomLight: number,
  into: Uint8ClampedArray = new Uint8ClampedArray((light.length / 3) * 4),
): Uint8ClampedArray {
  for (let from = 0, to = 0; from < light.length; from += 3, to += 4) {
    into[to] = halfCode(light[from]! * gain + roomLight);
    into[to + 1] = halfCode(light[from + 1]! * gain + roomLight);
    into[to + 2] = halfCode(light[from + 2]! * gain + roomLight);
    into[to + 3] = 255;
  }
  return into;
}
