// The loops with an assembler body in blend.h: on the emulated chip, as C++, and with checked integers, byte for byte;
// and each against its formula in floating point, from the doc comments: blends within their rounding, sums and tables exactly.
// Not here: whole frames (avr-equals-wasm.test.ts), gradients from stops (colours.test.ts).
import { beforeAll, describe, expect, test } from 'vitest';
import { chipOutput } from './chip-output.ts';
import { nativeOutput, nativeProgram } from './native.ts';

const source = 'blend_vectors.cpp';
/** As in blend_vectors.cpp and the headers it includes. */
const rounds = 60;
const chunkLeds = 32;
const tableBytes = 256;
const ledBytes = 3 * chunkLeds + 3;
const fades = [0, 1, 127, 128, 254, 255];

let chip: Uint8Array;
let plain: Uint8Array;
let checked: { bytes: Uint8Array; exitCode: number; stderr: string };

beforeAll(async () => {
  chip = await chipOutput(source, 100e6);
  plain = (await nativeOutput(await nativeProgram(source, 'plain'))).bytes;
  checked = await nativeOutput(await nativeProgram(source, 'checked'));
});

/** Takes the output apart, front to back. */
class Reader {
  readonly #bytes: Uint8Array;
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  take(count: number): Uint8Array {
    this.#at += count;
    return this.#bytes.subarray(this.#at - count, this.#at);
  }

  byte(): number {
    return this.take(1)[0]!;
  }

  get isAtEnd(): boolean {
    return this.#at === this.#bytes.length;
  }
}

const names = ['over', 'add', 'brighter wins', 'tint'] as const;
type BlendName = (typeof names)[number];

/** Shares from 0 to 1; `colour` has the fade multiplied in already, except for over; for tint it is what is taken away. */
const formulas: Readonly<
  Record<BlendName, (led: number, colour: number, level: number, fade: number) => number>
> = {
  over: (led, colour, level, fade) => led * (1 - level * fade) + colour * level * fade,
  add: (led, colour, level) => Math.min(1, led + colour * level),
  'brighter wins': (led, colour, level) => Math.max(led, colour * level),
  tint: (led, colour, level) => led * (1 - colour * level),
};
/**
 * Every product of two bytes is cut off, and its high byte stands for a division by 255: under 1 level each, under 2 for multiplyHigh8,
 * which does not add the 1 to its factor. Tint has one of each more than the formula's rounding down; over has two.
 */
const mostLevelsOff: Readonly<Record<BlendName, number>> = { over: 2, add: 1, 'brighter wins': 1, tint: 3 };

interface BlendCase {
  readonly name: BlendName;
  readonly fade: number;
  readonly ledCount: number;
  readonly pairs: Uint8Array;
  readonly colours: Uint8Array;
  readonly before: Uint8Array;
  readonly after: Uint8Array;
}
function blendCases(reader: Reader): BlendCase[] {
  return Array.from({ length: 4 * rounds }, () => ({
    name: names[reader.byte()]!,
    fade: reader.byte(),
    ledCount: reader.byte(),
    pairs: reader.take(2 * chunkLeds),
    colours: reader.take(tableBytes),
    before: reader.take(ledBytes),
    after: reader.take(ledBytes),
  }));
}

/** Farthest that any byte of the chunk is from its formula rounded down, in levels. */
function levelsOff({ name, fade, ledCount, pairs, colours, before, after }: BlendCase): number {
  let worst = 0;
  for (let i = 0; i < 3 * ledCount; i++) {
    const pair = 2 * Math.floor(i / 3);
    const colour = colours[4 * Math.floor(pairs[pair]! / 4) + (i % 3)]!;
    const exact = 255 * formulas[name](before[i]! / 255, colour / 255, pairs[pair + 1]! / 255, fade / 255);
    worst = Math.max(worst, Math.abs(after[i]! - Math.floor(exact + 1e-9)));
  }
  return worst;
}

describe('blends', () => {
  test.each(names)(
    '%s follows its formula within rounding and leaves the LEDs behind the chunk alone',
    (name) => {
      const cases = blendCases(new Reader(plain)).filter((one) => one.name === name);
      expect(cases.length).toBe(rounds);
      expect(cases.map(({ fade }) => fade).slice(0, fades.length)).toEqual(fades);
      for (const one of cases) {
        const behind = 3 * one.ledCount;
        expect(levelsOff(one)).toBeLessThanOrEqual(mostLevelsOff[name]);
        expect([...one.after.subarray(behind)]).toEqual([...one.before.subarray(behind)]);
      }
    },
  );

  test('a full level over shows the colour itself, and a level of 0 changes nothing', () => {
    let full = 0;
    let none = 0;
    for (const { name, fade, ledCount, pairs, colours, before, after } of blendCases(new Reader(plain)))
      for (let i = 0; i < 3 * ledCount; i++) {
        const pair = 2 * Math.floor(i / 3);
        if (name === 'over' && fade === 255 && pairs[pair + 1] === 255) {
          full++;
          expect(after[i]).toBe(colours[4 * Math.floor(pairs[pair]! / 4) + (i % 3)]);
        }
        if (pairs[pair + 1] === 0) {
          none++;
          expect(after[i], name).toBe(before[i]);
        }
      }
    expect(full).toBeGreaterThan(20);
    expect(none).toBeGreaterThan(500);
  });
});

/** The pieces of blend_vectors.cpp: colours, then start and step of red, green, blue in 1/256 levels. */
const pieces = [
  { colours: 2, start: [0x0080, 0xff80, 0x1080], step: [0xff00, 0x8100 - 0x10000, 0x7f00] },
  { colours: 61, start: [0xf080, 0x0a80, 0x8000], step: [0xfc40 - 0x10000, 0x03c0, 0x0001] },
  { colours: 1, start: [0xff7f, 0x01ff, 0x00ff], step: [0, 0, 0] },
];
const gradientLevels = pieces.flatMap(({ colours, start, step }) =>
  Array.from({ length: colours }, (_, i) =>
    start.map((first, c) => Math.floor((first + i * step[c]!) / 256)),
  ),
);

/** Level times (fade + 1) / 256, rounded down; over leaves the fade to the blend, tint holds what is taken away. */
function tableByte(level: number, name: BlendName, fade: number): number {
  if (name === 'over') return level;
  return Math.floor(((name === 'tint' ? 255 - level : level) * (fade + 1)) / 256);
}

test('the colour table holds the gradient’s pieces with the fade multiplied in, for every blend', () => {
  const reader = new Reader(plain);
  blendCases(reader);
  for (const name of names)
    for (const fade of fades) {
      const table = reader.take(tableBytes);
      const expected = gradientLevels.flatMap((levels) => [
        ...levels.map((level) => tableByte(level, name, fade)),
        0,
      ]);
      expect([...table], `${name} ${fade}`).toEqual(expected);
    }
});

test('the emulated chip gives the same bytes as the C++ bodies', () => {
  expect(chip.length).toBe(plain.length);
  expect(chip.findIndex((byte, i) => byte !== plain[i])).toBe(-1);
});

test('checked integers give the same bytes and report nothing', () => {
  expect(checked.stderr).toBe('');
  expect(checked.exitCode).toBe(0);
  expect(checked.bytes.findIndex((byte, i) => byte !== plain[i])).toBe(-1);
});
