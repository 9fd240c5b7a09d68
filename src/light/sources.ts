// The LEDs as sources of light: where each one is, and which colours its wire bytes mean.
// Not here: LEDs outside every chain. They get no data, so they stay dark.
import { bytesPerLed, type ColourOrder, channelLevels } from '../catalogue/index.ts';
import type { Layout, Led, PointMm } from '../panel/index.ts';

/** A screen mixes three colours. */
export const channelCount = 3;

export interface LightSource extends PointMm {
  /** What its bytes on the wire mean. */
  readonly colourOrder: ColourOrder;
  /** Where they begin in a frame. */
  readonly firstByte: number;
  /** Whether data reaches it; behind a joint at the wrong end all is dark. */
  readonly isReached: boolean;
}

const unlit = [0, 0, 0, 0] as const;

/** Every LED on the wire, in the order of the wire. */
export function lightSources(layout: Layout): LightSource[] {
  let firstByte = 0;
  const sources: LightSource[] = [];
  for (const { runs, darkFrom } of layout.lines)
    for (const [place, { wireLeds, strip }] of runs.entries())
      for (const { xMm, yMm } of wireLeds) {
        const isReached = darkFrom === undefined || place < darkFrom;
        sources.push({ xMm, yMm, colourOrder: strip.colourOrder, firstByte, isReached });
        firstByte += bytesPerLed(strip.colourOrder);
      }
  return sources;
}

/** The LEDs themselves, in the same order. */
export const ledsOnWire = ({ lines }: Layout): Led[] =>
  lines.flatMap(({ runs }) => runs.flatMap(({ wireLeds }) => wireLeds));

/** Bytes of a frame for these sources, which must be all of a layout. */
export function frameByteCount(sources: readonly LightSource[]): number {
  const last = sources.at(-1);
  return last ? last.firstByte + bytesPerLed(last.colourOrder) : 0;
}

/**
 * Flux of each LED as red, green, blue: 1 unit a channel at full white. PWM is linear, so a byte's share is byte / 255.
 * A white die at full level gives what the three colours together would, since the player takes from them what it gives to it.
 * `wireBytes` is one frame as it goes out.
 */
export function ledFlux(
  sources: readonly LightSource[],
  wireBytes: Uint8Array,
  into: Float32Array = new Float32Array(sources.length * channelCount),
): Float32Array {
  if (wireBytes.length !== frameByteCount(sources))
    throw new Error(`a frame of ${sources.length} LEDs has ${wireBytes.length} bytes`);
  for (const [led, { colourOrder, firstByte, isReached }] of sources.entries()) {
    const [red, green, blue, white] = isReached ? channelLevels(colourOrder, wireBytes, firstByte) : unlit;
    into[led * channelCount] = (red + white) / 255;
    into[led * channelCount + 1] = (green + white) / 255;
    into[led * channelCount + 2] = (blue + white) / 255;
  }
  return into;
}
