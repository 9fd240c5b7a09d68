// How even an area looks when all its LEDs are white: the least light on the diffuser's face along its runs, divided by the mean. Seen along the
// runs, since across them the artwork decides how wide a glow should be.
// Not here: the light over the whole opening (evenness-map.ts), endless rows and grids (evenness-ripple.ts), walls, channel lips, the sheet's spread (which only helps). Source of the light: diffuser.ts.
import type { AreaLed, Layout } from '../panel/index.ts';
import { fluxPerMm2 } from './diffuser.ts';

/** Places looked at from one LED to the next; a ripple has its ends over LEDs and half way between. */
const placesPerPitch = 4;

export interface Place {
  readonly xMm: number;
  readonly yMm: number;
}

/** Places along the area's runs, from the first LED of each stretch to its last. */
export function placesAlong(layout: Layout, area: readonly AreaLed[]): Place[] {
  const leds = area.map(({ wire }) => layout.wireLeds[wire]!);
  return leds.flatMap((led, index) => {
    const next = leds[index + 1];
    if (!next || next.run !== led.run || next.led !== led.led + 1) return [led];
    return Array.from({ length: placesPerPitch }, (_, step) => ({
      xMm: led.xMm + ((next.xMm - led.xMm) * step) / placesPerPitch,
      yMm: led.yMm + ((next.yMm - led.yMm) * step) / placesPerPitch,
    }));
  });
}

/** Light per mm2 on the diffuser's face at a place, every LED shining with one unit of flux. */
export const lightAt = (leds: readonly Place[], { xMm, yMm }: Place, airGapMm: number): number =>
  leds.reduce((sum, led) => sum + fluxPerMm2((led.xMm - xMm) ** 2 + (led.yMm - yMm) ** 2, airGapMm), 0);

/** Least by mean of the light at these places with all `leds` white. 1 is perfectly even; 0 without a place. */
export function evenness(leds: readonly Place[], places: readonly Place[], airGapMm: number): number {
  if (places.length === 0) return 0;
  const light = places.map((place) => lightAt(leds, place, airGapMm));
  const mean = light.reduce((sum, value) => sum + value, 0) / light.length;
  return Math.min(...light) / mean;
}
