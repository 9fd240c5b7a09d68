// Plans of panels with several supplies, strips for several volts, and runs that were left out or swapped when it was built.
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { assessPower, planFeeds, splitOverSupplies, supplyLoads } from '../../src/power/index.ts';
import type { AsBuilt, Planning, Project } from '../../src/project/index.ts';
import { buildPanel, type PanelPlan, reel } from './build-project.ts';
import { done, faultsOf, lowestVolts, planned, reasonsOf } from './plan-documents.ts';
import { diceOf } from './random-paths.ts';

const twelve = { ...reel, id: 'twelve', supplyVolts: 12, floorVolts: 9.5 } as const;
const wire = { wire: 'AWG 18', lengthMm: 500 } as const;
const beside = { xMm: 0, yMm: 0 };

const withPlanning = (plan: PanelPlan, planning: Planning = {}): Project => {
  const { project } = buildPanel(plan);
  return { ...project, power: { ...project.power, planning } };
};

describe('strips of 12 V and 5 V on one data line', () => {
  const mixed = (power: 'cut' | 'carried', feeds: Project['power']['feeds'], planning?: Planning) =>
    withPlanning(
      {
        strips: [twelve],
        lines: [[{ leds: 10, strip: 'twelve' }, { leds: 10, jumper: { power } }, { leds: 10 }]],
        supply: { volts: 12, place: beside },
        moreSupplies: [{ id: 'v5', volts: 5, amps: 10, place: beside }],
        feeds,
      },
      planning,
    );
  const both = [
    { run: 'r0', led: 0, ...wire },
    { run: 'r1', led: 0, ...wire, supply: 'v5' },
  ];

  test('each is fed from its own supply, and + between them is cut', () => {
    for (const power of ['cut', 'carried'] as const) {
      const project = mixed(power, both);
      const plan = planned(project);
      expect(plan.feeds.map(({ run, supply }) => [run === 'r0', supply])).toEqual([
        [true, undefined],
        [false, 'v5'],
      ]);
      expect(plan.jumpers).toEqual([
        { line: 0, place: 1, power: 'cut' },
        { line: 0, place: 2, power: 'carried' },
      ]);
      expect(plan.lines).toMatchObject([{ feedCount: 2, least: 2, isProved: true }]);
      expect(faultsOf(done(project, plan))).toEqual([]);
    }
  });

  test('runs without a feed take the first supply that their strip is made for', () => {
    for (const power of ['cut', 'carried'] as const) {
      const plan = planned(mixed(power, []));
      expect(plan.feeds.map(({ supply }) => supply)).toEqual([undefined, 'v5']);
    }
  });

  test('where jumpers stay and join them there is no plan', () => {
    expect(reasonsOf(mixed('carried', both, { jumpersStay: true }))).toMatchObject([
      { kind: 'several-volts', runs: ['r0', 'r1', 'r2'] },
    ]);
    expect(reasonsOf(mixed('cut', both, { jumpersStay: true }))).toEqual([]);
  });

  test('a strip that its supply is not made for is not planned', () => {
    const wrong = [{ run: 'r1', led: 0, ...wire }];
    const [reason, ...others] = reasonsOf(mixed('cut', wrong));
    expect(others).toEqual([]);
    expect(reason).toMatchObject({ kind: 'wrong-supply', runs: ['r1', 'r2'], value: 12, limit: 5 });
    expect(reason!.message).toBe(
      'Runs "r1" and "r2": The supply gives 12.00 V; the chips of strip "reel" stand 5.30 V at most.',
    );
    // 5.3 V is the most that its chips stand (data sheet of the WS2812B, version 1), though 5.4 V are within a tenth.
    expect(reasonsOf(withPlanning({ lines: [[{ leds: 5 }]], supply: { volts: 5.4 } }))).toMatchObject([
      { kind: 'wrong-supply', runs: ['r0'] },
    ]);
  });

  test('the lowest LED is told by its own volts, whatever the first supply gives', () => {
    const project = withPlanning({
      strips: [twelve],
      lines: [[{ leds: 40, strip: 'twelve' }]],
      moreSupplies: [{ id: 'v12', volts: 12, amps: 10 }],
    });
    const plan = planned(project);
    expect(plan.lowestVolts).toBeGreaterThan(9.5);
    expect(plan.lowestVolts).toBeCloseTo(lowestVolts(done(project, plan)), 6);
  });
});

describe('several supplies', () => {
  test('a line that was split over supplies stays split: none carries more than before, and one that was enough still is', () => {
    let [several, uneven] = [0, 0];
    for (let seed = 0; seed < 60; seed++) {
      const dice = diceOf(seed + 300);
      const line = () =>
        Array.from({ length: dice.whole(2, 6) }, () => ({
          leds: dice.whole(10, 60),
          jumper: { power: dice.pick(['cut', 'cut', 'carried'] as const), wire: 'AWG 20', lengthMm: 50 },
        }));
      const { project } = buildPanel({
        lines: Array.from({ length: dice.whole(1, 2) }, line),
        supply: { volts: 5.1, place: beside },
      });
      // A feed for each zone, so that there is something to split.
      const { zones } = assessPower(project, layOut(project)).panel;
      project.power.feeds = zones.map(({ runs }) => ({ run: runs[0]!.run.id, led: 0, ...wire }));
      const split = splitOverSupplies(project, assessPower(project, layOut(project)).panel, 10);
      if (!('supplies' in split)) continue;
      const { power } = project;
      const parted: Project = {
        ...project,
        power: {
          ...power,
          supply: { ...power.supply, amps: split.sizeAmps },
          moreSupplies: split.moreSupplies.map((one) => ({ ...one, place: beside })),
          feeds: power.feeds.map((feed, index) => {
            const supply = split.feedSupplies[index];
            return supply === undefined ? feed : { ...feed, supply };
          }),
        },
      };
      const plan = planFeeds(parted, layOut(parted));
      if (plan.kind !== 'planned') continue;
      const loads = (one: Project) => supplyLoads(one, assessPower(one, layOut(one)).panel);
      const [before, after] = [loads(parted), loads(done(parted, plan))];
      for (const [index, { worstAmps }] of before.entries())
        expect(after[index]!.worstAmps).toBeCloseTo(worstAmps, 6);
      expect(after.map(({ verdict }) => verdict)).toEqual(before.map(({ verdict }) => verdict));
      expect(faultsOf(done(parted, plan)), `panel ${seed}`).toEqual([]);
      if (before.length > 1) several++;
      if (parted.dataLines.length > 1) uneven++;
    }
    expect(several).toBeGreaterThan(10);
    expect(uneven).toBeGreaterThan(5);
  });
});

describe('panels that were built otherwise than planned', () => {
  /** The reported kind: four runs, one left out, sometimes two swapped or one laid the other way round. */
  function builtOtherwise(seed: number): Project {
    const dice = diceOf(seed + 900);
    const runs = Array.from({ length: dice.whole(3, 6) }, () => ({
      leds: dice.whole(5, 25),
      jumper: { power: dice.pick(['carried', 'cut'] as const), wire: 'AWG 20', lengthMm: 50 },
    }));
    const ids = runs.map((_, index) => `r${index}`);
    const skipped = ids.filter(() => dice.chance(0.3)).map((run) => ({ run, skipped: true }));
    const turned = ids
      .filter((id) => !skipped.some(({ run }) => run === id) && dice.chance(0.3))
      .map((run) => ({ run, laidReversed: true }));
    const asBuilt: AsBuilt = {
      runs: [...skipped, ...turned],
      swaps: dice.chance(0.4) ? [{ first: 'r1', second: 'r2' }] : [],
    };
    const feeds = dice.chance(0.3) ? [{ run: 'r0', led: 0, ...wire }] : [];
    const project = withPlanning(
      { lines: [runs], feeds, supply: { volts: 5.1, place: beside } },
      { jumpersStay: dice.chance(0.2) },
    );
    return { ...project, asBuilt };
  }

  test('a plan that is done leaves nothing unfed, whichever jumpers were left out with a run', () => {
    let [plans, stayCut] = [0, 0];
    for (let seed = 0; seed < 150; seed++) {
      const project = builtOtherwise(seed);
      const layout = layOut(project);
      const plan = planFeeds(project, layout);
      if (plan.kind !== 'planned') continue;
      plans++;
      expect(faultsOf(done(project, plan)), `panel ${seed}`).toEqual([]);
      const jumpers = layout.lines.reduce((sum, line) => sum + line.jumpers.length, 0);
      if (!project.power.planning!.jumpersStay && plan.jumpers.length < jumpers) stayCut++;
    }
    expect(plans).toBeGreaterThan(100);
    expect(stayCut).toBeGreaterThan(20);
  });
});
