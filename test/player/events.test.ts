// Shows with game events, down to the wire's bytes: native players (plain, with sanitizers, with checked integers) against WebAssembly on random
// projects and logs, frames in any order, and a value that fills a column. Not here: what the director should decide (director.test.ts).
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, type HeardEvent, type Player, type ShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { GameEvent, Project } from '../../src/project/index.ts';
import { type NativeBuild, NativePlayer, nativeBuilds } from './native.ts';
import { projectOfScene, rowAt } from './stage.ts';
import { loadPlayer, seed, variedProject } from './varied-project.ts';

const logCount = 100;
const lastFrame = 600;
const framesEach = 50;

let wasm: Player;
const players = new Map<NativeBuild, NativePlayer>();
beforeAll(async () => {
  wasm = await loadPlayer();
  for (const build of nativeBuilds) players.set(build, await NativePlayer.start(build));
});
afterAll(async () => {
  for (const player of players.values()) expect(await player.stop()).toBe(0);
});

const showIds = ['attract', 'first', 'second', 'third'] as const;

/** The random project's only show, and three shorter ones made of some of its rows. */
function withShows(project: Project, lengthsMs: readonly number[], kept: readonly boolean[]): Project {
  const base = project.lampshows[0]!;
  const others = showIds.slice(1).map((id, i) => {
    const rows = base.rows.filter((_, row) => kept[(row + 3 * i) % kept.length]);
    return { ...base, id, lengthMs: lengthsMs[i]!, rows: rows.length > 0 ? rows : base.rows.slice(i % 2) };
  });
  return { ...project, lampshows: [base, ...others] };
}

const gameEvent = (index: number): fc.Arbitrary<GameEvent> =>
  fc.record({
    id: fc.constant(`event-${index}`),
    lampshow: fc.constantFrom(...showIds),
    priority: fc.constantFrom(50, 100, 200),
    when: fc.constantFrom('interrupt', 'interrupt', 'queue'),
    plays: fc.constantFrom<(number | 'until-next')[]>(1, 2, 'until-next'),
    crossfadeMs: fc.constantFrom(0, 300, 2000),
    resume: fc.boolean(),
    retriggerMs: fc.constantFrom(0, 0, 400),
    delayMs: fc.constantFrom(0, 0, 1, 250, 500),
    hasValue: fc.boolean(),
  });

interface Performance {
  readonly project: Project;
  readonly frameMs: number;
  readonly log: readonly HeardEvent[];
  readonly frames: readonly number[];
}

const performance: fc.Arbitrary<Performance> = fc.record({
  project: fc
    .tuple(
      variedProject,
      fc.array(fc.integer({ min: 200, max: 4000 }), { minLength: 3, maxLength: 3 }),
      fc.array(fc.boolean(), { minLength: 7, maxLength: 7 }),
      fc.tuple(gameEvent(0), gameEvent(1), gameEvent(2), gameEvent(3), gameEvent(4)),
    )
    .map(([project, lengths, kept, gameEvents]) => ({ ...withShows(project, lengths, kept), gameEvents })),
  frameMs: fc.integer({ min: 5, max: 50 }),
  log: fc.array(
    fc.record({
      frame: fc.nat({ max: lastFrame }),
      event: fc.nat({ max: 4 }).map((index) => `event-${index}`),
      value: fc.option(fc.nat({ max: 255 }), { nil: undefined }),
    }),
    { minLength: 3, maxLength: 25 },
  ),
  frames: fc
    .uniqueArray(fc.nat({ max: lastFrame }), { minLength: framesEach, maxLength: framesEach })
    .map((all) => all.sort((a, b) => a - b)),
});

function compiled(project: Project, frameMs: number): ShowData {
  const data = compileShowData(project, layOut(project), { frameMs });
  if (!data) throw new Error('the show data is too large');
  return data;
}

describe('native players and WebAssembly', () => {
  test(`give the same bytes for ${logCount} random logs, frames in any order (seed ${seed})`, {
    timeout: 240_000,
  }, async () => {
    let bytes = 0;
    let lit = 0;
    let withEvents = 0;
    await fc.assert(
      fc.asyncProperty(performance, async ({ project, frameMs, log, frames }) => {
        const data = compiled(project, frameMs);
        wasm.setShowData(data);
        const frameOf = wasm.perform('attract', log);
        const expected = frames.map((frame) => Buffer.from(frameOf(frame)));
        const whole = Buffer.concat(expected);
        // Seeking back, and another performance in between, change nothing.
        wasm.perform('first', [])(3);
        for (const i of [framesEach - 1, 7, 20, 7])
          expect(Buffer.from(frameOf(frames[i]!)).equals(expected[i]!), `frame ${frames[i]}`).toBe(true);
        const events = log
          .map(({ frame, event, value }) => ({
            frame,
            event: data.eventNumbers.get(event)!,
            ...(value === undefined ? {} : { value }),
          }))
          .sort((a, b) => a.frame - b.frame);
        for (const [build, player] of players) {
          const answer = await player.performance(data, { show: 0, events, frames });
          expect(answer.overflows, `${build}: ${player.messages}`).toBe(0);
          expect(Buffer.from(answer.bytes).equals(whole), build).toBe(true);
        }
        for (const [i, frame] of frames.entries())
          if (!Buffer.from(wasm.frame('attract', frame)).equals(expected[i]!)) withEvents++;
        bytes += whole.length;
        lit += whole.filter((byte) => byte !== 0).length;
      }),
      { seed, numRuns: logCount },
    );
    expect(lit / bytes, 'share of compared bytes that are lit').toBeGreaterThan(0.4);
    expect(withEvents / (logCount * framesEach), 'share of frames that events changed').toBeGreaterThan(0.3);
  });
});

test('[D-13] the value fills the column, from the frame of its event on', () => {
  const project: Project = {
    ...projectOfScene({
      runs: [rowAt('row', 0, 100)],
      lengthMs: 1000,
      clips: [
        {
          startMs: 0,
          lengthMs: 1000,
          effect: { kind: 'column', fillSeconds: 1, travel: 'fills', byValue: true, softness: 0 },
        },
      ],
    }),
    gameEvents: [{ id: 'score', lampshow: 'attract', hasValue: true }],
  };
  wasm.setShowData(compiled(project, 10));
  const log = [0, 128, 255].map((value, i) => ({ frame: 5 + 10 * i, event: 'score', value }));
  const frameOf = wasm.perform('attract', log);
  const litAt = (frame: number) => [...frameOf(frame)].filter((byte) => byte === 255).length / 3;
  expect(litAt(14)).toBeLessThanOrEqual(1);
  expect(Math.abs(litAt(15) - 50)).toBeLessThanOrEqual(1);
  expect(Math.abs(litAt(24) - 50)).toBeLessThanOrEqual(1);
  expect(litAt(25)).toBeGreaterThanOrEqual(99);
  expect(litAt(999)).toBeGreaterThanOrEqual(99);
});
