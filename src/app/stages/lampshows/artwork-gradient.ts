// A gradient out of the artwork's colours under an area: as they lie along the area's order, so that light in it looks like the print it shines through.
// Pure; the colours come from outside.
import chroma from 'chroma-js';
import { areaLeds, type Layout } from '../../../panel/index.ts';
import type { Area } from '../../../project/index.ts';
import type { ColourAt } from '../../canvas/colour-area.ts';
import type { Stop } from './gradient-stops.ts';

/** More can't be told apart across one area. */
const mostStops = 5;
/** Print is dark because it takes light away; the light behind it must not be: its lightest colour gets this lightness (OKLab). */
const lightest = 0.82;

/** Empty where the area has no LED. Colours are mixed and made lighter in OKLab, each with its own hue. */
export function artworkStops(layout: Layout, area: Area, colourAt: ColourAt): Stop[] {
  const leds = [...areaLeds(layout, area)].sort((a, b) => a.place - b.place);
  const count = Math.min(mostStops, leds.length);
  const means = Array.from({ length: count }, (_, i) => {
    const part = leds.slice(
      Math.floor((i * leds.length) / count),
      Math.floor(((i + 1) * leds.length) / count),
    );
    const colours = part.map(({ wire }) => chroma.rgb(...colourAt(layout.wireLeds[wire]!)));
    return colours.length === 1 ? colours[0]! : chroma.average(colours, 'oklab');
  });
  const most = Math.max(0.01, ...means.map((colour) => colour.oklch()[0]));
  return means.map((colour, i) => {
    const [lightness, strength, hue] = colour.oklch();
    const scale = lightest / most;
    // A grey has no hue. Strength grows with lightness, as light of one colour does when there is more of it.
    const lit = chroma.oklch(lightness * scale, strength * scale, Number.isNaN(hue) ? 0 : hue);
    return { at: count === 1 ? 0 : Number((i / (count - 1)).toFixed(3)), colour: lit.hex() };
  });
}
