// How the panel is looked at: exposure, the room's light, and the frame around the opening. Both renderers take their figures from here.
// Not here: the light itself, and the screen's limits (screen.ts).
// The figures are ours, set by eye on the samples; the exposure's reference is white over the opening, so panels of any air gap look alike.
import type { PointMm } from '../panel/index.ts';
import type { RectangleMm } from './grid.ts';

/** Shows run far below full white, so that level lands well above the screen's. */
const stopsAboveWhite = 1.3;
/** In a lit room eyes and cameras close down: the LEDs lose this many stops there. */
const stopsLostInLitRoom = 0.7;
/** Share of a lit room's light that white print reflects. */
const printReflects = 0.7;
/** The same for the dark frame around the opening. */
const frameReflects = 0.04;
/** Perceived lightness runs with about this power of light, so the slider feels even. */
const roomPower = 2.2;

export interface Viewing {
  /** 0 dark to 1 lit. */
  readonly roomLight: number;
  /** What the viewer adds to the usual exposure. */
  readonly exposureStops: number;
  /** How far the eye has opened, above 0, or closed, for the light there is (eye.ts): it changes all that is seen. 0 where absent. */
  readonly adaptedStops?: number;
}

export const darkRoom: Viewing = { roomLight: 0, exposureStops: 0 };

/** Factors of the picture: light at the eye = ink x (through x light behind the sheet + printLight), or frameLight beside the opening. */
export interface ViewingFactors {
  readonly through: number;
  readonly printLight: number;
  readonly frameLight: number;
}

export interface Lamp {
  /** Mean light on the face, per mm2, over the opening with every LED white. */
  readonly whiteLight: number;
  /** Share of light that passes the sheet. */
  readonly transmission: number;
}

export function viewingFactors(
  { whiteLight, transmission }: Lamp,
  { roomLight, exposureStops, adaptedStops = 0 }: Viewing,
): ViewingFactors {
  const stops = stopsAboveWhite - stopsLostInLitRoom * roomLight + exposureStops;
  const eye = 2 ** adaptedStops;
  const room = eye * roomLight ** roomPower;
  return {
    through: whiteLight > 0 ? (eye * transmission * 2 ** stops) / whiteLight : 0,
    printLight: printReflects * room,
    frameLight: frameReflects * room,
  };
}

/**
 * Share of an LED's flux that falls on the rectangle from the place right above it to (xMm, yMm); negative where only one of them is.
 * Source: configuration factor of a small plane to a parallel rectangle with a corner above it (from memory; tested against a sum).
 */
function shareToCorner(xMm: number, yMm: number, airGapMm: number): number {
  const a = xMm / airGapMm;
  const b = yMm / airGapMm;
  // Quicker than Math.hypot; panels are far too small for squares to overflow.
  const rootA = Math.sqrt(1 + a * a);
  const rootB = Math.sqrt(1 + b * b);
  return ((a / rootA) * Math.atan(b / rootA) + (b / rootB) * Math.atan(a / rootB)) / (2 * Math.PI);
}

/** Light per mm2 of one channel, averaged over the rectangle, with every LED at full white. 0 without LEDs. */
export function meanWhiteLight(
  places: readonly PointMm[],
  { xMm, yMm, widthMm, heightMm }: RectangleMm,
  airGapMm: number,
): number {
  let sum = 0;
  for (const place of places) {
    const left = xMm - place.xMm;
    const top = yMm - place.yMm;
    const right = left + widthMm;
    const bottom = top + heightMm;
    sum +=
      shareToCorner(right, bottom, airGapMm) -
      shareToCorner(left, bottom, airGapMm) -
      shareToCorner(right, top, airGapMm) +
      shareToCorner(left, top, airGapMm);
  }
  return sum / (widthMm * heightMm);
}

/** How much of a pixel `pixelMm` wide around `atMm` lies within `lengthMm` from `fromMm` on, 0 to 1. */
export const coverage = (atMm: number, fromMm: number, lengthMm: number, pixelMm: number): number =>
  Math.max(0, Math.min(1, (atMm - fromMm) / pixelMm + 0.5, (fromMm + lengthMm - atMm) / pixelMm + 0.5));
