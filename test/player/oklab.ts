// OKLab by its published definition, independent of the library that src/lampshow uses: what gradients are mixed in.
// Source: B. Ottosson, "A perceptual color space for image processing" (2020): matrices for linear sRGB and for XYZ. sRGB transfer
// function: IEC 61966-2-1. colours.test.ts holds both against published pairs before using them.

export type Triple = readonly [number, number, number];

const times = (matrix: readonly Triple[], [x, y, z]: Triple): Triple =>
  matrix.map((row) => row[0] * x + row[1] * y + row[2] * z) as unknown as Triple;

const lmsOfLinearSrgb: readonly Triple[] = [
  [0.4122214708, 0.5363325363, 0.0514459929],
  [0.2119034982, 0.6806995451, 0.1073969566],
  [0.0883024619, 0.2817188376, 0.6299787005],
];
const lmsOfXyz: readonly Triple[] = [
  [0.8189330101, 0.3618667424, -0.1288597137],
  [0.0329845436, 0.9293118715, 0.0361456387],
  [0.0482003018, 0.2643662691, 0.633851707],
];
const labOfRootLms: readonly Triple[] = [
  [0.2104542553, 0.793617785, -0.0040720468],
  [1.9779984951, -2.428592205, 0.4505937099],
  [0.0259040371, 0.7827717662, -0.808675766],
];
const rootLmsOfLab: readonly Triple[] = [
  [1, 0.3963377774, 0.2158037573],
  [1, -0.1055613458, -0.0638541728],
  [1, -0.0894841775, -1.291485548],
];
const linearSrgbOfLms: readonly Triple[] = [
  [4.0767416621, -3.3077115913, 0.2309699292],
  [-1.2684380046, 2.6097574011, -0.3413193965],
  [-0.0041960863, -0.7034186147, 1.707614701],
];

const each = (triple: Triple, rule: (x: number) => number): Triple => [
  rule(triple[0]),
  rule(triple[1]),
  rule(triple[2]),
];
const decode = (c: number): number => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
const encode = (c: number): number => (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055);

export const labOfXyz = (xyz: Triple): Triple => times(labOfRootLms, each(times(lmsOfXyz, xyz), Math.cbrt));

/** Levels 0 to 255. */
export const labOfSrgb = (levels: Triple): Triple =>
  times(
    labOfRootLms,
    each(
      times(
        lmsOfLinearSrgb,
        each(levels, (level) => decode(level / 255)),
      ),
      Math.cbrt,
    ),
  );

/** Levels, not rounded, cut off at 0 and 255 where sRGB has no such colour. */
export const srgbOfLab = (lab: Triple): Triple => {
  const linear = times(
    linearSrgbOfLms,
    each(times(rootLmsOfLab, lab), (root) => root ** 3),
  );
  return each(linear, (c) => 255 * Math.min(1, Math.max(0, c <= 0 ? 0 : encode(c))));
};

export const mixedInOklab = (a: Triple, b: Triple, share: number): Triple => {
  const [labA, labB] = [labOfSrgb(a), labOfSrgb(b)];
  return srgbOfLab([
    labA[0] + (labB[0] - labA[0]) * share,
    labA[1] + (labB[1] - labA[1]) * share,
    labA[2] + (labB[2] - labA[2]) * share,
  ]);
};
