// What shows lose by a limit, against the player itself: bytes that it sends with the limit, without it, and at full brightness. A worked case by the
// rules O-4, O-7 and O-8 of firmware-templates/player/SPEC.md.
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { compileProject, limiterLossesOf, type ShowLoss } from '../../src/board/index.ts';
import { compileShowData, limiterFigures, type Player, roomSteps } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { limitedScale, wantedUnits } from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { loadPlayer, sample, samples, templates } from '../support/lamploom.ts';
import { projectOf, randomProject, rowsOfStrip } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const lossesOf = (project: Project, limitAmps: number): ShowLoss[] => [
  ...limiterLossesOf(compileProject(project, templates), player, limitAmps),
];

/** All of a show's frames up to a count, as the player sends them. */
function sent(project: Project, show: string, frameMs: number, count: number): Uint8Array[] {
  player.setShowData(compileShowData(project, layOut(project), { frameMs })!);
  return Array.from({ length: count }, (_, frame) => player.frame(show, frame).slice());
}

const limitedTo = (project: Project, limitAmps: number | undefined): Project => {
  const { limitAmps: _, ...power } = project.power;
  return { ...project, power: limitAmps === undefined ? power : { ...power, limitAmps } };
};

/** Scale byte by byte, rule O-4. */
const scaled = (bytes: Uint8Array, scale: number): number[] =>
  Array.from(bytes, (byte) => (byte * (scale + 1)) >> 8);

describe('the figures are those of the player', () => {
  /** Compares every frame of a show; the number of frames that the limit changed. */
  function compare(project: Project, show: string, limitAmps: number, loss: ShowLoss): number {
    const { frameMs, frameCount } = loss;
    const limited = limitedTo(project, limitAmps);
    const really = sent(limited, show, frameMs, frameCount);
    const free = sent(limitedTo(project, undefined), show, frameMs, frameCount);
    const full = sent(
      { ...limitedTo(project, undefined), output: { ...project.output, brightnessPercent: 100 }, inputs: {} },
      show,
      frameMs,
      frameCount,
    );
    const figures = limiterFigures(limited, layOut(limited), roomSteps(limited));
    let changed = 0;
    for (let frame = 0; frame < frameCount; frame++) {
      const scale = limitedScale(figures, wantedUnits(figures, full[frame]!));
      expect(scaled(full[frame]!, scale)).toEqual(Array.from(really[frame]!));
      if (Buffer.compare(free[frame]!, really[frame]!) !== 0) changed++;
    }
    // A step of scale need not change a byte; a changed byte is always a step.
    expect(loss.heldFrames).toBeGreaterThanOrEqual(changed);
    return changed;
  }

  test.each(samples)('%s, each show at a quarter of the limit that it has', (name) => {
    const project = sample(name);
    const limitAmps = (project.power.limitAmps ?? 1) / 4;
    const losses = lossesOf(project, limitAmps);
    expect(losses.map(({ lampshow }) => lampshow)).toEqual(project.lampshows.map(({ id }) => id));
    const changed = losses.map((loss) => compare(project, loss.lampshow, limitAmps, loss));
    expect(Math.max(...changed)).toBeGreaterThan(20);
  });

  test('on random projects of all kinds of strip', () => {
    let changed = 0;
    fc.assert(
      fc.property(randomProject, fc.integer({ min: 2, max: 80 }), (random, hundredths) => {
        const project = {
          ...random,
          lampshows: random.lampshows.map((show) => ({ ...show, lengthMs: 800 })),
        };
        for (const loss of lossesOf(project, hundredths / 100))
          changed += compare(project, loss.lampshow, hundredths / 100, loss);
      }),
      { seed: seedOf(8123), numRuns: 30 },
    );
    expect(changed).toBeGreaterThan(100);
  });
});

test.each([
  // O-8: 100 x 256 / 200 = 128 steps, scale 127.
  [100, 200, 127],
  // Enough: the room's scale.
  [200, 200, 200],
  // From 2^24 on what is wanted is divided first: 26,214,400 / (2^26 / 256 + 1) = 99.9996, so 99 steps.
  [26_214_400, 2 ** 26, 98],
  // Never above the room's: 128 x 256 / 129 = 254 steps.
  [128, 129, 200],
  [0, 5, 0],
])('a budget of %i and %i wanted give scale %i', (budget, wanted, scale) => {
  expect(limitedScale({ segments: [], budget, roomScale: 200 }, wanted)).toBe(scale);
});

describe('90 LEDs of 12 mA a channel, all white for half of the show', () => {
  const project = (brightnessPercent: number): Project =>
    projectOf({
      runs: rowsOfStrip(90),
      output: { gamma: { red: 1, green: 1, blue: 1 }, brightnessPercent },
      lampshows: [
        {
          id: 'attract',
          lengthMs: 2000,
          rows: [
            {
              id: 'row',
              clips: [
                {
                  startMs: 0,
                  lengthMs: 1000,
                  area: 'everything',
                  gradient: 'white',
                  blend: 'over',
                  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
                },
              ],
            },
          ],
        },
      ],
      gradients: [
        {
          id: 'white',
          stops: [
            { at: 0, colour: '#ffffff' },
            { at: 1, colour: '#ffffff' },
          ],
        },
      ],
    });
  // 90 LEDs: 0.054 A dark, and 3.24 A for all channels. With 1.674 A half of that may be drawn: 128 steps of 256, scale 127, and the light of
  // scale 255 falls to 128 / 256.
  test('half of the channels’ current leaves half of the light', () => {
    const [loss] = lossesOf(project(100), 0.054 + 1.62);
    expect(Math.abs(loss!.heldShare - 0.5)).toBeLessThan(0.01);
    // The budget is rounded down and currents up, so a step less is allowed: 1/256.
    expect(loss!.deepestPercent).toBeGreaterThanOrEqual(50);
    expect(loss!.deepestPercent).toBeLessThanOrEqual(50.4);
    expect(loss!.deepestFrame).toBe(0);
  });

  test('what the brightness takes already, the limit need not', () => {
    // At 50 % the scale is 128: one or two steps more than the limit's.
    const [half] = lossesOf(project(50), 0.054 + 1.62);
    expect(half!.deepestPercent).toBeLessThanOrEqual((100 * 2) / 129 + 1e-9);
    const [quarter] = lossesOf(project(25), 0.054 + 1.62);
    expect(quarter).toMatchObject({
      heldFrames: 0,
      heldShare: 0,
      deepestPercent: 0,
      deepestFrame: undefined,
    });
  });

  test('the brightest step of the room button counts like the brightness', () => {
    const halved = {
      ...project(100),
      inputs: { roomPin: 4, roomPercents: [50, 30, 10] as [number, number, number] },
    };
    expect(lossesOf(halved, 0.054 + 1.62)).toEqual(lossesOf(project(50), 0.054 + 1.62));
  });

  test('a limit that the chips alone take leaves no light, and a generous one all', () => {
    expect(lossesOf(project(100), 0.05)[0]!.deepestPercent).toBe(100);
    expect(lossesOf(project(100), 3.3)[0]!.heldFrames).toBe(0);
  });
});
