// The fuse rule: for every short and every conductor, fuses whose current crosses it sum to at most its rating, or it is told.
// Expected values: by hand from ratings of the catalogue (AWG 18 7 A, AWG 20 5 A, AWG 22 3 A, AWG 24 2 A; rails 3 A up to 10 mm, 5 A above),
// and on random panels two slow references that know only the document (fuse-circuits.ts).
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { fuseRule, fuseRuleFindings, panelNetwork, powerFindings } from '../../src/power/index.ts';
import { buildPanel, type PanelPlan } from './build-project.ts';
import { bySolving, byWalking, circuitOf, crossings } from './fuse-circuits.ts';
import {
  type Checked,
  type Controller,
  check,
  feed,
  nameOf,
  randomPlan,
  type Sizes,
  sumOf,
  thickBoard,
} from './fuse-panels.ts';

describe('by hand', () => {
  test('one feed at the first LED: its fuse crosses all rails, both wires of the feed, and what leads to the board', () => {
    const plan = (fuseAmps: number): PanelPlan => ({
      lines: [[{ leds: 3, jumper: { wire: 'AWG 22' } }]],
      feeds: [feed('r0', 0, fuseAmps, 'AWG 22')],
    });
    // 3 A on rails and AWG 22: nothing is below it. The board's own wire is AWG 20 (5 A) where nothing else is said.
    expect(check(plan(3)).violations).toEqual({});
    const all = ['segment plus r0.0', 'segment plus r0.1', 'segment ground r0.0', 'segment ground r0.1'];
    const wires = ['feed plus 0', 'feed ground 0', 'board-lead ground 0'];
    expect(check(plan(3.01)).violations).toEqual(
      Object.fromEntries([...all, ...wires].map((name) => [name, '3 < 3.01'])),
    );
    expect(check(plan(3)).rule.checks).toHaveLength(8);
    // Three LEDs and one cable.
    expect(check(plan(3)).rule.shortsChecked).toBe(4);
  });

  test('a feed inside a run: each side of it is crossed, and ground beyond it only from there', () => {
    const { violations } = check(
      { lines: [[{ leds: 3, jumper: { wire: 'AWG 10' } }]], feeds: [feed('r0', 1, 4)] },
      thickBoard,
    );
    // Both + rails: a short at either end. Ground likewise: back to the feed at LED 1.
    expect(violations).toEqual({
      'segment plus r0.0': '3 < 4',
      'segment plus r0.1': '3 < 4',
      'segment ground r0.0': '3 < 4',
      'segment ground r0.1': '3 < 4',
    });
  });

  test('feeds at both ends: each + rail carries the one behind it, each ground all', () => {
    const { violations, rule, panel } = check({
      lines: [[{ leds: 3 }]],
      feeds: [feed('r0', 0, 2, 'AWG 22'), feed('r0', 2, 2, 'AWG 22')],
    });
    expect(violations).toEqual({
      'segment ground r0.0': '3 < 4',
      'segment ground r0.1': '3 < 4',
      'feed ground 0': '3 < 4',
      'feed ground 1': '3 < 4',
    });
    const plusRail = rule.checks.find((one) => nameOf(panel, one) === 'segment plus r0.0')!;
    expect([plusRail.fusesAmps, plusRail.fuses.length]).toEqual([2, 1]);
  });

  test('a short inside a cable is fed by the other feeds through its + wire and plug, from the strip', () => {
    const { rule, panel, violations } = check(
      {
        reel: { boardWidthMm: 12 },
        lines: [[{ leds: 3, jumper: { wire: 'AWG 10' } }]],
        feeds: [feed('r0', 0, 4), feed('r0', 1, 4), feed('r0', 2, 1, 'AWG 18', { plug: 'sm-2.5' })],
      },
      thickBoard,
    );
    const third = rule.checks.find((one) => nameOf(panel, one) === 'feed plus 2')!;
    expect(third).toMatchObject({ ratingAmps: 7, fusesAmps: 8, fuses: [0, 1], short: { led: 2, feed: 2 } });
    // 4 + 4 A come back through the 3 A contact; all 9 A through its ground.
    expect(violations).toMatchObject({
      'feed plus 2': '7 < 8',
      'plug plus 2': '3 < 8',
      'feed ground 2': '7 < 9',
      'plug ground 2': '3 < 9',
    });
  });

  test('a cut + jumper ends the sum; grounds on both sides see one zone at a time', () => {
    const plan = (power: 'carried' | 'cut'): PanelPlan => ({
      lines: [[{ leds: 2 }, { leds: 2, jumper: { power, wire: 'AWG 22' } }]],
      feeds: [feed('r0', 0, 3), feed('r1', 0, 3)],
    });
    expect(check(plan('cut')).violations).toEqual({});
    expect(check(plan('carried')).violations).toMatchObject({
      'jumper ground 0.1': '3 < 6',
      'segment ground r0.0': '3 < 6',
      'segment plus r1.0': '3 < 6',
    });
  });

  test("another zone's larger fuses cross the grounds of the same line, and of other lines by way of the board", () => {
    const { violations } = check(
      {
        lines: [
          [{ leds: 2 }, { leds: 2, jumper: { power: 'cut', wire: 'AWG 20' } }],
          [{ leds: 2, jumper: { wire: 'AWG 22' } }, { leds: 2 }],
        ],
        feeds: [feed('r0', 0, 3), feed('r1', 0, 6), feed('r2', 1, 2, 'AWG 18')],
      },
      thickBoard,
    );
    expect(violations).toEqual({
      'segment plus r1.0': '3 < 6',
      'segment ground r0.0': '3 < 6',
      'segment ground r1.0': '3 < 6',
      'jumper ground 0.1': '5 < 6',
      'board-lead ground 1': '3 < 6',
      'segment ground r2.0': '3 < 6',
      // The rails and jumper behind the last ground wire of line 1 are a dead end for it.
    });
  });

  test('a run outside every chain has grounds of its own', () => {
    const { violations } = check(
      {
        lines: [[{ leds: 2, jumper: { wire: 'AWG 22' } }]],
        unchained: [{ leds: 2 }],
        feeds: [feed('r0', 0, 2), feed('r1', 0, 4)],
      },
      { wire: 'AWG 22' },
    );
    expect(violations).toEqual({ 'segment plus r1.0': '3 < 4', 'segment ground r1.0': '3 < 4' });
  });

  test("a second supply's joined ground carries what comes back by way of the first one's", () => {
    const plan = (fuseAmps: number): PanelPlan => ({
      reel: { boardWidthMm: 12 },
      lines: [[{ leds: 2 }]],
      moreSupplies: [{ id: 'b', volts: 5, amps: 20, ground: { wire: 'AWG 24', lengthMm: 300 } }],
      feeds: [feed('r0', 0, fuseAmps, 'AWG 10', { supply: 'b' })],
    });
    // From the strip to the board and the first supply's ground, and from there to b.
    expect(check(plan(2), thickBoard).violations).toEqual({});
    expect(check(plan(2.5), thickBoard).violations).toEqual({ 'supply-ground ground 1': '2 < 2.5' });
  });

  test('from USB, the board has no rated ground wire of its own, but its leads still join the grounds', () => {
    const { violations, rule, panel } = check(
      { lines: [[{ leds: 1, jumper: { wire: 'AWG 24' } }]], feeds: [feed('r0', 0, 3)] },
      { from: 'usb' },
    );
    expect(violations).toEqual({ 'board-lead ground 0': '2 < 3' });
    expect(rule.checks.map((one) => nameOf(panel, one))).not.toContain('board-ground ground 0');
  });

  test('a sum equal to the rating passes, also where the ratings have no exact binary form', () => {
    // AWG 28 carries 0.7 A.
    const plan = (last: number): PanelPlan => ({
      lines: [[{ leds: 1, jumper: { wire: 'AWG 28' } }]],
      feeds: [feed('r0', 0, 0.1), feed('r0', 0, 0.2), feed('r0', 0, last)],
    });
    expect(0.1 + 0.2 + 0.4).toBeGreaterThan(0.7);
    expect(check(plan(0.4)).violations).toEqual({});
    expect(check(plan(0.41)).violations).toEqual({ 'board-lead ground 0': '0.7 < 0.71' });
  });

  test('a fuse that nobody makes is a violation by itself', () => {
    const { violations, rule } = check({ lines: [[{ leds: 1 }]], feeds: [feed('r0', 0, 1)] }, thickBoard, [
      { fuseAmps: undefined },
    ]);
    expect(violations).toEqual({ 'feed plus 0': '30 < Infinity' });
    expect(rule.violations[0]).toMatchObject({ fuses: [0], short: { led: 0, feed: undefined } });
  });

  test('as built: a run laid the other way round is crossed from its other end', () => {
    const { project } = buildPanel({
      lines: [[{ leds: 2 }, { leds: 3 }]],
      feeds: [feed('r1', 2, 4)],
    });
    const built = { ...project, asBuilt: { runs: [{ run: 'r1', laidReversed: true }], swaps: [] } };
    const layout = layOut(built);
    const panel = panelNetwork(built, layout);
    const { checks } = fuseRule(built, layout, panel, [{ fuseAmps: 4 }]);
    const crossed = checks.filter(
      ({ conductor: { kind, polarity }, fusesAmps }) =>
        kind !== 'feed' && polarity === 'plus' && fusesAmps === 4,
    );
    // Its planned last LED is the first on the wire, so the feed sits behind the jumper: two rails, the jumper and the rail before it.
    expect(crossed.map(({ conductor: { kind } }) => kind).sort()).toEqual([
      'jumper',
      'segment',
      'segment',
      'segment',
    ]);
    const grounds = checks.filter(({ conductor: { polarity } }) => polarity === 'ground');
    expect(grounds.every(({ fusesAmps }) => fusesAmps === 4)).toBe(true);
  });

  test('panels without runs, feeds or lines have nothing to tell', () => {
    expect(check({ lines: [] }).rule).toEqual({ checks: [], violations: [], shortsChecked: 0 });
    expect(check({ lines: [[{ leds: 2 }]] }).violations).toEqual({});
  });
});

/** Every conductor's rating and worst sum, as the slow reference has them. */
const expectedSums = (
  { built, sizes }: Checked,
  find: typeof byWalking,
): Record<string, [number, number]> => {
  const circuit = circuitOf(built.project);
  return Object.fromEntries(
    [...crossings(circuit, find)].map(([name, shorts]) => [
      name,
      [circuit.ratings.get(name)!, Math.max(0, ...shorts.map((feeds) => sumOf(sizes, feeds)))],
    ]),
  );
};
const foundSums = ({ panel, rule, sizes }: Checked): Record<string, [number, number]> =>
  Object.fromEntries(
    rule.checks.map((one) => {
      const isUnknown = one.fusesAmps === Number.POSITIVE_INFINITY;
      if (isUnknown) expect(sizes[one.fuses[0]!]!.fuseAmps).toBeUndefined();
      else expect(sumOf(sizes, one.fuses)).toBe(one.fusesAmps);
      return [nameOf(panel, one), [one.ratingAmps, one.fusesAmps]];
    }),
  );
/** Where a fuse is not known, its own + wire says so in place of a sum. */
const withUnknown = (expected: Record<string, [number, number]>, sizes: Sizes) => {
  for (const [one, { fuseAmps }] of sizes.entries())
    if (fuseAmps === undefined) expected[`feed plus ${one}`]![1] = Number.POSITIVE_INFINITY;
  return expected;
};

describe('random panels', () => {
  test('every conductor and its worst sum are those of all shorts tried one by one, all ways walked', () => {
    fc.assert(
      fc.property(randomPlan, ({ plan, controller }) => {
        const checked = check(plan, controller);
        expect(foundSums(checked)).toEqual(withUnknown(expectedSums(checked, byWalking), checked.sizes));
      }),
      { numRuns: 400 },
    );
  });

  test('a unit current from each fuse through each short leaves zero in what the rule says it does not cross', () => {
    fc.assert(
      fc.property(randomPlan, ({ plan, controller }) => {
        const checked = check(plan, controller);
        expect(foundSums(checked)).toEqual(withUnknown(expectedSums(checked, bySolving), checked.sizes));
      }),
      { numRuns: 60 },
    );
  });

  test('the worst short that is told is one, and the fuses named are those that cross in it', () => {
    fc.assert(
      fc.property(randomPlan, ({ plan, controller }) => {
        const checked = check(plan, controller);
        const { built, panel, rule } = checked;
        const circuit = circuitOf(built.project);
        for (const one of rule.checks) {
          if (!one.short || one.fusesAmps === Number.POSITIVE_INFINITY) continue;
          const { run, led } = panel.leds[one.short.led]!;
          const at = one.short.feed === undefined ? `${run}.${led}` : `cable ${one.short.feed}`;
          const only = { ...circuit, shorts: circuit.shorts.filter(({ plus }) => plus === at) };
          expect(crossings(only, byWalking).get(nameOf(panel, one))).toContainEqual(
            [...one.fuses].sort((a, b) => a - b),
          );
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe('what a builder fears', () => {
  test('a fuse is never above its wire', () => {
    let told = 0;
    fc.assert(
      fc.property(randomPlan, ({ plan, controller }) => {
        const checked = check(plan, controller);
        const { built, panel, sizes, rule } = checked;
        const findings = [
          ...powerFindings(built.project, built.layout),
          ...fuseRuleFindings(built.project, panel, sizes, rule),
        ];
        const isTold = (code: string, at: string) =>
          findings.some((one) => one.code === code && one.at === at);
        const circuit = circuitOf(built.project);
        const crossed = crossings(circuit, byWalking);
        for (const [one, { feed }] of panel.feeds.entries()) {
          const { fuseAmps } = sizes[one]!;
          if (fuseAmps === undefined) expect(isTold('fuse-missing', `/power/feeds/${one}`)).toBe(true);
          else if (fuseAmps > circuit.ratings.get(`feed plus ${one}`)!)
            expect(isTold('fuse-above-wire', `/power/feeds/${one}/wire`)).toBe(true);
          else if (feed.plug && fuseAmps > circuit.ratings.get(`plug plus ${one}`)!)
            expect(isTold('fuse-above-plug', `/power/feeds/${one}/plug`)).toBe(true);
        }
        // Whatever any fuse can reach, alone or with others.
        const violated = new Set(rule.violations.map((one) => nameOf(panel, one)));
        for (const [name, shorts] of crossed)
          for (const feeds of shorts) {
            if (sumOf(sizes, feeds) <= circuit.ratings.get(name)!) continue;
            told++;
            expect(violated).toContain(name);
            const own = /^(feed|plug) (plus|ground) (\d+)$/.exec(name);
            if (own && (sizes[Number(own[3])]!.fuseAmps ?? 0) > circuit.ratings.get(name)!) continue;
            expect(findings.some(({ code }) => code === 'fuse-rule')).toBe(true);
          }
      }),
      { numRuns: 300 },
    );
    expect(told).toBeGreaterThan(1000);
  });
});

describe('findings', () => {
  const findingsOf = (plan: PanelPlan, controller: Controller = thickBoard) => {
    const { built, panel, sizes, rule } = check(plan, controller);
    return fuseRuleFindings(built.project, panel, sizes, rule);
  };

  test('are warnings, one for each zone and kind, the worst first, at places that exist', () => {
    const found = findingsOf({
      lines: [[{ leds: 3 }, { leds: 2, jumper: { power: 'cut', wire: 'AWG 10' } }]],
      feeds: [feed('r0', 0, 4), feed('r1', 0, 6)],
    });
    // Zone 0's + rails carry 4 A; all grounds and zone 1's + carry 6 A: worst for zone 1.
    expect(found.map(({ severity, code, at }) => `${severity} ${code} ${at}`)).toEqual([
      'warning fuse-rule /runs/0',
      'warning fuse-rule /runs/0',
    ]);
    expect(found[0]!.message).toContain('the fuse of 6 A');
    expect(found[1]!.message).toBe(
      'In a short at LED 1 of run "r0" only the fuse of 4 A would limit what flows through the + rail of run "r0" between LED 0 and 1, ' +
        'which should carry 3 A at most. The same goes for 1 more of its kind.',
    );
  });

  test('leave to other findings what these tell: a fuse above its own wire or plug, and a fuse that nobody makes', () => {
    const plan = (fuseAmps: number, plug?: 'sm-2.5'): PanelPlan => ({
      lines: [[{ leds: 1, jumper: { wire: 'AWG 10' } }]],
      feeds: [feed('r0', 0, fuseAmps, plug ? 'AWG 18' : 'AWG 20', plug && { plug })],
    });
    expect(findingsOf(plan(5))).toEqual([]);
    expect(findingsOf(plan(6))).toEqual([]);
    expect(findingsOf(plan(4, 'sm-2.5'))).toEqual([]);
  });

  test('point into the document for every kind', () => {
    fc.assert(
      fc.property(randomPlan, ({ plan, controller }) => {
        const { built, panel, sizes, rule } = check(plan, controller);
        for (const { at, message, mend } of fuseRuleFindings(built.project, panel, sizes, rule)) {
          let value: unknown = built.project;
          for (const key of at.slice(1).split('/')) value = (value as Record<string, unknown>)[key];
          expect(value, at).toBeDefined();
          expect(message + mend).not.toMatch(/undefined|NaN|Infinity/);
        }
      }),
      { numRuns: 150 },
    );
  });
});

test('2,000 LEDs in 60 zones take under 50 ms', () => {
  const runs = Array.from({ length: 60 }, (_, i) => ({
    leds: i < 20 ? 34 : 33,
    jumper: { power: i % 15 === 0 ? ('carried' as const) : ('cut' as const), wire: 'AWG 20' },
  }));
  const built = buildPanel({
    lines: [0, 15, 30, 45].map((from) => runs.slice(from, from + 15)),
    feeds: runs.map((_, i) => feed(`r${i}`, 0, 3 + (i % 3))),
  });
  const panel = panelNetwork(built.project, built.layout);
  expect([panel.leds.length, panel.zones.length]).toEqual([2000, 60]);
  const sizes = panel.feeds.map(({ feed }) => ({ fuseAmps: feed.fuseAmps }));
  const times = Array.from({ length: 5 }, () => {
    const start = performance.now();
    fuseRule(built.project, built.layout, panel, sizes);
    return performance.now() - start;
  });
  expect(Math.min(...times)).toBeLessThan(50);
});
