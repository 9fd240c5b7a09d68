// The power report: exactly the shape that the command line promises, with figures worked out by hand.
import { describe, expect, test } from 'vitest';
import { powerReport } from '../../src/power/index.ts';
import { buildPanel, type PanelPlan } from './build-project.ts';
import { fedAtFirst } from './closed-forms.ts';
import { expectClose } from './expect-volts.ts';

const plan: PanelPlan = {
  reel: { currentModel: 'largest', channelMilliamps: 100 },
  lines: [[{ leds: 20 }, { leds: 1, jumper: { power: 'cut' } }]],
  unchained: [{ leds: 2 }],
  supply: { volts: 5.2, amps: 14 },
  limitAmps: 1.5,
  feeds: [{ run: 'r0', led: 0, wire: '0.75 mm2', lengthMm: 400 }],
};
const { project, layout } = buildPanel(plan);
/** Two conductors of 0.4 m x 26.0 mohm/m. */
const feedOhms = 0.0208;

describe('the report', () => {
  const report = powerReport(project, layout);

  test('has the promised entries and no others', () => {
    expect(Object.keys(report)).toEqual(['supply', 'worstCase', 'show', 'limitAmps', 'feeds', 'leds']);
    expect(Object.keys(report.worstCase)).toEqual(['amps', 'lowestVolts', 'at']);
    expect(Object.keys(report.feeds[0]!)).toEqual(['run', 'led', 'amps', 'wire', 'lengthMm', 'fuseAmps']);
    expect(Object.keys(report.leds[0]!)).toEqual(['run', 'led', 'volts']);
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
  });

  test("has the document's supply and limit", () => {
    // 5.2 V x 14 A.
    expect(report.supply).toEqual({ volts: 5.2, amps: 14, watts: 5.2 * 14 });
    expect(report.limitAmps).toBe(1.5);
  });

  test('has each feed with its worst-case amperes and its fuse', () => {
    const [{ amps, ...feed }] = report.feeds as [(typeof report.feeds)[number]];
    // Only the 20 LEDs it reaches: 2 A, which takes a fuse of 3 A (2 A at 80 % is 2.5).
    expectClose(amps, 2);
    expect(feed).toEqual({ run: 'r0', led: 0, wire: '0.75 mm2', lengthMm: 400, fuseAmps: 3 });
  });

  test('has every LED in wire order, then those outside every chain; 0 V where no feed reaches', () => {
    expect(report.leds.map(({ run, led }) => `${run}.${led}`)).toEqual([
      ...Array.from({ length: 20 }, (_, led) => `r0.${led}`),
      'r1.0',
      'r2.0',
      'r2.1',
    ]);
    expectClose(report.leds[0]!.volts, 5.2 - 2 * feedOhms);
    // Textbook formula; derived.
    expectClose(report.leds[19]!.volts, 5.2 - 2 * feedOhms - fedAtFirst(20, 0.1, 0.2 / 60));
    expect(report.leds.slice(20).map(({ volts }) => volts)).toEqual([0, 0, 0]);
  });

  test('its worst case counts all chained LEDs, and its lowest LED is the first without volts', () => {
    expectClose(report.worstCase.amps, 2.1);
    expect(report.worstCase.lowestVolts).toBe(0);
    expect(report.worstCase.at).toEqual({ run: 'r1', led: 0 });
  });

  test('has null where there is no show, no limit, no blade fuse', () => {
    expect(report.show).toBeNull();
    const bare = buildPanel({
      ...{ reel: plan.reel!, lines: [[{ leds: 241 }]] },
      feeds: [{ run: 'r0', led: 0, wire: 'AWG 10', lengthMm: 10 }],
    });
    const { limitAmps, feeds } = powerReport(bare.project, bare.layout);
    expect(limitAmps).toBeNull();
    // 24.1 A: the largest blade fuse, 30 A, carries 24 A at 80 %.
    expect(feeds[0]!.fuseAmps).toBeNull();
  });
});

test('volts below 0 are reported as they are', () => {
  const { project, layout } = buildPanel({
    lines: [[{ leds: 300 }]],
    feeds: [{ run: 'r0', led: 0, wire: 'AWG 10', lengthMm: 0.001 }],
  });
  const { worstCase, leds } = powerReport(project, layout);
  // Textbook formula; derived: 5.382 V are lost. The feed's nanoohms lose under a microvolt.
  expect(Math.abs(worstCase.lowestVolts - (5 - fedAtFirst(300, 0.036, 0.2 / 60)))).toBeLessThan(1e-6);
  expect(worstCase.lowestVolts).toBeLessThan(0);
  expect(worstCase.at).toEqual({ run: 'r0', led: 299 });
  expect(leds[299]!.volts).toBe(worstCase.lowestVolts);
});

test('a show has its peak, average and lowest volts under its id', () => {
  const { project, layout } = buildPanel({ ...plan, lines: [[{ leds: 20 }]], unchained: [] });
  const white = new Uint8Array(60).fill(255);
  const { show } = powerReport(project, layout, {
    lampshow: 'attract',
    frames: [new Uint8Array(60), white, new Uint8Array(60), white],
  });
  expect(Object.keys(show!)).toEqual(['lampshow', 'peakAmps', 'averageAmps', 'lowestVolts']);
  expect(show!.lampshow).toBe('attract');
  // 0, 2, 0 and 2 A.
  expectClose(show!.peakAmps, 2);
  expectClose(show!.averageAmps, 1);
  // Textbook formula; derived.
  expectClose(show!.lowestVolts, 5.2 - 2 * feedOhms - fedAtFirst(20, 0.1, 0.2 / 60));
  expect(powerReport(project, layout, { lampshow: 'attract', frames: [] }).show).toBeNull();
});

test('a project without LEDs has a report', () => {
  const { project, layout } = buildPanel({ lines: [] });
  expect(powerReport(project, layout)).toMatchObject({
    worstCase: { amps: 0, lowestVolts: 5, at: null },
    feeds: [],
    leds: [],
  });
});
