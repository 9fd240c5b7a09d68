// Data lines: levels, resistor, lead, and distance to coil wiring; both sides of every limit.
// Expected values: WS2812B data sheet (high from 0.7 of the chip's volts, low up to 0.3, input 15 pF), ATmega328P data sheet (4.2 V at 20 mA and 5 V),
// a maker's data sheet of the 74HCT125 (4.4 V and 4.13 V), by hand from these; limits of length, distance and ohms: common practice, no source.
import { describe, expect, test } from 'vitest';
import { boards, rowById } from '../../src/catalogue/index.ts';
import { layOut, nearestCoilWiring, wayToKeepOutMm } from '../../src/panel/index.ts';
import {
  highLevelVolts,
  linePicofarads,
  lowLevelVolts,
  mostChipVolts,
  pinLevel,
  rcNanoseconds,
} from '../../src/power/data-levels.ts';
import { type DataVolts, dataLineAdvice } from '../../src/power/data-line.ts';
import { dataLineFindings } from '../../src/power/data-line-findings.ts';
import { assessPower, groundNode, panelNetwork, solvePanel, whiteAmps } from '../../src/power/index.ts';
import type { KeepOut, Project } from '../../src/project/index.ts';
import { sample, samples } from '../support/lamploom.ts';
import { buildPanel, hair, type PanelPlan, reel } from './build-project.ts';

interface More {
  readonly board?: Partial<Project['board']>;
  readonly line?: Partial<Project['dataLines'][number]>;
  readonly panel?: Partial<Project['panel']>;
  readonly controller?: Project['power']['controller'];
}
const build = (plan: PanelPlan, { board, line, panel, controller }: More = {}) => {
  const built = buildPanel(plan).project;
  const project: Project = {
    ...built,
    panel: { ...built.panel, ...panel },
    dataLines: built.dataLines.map((one) => ({ ...one, ...line })),
    board: { ...built.board, ...board },
    power: { ...built.power, ...(controller && { controller }) },
  };
  return { project, layout: layOut(project) };
};
const adviceOf = (plan: PanelPlan, more?: More, given?: DataVolts) => {
  const { project, layout } = build(plan, more);
  return dataLineAdvice(project, layout, given)[0]!;
};
const codesOf = (plan: PanelPlan, more?: More, given?: DataVolts) => {
  const { project, layout } = build(plan, more);
  return dataLineFindings(project, layout, given).map(
    ({ severity, code, at }) => `${severity} ${code} ${at}`,
  );
};
const fed = { run: 'r0', led: 0, ...hair };
const oneRun = (volts = 5): PanelPlan => ({ lines: [[{ leds: 2 }]], feeds: [fed], supply: { volts } });

describe('levels', () => {
  test.each([
    [4.5, 3.15],
    [4.7, 3.29],
    [5.0, 3.5],
    [5.1, 3.57],
    [5.25, 3.675],
    [5.3, 3.71],
  ])('a chip at %d V takes %d V for high', (volts, needed) => {
    expect(highLevelVolts(volts)).toBeCloseTo(needed, 12);
  });

  test('low is up to 0.3 of it; 3.3 V are high up to 4.714 V', () => {
    expect(lowLevelVolts(5)).toBeCloseTo(1.5, 12);
    expect(mostChipVolts(3.3).toFixed(3)).toBe('4.714');
  });

  test("a pin gives nearly its chip's volts into an input, and 4.2 of 5 V at the data sheet's load", () => {
    const board = rowById(boards, 'atmega328p')!;
    expect(pinLevel(board, 5)).toEqual({ volts: 5, loadedVolts: 4.2 });
    // 3.3 less the same share: 3.3 x 0.84.
    expect(pinLevel(board, 3.3).loadedVolts).toBeCloseTo(2.772, 12);
  });
});

describe('resistor and wire', () => {
  test('470 ohm with an input of 15 pF make 7.05 ns, 330 ohm with 200 pF 66 ns', () => {
    expect(rcNanoseconds(470, linePicofarads(0))).toBeCloseTo(7.05, 12);
    expect(rcNanoseconds(330, 200)).toBeCloseTo(66, 12);
    // 15 pF and 1.85 m at 100 pF/m.
    expect(linePicofarads(1850)).toBeCloseTo(200, 12);
  });

  test("the document's resistor counts, else 330 ohm, with the lead as long as it is known", () => {
    const untold = adviceOf(oneRun(), { line: { chain: [{ run: 'r0' }] } }).resistor;
    expect(untold).toMatchObject({ ohms: 330, isGiven: false });
    // 15 pF.
    expect(untold.rcNanoseconds).toBeCloseTo(4.95, 12);
    const plan: PanelPlan = { ...oneRun(), lines: [[{ leds: 2, jumper: { lengthMm: 400 } }]] };
    const { resistor } = adviceOf(plan, { line: { resistorOhms: 470 } });
    expect(resistor).toMatchObject({ ohms: 470, isGiven: true });
    // 15 + 40 pF.
    expect(resistor.rcNanoseconds).toBeCloseTo(25.85, 12);
  });

  test.each([
    [0, true],
    [99, true],
    [100, false],
    [470, false],
    [1000, false],
    [1001, true],
  ])('%d ohm are told: %s', (resistorOhms, isTold) => {
    expect(codesOf(oneRun(), { line: { resistorOhms } })).toEqual(
      isTold ? ['note data-resistor /dataLines/0/resistorOhms'] : [],
    );
  });
});

describe('the first LED', () => {
  const verdicts = (volts: number, more?: More) => {
    const { first } = adviceOf(oneRun(volts), more);
    return [first.verdict, codesOf(oneRun(volts), more)] as const;
  };
  const low = ['low', ['warning data-level-low /dataLines/0']] as const;

  test('a 5 V board passes at every trim of the supply', () => {
    for (const volts of [4.5, 5, 5.3]) expect(verdicts(volts)).toEqual(['fine', []]);
    const { first } = adviceOf(oneRun(5.3));
    expect([first.outputVolts, first.loadedVolts, first.chipVolts]).toEqual([5, 4.2, 5.3]);
    expect(first.neededVolts).toBeCloseTo(3.71, 12);
    expect(first.marginVolts).toBeCloseTo(1.29, 9);
    expect(first.loadedMarginVolts).toBeCloseTo(0.49, 9);
  });

  test('also from USB at 4.6 V, with the strip at 5.2 V', () => {
    const { first } = adviceOf(oneRun(5.2), { controller: { from: 'usb' } });
    expect(first.neededVolts).toBeCloseTo(3.64, 12);
    // 4.6 x 0.84 = 3.864.
    expect(first.loadedMarginVolts).toBeCloseTo(0.224, 9);
    expect(first.verdict).toBe('fine');
  });

  test('a 3.3 V board passes up to 4.714 V, and at the load of the data sheet up to 3.96 V', () => {
    const board = { outputVolts: 3.3 } as const;
    expect(verdicts(5, { board })).toEqual(low);
    expect(verdicts(4.715, { board })).toEqual(low);
    expect(verdicts(4.714, { board })).toEqual(['unloaded', []]);
    expect(verdicts(3.97, { board })).toEqual(['unloaded', []]);
    expect(verdicts(3.96, { board })).toEqual(['fine', []]);
    const { project, layout } = build(oneRun(5), { board });
    expect(dataLineFindings(project, layout)[0]!.message).toBe(
      'Data line 1 begins at 3.30 V, 200 mV too little for its first LED: at 5.00 V it takes only 3.50 V and more for high. Such an output is enough up to 4.71 V.',
    );
  });

  test('is not told where the supply is far too high for the strip, which is worse and told on its own', () => {
    expect(codesOf(oneRun(7.2))).toEqual([]);
    expect(adviceOf(oneRun(7.2)).first.verdict).toBe('low');
    // From 5.3 V on, the chips' own maximum.
    expect(codesOf(oneRun(5.3), { board: { outputVolts: 3.3 } })).toHaveLength(1);
    expect(codesOf(oneRun(5.31), { board: { outputVolts: 3.3 } })).toEqual([]);
  });

  test('a shifter gives 4.4 V whatever the board', () => {
    const more: More = { board: { outputVolts: 3.3 }, line: { hasShifter: true } };
    expect(verdicts(5.3, more)).toEqual(['fine', []]);
    const { first } = adviceOf(oneRun(5.3), more);
    expect([first.outputVolts, first.loadedVolts]).toEqual([4.4, 4.13]);
    expect(first.marginVolts).toBeCloseTo(0.69, 9);
  });

  test('a strip of 12 V wants 3.5 V', () => {
    const plan: PanelPlan = { ...oneRun(12), reel: { supplyVolts: 12, floorVolts: 9.5 } };
    expect(adviceOf(plan).first).toMatchObject({ chipVolts: 5, neededVolts: 3.5, verdict: 'fine' });
    expect(adviceOf(plan, { board: { outputVolts: 3.3 } }).first).toMatchObject({
      verdict: 'low',
      marginVolts: -0.2,
    });
  });

  test('counts at the highest supply that feeds its own zone', () => {
    const plan: PanelPlan = {
      lines: [[{ leds: 2 }, { leds: 2, jumper: { power: 'cut' } }]],
      supply: { volts: 4.9 },
      moreSupplies: [
        { id: 'b', volts: 5.1, amps: 5 },
        { id: 'c', volts: 5.3, amps: 5 },
      ],
      feeds: [fed, { ...fed, led: 1, supply: 'b' }, { ...fed, run: 'r1', supply: 'c' }],
    };
    expect(adviceOf(plan).first.chipVolts).toBe(5.1);
    expect(adviceOf({ ...plan, feeds: [] }).first.chipVolts).toBe(4.9);
    expect(adviceOf(plan).capacitorCount).toBe(3);
  });

  test("in white, its own ground's rise takes from the margin", () => {
    const { project, layout } = build(oneRun(4.7), { board: { outputVolts: 3.3 } });
    const panel = panelNetwork(project, layout);
    const given = (groundVolts: number): DataVolts => {
      const riseVolts = new Float64Array(panel.network.nodeCount);
      riseVolts[groundNode(0)] = groundVolts;
      return { panel, volts: { ledVolts: Float64Array.of(4.5, 4.5), riseVolts } };
    };
    // Dark: 3.3 - 0.7 x 4.7 = 0.01. White: 3.3 - 0.7 x 4.5 - rise = 0.15 - rise.
    expect(dataLineAdvice(project, layout, given(0))[0]!.first.marginVolts).toBeCloseTo(0.01, 9);
    expect(dataLineAdvice(project, layout, given(0.15))[0]!.first).toMatchObject({
      marginVolts: 0,
      verdict: 'unloaded',
    });
    expect(
      dataLineFindings(project, layout, given(0.16)).map(({ code, message }) => [code, message]),
    ).toEqual([
      [
        'data-level-low',
        "Data line 1 begins at 3.30 V, 10 mV too little for its first LED: in white it stands at 4.50 V, its ground 160 mV above the board's, and takes only 3.31 V and more for high.",
      ],
    ]);
  });
});

describe('from run to run', () => {
  const plan: PanelPlan = {
    lines: [[{ leds: 2 }, { leds: 2, jumper: { power: 'cut' } }]],
    feeds: [fed, { ...fed, run: 'r1' }],
  };
  /** Volts across the LEDs on both sides of the jumper, and how far the ground before it lies above the one behind it. */
  const given = (before: number, behind: number, liftVolts: number, own = plan): DataVolts => {
    const { project, layout } = build(own);
    const panel = panelNetwork(project, layout);
    const riseVolts = new Float64Array(panel.network.nodeCount);
    riseVolts[groundNode(1)] = 0.1 + liftVolts;
    riseVolts[groundNode(2)] = 0.1;
    return { panel, volts: { ledVolts: Float64Array.of(before, before, behind, behind), riseVolts } };
  };
  const told = ['warning data-level-jumper /dataLines/0/chain/1'];

  test('the sender reaches its own volts, the receiver wants 0.7 of its own', () => {
    // 3.5 - 0.7 x 5 = 0.
    expect(adviceOf(plan, {}, given(3.5, 5, 0)).jumpers[0]).toMatchObject({ place: 1, highMarginVolts: 0 });
    expect(codesOf(plan, {}, given(3.5, 5, 0))).toEqual([]);
    expect(codesOf(plan, {}, given(3.49, 5, 0))).toEqual(told);
  });

  test("the sender's ground lifts both levels", () => {
    const [one] = adviceOf(plan, {}, given(4.6, 5, 0.3)).jumpers;
    // 0.3 + 4.6 - 3.5 and 1.5 - 0.3.
    expect(one!.highMarginVolts).toBeCloseTo(1.4, 9);
    expect(one!.lowMarginVolts).toBeCloseTo(1.2, 9);
    expect(codesOf(plan, {}, given(5, 5, 1.5))).toEqual([]);
    expect(codesOf(plan, {}, given(5, 5, 1.51))).toEqual(told);
    expect(codesOf(plan, {}, given(5, 5, -1.5))).toEqual([]);
    expect(codesOf(plan, {}, given(5, 5, -1.51))).toEqual(told);
  });

  test('strips of 12 V send and take 5 V, however little reaches them', () => {
    const twelve: PanelPlan = {
      ...plan,
      reel: { supplyVolts: 12, floorVolts: 9.5 },
      supply: { volts: 12 },
    };
    const [one] = adviceOf(twelve, {}, given(9.5, 12, 0, twelve)).jumpers;
    expect(one!.highMarginVolts).toBeCloseTo(1.5, 9);
  });

  test('from a solved panel: Ohm by hand', () => {
    const { project, layout } = build({
      reel: { currentModel: 'largest', channelMilliamps: 100 },
      lines: [[{ leds: 1 }, { leds: 1, jumper: { wire: '0.75 mm2', lengthMm: 5000 } }]],
      feeds: [{ run: 'r0', led: 0, wire: '0.75 mm2', lengthMm: 10_000 }],
    });
    const panel = panelNetwork(project, layout);
    const [jumper] = dataLineAdvice(project, layout, {
      panel,
      volts: solvePanel(panel, whiteAmps(panel)),
    })[0]!.jumpers;
    // Feed: 10 m x 26 mohm/m, 0.2 A. Jumper: 5 m x 26 mohm/m and a pitch of 0.1/60 ohm, 0.1 A.
    const [feedVolts, jumperVolts] = [0.2 * 0.26, 0.1 * (0.13 + reel.railOhmPerMetre / 60)];
    const [before, behind] = [5 - 2 * feedVolts, 5 - 2 * feedVolts - 2 * jumperVolts];
    expect(jumper!.highMarginVolts).toBeCloseTo(before - jumperVolts - 0.7 * behind, 8);
    expect(jumper!.lowMarginVolts).toBeCloseTo(0.3 * behind + jumperVolts, 8);
  });

  test('a run without a feed is left to the finding about its feed; without volts nothing is said', () => {
    const unfed = { ...plan, feeds: [fed] };
    const { project, layout } = build(unfed);
    const panel = panelNetwork(project, layout);
    expect(codesOf(unfed, {}, { panel, volts: solvePanel(panel, whiteAmps(panel)) })).toEqual([]);
    expect(adviceOf(plan).jumpers).toEqual([]);
  });
});

/** 20 mm from LED to LED: r0's cut edges at x = 0 and 40 and y = 10, r1's at the same x and y = 20. */
const reel50 = { ledsPerMetre: 50 } as const;

describe('the lead from the board', () => {
  const plan = (lengthMm?: number): PanelPlan => ({
    reel: reel50,
    lines: [[{ leds: 2, jumper: { ...(lengthMm !== undefined && { lengthMm }) } }]],
    feeds: [fed],
  });
  /** Without the hair that build-project gives every jumper. */
  const untyped: More['line'] = { chain: [{ run: 'r0' }] };
  const told = ['note data-lead-long /dataLines/0/chain/0'];

  test('as the document has it: up to 500 mm without a buffer', () => {
    expect(codesOf(plan(500))).toEqual([]);
    expect(codesOf(plan(501))).toEqual(told);
    expect(codesOf(plan(5000), { line: { hasShifter: true } })).toEqual([]);
  });

  test('else from the drawing, where the board has a place; without one nothing is said', () => {
    const at = (yMm: number): More => ({ line: untyped, board: { place: { xMm: 0, yMm } } });
    expect(adviceOf(plan(), at(510)).lead).toEqual({
      lengthMm: 500,
      from: 'drawing',
      at: '/dataLines/0/chain/0',
    });
    expect(codesOf(plan(), at(510))).toEqual([]);
    expect(codesOf(plan(), at(511))).toEqual(told);
    // Through 10 mm of backing twice, and 20 mm of slack.
    expect(adviceOf(plan(), { ...at(510), panel: { backing: { thicknessMm: 10 } } }).lead!.lengthMm).toBe(
      540,
    );
    expect(adviceOf(plan(), { line: untyped }).lead).toBeUndefined();
  });
});

describe('coil wiring', () => {
  const circle = (xMm: number, yMm: number, diameterMm: number): KeepOut => ({
    id: 'coils',
    purpose: 'coil-wiring',
    shape: { kind: 'circle', centre: { xMm, yMm }, diameterMm },
  });
  const rectangle = (xMm: number, yMm: number, widthMm: number, heightMm: number): KeepOut => ({
    id: 'coils',
    purpose: 'coil-wiring',
    shape: { kind: 'rectangle', xMm, yMm, widthMm, heightMm },
  });
  const way = [
    { xMm: 0, yMm: 0 },
    { xMm: 100, yMm: 0 },
    { xMm: 100, yMm: 100 },
  ];

  test.each([
    ['a circle beside the first part', circle(50, -80, 60), 50],
    ['a circle round the corner', circle(130, -40, 20), 40],
    ['a circle across the way', circle(100, 50, 4), 0],
    ['a rectangle beside the last part', rectangle(130, 20, 10, 10), 30],
    ['a rectangle cater-cornered from the end', rectangle(103, 104, 10, 10), 5],
    ['a rectangle that the way crosses', rectangle(90, 40, 20, 5), 0],
    ['a rectangle that the way ends in', rectangle(90, 90, 50, 50), 0],
    ['a rectangle that holds the whole way', rectangle(-10, -10, 300, 300), 0],
  ])('distance to %s', (_, keepOut, distanceMm) => {
    expect(wayToKeepOutMm(way, keepOut)).toBeCloseTo(distanceMm, 9);
  });

  test('other keep-outs are none; of several the nearest counts', () => {
    const far = { ...circle(50, -80, 60), id: 'far' };
    const near = { ...circle(50, -40, 60), id: 'near' };
    expect(nearestCoilWiring(way, [{ ...near, purpose: 'cable' }])).toBeUndefined();
    expect(nearestCoilWiring(way, [far, near, far])).toMatchObject({
      keepOut: { id: 'near' },
      distanceMm: 10,
    });
  });

  const plan: PanelPlan = { reel: reel50, lines: [[{ leds: 2 }, { leds: 2 }]], feeds: [fed] };
  // The jumper runs straight from (40, 10) to (0, 20); below it, (0, 20) is nearest.
  const below = (yMm: number): More => ({ panel: { keepOuts: [rectangle(-30, yMm, 30, 5)] } });

  test('jumpers keep 50 mm away', () => {
    expect(adviceOf(plan, below(70)).coils[0]!.distanceMm).toBe(50);
    expect(codesOf(plan, below(70))).toEqual([]);
    expect(codesOf(plan, below(69.5))).toEqual(['warning data-near-coils /dataLines/0/chain/1']);
  });

  test('so does the lead, where the board has a place', () => {
    const more: More = { panel: { keepOuts: [circle(-100, 10, 100)] } };
    // From (0, 10) left to the board at (-20, 10): 30 mm are left; the jumper is 50 mm away.
    expect(codesOf(plan, more)).toEqual([]);
    expect(codesOf(plan, { ...more, board: { place: { xMm: -20, yMm: 10 } } })).toEqual([
      'warning data-near-coils /dataLines/0/chain/0',
    ]);
  });

  test('behind a backing, the way round coil wiring counts', () => {
    // In the middle of the jumper's way: round it at 2 mm from its edge.
    const more: More = { panel: { backing: { thicknessMm: 6 }, keepOuts: [rectangle(15, 5, 5, 20)] } };
    const { project, layout } = build(plan, more);
    const [one] = dataLineAdvice(project, layout)[0]!.coils;
    expect(one!.distanceMm).toBeCloseTo(2, 9);
    expect(dataLineFindings(project, layout)[0]!.message).toBe(
      `The data wire from run "r0" to "r1" comes within 2 mm of the coil wiring "coils"; 50 mm are wanted, since the coils' pulses couple into data.`,
    );
  });
});

describe('samples', () => {
  test.each(samples)('%s, which says nothing of all that, has no such finding', (name) => {
    const project = sample(name);
    const layout = layOut(project);
    const { panel, inUse, worst } = assessPower(project, layout);
    for (const { ledAmps } of [inUse, worst])
      expect(dataLineFindings(project, layout, { panel, volts: solvePanel(panel, ledAmps) })).toEqual([]);
  });
});
