// Lines of several kinds of strip: the wire must not pause between them, or chips behind the change would take the pause for the end.
import { expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/index.ts';
import { compileShowData, predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { compareFrames } from '../support/board-frames.ts';
import { loadPlayer, templates } from '../support/lamploom.ts';
import { profile } from '../support/profile-board.ts';
import { loadProject } from '../support/projects.ts';

const program = templates.programs[0]!;
const base = loadProject(150, 4);
/** Every second run with another order, every third of other chips; gamma and white balance of each channel its own. */
const mixed: Project = {
  ...base,
  runs: base.runs.map((run, i) => ({
    ...run,
    strip: i % 3 === 2 ? 'ws2813-60' : 'ws2812b-60',
    ...(i % 2 === 1 ? { colourOrder: 'BRG' as const } : {}),
  })),
  dataLines: [
    { pin: 5, chain: base.dataLines[0]!.chain.slice(0, 4) },
    { pin: 12, chain: base.dataLines[0]!.chain.slice(4) },
  ],
  output: {
    ...base.output,
    gamma: { red: 2.4, green: 2.2, blue: 1.8 },
    whiteBalance: { red: 1, green: 0.8, blue: 0.7 },
  },
};

test('[MIX1] a line of several orders and chips is sent without a pause, and as the player says', async () => {
  const { frameMs } = predictSpeed(mixed, layOut(mixed));
  const data = compileShowData(mixed, layOut(mixed), { frameMs })!;
  const player = await loadPlayer();
  player.setShowData(data);
  const lines = [{ pin: 5 }, { pin: 12 }];
  const hexText = writeHex(
    withBytes(readHex(templates.hexTexts.get(program.file)!), program.showDataAt, data.bytes),
  );
  const run = runInAvr8js(hexText, { lines, frames: 41, maxCycles: 16e6 * 4 });
  const frames = run.lines.map((line) => line.frames);
  expect(compareFrames(frames, player, 'attract', frameMs)).toMatchObject({
    bytesDiffering: 0,
    framesCompared: 40,
    framesSkipped: 0,
  });
  for (const { pulses } of run.lines) {
    expect([pulses.T0L?.minCycles, pulses.T0L?.maxCycles]).toEqual([14, 14]);
    expect([pulses.T1L?.minCycles, pulses.T1L?.maxCycles]).toEqual([8, 8]);
  }
});

test('[MIX2] correcting gamma beforehand is predicted, never too fast and by at most a thirtieth too slow', async () => {
  const predicted = predictSpeed(mixed, layOut(mixed)).slowestFrameCycles.get('attract')!;
  const measured = Math.max(...(await profile(mixed, 12, 60)).map((frame) => frame.total));
  expect(predicted / measured).toBeGreaterThanOrEqual(1);
  expect(predicted / measured).toBeLessThan(1 + 1 / 30);
});
