// The prediction of speed, held against the emulated board: it may be a little too careful, never too bold.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { profile } from '../support/profile-board.ts';
import { loadProject, randomProject } from '../support/projects.ts';

/** Slowest of some frames on the emulated board against the prediction. */
async function ratio(project: Project, frames: number): Promise<number> {
  const { slowestFrameCycles } = predictSpeed(project, layOut(project));
  const measured = await profile(project, frames, 60);
  return slowestFrameCycles.get('attract')! / Math.max(...measured.map((frame) => frame.total));
}

describe('prediction of speed against the emulated board', () => {
  test.each([
    [60, 4],
    [150, 6],
    [300, 4],
    [300, 6],
    [480, 4],
  ])(
    'the load of the speed table, %i LEDs and %i rows, is predicted never too fast and by at most a thirtieth too slow',
    async (leds, rows) => {
      const predicted = await ratio(loadProject(leds, rows), 12);
      expect(predicted).toBeGreaterThanOrEqual(1);
      expect(predicted).toBeLessThan(1 + 1 / 30);
    },
  );

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
      expect(await ratio({ ...project, power }, 8)).toBeGreaterThanOrEqual(1);
  });

  test('random shows are never slower than predicted', async () => {
    const projects = fc.sample(
      randomProject.filter((project) => layOut(project).wireLeds.length <= 400),
      { seed: 20_261_125, numRuns: 25 },
    );
    for (const project of projects) expect(await ratio(project, 8)).toBeGreaterThanOrEqual(1);
  });
});
