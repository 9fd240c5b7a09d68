// The show compiler: a project to the show data that the player plays, byte for byte as firmware-templates/player/show_data.h says.
// Only what some clip uses goes in, and equal tables go in once, since every byte is flash on the board.
// Not here: effects' parameters and maps (effects.ts, maps.ts), lines and gamma (line-data.ts), game events (event-data.ts), prediction of
// speed (frame-time.ts), which needs no bytes.
import { wireChannels } from '../catalogue/index.ts';
import { areaLeds, type Layout } from '../panel/index.ts';
import type { Blend, Clip, Lampshow, Project } from '../project/index.ts';
import { ByteWriter } from './byte-writer.ts';
import {
  clipColours,
  clipMap,
  cycleRate,
  type Extras,
  effectBytes,
  once,
  parameterBytes,
  playerEffectOf,
  playerEffects,
} from './effects.ts';
import { roomSteps, writeEvents, writeHelloText } from './event-data.ts';
import { type GradientUse, gradientPieces } from './gradients.ts';
import {
  ordersOf,
  type Segment,
  segmentOrder,
  segmentsOf,
  writeGammaPages,
  writeLines,
} from './line-data.ts';
import { type MappedLed, mappedLeds } from './maps.ts';
import { paletteBytes } from './painted.ts';
import { clipsOnBlack, type Span, spansOf } from './spans.ts';

/** Values of show_data.h. */
export const showDataMagic = 0x4c57;
export const showDataFormat = 3;
export const headerSize = 42;
/** Places of show_data.h's header that are filled in when their table is written; those of the lines and inputs are their writers' matter. */
const headerAt = { size: 4, check: 6, areas: 20, gradients: 22, shows: 24, gradientCount: 13 } as const;
/** The check covers everything behind itself. */
const checkedFrom = 8;
export const clipSize = 25 + parameterBytes;
/** Set beside the blend where no clip below lights any of the clip's LEDs while it plays: then its colours are written, not blended. */
const onBlackBit = 0x80;
const blendNumbers: Readonly<Record<Blend, number>> = { over: 0, add: 1, 'brighter-wins': 2, tint: 3 };
/** Offsets are 16 bits, and so is the size. */
const mostBytes = 65_535;
const mostGradients = 255;

/**
 * Clips in the order in which they are drawn: rows from the first to the last, each by time. Those of muted rows and those after the show's
 * end never play.
 */
export const clipsInOrder = (show: Lampshow): Clip[] =>
  show.rows
    .filter((row) => !row.muted)
    .flatMap((row) =>
      row.clips.filter((clip) => clip.startMs < show.lengthMs).sort((a, b) => a.startMs - b.startMs),
    );

export interface ShowData {
  readonly bytes: Uint8Array;
  /** Show id to the player's number. */
  readonly showNumbers: ReadonlyMap<string, number>;
  /** Game event id to the player's number. */
  readonly eventNumbers: ReadonlyMap<string, number>;
  readonly ledCount: number;
  readonly frameMs: number;
  /** All but the gamma tables, which lie on pages of their own: what taking something out really frees. */
  readonly tableBytes: number;
}

export interface ShowDataOptions {
  /** The show that plays after power-up; the attract mode where absent. */
  readonly start?: string;
  readonly frameMs: number;
}

/** CRC-16 with polynomial 0x1021 and start 0xFFFF, as catalogued under CRC-16/IBM-3740. */
export function crc16(bytes: Uint8Array): number {
  let crc = 0xffff;
  for (const byte of bytes) {
    crc ^= byte << 8;
    for (let bit = 0; bit < 8; bit++) crc = ((crc << 1) ^ (crc & 0x8000 ? 0x1021 : 0)) & 0xffff;
  }
  return crc;
}

/** Writes a table of offsets whose entries are set later. */
function offsetTable(to: ByteWriter, count: number): (index: number) => void {
  const at = to.length;
  for (let i = 0; i < count; i++) to.u16(0);
  return (index) => to.setOffset(at + 2 * index, to.length);
}

interface UsedArea {
  readonly id: string;
  readonly leds: readonly MappedLed[];
  readonly wires: ReadonlySet<number>;
  readonly spans: readonly Span[];
}

/** Areas that some clip uses, in the document's order. */
function usedAreas(project: Project, layout: Layout, segments: readonly Segment[]): UsedArea[] {
  const used = new Set(project.lampshows.flatMap((show) => clipsInOrder(show).map((clip) => clip.area)));
  return project.areas
    .filter((area) => used.has(area.id))
    .map((area) => {
      const leds = areaLeds(layout, area);
      const wires = leds.map((led) => led.wire);
      return {
        id: area.id,
        leds: mappedLeds(leds),
        wires: new Set(wires),
        spans: spansOf(wires, segments),
      };
    });
}

function writeAreas(to: ByteWriter, areas: readonly UsedArea[], segments: readonly Segment[]): void {
  const orders = ordersOf(segments);
  to.setOffset(headerAt.areas, to.length);
  const setOffset = offsetTable(to, areas.length);
  for (const [index, { spans }] of areas.entries()) {
    setOffset(index);
    to.u16(spans.length);
    for (const { firstLed, ledCount, segment } of spans) {
      to.u16(firstLed);
      to.u8(ledCount);
      to.u8(orders.indexOf(segmentOrder(segment)));
    }
  }
}

/** The colours of a clip: a gradient as its effect uses it, or a palette. */
type Colours =
  | { readonly gradient: string; readonly use: GradientUse }
  | { readonly palette: readonly string[] };

const coloursOf = (clip: Clip): Colours =>
  clip.effect.kind === 'painted'
    ? { palette: clip.effect.palette }
    : { gradient: clip.gradient, use: clipColours(clip) };
const coloursKey = (colours: Colours): string => JSON.stringify(colours);

/** Each gradient once for each colour order, its channels in wire order, so that the player need not sort them. */
function writeColours(
  to: ByteWriter,
  project: Project,
  used: readonly Colours[],
  segments: readonly Segment[],
): void {
  const orders = ordersOf(segments);
  to.setOffset(headerAt.gradients, to.length);
  const setOffset = offsetTable(to, used.length * orders.length);
  for (const [index, colours] of used.entries())
    for (const [number, order] of orders.entries()) {
      setOffset(index * orders.length + number);
      if ('palette' in colours) {
        to.append(paletteBytes(colours.palette, order));
        continue;
      }
      const gradient = project.gradients.find((one) => one.id === colours.gradient)!;
      const pieces = gradientPieces(gradient, colours.use);
      const channels = wireChannels(order);
      to.u8(pieces.length);
      for (const piece of pieces) {
        to.u8(piece.entries);
        for (const channel of channels) to.u16(piece.start[channel]);
        for (const channel of channels) to.difference16(piece.step[channel]);
      }
    }
}

const levelByte = (percent: number): number => Math.round((255 * percent) / 100);

function envelopeBytes(points: NonNullable<Clip['envelope']>): Uint8Array {
  const to = new ByteWriter();
  to.u8(points.length);
  for (const { atMs, percent } of [...points].sort((a, b) => a.atMs - b.atMs)) {
    to.u32(atMs);
    to.u8(levelByte(percent));
  }
  return to.bytes();
}

/** Writes what a clip needs outside its record; returns the record. */
function clipRecord(
  clip: Clip,
  onBlack: boolean,
  areas: readonly UsedArea[],
  colours: readonly string[],
  extras: Extras,
): Uint8Array {
  const area = areas.findIndex(({ id }) => id === clip.area);
  const { leds } = areas[area]!;
  const envelopeAt = clip.envelope ? once(extras, envelopeBytes(clip.envelope)) : 0;
  const mapAt = once(extras, clipMap(clip, leds));
  const parameters = effectBytes(clip.effect, leds, extras);
  const to = new ByteWriter();
  to.u32(clip.startMs);
  to.u32(clip.lengthMs);
  to.u16(clip.fadeInMs ?? 0);
  to.u16(clip.fadeOutMs ?? 0);
  to.offset(envelopeAt);
  to.offset(mapAt);
  to.u8(area);
  to.u8(Math.min(mostGradients, colours.indexOf(coloursKey(coloursOf(clip)))));
  to.u8(playerEffects[playerEffectOf(clip.effect)]);
  to.u8(blendNumbers[clip.blend] + (onBlack ? onBlackBit : 0));
  to.u8(levelByte(clip.levelPercent ?? 100));
  to.u32(cycleRate(clip.cycle));
  to.append(parameters);
  // An offset that doesn't fit shows here or among the parameters; then the whole is too large.
  if (to.tooLarge || extras.to.length > mostBytes) extras.to.tooLarge = true;
  return to.bytes();
}

function writeShows(
  to: ByteWriter,
  project: Project,
  areas: readonly UsedArea[],
  colours: readonly string[],
): void {
  const extras: Extras = { to, known: new Map() };
  const wires = new Map(areas.map((area) => [area.id, area.wires] as const));
  const shows = project.lampshows.map((show) => {
    // A clip on an area without LEDs has nothing to play on.
    const clips = clipsInOrder(show).filter((clip) => wires.get(clip.area)!.size > 0);
    const onBlack = clipsOnBlack(clips, (id) => wires.get(id)!);
    return {
      lengthMs: show.lengthMs,
      records: clips.map((clip, i) => clipRecord(clip, onBlack[i]!, areas, colours, extras)),
    };
  });
  to.setOffset(headerAt.shows, to.length);
  const setOffset = offsetTable(to, shows.length);
  for (const [index, { lengthMs, records }] of shows.entries()) {
    setOffset(index);
    to.u32(lengthMs);
    to.u16(records.length);
    for (const record of records) to.append(record);
  }
}

/** The header; what belongs to a table is zero until the table is written. */
function writeHeader(
  to: ByteWriter,
  project: Project,
  layout: Layout,
  counts: { readonly areas: number; readonly colours: number; readonly orders: number },
  options: ShowDataOptions,
): void {
  const start = options.start ?? project.attractMode;
  to.u16(showDataMagic);
  to.u8(showDataFormat);
  to.u8(options.frameMs);
  to.u16(0);
  to.u16(0);
  to.u16(layout.wireLeds.length);
  to.u8(layout.lines.length);
  to.u8(counts.orders);
  to.u8(counts.areas);
  to.u8(counts.colours);
  to.u8(project.lampshows.length);
  to.u8(project.gameEvents?.length ?? 0);
  to.u8(project.lampshows.findIndex((show) => show.id === start));
  to.append(new Uint8Array(headerSize - to.length));
}

/**
 * Compiles all lampshows. Returns undefined if the tables would need more than 64 KB, or more than 255 gradients in different uses, which no
 * board here could hold anyway. `options.start` must be a show of the project.
 */
export function compileShowData(
  project: Project,
  layout: Layout,
  options: ShowDataOptions,
): ShowData | undefined {
  const segments = segmentsOf(layout);
  const areas = usedAreas(project, layout, segments);
  const colours = new Map(
    project.lampshows
      .flatMap(clipsInOrder)
      .map((clip) => coloursOf(clip))
      .map((one) => [coloursKey(one), one] as const),
  );
  if (colours.size > mostGradients) return undefined;
  const to = new ByteWriter();
  writeHeader(
    to,
    project,
    layout,
    { areas: areas.length, colours: colours.size, orders: ordersOf(segments).length },
    options,
  );
  const places = writeLines(to, project, layout, segments, roomSteps(project));
  writeAreas(to, areas, segments);
  writeColours(to, project, [...colours.values()], segments);
  writeShows(to, project, areas, [...colours.keys()]);
  writeEvents(to, project, options.frameMs);
  const tableBytes = to.length;
  writeGammaPages(to, project, places);
  writeHelloText(to, project, crc16(to.bytes()));
  if (to.tooLarge || to.length > mostBytes) return undefined;
  to.overwrite(headerAt.size, 2, to.length);
  to.overwrite(headerAt.check, 2, crc16(to.bytes().subarray(checkedFrom)));
  return {
    bytes: to.bytes(),
    showNumbers: new Map(project.lampshows.map((show, index) => [show.id, index])),
    eventNumbers: new Map((project.gameEvents ?? []).map((event, index) => [event.id, index])),
    ledCount: layout.wireLeds.length,
    frameMs: options.frameMs,
    tableBytes,
  };
}
