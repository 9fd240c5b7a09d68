// Plans of whole projects against what the power model and its findings say of the project once the plan is done; wires, lengths and reasons.
import { describe, expect, test } from 'vitest';
import { fuseRatings } from '../../src/catalogue/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { assessPower, feedLengthMm, fuseRule, planFeeds, powerFindings } from '../../src/power/index.ts';
import type { Planning, Project } from '../../src/project/index.ts';
import { buildPanel, type PanelPlan } from './build-project.ts';
import { done, planned, reasonsOf } from './plan-documents.ts';
import { diceOf } from './random-paths.ts';

const withPlanning = (plan: PanelPlan, planning: Planning): Project => {
  const { project } = buildPanel(plan);
  return { ...project, power: { ...project.power, planning } };
};

const forbiddenCodes =
  /^(zone-unfed|voltage-too-low|voltage-negative|fuse-.*|wire-overload|plug-.*|jumper-overload|rail-overload|injection-overload)$/;

function randomProject(seed: number): Project {
  const dice = diceOf(seed + 5000);
  const runCount = dice.whole(1, 6);
  const isCut = dice.chance(0.3);
  const run = () => ({
    leds: dice.whole(4, 40),
    jumper: {
      power: isCut ? ('cut' as const) : ('carried' as const),
      lengthMm: dice.between(20, 400),
      wire: dice.pick(['AWG 20', '0.75 mm2', 'AWG 18', 'AWG 22']),
    },
  });
  const lines = [Array.from({ length: runCount }, run)];
  if (dice.chance(0.4)) lines.push([run(), run()]);
  const feeds: Project['power']['feeds'] = [];
  if (dice.chance(0.4))
    feeds.push({ run: 'r0', led: 0, wire: 'AWG 18', lengthMm: 700, isKept: dice.chance(0.7) });
  const project = withPlanning(
    {
      reel: {
        railOhmPerMetre: dice.pick([0.03, 0.1, 0.3, 0.6]),
        boardWidthMm: dice.pick([10, 12]),
        channelMilliamps: dice.pick([5, 12, 16]),
      },
      lines,
      feeds,
      supply: { volts: 5.1, outputMilliohms: dice.pick([0, 0, 3]) },
    },
    {
      places: dice.pick(['ends', 'anywhere']),
      ...(dice.chance(0.5) ? { mostDropVolts: dice.between(0.2, 0.5) } : {}),
      wire: dice.pick(['AWG 18', 'AWG 16', '1 mm2', '0.75 mm2']),
      fuseKind: dice.pick(['blade', 'tube']),
      ...(dice.chance(0.3) ? { plug: dice.pick(['xh-2.5', 'vh-3.96', 'screw-5.08'] as const) } : {}),
      ...(dice.chance(0.3) ? { forbidden: [{ run: 'r0', led: dice.whole(0, 3) }] } : {}),
      jumpersStay: isCut && dice.chance(0.5),
    },
  );
  return project;
}

const projects = Array.from({ length: 60 }, (_, seed) => randomProject(seed));

describe('random projects', () => {
  test('a plan that is done leaves no finding about volts, fuses, wires, plugs, jumpers or entries', () => {
    let [done_, feeds, cuts, proved] = [0, 0, 0, 0];
    for (const [seed, project] of projects.entries()) {
      const plan = planFeeds(project, layOut(project));
      if (plan.kind === 'impossible') {
        expect(plan.reasons.length, `project ${seed}`).toBeGreaterThan(0);
        continue;
      }
      const changed = done(project, plan);
      const layout = layOut(changed);
      const assessment = assessPower(changed, layout);
      expect(fuseRule(changed, layout, assessment.panel, assessment.feedSizes).violations).toEqual([]);
      const told = powerFindings(changed, layout, assessment).filter(({ code }) => forbiddenCodes.test(code));
      expect(told, `project ${seed}`).toEqual([]);
      // Each LED's least volts hold cold and hot, and the lowest is the one that the plan tells.
      const least = changed.power.supply.volts - (changed.power.planning?.mostDropVolts ?? 5);
      const all = [...assessment.worst.ledVolts, ...assessment.hot.worst.ledVolts];
      expect(Math.min(...all), `project ${seed}`).toBeGreaterThanOrEqual(Math.max(4.5, least));
      expect(Math.abs(Math.min(...all) - plan.lowestVolts), `project ${seed}`).toBeLessThan(1e-6);
      done_++;
      feeds += plan.feeds.length;
      cuts += plan.jumpers.filter(({ power }) => power === 'cut').length;
      proved += plan.lines.every(({ isProved }) => isProved) ? 1 : 0;
    }
    // Enough of each that the checks above meant something.
    expect(done_).toBeGreaterThan(40);
    expect(proved).toBeGreaterThan(35);
    expect(feeds).toBeGreaterThan(done_);
    expect(cuts).toBeGreaterThan(10);
  }, 60_000);

  test('kept feeds stay where they are, forbidden places stay empty, and jumpers stay where they should', () => {
    let [kept, stayed] = [0, 0];
    for (const project of projects) {
      const plan = planFeeds(project, layOut(project));
      if (plan.kind === 'impossible') continue;
      for (const feed of project.power.feeds.filter(({ isKept }) => isKept)) {
        expect(plan.feeds).toContainEqual(expect.objectContaining(feed));
        kept++;
      }
      for (const place of project.power.planning?.forbidden ?? [])
        for (const feed of plan.feeds.filter((one) => !one.isKept)) expect(feed).not.toMatchObject(place);
      if (project.power.planning?.jumpersStay) {
        expect(plan.jumpers).toEqual([]);
        stayed++;
      }
      if (project.power.planning?.places === 'ends')
        for (const { run, led, isKept } of plan.feeds) {
          const { ledCount } = project.runs.find(({ id }) => id === run)!;
          expect(isKept || led === 0 || led === ledCount - 1).toBe(true);
        }
    }
    expect(kept).toBeGreaterThan(5);
    expect(stayed).toBeGreaterThan(3);
  }, 60_000);
});

/** Beside the first run's first LED, so that wires are short. */
const near = { supply: { volts: 5, place: { xMm: 10, yMm: 10 } } } as const;

describe('one run of 60 LEDs of 36 mA, 2.16 A in white', () => {
  const sixty: PanelPlan = { ...near, lines: [[{ leds: 60 }]] };

  test('one feed with a fuse of 3 A: 80 % of it are 2.4 A', () => {
    const plan = planned(withPlanning(sixty, {}));
    expect(plan.lines).toMatchObject([{ line: 0, runs: ['r0'], feedCount: 1, least: 1, isProved: true }]);
    expect(plan.feeds).toMatchObject([{ run: 'r0', fuseAmps: 3, fuseKind: 'blade' }]);
  });

  test('a thick wire is made as thin as its fuse allows', () => {
    // 3 A: AWG 22 is the thinnest that carries as much (FACTS of the catalogue); volts have room for it.
    const plan = planned(withPlanning(sixty, { wire: 'AWG 14' }));
    expect(plan.feeds[0]!.wire).toBe('AWG 22');
    expect(planned(withPlanning(sixty, { wire: '2.5 mm2' })).feeds[0]!.wire).toBe('0.5 mm2');
  });

  test('from the end 0.2124 V are lost in the rails (worked case 1); a feed in the middle loses a quarter of that', () => {
    // Rails 0.1 ohm/m each; a drop of 0.2 V in all can't be held from an end, but from inside the run.
    const tight = { mostDropVolts: 0.2, wire: 'AWG 10' };
    const project = withPlanning(sixty, tight);
    const anywhere = planned({
      ...project,
      power: { ...project.power, planning: { ...tight, places: 'anywhere' } },
    });
    expect(anywhere.lines[0]!.feedCount).toBe(1);
    const [feed] = anywhere.feeds;
    expect(feed!.led).toBeGreaterThan(5);
    expect(feed!.led).toBeLessThan(54);
    // With ends alone it takes both: two fuses of 2 A, together more than the rails' 3 A. So there is no plan.
    expect(planFeeds(project, layOut(project)).kind).toBe('impossible');
  });
});

describe('wire lengths', () => {
  const project = withPlanning({ lines: [[{ leds: 10 }]] }, {});

  test('the straight way, a tenth more, 100 mm more, up to the next 10 mm', () => {
    // From (1500, 3000), below the middle of the panel, to LED 0 at (10, 10): 3340.66 mm; 3774.7 with slack.
    expect(feedLengthMm(project, layOut(project), { run: 'r0', led: 0 })).toBe(3780);
  });

  test('from where the supply sits', () => {
    const power = { ...project.power, supply: { ...project.power.supply, place: { xMm: 10, yMm: 110 } } };
    // 100 mm: 110 + 100.
    expect(feedLengthMm({ ...project, power }, layOut(project), { run: 'r0', led: 0 })).toBe(210);
  });

  test('round a keep-out where the panel has a backing', () => {
    const power = { ...project.power, supply: { ...project.power.supply, place: { xMm: 10, yMm: 410 } } };
    const shape = { kind: 'rectangle', xMm: 0, yMm: 100, widthMm: 318, heightMm: 200 } as const;
    const keepOuts = [{ id: 'speaker', purpose: 'speaker' as const, shape }];
    const panel = { ...project.panel, keepOuts };
    const at = { run: 'r0', led: 0 };
    expect(feedLengthMm({ ...project, panel, power }, layOut(project), at)).toBe(540);
    // Wires keep 2 mm away: to the left by (-2, 302) and (-2, 98), hypot(12, 108) + 204 + hypot(12, 88) = 401.48 mm; 541.6 with slack.
    const backed = { ...panel, backing: { thicknessMm: 9 } };
    expect(feedLengthMm({ ...project, panel: backed, power }, layOut(project), at)).toBe(550);
  });
});

describe('why there is no plan', () => {
  test('a run that draws more than fuses for its rails carry', () => {
    // 100 x 36 mA = 3.6 A; rails of 3 A are protected by 3 A, of which 80 % are 2.4 A.
    const [reason, ...others] = reasonsOf(withPlanning({ lines: [[{ leds: 20 }, { leds: 100 }]] }, {}));
    expect(others).toEqual([]);
    expect(reason).toMatchObject({ kind: 'too-much-load', line: 0, runs: ['r1'] });
    expect(reason!.value).toBeCloseTo(3.6, 9);
    expect(reason!.limit).toBeCloseTo(2.4, 9);
    expect(reason!.message).toMatch(/^Run "r1" draws 3.6 A in full white/);
  });

  test('jumpers that stay leave a zone with too much load', () => {
    const plan = { ...near, lines: [[{ leds: 60 }, { leds: 60 }]] };
    expect(reasonsOf(withPlanning(plan, { jumpersStay: true }))).toMatchObject([
      { kind: 'too-much-load', runs: ['r0', 'r1'] },
    ]);
    expect(reasonsOf(withPlanning(plan, {}))).toEqual([]);
  });

  test('volts that no feed can hold', () => {
    const [reason] = reasonsOf(withPlanning({ lines: [[{ leds: 60 }]] }, { mostDropVolts: 0.01 }));
    expect(reason).toMatchObject({ kind: 'too-few-volts', runs: ['r0'], limit: 4.99 });
    expect(reason!.value).toBeLessThan(4.99);
  });

  test('no place that is allowed', () => {
    const forbidden = [0, 59].map((led) => ({ run: 'r0', led }));
    expect(reasonsOf(withPlanning({ ...near, lines: [[{ leds: 60 }]] }, { forbidden }))).toMatchObject([
      { kind: 'no-place' },
    ]);
  });

  test('wire too thin for the smallest fuse that would carry the load', () => {
    expect(reasonsOf(withPlanning({ ...near, lines: [[{ leds: 60 }]] }, { wire: 'AWG 24' }))).toMatchObject([
      { kind: 'thin-feeds', limit: 2 },
    ]);
  });

  test('a kept feed with a fuse above what its rails carry', () => {
    const feeds = [{ run: 'r0', led: 0, wire: 'AWG 18', lengthMm: 500, fuseAmps: 7.5, isKept: true }];
    expect(reasonsOf(withPlanning({ ...near, lines: [[{ leds: 60 }]], feeds }, {}))).toMatchObject([
      { kind: 'kept-feeds' },
    ]);
  });

  test('kept feeds of several supplies on one line', () => {
    const feed = { run: 'r0', wire: 'AWG 18', lengthMm: 500, isKept: true };
    const project = withPlanning(
      {
        lines: [[{ leds: 30 }]],
        feeds: [
          { ...feed, led: 0 },
          { ...feed, led: 29, supply: 'supply-2' },
        ],
        moreSupplies: [{ id: 'supply-2', volts: 5, amps: 10 }],
      },
      {},
    );
    expect(reasonsOf(project)).toMatchObject([{ kind: 'several-supplies', line: 0 }]);
  });
});

test('tube fuses come from their own series', () => {
  const plan = planned(withPlanning({ lines: [[{ leds: 20 }, { leds: 7 }]] }, { fuseKind: 'tube' }));
  // 27 x 36 mA = 0.972 A, of which 1.25 A is the smallest tube whose 80 % are not less.
  expect(plan.feeds).toMatchObject([{ fuseKind: 'tube', fuseAmps: 1.25 }]);
  expect(fuseRatings.tube).toContain(1.25);
});

test('a line on a further supply is planned with that supply: its volts, its place, its name', () => {
  const project = withPlanning(
    {
      lines: [[{ leds: 30 }], [{ leds: 30 }]],
      feeds: [{ run: 'r1', led: 0, wire: 'AWG 18', lengthMm: 500, supply: 'supply-2' }],
      moreSupplies: [{ id: 'supply-2', volts: 5.2, amps: 10, place: { xMm: 10, yMm: 120 } }],
    },
    {},
  );
  const plan = planned(project);
  expect(plan.feeds.map(({ run, supply }) => ({ run, supply }))).toEqual([
    { run: 'r0', supply: undefined },
    { run: 'r1', supply: 'supply-2' },
  ]);
  const changed = done(project, plan);
  const { worst, hot } = assessPower(changed, layOut(changed));
  expect(Math.abs(Math.min(...worst.ledVolts, ...hot.worst.ledVolts) - plan.lowestVolts)).toBeLessThan(1e-6);
});
