// What the player's property tests vary beyond test/support/projects.ts: chips whose channels share one string, white dice, two data lines, and the
// frame numbers to look at. And the seed: fixed, so that a run can be repeated; LAMPLOOM_SEED chooses another one.

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { Player } from '../../src/lampshow/index.ts';
import type { Project, Run } from '../../src/project/index.ts';
import { randomProject } from '../support/projects.ts';

export const seed = Number(process.env['LAMPLOOM_SEED'] ?? 20_261_125);
if (!Number.isInteger(seed)) throw new Error('LAMPLOOM_SEED must be a whole number');

export const loadPlayer = (): Promise<Player> =>
  Player.load(readFileSync('firmware-templates/prebuilt/player.wasm'));

/** Pins of ports D, B and C without the serial pins 0 and 1. */
const dataPin = fc.integer({ min: 2, max: 19 });

function withVariety(
  project: Project,
  variety: { chip: 'as it is' | 'largest' | 'white'; twoLines: boolean; secondPin: number },
): Project {
  const runs = project.runs.map((run): Run => {
    if (run.strip !== 'ws2813-60' || variety.chip === 'as it is') return run;
    if (variety.chip === 'largest') return { ...run, strip: 'ws2815-60' };
    const { colourOrder: _, ...others } = run;
    return { ...others, strip: 'sk6812-white-60' };
  });
  const [line] = project.dataLines;
  const half = Math.ceil(runs.length / 2);
  if (!variety.twoLines || runs.length < 2 || !line || line.pin === variety.secondPin)
    return { ...project, runs };
  const dataLines = [
    { pin: line.pin!, chain: line.chain.slice(0, half) },
    { pin: variety.secondPin, chain: line.chain.slice(half) },
  ];
  return { ...project, runs, dataLines };
}

/** The suite's random project, some with `largest` strips or white dice, some with two data lines, which may go out together. */
export const variedProject: fc.Arbitrary<Project> = fc
  .tuple(
    randomProject,
    fc.record({
      chip: fc.constantFrom('as it is', 'largest', 'white'),
      twoLines: fc.boolean(),
      secondPin: dataPin,
    }),
  )
  .map(([project, variety]) => withVariety(project, variety));

const hourMs = 3_600_000;

/** Twenty-two frame numbers: the first two, some early ones, beyond 65 s, near an hour, beyond 16 and 24 bits. */
export const frameNumbers = (frameMs: number): fc.Arbitrary<number[]> => {
  const from = (first: number, spread: number) =>
    fc.integer({ min: 0, max: Math.floor(spread) }).map((offset) => Math.floor(first) + offset);
  return fc
    .tuple(
      ...Array.from({ length: 12 }, () => from(2, 4000 / frameMs)),
      from(2, 60_000 / frameMs),
      from(65_536 / frameMs, 5000 / frameMs),
      from(66_000 / frameMs, 20_000 / frameMs),
      from(66_000 / frameMs, 60_000 / frameMs),
      from((hourMs - 30_000) / frameMs, 60_000 / frameMs),
      from(65_536, 4000),
      from(2 ** 17, 100_000),
      from(2 ** 24, 2 ** 20),
    )
    .map((numbers) => [0, 1, ...numbers]);
};
