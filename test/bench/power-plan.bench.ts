// How long planning the feeds of a project takes: a sample, and panels of rows fed from below with 300 and 2,000 LEDs.
import { readFileSync } from 'node:fs';
import { test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { type FeedPlan, planFeeds } from '../../src/power/index.ts';
import { checkProject, type Planning, type Project } from '../../src/project/index.ts';
import { buildPanel } from '../power/build-project.ts';

function median(times: number, work: () => void): number {
  const taken = Array.from({ length: times }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return taken.sort((a, b) => a - b)[times >> 1]!;
}

const told = (plan: FeedPlan): string =>
  plan.kind === 'impossible'
    ? `impossible: ${plan.reasons.map(({ kind, runs }) => `${kind} ${runs.length}`).join(', ')}`
    : `${plan.feeds.length} feeds, ${plan.lines.every(({ isProved }) => isProved) ? 'proved least' : `at least ${plan.lines.reduce((sum, { least }) => sum + least, 0)}`}, ` +
      `${plan.jumpers.filter(({ power }) => power === 'cut').length} cuts, lowest ${plan.lowestVolts.toFixed(3)} V`;

/** Rows one below the other, all on one data line, as even as may be. */
function rows(runs: number, ledCount: number, boardWidthMm: number, railOhmPerMetre = 0.1): Project {
  const { project } = buildPanel({
    reel: { boardWidthMm, railOhmPerMetre },
    lines: [
      Array.from({ length: runs }, (_, run) => ({
        leds: Math.floor(((run + 1) * ledCount) / runs) - Math.floor((run * ledCount) / runs),
        jumper: { wire: 'AWG 20', lengthMm: 60 },
      })),
    ],
    supply: { volts: 5.1, place: { xMm: 280, yMm: 10 * runs + 100 } },
  });
  return project;
}

const planned = (name: string, project: Project, planning: Planning): void => {
  const changed = { ...project, power: { ...project.power, planning } };
  const layout = layOut(changed);
  const took = median(3, () => planFeeds(changed, layout));
  console.log(`${name.padEnd(58)} ${took.toFixed(0).padStart(6)} ms  ${told(planFeeds(changed, layout))}`);
};

test('planned feeds', () => {
  const sample = checkProject(JSON.parse(readFileSync('samples/midnight-carnival.lamploom.json', 'utf8')));
  if (!sample.ok) throw new Error('the sample does not hold');
  console.log('');
  for (const places of ['ends', 'anywhere'] as const) {
    planned(`the sample, ${places}`, sample.value, { places });
    for (const [runs, leds] of [
      [9, 300],
      [60, 2000],
    ] as const)
      for (const boardWidthMm of [10, 12])
        for (const mostDropVolts of [0.5, 0.3, 0.25, 0.2])
          planned(
            `${leds} LEDs in ${runs} rows, ${boardWidthMm} mm, drop ${mostDropVolts} V, ${places}`,
            rows(runs, leds, boardWidthMm),
            { places, mostDropVolts, wire: 'AWG 16' },
          );
  }
}, 600_000);
