// OKLab, where equal distances look about equally different, and sRGB's curve. Plain arrays of numbers, since pictures have millions of them.
// Sources: sRGB curve IEC 61966-2-1; matrices B. Ottosson, "A perceptual color space for image processing" (2020, revised matrices of 2021).
// Not here: gradients between a few stops, which chroma-js mixes (gradients.ts).

export type Triple = readonly [number, number, number];

/** sRGB-encoded 0..1 to linear light 0..1. */
export const srgbDecoded = (encoded: number): number =>
  encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;

/** Linear light 0..1 to sRGB-encoded 0..1. */
export const srgbEncoded = (linear: number): number =>
  linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;

/** Linear red, green, blue (0..1) to L, a, b. */
export function oklabOf(red: number, green: number, blue: number): Triple {
  const l = Math.cbrt(0.4122214708 * red + 0.5363325363 * green + 0.0514459929 * blue);
  const m = Math.cbrt(0.2119034982 * red + 0.6806995451 * green + 0.1073969566 * blue);
  const s = Math.cbrt(0.0883024619 * red + 0.2817188376 * green + 0.6299787005 * blue);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

/** L, a, b to linear red, green, blue, which leave 0..1 where no screen has the colour. */
export function linearOf([lightness, a, b]: Triple): Triple {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
}

export const oklabDistance = (a: Triple, b: Triple): number =>
  Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
