// Light of one LED on the diffuser's face. A pure formula; sums over LEDs are in light-map.ts.
// Not here: walls, channel lips, the sheet's own spread, the artwork's transmission.
// Source: Lambertian emitter under a parallel plane, E = (flux / pi) z^2 / (r^2 + z^2)^2, the plane's own cosine included.

/** Share of an LED's flux that falls on each mm2, `acrossMm2` being the square of the distance along the diffuser. */
export function fluxPerMm2(acrossMm2: number, airGapMm: number): number {
  const gapMm2 = airGapMm * airGapMm;
  const sum = acrossMm2 + gapMm2;
  return gapMm2 / (Math.PI * sum * sum);
}

/** Distance along the diffuser at which an LED's light has fallen to a share (above 0, at most 1) of what it is right above it. */
export const reachMm = (shareOfPeak: number, airGapMm: number): number =>
  airGapMm * Math.sqrt(1 / Math.sqrt(shareOfPeak) - 1);
