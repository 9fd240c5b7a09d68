// The four blends, over all levels of an LED and a colour, against their formulas in floating point: over mixes, add adds up to full, brighter
// wins takes the larger, tint multiplies. That assembler and C++ agree is loops.test.ts's matter; whole clips on one another, colours.test.ts's.
import { beforeAll, describe, expect, test } from 'vitest';
import { nativeOutput, nativeProgram } from './native.ts';

const source = 'blend_vectors.cpp';
/** As in blend_vectors.cpp. */
const edges = [0, 1, 127, 128, 254, 255];
const someLevels = [0, 1, 2, 31, 64, 100, 127, 128, 129, 180, 200, 253, 254, 255];
const entryCases = 65_536;
const levelledCases = edges.length * someLevels.length ** 2 * 255;

let plain: Uint8Array;
let checked: { bytes: Uint8Array; exitCode: number; stderr: string };
beforeAll(async () => {
  plain = (await nativeOutput(await nativeProgram(source, 'plain'))).bytes;
  checked = await nativeOutput(await nativeProgram(source, 'checked'));
});

test('all cases are there, and checked integers give the same bytes and report nothing', () => {
  expect(plain).toHaveLength((edges.length + 4) * entryCases + 4 * levelledCases);
  expect([checked.stderr, checked.exitCode]).toEqual(['', 0]);
  expect(Buffer.from(checked.bytes).equals(plain)).toBe(true);
});

/** Farthest that a result is from its formula, in levels. */
function worstOf(from: number, count: number, formula: (index: number) => number): number {
  let worst = 0;
  for (let i = 0; i < count; i++) worst = Math.max(worst, Math.abs(plain[from + i]! - formula(i)));
  return worst;
}

describe('an entry that has its level in it', () => {
  // What is there is multiplied by rest / 255 and the colour has its share already: rest + share = 255, so that the sum fits.
  test.each(edges.map((rest, i) => [rest, i]))(
    'over with a rest of %i keeps that share of what is there, and adds the colour',
    (rest, i) => {
      let worst = 0;
      for (let led = 0; led < 256; led++)
        for (let colour = 0; colour <= 255 - rest; colour++) {
          const shown = plain[i! * entryCases + 256 * led + colour]!;
          worst = Math.max(worst, Math.abs(shown - ((led * rest!) / 255 + colour)));
        }
      // Cut off, and 256 stands for 255: under a level each.
      expect(worst).toBeLessThan(2);
    },
  );

  test('over with a rest of 255 changes nothing', () => {
    const at = edges.indexOf(255) * entryCases;
    expect(worstOf(at, entryCases, (n) => Math.floor(n / 256))).toBe(0);
  });

  test.each<[string, number, (led: number, colour: number) => number, number]>([
    ['add adds up to full', 0, (led, colour) => Math.min(255, led + colour), 0],
    ['brighter wins takes the larger', 1, (led, colour) => Math.max(led, colour), 0],
    // Cut off once.
    ['tint multiplies', 2, (led, colour) => (led * colour) / 255, 1],
    ['on black the colour is written', 3, (_led, colour) => colour, 0],
  ])('%s', (_, i, formula, tolerance) => {
    const from = (edges.length + i) * entryCases;
    expect(worstOf(from, entryCases, (n) => formula(Math.floor(n / 256), n % 256))).toBeLessThanOrEqual(
      tolerance,
    );
  });

  test('tint with white keeps what is there, with black nothing', () => {
    const from = (edges.length + 2) * entryCases;
    for (let led = 0; led < 256; led++) {
      expect(plain[from + 256 * led + 255]).toBe(led);
      expect(plain[from + 256 * led]).toBe(0);
    }
  });
});

describe('an LED with a level of its own', () => {
  interface Shares {
    readonly led: number;
    readonly colour: number;
    readonly level: number;
    readonly fade: number;
  }
  const sharesOf = (n: number): Shares => {
    const [level, rest] = [n % 255, Math.floor(n / 255)];
    const [j, i] = [rest % someLevels.length, Math.floor(rest / someLevels.length) % someLevels.length];
    return {
      led: someLevels[i]! / 255,
      colour: someLevels[j]! / 255,
      level: level / 255,
      fade: edges[Math.floor(rest / someLevels.length ** 2)]! / 255,
    };
  };
  // For add and brighter wins the fade is in the colour already, and for tint in what the colour takes away.
  test.each<[string, number, (shares: Shares) => number, number]>([
    // The share is cut off, 256 stands for 255, and the sum is cut off: under a level each.
    ['over mixes', 0, ({ led, colour, level, fade }) => led * (1 - level * fade) + colour * level * fade, 3],
    ['add adds up to full', 1, ({ led, colour, level }) => Math.min(1, led + colour * level), 1.01],
    ['brighter wins takes the larger', 2, ({ led, colour, level }) => Math.max(led, colour * level), 1.01],
    // What is taken away is cut off once, what is left once more.
    ['tint takes away', 3, ({ led, colour, level }) => led * (1 - (1 - colour) * level), 2],
  ])('%s', (_, i, formula, tolerance) => {
    const from = (edges.length + 4) * entryCases + i * levelledCases;
    expect(worstOf(from, levelledCases, (n) => 255 * formula(sharesOf(n)))).toBeLessThan(tolerance);
  });

  test('of level 0 leaves the LED alone', () => {
    for (let i = 0; i < 4; i++) {
      const from = (edges.length + 4) * entryCases + i * levelledCases;
      for (let n = 0; n < levelledCases; n += 255)
        expect(plain[from + n]).toBe(Math.round(255 * sharesOf(n).led));
    }
  });
});
