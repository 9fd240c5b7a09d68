// Lines of several kinds of strip, with and without white dice, and lines that go out together: on the board as the player says, and the wire
// never pauses, or chips behind a change would take the pause for the end. Not here: the sender by itself (test/player/output-stage.test.ts).
import { expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/index.ts';
import {
  compileShowData,
  linePairs,
  predictSpeed,
  segmentsOf,
  wireByteCount,
} from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { compareFrames } from '../support/board-frames.ts';
import { loadPlayer, templates } from '../support/lamploom.ts';
import { profile } from '../support/profile-board.ts';
import { loadProject } from '../support/projects.ts';

const program = templates.programs[0]!;
const base = loadProject(150, 4);
const { chain } = base.dataLines[0]!;
const output: Project['output'] = {
  gamma: { red: 2.4, green: 2.2, blue: 1.8 },
  whiteBalance: { red: 1, green: 0.8, blue: 0.7 },
  brightnessPercent: 100,
};
/** Every second run with another order, every third of other chips, the fourth with white dice; two ports. */
const mixed: Project = {
  ...base,
  runs: base.runs.map((run, i) => ({
    ...run,
    strip: i === 3 ? 'sk6812-white-60' : i % 3 === 2 ? 'ws2813-60' : 'ws2812b-60',
    ...(i === 3 ? { colourOrder: 'WGRB' as const } : i % 2 === 1 ? { colourOrder: 'BRG' as const } : {}),
  })),
  dataLines: [
    { pin: 5, chain: chain.slice(0, 4) },
    { pin: 12, chain: chain.slice(4) },
  ],
  output,
};
/** Three lines of one port: the first and the last are the longest, so they go out together. */
const together: Project = {
  ...base,
  runs: base.runs.map((run, i) => (i < 2 ? { ...run, colourOrder: 'BRG' as const } : run)),
  dataLines: [
    { pin: 2, chain: chain.slice(0, 2) },
    { pin: 3, chain: chain.slice(2, 3) },
    { pin: 7, chain: chain.slice(3) },
  ],
  output,
};

const pairsOf = (project: Project) => {
  const layout = layOut(project);
  return linePairs(project, layout, segmentsOf(layout));
};

test.each([
  ['[MIX1] lines of several orders and chips', mixed, []],
  ['[MIX2] two lines at once and one beside them', together, [[0, 2]]],
])('%s are sent without a pause, and as the player says', async (_name, project, pairs) => {
  expect(pairsOf(project)).toEqual(pairs);
  const { frameMs } = predictSpeed(project, layOut(project));
  const data = compileShowData(project, layOut(project), { frameMs })!;
  const player = await loadPlayer();
  player.setShowData(data);
  const hexText = writeHex(
    withBytes(readHex(templates.hexTexts.get(program.file)!), program.showDataAt, data.bytes),
  );
  const lines = project.dataLines.map(({ pin }) => ({ pin: pin! }));
  const run = runInAvr8js(hexText, { lines, frames: 41, maxCycles: 16e6 * 4 });
  const compared = compareFrames(
    run.lines.map((line) => line.frames),
    player,
    'attract',
    frameMs,
  );
  expect(compared).toMatchObject({ bytesDiffering: 0, framesCompared: 40, framesSkipped: 0 });
  expect(compared.bytesCompared).toBe(40 * wireByteCount(layOut(project)));
  expect(compared.bytesLit).toBeGreaterThan(compared.bytesCompared / 4);
  for (const { pulses } of run.lines) {
    expect([pulses.T0L?.minCycles, pulses.T0L?.maxCycles]).toEqual([14, 14]);
    expect([pulses.T1L?.minCycles, pulses.T1L?.maxCycles]).toEqual([8, 8]);
  }
});

test.each([
  ['[MIX3] several orders and chips', mixed],
  ['[MIX4] two lines at once', together],
])('%s are predicted, at most a hundredth too fast and a twentieth too slow', async (_name, project) => {
  const predicted = predictSpeed(project, layOut(project)).slowestFrameCycles.get('attract')!;
  const measured = Math.max(...(await profile(project, 12, 60)).map((frame) => frame.total));
  expect(predicted / measured).toBeGreaterThanOrEqual(0.99);
  expect(predicted / measured).toBeLessThan(1 + 1 / 20);
});
