// The power on one page: figures worked out by hand, and the same numbers wherever they are given out.
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { powerReport, powerSummary } from '../../src/power/index.ts';
import { planExport, wireList } from '../../src/workshop/index.ts';
import { exportTools, sample, samples, templates } from '../support/lamploom.ts';
import { buildPanel } from './build-project.ts';
import { expectClose } from './expect-volts.ts';

// 20 LEDs of 100 mA on thick rails: 2 A over 2 x 2 m x 26.0 mohm/m lose 0.208 V; a second zone of 10 on a supply of its own, 1 A, 0.104 V.
const { project, layout } = buildPanel({
  reel: { currentModel: 'largest', channelMilliamps: 100, railOhmPerMetre: 0.001, boardWidthMm: 12 },
  lines: [[{ leds: 20 }, { leds: 10, jumper: { power: 'cut', lengthMm: 1e-3, wire: 'AWG 30' } }]],
  supply: { amps: 14 },
  moreSupplies: [{ id: 'second', volts: 5.1, amps: 4 }],
  limitAmps: 1.5,
  feeds: [
    { run: 'r0', led: 10, wire: '0.75 mm2', lengthMm: 2000, fuseAmps: 3 },
    { run: 'r1', led: 0, wire: '0.75 mm2', lengthMm: 2000, supply: 'second' },
  ],
});

describe('the summary', () => {
  const summary = powerSummary(project, layout);
  test('tells each zone with its feeds, runs and amperes', () => {
    expect(summary.zones.map(({ runs, ledCount, feeds }) => [runs, ledCount, feeds])).toEqual([
      [['r0'], 20, [0]],
      [['r1'], 10, [1]],
    ]);
    expectClose(summary.zones[0]!.amps, 2);
    expectClose(summary.zones[1]!.amps, 1);
  });
  test('tells what each supply gives in full white', () => {
    expect(summary.supplies.map(({ id, volts, amps }) => [id, volts, amps])).toEqual([
      [null, 5, 14],
      ['second', 5.1, 4],
    ]);
    expectClose(summary.supplies[0]!.worstAmps, 2);
    expectClose(summary.supplies[1]!.worstAmps, 1);
  });
  test('is lower when hot, higher when held to the limit, and has no starved case where none lies below its floor', () => {
    expect(summary.hot.celsius).toBe(50);
    expect(summary.hot.lowestVolts).toBeLessThan(summary.worstCase.lowestVolts);
    expectClose(summary.inUse.amps, 1.5);
    expect(summary.inUse.lowestVolts).toBeGreaterThan(summary.worstCase.lowestVolts);
    expect(summary.starved).toBeNull();
    // 50 mA over 2 x 0.5 m of AWG 20 (33.31 mohm/m).
    expect(summary.controllerVolts!.toFixed(4)).toBe((5 - 0.05 * 0.03331).toFixed(4));
  });
});

test.each(samples)('%s: report, wire list and the command line have the same numbers', (name) => {
  const project = sample(name);
  const layout = layOut(project);
  const report = powerReport(project, layout);
  const exported = planExport(project, templates, exportTools).report.power;
  expect(exported.worstCase).toEqual(report.worstCase);
  expect(exported.feeds).toEqual(report.feeds);
  expect(exported.supply).toEqual(report.supply);
  expect(exported.limitAmps).toBe(report.limitAmps);
  expect(wireList(project, layout).feeds.map(({ fuseAmps }) => fuseAmps)).toEqual(
    report.feeds.map(({ fuseAmps }) => fuseAmps),
  );
  // Zones together draw the worst case, and the lowest zone is the lowest LED.
  expectClose(
    exported.zones.reduce((sum, { amps }) => sum + amps, 0),
    report.worstCase.amps,
  );
  expect(Math.min(...exported.zones.map(({ lowestVolts }) => lowestVolts))).toBe(
    report.worstCase.lowestVolts,
  );
});
