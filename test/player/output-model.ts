// The output stage once more, from its rules alone and in its own way: with fractions where the player has tables and products of bytes.
// Rules: gamma and white balance by round(255 x balance x (level / 255) ^ gamma); white is the least of the three and taken from them; every
// byte x (scale + 1) / 256, rounded down; bytes in the order that the strip's letters name. Currents: src/catalogue/strips.ts.
// Not here: anything read from the show data, so that a fault of the compiler shows as well.
import type { StripData } from '../../src/project/index.ts';

export interface OutputLed {
  readonly strip: StripData;
  /** Colour levels before the output stage. */
  readonly red: number;
  readonly green: number;
  readonly blue: number;
}

export interface OutputRules {
  readonly gamma: Readonly<Record<'red' | 'green' | 'blue', number>>;
  readonly whiteBalance?: StripData['whiteBalance'];
}

/** Levels by letter at full brightness. */
export function fullLevels(
  { strip, ...led }: OutputLed,
  rules: OutputRules,
): Readonly<Record<string, number>> {
  const balance = strip.whiteBalance ?? rules.whiteBalance ?? { red: 1, green: 1, blue: 1 };
  const corrected = (['red', 'green', 'blue'] as const).map((name) =>
    Math.round(255 * balance[name] * (led[name] / 255) ** rules.gamma[name]),
  );
  const white = strip.colourOrder.includes('W') ? Math.min(...corrected) : 0;
  const [R, G, B] = corrected.map((level) => level - white);
  return { R: R!, G: G!, B: B!, W: white };
}

/** One LED's bytes on the wire. */
export const ledBytes = (led: OutputLed, rules: OutputRules, scale: number): number[] => {
  const levels = fullLevels(led, rules);
  return [...led.strip.colourOrder].map((letter) => Math.floor((levels[letter]! * (scale + 1)) / 256));
};

/** What the channels of LEDs draw at these levels, mA; without the chips' own current. */
export const channelMilliamps = (strip: StripData, levels: Readonly<Record<string, number>>): number => {
  const colours = [levels['R']!, levels['G']!, levels['B']!];
  const colour =
    strip.currentModel === 'largest' ? Math.max(...colours) : colours.reduce((sum, one) => sum + one, 0);
  return (
    (colour * strip.channelMilliamps + levels['W']! * (strip.whiteMilliamps ?? strip.channelMilliamps)) / 255
  );
};

/** The bytes that carry these levels, taken apart by letter again. */
export const levelsOfBytes = (
  strip: StripData,
  bytes: readonly number[],
): Readonly<Record<string, number>> => ({
  W: 0,
  ...Object.fromEntries([...strip.colourOrder].map((letter, place) => [letter, bytes[place]!])),
});
