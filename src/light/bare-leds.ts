// The LEDs themselves, before any diffuser: squares of their own size where they sit, in the light that they give.
// Not here: drawing (src/app/glass), the light they throw (face.ts).
import { encodeSrgb, shoulder } from './screen.ts';
import { channelCount } from './sources.ts';

/** A 5050 body is 5.0 mm square (its name); what shines in it is round, about 3.6 mm wide (from memory of its drawings). */
export const bareLedMm = { body: 5, lit: 3.6 } as const;

/** Looked into, even a faint LED is bright: stops above the exposure for the sheet. Ours, set by eye. */
const stopsLookedInto = 2.5;

/** 8-bit red, green, blue of what shines in an LED at so many stops, from its flux. */
export function bareLedCodes(
  flux: Float32Array,
  led: number,
  exposureStops: number,
): readonly [number, number, number] {
  const gain = 2 ** (stopsLookedInto + exposureStops);
  const code = (channel: number): number =>
    Math.round(255 * encodeSrgb(shoulder(gain * flux[led * channelCount + channel]!)));
  return [code(0), code(1), code(2)];
}
