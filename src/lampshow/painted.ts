// Painted frames: from cells on the artwork to the colour of each LED, packed as show_data.h says (Frames, FrameEntry, Palette).
// Not here: pictures turned into painted frames (sampling.ts).
import { type ColourOrder, wireChannels } from '../catalogue/index.ts';
import { areaLeds, type Layout, type PointMm } from '../panel/index.ts';
import type { Area, PaintedEffect } from '../project/index.ts';
import type { ByteWriter } from './byte-writer.ts';
import { cellsOf } from './cells.ts';

export interface PackedFrame {
  readonly startMs: number;
  /** Time at its end during which it turns into the next frame. */
  readonly fadeMs: number;
  /** The area's LEDs in wire order, lowest bits first. Equal frames share one object, and are stored once. */
  readonly cells: Uint8Array;
}

export interface PackedFrames {
  /** Bits an LED: the least that hold every colour of the palette. */
  readonly bits: 1 | 2 | 4;
  readonly lengthMs: number;
  readonly entries: readonly PackedFrame[];
}

/** Sizes of show_data.h: framesList and frameEntrySize. */
export const framesHeaderSize = 7;
export const frameEntrySize = 8;

const bitsFor = (colourCount: number): 1 | 2 | 4 => (colourCount <= 2 ? 1 : colourCount <= 4 ? 2 : 4);

/** Places (mm) of an area's LEDs in wire order. */
export const areaPlaces = (layout: Layout, area: Area): PointMm[] =>
  areaLeds(layout, area).map(({ wire }) => layout.wireLeds[wire]!);

function colourAt(effect: PaintedEffect, cells: string, cell: number): number {
  const colour = Number.parseInt(cells.charAt(cell), 16);
  if (!(colour < effect.palette.length))
    throw new Error(`cell ${cell} has no colour of the palette; the project was not checked`);
  return colour;
}

/**
 * Packs painted frames for the LEDs of an area, given in wire order. A frame doesn't fade into one that is equal to it.
 * @throws if the effect breaks a rule that reading a project checks
 */
export function packFrames(effect: PaintedEffect, leds: readonly PointMm[]): PackedFrames {
  const bits = bitsFor(effect.palette.length);
  const cellOfLed = cellsOf(leds, effect);
  const known = new Map<string, Uint8Array>();
  const packed = effect.frames.map(({ cells }) => {
    const bytes = new Uint8Array(Math.ceil((leds.length * bits) / 8));
    for (const [led, cell] of cellOfLed.entries()) {
      const bit = led * bits;
      bytes[bit >> 3]! |= colourAt(effect, cells, cell) << (bit & 7);
    }
    const key = bytes.join();
    const same = known.get(key) ?? bytes;
    known.set(key, same);
    return same;
  });
  let startMs = 0;
  const entries = effect.frames.map(({ holdMs, fadeMs }, f): PackedFrame => {
    const cells = packed[f]!;
    const isLikeNext = cells === packed[(f + 1) % packed.length];
    const entry = { startMs, fadeMs: isLikeNext ? 0 : (fadeMs ?? 0), cells };
    startMs += holdMs;
    return entry;
  });
  return { bits, lengthMs: startMs, entries };
}

/** Size (bytes) of what `writeFrames` writes where no frame was written before. */
export const framesBytes = ({ entries }: PackedFrames): number =>
  framesHeaderSize +
  frameEntrySize * entries.length +
  [...new Set(entries.map((entry) => entry.cells))].reduce((sum, cells) => sum + cells.length, 0);

/**
 * Writes packed frames and returns their offset.
 * @param known offsets of cells by their bytes, filled in here: clips that are given the same map share equal cells
 */
export function writeFrames(
  to: ByteWriter,
  { bits, lengthMs, entries }: PackedFrames,
  known: Map<string, number> = new Map(),
): number {
  const offset = to.length;
  to.u8(bits);
  to.u16(entries.length);
  to.u32(lengthMs);
  const cellsAt: number[] = [];
  for (const { startMs, fadeMs } of entries) {
    to.u32(startMs);
    to.u16(fadeMs);
    cellsAt.push(to.length);
    to.u16(0);
  }
  for (const [e, { cells }] of entries.entries()) {
    const key = cells.join();
    const at = known.get(key) ?? to.length;
    if (!known.has(key)) {
      known.set(key, at);
      to.append(cells);
    }
    to.setOffset(cellsAt[e]!, at);
  }
  return offset;
}

/** A palette of `#rrggbb` colours as the player reads it: a mark that tells it from a gradient, its colour count, each colour in wire order. */
export function paletteBytes(palette: readonly string[], order: ColourOrder): Uint8Array {
  const channels = wireChannels(order);
  const bytes = palette.flatMap((colour) =>
    channels.map((channel) => Number.parseInt(colour.slice(1 + 2 * channel, 3 + 2 * channel), 16)),
  );
  return Uint8Array.from([0, palette.length, ...bytes]);
}
