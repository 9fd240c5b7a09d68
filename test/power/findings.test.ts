// Every finding, on both sides of its threshold. LEDs of "amp" runs draw 100 mA each, so ten are an ampere.
// Fuse and supply rules: at most 80 % of the rating; design currents of wires; 3 A into strips up to 10 mm, 5 A into wider ones:
// common practice, no source. 5.3 V: absolute maximum of the WS2812B data sheet.
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { assessPower, powerFindings, wireById } from '../../src/power/index.ts';
import { type Finding, findingLine } from '../../src/project/index.ts';
import { buildPanel, hair, type PanelPlan } from './build-project.ts';
import { expectClose } from './expect-volts.ts';

type Feed = NonNullable<PanelPlan['feeds']>[number];

function findingsOf(plan: PanelPlan): Finding[] {
  const { project, layout } = buildPanel(plan);
  return powerFindings(project, layout);
}
const brief = (findings: readonly Finding[]) =>
  findings.map(({ severity, code, at }) => `${severity} ${code} ${at}`);
const briefOf = (plan: PanelPlan, code: string) =>
  brief(findingsOf(plan).filter((found) => found.code === code));
const messageOf = (plan: PanelPlan, code: string) =>
  findingsOf(plan)
    .filter((found) => found.code === code)
    .map(findingLine)
    .join('\n');

/** Rails so thick that only feeds, fuses and the supply matter. */
const amp = {
  currentModel: 'largest',
  channelMilliamps: 100,
  railOhmPerMetre: 0.001,
  boardWidthMm: 12,
} as const;
const feed = (led: number, more: Partial<Feed> = {}): Feed => ({ run: 'r0', led, ...hair, ...more });
const oneRun = (leds: number, feeds: readonly Feed[], more: Partial<PanelPlan> = {}): PanelPlan => ({
  reel: amp,
  lines: [[{ leds }]],
  feeds: [...feeds],
  ...more,
});

test('a sound panel has no findings', () => {
  expect(findingsOf(oneRun(20, [feed(10, { wire: 'AWG 18', lengthMm: 300 })]))).toEqual([]);
});

describe('zone-unfed', () => {
  const lines = (power: 'carried' | 'cut'): PanelPlan['lines'] => [
    [{ leds: 10 }, { leds: 7, jumper: { power } }, { leds: 5 }],
  ];
  test('is an error at the first run of a zone that no feed reaches', () => {
    expect(briefOf({ lines: lines('cut'), feeds: [feed(0)] }, 'zone-unfed')).toEqual([
      'error zone-unfed /runs/1',
    ]);
    expect(messageOf({ lines: lines('cut'), feeds: [feed(0)] }, 'zone-unfed')).toContain(
      'Runs "r1" and "r2" have no feed, so 12 LEDs stay dark.',
    );
  });
  test('is absent where a jumper carries the supply there', () => {
    expect(briefOf({ lines: lines('carried'), feeds: [feed(0)] }, 'zone-unfed')).toEqual([]);
  });
  test('names the run of a zone of one, and counts those after the third', () => {
    expect(messageOf({ lines: [[{ leds: 10 }]] }, 'zone-unfed')).toContain('Run "r0" has no feed');
    const five = Array.from({ length: 5 }, () => ({ leds: 1 }));
    expect(messageOf({ lines: [five] }, 'zone-unfed')).toContain('Runs "r0", "r1", "r2" and 2 more have');
  });
  test('is absent for a run outside every chain, which has a finding of its own', () => {
    expect(findingsOf({ lines: [], unchained: [{ leds: 3 }] })).toEqual([]);
  });
});

describe('supply-voltage', () => {
  const twelve = { ...amp, supplyVolts: 12, floorVolts: 9.5 } as const;
  test.each([
    [amp, 5.2, 0],
    [amp, 5.3, 0],
    [amp, 5.31, 1],
    [amp, 4.5, 0],
    [amp, 4.49, 1],
    [amp, 12, 1],
    [twelve, 13.2, 0],
    [twelve, 13.21, 1],
    [twelve, 10.8, 0],
    [twelve, 10.79, 1],
    [twelve, 5, 1],
  ] as const)('for %o with %s V: %i errors', (reel, volts, count) => {
    const found = briefOf(oneRun(10, [feed(0)], { reel, supply: { volts } }), 'supply-voltage');
    expect(found).toEqual(Array(count).fill('error supply-voltage /power/supply/volts'));
  });
  test('strips of 5 and 12 V on one supply: the one that does not fit is named', () => {
    const plan = oneRun(1, [feed(0), feed(0, { run: 'r1' })], {
      lines: [[{ leds: 1 }, { leds: 1, strip: 'ws2815-60' }]],
    });
    expect(messageOf(plan, 'supply-voltage')).toContain('strip "ws2815-60" is made for 12 V');
    expect(briefOf(plan, 'supply-voltage')).toHaveLength(1);
  });
});

describe('voltage-too-low and voltage-negative', () => {
  // 36 mA and 0.2/60 ohm a pitch: N LEDs fed at the first lose 60 uV x N (N - 1) (textbook formula; derived). The floor is 4.5 V:
  // 91 LEDs lose 0.4914 V, 92 lose 0.50232 V; 289 lose 4.99392 V, 290 lose 5.0286 V. 92 LEDs draw 3.312 A.
  const strip = (leds: number, more: Partial<PanelPlan> = {}): PanelPlan => ({
    lines: [[{ leds: 5 }], [{ leds }]],
    feeds: [feed(0), feed(0, { run: 'r1' })],
    ...more,
  });
  test('above the floor there is none', () => {
    expect(briefOf(strip(91), 'voltage-too-low')).toEqual([]);
  });
  test('below the floor in full white it is an error where there is no limiter', () => {
    expect(briefOf(strip(92), 'voltage-too-low')).toEqual(['error voltage-too-low /runs/1']);
    const message = messageOf(strip(92), 'voltage-too-low');
    expect(message).toContain('4.49 V are left at LED 91 of run "r1" in full white');
    // 60 uV x (183 k - k^2) is over 0.5 V from k = 85.26 on (solution of the quadratic).
    expect(message).toContain("6 of the zone's 92 LEDs");
  });
  test('it is a warning where the limiter keeps every LED above the floor, and an error where it does not', () => {
    // All 97 LEDs at the limit of 3.0 A draw 30.9 mA each: 0.4315 V. At 3.49 A: 0.502 V x 3.49 / 3.492.
    expect(briefOf(strip(92, { limitAmps: 3 }), 'voltage-too-low')).toEqual([
      'warning voltage-too-low /runs/1',
    ]);
    expect(briefOf(strip(92, { limitAmps: 3.49 }), 'voltage-too-low')).toEqual([
      'error voltage-too-low /runs/1',
    ]);
  });
  test('each zone has its own', () => {
    const plan = strip(92, {
      lines: [[{ leds: 92 }], [{ leds: 10 }], [{ leds: 95 }]],
      feeds: ['r0', 'r1', 'r2'].map((run) => feed(0, { run })),
    });
    expect(briefOf(plan, 'voltage-too-low')).toEqual([
      'error voltage-too-low /runs/0',
      'error voltage-too-low /runs/2',
    ]);
  });
  test("it goes by each strip's own floor", () => {
    const plan: PanelPlan = { ...strip(10), supply: { volts: 4.6 }, reel: { floorVolts: 4.7 } };
    expect(briefOf(plan, 'voltage-too-low')).toEqual([
      'error voltage-too-low /runs/0',
      'error voltage-too-low /runs/1',
    ]);
    expect(briefOf({ ...plan, reel: { floorVolts: 4.5 } }, 'voltage-too-low')).toEqual([]);
  });
  test('below 0 V in full white is told; as a warning where the limiter keeps it from happening', () => {
    expect(briefOf(strip(289), 'voltage-negative')).toEqual([]);
    expect(briefOf(strip(290), 'voltage-negative')).toEqual(['error voltage-negative /runs/1']);
    // Held to 1 A, 295 LEDs draw 3.39 mA each: 0.47 V are lost.
    expect(briefOf(strip(290, { limitAmps: 1 }), 'voltage-negative')).toEqual([
      'warning voltage-negative /runs/1',
    ]);
    expect(messageOf(strip(290), 'voltage-negative')).toContain('LED 289 of run "r1" would get -0.03 V');
  });
});

describe('fuses', () => {
  const fed = (leds: number, more: Partial<Feed> = {}) => oneRun(leds, [feed(0, more)]);
  test.each([
    [16, 2],
    [17, 3],
    [40, 5],
    [41, 7.5],
    [240, 30],
  ])('%i tenths of an ampere get a fuse of %s A', (leds, fuseAmps) => {
    const { project, layout } = buildPanel(fed(leds));
    expect(assessPower(project, layout).feedSizes[0]!.fuseAmps).toBe(fuseAmps);
  });
  test('fuse-missing: above 24 A no blade fuse fits', () => {
    expect(briefOf(fed(240), 'fuse-missing')).toEqual([]);
    expect(briefOf(fed(241), 'fuse-missing')).toEqual(['error fuse-missing /power/feeds/0']);
  });
  test("fuse-too-small: the document's fuse stands, even where the load is above it", () => {
    expect(briefOf(fed(40, { fuseAmps: 4 }), 'fuse-too-small')).toEqual([]);
    expect(briefOf(fed(41, { fuseAmps: 4 }), 'fuse-too-small')).toEqual([
      'error fuse-too-small /power/feeds/0/fuseAmps',
    ]);
  });
  test('fuse-tight: over 80 % of the fuse is a warning', () => {
    expect(briefOf(fed(32, { fuseAmps: 4 }), 'fuse-tight')).toEqual([]);
    expect(briefOf(fed(33, { fuseAmps: 4 }), 'fuse-tight')).toEqual([
      'warning fuse-tight /power/feeds/0/fuseAmps',
    ]);
    expect(briefOf(fed(41, { fuseAmps: 4 }), 'fuse-tight')).toEqual([]);
  });
  test('fuse-above-wire: a fuse larger than the wire may carry, chosen by us or by the builder', () => {
    const thin = { wire: 'AWG 20', lengthMm: 10 };
    expect(briefOf(fed(40, thin), 'fuse-above-wire')).toEqual([]);
    expect(briefOf(fed(41, thin), 'fuse-above-wire')).toEqual(['error fuse-above-wire /power/feeds/0/wire']);
    expect(briefOf(fed(10, { ...thin, fuseAmps: 5 }), 'fuse-above-wire')).toEqual([]);
    expect(briefOf(fed(10, { ...thin, fuseAmps: 5.1 }), 'fuse-above-wire')).toHaveLength(1);
    expect(messageOf(fed(41, thin), 'fuse-above-wire')).toContain('Use AWG 16 or thicker');
  });
  test('loads are those of full white: a limiter makes no fuse smaller', () => {
    const plan = { ...fed(41, { wire: 'AWG 20', lengthMm: 10 }), limitAmps: 1 };
    expect(briefOf(plan, 'fuse-above-wire')).toHaveLength(1);
  });
});

describe('wire-overload', () => {
  // A's ground also serves B, whose + is cut off: two ground nodes joined by one pitch of rail, each with its own wire.
  const plan = (ledsB: number): PanelPlan =>
    oneRun(
      10,
      [feed(9, { wire: 'AWG 24', lengthMm: 10 }), feed(0, { run: 'r1', wire: 'AWG 14', lengthMm: 3000 })],
      {
        lines: [[{ leds: 10 }, { leds: ledsB, jumper: { power: 'cut' } }]],
      },
    );
  /** Kirchhoff, by hand: amperes in A's ground wire where A draws 1 A and B draws `ampsB`. */
  const groundA = (ampsB: number) => {
    const RA = wireById('AWG 24').ohmPerKm * 1e-5;
    const RB = wireById('AWG 14').ohmPerKm * 3e-3;
    const join = 0.001 / 60 + wireById(hair.wire).ohmPerKm * 1e-9;
    return 1 + (ampsB * RB - RA) / (RA + RB + join);
  };
  test('is a warning where a ground wire carries more than its fuse lets the + wire carry', () => {
    expect(groundA(1)).toBeLessThan(2);
    expect(groundA(1.1)).toBeGreaterThan(2);
    expect(briefOf(plan(10), 'wire-overload')).toEqual([]);
    expect(briefOf(plan(11), 'wire-overload')).toEqual(['warning wire-overload /power/feeds/0/wire']);
    const { project, layout } = buildPanel(plan(11));
    expectClose(assessPower(project, layout).feedSizes[0]!.groundAmps, groundA(1.1));
  });
});

describe('jumper-overload', () => {
  const plan = (behind: number, wire = 'AWG 20'): PanelPlan =>
    oneRun(1, [feed(0)], { lines: [[{ leds: 1 }, { leds: behind, jumper: { wire, lengthMm: 10 } }]] });
  test('is a warning above the design current of the jumper', () => {
    expect(briefOf(plan(50), 'jumper-overload')).toEqual([]);
    expect(briefOf(plan(51), 'jumper-overload')).toEqual(['warning jumper-overload /dataLines/0/chain/1']);
    expect(messageOf(plan(51), 'jumper-overload')).toContain('or use AWG 18 or thicker');
    expect(briefOf(plan(51, 'AWG 18'), 'jumper-overload')).toEqual([]);
  });
});

describe('injection-overload', () => {
  const narrow = { ...amp, boardWidthMm: 10 };
  test.each([
    ['10 mm strip, first LED', narrow, 30, [0]],
    ['10 mm strip, last LED', narrow, 30, [29]],
    ['10 mm strip, inside', narrow, 60, [30]],
    ['12 mm strip, first LED', amp, 50, [0]],
    ['12 mm strip, inside', amp, 100, [1]],
    ['wider than 10 mm, first LED', { ...amp, boardWidthMm: 10.5 }, 50, [0]],
    ['two feeds at one LED', narrow, 30, [0, 0]],
  ] as const)('%s: at the limit there is none, one LED more is a warning', (_, reel, leds, at) => {
    const plan = (count: number) =>
      oneRun(
        count,
        at.map((led) => feed(led === leds - 1 ? count - 1 : led)),
        { reel },
      );
    expect(briefOf(plan(leds), 'injection-overload')).toEqual([]);
    expect(briefOf(plan(leds + 1), 'injection-overload')).toEqual([
      'warning injection-overload /power/feeds/0',
    ]);
  });
});

test('injection-overload: an end is an end, whichever way round the run was laid, and whichever way the chain goes on', () => {
  // 31 LEDs of 100 mA into strip of 10 mm, whose end takes 3 A; the run before it has none of them to feed.
  const { project } = buildPanel({
    reel: { ...amp, boardWidthMm: 10 },
    lines: [[{ leds: 1 }, { leds: 31, jumper: { power: 'cut' } }, { leds: 1, jumper: { power: 'cut' } }]],
    feeds: [
      { run: 'r0', led: 0, ...hair },
      { run: 'r1', led: 30, ...hair },
      { run: 'r2', led: 0, ...hair },
    ],
  });
  for (const asBuilt of [undefined, { runs: [{ run: 'r1', laidReversed: true }], swaps: [] }]) {
    const built = asBuilt ? { ...project, asBuilt } : project;
    const found = powerFindings(built, layOut(built)).filter(({ code }) => code === 'injection-overload');
    expect(brief(found)).toEqual(['warning injection-overload /power/feeds/1']);
  }
});

describe('the supply', () => {
  // 432 LEDs of 36 mA draw 15.552 A, and the board 0.05 A (common practice, no source); at 80 % that takes 19.5025 A, and of the usual
  // sizes 18 is too small and 40 the next (derived). With a limit of 8 A it takes 10.0625 A.
  const plan = (amps: number, limitAmps?: number): PanelPlan => ({
    reel: { railOhmPerMetre: 0.001 },
    lines: [[{ leds: 432 }]],
    supply: { amps },
    feeds: [feed(0), feed(215), feed(431)],
    ...(limitAmps === undefined ? {} : { limitAmps }),
  });
  test('supply-small: below full white at 80 %, or the limit at 80 % where that is less', () => {
    expect(briefOf(plan(19.51), 'supply-small')).toEqual([]);
    expect(briefOf(plan(19.5), 'supply-small')).toEqual(['warning supply-small /power/supply/amps']);
    expect(messageOf(plan(18), 'supply-small')).toContain('at least 19.6 A, such as the usual 40 A');
    expect(briefOf(plan(10.07, 8), 'supply-small')).toEqual([]);
    expect(briefOf(plan(10, 8), 'supply-small')).toHaveLength(1);
    expect(briefOf(plan(19.51, 30), 'supply-small')).toEqual([]);
  });
  test('limit-above-supply: the limit may not exceed what the supply gives', () => {
    expect(briefOf(plan(10, 10), 'limit-above-supply')).toEqual([]);
    expect(briefOf(plan(10, 10.1), 'limit-above-supply')).toEqual([
      'error limit-above-supply /power/limitAmps',
    ]);
    // 80 % of 10 A less the board's 50 mA is 7.95 A; told in tenths, rounded down.
    expect(messageOf(plan(10, 10.1), 'limit-above-supply')).toContain('Lower the limit to 7.9 A');
  });
  test('limit-unreachable: the chips alone draw more', () => {
    const dark = (limitAmps: number): PanelPlan => ({
      ...plan(100, limitAmps),
      reel: { quiescentMilliamps: 1 },
      unchained: [{ leds: 50 }],
    });
    expect(briefOf(dark(0.432), 'limit-unreachable')).toEqual([]);
    expect(briefOf(dark(0.431), 'limit-unreachable')).toEqual(['error limit-unreachable /power/limitAmps']);
  });
});

test('every finding says what is wrong and how to mend it in whole sentences', () => {
  const all = [
    findingsOf({
      lines: [[{ leds: 400 }]],
      feeds: [feed(0, { wire: 'AWG 26' })],
      supply: { volts: 5.4, amps: 1 },
    }),
    findingsOf({ lines: [[{ leds: 1 }]], limitAmps: 200 }),
  ].flat();
  expect(new Set(all.map(({ code }) => code)).size).toBeGreaterThanOrEqual(6);
  for (const { message, mend } of all) {
    expect(message).toMatch(/^[A-Z0-9-].*\.$/);
    expect(mend).toMatch(/^[A-Z].*\.$/);
  }
});
