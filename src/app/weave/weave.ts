// The weave of a clip: time runs across, the area's LEDs run down in the area's order, each dot the colour that this LED has then. Made by the
// player itself from the clip alone, so the picture is what the wire would carry. Work comes as generators that yield after each moment: who runs
// them decides how long a slice lasts. Not here: the clock (loom.ts), React (use-weave.ts), drawing (weave-canvas.tsx).

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

/** Columns of a whole clip where it is no wider on the screen than that; a wider one gets a part of its own for what is in view. */
export const mostColumns = 240;
/** More dots than a clip is high could not be told apart. */
export const mostRows = 48;

/** `count` whole numbers from 0 up to `of`, evenly: the middle of each of `count` equal parts. */
export const evenly = (count: number, of: number): number[] =>
  Array.from({ length: count }, (_, i) => Math.floor(((i + 0.5) * of) / count));

/** Some columns of a clip that is divided into so many: from the first one up to the one before `toColumn`. */
export interface WeavePart {
  readonly columns: number;
  readonly fromColumn: number;
  readonly toColumn: number;
}

/** The whole clip, in few columns. The player knows no moments between milliseconds. */
export const wholeClip = (lengthMs: number): WeavePart => {
  const columns = Math.min(lengthMs, mostColumns);
  return { columns, fromColumn: 0, toColumn: columns };
};

/** Parts begin and end on multiples of this, so that a small scroll needs no new one. */
const blockColumns = 128;

/**
 * A column for each pixel of what is in view of a clip; undefined where the whole clip's few columns do.
 * @param clipPx how wide the whole clip is on the screen
 * @param fromPx from where it is in view, counted from its left edge
 * @param toPx up to where it is in view
 */
export function partInView(
  lengthMs: number,
  clipPx: number,
  fromPx: number,
  toPx: number,
): WeavePart | undefined {
  const columns = Math.min(lengthMs, Math.round(clipPx));
  if (columns <= mostColumns || toPx <= 0 || fromPx >= clipPx) return undefined;
  const perPx = columns / clipPx;
  const from = Math.floor((Math.max(0, fromPx) * perPx) / blockColumns) * blockColumns;
  const to = Math.ceil((Math.min(clipPx, toPx) * perPx) / blockColumns) * blockColumns;
  return { columns, fromColumn: Math.min(from, columns - 1), toColumn: Math.min(to, columns) };
}

/** Moments of a part's columns, ms from the clip's start: each in the middle of its column. */
export const columnMoments = (
  lengthMs: number,
  { columns, fromColumn, toColumn }: WeavePart = wholeClip(lengthMs),
): number[] =>
  Array.from({ length: toColumn - fromColumn }, (_, i) =>
    Math.floor(((fromColumn + i + 0.5) * lengthMs) / columns),
  );

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

/** Where on the wire an LED's channels lie. */
interface Tap {
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  readonly white: number | undefined;
}

function tapOf({ colourOrder, firstByte }: ReturnType<typeof lightSources>[number]): Tap {
  const place = (letter: string) => firstByte + colourOrder.indexOf(letter);
  const white = colourOrder.includes('W') ? place('W') : undefined;
  return { red: place('R'), green: place('G'), blue: place('B'), white };
}

const opaque = 255;

/** Between its first step and its last nobody else may use the player. */
export function* weaveClip(
  player: Player,
  source: ClipSource,
  part: WeavePart = wholeClip(source.clip.lengthMs),
): Work<Weave> {
  const wires = rowWires(source);
  const data = clipShowData(source);
  const moments = data && wires.length > 0 ? columnMoments(source.clip.lengthMs, part) : [];
  const columns = moments.length;
  const pixels = new Uint8ClampedArray(columns * wires.length * 4).fill(opaque);
  const leds = sourcesOf(source.layout);
  const taps = wires.map((wire) => tapOf(leds[wire]!));
  if (data) player.setShowData(data);
  for (const [column, ms] of moments.entries()) {
    const bytes = player.frame(loneShow, ms);
    let at = 4 * column;
    for (const { red, green, blue, white } of taps) {
      // The colours with white taken out and put in again never exceed a byte.
      const extra = white === undefined ? 0 : bytes[white]!;
      pixels[at] = codes[bytes[red]! + extra]!;
      pixels[at + 1] = codes[bytes[green]! + extra]!;
      pixels[at + 2] = codes[bytes[blue]! + extra]!;
      at += 4 * columns;
    }
    yield;
  }
  return { columns, rows: wires.length, pixels };
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
