// What the player tells of its director - what has the panel and since when, what fades, waits, is delayed and comes back - against the model of
// director-model.ts over random logs, in any order of frames; and small scenes with the rule's words beside them.
// Not here: what plays (director.test.ts), bytes on the wire (events.test.ts).
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  compileShowData,
  type DirectorState,
  type HeardEvent,
  type Performance,
  type Player,
} from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { GameEvent, Project } from '../../src/project/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { DirectorModel, type ModelScene, type ModelState } from './director-model.ts';
import { loadPlayer, seed } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const showIds = ['attract', 'first', 'second', 'third'];

interface Scene {
  readonly frameMs: number;
  readonly lengthsMs: readonly number[];
  readonly events: readonly GameEvent[];
}

/** A performance from power-up with the first show on. */
function performed({ frameMs, lengthsMs, events }: Scene, log: readonly HeardEvent[]): Performance {
  const project: Project = projectOf({
    runs: rowsOfStrip(2),
    lampshows: lengthsMs.map((lengthMs, i) => ({
      id: showIds[i]!,
      lengthMs,
      rows: [],
    })) as Project['lampshows'][number][] as Project['lampshows'],
    gameEvents: [...events],
  });
  player.setShowData(compileShowData(project, layOut(project), { frameMs })!);
  return player.perform('attract', log);
}

const modelScene = ({ frameMs, lengthsMs, events }: Scene): ModelScene => ({
  frameMs,
  showLengthsMs: lengthsMs,
  events: events.map((event) => ({
    show: showIds.indexOf(event.lampshow),
    priority: event.priority ?? 100,
    queues: event.when === 'queue',
    resumes: event.resume ?? false,
    hasValue: event.hasValue ?? false,
    plays: event.plays === 'until-next' ? 0 : (event.plays ?? 1),
    crossfadeMs: event.crossfadeMs ?? 0,
    retriggerMs: event.retriggerMs ?? 0,
    delayFrames: Math.ceil((event.delayMs ?? 0) / frameMs),
  })),
});

/** The model's state in the words of the player's. */
function named(state: ModelState, events: readonly GameEvent[]): DirectorState {
  const id = (event: number): string => events[event]!.id;
  return {
    lampshow: showIds[state.show]!,
    ...(state.event === undefined ? {} : { event: id(state.event) }),
    sinceFrame: state.sinceFrame,
    value: state.value,
    ...(state.fading ? { fading: { from: showIds[state.fading.from]!, share: state.fading.share } } : {}),
    waiting: state.waiting.map(id),
    delayed: state.delayed.map(({ event, frame }) => ({ event: id(event), frame })),
    ...(state.resumes ? { resumes: { lampshow: showIds[state.resumes.show]!, how: state.resumes.how } } : {}),
  };
}

const lastFrame = 300;
const randomEvent = (index: number): fc.Arbitrary<GameEvent> =>
  fc.record({
    id: fc.constant(`event-${index}`),
    lampshow: fc.constantFrom(...showIds),
    priority: fc.constantFrom(50, 100, 200),
    when: fc.constantFrom('interrupt', 'interrupt', 'queue'),
    plays: fc.constantFrom<(number | 'until-next')[]>(1, 2, 'until-next'),
    crossfadeMs: fc.constantFrom(0, 100, 900),
    resume: fc.boolean(),
    retriggerMs: fc.constantFrom(0, 0, 300),
    delayMs: fc.constantFrom(0, 0, 90, 310, 500),
    hasValue: fc.boolean(),
  });
const randomCase = fc.record({
  scene: fc.record({
    frameMs: fc.integer({ min: 5, max: 40 }),
    lengthsMs: fc.array(fc.integer({ min: 20, max: 1500 }), { minLength: 4, maxLength: 4 }),
    events: fc.tuple(...[0, 1, 2, 3, 4, 5].map(randomEvent)),
  }),
  log: fc.array(
    fc.record({
      frame: fc.nat({ max: lastFrame }),
      event: fc.nat({ max: 5 }).map((index) => `event-${index}`),
      value: fc.nat({ max: 255 }),
    }),
    { minLength: 4, maxLength: 60 },
  ),
  sought: fc.array(fc.nat({ max: lastFrame }), { minLength: 10, maxLength: 10 }),
});

test(`[D-17] what the director holds is what the model holds, on 150 random logs (seed ${seed}), frames in any order`, () => {
  const seen = { fading: 0, waiting: 0, delayed: 0, fourDelayed: 0, resumes: new Map<string, number>() };
  fc.assert(
    fc.property(randomCase, ({ scene, log, sought }) => {
      const { directorAt } = performed(scene, log);
      const model = new DirectorModel(modelScene(scene), 0);
      const numbered = [...log]
        .sort((a, b) => a.frame - b.frame)
        .map(({ frame, event, value }) => ({ frame, value, event: Number(event.slice(-1)) }));
      const expected = Array.from({ length: lastFrame + 1 }, (_, frame) => {
        model.frame(frame, numbered);
        return named(model.state(), scene.events);
      });
      for (const [frame, state] of expected.entries()) {
        expect(directorAt(frame), `frame ${frame}`).toEqual(state);
        if (state.fading) seen.fading++;
        if (state.waiting.length > 0) seen.waiting++;
        if (state.delayed.length > 0) seen.delayed++;
        if (state.delayed.length === 4) seen.fourDelayed++;
        const how = state.resumes?.how ?? 'nothing';
        seen.resumes.set(how, (seen.resumes.get(how) ?? 0) + 1);
      }
      for (const frame of sought) expect(directorAt(frame), `sought frame ${frame}`).toEqual(expected[frame]);
    }),
    { seed, numRuns: 150 },
  );
  for (const [what, count] of Object.entries({ ...seen, ...Object.fromEntries(seen.resumes) }))
    if (typeof count === 'number') expect(count, what).toBeGreaterThan(100);
  expect([...seen.resumes.keys()].sort()).toEqual(['anew', 'as-if-it-played', 'nothing', 'where-it-was']);
});

describe('in words', () => {
  const scene: Scene = {
    frameMs: 10,
    lengthsMs: [1000, 100, 200, 300],
    events: [
      { id: 'start', lampshow: 'first', crossfadeMs: 40 },
      { id: 'bonus', lampshow: 'second', when: 'queue', delayMs: 55 },
      { id: 'stop', lampshow: 'third', priority: 200, resume: true, hasValue: true },
    ],
  };
  const log: HeardEvent[] = [
    { frame: 20, event: 'start' },
    { frame: 21, event: 'bonus' },
    { frame: 28, event: 'stop', value: 9 },
  ];

  test('[D-2] from power-up on the base show has the panel, and nothing comes back behind it', () => {
    const { directorAt } = performed(scene, log);
    expect(directorAt(19)).toEqual({
      lampshow: 'attract',
      sinceFrame: 0,
      value: 0,
      waiting: [],
      delayed: [],
    });
  });

  test('[D-15, D-17] a crossfade’s share, and the frame from which a delayed event counts', () => {
    const { directorAt } = performed(scene, log);
    // f = floor(255 x 10 / 40) = 63. 55 ms are five and a half frames, so six.
    expect(directorAt(21)).toEqual({
      lampshow: 'first',
      event: 'start',
      sinceFrame: 20,
      value: 0,
      fading: { from: 'attract', share: 63 / 255 },
      waiting: [],
      delayed: [{ event: 'bonus', frame: 27 }],
      resumes: { lampshow: 'attract', how: 'as-if-it-played' },
    });
    expect(directorAt(27)).toMatchObject({ waiting: ['bonus'], delayed: [] });
  });

  test('[D-7, D-8] what waits, then what was interrupted, since the frame at which each took the panel', () => {
    const { directorAt } = performed(scene, log);
    expect(directorAt(28)).toMatchObject({
      lampshow: 'third',
      event: 'stop',
      sinceFrame: 28,
      value: 9,
      waiting: ['bonus'],
      resumes: { lampshow: 'first', how: 'where-it-was' },
    });
    // 300 ms of the third, 200 of the second, then the first goes on where it was, 80 ms in.
    expect(directorAt(58)).toMatchObject({ lampshow: 'second', sinceFrame: 58, waiting: [] });
    expect(directorAt(78)).toMatchObject({ lampshow: 'first', event: 'start', sinceFrame: 78 });
    expect(directorAt(80)).toMatchObject({ lampshow: 'attract', sinceFrame: 80 });
  });

  test('asking renders nothing, and does not disturb what is rendered', () => {
    const performance = performed(scene, log);
    const before = Buffer.from(performance(30));
    performance.directorAt(500);
    expect(performance.directorAt(30).lampshow).toBe('third');
    expect(Buffer.from(performance(30)).equals(before)).toBe(true);
  });

  test('two performances of one log from two shows stay apart', () => {
    const { directorAt } = performed(scene, log);
    const other = player.perform('second', log);
    for (const frame of [5, 19])
      expect([directorAt(frame).lampshow, other.directorAt(frame).lampshow]).toEqual(['attract', 'second']);
  });
});
