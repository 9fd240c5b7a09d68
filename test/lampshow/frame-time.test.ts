// The prediction of speed, held against the emulated board: within 2 %, and never bolder than half of the 2 % that the frame time adds.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { sample } from '../support/lamploom.ts';
import { profile } from '../support/profile-board.ts';
import { loadProject, randomProject } from '../support/projects.ts';

/** Slowest of some frames on the emulated board against the prediction. */
async function ratio(project: Project, frames: number, frameMs = 60): Promise<number> {
  const { slowestFrameCycles } = predictSpeed(project, layOut(project));
  const measured = await profile(project, frames, frameMs);
  // Short drawing waits for the chips' latch, which the profile counts as waiting.
  const cycles = measured.map(
    ({ total, byPart: { clip, prepare, table, effect } }) =>
      total + Math.max(0, latchCycles - (clip + prepare + table + effect)),
  );
  return slowestFrameCycles.get(project.attractMode)! / Math.max(...cycles);
}
/** 304 us at 16 MHz. */
const latchCycles = 4864;
const boldest = 0.99;

describe('prediction of speed against the emulated board', () => {
  test.each([
    [60, 4],
    [150, 6],
    [300, 4],
    [300, 6],
    [480, 4],
  ])('the load of the speed table, %i LEDs and %i rows, is predicted within 2 %%', async (leds, rows) => {
    const predicted = await ratio(loadProject(leds, rows), 40);
    expect(predicted).toBeGreaterThanOrEqual(boldest);
    expect(predicted).toBeLessThan(1.02);
  });

  test('two hundred short runs of alternating colour order are never slower than predicted', async () => {
    const [run] = loadProject(1, 1).runs;
    const runs = Array.from({ length: 200 }, (_, i) => ({
      ...run!,
      id: `run-${i}`,
      colourOrder: i % 2 === 0 ? ('GRB' as const) : ('RGB' as const),
    }));
    const project = {
      ...loadProject(1, 1),
      runs,
      dataLines: [{ pin: 6, chain: runs.map(({ id }) => ({ run: id })) }],
    };
    for (const power of [project.power, { supply: project.power.supply, feeds: [] }])
      expect(await ratio({ ...project, power }, 8, 110)).toBeGreaterThanOrEqual(boldest);
  });

  test('random shows are never slower than predicted', async () => {
    const projects = fc.sample(
      randomProject.filter((project) => layOut(project).wireLeds.length <= 400),
      { seed: 20_261_125, numRuns: 25 },
    );
    for (const project of projects) expect(await ratio(project, 30)).toBeGreaterThanOrEqual(boldest);
  });

  test.each([
    ['midnight-carnival', 'attract', 600],
    ['midnight-carnival', 'game-start', 200],
    ['midnight-carnival', 'jackpot', 200],
    ['first-light', 'attract', 400],
    ['deep-sea', 'attract', 400],
    ['deep-sea', 'jackpot', 200],
  ] as const)(
    'the show "%s, %s" is predicted within 2 %%',
    { timeout: 60_000 },
    async (name, show, frames) => {
      // Alone: with events there would be another show to draw, and the program that is measured leaves less room than the one for boards.
      const { gameEvents: _, inputs: _inputs, pressLogs: _logs, ...alone } = sample(name);
      const lampshows = alone.lampshows.filter(({ id }) => id === show);
      const predicted = await ratio({ ...alone, lampshows, attractMode: show }, frames, 40);
      expect(predicted).toBeGreaterThanOrEqual(boldest);
      expect(predicted).toBeLessThan(1.02);
    },
  );

  test.each([0, 1, 8])('what hearing of %i event pins costs is predicted within 2 %%', async (pins) => {
    const gameEvents = Array.from({ length: Math.max(1, pins) }, (_, i) => ({
      id: `event-${i}`,
      lampshow: 'attract',
      ...(pins === 0 ? {} : { pin: 8 + i }),
    }));
    const predicted = await ratio({ ...loadProject(120, 4), gameEvents }, 30);
    expect(predicted).toBeGreaterThanOrEqual(boldest);
    expect(predicted).toBeLessThan(1.02);
  });
});
