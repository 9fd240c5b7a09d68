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

interface Helper {
  readonly name: string;
  /** The bytes, or, where the comment promises less, how many there are; then a test of its own looks at them. */
  readonly expected: () => number[] | number;
}
const overPairs = (name: string, rule: (a: number, b: number) => readonly number[]): Helper => ({
  name,
  expected: () => bytePairs.flatMap(([a, b]) => rule(a, b)),
});
const overBytes = (name: string, count: number, rule: (a: number) => number): Helper => ({
  name,
  expected: () => range(count).map(rule),
});

const signed = (word: number): number => (word >= 0x8000 ? word - 0x10000 : word);
const modulo16 = (value: number): number => ((value % 65_536) + 65_536) % 65_536;
/** As in arithmetic_vectors.cpp. */
const easeEvery = 8;
const easedWays = [...range(65_536 / easeEvery).map((i) => easeEvery * i), 65_535];
const easings = ['none', 'in', 'out', 'both'] as const;

function wordHelpers(): Helper[] {
  const three = (a: number, b: number) =>
    [
      (a * b) % 65_536,
      Math.floor((a * b) / 256),
      // A step in two's complement, rounded towards minus infinity.
      modulo16(Math.floor((signed(a) * b) / 256)),
    ].flatMap(little16);
  const generator = varied16();
  const next = () => generator.next().value;
  const edgePairs = edges.flatMap((a) => edges.map((b) => [a, b] as const));
  return [
    {
      name: 'multiplyLow16, multiplyMiddle16 and shareOfStep16, edges',
      expected: () => edges.flatMap((a) => range(256).flatMap((b) => three(a, b))),
    },
    {
      name: 'multiplyLow16, multiplyMiddle16 and shareOfStep16, sample',
      expected: () => range(samples).flatMap(() => three(next(), (next() >> 4) & 255)),
    },
    {
      name: 'multiplyHigh16, addSaturating16 and multiply32, edges',
      expected: () =>
        edgePairs.flatMap(([a, b]) => {
          const product = (BigInt(a * 65_536 + b) * BigInt(b * 65_536 + a)) % 0x1_0000_0000n;
          return [
            Math.floor((a * b) / 65_536),
            Math.min(65_535, a + b),
            Number(product % 65_536n),
            Number(product / 65_536n),
          ].flatMap(little16);
        }),
    },
    {
      name: 'shiftRight16, edges',
      expected: () =>
        edges.flatMap((a) => range(17).flatMap((places) => little16(Math.floor(a / 2 ** places)))),
    },
    ...easings.map((easing) => ({ name: `ease16 ${easing}`, expected: () => 2 * easedWays.length })),
  ];
}

/** In the order of arithmetic_vectors.cpp. */
const pairHelpers: readonly Helper[] = [
  overPairs('multiply8', (a, b) => little16(a * b)),
  overPairs('multiplyHigh8', (a, b) => [Math.floor((a * b) / 256)]),
  overPairs('scale8', (a, k) => [Math.floor((a * (k + 1)) / 256)]),
  overPairs('addSaturating8', (a, b) => [Math.min(255, a + b)]),
  overPairs('fold8', (a, factor) => [Math.floor((a * factor) / 256) ^ ((a * factor) % 256)]),
  overPairs('order8', (a, b) => [Math.max(a, b), Math.min(a, b)]),
  { name: 'chance8', expected: () => 65_536 },
];
const byteHelpers: readonly Helper[] = [
  overBytes('triangle8', 256, (phase) => (phase < 128 ? 2 * phase : 255 - 2 * (phase - 128))),
  overBytes('half8', 256, (a) => Math.floor(a / 2)),
  overBytes('eighth8', 256, (a) => Math.floor(a / 8)),
  overBytes('quarter8', 256, (a) => Math.floor(a / 4)),
  overBytes('square8', 256, (a) => Math.floor((a * a) / 256)),
  { name: 'ease8', expected: () => 256 },
];

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

/** Where a helper's results begin in the output, and how many bytes they are. */
function* placed(): Generator<{ helper: Helper; expected: number[] | undefined; at: number; size: number }> {
  let at = 0;
  for (const helper of [...pairHelpers, ...byteHelpers, ...wordHelpers()]) {
    const expected = helper.expected();
    const size = typeof expected === 'number' ? expected : expected.length;
    yield { helper, expected: typeof expected === 'number' ? undefined : expected, at, size };
    at += size;
  }
  expect(at).toBe(chip.length);
}
/** The C++ body's results. */
function resultsOf(name: string): Uint8Array {
  for (const { helper, at, size } of placed()) if (helper.name === name) return plain.subarray(at, at + size);
  throw new Error(`no helper ${name}`);
}

describe.each([
  ['assembler body on the emulated chip', () => chip],
  ['C++ body', () => plain],
  ['C++ body with checked integers', () => checked],
])('the %s', (_, output) => {
  test('of each helper gives what its rule says, over all inputs or a dense sample', () => {
    for (const { helper, expected, at } of placed()) {
      if (!expected) continue;
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

test('the three give the same bytes, also where no rule says which', () => {
  expect(chip).toHaveLength(plain.length);
  expect(chip.findIndex((byte, i) => byte !== plain[i])).toBe(-1);
  expect(checked.findIndex((byte, i) => byte !== plain[i])).toBe(-1);
});

test('ease8 rises from 0 through 128 in the middle to 255', () => {
  const curve = [...resultsOf('ease8')];
  expect([curve[0], curve[255]]).toEqual([0, 255]);
  expect(Math.abs(curve[128]! - 128)).toBeLessThanOrEqual(1);
  expect(curve.every((level, i) => i === 0 || level >= curve[i - 1]!)).toBe(true);
});

/** Parabolas: slow at the beginning, at the end, or at both, where they meet half way. */
const easingLaws: Readonly<Record<(typeof easings)[number], (share: number) => number>> = {
  none: (share) => share,
  in: (share) => share ** 2,
  out: (share) => 1 - (1 - share) ** 2,
  both: (share) => (share < 0.5 ? 2 * share ** 2 : 1 - 2 * (1 - share) ** 2),
};
test.each(easings)('ease16 %s goes from end to end on its parabola, within two steps of 65,536', (easing) => {
  const bytes = resultsOf(`ease16 ${easing}`);
  const words = easedWays.map((_, i) => bytes[2 * i]! + 256 * bytes[2 * i + 1]!);
  expect(words[0]).toBeLessThanOrEqual(1);
  expect(words.at(-1)).toBeGreaterThanOrEqual(65_534);
  for (const [i, way] of easedWays.entries()) {
    expect(Math.abs(words[i]! - 65_535 * easingLaws[easing](way / 65_535))).toBeLessThanOrEqual(2);
    if (i > 0) expect(words[i]).toBeGreaterThanOrEqual(words[i - 1]!);
  }
});

test('chance8 is even enough: under any bound, for any second byte, lie nearly as many as the bound says', () => {
  const results = resultsOf('chance8');
  const worst = range(256).map((b) => {
    const column = range(256).map((a) => results[256 * a + b]!);
    return Math.max(
      ...range(9).map((i) => Math.abs(column.filter((value) => value < 32 * i).length - 32 * i)),
    );
  });
  // 256 throws of dice miss by 8 as a standard deviation at the middle; five of them are allowed for.
  expect(Math.max(...worst)).toBeLessThanOrEqual(40);
  // All throws together: a hash of bytes is not quite even, and nobody sees one in fifty more or less (common sense, no source).
  for (const bound of range(9).map((i) => 32 * i))
    expect(Math.abs(results.filter((value) => value < bound).length - 256 * bound)).toBeLessThanOrEqual(
      65_536 / 50,
    );
});
