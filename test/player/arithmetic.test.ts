// The helpers of arithmetic.h: assembler bodies on the emulated chip, C++ bodies natively and with checked integers, and the rules of
// their doc comments written here once more. Bytes are integers from 0 to 255 throughout; no expected value comes from the player.
import { beforeAll, describe, expect, test } from 'vitest';
import { chipOutput } from './chip-output.ts';
import { nativeOutput, nativeProgram } from './native.ts';

const source = 'arithmetic_vectors.cpp';
const maxCycles = 100e6;

/** edges and the count as in arithmetic_vectors.cpp. */
const edges = [
  0x0000, 0x0001, 0x0002, 0x007f, 0x0080, 0x0081, 0x00fe, 0x00ff, 0x0100, 0x0101, 0x01ff, 0x0fff, 0x1000,
  0x5555, 0x7f80, 0x7fff, 0x8000, 0x8001, 0x80ff, 0xaaaa, 0xfe01, 0xfeff, 0xff00, 0xff01, 0xfffe, 0xffff,
];
const samples = 20_000;

/** Marsaglia's 16-bit xorshift 7, 9, 8 (vector_output.h). */
function* varied16(): Generator<number, never> {
  for (let state = 1; ; ) {
    state ^= (state << 7) & 0xffff;
    state ^= state >> 9;
    state ^= (state << 8) & 0xffff;
    yield state;
  }
}

const range = (count: number) => Array.from({ length: count }, (_, i) => i);
const bytePairs = range(65_536).map((n) => [n >> 8, n & 255] as const);
const little16 = (value: number) => [value % 256, Math.floor(value / 256)];

/** The S-curve's ends, its middle, and that it rises, are all that its comment promises; so it has no row here. */
const notCompared = 256;

interface Helper {
  readonly name: string;
  readonly expected: () => number[];
}
const overPairs = (name: string, rule: (a: number, b: number) => readonly number[]): Helper => ({
  name,
  expected: () => bytePairs.flatMap(([a, b]) => rule(a, b)),
});
const overBytes = (name: string, count: number, rule: (a: number) => number): Helper => ({
  name,
  expected: () => range(count).map(rule),
});

function wordHelpers(): Helper[] {
  const low = (a: number, b: number) => little16((a * b) % 65_536);
  const middle = (a: number, b: number) => little16(Math.floor((a * b) / 256));
  const both = (a: number, b: number) => [...low(a, b), ...middle(a, b)];
  const generator = varied16();
  const next = () => generator.next().value;
  return [
    {
      name: 'multiplyLow16 and multiplyMiddle16, edges',
      expected: () => edges.flatMap((a) => range(256).flatMap((b) => both(a, b))),
    },
    {
      name: 'multiplyLow16 and multiplyMiddle16, sample',
      expected: () => range(samples).flatMap(() => both(next(), (next() >> 4) & 255)),
    },
  ];
}

/** In the order of arithmetic_vectors.cpp. */
const pairHelpers: readonly Helper[] = [
  overPairs('multiply8', (a, b) => little16(a * b)),
  overPairs('multiplyHigh8', (a, b) => [Math.floor((a * b) / 256)]),
  overPairs('scale8', (a, k) => [Math.floor((a * (k + 1)) / 256)]),
  overPairs('distance8', (a, b) => [Math.abs(a - b)]),
  overPairs('addSaturating8', (a, b) => [Math.min(255, a + b)]),
  overPairs('fold8', (a, factor) => [Math.floor((a * factor) / 256) ^ ((a * factor) % 256)]),
  overPairs('order8', (a, b) => [Math.max(a, b), Math.min(a, b)]),
];
const byteHelpers: readonly Helper[] = [
  overBytes('triangle8', 256, (phase) => (phase < 128 ? 2 * phase : 255 - 2 * (phase - 128))),
  overBytes('half8', 256, (a) => Math.floor(a / 2)),
  overBytes('eighth8', 256, (a) => Math.floor(a / 8)),
];
const middleHelper = overBytes('middle8', 65_536, (word) => Math.floor(word / 16) % 256);

let chip: Uint8Array;
let plain: Uint8Array;
let checked: Uint8Array;
let checkedStatus: { exitCode: number; stderr: string };

beforeAll(async () => {
  chip = await chipOutput(source, maxCycles);
  plain = (await nativeOutput(await nativeProgram(source, 'plain'))).bytes;
  const run = await nativeOutput(await nativeProgram(source, 'checked'));
  checked = run.bytes;
  checkedStatus = run;
});

/** Where a helper's results begin in the output. */
function* placed(): Generator<{ helper: Helper; expected: number[]; at: number }> {
  let at = 0;
  const place = (helper: Helper) => {
    const expected = helper.expected();
    at += expected.length;
    return { helper, expected, at: at - expected.length };
  };
  for (const helper of [...pairHelpers, ...byteHelpers]) yield place(helper);
  at += notCompared;
  for (const helper of [middleHelper, ...wordHelpers()]) yield place(helper);
  expect(at).toBe(chip.length);
}

describe.each([
  ['assembler body on the emulated chip', () => chip],
  ['C++ body', () => plain],
  ['C++ body with checked integers', () => checked],
])('the %s', (_, output) => {
  test('of each helper gives what its rule says, over all inputs or a dense sample', () => {
    for (const { helper, expected, at } of placed()) {
      const wrong = expected.findIndex((byte, i) => byte !== output()[at + i]);
      expect(
        wrong === -1
          ? 'all equal'
          : `result ${wrong}: ${output()[at + wrong]}, the rule says ${expected[wrong]}`,
        helper.name,
      ).toBe('all equal');
    }
  });
});

test('no helper overflows on AVR for any of these inputs', () => {
  expect(checkedStatus.stderr).toBe('');
  expect(checkedStatus.exitCode).toBe(0);
});

test('ease8 rises from 0 through 128 in the middle to 255, the same on the chip', () => {
  const at = [...pairHelpers, ...byteHelpers].reduce((sum, helper) => sum + helper.expected().length, 0);
  const curve = [...plain.subarray(at, at + notCompared)];
  expect([...chip.subarray(at, at + notCompared)]).toEqual(curve);
  expect([curve[0], curve[255]]).toEqual([0, 255]);
  expect(Math.abs(curve[128]! - 128)).toBeLessThanOrEqual(1);
  expect(curve.every((level, i) => i === 0 || level >= curve[i - 1]!)).toBe(true);
});
