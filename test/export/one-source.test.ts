// One source for screen and board: a constant changed in the player's source changes both in the same way.
import { execFileSync } from 'node:child_process';
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/index.ts';
import { compileShowData, Player } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { compareFrames } from '../support/board-frames.ts';
import { temporaryFolder } from '../support/command-line.ts';
import { loadPlayer, root } from '../support/lamploom.ts';
import { loadProject } from '../support/projects.ts';

const frameMs = 30;
const project = loadProject(90, 4);
const data = compileShowData(project, layOut(project), { frameMs })!;

/** The player and its ready-to-flash program, built afresh with one piece of source replaced. */
async function builtWith(file: string, from: string, to: string) {
  const folder = join(temporaryFolder(), 'firmware-templates');
  cpSync(join(root, 'firmware-templates'), folder, { recursive: true });
  const path = join(folder, 'player', file);
  const source = readFileSync(path, 'utf8');
  expect(source.split(from)).toHaveLength(2);
  writeFileSync(path, source.replace(from, to));
  execFileSync('node', [join(folder, 'build.mjs')], { stdio: 'pipe' });
  const prebuilt = (name: string) => readFileSync(join(folder, 'prebuilt', name));
  const { showDataAt } = JSON.parse(prebuilt('manifest.json').toString()).programs[0];
  const player = await Player.load(new Uint8Array(prebuilt('player.wasm')));
  player.setShowData(data);
  const hexText = writeHex(withBytes(readHex(prebuilt('atmega328p.hex').toString()), showDataAt, data.bytes));
  return { player, hexText };
}

test.each([
  ['effects.h', 'starFold = 0x5B', 'starFold = 0x5D', 'when stars wake'],
  [
    'effects.h',
    'centre = ease16(easing, way);',
    'centre = ease16(easing, (U16)(way + 999));',
    'where a band is',
  ],
  ['effects.h', 'latticeFoldX = 0xB5', 'latticeFoldX = 0xB7', 'the shape of the cloud'],
  [
    'arithmetic.h',
    'U8 h = fold8((U8)(a ^ 0x6D), 0xC5);',
    'U8 h = fold8((U8)(a ^ 0x6E), 0xC5);',
    'a constant of chance',
  ],
  ['output.h', 'steps - 1u', 'steps - 2u', 'how far the limiter goes'],
])(
  '[ONE1] %s: %s -> %s (%s) changes preview and board identically',
  { timeout: 60_000 },
  async (file, from, to) => {
    const { player, hexText } = await builtWith(file, from, to);
    const run = runInAvr8js(hexText, { lines: [{ pin: 6 }], frames: 41, maxCycles: 16e6 * 3 });
    const changed = compareFrames(
      run.lines.map((line) => line.frames),
      player,
      'attract',
      frameMs,
    );
    expect(changed).toMatchObject({ bytesDiffering: 0, framesCompared: 40 });
    const original = await loadPlayer();
    original.setShowData(data);
    const against = compareFrames(
      run.lines.map((line) => line.frames),
      original,
      'attract',
      frameMs,
    );
    if (from === to) expect(against.bytesDiffering).toBe(0);
    else expect(against.bytesDiffering).toBeGreaterThan(50);
  },
);
