// Pins and messages natively (plain, with sanitizers, with checked integers) against rules I-1 to I-7 of SPEC.md. Polls come when the board's loop
// makes them, worked out here for frame times from 5 to 50 ms. Not here: registers (test/export/events-on-board.test.ts), what events do.
import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { messageBytes } from '../support/game-controller.ts';
import { type NativeBuild, nativeBuilds, nativeOutput, nativeProgram } from './native.ts';
import { seed } from './varied-project.ts';

const ticksPerMs = 250;
const pressMs = 60;
const spikeMs = 1;
/** Longest sending for which rule I-4 promises that a press of 60 ms is not missed. */
const longestSendMs = 19;

const programs = new Map<NativeBuild, string>();
beforeAll(async () => {
  for (const build of nativeBuilds) programs.set(build, await nativeProgram('press_polls.cpp', build));
});

interface Poll {
  readonly ms: number;
  readonly isLow: boolean;
}

/** Moments at which a press began, ms. */
function pressesOf(polls: readonly Poll[]): number[] {
  const input = Buffer.alloc(3 * (polls.length + 1));
  const put = (index: number, ms: number, level: number) => {
    input.writeUInt16LE(Math.floor(ms * ticksPerMs) % 65_536, 3 * index);
    input[3 * index + 2] = level;
  };
  put(0, polls[0]!.ms, 2);
  for (const [i, { ms, isLow }] of polls.entries()) put(i + 1, ms, isLow ? 0 : 1);
  const answers = [...programs].map(([build, path]) => {
    const run = spawnSync(path, { input, timeout: 30_000 });
    expect(run.status, `${build}: ${run.stderr}`).toBe(0);
    return run.stdout;
  });
  for (const answer of answers) expect(answer.equals(answers[0]!)).toBe(true);
  return [...answers[0]!.subarray(1)].flatMap((fired, i) => (fired ? [polls[i]!.ms] : []));
}

interface Loop {
  readonly frameMs: number;
  /** Share of the frame time that rendering and sending take. */
  readonly load: number;
  /** Share of that for sending. */
  readonly sendShare: number;
  readonly clipMs: number;
  /** Ms by which all polls are later. */
  readonly phaseMs: number;
}

const loop: fc.Arbitrary<Loop> = fc.record({
  frameMs: fc.integer({ min: 5, max: 50 }),
  load: fc.double({ min: 0.3, max: 0.98, noNaN: true }),
  sendShare: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
  clipMs: fc.double({ min: 0.2, max: 4, noNaN: true }),
  phaseMs: fc.double({ min: 0, max: 50, noNaN: true }),
});

/** Moments of the polls, as board_avr.h makes them: after sending, between clips, while waiting, 0.3 ms before the next frame. */
function pollTimes({ frameMs, load, sendShare, clipMs, phaseMs }: Loop, lastMs: number): number[] {
  const sendMs = Math.min(longestSendMs - 0.4, frameMs * load * sendShare);
  const renderMs = frameMs * load - Math.min(frameMs * load, sendMs);
  const times: number[] = [];
  for (let start = -frameMs + phaseMs - 50; start < lastMs; start += frameMs) {
    let polledAt = start + sendMs;
    times.push(polledAt);
    const tryAt = (ms: number) => {
      if (ms - polledAt < 4) return;
      polledAt = ms;
      times.push(ms);
    };
    for (let inside = clipMs; inside < renderMs; inside += clipMs) tryAt(start + sendMs + inside);
    for (let ms = start + sendMs + renderMs; ms < start + frameMs - 0.3; ms += 0.1) tryAt(ms);
    times.push(Math.max(polledAt, start + frameMs - 0.3));
  }
  return times.filter((ms) => ms >= 0);
}

/** Stretches during which the line is low. */
type Low = readonly [fromMs: number, toMs: number];
const pollsOf = (times: readonly number[], lows: readonly Low[]): Poll[] =>
  times.map((ms) => ({ ms, isLow: lows.some(([from, to]) => ms >= from && ms < to) }));

describe('pins', () => {
  test('[I-4] no gap between two polls is longer than sending a frame, or 4 ms and a clip', () => {
    fc.assert(
      fc.property(loop, (one) => {
        const times = pollTimes(one, 500);
        const gaps = times.slice(1).map((ms, i) => ms - times[i]!);
        expect(Math.max(...gaps)).toBeLessThanOrEqual(longestSendMs);
      }),
      { seed, numRuns: 500 },
    );
  });

  test('[I-1] spikes of 1 ms start nothing, whenever they come', () => {
    const spikes = fc.array(fc.double({ min: 22, max: 90, noNaN: true }), { minLength: 30, maxLength: 60 });
    let met = 0;
    fc.assert(
      fc.property(loop, spikes, (one, gaps) => {
        let from = 30;
        const lows = gaps.map((gap): Low => {
          from += gap;
          return [from, from + spikeMs];
        });
        const polls = pollsOf(pollTimes(one, from + 100), lows);
        met += polls.filter(({ isLow }) => isLow).length;
        expect(pressesOf(polls)).toEqual([]);
      }),
      { seed, numRuns: 150 },
    );
    expect(met, 'polls that met a spike').toBeGreaterThan(150);
  });

  test('[I-2, I-4] each press of 60 ms and more is heard once, also one that bounces', () => {
    const press = fc.record({
      gapMs: fc.double({ min: 60, max: 150, noNaN: true }),
      lengthMs: fc.double({ min: pressMs, max: 200, noNaN: true }),
      bounces: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 6 }),
    });
    fc.assert(
      fc.property(loop, fc.array(press, { minLength: 5, maxLength: 20 }), (one, presses) => {
        let now = 100;
        const lows: Low[] = [];
        const pressed: Low[] = [];
        for (const { gapMs, lengthMs, bounces } of presses) {
          // Up to 6 ms of bouncing on each side of the steady 60 ms and more.
          for (const [i, ms] of bounces.entries()) lows.push([now + gapMs - 7 + i, now + gapMs - 7 + i + ms]);
          pressed.push([now + gapMs, now + gapMs + lengthMs]);
          for (const [i, ms] of bounces.entries())
            lows.push([now + gapMs + lengthMs + i + 1 - ms, now + gapMs + lengthMs + i + 1]);
          now += gapMs + lengthMs + 14;
        }
        const heard = pressesOf(pollsOf(pollTimes(one, now + 100), [...lows, ...pressed]));
        expect(heard.length).toBe(pressed.length);
        for (const [i, [from, to]] of pressed.entries()) {
          expect(heard[i]).toBeGreaterThan(from);
          // With gaps of 19 ms at most: 2 x 19 + 20 ms, and never later than its end.
          expect(heard[i]).toBeLessThan(Math.min(to, from + 60));
        }
      }),
      { seed, numRuns: 150 },
    );
  });

  test('[I-1] 18 ms of low are no press, 21 ms are, polled every millisecond', () => {
    const times = Array.from({ length: 400 }, (_, i) => i + 0.5);
    expect(pressesOf(pollsOf(times, [[100, 118]]))).toEqual([]);
    expect(pressesOf(pollsOf(times, [[100, 122]])).length).toBe(1);
  });

  test('[I-1] parts of a millisecond count: 23 ms of low, polled every 1.5 ms', () => {
    const times = Array.from({ length: 200 }, (_, i) => 1.5 * i);
    expect(pressesOf(pollsOf(times, [[100, 123]])).length).toBe(1);
  });

  test('[I-1] two low polls alone are no press, however far apart', () => {
    for (const gap of [19, 25, 60, 200])
      expect(
        pressesOf([
          ...[0, 10, 20, 30].map((ms) => ({ ms, isLow: false })),
          { ms: 40, isLow: true },
          { ms: 40 + gap, isLow: true },
        ]),
      ).toEqual([]);
  });

  test('[I-3] a line that is low from the start starts nothing until it has been released', () => {
    const times = Array.from({ length: 800 }, (_, i) => i + 0.5);
    expect(pressesOf(pollsOf(times, [[0, 300]]))).toEqual([]);
    expect(
      pressesOf(
        pollsOf(times, [
          [0, 300],
          [400, 470],
        ]),
      ).length,
    ).toBe(1);
  });
});

describe('messages', () => {
  /** Event and value that each message is heard as. */
  async function heardAs(messages: readonly (readonly number[])[]): Promise<Buffer> {
    const input = Buffer.from(messages.flat());
    const answers = [];
    for (const build of nativeBuilds) {
      const path = await nativeProgram('message_bytes.cpp', build);
      const run = spawnSync(path, { input, timeout: 60_000, maxBuffer: 1 << 24 });
      expect(run.status, `${build}: ${run.stderr}`).toBe(0);
      answers.push(run.stdout);
    }
    for (const answer of answers) expect(answer.equals(answers[0]!)).toBe(true);
    return answers[0]!;
  }
  const heads = [0, 1].flatMap((bit) =>
    Array.from({ length: 64 }, (_, event) => ({ event, bit: bit as 0 | 1 })),
  );

  test('[I-5] every event with every value is heard as what it is', async () => {
    const all = heads.flatMap(({ event, bit }) =>
      Array.from({ length: 256 }, (_, value) => ({ event, bit, value })),
    );
    const heard = await heardAs(all.map(({ event, bit, value }) => messageBytes(event, bit, value)));
    expect(heard.length).toBe(2 * all.length);
    const wrong = all.filter(({ event, value }, i) => heard[2 * i] !== event || heard[2 * i + 1] !== value);
    expect(wrong).toEqual([]);
  });

  test('[I-5] with any one bit changed it is not heard at all', async () => {
    const changed = heads.flatMap(({ event, bit }) =>
      [0, 1, 85, 170, 254, 255].flatMap((value) =>
        Array.from({ length: 24 }, (_, flip) =>
          messageBytes(event, bit, value).map((byte, i) => byte ^ (flip >> 3 === i ? 1 << (flip & 7) : 0)),
        ),
      ),
    );
    const heard = await heardAs(changed);
    expect(heard.length).toBe(2 * changed.length);
    const taken = changed.filter((_, i) => heard[2 * i] !== 255);
    expect(taken).toEqual([]);
  });

  test('[I-5, I-6, I-7] nothing is lost and nothing comes twice, in 3,000 runs with up to 59 % of the bytes lost both ways', async () => {
    for (const build of nativeBuilds) {
      const { bytes, exitCode, stderr } = await nativeOutput(await nativeProgram('message_runs.cpp', build));
      expect(exitCode, stderr).toBe(0);
      const runs = Array.from({ length: bytes.length / 5 }, (_, i) => [...bytes.subarray(5 * i, 5 * i + 5)]);
      expect(runs.length).toBe(3000);
      for (const [sent, heard, wrong] of runs) expect([sent, heard, wrong]).toEqual([25, 25, 0]);
      const lost = runs.reduce((sum, [, , , low, high]) => sum + low! + 256 * high!, 0);
      expect(lost).toBeGreaterThan(100_000);
    }
  });
});
