// The director natively (plain, with sanitizers, with checked integers) against its rules: small scenes with the rule's own words beside them, and
// the model of director-model.ts over random scenes and logs. Not here: bytes on the wire (events.test.ts), pins and messages (inputs.test.ts).
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { directorData, framesIn } from './director-data.ts';
import {
  DirectorModel,
  type ModelEvent,
  type ModelFrame,
  type ModelLog,
  type ModelScene,
} from './director-model.ts';
import { type NativeBuild, NativePlayer, nativeBuilds } from './native.ts';
import { seed } from './varied-project.ts';

const sceneCount = 300;

const players = new Map<NativeBuild, NativePlayer>();
beforeAll(async () => {
  for (const build of nativeBuilds) players.set(build, await NativePlayer.start(build));
});
afterAll(async () => {
  for (const player of players.values()) expect(await player.stop()).toBe(0);
});

/** What the director says at some frames, ascending; the same from all builds, without an overflow. */
async function directed(
  scene: ModelScene,
  base: number,
  log: readonly ModelLog[],
  frames: readonly number[],
): Promise<ModelFrame[]> {
  const events = [...log].sort((a, b) => a.frame - b.frame);
  const answers = [];
  for (const [build, player] of players) {
    const { bytes, overflows } = await player.director(
      { bytes: directorData(scene) },
      { show: base, events, frames },
    );
    expect(overflows, `${build}: ${player.messages}`).toBe(0);
    answers.push(bytes);
  }
  for (const answer of answers) expect(Buffer.from(answer).equals(Buffer.from(answers[0]!))).toBe(true);
  return framesIn(answers[0]!);
}

const plain: ModelEvent = {
  show: 1,
  priority: 100,
  queues: false,
  resumes: false,
  hasValue: false,
  plays: 1,
  crossfadeMs: 0,
  retriggerMs: 0,
  delayFrames: 0,
};

/** Frames of 10 ms; show 0 (1,000 ms) is the base, show n plays n x 100 ms. Each event by itself: `e1` plays show 1 and so on. */
const lengths = [1000, 100, 200, 300, 400, 500, 600];
const sceneOf = (...events: Partial<ModelEvent>[]): ModelScene => ({
  frameMs: 10,
  showLengthsMs: lengths,
  events: events.map((event, i) => ({ ...plain, show: i + 1, ...event })),
});
/** `show@ms` at each frame, both layers with their scale where two play. */
async function told(
  scene: ModelScene,
  log: readonly ModelLog[],
  frames: readonly number[],
): Promise<string[]> {
  const answer = await directed(scene, 0, log, frames);
  return answer.map(({ layers }) =>
    layers.map(({ show, ms, master }) => `${show}@${ms}${layers.length > 1 ? `x${master}` : ''}`).join(' '),
  );
}
const at = (frame: number, event: number, value?: number): ModelLog => ({
  frame,
  event,
  ...(value === undefined ? {} : { value }),
});

describe('rules', () => {
  test('[D-2] the base show plays from frame 0 on and repeats', async () => {
    expect(await told(sceneOf(), [], [0, 1, 99, 100, 250])).toEqual(['0@0', '0@10', '0@990', '0@0', '0@500']);
  });

  test('[D-3] an event counts from its frame on; a number that is no event is not heard', async () => {
    expect(await told(sceneOf({}), [at(5, 0), at(3, 1), at(4, 200)], [3, 4, 5, 6])).toEqual([
      '0@30',
      '0@40',
      '1@0',
      '1@10',
    ]);
  });

  test('[D-4] a show is over after plays x its length, then [D-9] the base show is where it would be', async () => {
    expect(await told(sceneOf({ plays: 3 }), [at(5, 0)], [14, 15, 34, 35])).toEqual([
      '1@90',
      '1@0',
      '1@90',
      '0@350',
    ]);
    const odd = { ...sceneOf({}), frameMs: 7 };
    // 100 ms are 14.3 frames of 7 ms, so the fifteenth is the first one behind it.
    expect(await told(odd, [at(2, 0)], [16, 17])).toEqual(['1@98', '0@119']);
  });

  test('[D-5] the same or a higher priority interrupts, a lower one is not played', async () => {
    const scene = sceneOf({ plays: 9 }, { priority: 100 }, { priority: 99 });
    expect(await told(scene, [at(0, 0), at(2, 1)], [1, 2])).toEqual(['1@10', '2@0']);
    expect(await told(scene, [at(0, 0), at(2, 2)], [1, 2, 95])).toEqual(['1@10', '1@20', '0@950']);
  });

  test('[D-6] an event that queues waits, by priority and then by arrival; the fifth is dropped', async () => {
    const scene = sceneOf(
      {},
      { queues: true, priority: 50 },
      { queues: true, priority: 60 },
      { queues: true, priority: 50 },
      { queues: true, priority: 40 },
      { queues: true, priority: 45 },
    );
    const log = [at(0, 0), at(1, 4), at(2, 1), at(3, 2), at(4, 3), at(5, 5)];
    // Shows 3, 2, 4, 6 follow; show 5, with the lowest priority, fell out.
    expect(await told(scene, log, [9, 10, 40, 60, 100, 159, 160])).toEqual([
      '1@90',
      '3@0',
      '2@0',
      '4@0',
      '6@0',
      '6@590',
      '0@600',
    ]);
  });

  test('[D-6] it plays at once over the base show and over a show without end of no higher priority', async () => {
    const scene = sceneOf({ queues: true }, { plays: 0 }, { plays: 0, priority: 101 });
    expect(await told(scene, [at(3, 0)], [3])).toEqual(['1@0']);
    expect(await told(scene, [at(1, 1), at(3, 0)], [3])).toEqual(['1@0']);
    expect(await told(scene, [at(1, 2), at(3, 0)], [3, 999])).toEqual(['3@20', '3@80']);
  });

  test('[D-7, D-8] what was interrupted comes back behind the queue: from its beginning, or where it was', async () => {
    const scene = sceneOf({ plays: 2 }, {}, { resumes: true }, { queues: true, priority: 1 });
    expect(await told(scene, [at(0, 0), at(5, 1)], [5, 24, 25, 44, 45])).toEqual([
      '2@0',
      '2@190',
      '1@0',
      '1@90',
      '0@450',
    ]);
    expect(await told(scene, [at(0, 0), at(5, 2)], [34, 35, 49, 50])).toEqual([
      '3@290',
      '1@50',
      '1@90',
      '0@500',
    ]);
    expect(await told(scene, [at(0, 0), at(5, 1), at(6, 3)], [25, 64, 65])).toEqual(['4@0', '4@390', '1@0']);
  });

  test('[D-8] of three interrupted shows the oldest is forgotten', async () => {
    const scene = sceneOf({}, { priority: 101 }, { priority: 102 }, { priority: 103 });
    const log = [at(0, 0), at(1, 1), at(2, 2), at(3, 3)];
    expect(await told(scene, log, [42, 43, 73, 93])).toEqual(['4@390', '3@0', '2@0', '0@930']);
  });

  test('[D-9] the base show goes on where it was, if the event that took over from it resumes', async () => {
    const scene = sceneOf({ resumes: true }, { queues: true });
    expect(await told(scene, [at(7, 0)], [16, 17])).toEqual(['1@90', '0@70']);
    expect(await told(scene, [at(7, 0), at(8, 1)], [17, 36, 37])).toEqual(['2@0', '2@190', '0@70']);
    // The one that took over from it did not resume; the one that resumes interrupted show 2.
    expect(await told(scene, [at(7, 1), at(8, 0)], [17, 18, 36, 37])).toEqual([
      '1@90',
      '2@10',
      '2@190',
      '0@370',
    ]);
  });

  test('[D-10] a show without end comes back only behind an event that resumes', async () => {
    const scene = sceneOf({ plays: 0 }, {}, { resumes: true });
    expect(await told(scene, [at(0, 0), at(5, 1)], [24, 25])).toEqual(['2@190', '0@250']);
    expect(await told(scene, [at(0, 0), at(5, 2)], [34, 35])).toEqual(['3@290', '1@50']);
    const above = sceneOf({}, { plays: 0 }, { priority: 200 });
    // Show 1 was aside when show 2 began; behind show 3 it does not come back.
    expect(await told(above, [at(0, 0), at(5, 1), at(9, 2)], [38, 39])).toEqual(['3@290', '0@390']);
  });

  test('[D-11] the event that plays, heard again, begins anew and is not put aside', async () => {
    expect(await told(sceneOf({}), [at(0, 0), at(6, 0)], [5, 6, 15, 16])).toEqual([
      '1@50',
      '1@0',
      '1@90',
      '0@160',
    ]);
  });

  test('[D-12] within its limit an event is not heard again, whether or not it played', async () => {
    const scene = sceneOf({ retriggerMs: 45 }, { plays: 2, priority: 200 });
    // 45 ms are four and a half frames: heard again at the fifth.
    expect(await told(scene, [at(0, 0), at(4, 0)], [4])).toEqual(['1@40']);
    expect(await told(scene, [at(0, 0), at(5, 0)], [5])).toEqual(['1@0']);
    expect(await told(scene, [at(0, 1), at(38, 0), at(41, 0)], [40, 41])).toEqual(['0@400', '0@410']);
  });

  test('[D-12] four limits run; a fifth takes the place with the least time left', async () => {
    const limited = [100, 200, 300, 400, 500].map((retriggerMs) => ({ retriggerMs, plays: 9 }));
    const log = [0, 1, 2, 3, 4].map((event) => at(event, event));
    // Event 0 had the least left, so it is heard again at frame 5; event 1 is not.
    expect(await told(sceneOf(...limited), [...log, at(5, 0)], [5])).toEqual(['1@0']);
    expect(await told(sceneOf(...limited), [...log, at(5, 1)], [5])).toEqual(['5@10']);
  });

  test('[D-13] the value is that of the last event that has one, even where it does not play', async () => {
    const scene = sceneOf(
      { hasValue: true, retriggerMs: 500 },
      { priority: 200 },
      {},
      { hasValue: true, priority: 1 },
    );
    const log = [at(1, 0, 7), at(2, 0, 9), at(3, 1), at(4, 2, 55), at(5, 3, 13), at(6, 3)];
    const values = (await directed(scene, 0, log, [0, 1, 2, 3, 4, 5, 6])).map(({ value }) => value);
    expect(values).toEqual([0, 7, 9, 9, 9, 13, 13]);
  });

  test('[D-14] a value whose show plays, waits or is aside does not begin it anew', async () => {
    const scene = sceneOf({ hasValue: true }, { hasValue: true, queues: true }, { priority: 101 });
    expect(await told(scene, [at(0, 0, 1), at(5, 0, 2)], [5, 10])).toEqual(['1@50', '0@100']);
    expect(await told(scene, [at(0, 0, 1), at(1, 1, 2), at(2, 1, 3)], [10, 30])).toEqual(['2@0', '0@300']);
    expect(await told(scene, [at(0, 0, 1), at(1, 2), at(2, 0, 3)], [30, 31, 41])).toEqual([
      '3@290',
      '1@0',
      '0@410',
    ]);
  });

  test('[D-14] nor does one whose show is the base show, even while another plays', async () => {
    const scene = sceneOf({}, { hasValue: true, show: 0, priority: 200 });
    expect(await told(scene, [at(0, 0), at(5, 1, 9)], [5, 10])).toEqual(['1@50', '0@100']);
    expect(await told(scene, [at(5, 1, 9)], [5, 10])).toEqual(['0@50', '0@100']);
  });

  test('[D-15] both shows play during a crossfade: into the event’s show and back again', async () => {
    const scene = sceneOf({ crossfadeMs: 40 });
    // f = floor(255 x 10, 20, 30 / 40) = 63, 127, 191.
    expect(await told(scene, [at(20, 0)], [20, 21, 22, 23, 24, 29, 30, 33, 34])).toEqual([
      '0@200x255 1@0x0',
      '0@210x192 1@10x63',
      '0@220x128 1@20x127',
      '0@230x64 1@30x191',
      '1@40',
      '1@90',
      '1@99x255 0@300x0',
      '1@99x64 0@330x191',
      '0@340',
    ]);
  });

  test('[D-15] from the queue with the arriving event’s time; a change during a crossfade begins a new one', async () => {
    const scene = sceneOf(
      { crossfadeMs: 20 },
      { crossfadeMs: 40, queues: true },
      { crossfadeMs: 100, priority: 200 },
    );
    expect(await told(scene, [at(0, 0), at(1, 1)], [10, 13, 14])).toEqual([
      '1@99x255 2@0x0',
      '1@99x64 2@30x191',
      '2@40',
    ]);
    expect(await told(scene, [at(20, 0), at(21, 2)], [21, 22])).toEqual([
      '1@10x255 3@0x0',
      '1@20x230 3@10x25',
    ]);
  });

  test('[D-15] a crossfade that is over does not come back, however long the show plays', async () => {
    const scene = sceneOf({ crossfadeMs: 40 });
    // The crossfade back begins at frame 30; 65,536 ms are 6,553.6 frames.
    const frames = Array.from({ length: 20 }, (_, i) => 30 + 6545 + i);
    const expected = frames.map((frame) => `0@${(frame * 10) % 1000}`);
    expect(await told(scene, [at(20, 0)], frames)).toEqual(expected);
    const every = await told(
      scene,
      [at(20, 0)],
      Array.from({ length: 6600 }, (_, i) => i),
    );
    expect(every.slice(6575, 6595)).toEqual(expected);
  });

  test('[D-16] a day of frames, and frame numbers whose milliseconds pass 2^24 and 2^31', async () => {
    const scene = sceneOf({ crossfadeMs: 30 });
    for (const frame of [6_553, 65_536, 1_677_722, 8_640_000, 214_748_365, 429_496_000]) {
      const base = (number: number) => `0@${(number * 10) % 1000}`;
      expect(await told(scene, [at(frame, 0)], [frame - 1, frame + 5, frame + 13])).toEqual([
        base(frame - 1),
        '1@50',
        base(frame + 13),
      ]);
    }
  });
});

describe('[D-17] a delay', () => {
  test('the show starts so many frames after the event is heard, at its time 0', async () => {
    expect(await told(sceneOf({ delayFrames: 7 }), [at(5, 0)], [5, 11, 12, 13, 21, 22])).toEqual([
      '0@50',
      '0@110',
      '1@0',
      '1@10',
      '1@90',
      '0@220',
    ]);
  });

  test('its limit runs, and its value is set, from the frame on at which it is heard', async () => {
    const scene = sceneOf({ delayFrames: 10, retriggerMs: 50 }, { delayFrames: 9, hasValue: true });
    // Heard at 0, not at 4, and again at 5: the show begins at 10 and anew at 15.
    expect(await told(scene, [at(0, 0), at(4, 0), at(5, 0)], [9, 10, 14, 15, 24, 25])).toEqual([
      '0@90',
      '1@0',
      '1@40',
      '1@0',
      '1@90',
      '0@250',
    ]);
    const values = (await directed(scene, 0, [at(3, 1, 77)], [2, 3, 11, 12])).map(({ value }) => value);
    expect(values).toEqual([0, 77, 77, 77]);
    expect(await told(scene, [at(3, 1, 77)], [11, 12])).toEqual(['0@110', '2@0']);
  });

  test('priority is asked when it counts, not when it is heard', async () => {
    const scene = sceneOf({ priority: 200 }, { delayFrames: 12 }, { delayFrames: 8 });
    // Show 1 plays from 0 to 9: it is over at 10, before event 1 counts at 12; event 2 counts at 8 and is too low.
    expect(await told(scene, [at(0, 0), at(0, 1), at(0, 2)], [8, 10, 12])).toEqual(['1@80', '0@100', '2@0']);
  });

  test('at one frame what is over ends, then the delayed count as they were heard, then others are heard', async () => {
    const scene = sceneOf({ delayFrames: 6 }, { delayFrames: 4 }, {}, { queues: true, delayFrames: 10 });
    // Events 0 and 1 both count at 10, and 1 was heard later, so show 2 interrupts show 1.
    expect(await told(scene, [at(4, 0), at(6, 1)], [10, 29, 30])).toEqual(['2@0', '2@190', '1@0']);
    // Event 2 is heard at 10 and interrupts show 2.
    expect(await told(scene, [at(4, 0), at(6, 1), at(10, 2)], [10, 40, 60])).toEqual(['3@0', '2@0', '1@0']);
    // Show 3 begins at 0 and is over at 30, when event 3, heard at 20, counts: it waits for nothing.
    expect(await told(scene, [at(0, 2), at(20, 3)], [29, 30])).toEqual(['3@290', '4@0']);
  });

  test('four run, whatever their order; a fifth event counts at once', async () => {
    const scene = sceneOf(
      { delayFrames: 50 },
      { delayFrames: 40 },
      { delayFrames: 30 },
      { delayFrames: 20 },
      { delayFrames: 10, plays: 0 },
    );
    const log = [0, 1, 2, 3].map((event) => at(event, event));
    // They count at 50, 41, 32 and 23, each before the show of the one before it is over, and come back in turn.
    expect(await told(scene, log, [22, 23, 32, 41, 50, 60])).toEqual([
      '0@220',
      '4@0',
      '3@0',
      '2@0',
      '1@0',
      '2@0',
    ]);
    expect(await told(scene, [...log, at(4, 4)], [3, 4, 22, 23])).toEqual(['0@30', '5@0', '5@180', '4@0']);
    // Once the first has counted there is room again.
    expect(await told(scene, [...log, at(23, 4)], [23, 31, 33])).toEqual(['4@0', '4@80', '5@0']);
  });
});

const randomEvent = (shows: number): fc.Arbitrary<ModelEvent> =>
  fc.record({
    show: fc.nat({ max: shows - 1 }),
    priority: fc.constantFrom(50, 100, 101, 255),
    queues: fc.boolean(),
    resumes: fc.boolean(),
    hasValue: fc.boolean(),
    plays: fc.constantFrom(1, 1, 2, 3, 0),
    crossfadeMs: fc.constantFrom(0, 0, 100, 333, 1000),
    retriggerMs: fc.constantFrom(0, 0, 70, 500, 2000),
    delayFrames: fc.constantFrom(0, 0, 1, 7, 30, 50),
  });

interface Case {
  readonly scene: ModelScene;
  readonly log: readonly ModelLog[];
  readonly frames: readonly number[];
}
const lastFrame = 900;
const randomCase: fc.Arbitrary<Case> = fc
  .record({
    frameMs: fc.integer({ min: 1, max: 60 }),
    showLengthsMs: fc.array(fc.integer({ min: 20, max: 3000 }), { minLength: 2, maxLength: 5 }),
    eventCount: fc.integer({ min: 1, max: 8 }),
  })
  .chain(({ eventCount, ...rest }) =>
    fc.record({
      scene: fc
        .array(randomEvent(rest.showLengthsMs.length), { minLength: eventCount, maxLength: eventCount })
        .map((events) => ({ ...rest, events })),
      log: fc
        .array(
          fc.record({
            frame: fc.nat({ max: lastFrame }),
            event: fc.nat({ max: eventCount }),
            value: fc.nat({ max: 255 }),
          }),
          { maxLength: 40 },
        )
        .map((log) => log.sort((a, b) => a.frame - b.frame)),
      frames: fc
        .uniqueArray(fc.nat({ max: lastFrame }), { minLength: 1, maxLength: 60 })
        .map((all) => all.sort((a, b) => a - b)),
    }),
  );

const allFrames = Array.from({ length: lastFrame + 1 }, (_, i) => i);

test(`[D-1] the director says what its rules say, on ${sceneCount} random scenes and logs (seed ${seed}); frames left out change nothing`, {
  timeout: 120_000,
}, async () => {
  const seen = { twoLayers: 0, eventShows: 0, frames: 0 };
  await fc.assert(
    fc.asyncProperty(randomCase, async ({ scene, log, frames }) => {
      const model = new DirectorModel(scene, 0);
      const expected = allFrames.map((frame) => model.frame(frame, log));
      const every = await directed(scene, 0, log, allFrames);
      const wrong = every.findIndex((frame, i) => JSON.stringify(frame) !== JSON.stringify(expected[i]));
      expect(wrong === -1 ? 'equal' : { frame: wrong, ...every[wrong] }).toEqual(
        wrong === -1 ? 'equal' : { frame: wrong, ...expected[wrong] },
      );
      expect(await directed(scene, 0, log, frames)).toEqual(frames.map((frame) => expected[frame]));
      for (const { layers } of expected) {
        seen.frames++;
        if (layers.length === 2) seen.twoLayers++;
        if (layers.at(-1)!.show !== 0) seen.eventShows++;
      }
    }),
    { seed, numRuns: sceneCount },
  );
  expect(seen.twoLayers / seen.frames, 'share of frames in a crossfade').toBeGreaterThan(0.05);
  expect(seen.eventShows / seen.frames, 'share of frames of event shows').toBeGreaterThan(0.2);
});
