// Game events on the emulated board: the exported firmware, pins and serial port driven from outside while frames go out, against the player in
// WebAssembly with the log that follows from it. Every byte of every frame is compared, so an event lost, heard twice or heard at
// another frame than the others would show. Not here: the rules in all their cases (test/player).
import { beforeAll, describe, expect, test } from 'vitest';
import type { HeardEvent, Player } from '../../src/lampshow/index.ts';
import type { Clip, Project } from '../../src/project/index.ts';
import { type BoardRun, type BoardRunOptions, runInAvr8js } from '../board/board-avr8js.ts';
import { GameController, type PlannedEvent } from '../support/game-controller.ts';
import { examine, exportedText, loadPlayer, templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const cyclesPerMs = 16_000;
const ledCount = 400;
const startPin = 7;
const lostPin = 14;
const roomPin = 9;
const latePin = 4;
const lateMs = 150;

const clip = (effect: Clip['effect'], blend: Clip['blend'] = 'over'): Clip => ({
  startMs: 0,
  lengthMs: 600_000,
  area: 'everything',
  gradient: 'ember',
  blend,
  effect,
});
const starsOf = (seed: number) => clip({ kind: 'stars', lifeSeconds: 0.5, density: 1, seed });
const show = (id: string, lengthMs: number, ...clips: Clip[]): Project['lampshows'][number] => ({
  id,
  lengthMs,
  rows: clips.map((one, i) => ({ id: `row-${i}`, clips: [one] })),
});
const runs = rowsOfStrip(ledCount);

/** Shows that move at every frame, so that none can be taken for another or for itself at another time. */
const project: Project = projectOf({
  runs,
  lampshows: [
    show('attract', 20_000, starsOf(1), starsOf(2), starsOf(3)),
    show('start', 400, starsOf(4)),
    show('lost', 700, starsOf(5), starsOf(6)),
    show('mood', 30_000, starsOf(7)),
    show(
      'score',
      30_000,
      clip({ kind: 'column', fillSeconds: 1, travel: 'fills', byValue: true, softness: 0 }),
    ),
  ],
  gameEvents: [
    { id: 'start', lampshow: 'start', pin: startPin, crossfadeMs: 60 },
    { id: 'lost', lampshow: 'lost', pin: lostPin, resume: true },
    { id: 'mood', lampshow: 'mood', plays: 'until-next' },
    { id: 'score', lampshow: 'score', plays: 'until-next', hasValue: true },
    { id: 'late', lampshow: 'start', pin: latePin, delayMs: lateMs },
  ],
  inputs: { serial: true, roomPin },
  power: {
    supply: { volts: 5, amps: 20 },
    feeds: runs.map(({ id }) => ({ run: id, led: 0, wire: 'AWG 18', lengthMm: 300 })),
  },
});
const { frameMs, showData } = examine(project, templates);
const hexText = exportedText(project, `firmware/${project.board.id}.hex`);

/** A fixed row of numbers from 0 to 1 (Park and Miller's generator, multiplier 48,271). */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
  player.setShowData(showData!);
});

interface Sent {
  readonly number: number;
  readonly startCycle: number;
  readonly bytes: Buffer;
}

/** The frames behind the black one, numbered by the clock. */
function sentFrames(run: BoardRun): Sent[] {
  const [black, ...later] = run.lines[0]!.frames;
  const zero = black!.endCycle + frameMs * cyclesPerMs;
  return later.map(({ startCycle, bytes }) => ({
    number: Math.round((startCycle - zero) / (frameMs * cyclesPerMs)),
    startCycle,
    bytes: Buffer.from(bytes),
  }));
}

function play(ms: number, options: Partial<BoardRunOptions>): Sent[] {
  const frames = Math.floor(ms / frameMs);
  const run = runInAvr8js(hexText, {
    lines: [{ pin: 6 }],
    frames,
    maxCycles: (ms + 10 * frameMs) * cyclesPerMs,
    ...options,
  });
  expect(run.watchdogResetCycle).toBeNull();
  expect(run.untouchedStackBytes).toBeGreaterThanOrEqual(100);
  return sentFrames(run);
}

/** The first frame that is not as the player says with this log. */
const firstOther = (sent: readonly Sent[], log: readonly HeardEvent[]): Sent | undefined => {
  const frameOf = player.perform('attract', log);
  return sent.find(({ number, bytes }) => !bytes.equals(Buffer.from(frameOf(number))));
};

/** The frame between two moments from which an event was heard, if frames up to a little behind it are as the log with it says. */
function heardAt(
  sent: readonly Sent[],
  log: readonly HeardEvent[],
  heard: Omit<HeardEvent, 'frame'>,
  [fromCycle, toCycle]: readonly [number, number],
  delayFrames = 0,
): number | undefined {
  const possible = sent.filter(({ startCycle }) => startCycle > fromCycle && startCycle < toCycle);
  // Two frames in which the show moves tell it from any other frame.
  return possible.find(({ number }) => {
    const upTo = sent.filter((one) => one.number <= number + delayFrames + 2);
    return !firstOther(upTo, [...log, { ...heard, frame: number }]);
  })?.number;
}

describe('pins', () => {
  test('[I-2, I-4] a press of 60 ms while frames are sent starts its show once, byte for byte, whenever it comes', {
    timeout: 120_000,
  }, () => {
    // A prime number of presses, moved against the frames by a fraction of their time.
    const presses = Array.from({ length: 13 }, (_, i) => 150 + i * 1000 + i * 0.37 * frameMs);
    const cycles = presses.map((ms) => Math.round(ms * cyclesPerMs));
    const sent = play(13_500, {
      onStart: (board) => {
        for (const [i, cycle] of cycles.entries()) {
          const pin = i % 3 === 2 ? lostPin : startPin;
          board.at(cycle, () => board.setInput(pin, 'low'));
          board.at(cycle + 60 * cyclesPerMs, () => board.setInput(pin, 'open'));
        }
      },
    });
    const log: HeardEvent[] = [];
    for (const [i, cycle] of cycles.entries()) {
      const event = i % 3 === 2 ? 'lost' : 'start';
      // Heard while it is held: at the latest in the frame rendered after its 60 ms.
      const held = [cycle, cycle + (60 + 2 * frameMs) * cyclesPerMs] as const;
      const frame = heardAt(sent, log, { event }, held);
      expect(frame, `press ${i} at ${presses[i]} ms`).toBeDefined();
      log.push({ frame: frame!, event });
    }
    expect(firstOther(sent, log)).toBeUndefined();
    expect(sent.length).toBeGreaterThan(13_000 / frameMs - 5);
  });

  test('[D-17] an event with a delay is heard at once, and its show starts whole frames later', () => {
    const delayFrames = Math.ceil(lateMs / frameMs);
    expect(delayFrames).toBeGreaterThan(3);
    const cycles = [200, 1100, 1900].map((ms) => Math.round(ms * cyclesPerMs));
    const sent = play(2700, {
      onStart: (board) => {
        for (const cycle of cycles) {
          board.at(cycle, () => board.setInput(latePin, 'low'));
          board.at(cycle + 60 * cyclesPerMs, () => board.setInput(latePin, 'open'));
        }
      },
    });
    const log: HeardEvent[] = [];
    for (const cycle of cycles) {
      const held = [cycle, cycle + (60 + 2 * frameMs) * cyclesPerMs] as const;
      const frame = heardAt(sent, log, { event: 'late' }, held, delayFrames);
      expect(frame, `press at ${cycle / cyclesPerMs} ms`).toBeDefined();
      log.push({ frame: frame!, event: 'late' });
    }
    expect(firstOther(sent, log)).toBeUndefined();
  });

  test('[I-1] spikes of 1 ms start nothing', { timeout: 120_000 }, () => {
    const next = chance(20_261_126);
    let spikes = 0;
    const sent = play(6000, {
      onStart: (board) => {
        for (let ms = 50; ms < 5900; ms += 22 + 30 * next()) {
          spikes++;
          const pin = spikes % 2 ? startPin : lostPin;
          board.at(Math.round(ms * cyclesPerMs), () => board.setInput(pin, 'low'));
          board.at(Math.round((ms + 1) * cyclesPerMs), () => board.setInput(pin, 'open'));
        }
      },
    });
    expect(spikes).toBeGreaterThan(140);
    expect(firstOther(sent, [])).toBeUndefined();
  });
});

describe('serial', () => {
  test('[I-5, I-6, I-8] 20 events with bytes lost at random both ways are each heard exactly once', {
    timeout: 240_000,
  }, () => {
    const next = chance(7);
    const names = ['start', 'lost', 'mood', 'score'] as const;
    const events = Array.from({ length: 20 }, (): PlannedEvent => {
      const event = Math.floor(next() * 4);
      const pauseMs = 40 + 200 * next();
      return event === 3 ? { event, value: Math.floor(next() * 256), pauseMs } : { event, pauseMs };
    });
    let controller: GameController | undefined;
    let doneAt = 0;
    const sent = play(60_000, {
      onStart: (board) => {
        controller = new GameController(board, {
          events,
          startMs: 120,
          repeatMs: frameMs + 10,
          loses: () => next() < 0.35,
          hello: true,
        });
      },
      onCycle: () => controller!.step(),
      stopWhen: (board) => {
        if (!controller!.isDone) return false;
        doneAt ||= board.cycles;
        return board.cycles > doneAt + 600 * cyclesPerMs;
      },
    });
    expect(controller!.isDone).toBe(true);
    expect(controller!.lostBytes).toBeGreaterThan(30);
    const log: HeardEvent[] = [];
    const [hello, ...deliveries] = controller!.deliveries;
    expect(hello!.event).toBe(63);
    for (const [i, { event, value, firstSentCycle, acknowledgedCycle }] of deliveries.entries()) {
      const heard = { event: names[event]!, value };
      const frame = heardAt(sent, log, heard, [
        firstSentCycle,
        acknowledgedCycle + 2 * frameMs * cyclesPerMs,
      ]);
      if (frame === undefined) throw new Error(`event ${i} (${names[event]}) was not heard`);
      log.push({ ...heard, frame });
    }
    expect(log.length).toBe(20);
    expect(firstOther(sent, log)).toBeUndefined();
  });

  test('[I-7] a hello is answered with the project’s name, date and hash', () => {
    let controller: GameController | undefined;
    play(1500, {
      onStart: (board) => {
        controller = new GameController(board, {
          events: [],
          startMs: 100,
          repeatMs: frameMs + 10,
          loses: () => false,
          hello: true,
        });
      },
      onCycle: () => controller!.step(),
    });
    expect(controller!.helloText).toMatch(/^Test panel, 2026-11-25, [0-9A-F]{4}\n$/);
  });
});

describe('the room button', () => {
  /** Sum of all bytes of frames around a moment: its share of the brightest. */
  const lightAround = (sent: readonly Sent[], ms: number) =>
    sent
      .filter(({ startCycle }) => Math.abs(startCycle / cyclesPerMs - ms) < 100)
      .reduce((sum, { bytes }) => sum + bytes.reduce((all, byte) => all + byte, 0), 0);

  test('[I-10] steps through the brightness, and the step is there after power was off', {
    timeout: 120_000,
  }, () => {
    const eeprom = new Uint8Array(1024).fill(0xff);
    const press = (...moments: number[]): Partial<BoardRunOptions> => ({
      eeprom,
      onStart: (board) => {
        for (const ms of moments) {
          board.at(ms * cyclesPerMs, () => board.setInput(roomPin, 'low'));
          board.at((ms + 80) * cyclesPerMs, () => board.setInput(roomPin, 'open'));
        }
      },
    });
    const plain = play(2000, {});
    const sent = play(2000, press(400, 1000));
    // 100, 60, 30 percent of full, linear in the bytes, rounded down: so a little less.
    const shares = [200, 700, 1400].map((ms) => lightAround(sent, ms) / lightAround(plain, ms));
    expect(shares[0]).toBe(1);
    expect(shares[1]).toBeGreaterThan(0.57);
    expect(shares[1]).toBeLessThanOrEqual(0.605);
    expect(shares[2]).toBeGreaterThan(0.27);
    expect(shares[2]).toBeLessThanOrEqual(0.305);
    const changed = [...eeprom].flatMap((byte, at) => (byte === 0xff ? [] : [at]));
    expect(changed).toEqual([1023]);
    const later = play(1000, press(600));
    expect(lightAround(later, 300) / lightAround(plain, 300)).toBeCloseTo(shares[2]!, 1);
    expect(lightAround(later, 850)).toBe(lightAround(plain, 850));
  });
});
