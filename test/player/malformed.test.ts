// Malformed show data: bytes of random shows changed at random, natively under sanitizers, whose buffers end where the data end. Changed data are
// refused for their check, and, with the check made good again, played only where nothing reads or writes outside its bounds.
// The seed is fixed; LAMPLOOM_SEED chooses another one.
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/intel-hex.ts';
import { compileShowData, crc16 } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { playerManifest } from '../support/profile-board.ts';
import { loadProject } from '../support/projects.ts';
import { NativePlayer } from './native.ts';
import { seed, variedProject } from './varied-project.ts';

const dataCount = 60;
const changesEach = 300;
const wantedFrames = [0, 1, 40, 3000, 70_000] as const;
/** Places of show_data.h. */
const headerAt = { size: 4, check: 6, checked: 8 } as const;

let native: NativePlayer;
beforeAll(async () => {
  native = await NativePlayer.start('sanitized');
});
afterAll(async () => {
  await native.stop();
});

const datas = fc
  .sample(variedProject, { seed, numRuns: dataCount })
  .map((project) => compileShowData(project, layOut(project), { frameMs: 20 })!.bytes);

const repaired = (bytes: Uint8Array): Uint8Array => {
  const copy = bytes.slice();
  new DataView(copy.buffer).setUint16(headerAt.size, copy.length, true);
  new DataView(copy.buffer).setUint16(headerAt.check, crc16(copy.subarray(headerAt.checked)), true);
  return copy;
};

/** How many bytes came for the wanted frames of show 0: none where the data were refused. */
const played = async (bytes: Uint8Array): Promise<number> => {
  const answer = await native.frames(
    { bytes },
    wantedFrames.map((frame) => [0, frame] as const),
  );
  return answer.bytes.length;
};

/** Places worth changing: anywhere, in the header and the tables close behind it, and in the shows with their clips. */
const placesOf = (bytes: Uint8Array): fc.Arbitrary<number> => {
  const last = bytes.length - 1;
  const shows = bytes[24]! | (bytes[25]! << 8);
  return fc.oneof(
    fc.nat(last),
    fc.nat(Math.min(last, 400)),
    fc.nat(400).map((offset) => Math.min(last, shows + offset)),
  );
};

/** One to eight stretches of one to four bytes, each set to one value. */
const changes = (bytes: Uint8Array) =>
  fc.array(
    fc.record({
      at: placesOf(bytes),
      count: fc.constantFrom(1, 1, 2, 4),
      to: fc.oneof(fc.nat(255), fc.constantFrom(0, 1, 0x7f, 0x80, 0xff)),
    }),
    { minLength: 1, maxLength: 8 },
  );

const changed = (
  bytes: Uint8Array,
  list: readonly { at: number; count: number; to: number }[],
): Uint8Array => {
  const copy = bytes.slice();
  for (const { at, count, to } of list) copy.fill(to, at, at + count);
  return copy;
};

describe('a board whose show data changed in flash', () => {
  const program = playerManifest().programs.find(({ mcu }) => mcu === 'atmega328p')!;
  const hex = readHex(readFileSync(`firmware-templates/prebuilt/${program.file}`, 'utf8'));
  const project = loadProject(60, 2);
  const { bytes } = compileShowData(project, layOut(project), { frameMs: 20 })!;
  const framesSent = (data: Uint8Array): number => {
    const run = runInAvr8js(writeHex(withBytes(hex, program.showDataAt, data)), {
      lines: [{ pin: 6 }],
      frames: 3,
      maxCycles: 16e6 / 4,
    });
    return run.lines[0]!.frames.length;
  };

  test('sends nothing at all, while the unchanged one plays', () => {
    expect(framesSent(bytes)).toBe(3);
    for (const at of [0, headerAt.size, headerAt.check, headerAt.checked, 300, bytes.length - 1]) {
      const other = bytes.slice();
      other[at]! ^= 1;
      expect(framesSent(other), `byte ${at}`).toBe(0);
    }
  });
});

describe('show data', () => {
  test('as compiled are played', async () => {
    for (const bytes of datas) expect(await played(bytes)).toBeGreaterThan(0);
  });

  test('[S-1] whose check does not fit are refused', async () => {
    for (const bytes of datas)
      for (const at of [headerAt.check, headerAt.checked, bytes.length >> 1, bytes.length - 1]) {
        const other = bytes.slice();
        other[at]! ^= 0x10;
        expect(await played(other)).toBe(0);
      }
  });

  test('[S-1] that are cut off are refused', async () => {
    for (const bytes of datas)
      for (const length of [0, 1, 8, 41, 42, bytes.length >> 1, bytes.length - 1])
        expect(await played(bytes.slice(0, length))).toBe(0);
  });

  test(`[S-2, S-3] changed at random and checked anew, ${dataCount * changesEach} times, never reach outside their bounds`, async () => {
    let refused = 0;
    let accepted = 0;
    for (const [index, bytes] of datas.entries())
      for (const list of fc.sample(changes(bytes), { seed: seed + index, numRuns: changesEach })) {
        // A finding of the sanitizers ends the process, and the promise is rejected with what they said.
        if ((await played(repaired(changed(bytes, list)))) === 0) refused++;
        else accepted++;
      }
    // Both kinds must be there, or the test would show little.
    expect(refused).toBeGreaterThan(200);
    expect(accepted).toBeGreaterThan(200);
  });
});
