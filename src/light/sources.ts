// The LEDs as sources of light: where each one is, and which colour each of its three wire bytes means.
// Not here: LEDs outside every chain. They get no data, so they stay dark.
import { wireChannels } from '../catalogue/index.ts';
import type { Layout, PointMm } from '../panel/index.ts';

/** The player sends 24 bits an LED; a screen mixes three colours. */
export const channelCount = 3;

export interface LightSource extends PointMm {
  /** For wire byte 0, 1, 2: 0 red, 1 green, 2 blue. */
  readonly channels: readonly [number, number, number];
}

/** Every LED on the wire, in the order of the wire. */
export const lightSources = (layout: Layout): LightSource[] =>
  layout.lines.flatMap((line) =>
    line.runs.flatMap(({ leds, strip }) => {
      const channels = wireChannels(strip.colourOrder);
      return leds.map(({ xMm, yMm }) => ({ xMm, yMm, channels }));
    }),
  );

/**
 * Flux of each LED as red, green, blue: 1 unit a channel at full white. PWM is linear, so a byte's share is byte / 255.
 * `wireBytes` is one frame as it goes out.
 */
export function ledFlux(
  sources: readonly LightSource[],
  wireBytes: Uint8Array,
  into: Float32Array = new Float32Array(sources.length * channelCount),
): Float32Array {
  if (wireBytes.length !== sources.length * channelCount)
    throw new Error(`a frame of ${sources.length} LEDs has ${wireBytes.length} bytes`);
  for (const [led, { channels }] of sources.entries()) {
    const first = led * channelCount;
    for (let place = 0; place < channelCount; place++)
      into[first + channels[place]!] = wireBytes[first + place]! / 255;
  }
  return into;
}
