// From project to network: zones, what joins what with how much resistance, and that no current is lost on the way.
// Expected resistances: Ohm's law from the lengths and ohm/m given in each test.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  assessPower,
  linkCurrents,
  lowestLed,
  type PanelNetwork,
  panelNetwork,
  solvePanel,
  whiteAmps,
  wireById,
} from '../../src/power/index.ts';
import { buildPanel, hair, type PanelPlan } from './build-project.ts';
import { fedAtFirst } from './closed-forms.ts';
import { expectClose } from './expect-volts.ts';

const networkOf = (plan: PanelPlan): PanelNetwork => {
  const { project, layout } = buildPanel(plan);
  return panelNetwork(project, layout);
};
const assessOf = (plan: PanelPlan) => {
  const { project, layout } = buildPanel(plan);
  return assessPower(project, layout);
};
const feed = (run: string, led: number, wire = 'AWG 18', lengthMm = 500) => ({ run, led, wire, lengthMm });
const ohmsOf = (panel: PanelNetwork, link: number | undefined) =>
  link === undefined ? undefined : panel.network.links[link!]!.ohms;

describe('zones', () => {
  const panel = networkOf({
    lines: [[{ leds: 2 }, { leds: 3 }, { leds: 4, jumper: { power: 'cut' } }], [{ leds: 5 }]],
    unchained: [{ leds: 6 }],
    feeds: [feed('r3', 0), feed('r1', 2), feed('r0', 0), feed('r4', 1)],
  });

  test('end at a cut + jumper, at the end of a line, and around each run outside every chain', () => {
    expect(panel.zones.map(({ runs }) => runs.map((placed) => placed.run.id))).toEqual([
      ['r0', 'r1'],
      ['r2'],
      ['r3'],
      ['r4'],
    ]);
    expect(panel.zones.map(({ firstLed, ledCount }) => [firstLed, ledCount])).toEqual([
      [0, 5],
      [5, 4],
      [9, 5],
      [14, 6],
    ]);
    expect(panel.zones.map(({ chained }) => chained)).toEqual([true, true, true, false]);
  });

  test('list their feeds by place in the document', () => {
    expect(panel.zones.map(({ feeds }) => feeds)).toEqual([[1, 2], [], [0], [3]]);
  });

  test('cover the LEDs in wire order, then the runs outside every chain', () => {
    expect(panel.leds.map(({ run, led }) => `${run}.${led}`).slice(0, 6)).toEqual([
      'r0.0',
      'r0.1',
      'r1.0',
      'r1.1',
      'r1.2',
      'r2.0',
    ]);
    expect(panel.leds).toHaveLength(20);
    expect(panel.wireLedCount).toBe(14);
  });
});

describe('conductors', () => {
  test('a rail has railOhmPerMetre x pitch per pitch, + and ground alike', () => {
    const panel = networkOf({ reel: { railOhmPerMetre: 0.3, ledsPerMetre: 30 }, lines: [[{ leds: 2 }]] });
    expect(panel.segments).toHaveLength(1);
    // 0.3 ohm/m / 30 per m.
    expectClose(ohmsOf(panel, panel.segments[0]!.plus)!, 0.01);
    expectClose(ohmsOf(panel, panel.segments[0]!.ground)!, 0.01);
  });

  test('a jumper has its wire and half a pitch of each strip on every conductor; a cut one has no +', () => {
    const other = { id: 'other', ledsPerMetre: 100, railOhmPerMetre: 0.2 };
    const plan = (power: 'carried' | 'cut'): PanelPlan => ({
      reel: { railOhmPerMetre: 0.3, ledsPerMetre: 30 },
      strips: [{ ...buildPanel({ lines: [] }).project.strips![0]!, ...other }],
      lines: [[{ leds: 2 }, { leds: 2, strip: 'other', jumper: { power, wire: '0.75 mm2', lengthMm: 200 } }]],
    });
    // 0.2 m x 26.0 mohm/m + half of 0.3/30 ohm + half of 0.2/100 ohm.
    const expected = 0.0052 + 0.005 + 0.001;
    const carried = networkOf(plan('carried'));
    expectClose(ohmsOf(carried, carried.jumpers[0]!.plus)!, expected);
    expectClose(ohmsOf(carried, carried.jumpers[0]!.ground)!, expected);
    const cut = networkOf(plan('cut'));
    expect(cut.jumpers[0]!.plus).toBeUndefined();
    expectClose(ohmsOf(cut, cut.jumpers[0]!.ground)!, expected);
    expect(cut.jumpers[0]!.at).toBe('/dataLines/0/chain/1');
  });

  test('a feed has its whole length on + and again on ground', () => {
    const panel = networkOf({ lines: [[{ leds: 1 }]], feeds: [feed('r0', 0, '1.5 mm2', 2000)] });
    // 2 m x 13.3 mohm/m.
    expectClose(ohmsOf(panel, panel.feeds[0]!.plus)!, 0.0266);
    expectClose(ohmsOf(panel, panel.feeds[0]!.ground)!, 0.0266);
  });

  test("the supply's output resistance carries the current of all feeds", () => {
    const plan = (outputMilliohms: number): PanelPlan => ({
      reel: { currentModel: 'largest', channelMilliamps: 100 },
      lines: [[{ leds: 10 }], [{ leds: 20 }]],
      supply: { outputMilliohms },
      feeds: [feed('r0', 0), feed('r1', 0)],
    });
    const voltsOf = (plan: PanelPlan) => {
      const panel = networkOf(plan);
      return solvePanel(panel, whiteAmps(panel)).ledVolts;
    };
    const ideal = voltsOf(plan(0));
    // 3 A x 50 mohm.
    for (const [led, volts] of voltsOf(plan(50)).entries()) expectClose(ideal[led]! - volts, 0.15);
  });

  test('two runs joined by a jumper without length are one strip', () => {
    const panel = networkOf({
      lines: [[{ leds: 23 }, { leds: 17 }]],
      feeds: [{ run: 'r0', led: 0, ...hair }],
    });
    const { ledVolts } = solvePanel(panel, whiteAmps(panel));
    // Textbook formula; derived. The hairs' few nanoohms lose under a microvolt.
    expect(Math.abs(5 - ledVolts[39]! - fedAtFirst(40, 0.036, 0.2 / 60))).toBeLessThan(1e-6);
  });
});

describe('a cut + jumper', () => {
  test('keeps the current of one zone off the + of the next, while grounds share it', () => {
    const { panel, worst } = assessOf({
      reel: { currentModel: 'largest', channelMilliamps: 100 },
      lines: [[{ leds: 10 }, { leds: 20, jumper: { power: 'cut' } }]],
      feeds: [feed('r0', 9, 'AWG 18', 500), feed('r1', 0, 'AWG 18', 1500)],
    });
    const [first, second] = panel.feeds;
    expectClose(worst.linkAmps[first!.plus!]!, 1);
    expectClose(worst.linkAmps[second!.plus!]!, 2);
    // Two ground nodes with 1 A and 2 A put in, joined by the jumper, each with a wire to the supply. Kirchhoff, by hand:
    // the jumper carries j from the second to the first, (1 + j) R1 + j Rj = (2 - j) R2.
    const [R1, R2] = [0.5, 1.5].map((metres) => (wireById('AWG 18').ohmPerKm * metres) / 1000) as [
      number,
      number,
    ];
    const Rj = 0.1 / 60 + wireById('AWG 10').ohmPerKm * 1e-9;
    const j = (2 * R2 - R1) / (R1 + R2 + Rj);
    expectClose(worst.linkAmps[first!.ground!]!, 1 + j);
    expectClose(worst.linkAmps[second!.ground!]!, 2 - j);
    expectClose(worst.linkAmps[panel.jumpers[0]!.ground!]!, -j);
  });

  test('without a feed behind it, the zone has 0 V and draws nothing, and the others are as if alone', () => {
    const lines = (behind: PanelPlan['lines'][number]) => [[{ leds: 10 }, ...behind]];
    const feeds = [feed('r0', 0)];
    const alone = assessOf({ lines: lines([]), feeds });
    const unfed = assessOf({ lines: lines([{ leds: 5, jumper: { power: 'cut' } }]), feeds });
    expect([...unfed.worst.ledVolts.slice(10)]).toEqual([0, 0, 0, 0, 0]);
    for (const [led, volts] of alone.worst.ledVolts.entries()) expectClose(unfed.worst.ledVolts[led]!, volts);
    // 10 LEDs x 36 mA.
    expectClose(unfed.worst.linkAmps[unfed.panel.feeds[0]!.plus!]!, 0.36);
  });
});

test('a project without feeds, or without runs, has a network', () => {
  expect([...assessOf({ lines: [[{ leds: 2 }]] }).worst.ledVolts]).toEqual([0, 0]);
  expect(assessOf({ lines: [] }).panel.leds).toEqual([]);
});

test('the lowest LED is the first of equals, inside the range asked for', () => {
  expect(lowestLed([3, 1, 2, 1])).toEqual({ led: 1, volts: 1 });
  expect(lowestLed([3, 1, 2, 1], 2, 2)).toEqual({ led: 3, volts: 1 });
  expect(lowestLed([])).toBeUndefined();
});

const anyNumber = fc.nat({ max: 10_000 });
const runPlan = fc.record({
  leds: fc.integer({ min: 1, max: 12 }),
  jumper: fc.record({
    power: fc.constantFrom('carried', 'cut'),
    lengthMm: fc.integer({ min: 10, max: 500 }),
    wire: fc.constantFrom('AWG 20', '0.5 mm2', 'AWG 26'),
  }),
});
/** Lines of random runs and jumpers, one run outside them, feeds anywhere; the supply ideal or not. */
const randomPlan: fc.Arbitrary<PanelPlan> = fc
  .record({
    lines: fc.array(fc.array(runPlan, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 3 }),
    unchained: fc.array(runPlan, { maxLength: 1 }),
    feeds: fc.array(
      fc.record({
        run: anyNumber,
        led: anyNumber,
        lengthMm: fc.integer({ min: 50, max: 3000 }),
        wire: fc.constantFrom('AWG 18', '1 mm2'),
      }),
      { maxLength: 6 },
    ),
    outputMilliohms: fc.constantFrom(0, 12),
  })
  .map(({ lines, unchained, feeds, outputMilliohms }) => {
    const runs = [...lines.flat(), ...unchained];
    return {
      lines,
      unchained,
      supply: { outputMilliohms },
      feeds: feeds.map((plan) => ({
        ...plan,
        run: `r${plan.run % runs.length}`,
        led: plan.led % runs[plan.run % runs.length]!.leds,
      })),
    };
  });

/** What flows into each LED's + node less what flows out of it along rails, jumpers and feeds; likewise for ground. */
function netInflow(panel: PanelNetwork, linkAmps: Float64Array) {
  const plus = new Float64Array(panel.leds.length);
  const ground = new Float64Array(panel.leds.length);
  const firstLed = (run: string) => panel.leds.findIndex((led) => led.run === run);
  const along = (rail: Float64Array, link: number | undefined, from: number, to: number) => {
    if (link === undefined) return;
    rail[from]! -= linkAmps[link!]!;
    rail[to]! += linkAmps[link!]!;
  };
  for (const segment of panel.segments)
    for (const [rail, link] of [[plus, segment.plus] as const, [ground, segment.ground] as const])
      along(rail, link, segment.fromLed, segment.fromLed + 1);
  for (const { jumper, ...pair } of panel.jumpers) {
    const from = firstLed(jumper.from.run.id) + jumper.from.run.ledCount - 1;
    along(plus, pair.plus, from, firstLed(jumper.to.run.id));
    along(ground, pair.ground, from, firstLed(jumper.to.run.id));
  }
  for (const conductors of panel.feeds) {
    plus[conductors.atLed]! += linkAmps[conductors.plus!]!;
    ground[conductors.atLed]! -= linkAmps[conductors.ground!]!;
  }
  return { plus, ground };
}

describe('random projects', () => {
  test('at every LED, what comes in on + is what the LED draws, and what it draws goes out on ground', () => {
    fc.assert(
      fc.property(randomPlan, (plan) => {
        const panel = networkOf(plan);
        const ledAmps = whiteAmps(panel);
        const { plus, ground } = netInflow(panel, linkCurrents(panel, solvePanel(panel, ledAmps)));
        for (const [led, { zone }] of panel.leds.entries()) {
          const drawn = panel.zones[zone]!.feeds.length > 0 ? ledAmps[led]! : 0;
          expectClose(plus[led]!, drawn, `+ of LED ${led}`);
          expectClose(ground[led]!, -drawn, `ground of LED ${led}`);
        }
      }),
      { numRuns: 200 },
    );
  });

  test('all feeds together carry what the fed LEDs draw, on + and on ground', () => {
    fc.assert(
      fc.property(randomPlan, (plan) => {
        const panel = networkOf(plan);
        const linkAmps = linkCurrents(panel, solvePanel(panel, whiteAmps(panel)));
        // 36 mA for each LED of a zone with a feed.
        const drawn = panel.zones.reduce(
          (sum, { feeds, ledCount }) => sum + (feeds.length > 0 ? ledCount * 0.036 : 0),
          0,
        );
        const carried = (rail: 'plus' | 'ground') =>
          panel.feeds.reduce((sum, conductors) => sum + linkAmps[conductors[rail]!]!, 0);
        expectClose(carried('plus'), drawn);
        expectClose(carried('ground'), drawn);
      }),
      { numRuns: 200 },
    );
  });
});
