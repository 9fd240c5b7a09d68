// The effects' loops: assembler on the emulated chip, C++ natively and with checked integers, over the same varied chunks.
// What the effects mean is tested elsewhere (effects-*.test.ts); here, that the bodies agree.
import { beforeAll, expect, test } from 'vitest';
import { chipOutput } from './chip-output.ts';
import { nativeOutput, nativeProgram } from './native.ts';

const source = 'effect_vectors.cpp';
/** Chunks of 1 to 32 LEDs, again and again, as effect_vectors.cpp counts them. */
const chunks = Array.from({ length: 60 }, (_, n) => 1 + (n % 32));
const effects = 5;

let plain: Uint8Array;
beforeAll(async () => {
  plain = (await nativeOutput(await nativeProgram(source, 'plain'))).bytes;
});

test('every effect writes a place and a level for each LED, many of them lit and many dark', () => {
  expect(plain.length).toBe(chunks.reduce((sum, leds) => sum + 2 * leds * effects, 0));
  const levels = plain.filter((_, i) => i % 2 === 1);
  for (const wanted of [
    (level: number) => level === 0,
    (level: number) => level > 0 && level < 255,
    (level: number) => level === 255,
  ])
    expect(levels.filter(wanted).length).toBeGreaterThan(300);
});

test('the emulated chip writes the same bytes', async () => {
  expect(Buffer.from(await chipOutput(source, 50e6)).equals(plain)).toBe(true);
});

test('checked integers write the same bytes and report nothing', async () => {
  const { bytes, stderr, exitCode } = await nativeOutput(await nativeProgram(source, 'checked'));
  expect([stderr, exitCode]).toEqual(['', 0]);
  expect(Buffer.from(bytes).equals(plain)).toBe(true);
});
