// Load cases: how many amperes each LED draws when all are white, when the limiter holds them down, and in a lampshow's frames.
// Not here: volts (panel-network.ts), and the limiter itself, which is the player's.
// Currents are constant, as the chips' data sheets give them: real LEDs draw less when starved, so the figures are on the safe side.
import { bytesPerLed, channelLevels, ledMilliamps, worstLevels } from '../catalogue/index.ts';
import type { StripData } from '../project/index.ts';
import { isFed, type PanelNetwork } from './panel-network.ts';
import { lowestLed, roomForVolts, solvePanel } from './panel-solve.ts';

const dark = [0, 0, 0] as const;

export const totalAmps = (ledAmps: Float64Array): number => ledAmps.reduce((sum, amps) => sum + amps, 0);

/** What the LEDs that take data draw together; the limiter counts no others. */
export const wireAmps = (panel: PanelNetwork, ledAmps: Float64Array): number =>
  ledAmps.reduce((sum, amps, led) => (panel.leds[led]!.isOnWire ? sum + amps : sum), 0);

/**
 * Whether an LED belongs to the panel's circuit: on a chain (also while its feed is still missing, so that a supply can be chosen
 * first), or fed. A run that has neither is a piece of strip that isn't connected to anything.
 */
const isInCircuit = (panel: PanelNetwork, led: number): boolean =>
  led < panel.chainLedCount || isFed(panel, led);

type Levels = ReturnType<typeof worstLevels> | typeof dark;

/** Amperes of each LED for levels from 0 to 255. */
const steadyAmps = (panel: PanelNetwork, levelsOf: (strip: StripData) => Levels): Float64Array =>
  Float64Array.from(panel.leds, ({ strip }, led) =>
    isInCircuit(panel, led) ? ledMilliamps(strip, levelsOf(strip)) / 1000 : 0,
  );

/**
 * Worst case: every LED white, spare and dead ones and those outside every chain too (they can fail lit); no limiter. An LED with a white die
 * counts with the colour that draws most of all that the player can send, which may be two colours and no white (worstLevels).
 */
export const whiteAmps = (panel: PanelNetwork): Float64Array => steadyAmps(panel, worstLevels);

/** Nothing lit, the chips on. */
export const darkAmps = (panel: PanelNetwork): Float64Array => steadyAmps(panel, () => dark);

/**
 * White held down by the player's limiter: the chips keep their quiescent current and every channel is scaled alike, so that the
 * LEDs on the wire draw `limitAmps` together. LEDs outside every chain get no data and stay dark.
 */
export function limitedAmps(panel: PanelNetwork, limitAmps: number): Float64Array {
  const full = whiteAmps(panel);
  const quiescent = darkAmps(panel);
  const quiescentTotal = wireAmps(panel, quiescent);
  const channelTotal = wireAmps(panel, full) - quiescentTotal;
  const scale = channelTotal > 0 ? Math.min(1, Math.max(0, (limitAmps - quiescentTotal) / channelTotal)) : 0;
  return quiescent.map((amps, led) =>
    panel.leds[led]!.isOnWire ? amps + scale * (full[led]! - amps) : amps,
  );
}

/** Amperes of each LED for one frame's bytes as they go out. LEDs outside every chain stay dark. */
export function frameAmps(
  panel: PanelNetwork,
  bytes: Uint8Array,
  into = new Float64Array(panel.leds.length),
): Float64Array {
  let at = 0;
  for (const [led, { strip, isOnWire, isReached }] of panel.leds.entries()) {
    if (isOnWire) {
      const levels = isReached ? channelLevels(strip.colourOrder, bytes, at) : dark;
      into[led] = ledMilliamps(strip, levels) / 1000;
      at += bytesPerLed(strip.colourOrder);
    } else into[led] = isInCircuit(panel, led) ? ledMilliamps(strip, dark) / 1000 : 0;
  }
  if (bytes.length !== at) throw new Error(`a frame of ${panel.wireLedCount} LEDs has ${bytes.length} bytes`);
  return into;
}

export interface ShowLoad {
  readonly frameCount: number;
  readonly peakAmps: number;
  readonly averageAmps: number;
  /** Over all frames and all LEDs. */
  readonly lowestVolts: number;
  /** Index in the list of LEDs. */
  readonly lowestLed: number;
  readonly lowestFrame: number;
}

/** What a lampshow asks of the panel, frame by frame; undefined where there is no frame or no LED. */
export function showLoad(panel: PanelNetwork, frames: Iterable<Uint8Array>): ShowLoad | undefined {
  const ledAmps = new Float64Array(panel.leds.length);
  const volts = roomForVolts(panel);
  let frameCount = 0;
  let peakAmps = 0;
  let sumAmps = 0;
  let lowest: { volts: number; led: number; frame: number } | undefined;
  for (const bytes of frames) {
    const amps = totalAmps(frameAmps(panel, bytes, ledAmps));
    peakAmps = Math.max(peakAmps, amps);
    sumAmps += amps;
    const least = lowestLed(solvePanel(panel, ledAmps, volts).ledVolts);
    if (least && (lowest === undefined || least.volts < lowest.volts))
      lowest = { ...least, frame: frameCount };
    frameCount++;
  }
  if (lowest === undefined) return undefined;
  return {
    frameCount,
    peakAmps,
    averageAmps: sumAmps / frameCount,
    lowestVolts: lowest.volts,
    lowestLed: lowest.led,
    lowestFrame: lowest.frame,
  };
}
