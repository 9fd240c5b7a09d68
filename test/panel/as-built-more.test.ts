// What was built otherwise, case by case: jumpers past skipped runs, orders and reels, current, light, edits that must leave LEDs where they are.
// Worked out by hand; 60 per m strip has a pitch of 16.667 mm, 30 per m one of 33.333 mm.
import { describe, expect, test } from 'vitest';
import { arrowsPath, jumperCurve } from '../../src/app/canvas/geometry.ts';
import { wireByteCount } from '../../src/lampshow/index.ts';
import { ledFlux, lightSources } from '../../src/light/index.ts';
import {
  canJoin,
  copyInRows,
  layOut,
  outline,
  panelFindings,
  reverseRun,
  setTrueScale,
  splitRun,
  turnRunAboutMiddle,
} from '../../src/panel/index.ts';
import { frameAmps, panelNetwork, pitchOhms, powerReport } from '../../src/power/index.ts';
import { type Edit, edited, type Project, type Run, startHistory } from '../../src/project/index.ts';
import { wireList } from '../../src/workshop/index.ts';
import { examine, templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const rows = (ledCount: number) => rowsOfStrip(ledCount);
const apply = (project: Project, edit: Edit): Project => edited(startHistory(project), 'step', edit).project;
const built = (project: Project, asBuilt: Partial<NonNullable<Project['asBuilt']>>): Project => ({
  ...project,
  asBuilt: { runs: [], swaps: [], ...asBuilt },
});
const chainOf = (...links: Project['dataLines'][number]['chain']): Project['dataLines'] => [
  { pin: 6, chain: links },
];
const spots = (project: Project, id: string) =>
  layOut(project)
    .runs.find(({ run }) => run.id === id)!
    .leds.map(({ xMm, yMm }) => [Math.round(xMm * 100) / 100, Math.round(yMm * 100) / 100]);

describe('[ASB4] jumpers', () => {
  const four = (...links: Project['dataLines'][number]['chain']): Project => ({
    ...projectOf({ runs: rows(120) }),
    dataLines: chainOf(...links),
  });
  const jumpers = (project: Project) =>
    layOut(project).lines[0]!.jumpers.map(({ from, to, power }) => `${from.run.id} ${to.run.id} ${power}`);

  test('a cut beside a skipped run is carried over once, and not to the next jumper', () => {
    const plan = four(
      { run: 'row-0' },
      { run: 'row-1', jumper: { power: 'cut' } },
      { run: 'row-2' },
      { run: 'row-3' },
    );
    const project = built(plan, { runs: [{ run: 'row-1', skipped: true }] });
    expect(jumpers(project)).toEqual(['row-0 row-2 cut', 'row-2 row-3 carried']);
  });
  test('before the first run that is passed there is no jumper that could be cut', () => {
    const plan = four(
      { run: 'row-0', jumper: { power: 'cut' } },
      { run: 'row-1' },
      { run: 'row-2' },
      { run: 'row-3' },
    );
    const project = built(plan, { runs: [{ run: 'row-0', skipped: true }] });
    expect(jumpers(project)).toEqual(['row-1 row-2 carried', 'row-2 row-3 carried']);
  });
  test('a typed length belongs to the two ends it was measured between', () => {
    const plan = four(
      { run: 'row-0' },
      { run: 'row-1', jumper: { lengthMm: 12 } },
      { run: 'row-2', jumper: { lengthMm: 13 } },
      { run: 'row-3', jumper: { lengthMm: 14 } },
    );
    const lengths = (project: Project) =>
      layOut(project).lines[0]!.jumpers.map(({ lengthMm }) => Math.round(lengthMm));
    expect(lengths(plan)).toEqual([12, 13, 14]);
    // row-0 ends on the right, row-2 begins on the left: 30 pitches across, 50 mm down.
    const past = Math.round(Math.hypot((30 * 1000) / 60, 50));
    expect(lengths(built(plan, { runs: [{ run: 'row-1', skipped: true }] }))).toEqual([past, 14]);
    const swapped = built(plan, { swaps: [{ first: 'row-2', second: 'row-3' }] });
    expect(lengths(swapped)[0]).toBe(12);
    expect(lengths(swapped).slice(1)).not.toContain(13);
    expect(lengths(swapped).slice(1)).not.toContain(14);
  });
  test('the wire list sends the board’s data where it was really soldered', () => {
    const plan = four(
      { run: 'row-0', jumper: { lengthMm: 90 } },
      { run: 'row-1' },
      { run: 'row-2' },
      { run: 'row-3' },
    );
    const project = built(plan, { swaps: [{ first: 'row-0', second: 'row-3' }] });
    expect(wireList(project, layOut(project)).boardLinks.map(({ to, pin }) => [to.run, pin])).toEqual([
      ['row-3', 6],
    ]);
  });
});

describe('[ASB5] nothing left to send', () => {
  const all = (run: Run): number[] => Array.from({ length: run.ledCount }, (_, led) => led);
  test('a line whose LEDs are all bypassed, or whose runs are all skipped, stays dark and breaks nothing', () => {
    const plan: Project = {
      ...projectOf({ runs: rows(90) }),
      dataLines: [
        { pin: 6, chain: [{ run: 'row-0' }, { run: 'row-1' }] },
        { pin: 7, chain: [{ run: 'row-2' }] },
      ],
    };
    const bypassed = {
      ...plan,
      runs: plan.runs.map((run) => (run.id === 'row-2' ? { ...run, bypassedLeds: all(run) } : run)),
    };
    const skipped = built(plan, { runs: [{ run: 'row-2', skipped: true }] });
    for (const project of [bypassed, skipped]) {
      const layout = layOut(project);
      expect(layout.lines.map(({ index, pin }) => [index, pin])).toEqual([[0, 6]]);
      expect(layout.unchained.map(({ run }) => run.id)).toEqual(['row-2']);
      expect(powerReport(project, layout).leds).toHaveLength(90);
      expect(wireByteCount(layout)).toBe(60 * 3);
      expect(() => examine(project, templates)).not.toThrow();
    }
  });
});

describe('[ASB6] reels and orders', () => {
  test('another reel brings its own order; the plan’s order was for the planned one', () => {
    const plan = projectOf({ runs: rows(30).map((run) => ({ ...run, colourOrder: 'BGR' as const })) });
    const stripOf = (project: Project) => layOut(project).runs[0]!.strip.colourOrder;
    expect(stripOf(plan)).toBe('BGR');
    expect(stripOf(built(plan, { runs: [{ run: 'row-0', strip: 'ws2813-60' }] }))).toBe('GRB');
    expect(stripOf(built(plan, { runs: [{ run: 'row-0', colourOrder: 'RGB' }] }))).toBe('RGB');
  });
  test('an order of as many bytes is no fault', () => {
    const project = built(projectOf({ runs: rows(30) }), { runs: [{ run: 'row-0', colourOrder: 'BGR' }] });
    expect(panelFindings(project, layOut(project)).map(({ code }) => code)).toEqual(['other-order']);
  });
  test('places follow the reel at once, also where one and the same run was laid out before', () => {
    const plan = projectOf({ runs: rows(30) });
    const before = spots(plan, 'row-0');
    const other = built(plan, { runs: [{ run: 'row-0', strip: 'ws2812b-30' }] });
    expect(spots(other, 'row-0')[29]![0]).toBeCloseTo(20 + (29 * 1000) / 30, 1);
    expect(spots(plan, 'row-0')).toEqual(before);
    const reel = {
      id: 'reel',
      supplyVolts: 5 as const,
      floorVolts: 4.5,
      boardWidthMm: 10,
      colourOrder: 'GRB' as const,
      channelMilliamps: 12,
      quiescentMilliamps: 1,
      currentModel: 'sum' as const,
      railOhmPerMetre: 0.1,
    };
    const runs = rows(30).map((run) => ({ ...run, strip: 'reel' }));
    const dense = projectOf({ runs, strips: [{ ...reel, ledsPerMetre: 100 }] });
    const sparse = { ...dense, strips: [{ ...reel, ledsPerMetre: 50 }] };
    expect(spots(dense, 'row-0')[10]![0]).toBe(120);
    expect(spots(sparse, 'row-0')[10]![0]).toBe(220);
  });
  test('edits keep the LEDs of a run that was cut from a reel of another pitch', () => {
    const project = built(projectOf({ runs: rows(20) }), { runs: [{ run: 'row-0', strip: 'ws2812b-30' }] });
    expect(spots(apply(project, reverseRun('row-0')), 'row-0').toReversed()).toEqual(spots(project, 'row-0'));
    const halves = apply(project, splitRun('row-0', 8));
    expect([...spots(halves, 'row-0'), ...spots(halves, 'row-0-b')]).toEqual(spots(project, 'row-0'));
    const middle = (one: Project) => {
      const list = spots(one, 'row-0');
      return [(list[0]![0]! + list.at(-1)![0]!) / 2, (list[0]![1]! + list.at(-1)![1]!) / 2];
    };
    const turned = middle(apply(project, turnRunAboutMiddle('row-0', 90)));
    expect(turned[0]).toBeCloseTo(middle(project)[0]!, 1);
    expect(turned[1]).toBeCloseTo(middle(project)[1]!, 1);
    const scaled = middle(apply(project, setTrueScale({ xMm: 0, yMm: 0 }, { xMm: 100, yMm: 0 }, 110)));
    expect(scaled[0]).toBeCloseTo(middle(project)[0]! * 1.1, 1);
  });
  test('turned twice, the plan and what is known of the strip are what they were; once, the wire stays as it is', () => {
    for (const record of [{ laidReversed: true }, { colourOrder: 'BGR' as const }, { skipped: true }]) {
      const project = built(projectOf({ runs: rows(60) }), { runs: [{ run: 'row-1', ...record }] });
      const wire = (one: Project) =>
        layOut(one).wireLeds.map(({ xMm, yMm }) => `${xMm.toFixed(2)} ${yMm.toFixed(2)}`);
      const once = apply(project, reverseRun('row-1'));
      expect(wire(once)).toEqual(wire(project));
      expect(wire(apply(once, reverseRun('row-1')))).toEqual(wire(project));
    }
  });
  test('a run laid the other way round that is split is passed in the same order', () => {
    const project = built(projectOf({ runs: rows(90) }), { runs: [{ run: 'row-1', laidReversed: true }] });
    const wire = (one: Project) =>
      layOut(one).wireLeds.map(({ xMm, yMm }) => `${xMm.toFixed(2)} ${yMm.toFixed(2)}`);
    expect(wire(apply(project, splitRun('row-1', 11)))).toEqual(wire(project));
  });
  test('turned round, a bypassed LED stays at its place', () => {
    const project = projectOf({
      runs: rows(30).map((run) => ({ ...run, bypassedLeds: [0, 3] })),
    });
    expect(apply(project, reverseRun('row-0')).runs[0]!.bypassedLeds).toEqual([26, 29]);
  });
  test('a copy that comes back has its spare LED at the same end of the panel', () => {
    const project = projectOf({ runs: rows(30).map((run) => ({ ...run, spareLeds: [0, 1] })) });
    const copies = apply(project, copyInRows(['row-0'], 2, 0, 25, true)).runs;
    expect(copies.map(({ spareLeds }) => spareLeds)).toEqual([
      [0, 1],
      [28, 29],
      [0, 1],
    ]);
  });
  test('pieces that were built otherwise don’t join', () => {
    const halves = apply(projectOf({ runs: rows(30) }), splitRun('row-0', 10));
    expect(canJoin(halves, 'row-0', 'row-0-b')).toBe(true);
    for (const record of [
      { laidReversed: true },
      { skipped: true },
      { fedAtDout: true },
      { strip: 'ws2813-60' },
      { colourOrder: 'BGR' as const },
    ])
      expect(canJoin(built(halves, { runs: [{ run: 'row-0-b', ...record }] }), 'row-0', 'row-0-b')).toBe(
        false,
      );
  });
});

describe('[ASB7] current and light', () => {
  const three = projectOf({
    runs: rows(90),
    power: {
      supply: { volts: 5, amps: 20 },
      feeds: [{ run: 'row-1', led: 0, wire: 'AWG 18', lengthMm: 300 }],
    },
  });
  test('a frame’s amperes land where its bytes go', () => {
    // row-1 laid the other way round, one LED bypassed: byte 3 x 30 on is for its planned last LED.
    const project: Project = {
      ...built(three, { runs: [{ run: 'row-1', laidReversed: true }] }),
      runs: three.runs.map((run) => (run.id === 'row-1' ? { ...run, bypassedLeds: [28] } : run)),
    };
    const layout = layOut(project);
    const panel = panelNetwork(project, layout);
    const bytes = new Uint8Array(wireByteCount(layout));
    // The second LED of the run as the data passes it: 29 is first, 28 is bypassed, so 27.
    bytes.fill(255, 3 * 31, 3 * 32);
    const amps = frameAmps(panel, bytes);
    const lit = panel.leds.filter((_, led) => amps[led]! > 0.01).map(({ run, led }) => `${run} ${led}`);
    expect(lit).toEqual(['row-1 27']);
    expect(bytes).toHaveLength(3 * 89);
  });
  test('behind a joint at the wrong end nothing is lit and nothing is drawn but by the chips', () => {
    const project = built(three, { runs: [{ run: 'row-1', fedAtDout: true }] });
    const layout = layOut(project);
    const bytes = new Uint8Array(wireByteCount(layout)).fill(255);
    const flux = ledFlux(lightSources(layout), bytes);
    expect([...flux.slice(0, 3 * 30)].every((value) => value === 1)).toBe(true);
    expect([...flux.slice(3 * 30)].every((value) => value === 0)).toBe(true);
    const amps = frameAmps(panelNetwork(project, layout), bytes);
    // 36 mA of three channels and 0.6 mA of the chip; 0.6 mA alone.
    expect(amps[29]).toBeCloseTo(0.0366, 9);
    expect(amps[30]).toBeCloseTo(0.0006, 9);
  });
  test('the feed stays at its LED, and the jumper leaves at the end that was soldered', () => {
    const project = built(three, { runs: [{ run: 'row-1', laidReversed: true }] });
    const panel = panelNetwork(project, layOut(project));
    const at = (run: string, led: number) =>
      panel.leds.findIndex((one) => one.run === run && one.led === led);
    expect(panel.feeds[0]!.atLed).toBe(at('row-1', 0));
    // Data enters at the planned last LED and leaves at LED 0.
    const [into, out] = panel.jumpers.map(({ ground }) => panel.network.links[ground!]!);
    const ledOf = (node: number) => `${panel.leds[node >> 1]!.run} ${panel.leds[node >> 1]!.led}`;
    expect([ledOf(into!.from), ledOf(into!.to)]).toEqual(['row-0 29', 'row-1 29']);
    expect([ledOf(out!.from), ledOf(out!.to)]).toEqual(['row-1 0', 'row-2 0']);
  });
  test('a ring’s rails are as long as its circle', () => {
    const project = projectOf({
      runs: [
        {
          id: 'ring',
          firstLed: { xMm: 130, yMm: 80 },
          arrowDeg: 90,
          ledCount: 12,
          strip: 'ws2812b-60',
          ring: { radiusMm: 30 },
        },
      ],
    });
    const layout = layOut(project);
    const panel = panelNetwork(project, layout);
    const stepMm = (2 * Math.PI * 30) / 12;
    const ohms = panel.segments.map(({ ground }) => panel.network.links[ground!]!.ohms);
    for (const one of ohms) expect(one).toBeCloseTo(pitchOhms(layout.runs[0]!.strip, stepMm), 12);
    const { dinEnd } = layout.runs[0]!;
    expect(dinEnd.xMm).toBeCloseTo(100 + 30 * Math.cos(-Math.PI / 12), 9);
    expect(dinEnd.yMm).toBeCloseTo(80 - 30 * Math.sin(-Math.PI / 12), 9);
  });
});

test('[ASB8] arrows on the strip point the way the data goes as soldered; the board stays where it is', () => {
  const plan = projectOf({ runs: rows(3).map((run) => ({ ...run, ledCount: 2 })) });
  const turned = built(plan, { runs: [{ run: 'row-0', laidReversed: true }] });
  // The tip of the triangle is its second corner.
  const tip = (project: Project): number => {
    const [, x] = /L([-\d.]+) /.exec(arrowsPath(layOut(project).runs[0]!))!;
    return Number(x);
  };
  const middle = 1000 / 60 / 2;
  expect(tip(plan)).toBeGreaterThan(middle);
  expect(tip(turned)).toBeLessThan(middle);
  expect(outline(layOut(turned).runs[0]!)).toEqual(outline(layOut(plan).runs[0]!));
});

test('[ASB9] a jumper leaves a strip away from it and comes in towards it, whichever way it was laid', () => {
  const plan = projectOf({ runs: rows(60) });
  for (const record of [[], [{ run: 'row-0', laidReversed: true }], [{ run: 'row-1', laidReversed: true }]]) {
    const layout = layOut(built(plan, { runs: record }));
    const [jumper] = layout.lines[0]!.jumpers;
    const numbers = jumperCurve(jumper!)
      .path.match(/-?[\d.]+(?:e-?\d+)?/g)!
      .map(Number);
    const [ax, , bx, , cx, , dx] = numbers as [number, number, number, number, number, number, number];
    const middleOf = (leds: readonly { xMm: number }[]) => (leds[0]!.xMm + leds.at(-1)!.xMm) / 2;
    // 12 mm further out than the cut edge, on either strip.
    expect(
      Math.abs(bx - middleOf(jumper!.from.leds)) - Math.abs(ax - middleOf(jumper!.from.leds)),
    ).toBeCloseTo(12, 6);
    expect(Math.abs(cx - middleOf(jumper!.to.leds)) - Math.abs(dx - middleOf(jumper!.to.leds))).toBeCloseTo(
      12,
      6,
    );
  }
});
