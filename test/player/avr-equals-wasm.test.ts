// The ready-to-flash program on the emulated board against the player in WebAssembly: random projects, their show data laid behind the
// program, bytes decoded from the data pins. Frame numbers come from the times at which the frames went out, so a late frame would be
// compared with what should have been shown then. Not here: pulses and latch (test/board), the sketch.

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/intel-hex.ts';
import {
  compileShowData,
  lineBytesPerLed,
  type Player,
  predictSpeed,
  type ShowData,
} from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { placeOfPin } from '../board/emulated-board.ts';
import { playerManifest } from '../support/profile-board.ts';
import { Coverage, countFrame, effectNames, pairNames } from './coverage.ts';
import { loadPlayer, seed, variedProject } from './varied-project.ts';

const projectCount = 90;
const framesEach = 25;
const cyclesPerMs = 16_000;
/** SRAM of an ATmega328P, and what the stack needs at most. */
const sramBytes = 2048;
const stackBytes = 160;
/** Frames start when the free-running timer reaches their tick (64 cycles), found by a short loop. */
const mostCyclesOff = 200;

const program = playerManifest().programs.find(({ mcu }) => mcu === 'atmega328p')!;
const hexText = readFileSync(`firmware-templates/prebuilt/${program.file}`, 'utf8');

const fits = (project: Project): boolean =>
  3 * layOut(project).wireLeds.length + program.staticSramBytes + stackBytes <= sramBytes;

/** Effects with blends that a project's first frame reaches. */
function pairsOf(project: Project): string[] {
  const coverage = new Coverage();
  countFrame(coverage, project, layOut(project), 0, { frameMs: 20 });
  return pairNames.filter((name) => coverage.of(name) > 0);
}

/** First projects that bring a pair which none before them had, so that no seed leaves one out; then others. */
function chosenProjects(): Project[] {
  const all = fc.sample(variedProject, { seed, numRuns: 4 * projectCount }).filter(fits);
  const met = new Set<string>();
  const bringsNew = all.map((project) => {
    const before = met.size;
    for (const name of pairsOf(project)) met.add(name);
    return met.size > before;
  });
  return [...all.filter((_, i) => bringsNew[i]), ...all.filter((_, i) => !bringsNew[i])].slice(
    0,
    projectCount,
  );
}
const projects = chosenProjects();

interface Play {
  readonly project: Project;
  readonly data: ShowData;
  /** For each line the frames that it sent, black first. */
  readonly lines: readonly (readonly { readonly startCycle: number; readonly bytes: Uint8Array }[])[];
}

function play(project: Project): Play {
  const layout = layOut(project);
  const { frameMs } = predictSpeed(project, layout);
  const data = compileShowData(project, layout, { frameMs })!;
  const merged = writeHex(withBytes(readHex(hexText), program.showDataAt, data.bytes));
  const run = runInAvr8js(merged, {
    lines: project.dataLines.map((line) => ({ pin: line.pin! })),
    frames: framesEach + 1,
    maxCycles: cyclesPerMs * frameMs * (framesEach + 6),
  });
  expect(run.complete).toBe(true);
  return { project, data, lines: run.lines.map((line) => line.frames) };
}

/** Numbers of the frames behind the black one, from their start times. */
function frameNumbersOf({ lines, data }: Play): number[] {
  const starts = lines[0]!.slice(1).map((frame) => frame.startCycle);
  return starts.map((start) => {
    const sinceFirst = start - starts[0]!;
    const number = Math.round(sinceFirst / (cyclesPerMs * data.frameMs));
    expect(Math.abs(sinceFirst - number * cyclesPerMs * data.frameMs)).toBeLessThan(mostCyclesOff);
    return number;
  });
}

describe(`the ready-to-flash program on ${projectCount} random projects (seed ${seed})`, () => {
  let wasm: Player;
  let plays: Play[];
  beforeAll(async () => {
    wasm = await loadPlayer();
    plays = projects.map(play);
  });

  test('shows black on every line first', () => {
    for (const { lines, project } of plays) {
      const counts = layOut(project).lines.map((line) =>
        lineBytesPerLed(line).reduce<number>((sum, one) => sum + one, 0),
      );
      expect(lines.map(([first]) => first!.bytes.length)).toEqual(counts);
      for (const [first] of lines) expect(first!.bytes.every((byte) => byte === 0)).toBe(true);
    }
  });

  test('sends byte for byte what the player in WebAssembly gives for the frame number of that moment', () => {
    let compared = 0;
    let ledFrames = 0;
    let lit = 0;
    for (const one of plays) {
      const { project, data, lines } = one;
      wasm.setShowData(data);
      for (const [i, number] of frameNumbersOf(one).entries()) {
        const sent = Buffer.concat(lines.map((frames) => frames[i + 1]!.bytes));
        const expected = Buffer.from(wasm.frame(project.attractMode, number));
        expect(sent.equals(expected), `${JSON.stringify(project)} frame ${number}`).toBe(true);
        compared += sent.length;
        ledFrames += layOut(project).wireLeds.length;
        lit += sent.filter((byte) => byte !== 0).length;
      }
    }
    expect(ledFrames).toBeGreaterThan(100_000);
    expect(lit / compared, 'share of lit bytes').toBeGreaterThan(0.5);
  });

  test('leaves out no frame at the predicted frame time', () => {
    for (const one of plays)
      expect(frameNumbersOf(one).slice(0, framesEach)).toEqual([...Array(framesEach).keys()]);
  });

  test('was tried with every effect and blend, on pins of ports B, C and D, and on two lines', () => {
    const coverage = new Coverage();
    for (const { project, data } of plays) {
      for (const { pin } of project.dataLines) coverage.add(`port ${placeOfPin(pin!).port}`);
      for (let number = 0; number < framesEach; number++)
        countFrame(coverage, project, layOut(project), number, data);
    }
    const names = [
      ...effectNames,
      ...[
        'envelope',
        'cycling gradient',
        'letters in rows',
        'two data lines',
        'current sum',
        'current largest',
      ],
    ];
    expect(coverage.rare(names, framesEach)).toEqual([]);
    expect(coverage.rare([...pairNames, 'port B', 'port C', 'port D'], 1)).toEqual([]);
  });
});
