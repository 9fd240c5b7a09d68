// The eye in front of the panel: how it gets used to the light there is, what it can tell apart from so far away, and how large the panel seems.
// Not here: exposure and room (viewing.ts), which hold for a camera too; clocks: whoever shows moving pictures keeps the state and says how much
// time went by.
import { channelCount } from './sources.ts';

/** Ours, set by eye on the samples: pupil and nerves even out part of the light, and go faster towards bright than towards dark. */
export const adaptation = {
  /** Mean level of all LEDs, of full white, for which the usual exposure is right. */
  usualLevel: 0.12,
  /** Share of the difference, in stops, that the eye makes up for. */
  share: 0.5,
  leastStops: -1.2,
  mostStops: 1.6,
  secondsToBright: 0.5,
  secondsToDark: 3,
  /** What a room's light counts for, lit, in levels. */
  litRoomLevel: 0.5,
} as const;

/** Shares of luminance. Source: IEC 61966-2-1. */
const luminance = [0.2126, 0.7152, 0.0722] as const;

/** Mean luminance of all LEDs, of full white, 0 to 1. `flux` as ledFlux gives it; 0 without LEDs. */
export function meanLevel(flux: Float32Array): number {
  let sum = 0;
  for (let at = 0; at < flux.length; at += channelCount)
    sum += luminance[0] * flux[at]! + luminance[1] * flux[at + 1]! + luminance[2] * flux[at + 2]!;
  return flux.length > 0 ? sum / (flux.length / channelCount) : 0;
}

/** Stops by which an eye that had all the time it needs opens, above 0, or closes. @param roomLight 0 dark to 1 lit */
export function settledStops(level: number, roomLight: number): number {
  const { usualLevel, share, leastStops, mostStops, litRoomLevel } = adaptation;
  // A lit room has the usual exposure already: only what the LEDs add to it or leave out counts.
  const room = litRoomLevel * roomLight;
  const wished = share * Math.log2((usualLevel + room) / Math.max(1e-6, level + room));
  return Math.max(leastStops, Math.min(mostStops, wished));
}

/** Where the eye stands after so many seconds on its way to `settled`; it closes faster than it opens. */
export function adaptedStops(before: number, settled: number, seconds: number): number {
  const constant = settled < before ? adaptation.secondsToBright : adaptation.secondsToDark;
  return settled + (before - settled) * Math.exp(-Math.max(0, seconds) / constant);
}

/** One minute of arc: what a sound eye just tells apart (decimal acuity 1.0: from memory, as eye charts have it). */
const arcMinute = Math.PI / (180 * 60);

/** The smallest distance on the panel that is still seen from so many metres away, mm. */
export const resolvedMm = (metres: number): number => 1000 * metres * Math.tan(arcMinute);

/** A spot whose width at half height is what the eye just tells apart: its standard deviation, mm. A Gaussian's half width is 2.3548 of them. */
export const eyeBlurMm = (metres: number): number => resolvedMm(metres) / 2.3548;

/** The angle that a length takes up, seen square from its middle, degrees. */
export const angleDeg = (lengthMm: number, metres: number): number =>
  (2 * Math.atan(lengthMm / 2 / (1000 * metres)) * 180) / Math.PI;

/** How far eyes are from a screen on a desk (common practice, no source). */
export const screenMetres = 0.6;
/** CSS defines a pixel as 1/96 inch. Source: CSS Values and Units, absolute lengths. */
const pixelsPerMm = 96 / 25.4;

/** CSS pixels a millimetre of the panel takes on a screen `screenMetres` away, to look as large as from `metres` away. */
export const seenPixelsPerMm = (metres: number): number => (pixelsPerMm * screenMetres) / metres;
