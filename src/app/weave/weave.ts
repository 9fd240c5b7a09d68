// The weave of a clip: time runs across, the area's LEDs run down in the area's order, each dot the colour that this LED has then. Made by the
// player itself from the clip alone, so the picture is what the wire would carry. Work comes as generators that yield after each moment: who runs
// them decides how long a slice lasts. Not here: the clock (loom.ts), React (use-weave.ts), drawing (weave-canvas.tsx).

import { channelLevels } from '../../catalogue/index.ts';
import { type Player, wireByteCount } from '../../lampshow/index.ts';
import { encodeSrgb, lightSources } from '../../light/index.ts';
import { areaLeds, type Layout } from '../../panel/index.ts';
import { frameAmps, type PanelNetwork, totalAmps } from '../../power/index.ts';
import { type ClipSource, clipShowData, loneShow } from './clip-source.ts';

export interface Weave {
  readonly columns: number;
  readonly rows: number;
  /** RGBA, row by row. */
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
}

/** Yields whenever it may be put aside. */
export type Work<T> = Generator<undefined, T, undefined>;

/** A clip is seldom wider on the screen than a few hundred pixels. */
export const mostColumns = 240;
/** More dots than a clip is high could not be told apart. */
export const mostRows = 48;

/** `count` whole numbers from 0 up to `of`, evenly: the middle of each of `count` equal parts. */
export const evenly = (count: number, of: number): number[] =>
  Array.from({ length: count }, (_, i) => Math.floor(((i + 0.5) * of) / count));

/** Moments of the columns, ms from the clip's start. */
export const columnMoments = (lengthMs: number): number[] =>
  evenly(Math.min(lengthMs, mostColumns), lengthMs);

/** LED numbers on the wire of the rows, from the beginning of the area's order to its end. */
export function rowWires({ layout, area }: Pick<ClipSource, 'layout' | 'area'>): number[] {
  const leds = [...areaLeds(layout, area)].sort((a, b) => a.place - b.place);
  return evenly(Math.min(leds.length, mostRows), leds.length).map((i) => leds[i]!.wire);
}

/** Light is proportional to the byte; a screen wants it encoded. */
const codes = Uint8Array.from({ length: 256 }, (_, byte) => Math.round(255 * encodeSrgb(byte / 255)));

const knownSources = new WeakMap<Layout, ReturnType<typeof lightSources>>();
function sourcesOf(layout: Layout): ReturnType<typeof lightSources> {
  const sources = knownSources.get(layout) ?? lightSources(layout);
  knownSources.set(layout, sources);
  return sources;
}

/** Between its first step and its last nobody else may use the player. */
export function* weaveClip(player: Player, source: ClipSource): Work<Weave> {
  const wires = rowWires(source);
  const data = clipShowData(source);
  const moments = data && wires.length > 0 ? columnMoments(source.clip.lengthMs) : [];
  const pixels = new Uint8ClampedArray(moments.length * wires.length * 4).fill(255);
  const sources = sourcesOf(source.layout);
  if (data) player.setShowData(data);
  for (const [column, ms] of moments.entries()) {
    const bytes = player.frame(loneShow, ms);
    for (const [row, wire] of wires.entries()) {
      const { colourOrder, firstByte } = sources[wire]!;
      const [red, green, blue, white] = channelLevels(colourOrder, bytes, firstByte);
      // The colours with white taken out and put in again never exceed a byte.
      pixels.set(
        [codes[red + white]!, codes[green + white]!, codes[blue + white]!],
        (row * moments.length + column) * 4,
      );
    }
    yield;
  }
  return { columns: moments.length, rows: wires.length, pixels };
}

/**
 * What the clip alone draws at most above the dark panel, in amperes, without the current limit, at these moments (ms from its start).
 * Between its first step and its last nobody else may use the player.
 */
export function* clipPeakAmps(
  player: Player,
  source: ClipSource,
  panel: PanelNetwork,
  moments: Iterable<number>,
): Work<number> {
  const data = clipShowData(source);
  if (!data) return 0;
  player.setShowData(data);
  const ledAmps = new Float64Array(panel.leds.length);
  const darkAmps = totalAmps(frameAmps(panel, new Uint8Array(wireByteCount(source.layout)), ledAmps));
  let peakAmps = 0;
  for (const ms of moments) {
    const amps = totalAmps(frameAmps(panel, player.frame(loneShow, ms), ledAmps));
    peakAmps = Math.max(peakAmps, amps - darkAmps);
    yield;
  }
  return peakAmps;
}

/** Moments (ms from the clip's start) at which the board draws frames while the clip plays. */
export function frameMoments(
  { startMs, lengthMs }: { readonly startMs: number; readonly lengthMs: number },
  frameMs: number,
  showMs: number,
): number[] {
  const moments: number[] = [];
  const endMs = Math.min(showMs, startMs + lengthMs);
  for (let ms = Math.ceil(startMs / frameMs) * frameMs; ms < endMs; ms += frameMs) moments.push(ms - startMs);
  return moments;
}
