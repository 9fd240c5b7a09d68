// Findings about several supplies, the board's own volts, plugs and heat, each on both sides of its threshold. LEDs draw 100 mA each.
// 4.5 V for the board: ATmega328P data sheet, safe operating area at 16 MHz (from memory). Plug ratings: catalogue/plugs.ts with its sources.
// Copper: R = R20 (1 + 0.00393 (T - 20)) (IEC 60028, from memory).
import { describe, expect, test } from 'vitest';
import { assessPower, powerFindings } from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { buildPanel, hair, type PanelPlan, reel } from './build-project.ts';
import { expectClose } from './expect-volts.ts';

type Feed = NonNullable<PanelPlan['feeds']>[number];
type Power = Project['power'];
const amp = {
  currentModel: 'largest',
  channelMilliamps: 100,
  railOhmPerMetre: 0.001,
  boardWidthMm: 12,
} as const;

/** Two zones of one ampere each: the first on the first supply, the second on `second`. */
const twoZones = (more: Partial<PanelPlan> = {}, secondFeed: Partial<Feed> = {}): PanelPlan => ({
  reel: amp,
  lines: [[{ leds: 10 }, { leds: 10, jumper: { power: 'cut' } }]],
  supply: { amps: 10 },
  moreSupplies: [{ id: 'second', volts: 5, amps: 10 }],
  feeds: [
    { run: 'r0', led: 0, ...hair },
    { run: 'r1', led: 9, ...hair, supply: 'second', ...secondFeed },
  ],
  ...more,
});

function findingsOf(plan: PanelPlan, power: Partial<Power> = {}) {
  const { project, layout } = buildPanel(plan);
  return powerFindings({ ...project, power: { ...project.power, ...power } }, layout);
}
const briefOf = (plan: PanelPlan, power?: Partial<Power>) =>
  findingsOf(plan, power).map(({ severity, code, at }) => `${severity} ${code} ${at}`);

describe('several supplies', () => {
  test('one for each zone, large enough, are no finding', () => {
    expect(briefOf(twoZones())).toEqual([]);
  });

  test('each answers for its own zones: 1 A needs 1.25 A (80 %)', () => {
    const rated = (amps: number) => briefOf(twoZones({ moreSupplies: [{ id: 'second', volts: 5, amps }] }));
    expect(rated(1.25)).toEqual([]);
    expect(rated(1.24)).toEqual(['warning supply-small /power/moreSupplies/0/amps']);
  });

  test('each is held against the volts of its own strips', () => {
    const at = (volts: number) => briefOf(twoZones({ moreSupplies: [{ id: 'second', volts, amps: 10 }] }));
    expect(at(5.3)).toEqual([]);
    expect(at(5.4)).toEqual(['error supply-voltage /power/moreSupplies/0/volts']);
  });

  test('supplies-joined: two on one + are an error, wherever they meet', () => {
    const carried = twoZones({ lines: [[{ leds: 10 }, { leds: 10 }]] });
    expect(briefOf(carried)).toContain('error supplies-joined /power/feeds/0');
    expect(
      briefOf(
        twoZones({
          feeds: [
            twoZones().feeds![0]!,
            { run: 'r0', led: 9, ...hair, supply: 'second' },
            twoZones().feeds![1]!,
          ],
        }),
      ),
    ).toContain('error supplies-joined /power/feeds/0');
  });

  test('limit-above-supply: a limit is too high where it lets one supply alone be asked for more than it gives', () => {
    // Each supply's LEDs draw an ampere: no limit lets them draw more.
    expect(briefOf(twoZones({ limitAmps: 100 }))).toEqual([]);
    const weak = (limitAmps: number) =>
      briefOf(twoZones({ limitAmps, moreSupplies: [{ id: 'second', volts: 5, amps: 0.9 }] })).filter((one) =>
        one.includes('limit-above'),
      );
    expect(weak(0.9)).toEqual([]);
    expect(weak(0.91)).toEqual(['error limit-above-supply /power/limitAmps']);
    // The LEDs alone could ask for less than the supply gives, whatever the limit says.
    expect(
      briefOf(twoZones({ limitAmps: 0.5, moreSupplies: [{ id: 'second', volts: 5, amps: 2 }] })),
    ).toEqual([]);
  });

  test('a piece of strip that nothing joins is held against no supply', () => {
    const loose = {
      ...twoZones(),
      unchained: [{ leds: 3, strip: 'twelve' }],
      strips: [{ ...reel, id: 'twelve', supplyVolts: 12 as const, floorVolts: 9.5 }],
    };
    expect(briefOf(loose).filter((one) => one.includes('supply-voltage'))).toEqual([]);
  });

  test('ground-wire-overload: what returns by the wrong way must fit the wire that joins the grounds', () => {
    // The second zone has no ground wire of its own that matters: 20 m of AWG 30 against the jumper's ground and the first zone's hair.
    const plan = (wire: string): PanelPlan => ({
      ...twoZones(
        {
          moreSupplies: [{ id: 'second', volts: 5, amps: 10, ground: { wire, lengthMm: 1 } }],
          lines: [[{ leds: 10 }, { leds: 10, jumper: { power: 'cut', ...hair } }]],
        },
        { wire: 'AWG 30', lengthMm: 500 },
      ),
    });
    const { project, layout } = buildPanel(plan('AWG 30'));
    const [, bondAmps] = assessPower(project, layout).worst.bondAmps;
    // Nearly all of the second zone's ampere, towards the second supply.
    expect(bondAmps).toBeGreaterThan(0.9);
    expect(bondAmps).toBeLessThan(1);
    expect(briefOf(plan('AWG 30'))).toContain('warning ground-wire-overload /power/moreSupplies/0/ground');
    expect(briefOf(plan('AWG 26')).filter((one) => one.includes('ground-wire'))).toEqual([]);
  });
});

describe('the board', () => {
  // 3 A through 150 mohm leave 4.55 V; its own 50 mA lose another 2 x 0.5 m x 33.31 mohm/m x 0.05 A + 150 mohm x 0.05 A.
  const plan = (outputMilliohms: number): PanelPlan => ({
    reel: { ...amp, floorVolts: 3 },
    lines: [[{ leds: 30 }]],
    supply: { amps: 10, outputMilliohms },
    feeds: [{ run: 'r0', led: 15, ...hair }],
  });
  test('gets what output, strips and its own wire leave', () => {
    const { project, layout } = buildPanel(plan(150));
    expectClose(
      Number(assessPower(project, layout).controller!.volts.toFixed(4)),
      Number((5 - 0.15 * 3.05 - 1 * 0.03331 * 0.05).toFixed(4)),
    );
  });
  test('controller-low: below 4.5 V in full white is a warning', () => {
    expect(briefOf(plan(162))).toEqual([]);
    expect(briefOf(plan(164))).toEqual(['warning controller-low /power/supply/volts']);
  });
  test('a thin long wire counts, USB does not', () => {
    const controller = { milliamps: 500, wire: 'AWG 30', lengthMm: 2000 };
    expect(briefOf(plan(0), { controller })).toContain('warning controller-low /power/supply/volts');
    expect(briefOf(plan(164), { controller: { from: 'usb' } })).toEqual([]);
  });
});

describe("the board's own wire and current", () => {
  // AWG 30 is for 0.4 A (common practice, no source).
  const plan: PanelPlan = {
    reel: amp,
    lines: [[{ leds: 10 }]],
    supply: { amps: 10 },
    feeds: [{ run: 'r0', led: 5, ...hair }],
  };
  test('controller-wire: it carries no more than it may', () => {
    const found = (milliamps: number) =>
      briefOf(plan, { controller: { milliamps, wire: 'AWG 30', lengthMm: 100 } }).filter((one) =>
        one.includes('controller-wire'),
      );
    expect(found(400)).toEqual([]);
    expect(found(401)).toEqual(['warning controller-wire /power/controller']);
  });

  test('it takes its share of the volts that a weak output has for the LEDs', () => {
    // 4 A of LEDs and 1.5 A of board through 150 mohm: 5 - 0.15 x 5.5 = 4.175 V; without the board 4.4 V.
    const weak: PanelPlan = {
      ...plan,
      lines: [[{ leds: 40 }]],
      supply: { amps: 20, outputMilliohms: 150 },
      feeds: [{ run: 'r0', led: 20, ...hair }],
    };
    const { project, layout } = buildPanel(weak);
    const lowest = (controller?: Power['controller']) => {
      const power = { ...project.power, ...(controller ? { controller } : {}) };
      return Math.min(...assessPower({ ...project, power }, layout).worst.ledVolts);
    };
    const rails = 5 - 0.15 * 4 - lowest();
    expectClose(lowest({ milliamps: 1500, wire: 'AWG 10', lengthMm: 100 }), 5 - 0.15 * 5.5 - rails);
    // Where nothing is said of it, the hot case counts the usual 50 mA.
    const { hot, panel } = assessPower(project, layout);
    expect(panel.board).toBeUndefined();
    expect(Math.min(...hot.worst.ledVolts)).toBeLessThan(lowest() - 0.15 * 0.05);
  });
});

describe('rail-overload', () => {
  // Two zones of 2.8 A whose ground wires are thin and long, and one whose ground is a hair: their return current takes the rails to it.
  const plan = (lengthMm: number): PanelPlan => ({
    reel: { ...amp, boardWidthMm: 10 },
    lines: [[{ leds: 28 }, { leds: 28, jumper: { power: 'cut' } }, { leds: 5, jumper: { power: 'cut' } }]],
    supply: { amps: 50 },
    feeds: [
      { run: 'r0', led: 14, wire: 'AWG 22', lengthMm, fuseAmps: 3 },
      { run: 'r1', led: 14, wire: 'AWG 22', lengthMm, fuseAmps: 3 },
      { run: 'r2', led: 4, ...hair, fuseAmps: 3 },
    ],
  });
  test('a ground rail that carries its neighbours current is told at its run', () => {
    const found = briefOf(plan(6000)).filter((one) => one.includes('rail-overload'));
    expect(found).toContain('warning rail-overload /runs/2');
    // Their own short ground wires take nearly all of it.
    expect(briefOf(plan(1)).filter((one) => one.includes('rail-overload'))).toEqual([]);
  });
});

describe('what is broken', () => {
  test('a feed whose ground is cut sends all its current back through the board', () => {
    const { project, layout } = buildPanel({
      reel: amp,
      lines: [[{ leds: 20 }]],
      feeds: [{ run: 'r0', led: 0, ...hair }],
    });
    const cut = [{ at: { kind: 'feed', feed: 0, rail: 'ground' }, what: 'cut' }] as const;
    const { panel, worst } = assessPower(project, layout, cut);
    expect([...panel.isPowered].every((one) => one === 1)).toBe(true);
    // 20 LEDs of 100 mA.
    expectClose(worst.linkAmps[panel.boardWay!.ground!]!, 2);
    expect(assessPower(project, layout).panel.boardWay).toBeUndefined();
    // On USB no way leads from there back to the supply.
    const usb = { ...project, power: { ...project.power, controller: { from: 'usb' as const } } };
    expect([...assessPower(usb, layout, cut).panel.isPowered].some((one) => one === 1)).toBe(false);
  });

  test('does not change which fuses were fitted: they are those of the sound panel', () => {
    // 30 LEDs of 100 mA, fed at both ends: 1.5 A each, 2 A fuses; with one + cut the other carries 3 A on its 2 A.
    const { project, layout } = buildPanel({
      reel: amp,
      lines: [[{ leds: 30 }]],
      feeds: [
        { run: 'r0', led: 0, ...hair },
        { run: 'r0', led: 29, ...hair },
      ],
    });
    const broken = assessPower(project, layout, [
      { at: { kind: 'feed', feed: 1, rail: 'plus' }, what: 'cut' },
    ]);
    expectClose(broken.feedSizes[0]!.loadAmps, 3);
    expect(broken.feedSizes.map(({ fuseAmps }) => fuseAmps)).toEqual([2, 2]);
  });
});

describe('plugs', () => {
  const plan = (leds: number, more: Partial<Feed>): PanelPlan => ({
    reel: amp,
    lines: [[{ leds }]],
    supply: { amps: 50 },
    feeds: [{ run: 'r0', led: leds >> 1, wire: 'AWG 12', lengthMm: 100, ...more }],
  });
  test('fuse-above-plug: a fuse larger than the contacts carry is an error', () => {
    // 2.4 A take a fuse of 3 A, 2.5 A one of 4 A; an SM plug carries 3 A.
    expect(briefOf(plan(24, { plug: 'sm-2.5' }))).toEqual([]);
    expect(briefOf(plan(25, { plug: 'sm-2.5' }))).toEqual(['error fuse-above-plug /power/feeds/0/plug']);
    expect(briefOf(plan(25, { plug: 'vh-3.96' }))).toEqual([]);
  });
  test('a contact in each wire and the fuse take their share of the volts', () => {
    const dropOf = (more: Partial<Feed>) => {
      const { project, layout } = buildPanel(plan(10, { fuseAmps: 2, ...more }));
      return 5 - assessPower(project, layout).worst.ledVolts[5]!;
    };
    // 1 A through twice 20 mohm; 1 A through 93 mV / 2 A.
    expectClose(dropOf({ plug: 'sm-2.5' }) - dropOf({}), 0.04);
    expectClose(dropOf({ fuseKind: 'blade' }) - dropOf({}), 0.0465);
  });
});

describe('voltage-low-when-hot', () => {
  // 1 A over 2 x 5 m of AWG 18 (20.948 mohm/m): 0.20948 V cold; at 50 C 1.1179 times as much, and a blade fuse of 2 A adds 46.5 mV.
  const plan = (floorVolts: number): PanelPlan => ({
    reel: { ...amp, floorVolts },
    lines: [[{ leds: 10 }]],
    supply: { amps: 10 },
    feeds: [{ run: 'r0', led: 5, wire: 'AWG 18', lengthMm: 5000 }],
  });
  const hotVolts = 5 - 0.20948 * 1.1179 - 0.0465;
  test('is a warning where warm copper and the fuse take what was to spare', () => {
    expect(briefOf(plan(hotVolts - 0.001))).toEqual([]);
    expect(briefOf(plan(hotVolts + 0.001))).toEqual(['warning voltage-low-when-hot /runs/0']);
  });
  test('goes by the temperature that the project gives', () => {
    expect(briefOf(plan(hotVolts + 0.001), { hotCelsius: 40 })).toEqual([]);
  });
});
