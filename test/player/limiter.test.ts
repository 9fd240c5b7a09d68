// The limiter: the current that the sent bytes draw never exceeds the budget, and no dimmer scale than needed is chosen.
// Current of an LED as src/catalogue/strips.ts defines it: quiescent + channel current x level / 255, the colours summed or the largest, and
// the white die beside them. Rule of the scale: scale8 in arithmetic.h, a x (scale + 1) / 256 rounded down.
// Not here: the power network (src/power), fuses, the bytes themselves (output-stage.test.ts).
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { colourOrders } from '../../src/catalogue/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project, StripData } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { channelMilliamps, fullLevels, ledBytes, levelsOfBytes } from './output-model.ts';
import {
  frameOf,
  type LevelFrame,
  type OutputFrame,
  panelOf,
  sendingFirmware,
  sendNatively,
  stripsOnWire,
} from './output-stage.ts';
import { seed } from './varied-project.ts';

const panelCount = 300;
const framesPerPanel = 6;
/** Floating-point sums of the test itself, mA. */
const slackMilliamps = 1e-6;

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

// ---- random panels ----

const share = fc.integer({ min: 1, max: 100 }).map((percent) => percent / 100);
const strip: fc.Arbitrary<Partial<StripData>> = fc.record(
  {
    colourOrder: fc.constantFrom(...colourOrders),
    channelMilliamps: fc.integer({ min: 20, max: 600 }).map((n) => n / 10),
    whiteMilliamps: fc.integer({ min: 20, max: 600 }).map((n) => n / 10),
    quiescentMilliamps: fc.integer({ min: 0, max: 30 }).map((n) => n / 10),
    currentModel: fc.constantFrom('sum' as const, 'largest' as const),
    whiteBalance: fc.record({ red: share, green: share, blue: share }),
  },
  { requiredKeys: ['colourOrder', 'currentModel'] },
);
// Small segments and such as need several rounds of the chip's 16-bit sums.
const ledCount = fc.oneof(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 80, max: 130 }));
const gamma = fc.integer({ min: 10, max: 30 }).map((n) => n / 10);
const level = fc.oneof(fc.nat(255), fc.constantFrom(0, 1, 254, 255));

interface Scene {
  readonly project: Project;
  readonly strips: readonly StripData[];
  readonly frames: readonly LevelFrame[];
}

const scene: fc.Arbitrary<Scene> = fc
  .record({
    pieces: fc.array(fc.record({ ledCount, strip }), { minLength: 1, maxLength: 3 }),
    /** Of what all LEDs draw at full level, so that the limiter acts; sometimes below the quiescent current. */
    limitShare: fc
      .oneof({ arbitrary: fc.integer({ min: 5, max: 60 }), weight: 9 }, fc.constant(0))
      .map((n) => n / 150),
    gamma: fc.record({ red: gamma, green: gamma, blue: gamma }),
    levels: fc.array(
      fc.record({
        roomScale: fc.oneof({ arbitrary: fc.constant(255), weight: 3 }, level),
        pattern: fc.array(level, { minLength: 1, maxLength: 24 }),
      }),
      {
        minLength: framesPerPanel,
        maxLength: framesPerPanel,
      },
    ),
  })
  .map(({ pieces, limitShare, gamma: power, levels }) => {
    const output = { gamma: power, brightnessPercent: 100 };
    const lines = [{ pin: 6, pieces }];
    const full = sum(
      stripsOnWire(layOut(panelOf({ lines }))).map(
        (one) => one.quiescentMilliamps + channelMilliamps(one, { R: 255, G: 255, B: 255, W: 0 }),
      ),
    );
    const project = panelOf({ lines, output, limitAmps: Math.max(0.001, (full * limitShare) / 1000) });
    const strips = stripsOnWire(layOut(project));
    const frames = levels.map(({ roomScale, pattern }) =>
      frameOf(
        strips,
        roomScale,
        strips.flatMap((_, led) => [0, 1, 2].map((place) => pattern[(3 * led + place) % pattern.length]!)),
      ),
    );
    return {
      project,
      strips,
      frames,
      // What fast-check shows of a scene that fails.
      [fc.toStringMethod]: () => JSON.stringify({ pieces, limitShare, gamma: power, levels }),
    };
  });

/** Milliamps for all channels of a frame: what its bytes draw, and at full brightness. */
function currents(
  { project, frames }: Scene,
  index: number,
  sent: OutputFrame,
): { sent: number; full: number } {
  let at = 0;
  const { leds } = frames[index]!;
  const ofBytes = leds.map((led) => {
    const bytes = [...sent.bytes.subarray(at, at + led.strip.colourOrder.length)];
    at += bytes.length;
    return channelMilliamps(led.strip, levelsOfBytes(led.strip, bytes));
  });
  return {
    sent: sum(ofBytes),
    full: sum(leds.map((led) => channelMilliamps(led.strip, fullLevels(led, project.output)))),
  };
}

describe(`on ${panelCount} random panels (seed ${seed})`, () => {
  test('[O-8] what is sent never draws more than the limit, and two scale steps higher would', async () => {
    let acted = 0;
    let below = 0;
    await fc.assert(
      fc.asyncProperty(scene, async (one) => {
        const { project, strips, frames } = one;
        const sent = await sendNatively('plain', project, frames);
        const budget = project.power.limitAmps! * 1000 - sum(strips.map((strip) => strip.quiescentMilliamps));
        for (const [i, frame] of sent.entries()) {
          const { roomScale, leds } = frames[i]!;
          expect([...frame.bytes]).toEqual(leds.flatMap((led) => ledBytes(led, project.output, frame.scale)));
          expect(frame.scale).toBeLessThanOrEqual(roomScale);
          const drawn = currents(one, i, frame);
          if (budget <= 0) {
            below++;
            expect(drawn.sent).toBe(0);
            continue;
          }
          expect(drawn.sent).toBeLessThanOrEqual(budget + slackMilliamps);
          if (frame.scale + 2 > roomScale) continue;
          acted++;
          expect((drawn.full * (frame.scale + 3)) / 256).toBeGreaterThan(budget - slackMilliamps);
        }
      }),
      { seed, numRuns: panelCount },
    );
    expect(acted).toBeGreaterThan(500);
    expect(below).toBeGreaterThan(12);
  });

  test('the chip and checked integers count the same current, choose the same scales and send the same bytes', async () => {
    let limited = 0;
    for (const one of fc.sample(scene, { seed, numRuns: 15 })) {
      const plain = await sendNatively('plain', one.project, one.frames);
      expect(await sendNatively('checked', one.project, one.frames)).toEqual(plain);
      const chip = await onChip(one);
      expect(chip.currents).toEqual(plain.map((frame) => frame.current));
      expect(chip.scales).toEqual(plain.map((frame) => frame.scale));
      expect(chip.bytes).toEqual(plain.map((frame) => [...frame.bytes]));
      limited += plain.filter((frame, i) => frame.scale < one.frames[i]!.roomScale).length;
    }
    expect(limited).toBeGreaterThan(20);
  });
});

// ---- on the emulated chip ----

/** Data addresses of GPIOR0 and GPIOR1 (ATmega328P data sheet, register summary), where vector_output.h puts bytes and the end. */
const vectorRegister = 0x3e;
const doneRegister = 0x4a;
/** As output_vectors.cpp puts them out: current, lowest byte first, begin, scale, left in the buffer. */
const vectorsPerFrame = 7;
const [beginAt, scaleAt] = [4, 5];

async function onChip({ project, frames }: Pick<Scene, 'project' | 'frames'>) {
  const vectors: { readonly cycle: number; readonly value: number }[] = [];
  let isDone = false;
  const run = runInAvr8js(await sendingFirmware(project, frames), {
    lines: project.dataLines.map((line) => ({ pin: line.pin! })),
    frames: Number.POSITIVE_INFINITY,
    maxCycles: 32e6,
    onStart: (board) => {
      board.watchRegister(vectorRegister, (cycle, value) => vectors.push({ cycle, value }));
      board.watchRegister(doneRegister, () => {
        isDone = true;
      });
    },
    stopWhen: () => isDone,
  });
  expect(vectors.length).toBe(vectorsPerFrame * frames.length);
  const of = (frame: number, vector: number) => vectors[vectorsPerFrame * frame + vector]!;
  return {
    currents: frames.map((_, i) =>
      [0, 1, 2, 3].reduce((sum, byte) => sum + of(i, byte).value * 256 ** byte, 0),
    ),
    scales: frames.map((_, i) => of(i, scaleAt).value),
    limiterCycles: frames.map((_, i) => of(i, scaleAt).cycle - of(i, beginAt).cycle),
    bytes: frames.map((_, i) => run.lines.flatMap((line) => [...line.frames[i]!.bytes])),
  };
}

test.each([{}, { colourOrder: 'WRGB' }, { currentModel: 'largest' }] as const)(
  '250 white LEDs %j, whose sum needs more than 16 bits, count on the chip as in C++',
  async (strip) => {
    const project = panelOf({ lines: [{ pin: 6, pieces: [{ ledCount: 250, strip }] }], limitAmps: 1 });
    const strips = stripsOnWire(layOut(project));
    const frames = [frameOf(strips, 255, new Uint8Array(750).fill(255))];
    const [plain] = await sendNatively('plain', project, frames);
    expect((await onChip({ project, frames })).currents).toEqual([plain!.current]);
  },
);

describe('time on the chip', () => {
  const cyclesFor = async (count: number, strip: Partial<StripData>): Promise<number> => {
    const project = panelOf({ lines: [{ pin: 6, pieces: [{ ledCount: count, strip }] }], limitAmps: 1 });
    const strips = stripsOnWire(layOut(project));
    const frame = frameOf(strips, 255, new Uint8Array(3 * count).fill(200));
    return (await onChip({ project, frames: [frame] })).limiterCycles[0]!;
  };
  // The aim of the frame rates: at most 25 cycles an LED for the usual strip; the others are as the show compiler predicts them.
  test.each([
    ['three channels that add up', {}, 25],
    ['a shared string', { currentModel: 'largest' }, 45],
    ['a white die', { colourOrder: 'GRBW' }, 55],
  ] as const)('%s', async (_name, strip, most) => {
    const perLed = ((await cyclesFor(300, strip)) - (await cyclesFor(100, strip))) / 200;
    expect(perLed).toBeLessThanOrEqual(most);
  });
});

// ---- worked cases ----

/** The first byte of 100 LEDs of 12 mA a channel and 0.6 mA quiescent at one colour: 3.66 A white, 0.06 A dark. */
async function bytesAt(
  limitAmps: number | undefined,
  colour: readonly [number, number, number],
): Promise<number[]> {
  const project = panelOf({ lines: [{ pin: 6, pieces: [{ ledCount: 100, strip: {} }] }], limitAmps });
  const strips = stripsOnWire(layOut(project));
  const [frame] = await sendNatively('plain', project, [
    frameOf(
      strips,
      255,
      strips.flatMap(() => colour),
    ),
  ]);
  return [...frame!.bytes.subarray(0, 3)];
}
const white = [255, 255, 255] as const;

describe('100 white LEDs of 36.6 mA each', () => {
  test.each([
    // Largest b for which 0.06 A + 100 x 3 x 0.012 A x b / 255 stays within the limit.
    [3.66, 255],
    [1.86, 127],
    [0.96, 63],
    [0.132, 5],
  ])('at %f A get bytes of %i or up to two less', async (limitAmps, largest) => {
    const [first] = await bytesAt(limitAmps, white);
    expect(largest - first!).toBeGreaterThanOrEqual(0);
    expect(largest - first!).toBeLessThanOrEqual(2);
  });

  test.each([0.001, 0.05, 0.06])(
    'stay black at %f A, which their quiescent current alone takes',
    async (limitAmps) => {
      expect(await bytesAt(limitAmps, white)).toEqual([0, 0, 0]);
    },
  );

  test.each([3.7, 20, 200, undefined])('are untouched at %s A', async (limitAmps) => {
    expect(await bytesAt(limitAmps, white)).toEqual([255, 255, 255]);
  });
});

test('a single colour draws a third, so it may be three times as bright', async () => {
  // GRB: only red, byte 1. 1.2 A for channels is exactly what 100 red LEDs take; the scale may lose a step.
  const [green, red, blue] = await bytesAt(1.26, [255, 0, 0]);
  expect([green, blue]).toEqual([0, 0]);
  expect(red).toBeGreaterThanOrEqual(254);
});
