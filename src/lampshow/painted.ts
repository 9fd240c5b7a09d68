// Painted frames: from cells on the artwork to the colour of each LED, packed as show_data.h says (Frames, FrameEntry, Palette).
// Not here: pictures turned into painted frames (sampling.ts).
import { type ColourOrder, wireChannels } from '../catalogue/index.ts';
import type { PointMm } from '../panel/index.ts';
import type { PaintedEffect } from '../project/index.ts';
import { ByteWriter } from './byte-writer.ts';
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

/** What each digit's character code stands for; a digit of no colour of the palette has none. */
function colourOfCode({ palette }: PaintedEffect): readonly (number | undefined)[] {
  const colours: number[] = [];
  for (let colour = 0; colour < palette.length; colour++) colours[colour.toString(16).charCodeAt(0)] = colour;
  return colours;
}

/**
 * Packs painted frames for the LEDs of an area, given in wire order. A frame doesn't fade into one that is equal to it.
 * @throws if the effect breaks a rule that reading a project checks
 */
export function packFrames(effect: PaintedEffect, leds: readonly PointMm[]): PackedFrames {
  const bits = bitsFor(effect.palette.length);
  const cellOfLed = cellsOf(leds, effect);
  const colours = colourOfCode(effect);
  const known = new Map<string, Uint8Array>();
  const packed = effect.frames.map(({ cells }) => {
    const bytes = new Uint8Array(Math.ceil((leds.length * bits) / 8));
    for (let led = 0, bit = 0; led < cellOfLed.length; led++, bit += bits) {
      const cell = cellOfLed[led]!;
      const colour = colours[cells.charCodeAt(cell)];
      if (colour === undefined)
        throw new Error(`cell ${cell} has no colour of the palette; the project was not checked`);
      bytes[bit >> 3]! |= colour << (bit & 7);
    }
    const key = String.fromCharCode(...bytes);
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

/** Size (bytes) of what `writeFrames` puts, where none of its cells are there already. */
export const framesBytes = ({ entries }: PackedFrames): number =>
  framesHeaderSize +
  frameEntrySize * entries.length +
  [...new Set(entries.map((entry) => entry.cells))].reduce((sum, cells) => sum + cells.length, 0);

/**
 * Puts packed frames into the show data and returns the offset of their table. The cells go first, since the table names their offsets.
 * @param put appends bytes and tells their offset
 */
export function writeFrames(
  put: (bytes: Uint8Array) => number,
  { bits, lengthMs, entries }: PackedFrames,
): number {
  const cellsAt = new Map<Uint8Array, number>();
  for (const { cells } of entries) if (!cellsAt.has(cells)) cellsAt.set(cells, put(cells));
  const table = new ByteWriter();
  table.u8(bits);
  table.u16(entries.length);
  table.u32(lengthMs);
  for (const { startMs, fadeMs, cells } of entries) {
    table.u32(startMs);
    table.u16(fadeMs);
    table.u16(cellsAt.get(cells)!);
  }
  return put(table.bytes());
}

/** A palette of `#rrggbb` colours as the player reads it: a mark that tells it from a gradient, its colour count, each colour in wire order. */
export function paletteBytes(palette: readonly string[], order: ColourOrder): Uint8Array {
  const channels = wireChannels(order);
  const bytes = palette.flatMap((colour) =>
    channels.map((channel) => Number.parseInt(colour.slice(1 + 2 * channel, 3 + 2 * channel), 16)),
  );
  return Uint8Array.from([0, palette.length, ...bytes]);
}
