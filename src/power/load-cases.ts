// Load cases: how many amperes each LED draws when all are white, when the limiter holds them down, and in a lampshow's frames.
// Not here: volts (panel-network.ts), and the limiter itself, which is the player's.
// Currents are constant, as the chips' data sheets give them: real LEDs draw less when starved, so the figures are on the safe side.
import {
  bytesPerLed,
  channelLevels,
  ledMilliamps,
  whiteDieMilliamps,
  whitePlace,
  worstLevels,
} from '../catalogue/index.ts';
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

/** What all LEDs together draw for a frame's bytes: totalAmps(frameAmps(...)), many times as fast, for thousands of frames. */
export function ampsMeter(panel: PanelNetwork): (bytes: Uint8Array) => number {
  const steady = totalAmps(frameAmps(panel, new Uint8Array(wireBytes(panel))));
  const perLevel: number[] = [];
  /** LEDs whose colours share a string: only the largest one counts. */
  const shared: { readonly at: number; readonly strip: StripData }[] = [];
  for (const { strip, isOnWire, isReached } of panel.leds) {
    if (!isOnWire) continue;
    const at = perLevel.length;
    const isShared = strip.currentModel === 'largest';
    if (isShared && isReached) shared.push({ at, strip });
    for (let place = 0; place < bytesPerLed(strip.colourOrder); place++) {
      const isWhite = place === whitePlace(strip.colourOrder);
      const full = isWhite ? whiteDieMilliamps(strip) : isShared ? 0 : strip.channelMilliamps;
      perLevel.push(isReached ? full / 255 / 1000 : 0);
    }
  }
  return (bytes) => {
    let amps = steady;
    for (let i = 0; i < perLevel.length; i++) amps += perLevel[i]! * bytes[i]!;
    for (const { at, strip } of shared) {
      const [a, b, c] = channelLevels(strip.colourOrder, bytes, at);
      amps += (strip.channelMilliamps * Math.max(a, b, c)) / 255 / 1000;
    }
    return amps;
  };
}

const wireBytes = ({ leds }: PanelNetwork): number =>
  leds.reduce((sum, { isOnWire, strip }) => sum + (isOnWire ? bytesPerLed(strip.colourOrder) : 0), 0);

export interface WorstSecond {
  /** Mean over that second. */
  readonly amps: number;
  /** Frame in which it begins. */
  readonly fromFrame: number;
}

const secondMs = 1000;

/**
 * The second that draws most on average, of all there are: it may begin and end within frames, each of which lasts `frameMs` > 0. The mean changes
 * evenly while the second slides, so it is largest where the second begins or ends with a frame.
 * @param repeats whether the first frame follows the last one again, as in an attract mode: then the second may go across that join, also more than once. Where they
 *   don't repeat and last no second altogether, it is the mean of all.
 * @returns undefined where there is no frame
 */
export function worstSecond(
  drawnAmps: ArrayLike<number>,
  frameMs: number,
  repeats: boolean,
): WorstSecond | undefined {
  const { length } = drawnAmps;
  if (length === 0) return undefined;
  /** Ampere-milliseconds before each frame. */
  const before = new Float64Array(length + 1);
  for (let frame = 0; frame < length; frame++)
    before[frame + 1] = before[frame]! + drawnAmps[frame]! * frameMs;
  const lastsMs = length * frameMs;
  if (!repeats && lastsMs <= secondMs) return { amps: before[length]! / lastsMs, fromFrame: 0 };
  const drawnUntil = (ms: number): number => {
    const rounds = Math.floor(ms / lastsMs);
    const restMs = ms - rounds * lastsMs;
    const frame = Math.min(length - 1, Math.floor(restMs / frameMs));
    return rounds * before[length]! + before[frame]! + (restMs - frame * frameMs) * drawnAmps[frame]!;
  };
  let worst: WorstSecond | undefined;
  const look = (fromMs: number): void => {
    if (!repeats && (fromMs < 0 || fromMs + secondMs > lastsMs)) return;
    const amps = (drawnUntil(fromMs + secondMs) - drawnUntil(fromMs)) / secondMs;
    if (worst === undefined || amps > worst.amps)
      worst = { amps, fromFrame: Math.floor((((fromMs % lastsMs) + lastsMs) % lastsMs) / frameMs) };
  };
  for (let frame = 0; frame < length; frame++) {
    look(frame * frameMs);
    look((frame + 1) * frameMs - secondMs);
  }
  return worst;
}

export interface ShowLoad {
  readonly frameCount: number;
  readonly peakAmps: number;
  /** The first frame that draws so much. */
  readonly peakFrame: number;
  readonly averageAmps: number;
  /** The same in watts, at each LED's supply: what is lost in wires is drawn as well. */
  readonly averageWatts: number;
  /** Over all frames and all LEDs. */
  readonly lowestVolts: number;
  /** Index in the list of LEDs. */
  readonly lowestLed: number;
  readonly lowestFrame: number;
}

/** With the time that frames take. */
export interface TimedShowLoad extends ShowLoad {
  /** Largest mean over a second; the show is taken as repeating (see worstSecond). */
  readonly worstSecondAmps: number;
  /** Frame in which that second begins. */
  readonly worstSecondFrame: number;
}

/** By LED: the volts of the supply that its zone hangs on; the first one's where none feeds it. */
function supplyVoltsByLed({ leds, zones, feeds, supplies }: PanelNetwork): number[] {
  const byZone = zones.map((zone) => {
    const first = zone.feeds[0];
    return supplies[first === undefined ? 0 : feeds[first]!.supply]!.volts;
  });
  return leds.map(({ zone }) => byZone[zone]!);
}

/**
 * What a lampshow asks of the panel, frame by frame; undefined where there is no frame or no LED.
 * @param frameMs how long each frame lasts, > 0; without it there are no seconds
 */
export function showLoad(
  panel: PanelNetwork,
  frames: Iterable<Uint8Array>,
  frameMs: number,
): TimedShowLoad | undefined;
export function showLoad(panel: PanelNetwork, frames: Iterable<Uint8Array>): ShowLoad | undefined;
export function showLoad(
  panel: PanelNetwork,
  frames: Iterable<Uint8Array>,
  frameMs?: number,
): ShowLoad | TimedShowLoad | undefined {
  const ledAmps = new Float64Array(panel.leds.length);
  const volts = roomForVolts(panel);
  const supplyVolts = supplyVoltsByLed(panel);
  const amps: number[] = [];
  let sumWatts = 0;
  let peakFrame = 0;
  let lowest: { volts: number; led: number; frame: number } | undefined;
  for (const bytes of frames) {
    const frame = amps.push(totalAmps(frameAmps(panel, bytes, ledAmps))) - 1;
    if (amps[frame]! > amps[peakFrame]!) peakFrame = frame;
    for (let led = 0; led < ledAmps.length; led++) sumWatts += ledAmps[led]! * supplyVolts[led]!;
    const least = lowestLed(solvePanel(panel, ledAmps, volts).ledVolts);
    if (least && (lowest === undefined || least.volts < lowest.volts)) lowest = { ...least, frame };
  }
  if (lowest === undefined) return undefined;
  const load: ShowLoad = {
    frameCount: amps.length,
    peakAmps: amps[peakFrame]!,
    peakFrame,
    averageAmps: amps.reduce((sum, one) => sum + one, 0) / amps.length,
    averageWatts: sumWatts / amps.length,
    lowestVolts: lowest.volts,
    lowestLed: lowest.led,
    lowestFrame: lowest.frame,
  };
  const second = frameMs === undefined ? undefined : worstSecond(amps, frameMs, true);
  return second ? { ...load, worstSecondAmps: second.amps, worstSecondFrame: second.fromFrame } : load;
}
