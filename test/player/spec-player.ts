// A second player, written from SPEC.md alone: show data to wire bytes, in exact integers. Rule ids stand beside each part.
// Places of bytes are read from SPEC.md's own tables. Not here: effects and the colour table (spec-effects.ts), the director (director-model.ts).
import {
  type BlendName,
  blended,
  colourTable,
  type Entry,
  type Look,
  looks,
  mod,
  scale8,
} from './spec-effects.ts';
import { placeOf, SpecReader, sizeOf } from './spec-tables.ts';

const { floor, min, max } = Math;
const blendNames: readonly BlendName[] = ['over', 'add', 'brighter wins', 'tint'];

/** */
function blendEntry(blend: BlendName, led: Uint8Array, { rest, colours }: Entry): void {
  if (blend === 'over' && rest === 255) return;
  for (const [i, colour] of colours.entries()) {
    const byte = led[i]!;
    if (blend === 'over') led[i] = floor((byte * rest) / 256) + colour;
    else if (blend === 'add') led[i] = min(255, byte + colour);
    else if (blend === 'brighter wins') led[i] = max(byte, colour);
    else led[i] = scale8(byte, colour);
  }
}

/** */
function blendLevelled(
  blend: BlendName,
  led: Uint8Array,
  { colours }: Entry,
  level: number,
  fade: number,
): void {
  const s = blend === 'over' ? scale8(level, fade) : level;
  if (s === 0) return;
  for (const [i, c] of colours.entries()) {
    const byte = led[i]!;
    if (blend === 'over') led[i] = floor((c * s + byte * (255 - s)) / 256);
    else if (blend === 'add') led[i] = min(255, byte + scale8(c, s));
    else if (blend === 'brighter wins') led[i] = max(byte, scale8(c, s));
    else led[i] = scale8(byte, 255 - scale8(255 - c, s));
  }
}

export interface SpecLayer {
  readonly show: number;
  readonly timeMs: number;
  readonly master: number;
}

interface PlayedClip {
  readonly at: number;
  /** Since its start. */
  readonly timeMs: number;
  readonly fade: number;
  readonly blend: BlendName;
}

export class SpecPlayer {
  readonly #data: SpecReader;

  constructor(bytes: Uint8Array) {
    this.#data = new SpecReader(bytes);
  }

  /** T-1: a frame of a show that no event interrupts. */
  frame(show: number, frameNumber: number): Uint8Array {
    const now = Number(BigInt.asUintN(32, BigInt(frameNumber) * BigInt(this.#header('headerFrameMs'))));
    const lengthMs = this.#data.field(this.#entry('headerShows', show), 'showLengthMs');
    return this.wire(this.buffer([{ show, timeMs: now % lengthMs, master: 255 }], 0));
  }

  /** C-1: three bytes an LED. */
  buffer(layers: readonly SpecLayer[], value: number): Uint8Array {
    const buffer = new Uint8Array(3 * this.#header('headerLedCount'));
    for (const { show, timeMs, master } of layers) {
      const record = this.#entry('headerShows', show);
      for (let i = 0; i < this.#data.field(record, 'showClipCount'); i++)
        this.#clip(record + placeOf('showClips') + i * sizeOf('clipSize'), timeMs, master, value, buffer);
    }
    return buffer;
  }

  #header = (name: string): number => this.#data.field(0, name);
  #entry = (table: string, index: number): number => this.#data.u16(this.#header(table) + 2 * index);

  /** C-1 to C-3. */
  #clip(at: number, showMs: number, master: number, value: number, buffer: Uint8Array): void {
    const data = this.#data;
    const timeMs = showMs - data.field(at, 'clipStartMs');
    const lengthMs = data.field(at, 'clipLengthMs');
    if (timeMs < 0 || timeMs >= lengthMs) return;
    const [fadeIn, fadeOut] = [data.field(at, 'clipFadeInMs'), data.field(at, 'clipFadeOutMs')];
    const leftMs = lengthMs - timeMs;
    const rising = timeMs < fadeIn ? floor((timeMs * 255) / fadeIn) : 255;
    const falling = leftMs < fadeOut ? floor((leftMs * 255) / fadeOut) : 255;
    const envelope = data.field(at, 'clipEnvelope');
    let fade = scale8(min(rising, falling), data.field(at, 'clipLevel'));
    if (envelope) fade = scale8(fade, this.#envelope(envelope, timeMs));
    fade = scale8(fade, master);
    if (fade === 0) return;
    const blend = blendNames[data.field(at, 'clipBlend') & 0x7f]!;
    this.#draw({ at, timeMs, fade, blend }, value, buffer);
  }

  /** C-4. */
  #envelope(at: number, timeMs: number): number {
    const points = Array.from({ length: this.#data.u8(at) }, (_, i) => {
      const point = at + 1 + i * sizeOf('envelopeSize');
      return { ms: this.#data.field(point, 'envelopeMs'), level: this.#data.field(point, 'envelopeLevel') };
    });
    const next = points.findIndex(({ ms }) => timeMs < ms);
    if (next === 0) return points[0]!.level;
    if (next < 0) return points.at(-1)!.level;
    const [from, to] = [points[next - 1]!, points[next]!];
    const s = floor(((timeMs - from.ms) * 255) / (to.ms - from.ms));
    return to.level >= from.level
      ? from.level + scale8(to.level - from.level, s)
      : from.level - scale8(from.level - to.level, s);
  }

  /** C-5, M-1. */
  #draw(clip: PlayedClip, value: number, buffer: Uint8Array): void {
    const data = this.#data;
    const area = this.#entry('headerAreas', data.field(clip.at, 'clipArea'));
    const look = looks[data.field(clip.at, 'clipEffect')]?.(
      data,
      clip.at + placeOf('clipParameters'),
      clip.timeMs,
      value,
    );
    const map = data.field(clip.at, 'clipMap');
    let number = 0;
    for (let i = 0; i < data.u16(area); i++) {
      const span = area + placeOf('areaSpans') + i * sizeOf('spanSize');
      const colours = this.#coloursOf(clip, data.field(span, 'spanOrder'));
      const ledOf = look ? this.#lookLeds(clip, look, colours, map) : this.#paintedLeds(clip, colours);
      const first = data.field(span, 'spanFirstLed');
      for (let led = first; led < first + data.field(span, 'spanLedCount'); led++, number++)
        ledOf(number, buffer.subarray(3 * led, 3 * led + 3));
    }
  }

  /** B-2. */
  #coloursOf({ at }: PlayedClip, order: number): number {
    const gradient = this.#data.field(at, 'clipGradient');
    return this.#entry('headerGradients', gradient * this.#header('headerOrderCount') + order);
  }

  #lookLeds(clip: PlayedClip, look: Look, gradient: number, map: number) {
    const { blend, fade, timeMs } = clip;
    const rate = this.#data.field(clip.at, 'clipCycle');
    const table = colourTable(this.#data, gradient, look.table, { timeMs, rate }, blend, fade);
    return (number: number, led: Uint8Array): void => {
      const at = map + number * look.mapBytes;
      const lit = look.led(Array.from({ length: look.mapBytes }, (_, i) => this.#data.u8(at + i)));
      if (!lit) return;
      if (lit.level === undefined) blendEntry(blend, led, table[lit.entry]!);
      else blendLevelled(blend, led, table[lit.entry]!, lit.level, fade);
    };
  }

  /** P-4 to P-8. */
  #paintedLeds({ at, timeMs, fade, blend }: PlayedClip, palette: number) {
    const data = this.#data;
    const frames = data.u16(at + placeOf('clipParameters'));
    const lengthMs = data.field(frames, 'framesLengthMs');
    const now = timeMs % lengthMs;
    const entries = Array.from({ length: data.field(frames, 'framesCount') }, (_, i) => {
      const entry = frames + placeOf('framesList') + i * sizeOf('frameEntrySize');
      return {
        startMs: data.field(entry, 'frameStartMs'),
        fadeMs: data.field(entry, 'frameFadeMs'),
        cells: data.field(entry, 'frameCells'),
      };
    });
    const shown = entries.filter(({ startMs }) => startMs <= now).length - 1;
    const entry = entries[shown]!;
    const next = entries[(shown + 1) % entries.length]!;
    const leftMs = (entries[shown + 1]?.startMs ?? lengthMs) - now;
    const f = leftMs < entry.fadeMs ? floor(((entry.fadeMs - leftMs) * 255) / entry.fadeMs) : 0;
    const bits = data.field(frames, 'framesBits');
    const colourOf = (cells: number, number: number): readonly number[] => {
      const cell = (data.u8(cells + floor((number * bits) / 8)) >> ((number * bits) % 8)) % 2 ** bits;
      const colour = palette + placeOf('paletteColours') + 3 * cell;
      return blended(
        blend,
        [0, 1, 2].map((i) => data.u8(colour + i)),
        fade,
      ).colours;
    };
    return (number: number, led: Uint8Array): void => {
      const coming = colourOf(next.cells, number);
      const colours = colourOf(entry.cells, number).map((a, i) =>
        f === 0 ? a : scale8(a, 255 - f) + scale8(coming[i]!, f),
      );
      blendEntry(blend, led, { rest: 255 - fade, colours });
    };
  }

  /** O-1 to O-8: the bytes on the wire, line after line, at the brightest room step. */
  wire(buffer: Uint8Array): Uint8Array {
    const data = this.#data;
    const leds: { readonly bytes: number[]; readonly white: number }[] = [];
    let wanted = 0;
    let at = 0;
    for (let l = 0; l < this.#header('headerLineCount'); l++) {
      const line = this.#header('headerLines') + l * sizeOf('lineSize');
      for (let s = 0; s < data.field(line, 'lineSegmentCount'); s++) {
        const segment = data.field(line, 'lineSegments') + s * sizeOf('segmentSize');
        const white = data.field(segment, 'segmentWhite');
        for (let n = 0; n < data.field(segment, 'segmentLedCount'); n++, at += 3) {
          const looked = [0, 1, 2].map((i) => {
            const page = data.u8(segment + placeOf('segmentGammaPages') + i);
            return data.u8(256 * page + buffer[at + i]!);
          });
          const common = white ? min(...looked) : 0;
          const colours = looked.map((level) => level - common);
          const counted = data.field(segment, 'segmentSharesString')
            ? max(...colours)
            : colours.reduce((sum, level) => sum + level, 0);
          wanted +=
            counted * data.field(segment, 'segmentCurrent') +
            common * data.field(segment, 'segmentWhiteCurrent');
          leds.push({ bytes: white ? colours.toSpliced(white - 1, 0, common) : colours, white });
        }
      }
    }
    const scale = this.#scale(mod(wanted, 32));
    return Uint8Array.from(leds.flatMap(({ bytes }) => bytes.map((byte) => scale8(byte, scale))));
  }

  /** O-8. */
  #scale(wanted: number): number {
    const room = this.#data.u8(placeOf('headerRoomScales'));
    const budget = this.#header('headerBudget');
    if (!this.#header('headerLimited') || wanted <= budget) return room;
    const steps =
      budget < 2 ** 24 ? floor((budget * 256) / wanted) : floor(budget / (floor(wanted / 256) + 1));
    return min(room, max(0, steps - 1));
  }
}
