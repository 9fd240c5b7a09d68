// When a change of light counts as half of a flash: thresholds with their sources, colours, and the geometry of the area that may flash.
// Not here: counting over time (flash-counter.ts), how much flashes at once (flash-field.ts), what is looked at (flash-plays.ts).
// Sources: WCAG 2.2, success criterion 2.3.1 and its definition "general flash and red flash thresholds", the red rule of WCAG 2.0/2.1 beside it;
// Recommendation ITU-R BT.1702 as articles about it tell it (20 cd/m2, 160 cd/m2, a quarter of the screen), with a screen's white of 200 cd/m2.
// A flash is a pair of opposing changes; more than three in any second are too many under each of them.

/** Relative luminance of linear sRGB light, 1 the panel's white: the mean over the opening with every LED white under the project's own brightness. Source: WCAG. */
export const luminanceOf = (red: number, green: number, blue: number): number =>
  0.2126 * red + 0.7152 * green + 0.0722 * blue;

/** Least change of relative luminance that counts, and what the darker of the two states lies below. */
export interface LuminanceRule {
  readonly change: number;
  readonly darkerBelow: number;
}

/** WCAG. With a screen's white at 200 cd/m2, the 20 and 160 cd/m2 of the broadcast rule are the same shares. */
export const generalRule: LuminanceRule = { change: 0.1, darkerBelow: 0.8 };

/** Share of the screen that may flash under the broadcast rule, in its strict reading. */
export const broadcastAreaShare = 0.2;

/** Flashes in any one second that are still allowed; each is two changes. */
export const mostFlashes = 3;
export const firstTooMany = 2 * (mostFlashes + 1);
export const secondMs = 1000;

/** Sums are rounded to single precision; that must not decide a case that lies on a threshold. */
const rounding = 1e-6;
const isAtLeast = (value: number, threshold: number): boolean => value >= threshold - rounding;

/** Whether luminance that went from one state to the other made half of a flash. */
export const isGeneralChange = (from: number, to: number, rule: LuminanceRule = generalRule): boolean =>
  isAtLeast(Math.abs(to - from), rule.change) &&
  // Right in front of crowded LEDs it is brighter than the panel's white: there the brighter state is what the eye takes for white.
  Math.min(from, to) < rule.darkerBelow * Math.max(1, from, to) - rounding;

const redShare = 0.8;
const rednessChange = 20;
const chromaticityChange = 0.2;

/** What the rules ask of a light. */
export interface LightState {
  /** 1 is the panel's white. */
  readonly luminance: number;
  /** R / (R + G + B), 0 for black. */
  readonly share: number;
  /** Saturated red: a share of at least 0.8. */
  readonly isRed: boolean;
  /** (R - G - B) x 320, not below 0. */
  readonly redness: number;
  /** So little light that no red of it makes a change under the first rule: it has no colour that could flash. */
  readonly isBlack: boolean;
  /** CIE 1976 u', v'; those of no light are 0. */
  readonly u: number;
  readonly v: number;
}

/**
 * Linear sRGB light, 1 the panel's white. Source of u', v': CIE 15, with the primaries of IEC 61966-2-1 (matrix from memory, checked against published
 * places of the primaries).
 */
export function colourOf(red: number, green: number, blue: number): LightState {
  const sum = red + green + blue;
  const x = 0.4124564 * red + 0.3575761 * green + 0.1804375 * blue;
  const y = 0.2126729 * red + 0.7151522 * green + 0.072175 * blue;
  const z = 0.0193339 * red + 0.119192 * green + 0.9503041 * blue;
  const whole = x + 15 * y + 3 * z;
  const share = sum > 0 ? red / sum : 0;
  return {
    luminance: luminanceOf(red, green, blue),
    share,
    isRed: red > 0 && isAtLeast(share, redShare),
    redness: Math.max(0, (red - green - blue) * 320),
    isBlack: sum * 320 <= rednessChange + rounding,
    u: whole > 0 ? (4 * x) / whole : 0,
    v: whole > 0 ? (9 * y) / whole : 0,
  };
}

/** 1 where light turned towards red by half of a red flash, -1 where it turned away from red, 0 where it did neither. */
export type RedRule = (from: LightState, to: LightState) => -1 | 0 | 1;

export const isRednessChange = (change: number): boolean => change > rednessChange + rounding;

/** WCAG 2.0 and 2.1: one state is saturated red, and redness changes by more than 20. */
export const rednessRule: RedRule = (from, to) => {
  const change = to.redness - from.redness;
  if (!isRednessChange(Math.abs(change)) || !(from.isRed || to.isRed)) return 0;
  return change > 0 ? 1 : -1;
};

export const isFarApart = (byU: number, byV: number): boolean =>
  byU * byU + byV * byV > (chromaticityChange + rounding) ** 2;

export const isLitRed = (state: LightState): boolean => state.isRed && !state.isBlack;

/** WCAG 2.2: one state is saturated red, and the two lie more than 0.2 apart in u', v'. Black lies nowhere there: to be safe, from red it is far enough. */
export const chromaticityRule: RedRule = (from, to) => {
  if (!isLitRed(from) && !isLitRed(to)) return 0;
  if (!from.isBlack && !to.isBlack && !isFarApart(to.u - from.u, to.v - from.v)) return 0;
  const shareOf = (state: LightState): number => (state.isBlack ? 0 : state.share);
  return shareOf(to) > shareOf(from) ? 1 : -1;
};

/** A visual field of ten degrees, of which a quarter may flash. Source: WCAG 2.2; 0.006 sr is its own rounding. */
export const fieldDegrees = 10;
export const mostSteradians = 0.006;

/** Radius of the ten-degree field on a panel seen head on, mm. */
export const fieldRadiusMm = (distanceMm: number): number =>
  distanceMm * Math.tan((fieldDegrees / 2) * (Math.PI / 180));

/** Area on a panel seen head on that fills 0.006 sr, mm2. */
export const mostAreaMm2 = (distanceMm: number): number => mostSteradians * distanceMm * distanceMm;
