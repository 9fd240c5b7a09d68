// Laws that hold on every panel: no current is lost, more copper lowers no LED's volts, joining two zones can, the limiter's case stays below full white.
// Sources: Kirchhoff's current rule; Rayleigh's monotonicity law of resistor networks.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import {
  assessPower,
  groundNode,
  type PanelNetwork,
  plusNode,
  type SolvedCase,
} from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { buildPanel, hair, type PanelPlan, reel } from './build-project.ts';
import { expectClose } from './expect-volts.ts';
import { type RandomPanel, randomPanel } from './random-panels.ts';

/** The same with LEDs that draw so much over rails so thin that some starve. */
const withDim = (project: Project): Project => ({
  ...project,
  strips: [{ ...reel, channelMilliamps: 80, railOhmPerMetre: 0.5 }],
});

/** Amperes into each node of the network along its links, from its drawn currents: 0 everywhere. */
function imbalanceAmps(panel: PanelNetwork, { linkAmps, ledAmps }: SolvedCase): Float64Array {
  const into = new Float64Array(panel.network.nodeCount);
  for (const [link, { from, to }] of panel.network.links.entries()) {
    if (from >= 0) into[from]! -= linkAmps[link]!;
    if (to >= 0) into[to]! += linkAmps[link]!;
  }
  for (const [led, isPowered] of panel.isPowered.entries()) {
    if (isPowered === 0) continue;
    into[plusNode(led)]! -= ledAmps[led]!;
    into[groundNode(led)]! += ledAmps[led]!;
  }
  if (panel.board) into[panel.board.node]! -= panel.board.amps;
  return into;
}

describe("Kirchhoff's current rule, to 1e-9, with several supplies, broken grounds and bad joints", () => {
  test('holds at every node, in full white and where LEDs starve', () => {
    let starved = 0;
    fc.assert(
      fc.property(randomPanel, ({ project, faults }) => {
        const assessment = assessPower(withDim(project), layOut(withDim(project)), faults);
        for (const amps of imbalanceAmps(assessment.panel, assessment.worst)) expectClose(amps, 0);
        if (!assessment.starved) return;
        starved++;
        for (const amps of imbalanceAmps(assessment.panel, assessment.starved)) expectClose(amps, 0);
      }),
      { seed: 1, numRuns: 200 },
    );
    expect(starved).toBeGreaterThan(20);
  });

  test('holds for each supply: what leaves its + comes back into its ground, along its own wires and the one that joins the grounds', () => {
    fc.assert(
      fc.property(randomPanel, ({ project, layout, faults }) => {
        const { panel, worst } = assessPower(project, layout, faults);
        const bonded = panel.supplies.flatMap(({ groundOhms }, supply) => (groundOhms > 0 ? [supply] : []));
        for (const supply of bonded) {
          const feeds = panel.feeds.filter((feed) => feed.supply === supply);
          const along = (rail: 'plus' | 'ground') =>
            feeds.reduce(
              (sum, feed) => sum + (feed[rail] === undefined ? 0 : worst.linkAmps[feed[rail]]!),
              0,
            );
          expectClose(along('plus'), along('ground') + worst.bondAmps[supply]!, `supply ${supply}`);
        }
      }),
      { seed: 2, numRuns: 200 },
    );
  });
});

/** A panel of one supply, and nothing broken. */
const simplePanel = randomPanel.map(({ project }): RandomPanel => {
  const { moreSupplies: _, ...power } = project.power;
  const single = {
    ...project,
    power: { ...power, feeds: power.feeds.map(({ supply: _, ...feed }) => feed) },
  };
  return { ...buildPanel({ lines: [] }), project: single, layout: layOut(single), faults: [] };
});

/** Volts of all LEDs where each draws what it draws in white, fed or not. */
const voltsOf = ({ project }: Pick<RandomPanel, 'project'>): Float64Array =>
  assessPower(project, layOut(project)).worst.ledVolts;

describe('with one supply and constant currents', () => {
  const tolerance = 1e-12;

  test('a further feed into a zone that has one lowers no LED', () => {
    let rose = 0;
    fc.assert(
      fc.property(simplePanel, fc.nat(), fc.integer({ min: 10, max: 3000 }), (random, pick, lengthMm) => {
        const { project, layout } = random;
        const { panel } = assessPower(project, layout);
        const fed = panel.leds.filter(({ zone }) => panel.zones[zone]!.feeds.length > 0);
        fc.pre(fed.length > 0);
        const { run, led } = fed[pick % fed.length]!;
        const feeds = [...project.power.feeds, { run, led, wire: 'AWG 20', lengthMm }];
        const before = voltsOf(random);
        const after = voltsOf({ project: { ...project, power: { ...project.power, feeds } } });
        for (const [i, volts] of after.entries())
          expect(volts).toBeGreaterThanOrEqual(before[i]! - tolerance);
        if (after.some((volts, i) => volts > before[i]! + 1e-6)) rose++;
      }),
      { seed: 3, numRuns: 200 },
    );
    expect(rose).toBeGreaterThan(100);
  });

  test("thickening a feed's wire lowers no LED", () => {
    fc.assert(
      fc.property(simplePanel, fc.nat(), (random, pick) => {
        const { power } = random.project;
        const feeds = power.feeds.map((feed, i) =>
          i === pick % power.feeds.length ? { ...feed, wire: 'AWG 10' } : feed,
        );
        const before = voltsOf(random);
        const after = voltsOf({ project: { ...random.project, power: { ...power, feeds } } });
        for (const [i, volts] of after.entries())
          expect(volts).toBeGreaterThanOrEqual(before[i]! - tolerance);
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  test('joining two zones can lower an LED: the one whose feed now helps a needier neighbour', () => {
    // One LED of 36 mA on a feed of its own; behind a jumper nine LEDs on a feed ten times as long.
    const plan = (power: 'carried' | 'cut'): PanelPlan => ({
      lines: [[{ leds: 1 }, { leds: 9, jumper: { ...hair, power } }]],
      feeds: [
        { run: 'r0', led: 0, wire: 'AWG 24', lengthMm: 1000 },
        { run: 'r1', led: 8, wire: 'AWG 24', lengthMm: 10_000 },
      ],
    });
    const apart = buildPanel(plan('cut'));
    const joined = buildPanel(plan('carried'));
    const before = voltsOf(apart);
    const after = voltsOf(joined);
    // Apart, its + wire carries its own 36 mA; joined, it carries more than half of 360 mA.
    expect(after[0]!).toBeLessThan(before[0]! - 0.01);
    expect(Math.min(...after)).toBeGreaterThan(Math.min(...before));
  });
});

test("the limiter's case exceeds full white nowhere: not an LED's current, not the total, and no LED's volts are lower", () => {
  fc.assert(
    fc.property(
      randomPanel,
      fc.double({ min: 0.01, max: 8, noNaN: true }),
      ({ project, layout }, limitAmps) => {
        const limited = { ...project, power: { ...project.power, limitAmps } };
        const { worst, inUse, panel } = assessPower(limited, layout);
        expect(inUse.totalAmps).toBeLessThanOrEqual(worst.totalAmps + 1e-12);
        const isSingle = panel.supplies.length === 1;
        for (const led of panel.leds.keys()) {
          expect(inUse.ledAmps[led]!).toBeLessThanOrEqual(worst.ledAmps[led]! + 1e-12);
          // With several supplies whose grounds are joined by wire, one's current can lift the other's ground.
          if (isSingle) expect(inUse.ledVolts[led]!).toBeGreaterThanOrEqual(worst.ledVolts[led]! - 1e-12);
        }
      },
    ),
    { seed: 5, numRuns: 200 },
  );
});

describe('panels that are hopeless', () => {
  // Fed at one end only, over rails far too thin. Nothing can lie below where LEDs stop drawing (2.0 V, a red die's least forward voltage: WS2812B
  // data sheet), since without current nothing is lost; and what draws less than all must lie below its floor.
  test.each([
    [250, 0.25, 20, 'AWG 24', 8000],
    [600, 0.1, 20, 'AWG 22', 5000],
    [1000, 0.1, 12, 'AWG 18', 500],
    [2000, 0.1, 20, 'AWG 24', 8000],
  ])(
    '%d LEDs, %d ohm/m, %d mA a channel, %s of %d mm: the starved case is a solution',
    (leds, railOhmPerMetre, channelMilliamps, wire, lengthMm) => {
      const pieces = Math.ceil(leds / 500);
      const { project, layout } = buildPanel({
        reel: { railOhmPerMetre, channelMilliamps },
        lines: [Array.from({ length: pieces }, () => ({ leds: leds / pieces }))],
        feeds: [{ run: 'r0', led: 0, wire, lengthMm }],
      });
      const assessment = assessPower(project, layout);
      const { starved, worst, panel } = assessment;
      expect(Math.min(...worst.ledVolts)).toBeLessThan(0);
      expect(starved).toBeDefined();
      for (const amps of imbalanceAmps(panel, starved!)) expectClose(amps, 0);
      for (const [led, volts] of starved!.ledVolts.entries()) {
        expect(volts).toBeGreaterThan(2 - 1e-6);
        // The curve: nothing at 2.0 V, all at 4.5 V, straight between.
        const share = Math.min(1, Math.max(0, (volts - 2) / 2.5));
        expect(Math.abs(starved!.ledAmps[led]! - share * worst.ledAmps[led]!)).toBeLessThan(1e-8);
      }
      expect(Math.min(...starved!.ledVolts)).toBeLessThan(2.5);
    },
  );
});

test('a starved LED never lies below what constant currents give it, and draws no more', () => {
  fc.assert(
    fc.property(simplePanel, ({ project }) => {
      const dim = withDim(project);
      const { worst, starved } = assessPower(dim, layOut(dim));
      if (!starved) return;
      for (const [led, volts] of starved.ledVolts.entries()) {
        expect(volts).toBeGreaterThanOrEqual(worst.ledVolts[led]! - 1e-9);
        expect(starved.ledAmps[led]!).toBeLessThanOrEqual(worst.ledAmps[led]! + 1e-12);
        expect(volts).toBeGreaterThanOrEqual(0);
      }
    }),
    { seed: 6, numRuns: 100 },
  );
});
