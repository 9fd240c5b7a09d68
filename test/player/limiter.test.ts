// The limiter: the current that the sent bytes draw never exceeds the budget, and no dimmer scale than needed is chosen.
// Current of an LED as src/catalogue/strips.ts defines it: quiescent + channel current x level / 255, channels summed or the largest.
// Not here: the power network (src/power), fuses. Rule of the scale: scale8 in arithmetic.h, a x (scale + 1) / 256 rounded down.
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { ledMilliamps } from '../../src/catalogue/index.ts';
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project, StripData } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';
import { frameNumbers, loadPlayer, seed, variedProject } from './varied-project.ts';

const frameMs = 20;
const projectCount = 200;
/** What the limiter may leave unused beside the step of its scale: amps, for 8.24 rounding of the sum and the budget. */
const roundingAmps = 1e-6;

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const stripsOnWire = (project: Project): StripData[] =>
  layOut(project).lines.flatMap((line) =>
    line.runs.flatMap((placed) => Array.from({ length: placed.run.ledCount }, () => placed.strip)),
  );

const bytesOf = (project: Project, numbers: readonly number[]): Uint8Array[] => {
  const data = compileShowData(project, layOut(project), { frameMs })!;
  player.setShowData(data);
  return numbers.map((number) => player.frame(project.attractMode, number).slice());
};

/** The same frames without limiter and at full brightness: gamma-corrected levels. */
const unlimited = (project: Project): Project => {
  const { limitAmps: _, ...power } = project.power;
  return { ...project, power, output: { ...project.output, brightnessPercent: 100 } };
};

const ampsOf = (strips: readonly StripData[], levels: ArrayLike<number>): number =>
  strips.reduce(
    (sum, strip, led) =>
      sum + ledMilliamps(strip, [levels[3 * led]!, levels[3 * led + 1]!, levels[3 * led + 2]!]) / 1000,
    0,
  );
const quiescentAmps = (strips: readonly StripData[]): number =>
  strips.reduce((sum, strip) => sum + strip.quiescentMilliamps / 1000, 0);

/** Estimate at a scale by the rule in output.h: levels x (scale + 1) / 256, not rounded. */
const estimateAmps = (strips: readonly StripData[], levels: Uint8Array, scale: number): number =>
  ampsOf(
    strips,
    Array.from(levels, (level) => (level * (scale + 1)) / 256),
  );

/** The scales that turn these levels into these bytes. */
function scalesThatGive(levels: Uint8Array, sent: Uint8Array): { least: number; most: number } | undefined {
  const fits = (scale: number) =>
    levels.every((level, i) => Math.floor((level * (scale + 1)) / 256) === sent[i]);
  const scales = Array.from({ length: 256 }, (_, scale) => scale).filter(fits);
  return scales.length === 0 ? undefined : { least: scales[0]!, most: scales.at(-1)! };
}

const scene = variedProject.chain((project) =>
  fc.record({
    project: fc.constant(project),
    numbers: frameNumbers(frameMs),
    // Often near what the project draws, so that the limiter acts; also below the quiescent current.
    limitAmps: fc.integer({ min: 1, max: 400 }).map((n) => n / 100),
  }),
);

describe(`on ${projectCount} random projects (seed ${seed})`, () => {
  test('what is sent never draws more than the limit, nor two scale steps less than allowed', () => {
    let acted = 0;
    let below = 0;
    fc.assert(
      fc.property(scene, ({ project: free, numbers, limitAmps }) => {
        const project = { ...free, power: { ...free.power, limitAmps } };
        const strips = stripsOnWire(project);
        const brightness = Math.round((255 * project.output.brightnessPercent) / 100);
        const sent = bytesOf(project, numbers);
        const levels = bytesOf(unlimited(project), numbers);
        for (const [i, bytes] of sent.entries()) {
          if (limitAmps <= quiescentAmps(strips)) {
            below++;
            expect(bytes.every((byte) => byte === 0)).toBe(true);
            continue;
          }
          expect(ampsOf(strips, bytes)).toBeLessThanOrEqual(limitAmps);
          const scales = scalesThatGive(levels[i]!, bytes);
          expect(scales, 'one scale explains all bytes').toBeDefined();
          if (scales!.most >= brightness) continue;
          acted++;
          expect(estimateAmps(strips, levels[i]!, scales!.most + 2)).toBeGreaterThan(
            limitAmps - roundingAmps,
          );
        }
      }),
      { seed, numRuns: projectCount },
    );
    expect(acted).toBeGreaterThan(300);
    expect(below).toBeGreaterThan(12);
  });
});

/** 100 white LEDs of 12 mA a channel and 0.6 mA quiescent: 3.66 A unlimited, 0.06 A dark. */
const white = (limitAmps: number | undefined, colour = '#ffffff'): Project =>
  projectOf({
    runs: [{ id: 'run', firstLed: { xMm: 0, yMm: 0 }, arrowDeg: 0, ledCount: 100, strip: 'ws2812b-60' }],
    gradients: [{ id: 'plain', stops: [{ at: 0, colour }] }],
    lampshows: [
      {
        id: 'attract',
        lengthMs: 1000,
        rows: [
          {
            id: 'row',
            clips: [
              {
                startMs: 0,
                lengthMs: 1000,
                area: 'everything',
                gradient: 'plain',
                blend: 'over',
                effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 0 },
              },
            ],
          },
        ],
      },
    ],
    power: { supply: { volts: 5, amps: 10 }, feeds: [], ...(limitAmps === undefined ? {} : { limitAmps }) },
  });
const firstByte = (project: Project): number => {
  const [frame] = bytesOf(project, [0]);
  expect(new Set(frame).size).toBe(1);
  return frame![0]!;
};

describe('100 white LEDs of 36.6 mA each', () => {
  test.each([
    // Largest b for which 0.06 A + 100 x 3 x 0.012 A x b / 255 stays within the limit.
    [3.66, 255],
    [1.86, 127],
    [0.96, 63],
    [0.132, 5],
  ])('at %f A get bytes of %i or up to two less', (limitAmps, largest) => {
    const below = largest - firstByte(white(limitAmps));
    expect(below).toBeGreaterThanOrEqual(0);
    expect(below).toBeLessThanOrEqual(2);
  });

  test.each([0.001, 0.05, 0.06])(
    'stay black at %f A, which their quiescent current alone takes',
    (limitAmps) => {
      expect(firstByte(white(limitAmps))).toBe(0);
    },
  );

  test.each([3.7, 20, 1000])('are untouched at %f A', (limitAmps) => {
    expect(firstByte(white(limitAmps))).toBe(255);
  });

  test('are untouched without a limit', () => {
    expect(firstByte(white(undefined))).toBe(255);
  });
});

test('a single colour draws a third, so it may be three times as bright', () => {
  const [frame] = bytesOf(white(1.26, '#ff0000'), [0]);
  // GRB: only red, byte 1. 1.2 A for channels is exactly what 100 red LEDs take; the scale may lose a step.
  expect([...frame!.subarray(0, 3)]).toEqual([0, frame![1]!, 0]);
  expect(frame![1]).toBeGreaterThanOrEqual(254);
});
