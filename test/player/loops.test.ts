// The loops over LEDs: assembler on the emulated chip, C++ natively and with checked integers, over the same varied stretches.
// What effects and blends mean is tested elsewhere (effects-*.test.ts, blend.test.ts); here, that the bodies agree and stay inside.
import { beforeAll, describe, expect, test } from 'vitest';
import { chipOutput } from './chip-output.ts';
import { nativeOutput, nativeProgram } from './native.ts';

const source = 'loops_vectors.cpp';
/** As in loops_vectors.cpp. */
const rounds = 20;
const guardBytes = 6;
const guard = 0xa5;
const blends = ['over', 'add', 'brighter wins', 'tint', 'written on black'] as const;
const variants = [
  'along',
  'way',
  'chance, swelling',
  'chance, dying out',
  'cloud',
  'cloud in rows',
  'fire',
  'painted, 1 bit',
  'painted, 2 bits',
  'painted, 4 bits for 8 colours',
  'painted, 4 bits for 16 colours',
  'letters',
] as const;

interface Case {
  readonly loop: string;
  readonly ledCount: number;
  readonly before: Uint8Array;
  readonly after: Uint8Array;
}
function casesOf(bytes: Uint8Array): Case[] {
  const cases: Case[] = [];
  for (let at = 0; at < bytes.length; ) {
    const [variant, blend, ledCount] = [bytes[at]!, bytes[at + 1]!, bytes[at + 2]!];
    const size = 2 * guardBytes + 3 * ledCount;
    cases.push({
      loop: `${variants[variant]}, ${blends[blend]}`,
      ledCount,
      before: bytes.subarray(at + 3, at + 3 + size),
      after: bytes.subarray(at + 3 + size, at + 3 + 2 * size),
    });
    at += 3 + 2 * size;
  }
  return cases;
}

/** The sketch's build, and the ready-to-flash one, whose colour table lies on a page of its own. */
let chip: Case[];
let alignedChip: Case[];
let plain: Case[];
let checked: Case[];
let checkedStatus: { exitCode: number; stderr: string };

beforeAll(async () => {
  chip = casesOf(await chipOutput(source, 400e6));
  alignedChip = casesOf(await chipOutput(source, 400e6, ['-DLAMPLOOM_ALIGNED']));
  plain = casesOf((await nativeOutput(await nativeProgram(source, 'plain'))).bytes);
  const run = await nativeOutput(await nativeProgram(source, 'checked'));
  checked = casesOf(run.bytes);
  checkedStatus = run;
});

/** LEDs with stars have no writing on black: each has a level of its own. */
const loops = variants.flatMap((variant) =>
  blends
    .filter((blend) => !(variant.startsWith('chance') && blend === 'written on black'))
    .map((blend) => `${variant}, ${blend}`),
);
const of = (cases: readonly Case[], loop: string): Case[] => cases.filter((one) => one.loop === loop);

describe.each(loops)('%s', (loop) => {
  test('the emulated chip and checked integers give the bytes of the C++ body', () => {
    const expected = of(plain, loop);
    expect(expected).toHaveLength(rounds);
    for (const [name, cases] of [
      ['chip', of(chip, loop)],
      ['chip with the table on a page', of(alignedChip, loop)],
      ['checked', of(checked, loop)],
    ] as const) {
      expect(cases).toHaveLength(rounds);
      for (const [i, { ledCount, before, after }] of cases.entries()) {
        const what = `${name}, case ${i} of ${ledCount} LEDs`;
        expect(ledCount, what).toBe(expected[i]!.ledCount);
        expect(
          before.findIndex((byte, at) => byte !== expected[i]!.before[at]),
          `${what}: before`,
        ).toBe(-1);
        expect(
          after.findIndex((byte, at) => byte !== expected[i]!.after[at]),
          `${what}: after`,
        ).toBe(-1);
      }
    }
  });

  test('bytes around the stretch stay as they are, and many inside change', () => {
    for (const cases of [plain, chip, alignedChip]) {
      let changed = 0;
      for (const { ledCount, before, after } of of(cases, loop)) {
        const end = guardBytes + 3 * ledCount;
        for (const bytes of [before, after])
          expect([...bytes.subarray(0, guardBytes), ...bytes.subarray(end)]).toEqual(
            Array.from({ length: 2 * guardBytes }, () => guard),
          );
        changed += after.filter((byte, at) => byte !== before[at]).length;
      }
      expect(changed).toBeGreaterThan(500);
    }
  });
});

test('checked integers report nothing', () => {
  expect([checkedStatus.stderr, checkedStatus.exitCode]).toEqual(['', 0]);
});
