// True scale: what lies on the artwork keeps its place on it, what is real keeps its size, and measures that disagree are told.
// Expected documents are written by hand for a panel that becomes twice as large; other factors by the rule "same share of the panel".
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layOut, measureFindings } from '../../src/panel/index.ts';
import * as edits from '../../src/panel/true-scale.ts';
import { type Edit, edited, type Project, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { projectOf } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';
import { wiredProject } from '../support/wired-project.ts';

const mm = (xMm: number, yMm: number) => ({ xMm, yMm });
const applied = (project: Project, edit: Edit): Project =>
  edited(startHistory(project), 'edit', edit).project;

/** Everything that has a place, with figures that double exactly. */
const plain = projectOf({
  // 60 per m cut to 31 LEDs: half of 30 pitches of 16.667 mm are 250 mm from the first LED to the middle.
  runs: [
    { id: 'row', firstLed: mm(30, 50), arrowDeg: 0, ledCount: 31, strip: 'ws2812b-60' },
    // Upwards: the middle lies 250 mm above the first LED.
    { id: 'up', firstLed: mm(20, 300), arrowDeg: 90, ledCount: 31, strip: 'ws2812b-60' },
    // Counter-clockwise with the arrow to the right: the centre lies above the first LED.
    {
      id: 'ring',
      firstLed: mm(100, 150),
      arrowDeg: 0,
      ledCount: 16,
      strip: 'ws2812b-60',
      ring: { radiusMm: 30 },
    },
  ],
});
const project: Project = {
  ...plain,
  panel: {
    widthMm: 400,
    heightMm: 320,
    opening: { xMm: 10, yMm: 20, widthMm: 380, heightMm: 280 },
    airGapMm: 30,
    sheet: 'opal-pmma',
    glassMm: 4,
    measures: [
      { from: mm(1, 2), to: mm(3, 4), measuredMm: 5 },
      { from: mm(0, 0), to: mm(0, 320), measuredMm: 639 },
    ],
    backing: { thicknessMm: 9 },
    baffles: { thicknessMm: 3, walls: [{ from: mm(0, 90), to: mm(400, 95) }] },
    keepOuts: [
      { id: 'screw', purpose: 'screw', shape: { kind: 'circle', centre: mm(12, 300), diameterMm: 5 } },
      {
        id: 'display',
        purpose: 'display',
        shape: { kind: 'rectangle', xMm: 150, yMm: 20, widthMm: 100, heightMm: 40 },
      },
    ],
    grid: { origin: mm(25, 35), rowMm: 33.3 },
    guides: [
      { axis: 'x', atMm: 111 },
      { axis: 'y', atMm: -7 },
    ],
  },
  channels: [{ id: 'channel', points: [mm(10, 10), mm(200, 10)] }],
  areas: [
    {
      id: 'box',
      members: [{ kind: 'rectangle', xMm: 5, yMm: 6, widthMm: 70, heightMm: 80 }],
      order: { kind: 'around', centre: mm(40, 41), startDeg: 90 },
    },
    {
      id: 'shape',
      members: [
        { kind: 'outline', points: [mm(0, 0), mm(50, 0), mm(0, 60)] },
        { kind: 'stroke', points: [mm(9, 8), mm(7, 6)], radiusMm: 15 },
      ],
      order: { kind: 'path', points: [mm(1, 1), mm(90, 91)] },
    },
    { id: 'out', members: [{ kind: 'all' }], order: { kind: 'outward', centre: mm(200, 160) } },
  ],
  lampshows: [
    {
      id: 'attract',
      lengthMs: 1000,
      rows: [
        {
          id: 'a',
          clips: [
            {
              startMs: 0,
              lengthMs: 1000,
              area: 'out',
              gradient: 'ember',
              blend: 'add',
              effect: { kind: 'rings', centre: mm(200, 160), spacingMm: 120, ringSeconds: 2, width: 1 },
            },
          ],
        },
      ],
    },
  ],
  board: { ...plain.board, place: mm(33, 44) },
};

const twice = {
  '/panel/widthMm': 800,
  '/panel/heightMm': 640,
  '/panel/opening': { xMm: 20, yMm: 40, widthMm: 760, heightMm: 560 },
  '/panel/measures/1/to': mm(0, 640),
  '/panel/keepOuts/0/shape/centre': mm(24, 600),
  // Its centre was at 200, 40 and is at 400, 80; it is as large as before.
  '/panel/keepOuts/1/shape/xMm': 350,
  '/panel/keepOuts/1/shape/yMm': 60,
  // As thick as before.
  '/panel/baffles/walls/0': { from: mm(0, 180), to: mm(800, 190) },
  '/panel/grid/origin': mm(50, 70),
  '/panel/guides/0/atMm': 222,
  '/panel/guides/1/atMm': -14,
  // Middles at 280, 50; 20, 50; and the ring's centre at 100, 120.
  '/runs/0/firstLed': mm(310, 100),
  '/runs/1/firstLed': mm(40, 350),
  '/runs/2/firstLed': mm(200, 270),
  '/areas/0/members/0': { kind: 'rectangle', xMm: 10, yMm: 12, widthMm: 140, heightMm: 160 },
  '/areas/0/order/centre': mm(80, 82),
  '/areas/1/members/0/points': [mm(0, 0), mm(100, 0), mm(0, 120)],
  '/areas/1/members/1/points': [mm(18, 16), mm(14, 12)],
  '/areas/1/members/1/radiusMm': 30,
  '/areas/1/order/points': [mm(2, 2), mm(180, 182)],
  '/areas/2/order/centre': mm(400, 320),
  '/lampshows/0/rows/0/clips/0/effect/centre': mm(400, 320),
  '/board/place': mm(66, 88),
};

const cases: readonly EditCase[] = [
  {
    name: 'setTrueScale',
    fact: 'makes a panel drawn at half its size twice as large, with all that lies on it',
    on: project,
    edit: edits.setTrueScale(mm(10, 20), mm(310, 20), 600),
    leaves: () => ({
      ...twice,
      '/panel/measures/0': { from: mm(20, 40), to: mm(620, 40), measuredMm: 600 },
    }),
  },
  {
    name: 'setTrueScale',
    fact: 'with a measure that is met already only notes it down',
    on: plain,
    edit: edits.setTrueScale(mm(0, 0), mm(300, 40), Math.hypot(300, 40)),
    leaves: () => ({
      '/panel/measures': [{ from: mm(0, 0), to: mm(300, 40), measuredMm: Math.hypot(300, 40) }],
    }),
  },
  {
    name: 'setTrueScale',
    fact: 'leaves everything as it is where the two places are one',
    on: project,
    edit: edits.setTrueScale(mm(10, 20), mm(10, 20), 600),
    leaves: () => ({}),
  },
  {
    name: 'setTrueScale',
    fact: 'leaves everything as it is where the panel would be wider than 3 m',
    on: project,
    edit: edits.setTrueScale(mm(0, 0), mm(40, 0), 301),
    leaves: () => ({}),
  },
  {
    name: 'setPanelWidthKeepingShape',
    fact: 'doubles all with the width',
    on: project,
    edit: edits.setPanelWidthKeepingShape(800),
    leaves: () => ({ ...twice, '/panel/measures/0/from': mm(2, 4), '/panel/measures/0/to': mm(6, 8) }),
  },
  {
    name: 'setPanelWidthKeepingShape',
    fact: "gives the panel the artwork's shape",
    on: plain,
    // 600 mm wide as before, and twice as high as the 115 mm it was.
    edit: edits.setPanelWidthKeepingShape(600, 600 / (2 * plain.panel.heightMm)),
    leaves: (before) => ({
      '/panel/heightMm': 2 * before.panel.heightMm,
      '/runs/0/firstLed': mm(30, 100),
      // The middle was at 50, 250 mm above the first LED.
      '/runs/1/firstLed': mm(20, 350),
      '/runs/2/firstLed': mm(100, 270),
    }),
  },
  {
    name: 'setPanelWidthKeepingShape',
    fact: 'leaves everything as it is where the panel would be wider than 3 m',
    on: project,
    edit: edits.setPanelWidthKeepingShape(3001),
    leaves: () => ({}),
  },
];

describe('true scale', () => {
  testCases(cases, edits);

  test('a panel of exactly 3 m is still made', () => {
    expect(applied(project, edits.setTrueScale(mm(0, 0), mm(40, 0), 300)).panel.widthMm).toBe(3000);
  });

  test('a place carried further than 10 m leaves everything as it is', () => {
    const far: Project = { ...project, board: { ...project.board, place: mm(5001, 0) } };
    expect(applied(far, edits.setPanelWidthKeepingShape(800))).toBe(far);
    const near: Project = { ...project, board: { ...project.board, place: mm(5000, 0) } };
    expect(applied(near, edits.setPanelWidthKeepingShape(800)).board.place).toEqual(mm(10_000, 0));
  });

  test('every run of any project keeps its length, and its middle its share of the panel', () => {
    const middles = (one: Project) =>
      layOut(one).runs.map(({ leds }) => {
        const first = leds[0]!;
        const last = leds.at(-1)!;
        return {
          x: (first.xMm + last.xMm) / 2 / one.panel.widthMm,
          y: (first.yMm + last.yMm) / 2 / one.panel.heightMm,
          lengthMm: Math.hypot(first.xMm - last.xMm, first.yMm - last.yMm),
        };
      });
    let seen = 0;
    fc.assert(
      fc.property(
        wiredProject,
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        fc.double({ min: 0.5, max: 2, noNaN: true }),
        (one, growth, stretch) => {
          const { widthMm, heightMm } = one.panel;
          const width = widthMm * growth;
          const edit = edits.setPanelWidthKeepingShape(width, (widthMm / heightMm) * stretch);
          const after = holdsLaws(one, 'width', edit);
          expect(after.panel.widthMm).toBeCloseTo(width, 5);
          expect(after.panel.heightMm).toBeCloseTo((heightMm * growth) / stretch, 5);
          const before = middles(one);
          for (const [i, middle] of middles(after).entries()) {
            expect(middle.x).toBeCloseTo(before[i]!.x, 6);
            expect(middle.y).toBeCloseTo(before[i]!.y, 6);
            expect(middle.lengthMm).toBeCloseTo(before[i]!.lengthMm, 5);
            seen++;
          }
        },
      ),
      { seed: seedOf(91), numRuns: 40 },
    );
    expect(seen).toBeGreaterThan(100);
  });
});

describe('measures that check the scale', () => {
  const withMeasures = (...measures: NonNullable<Project['panel']['measures']>): Project => ({
    ...plain,
    panel: { ...plain.panel, measures },
  });
  const across = (foundMm: number, measuredMm: number) => ({
    from: mm(0, 0),
    to: mm(foundMm, 0),
    measuredMm,
  });

  test.each([
    // Over 0.5 % and over 0.5 mm.
    [402.1, 400, 1],
    [397.9, 400, 1],
    // 0.5 % of 400 mm is 2 mm.
    [401.9, 400, 0],
    // Half a millimetre is 1 % of 50 mm, and still below what a tape tells.
    [50.49, 50, 0],
    [50.51, 50, 1],
    [400, 400, 0],
  ])('%d mm on the panel where %d mm were measured: %d warnings', (found, measured, count) => {
    const findings = measureFindings(withMeasures(across(400, 400), across(found, measured)));
    expect(findings).toHaveLength(count);
    for (const finding of findings) {
      expect(finding).toMatchObject({ severity: 'warning', code: 'scale-check', at: '/panel/measures/1' });
      expect(finding.message).toContain(`${found.toFixed(1)} mm`);
      expect(finding.message).toContain(`${measured.toFixed(1)} mm`);
    }
  });

  test('the first one is checked too, since a typed size may have left it behind', () => {
    expect(measureFindings(withMeasures(across(300, 400))).map(({ at }) => at)).toEqual([
      '/panel/measures/0',
    ]);
  });

  test('after setting the scale its measure holds', () => {
    const drawn = withMeasures(across(300, 900));
    const scaled = applied(drawn, edits.setTrueScale(mm(13, 7), mm(250.3, 99.1), 377.7));
    expect(measureFindings(scaled)).toEqual([]);
  });

  test('a panel without measures has none that are off', () => {
    expect(measureFindings(plain)).toEqual([]);
  });
});
