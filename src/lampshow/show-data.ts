// The show compiler: a project to the show data that the player plays, byte for byte as firmware-templates/player/show_data.h says.
// Only areas and gradients that some clip uses go in, and equal tables go in once, since every byte is flash on the board.
// Not here: effects' parameters (effects.ts), prediction of speed (frame-time.ts), which needs no bytes.
import { boards, type ColourOrder, rowById, wireChannels } from '../catalogue/index.ts';
import { areaLeds, type Layout, type Led } from '../panel/index.ts';
import type { Blend, Clip, Lampshow, Project, StripData } from '../project/index.ts';
import { ByteWriter } from './byte-writer.ts';
import { type EffectScale, effectBytes, parameterBytes, positionUnit } from './effects.ts';
import { gammaTable } from './gamma.ts';
import { gradientPieces } from './gradients.ts';

/** Values of show_data.h. */
export const showDataMagic = 0x4c57;
export const showDataFormat = 1;
export const headerSize = 31;
/** Places of show_data.h's header that are filled in when their table is written. */
const headerAt = {
  lines: 10,
  segments: 12,
  positions: 14,
  areas: 16,
  gradients: 18,
  shows: 20,
  gammaPages: 22,
  plainPage: 30,
} as const;
export const clipSize = 17 + parameterBytes;
const blendNumbers: Readonly<Record<Blend, number>> = { over: 0, add: 1, 'brighter-wins': 2, tint: 3 };
const pageBytes = 256;
/** Offsets are 16 bits. */
const mostBytes = 65_536;
const mostSpanLeds = 255;

/** Neighbours on one data line with one colour order and one kind of chip. */
export interface Segment {
  readonly line: number;
  readonly firstLed: number;
  readonly ledCount: number;
  readonly strip: StripData;
}

/** The segments of all lines in wire order. */
export function segmentsOf(layout: Layout): Segment[] {
  const segments: Segment[] = [];
  let firstLed = 0;
  for (const [line, placed] of layout.lines.entries())
    for (const { strip, run } of placed.runs) {
      const last = segments.at(-1);
      const joins =
        last?.line === line &&
        last.strip.colourOrder === strip.colourOrder &&
        last.strip.channelMilliamps === strip.channelMilliamps &&
        last.strip.currentModel === strip.currentModel;
      if (joins) segments[segments.length - 1] = { ...last, ledCount: last.ledCount + run.ledCount };
      else segments.push({ line, firstLed, ledCount: run.ledCount, strip });
      firstLed += run.ledCount;
    }
  return segments;
}

/** The segments of those lines that have more than one: lines of several colour orders or kinds of chip. */
export const mixedSegments = (segments: readonly Segment[]): Segment[] =>
  segments.filter(({ line }, i) => segments[i - 1]?.line === line || segments[i + 1]?.line === line);

/** A piece of an area that lies together on the wire. */
export interface Span {
  readonly firstLed: number;
  readonly ledCount: number;
  readonly segment: Segment;
}

/** An area's LEDs, in wire order, as spans that cross no segment and fit one byte. */
export function spansOf(wires: readonly number[], segments: readonly Segment[]): Span[] {
  const spans: Span[] = [];
  let s = 0;
  for (const wire of wires) {
    while (segments[s] && wire >= segments[s]!.firstLed + segments[s]!.ledCount) s++;
    const segment = segments[s]!;
    const last = spans.at(-1);
    const joins =
      last?.segment === segment && last.firstLed + last.ledCount === wire && last.ledCount < mostSpanLeds;
    if (joins) spans[spans.length - 1] = { ...last, ledCount: last.ledCount + 1 };
    else spans.push({ firstLed: wire, ledCount: 1, segment });
  }
  return spans;
}

/** Clips in the order in which they are drawn: rows from the first to the last, each by time. Those after the show's end never play. */
export const clipsInOrder = (show: Lampshow): Clip[] =>
  show.rows.flatMap((row) =>
    row.clips.filter((clip) => clip.startMs < show.lengthMs).sort((a, b) => a.startMs - b.startMs),
  );

export interface ShowData {
  readonly bytes: Uint8Array;
  /** Show id to the player's number. */
  readonly showNumbers: ReadonlyMap<string, number>;
  readonly ledCount: number;
  readonly frameMs: number;
}

export interface ShowDataOptions {
  /** The show that plays after power-up; the attract mode where absent. */
  readonly start?: string;
  readonly frameMs: number;
}

export const effectScale = (project: Pick<Project, 'panel'>): EffectScale => ({
  unitMm: Math.hypot(project.panel.widthMm, project.panel.heightMm) / 255,
});

/** Current of all LEDs with every channel dark, mA. */
const quiescentMilliamps = (layout: Layout): number =>
  layout.lines
    .flatMap((line) => line.runs)
    .reduce((sum, { run, strip }) => sum + run.ledCount * strip.quiescentMilliamps, 0);

interface Port {
  readonly address: number;
  readonly mask: number;
}

/** Register and bit of a pin. A pin the board doesn't have is a finding elsewhere; the data then names no pin at all. */
function portOf(project: Project, pin: number | undefined): Port {
  const row = rowById(boards, project.board.id)?.pins.find((one) => one.pin === pin);
  return row ? { address: row.portAddress, mask: 1 << row.bit } : { address: 0, mask: 0 };
}

/** Colour orders in use, in the order of their numbers: areas and gradients name them by it. */
const ordersOf = (segments: readonly Segment[]): ColourOrder[] => [
  ...new Set(segments.map((segment) => segment.strip.colourOrder)),
];

/** Appends `bytes` unless the same bytes were appended by this function before; returns their offset. */
function once(to: ByteWriter, known: Map<string, number>, bytes: Uint8Array): number {
  const key = bytes.join();
  const at = known.get(key) ?? to.length;
  if (!known.has(key)) {
    known.set(key, at);
    to.append(bytes);
  }
  return at;
}

/** Writes a table of offsets whose entries are set later. */
function offsetTable(to: ByteWriter, count: number): (index: number) => void {
  const at = to.length;
  for (let i = 0; i < count; i++) to.u16(0);
  return (index) => to.setOffset(at + 2 * index, to.length);
}

function writeLines(to: ByteWriter, project: Project, layout: Layout, segments: readonly Segment[]): void {
  to.setOffset(headerAt.lines, to.length);
  for (const [index, line] of layout.lines.entries()) {
    const port = portOf(project, line.pin);
    to.u16(line.ledCount);
    to.u16(port.address);
    to.u8(port.mask);
    to.u8(segments.filter((segment) => segment.line === index).length);
  }
  const unit = currentUnitMilliamps(segments);
  to.setOffset(headerAt.segments, to.length);
  for (const { ledCount, strip } of segments) {
    to.u16(ledCount);
    to.append(wireChannels(strip.colourOrder));
    to.u8(Math.min(255, Math.ceil(strip.channelMilliamps / unit - 1e-9)));
    to.u8(strip.currentModel === 'largest' ? 1 : 0);
  }
}

/** The unit in which the limiter counts: the strongest channel is 255 units, so that no strip is rounded to nothing. */
const currentUnitMilliamps = (segments: readonly Segment[]): number =>
  Math.max(1, ...segments.map(({ strip }) => strip.channelMilliamps)) / 255;

function budget(project: Project, layout: Layout, segments: readonly Segment[]): number {
  const limitMilliamps = (project.power.limitAmps ?? 0) * 1000;
  const channels = Math.max(0, limitMilliamps - quiescentMilliamps(layout));
  return Math.min(2 ** 32 - 1, Math.floor((255 * channels) / currentUnitMilliamps(segments)));
}

function writePositions(to: ByteWriter, leds: readonly Led[], scale: EffectScale): void {
  to.setOffset(headerAt.positions, to.length);
  for (const led of leds) {
    to.u8(positionUnit(led.xMm, scale));
    to.u8(positionUnit(led.yMm, scale));
  }
}

/** Place 0..1 to a byte; the whole way is 256 steps, so that a closed way closes. */
const placeByte = (place: number): number => Math.min(255, Math.floor(place * 256));

function writeAreas(
  to: ByteWriter,
  project: Project,
  layout: Layout,
  used: readonly string[],
  segments: readonly Segment[],
): void {
  to.setOffset(headerAt.areas, to.length);
  const setOffset = offsetTable(to, used.length);
  const orders = ordersOf(segments);
  const tables = new Map<string, number>();
  for (const [index, id] of used.entries()) {
    const leds = areaLeds(layout, project.areas.find((area) => area.id === id)!);
    const spans = spansOf(
      leds.map((led) => led.wire),
      segments,
    );
    const placesAt = once(
      to,
      tables,
      Uint8Array.from(leds, (led) => placeByte(led.place)),
    );
    setOffset(index);
    to.u16(spans.length);
    to.offset(placesAt);
    for (const { firstLed, ledCount, segment } of spans) {
      to.u16(firstLed);
      to.u8(ledCount);
      to.u8(orders.indexOf(segment.strip.colourOrder));
    }
  }
}

/** Each gradient once for each colour order, its channels in wire order, so that the player need not sort them. */
function writeGradients(
  to: ByteWriter,
  project: Project,
  used: readonly string[],
  segments: readonly Segment[],
): void {
  to.setOffset(headerAt.gradients, to.length);
  const orders = ordersOf(segments);
  const setOffset = offsetTable(to, used.length * orders.length);
  for (const [index, id] of used.entries()) {
    const pieces = gradientPieces(project.gradients.find((gradient) => gradient.id === id)!);
    for (const [number, order] of orders.entries()) {
      const channels = wireChannels(order);
      setOffset(index * orders.length + number);
      to.u8(pieces.length);
      for (const piece of pieces) {
        to.u8(piece.entries);
        for (const channel of channels) to.u16(piece.start[channel]);
        for (const channel of channels) to.difference16(piece.step[channel]);
      }
    }
  }
}

const levelByte = (percent: number): number => Math.round((255 * percent) / 100);

function writeShows(
  to: ByteWriter,
  project: Project,
  areas: readonly string[],
  gradients: readonly string[],
): void {
  to.setOffset(headerAt.shows, to.length);
  const scale = effectScale(project);
  const setOffset = offsetTable(to, project.lampshows.length);
  for (const [index, show] of project.lampshows.entries()) {
    const clips = clipsInOrder(show);
    setOffset(index);
    to.u32(show.lengthMs);
    to.u16(clips.length);
    for (const clip of clips) {
      const effect = effectBytes(clip.effect, scale);
      to.u32(clip.startMs);
      to.u32(clip.lengthMs);
      to.u16(clip.fadeInMs ?? 0);
      to.u16(clip.fadeOutMs ?? 0);
      to.u8(areas.indexOf(clip.area));
      to.u8(gradients.indexOf(clip.gradient));
      to.u8(effect.number);
      to.u8(blendNumbers[clip.blend]);
      to.u8(levelByte(clip.levelPercent ?? 100));
      to.append(effect.bytes);
    }
  }
}

/** Pages of the tables for red, green and blue, and of one that changes nothing where a line of several segments needs it (else 0). */
function writeGamma(
  to: ByteWriter,
  project: Project,
  mixedLine: boolean,
): { readonly channels: number[]; readonly plain: number } {
  const { gamma, whiteBalance } = project.output;
  const balance = whiteBalance ?? { red: 1, green: 1, blue: 1 };
  to.alignTo(pageBytes);
  const tables = new Map<string, number>();
  const page = (table: Uint8Array) => once(to, tables, table) / pageBytes;
  const channels = (['red', 'green', 'blue'] as const).map((channel) =>
    page(gammaTable(gamma[channel], balance[channel])),
  );
  return { channels, plain: mixedLine ? page(gammaTable(1, 1)) : 0 };
}

/** The header; offsets and gamma pages are zero until their tables are written. */
function writeHeader(
  to: ByteWriter,
  project: Project,
  layout: Layout,
  segments: readonly Segment[],
  options: ShowDataOptions,
): void {
  const start = options.start ?? project.attractMode;
  to.u16(showDataMagic);
  to.u8(showDataFormat);
  to.u8(levelByte(project.output.brightnessPercent));
  to.u8(options.frameMs);
  to.u8(layout.lines.length);
  to.u8(project.lampshows.findIndex((show) => show.id === start));
  to.u8(ordersOf(segments).length);
  to.u16(layout.wireLeds.length);
  for (let i = 0; i < 6; i++) to.u16(0);
  to.append([0, 0, 0]);
  to.u8(project.power.limitAmps === undefined ? 0 : 1);
  to.u32(project.power.limitAmps === undefined ? 0 : budget(project, layout, segments));
  to.u8(0);
}

/** Ids of areas and gradients that some clip uses, in the document's order. */
function usedIds(
  project: Project,
  key: 'area' | 'gradient',
  rows: readonly { readonly id: string }[],
): string[] {
  const used = new Set(project.lampshows.flatMap((show) => clipsInOrder(show).map((clip) => clip[key])));
  return rows.map((row) => row.id).filter((id) => used.has(id));
}

/**
 * Compiles all lampshows. Returns undefined if the tables would need more than 64 KB, which no board here could hold anyway.
 * `options.start` must be a show of the project.
 */
export function compileShowData(
  project: Project,
  layout: Layout,
  options: ShowDataOptions,
): ShowData | undefined {
  const segments = segmentsOf(layout);
  const areas = usedIds(project, 'area', project.areas);
  const gradients = usedIds(project, 'gradient', project.gradients);
  const to = new ByteWriter();
  writeHeader(to, project, layout, segments, options);
  writeLines(to, project, layout, segments);
  writePositions(to, layout.wireLeds, effectScale(project));
  writeAreas(to, project, layout, areas, segments);
  writeGradients(to, project, gradients, segments);
  writeShows(to, project, areas, gradients);
  const gammaPages = writeGamma(to, project, mixedSegments(segments).length > 0);
  if (to.tooLarge || to.length > mostBytes) return undefined;
  const bytes = to.bytes();
  bytes.set(gammaPages.channels, headerAt.gammaPages);
  bytes[headerAt.plainPage] = gammaPages.plain;
  return {
    bytes,
    showNumbers: new Map(project.lampshows.map((show, index) => [show.id, index])),
    ledCount: layout.wireLeds.length,
    frameMs: options.frameMs,
  };
}
