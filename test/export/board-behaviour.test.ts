// How the board behaves around its frames: every pin, several lines, late frames, and the moment each frame goes out.
import { describe, expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/index.ts';
import { boards } from '../../src/catalogue/index.ts';
import { compileShowData, predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { runInSimavr } from '../board/board-simavr.ts';
import { compareFrames } from '../support/board-frames.ts';
import { loadPlayer, templates } from '../support/lamploom.ts';
import { loadProject } from '../support/projects.ts';

const program = templates.programs[0]!;
const base = readHex(templates.hexTexts.get(program.file)!);

async function play(project: Project, frameMs: number, frames: number) {
  const data = compileShowData(project, layOut(project), { frameMs })!;
  const player = await loadPlayer();
  player.setShowData(data);
  const lines = project.dataLines.map((line) => ({ pin: line.pin! }));
  const run = runInAvr8js(writeHex(withBytes(base, program.showDataAt, data.bytes)), {
    lines,
    frames: frames + 1,
    maxCycles: 16e6 * 10,
  });
  return {
    run,
    result: compareFrames(
      run.lines.map((line) => line.frames),
      player,
      'attract',
      frameMs,
    ),
  };
}

describe('[PIN1] the ready-to-flash program', () => {
  const pins = boards[0]!.pins.map((row) => row.pin);
  test('knows every pin of ports B, C and D', () => {
    expect(pins).toEqual(Array.from({ length: 20 }, (_, pin) => pin));
  });
  test.each(pins)('sends on pin %i', async (pin) => {
    const project = loadProject(20, 3);
    const { result } = await play({ ...project, dataLines: [{ ...project.dataLines[0]!, pin }] }, 20, 6);
    expect(result).toMatchObject({ bytesDiffering: 0, framesCompared: 6, blackFirst: true });
  });
  test('sends two lines on two ports, each with its own LEDs', async () => {
    const project = loadProject(90, 4);
    const chain = project.dataLines[0]!.chain;
    const dataLines = [
      { pin: 15, chain: chain.slice(0, 1) },
      { pin: 4, chain: chain.slice(1) },
    ];
    const { run, result } = await play({ ...project, dataLines }, 30, 20);
    expect(run.lines.map((line) => line.frames[1]!.bytes.length)).toEqual([90, 180]);
    expect(result).toMatchObject({ bytesDiffering: 0, framesCompared: 20, blackFirst: true });
  });
});

describe('[TIME1] [T-4] time on the board', () => {
  test('frame n goes out n frame times after frame 0, to a tick of the timer', async () => {
    const project = loadProject(300, 4);
    const { frameMs } = predictSpeed(project, layOut(project));
    const { run } = await play(project, frameMs, 120);
    const [, zero, ...later] = run.lines[0]!.frames;
    for (const [i, frame] of later.entries()) {
      const offCycles = frame.startCycle - zero!.startCycle - (i + 1) * frameMs * 16_000;
      expect(Math.abs(offCycles)).toBeLessThanOrEqual(2 * 64);
    }
  });

  test.each<[string, (neededMs: number) => number]>([
    ['a little less than', (neededMs) => neededMs - 2],
    ['less than half of', (neededMs) => Math.floor(neededMs / 2.2)],
    ['a fraction of', (neededMs) => Math.floor(neededMs / 6)],
  ])('with %s the time that a frame takes, frames are left out, never slowed', async (_name, given) => {
    const project = loadProject(300, 4);
    const { result } = await play(project, given(predictSpeed(project, layOut(project)).frameMs), 60);
    expect(result).toMatchObject({ bytesDiffering: 0, framesCompared: 60 });
    expect(result.framesSkipped).toBeGreaterThan(0);
  });

  test('[W-5] the latch is kept even where the frame time leaves no room for it', async () => {
    // 31 LEDs take 0.93 ms on the wire; with 1 ms a frame only 70 us would be left.
    const project = { ...loadProject(31, 0), power: { supply: { volts: 5, amps: 5 }, feeds: [] } };
    const { run, result } = await play(project, 1, 60);
    expect(result.framesCompared).toBe(60);
    // 300 us: longest reset time of the listed chips.
    expect(run.lines[0]!.pulses.shortestLatchCycles).toBeGreaterThanOrEqual(4800);
    expect(run.lines[0]!.pulses.shortestLatchCycles).toBeLessThan(6000);
  });

  test('times far beyond 65 s play as the player says', async () => {
    // The show is an hour long and the frame time 120 ms, so that 560 frames pass the 16-bit mark of milliseconds.
    const project = loadProject(10, 4);
    const show = project.lampshows[0]!;
    const long = {
      ...project,
      lampshows: [
        {
          ...show,
          lengthMs: 3_600_000,
          rows: show.rows.map((row) => ({
            ...row,
            clips: row.clips.map((clip) => ({ ...clip, lengthMs: 3_600_000 })),
          })),
        },
      ],
    };
    const frameMs = 120;
    const data = compileShowData(long, layOut(long), { frameMs })!;
    const player = await loadPlayer();
    player.setShowData(data);
    const hexText = writeHex(withBytes(base, program.showDataAt, data.bytes));
    const frames = 560;
    const run = await runInSimavr(hexText, {
      lines: [{ pin: 6 }],
      frames: frames + 1,
      maxCycles: 16_000 * frameMs * (frames + 3),
    });
    const result = compareFrames(
      run.lines.map((line) => line.frames),
      player,
      'attract',
      frameMs,
    );
    expect(result).toMatchObject({ bytesDiffering: 0, framesCompared: frames, framesSkipped: 0 });
    expect(frames * frameMs).toBeGreaterThan(65_536);
  });
});
