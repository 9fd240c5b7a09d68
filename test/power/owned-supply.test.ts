// "I own this supply": the largest limit and the brightness that it carries. FACTS: I = N (quiescent + cap x channels), 80 % of the rating at most (common
// practice, no source), a board of 50 mA (the same). What the player makes of a brightness: rules O-4 and O-9 of firmware-templates/player/SPEC.md.
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { frameAmps, ownedSupply, panelNetwork, totalAmps } from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { loadPlayer } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';
import { buildPanel, hair, type PanelPlan } from './build-project.ts';
import { expectClose } from './expect-volts.ts';

function owned(plan: PanelPlan, ratedAmps: number, controller: Project['power']['controller'] = {}) {
  const { project: plain, layout } = buildPanel(plan);
  const project = { ...plain, power: { ...plain.power, controller } };
  return ownedSupply(project, panelNetwork(project, layout), ratedAmps);
}
const usb = { from: 'usb' } as const;
/** 432 LEDs of 36 mA, 15.552 A together. */
const dense = (quiescentMilliamps = 0): PanelPlan => ({
  reel: { quiescentMilliamps },
  lines: [[{ leds: 432 }]],
  feeds: [{ run: 'r0', led: 0, ...hair }],
});

describe('432 LEDs of 36 mA', () => {
  test('on 10 A: a limit of 7.95 A, or 51 % brightness', () => {
    // 0.8 x 10 - 0.05; 7.95 / 15.552 = 0.5112. The player's byte at 51 %: scale round(130.05) = 130, floor(255 x 131 / 256) = 130, 130 / 255 = 0.5098.
    const supply = owned(dense(), 10);
    expectClose(supply.forWireAmps, 7.95);
    expect(supply.limitAmps).toBe(7.95);
    expect(supply.brightnessPercent).toBe(51);
    expectClose(supply.whiteAmps!, 0.51 * 15.552 + 0.05);
  });

  test('the chips’ own current is no part of what brightness scales', () => {
    // 432 (0.6 mA + cap x 36 mA) <= 7.95 A: cap = (7.95 - 0.2592) / 15.552 = 0.4945.
    expect(owned(dense(0.6), 10).brightnessPercent).toBe(49);
  });

  test('a brightness counts as what the player makes of it', () => {
    // 9.72 A on USB carry 7.776 A, half of white; but 50 % is scale 128 and byte 128, 50.2 %. 49 %: scale 125, byte 125, 49.02 %.
    expect(owned(dense(), 9.72, usb).brightnessPercent).toBe(49);
    // 128 / 255 x 15.552 A = 7.80649 A, / 0.8 = 9.7582 A.
    expect(owned(dense(), 9.759, usb).brightnessPercent).toBe(50);
    expect(owned(dense(), 9.758, usb).brightnessPercent).toBe(49);
  });

  test('large enough is 100 %, and the limit is what it carries', () => {
    expect(owned(dense(), 19.44, usb)).toMatchObject({ brightnessPercent: 100, limitAmps: 15.55 });
    expect(owned(dense(), 19.43, usb).brightnessPercent).toBe(99);
  });

  test('limits are rounded down to hundredths', () => {
    // 0.8 x 6.02 - 0.05 = 4.766.
    expect(owned(dense(), 6.02).limitAmps).toBe(4.76);
  });
});

describe('too small a supply', () => {
  test('carries the chips dark, but lights nothing; or not even that', () => {
    // 432 mA dark. On USB 0.54 A carry 0.432 A exactly, 0.53 A 0.424 A.
    const exact = owned(dense(1), 0.54, usb);
    expect([exact.carriesDark, exact.limitAmps, exact.brightnessPercent, exact.whiteAmps]).toEqual([
      true,
      undefined,
      undefined,
      undefined,
    ]);
    expect(owned(dense(1), 0.53, usb).carriesDark).toBe(false);
    expect(owned(dense(1), 0.03).limitAmps).toBeUndefined();
  });

  test('LEDs off the wire take their share, which no limit touches', () => {
    const plan: PanelPlan = {
      reel: { quiescentMilliamps: 1 },
      lines: [[{ leds: 100 }]],
      unchained: [{ leds: 50 }],
      feeds: [
        { run: 'r0', led: 0, ...hair },
        { run: 'r1', led: 0, ...hair },
      ],
    };
    // 0.8 x 2 - 0.05 - 50 x 1 mA.
    expect(owned(plan, 2).limitAmps).toBe(1.5);
    // (1.5 - 0.1) / 3.6 = 0.3889; 38 %: scale 97, byte floor(255 x 98 / 256) = 97, 38.04 %.
    expect(owned(plan, 2).brightnessPercent).toBe(38);
  });
});

describe('played', () => {
  let player: Player;
  beforeAll(async () => {
    player = await loadPlayer();
  });
  /** 60 LEDs, white through and through, without limit. */
  const white = (brightnessPercent: number): Project =>
    projectOf({
      runs: rowsOfStrip(60),
      gradients: [
        {
          id: 'white',
          stops: [
            { at: 0, colour: '#ffffff' },
            { at: 1, colour: '#ffffff' },
          ],
        },
      ],
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
                  gradient: 'white',
                  blend: 'over',
                  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
                },
              ],
            },
          ],
        },
      ],
      output: { gamma: { red: 2.2, green: 2.2, blue: 2.2 }, brightnessPercent },
    });
  /** Amperes of white as the player sends it at a brightness. */
  function sentAmps(percent: number): number {
    const project = white(percent);
    const layout = layOut(project);
    player.setShowData(compileShowData(project, layout, { frameMs: 20 })!);
    return totalAmps(frameAmps(panelNetwork(project, layout), player.frame('attract', 0)));
  }

  test('at the brightness that is named white stays within 80 %, and two percent more would not', () => {
    const project = white(100);
    const panel = panelNetwork(project, layOut(project));
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 300 }), (hundredths) => {
        const ratedAmps = hundredths / 100;
        const { brightnessPercent = 0 } = ownedSupply(project, panel, ratedAmps);
        const room = 0.8 * ratedAmps - 0.05 + 1e-9;
        if (brightnessPercent > 0) expect(sentAmps(brightnessPercent)).toBeLessThanOrEqual(room);
        if (brightnessPercent < 99) expect(sentAmps(brightnessPercent + 2)).toBeGreaterThan(room);
      }),
      { seed: seedOf(71), numRuns: 100 },
    );
  });
});
