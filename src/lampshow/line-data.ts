// The output side of the show data: data lines, their segments, gamma tables, the limiter's budget and the steps of room brightness.
// show-data.ts calls writeLines behind the header and writeGammaPages last, since the tables lie on 256-byte boundaries.
// Layout as in firmware-templates/player/show_data.h. Not here: spans, areas, gradients, shows (show-data.ts).
import {
  boards,
  bytesPerLed,
  rowById,
  type ThreeByteOrder,
  whiteDieMilliamps,
  whitePlace,
  wireChannels,
  withoutWhite,
} from '../catalogue/index.ts';
import type { Layout, PlacedLine } from '../panel/index.ts';
import type { Project, StripData } from '../project/index.ts';
import type { ByteWriter } from './byte-writer.ts';
import { gammaTable } from './gamma.ts';

/** Places in show_data.h's header that belong to the output side. */
const headerAt = { lines: 18, limited: 30, budget: 31, roomScales: 35, roomPort: 38, roomMask: 40 } as const;
export const lineSize = 11;
export const segmentSize = 11;
/** Where a segment's three gamma pages stand in its record. */
const segmentPagesAt = 2;
const pageBytes = 256;
/** Values of show_data.h's LinePartner. */
const partnerNone = 0xff;
const partnerLeads = 0xfe;

/** Neighbours on one data line with one colour order, one kind of chip and one white balance. */
export interface Segment {
  /** Index of the data line. */
  readonly line: number;
  /** Its first LED's number over all lines. */
  readonly firstLed: number;
  readonly ledCount: number;
  readonly strip: StripData;
}

export interface Port {
  /** Data-space address of the PORTx register; 0 where there is no such pin. */
  readonly address: number;
  readonly mask: number;
}

/** Steps of room brightness, percent of the project's own brightness, brightest first, and the button that goes through them. */
export interface RoomSteps {
  readonly percents: readonly [number, number, number];
  /** Arduino pin of the button. */
  readonly pin?: number | undefined;
}

/** Full brightness throughout, no button. */
export const noRoomSteps: RoomSteps = { percents: [100, 100, 100] };

const balanceOf = ({ output }: Pick<Project, 'output'>, strip: StripData) =>
  strip.whiteBalance ?? output.whiteBalance ?? { red: 1, green: 1, blue: 1 };

/** Whether the output stage treats LEDs of both strips alike. */
const alike = (a: StripData, b: StripData): boolean =>
  a.colourOrder === b.colourOrder &&
  a.channelMilliamps === b.channelMilliamps &&
  whiteDieMilliamps(a) === whiteDieMilliamps(b) &&
  a.currentModel === b.currentModel &&
  a.whiteBalance?.red === b.whiteBalance?.red &&
  a.whiteBalance?.green === b.whiteBalance?.green &&
  a.whiteBalance?.blue === b.whiteBalance?.blue;

/** The segments of all lines in wire order. */
export function segmentsOf(layout: Layout): Segment[] {
  const segments: Segment[] = [];
  let firstLed = 0;
  for (const [line, placed] of layout.lines.entries())
    for (const { strip, wireLeds } of placed.runs) {
      const last = segments.at(-1);
      if (last?.line === line && alike(last.strip, strip))
        segments[segments.length - 1] = { ...last, ledCount: last.ledCount + wireLeds.length };
      else if (wireLeds.length > 0) segments.push({ line, firstLed, ledCount: wireLeds.length, strip });
      firstLed += wireLeds.length;
    }
  return segments;
}

/** A segment's colour order without white, as the player keeps colours in the frame buffer. */
export const segmentOrder = (segment: Segment): ThreeByteOrder => withoutWhite(segment.strip.colourOrder);

/** Colour orders in use, in the order of their numbers: spans and gradients name them by it. */
export const ordersOf = (segments: readonly Segment[]): ThreeByteOrder[] => [
  ...new Set(segments.map(segmentOrder)),
];

/** Bytes of each LED of a line on the wire, in wire order. */
export const lineBytesPerLed = (line: PlacedLine): (3 | 4)[] =>
  line.runs.flatMap(({ wireLeds, strip }) => wireLeds.map(() => bytesPerLed(strip.colourOrder)));

/** Bytes of one frame on the wire, all lines together. */
export const wireByteCount = (layout: Layout): number =>
  layout.lines
    .flatMap((line) => line.runs)
    .reduce((sum, { wireLeds, strip }) => sum + wireLeds.length * bytesPerLed(strip.colourOrder), 0);

/** Register and bit of a pin. A pin the board doesn't have is a finding elsewhere; the data then names no pin at all. */
export function portOf(project: Pick<Project, 'board'>, pin: number | undefined): Port {
  const row = rowById(boards, project.board.id)?.pins.find((one) => one.pin === pin);
  return row ? { address: row.portAddress, mask: 1 << row.bit } : { address: 0, mask: 0 };
}

/** Two lines that go out at the same time; the first stands before the second in the document. */
export type LinePair = readonly [number, number];

/**
 * Lines that go out together: of one port, each of one segment with three bytes an LED, since only then can the sender work out both lines'
 * bytes between two bits. The longest goes with the next longest of its port, which takes the least time of all pairings.
 */
export function linePairs(
  project: Pick<Project, 'board'>,
  layout: Layout,
  segments: readonly Segment[],
): LinePair[] {
  const byPort = new Map<number, number[]>();
  const pins = new Set<string>();
  for (const [line, { pin }] of layout.lines.entries()) {
    const { address, mask } = portOf(project, pin);
    const own = segments.filter((segment) => segment.line === line);
    const simple = own.length === 1 && whitePlace(own[0]!.strip.colourOrder) < 0;
    const known = pins.has(`${address} ${mask}`);
    pins.add(`${address} ${mask}`);
    if (address !== 0 && simple && !known) byPort.set(address, [...(byPort.get(address) ?? []), line]);
  }
  const pairs: LinePair[] = [];
  for (const lines of byPort.values()) {
    const longestFirst = lines.sort((a, b) => layout.lines[b]!.ledCount - layout.lines[a]!.ledCount || a - b);
    for (let i = 0; i + 1 < longestFirst.length; i += 2) {
      const [a, b] = [longestFirst[i]!, longestFirst[i + 1]!];
      pairs.push(a < b ? [a, b] : [b, a]);
    }
  }
  return pairs.sort(([a], [b]) => a - b);
}

/** Current of all LEDs with every channel dark, mA. */
const quiescentMilliamps = (layout: Layout): number =>
  layout.lines
    .flatMap((line) => line.runs)
    .reduce((sum, { wireLeds, strip }) => sum + wireLeds.length * strip.quiescentMilliamps, 0);

/**
 * The unit in which the limiter counts, mA: as fine as 16 bits a channel and 32 bits for the sum of 255 x all channels allow, so that rounding
 * a channel's current up to whole units makes no difference that could be seen.
 */
function currentUnitMilliamps(segments: readonly Segment[]): number {
  const strongest = Math.max(
    1,
    ...segments.map(({ strip }) => Math.max(strip.channelMilliamps, whiteDieMilliamps(strip))),
  );
  const all = segments.reduce(
    (sum, { ledCount, strip }) => sum + ledCount * (3 * strip.channelMilliamps + whiteDieMilliamps(strip)),
    0,
  );
  return Math.max(strongest / 65_535, (255 * all) / 2 ** 31);
}

function budget(project: Project, layout: Layout, unitMilliamps: number): number {
  const limitMilliamps = (project.power.limitAmps ?? 0) * 1000;
  const channels = Math.max(0, limitMilliamps - quiescentMilliamps(layout));
  return Math.min(2 ** 32 - 1, Math.floor((255 * channels) / unitMilliamps));
}

/** A step of room brightness as the scale of every byte. */
const roomScale = ({ output }: Pick<Project, 'output'>, percent: number): number =>
  Math.round((255 * ((output.brightnessPercent * percent) / 100)) / 100);

/** The segments and where their records stand, for writeGammaPages. */
export interface SegmentPlaces {
  readonly segments: readonly Segment[];
  readonly offsets: readonly number[];
}

/** Whole units of a current, rounded up. */
const currentUnits = (milliamps: number, unitMilliamps: number): number =>
  Math.min(65_535, Math.ceil(milliamps / unitMilliamps - 1e-9));

/** Writes one segment's record, its gamma pages still 0. */
function writeSegment(to: ByteWriter, { ledCount, strip }: Segment, unitMilliamps: number): void {
  to.u16(ledCount);
  to.append([0, 0, 0]);
  to.u8(whitePlace(strip.colourOrder) + 1);
  to.u16(currentUnits(strip.channelMilliamps, unitMilliamps));
  to.u16(currentUnits(whiteDieMilliamps(strip), unitMilliamps));
  to.u8(strip.currentModel === 'largest' ? 1 : 0);
}

/** All that the player's limiter goes by, as it stands in the show data: whole units of current. */
export interface LimiterFigures {
  readonly segments: readonly {
    readonly ledCount: number;
    readonly strip: StripData;
    readonly channelUnits: number;
    readonly whiteUnits: number;
  }[];
  /** 255 x what the channels may draw. */
  readonly budget: number;
  /** Scale of the brightest room step. */
  readonly roomScale: number;
}

/** The project's limit must be given. */
export function limiterFigures(
  project: Project,
  layout: Layout,
  room: RoomSteps = noRoomSteps,
): LimiterFigures {
  const segments = segmentsOf(layout);
  const unitMilliamps = currentUnitMilliamps(segments);
  return {
    segments: segments.map(({ ledCount, strip }) => ({
      ledCount,
      strip,
      channelUnits: currentUnits(strip.channelMilliamps, unitMilliamps),
      whiteUnits: currentUnits(whiteDieMilliamps(strip), unitMilliamps),
    })),
    budget: budget(project, layout, unitMilliamps),
    roomScale: roomScale(project, room.percents[0]),
  };
}

/**
 * Writes the line table and all segments, and fills in the header's fields lines, limited, budget, roomScales, roomPort and roomMask, which
 * must have been written already (as zeros). The header's counts of lines and LEDs are the caller's.
 */
export function writeLines(
  to: ByteWriter,
  project: Project,
  layout: Layout,
  segments: readonly Segment[],
  room: RoomSteps = noRoomSteps,
): SegmentPlaces {
  const pairs = linePairs(project, layout, segments);
  const partner = (line: number): number => {
    if (pairs.some(([, second]) => second === line)) return partnerLeads;
    return pairs.find(([first]) => first === line)?.[1] ?? partnerNone;
  };
  const unitMilliamps = currentUnitMilliamps(segments);
  const linesAt = to.length;
  const segmentsAt = linesAt + lineSize * layout.lines.length;
  to.setOffset(headerAt.lines, linesAt);
  let firstLed = 0;
  for (const [index, line] of layout.lines.entries()) {
    const port = portOf(project, line.pin);
    const own = segments.filter((segment) => segment.line === index);
    to.u16(line.ledCount);
    to.u16(firstLed);
    to.u16(port.address);
    to.u8(port.mask);
    to.u8(partner(index));
    to.offset(segmentsAt + segmentSize * segments.findIndex((segment) => segment.line === index));
    to.u8(own.length);
    firstLed += line.ledCount;
  }
  for (const segment of segments) writeSegment(to, segment, unitMilliamps);
  const limited = project.power.limitAmps !== undefined;
  to.overwrite(headerAt.limited, 1, limited ? 1 : 0);
  to.overwrite(headerAt.budget, 4, limited ? budget(project, layout, unitMilliamps) : 0);
  for (const [step, percent] of room.percents.entries())
    to.overwrite(headerAt.roomScales + step, 1, roomScale(project, percent));
  const button = portOf(project, room.pin);
  // The button is read where its port's levels are, two below the register that drives it.
  to.overwrite(headerAt.roomPort, 2, button.address === 0 ? 0 : button.address - 2);
  to.overwrite(headerAt.roomMask, 1, button.mask);
  return { segments, offsets: segments.map((_, index) => segmentsAt + segmentSize * index) };
}

/**
 * Writes the gamma tables on 256-byte boundaries, equal ones once, and enters their pages in the segments' records. Comes last: what follows
 * would start on a boundary too.
 */
export function writeGammaPages(
  to: ByteWriter,
  project: Project,
  { segments, offsets }: SegmentPlaces,
): void {
  const { gamma } = project.output;
  const channelNames = ['red', 'green', 'blue'] as const;
  to.alignTo(pageBytes);
  const pages = new Map<string, number>();
  const pageOf = (table: Uint8Array): number => {
    const key = table.join();
    const page = pages.get(key) ?? to.length / pageBytes;
    if (!pages.has(key)) {
      pages.set(key, page);
      to.append(table);
    }
    return page;
  };
  for (const [index, { strip }] of segments.entries()) {
    const balance = balanceOf(project, strip);
    for (const [place, channel] of wireChannels(strip.colourOrder).entries()) {
      const name = channelNames[channel];
      const page = pageOf(gammaTable(gamma[name], balance[name]));
      // A page beyond 255 lies beyond 64 KB, where nothing can be addressed: the whole is refused for its size.
      to.overwrite(offsets[index]! + segmentPagesAt + place, 1, Math.min(255, page));
    }
  }
}
