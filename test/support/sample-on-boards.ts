// One sample, every show of it: the exported sketch (compiled by Debian's Arduino builder) and the exported .hex, each on two emulated
// boards whose pins are decoded pulse by pulse, against the frames of the player in WebAssembly.
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { sketchNameOf } from '../../src/board/index.ts';
import type { Player } from '../../src/lampshow/index.ts';
import type { Project } from '../../src/project/index.ts';
import { type BoardRun, runInAvr8js } from '../board/board-avr8js.ts';
import { runInSimavr } from '../board/board-simavr.ts';
import { chipsMissed, formatMargins, marginsNs } from '../board/chip-windows.ts';
import { compileSketch, mustCompile } from '../board/sketch-compiler.ts';
import { compareFrames } from './board-frames.ts';
import { temporaryFolder } from './command-line.ts';
import {
  examine,
  exportedText,
  exportedTexts,
  loadPlayer,
  type Sample,
  sample,
  templates,
} from './lamploom.ts';

const clockHz = 16_000_000;
const framesWanted = 200;
/** Time for what comes before the first frame: the board first checks its show data, which takes the longer the more there are. */
const startUpMs = 100;
/** 100 bytes of stack that nothing ever touches. */
const untouchedBytes = 100;
const fqbn: Readonly<Record<string, string>> = {
  atmega328p: 'arduino:avr:nano:cpu=atmega328',
  'atmega328p-old': 'arduino:avr:nano:cpu=atmega328old',
};

/** Compiles the exported sketch in a folder of its own; fails on any warning from our files. */
async function compiledSketch(project: Project, show: string) {
  const folder = temporaryFolder();
  for (const [path, text] of exportedTexts(project, show)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const compiled = mustCompile(
    await compileSketch(join(folder, 'sketch', sketchNameOf(project)), { fqbn: fqbn[project.board.id]! }),
  );
  expect(compiled.warningsFromSketch).toEqual([]);
  return compiled;
}

function expectPulses(run: BoardRun): void {
  for (const line of run.lines) {
    const { T0H, T1H, T0L, T1L, shortestLatchCycles } = line.pulses;
    expect([T0H?.minCycles, T0H?.maxCycles, T1H?.minCycles, T1H?.maxCycles]).toEqual([6, 6, 12, 12]);
    expect([T0L?.minCycles, T0L?.maxCycles, T1L?.minCycles, T1L?.maxCycles]).toEqual([14, 14, 8, 8]);
    // 300 us: longest reset time of the listed chips (WS2813 and WS2815 data sheets).
    expect(shortestLatchCycles).toBeGreaterThanOrEqual(0.0003 * clockHz);
    expect(chipsMissed(marginsNs(line.pulses, clockHz))).toEqual([]);
    expect(line.wakeUp).toMatchObject({ drivenHighBeforeLow: false, pulledUpBeforeDriven: false });
  }
}

/** Declares the tests of a sample. */
export function describeOnBoards(name: Sample): void {
  const project = sample(name);
  let player: Player;
  beforeAll(async () => {
    player = await loadPlayer();
  });

  describe(`[BYTES1] ${name} on emulated boards sends what the preview shows`, () => {
    test.each(project.lampshows.map((show) => show.id))('%s', { timeout: 120_000 }, async (show) => {
      const { frameMs, showData } = examine(project, templates, show);
      player.setShowData(showData!);
      const lines = project.dataLines.map((line) => ({ pin: line.pin! }));
      const maxCycles = ((framesWanted + 3) * frameMs + startUpMs) * (clockHz / 1000);
      const hexTexts = {
        sketch: (await compiledSketch(project, show)).hexText,
        firmware: exportedText(project, `firmware/${project.board.id}.hex`, show),
      };
      for (const [what, hexText] of Object.entries(hexTexts)) {
        const inAvr8js = runInAvr8js(hexText, { lines, frames: framesWanted + 1, maxCycles });
        const inSimavr = await runInSimavr(hexText, { lines, frames: framesWanted + 1, maxCycles });
        expectPulses(inAvr8js);
        if (what === 'firmware' && show === project.attractMode)
          console.log(
            `${name}, margins of the pulses to each chip's window:\n${formatMargins(marginsNs(inAvr8js.lines[0]!.pulses, clockHz))}`,
          );
        expect(inAvr8js.untouchedStackBytes).toBeGreaterThanOrEqual(untouchedBytes);
        const sources = {
          avr8js: inAvr8js.lines.map((line) => line.frames),
          simavr: inSimavr.lines.map((line) => line.frames),
        };
        for (const [emulator, frames] of Object.entries(sources)) {
          const result = compareFrames(frames, player, show, frameMs);
          expect({ what, emulator, ...result }).toMatchObject({
            bytesDiffering: 0,
            firstDifference: undefined,
            framesSkipped: 0,
            blackFirst: true,
          });
          expect(result.framesCompared).toBeGreaterThanOrEqual(framesWanted);
          expect(result.bytesLit).toBeGreaterThan(result.bytesCompared / 20);
        }
      }
    });
  });
}
