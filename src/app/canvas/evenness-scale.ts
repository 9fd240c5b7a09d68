// Shades for the map of evenness: one hue from dark to bright, so that nobody needs to tell hues apart, in steps that look equal to the eye.
import chroma from 'chroma-js';

/** Light by mean that the darkest and the brightest shade stand for; what lies outside looks like them. */
export const evennessRange = { least: 0.2, most: 1.4 } as const;

/** Ends of the scale, of one hue in CIE L*a*b*. */
const ends = ['#0d1730', '#e4eefc'] as const;

/** So many shades from dark to bright, evenly spaced in lightness, as hexadecimal. */
export const evennessShades = (count: number): string[] =>
  chroma.scale([ends[0], '#2b6ea8', ends[1]]).mode('lab').correctLightness().colors(count);

const table = evennessShades(256).map((colour) => chroma(colour).rgb());

/** Red, green and blue, 0 to 255, of a place by its light divided by the mean. */
export function evennessColour(byMean: number): readonly [number, number, number] {
  const { least, most } = evennessRange;
  const share = Math.min(1, Math.max(0, (byMean - least) / (most - least)));
  return table[Math.round(share * (table.length - 1))]!;
}
