// Drags of areas and of what lies on the panel, without a browser: what each leaves in the document, one step back each.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { colourMembers, colourReader } from '../../src/app/canvas/colour-area.ts';
import { type Drag, type DragStart, dragLength, dragRuns, dragTurn } from '../../src/app/canvas/drags.ts';
import { drawLasso, drawRectangle, drawStroke, thinned } from '../../src/app/canvas/drags-areas.ts';
import {
  dragGuide,
  dragKeepOut,
  dragMeasureEnd,
  drawGuide,
  drawKeepOut,
  drawMeasure,
  measure,
} from '../../src/app/canvas/drags-panel.ts';
import { beginPress, chooseRun, runsInBox } from '../../src/app/canvas/presses.ts';
import { areaLeds, distanceToPathMm, layOut } from '../../src/panel/index.ts';
import { type Project, writeProject } from '../../src/project/index.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';
import { benchFor, textOf } from './bench.ts';

const carnival = sample('midnight-carnival');
const held = { isFree: false, isStraight: false, toleranceMm: 0 };
const at = (xMm: number, yMm: number) => ({ xMm, yMm });

async function started(project: Project = carnival) {
  const { workbench } = await benchFor(project);
  const start = (xMm: number, yMm: number, gesture = 'drag'): DragStart => ({
    workbench,
    layout: workbench.state.compiled.layout,
    from: at(xMm, yMm),
    gesture,
  });
  return { workbench, start };
}

/** Draws with a drag, then checks that one step back gives the same bytes. */
async function drawn(
  begin: (start: DragStart) => Drag,
  from: readonly [number, number],
  way: readonly (readonly [number, number])[],
  more: Partial<typeof held> = {},
  project: Project = carnival,
) {
  const { workbench, start } = await started(project);
  const drag = begin(start(...from));
  for (const [x, y] of way) drag({ to: at(x, y), ...held, ...more });
  workbench.endGesture();
  const after = workbench.project;
  expect(workbench.state.history.past).toHaveLength(1);
  const { selection } = workbench.state;
  workbench.undo();
  expect(textOf(workbench)).toBe(writeProject(project));
  return { after, selection };
}

test('Shift adds a run to what is chosen, and takes it away again; without Shift it alone is chosen', async () => {
  const { workbench } = await started();
  const [first, second] = carnival.runs.map(({ id }) => id) as [string, string];
  chooseRun(workbench, first, true);
  expect(workbench.state.selection).toEqual({ kind: 'run', id: first });
  chooseRun(workbench, second, true);
  expect(workbench.state.selection).toEqual({ kind: 'runs', ids: [first, second] });
  chooseRun(workbench, first, true);
  expect(workbench.state.selection).toEqual({ kind: 'run', id: second });
  chooseRun(workbench, second, true);
  expect(workbench.state.selection).toEqual({ kind: 'none' });
  chooseRun(workbench, first, false);
  chooseRun(workbench, second, false);
  expect(workbench.state.selection).toEqual({ kind: 'run', id: second });
});

test('runs are moved by hand where strip is laid, and nowhere else', async () => {
  const { workbench, start } = await started();
  const [run] = carnival.runs;
  const target = { closest: (selector: string) => (selector === '[data-run]' ? element : null) } as Element;
  const element = { getAttribute: () => run!.id };
  const press = () =>
    beginPress({
      ...start(run!.firstLed.xMm, run!.firstLed.yMm),
      target,
      isShift: false,
      isFree: false,
      toleranceMm: 1,
      cutBefore: undefined,
      colourAt: () => undefined,
      lightness: () => undefined,
    });
  for (const stage of ['panel', 'runs'] as const) {
    workbench.enter(stage);
    expect(typeof press(), stage).toBe('function');
  }
  for (const stage of ['power', 'workshop', 'board'] as const) {
    workbench.enter(stage);
    workbench.select({ kind: 'none' });
    expect(press(), stage).toBeUndefined();
    expect(workbench.state.selection).toEqual({ kind: 'run', id: run!.id });
  }
  workbench.enter('lampshows');
  expect(press()).toBe('pan');
});

describe('areas', () => {
  test('a closed line holds the LEDs inside it', async () => {
    const { after, selection } = await drawn(
      drawLasso,
      [50, 75],
      [
        [235, 75],
        [235, 277],
        [50, 277],
      ],
    );
    const area = after.areas.at(-1)!;
    expect(selection).toEqual({ kind: 'area', id: area.id });
    const layout = layOut(after);
    const inside = layout.wireLeds.filter(({ xMm, yMm }) => xMm > 50 && xMm < 235 && yMm > 75 && yMm < 277);
    expect(areaLeds(layout, area)).toHaveLength(inside.length);
    expect(inside.length).toBeGreaterThan(50);
  });
  test('a stroke holds the LEDs within its radius', async () => {
    const { after } = await drawn(
      drawStroke,
      [100, 150],
      [
        [120, 150],
        [160, 170],
      ],
    );
    const area = after.areas.at(-1)!;
    const members = area.members[0]!;
    if (members.kind !== 'stroke') throw new Error('not a stroke');
    const layout = layOut(after);
    const near = layout.wireLeds.filter(
      (led) => distanceToPathMm([at(100, 150), at(120, 150), at(160, 170)], led) <= members.radiusMm,
    );
    expect(areaLeds(layout, area)).toHaveLength(near.length);
  });
  test('with an area chosen, what is drawn is added to it', async () => {
    const { workbench, start } = await started();
    workbench.select({ kind: 'area', id: 'moon' });
    const before = carnival.areas.find(({ id }) => id === 'moon')!;
    drawRectangle(start(10, 20))({ to: at(40, 60), ...held });
    const now = workbench.project.areas.find(({ id }) => id === 'moon')!;
    expect(now.members).toEqual([
      ...before.members,
      { kind: 'rectangle', xMm: 10, yMm: 20, widthMm: 30, heightMm: 40 },
    ]);
    expect(workbench.project.areas).toHaveLength(carnival.areas.length);
  });
  test('a thinned line keeps its ends and strays by no more than the tolerance', () => {
    const point = fc.record({ xMm: fc.integer({ min: 0, max: 300 }), yMm: fc.integer({ min: 0, max: 300 }) });
    fc.assert(
      fc.property(fc.array(point, { minLength: 2, maxLength: 60 }), (points) => {
        const line = thinned(points, 5);
        expect([line[0], line.at(-1)]).toEqual([points[0], points.at(-1)]);
        for (const one of points) expect(distanceToPathMm(line, one)).toBeLessThanOrEqual(5 + 1e-9);
        for (const one of line) expect(points).toContainEqual(one);
      }),
      { seed: seedOf(44) },
    );
  });
  test('by colour: the LEDs under red print, as parts of runs, and nothing under a colour that lies elsewhere', () => {
    const project = projectOf({ runs: rowsOfStrip(60) });
    // Red from x = 100 mm to 200 mm, blue elsewhere; green where there is no strip.
    const [width, height] = [600, 200];
    const data = new Uint8ClampedArray(4 * width * height);
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++)
        data.set(
          y >= 100 ? [0, 200, 0, 255] : x >= 100 && x < 200 ? [220, 20, 20, 255] : [20, 20, 220, 255],
          4 * (y * width + x),
        );
    const colourAt = colourReader({ data, width, height }, { widthMm: 600, heightMm: 200 });
    // row-0 begins at 20 mm: LEDs 5 (103.3) to 10 (186.7); row-1 comes back from 503.3: LEDs 19 (186.7) to 24 (103.3).
    expect(colourMembers(layOut(project), colourAt, at(150, 20))).toEqual([
      { kind: 'leds', run: 'row-0', from: 5, to: 10 },
      { kind: 'leds', run: 'row-1', from: 19, to: 24 },
    ]);
    expect(colourMembers(layOut(project), colourAt, at(150, 150))).toEqual([]);
  });
});

test('colours over more stretches than an area holds are told, and nothing is edited', async () => {
  // 900 LEDs, every second one under another print: 450 pieces, and an area holds 255 parts.
  const project = projectOf({ runs: rowsOfStrip(900) });
  const { workbench, start } = await started(project);
  workbench.set({ tool: 'pick-colour' });
  const layout = workbench.state.compiled.layout;
  const parity = new Map(layout.wireLeds.map((led) => [`${led.xMm} ${led.yMm}`, led.led % 2]));
  const colourAt = ({ xMm, yMm }: { xMm: number; yMm: number }) =>
    (parity.get(`${xMm} ${yMm}`) === 1 ? [20, 20, 220] : [220, 20, 20]) as unknown as readonly [
      number,
      number,
      number,
    ];
  const target = { closest: () => null } as unknown as Element;
  const more = { target, isShift: false, isFree: false, toleranceMm: 1, cutBefore: undefined };
  beginPress({ ...start(20, 20), ...more, colourAt: () => colourAt, lightness: () => undefined });
  expect(workbench.state.message?.title).toBe('Too many single pieces for one area');
  expect(workbench.project).toBe(project);
});

test('a feed before a ring’s first LED is nearest to that LED, and not to the last', async () => {
  const project = projectOf({
    runs: [
      {
        id: 'ring',
        firstLed: at(130, 80),
        arrowDeg: 90,
        ledCount: 12,
        strip: 'ws2812b-60',
        ring: { radiusMm: 30 },
      },
    ],
  });
  const { workbench, start } = await started(project);
  workbench.set({ tool: 'add-feed' });
  const target = {
    closest: (selector: string) => (selector === '[data-run]' ? { getAttribute: () => 'ring' } : null),
  } as unknown as Element;
  const none = () => undefined;
  const more = {
    target,
    isShift: false,
    isFree: false,
    toleranceMm: 1,
    cutBefore: undefined,
    colourAt: none,
    lightness: none,
  };
  // A fifth of a step before the first LED, counter-clockwise.
  const turn = (-0.2 / 12) * 2 * Math.PI;
  beginPress({ ...start(100 + 30 * Math.cos(turn), 80 - 30 * Math.sin(turn)), ...more });
  expect(workbench.project.power.feeds.map(({ led }) => led)).toEqual([0]);
});

describe('what lies on the panel', () => {
  test('a keep-out: a circle from its middle, a rectangle with Shift', async () => {
    const circle = await drawn(drawKeepOut, [300, 200], [[310, 200]]);
    expect(circle.after.panel.keepOuts!.at(-1)!.shape).toEqual({
      kind: 'circle',
      centre: at(300, 200),
      diameterMm: 20,
    });
    const box = await drawn(drawKeepOut, [300, 200], [[260, 230]], { isStraight: true });
    expect(box.after.panel.keepOuts!.at(-1)!.shape).toEqual({
      kind: 'rectangle',
      xMm: 260,
      yMm: 200,
      widthMm: 40,
      heightMm: 30,
    });
  });
  test('a keep-out goes with the pointer', async () => {
    const speaker = carnival.panel.keepOuts!.find(({ id }) => id === 'speaker')!;
    const { after } = await drawn((start) => dragKeepOut(start, speaker), [262, 112], [[272, 118]]);
    expect(after.panel.keepOuts!.find(({ id }) => id === 'speaker')!.shape).toEqual({
      ...speaker.shape,
      centre: at(272, 118),
    });
  });
  test('what was marked at another scale is forgotten', async () => {
    const { workbench } = await started();
    workbench.set({ spots: [at(10, 10)], measured: { from: at(0, 0), to: at(5, 5) } });
    workbench.edit('Move', (project) => {
      project.panel.airGapMm = 20;
    });
    expect(workbench.state.spots).toHaveLength(1);
    workbench.edit('Grow', (project) => {
      project.panel.widthMm = 700;
    });
    expect(workbench.state.spots).toEqual([]);
    expect(workbench.state.measured).toBeUndefined();
  });
  test('a guide is pulled out, moved, and goes when it is pulled off the panel', async () => {
    const { workbench, start } = await started();
    drawGuide(start(0, 0, 'a'), 'x')({ to: at(123.4, 50), ...held });
    expect(workbench.project.panel.guides).toEqual([{ axis: 'x', atMm: 123.5 }]);
    workbench.endGesture();
    dragGuide(start(123.5, 0, 'b'), 0)({ to: at(200, 50), ...held });
    expect(workbench.project.panel.guides).toEqual([{ axis: 'x', atMm: 200 }]);
    workbench.endGesture();
    dragGuide(start(200, 0, 'c'), 0)({ to: at(601, 50), ...held });
    expect(workbench.project.panel.guides).toBeUndefined();
    workbench.endGesture();
    workbench.undo();
    dragGuide(start(200, 0, 'd'), 0)({ to: at(-30, 50), ...held });
    expect(workbench.project.panel.guides).toBeUndefined();
    for (let steps = 0; steps < 3; steps++) workbench.undo();
    expect(textOf(workbench)).toBe(writeProject(carnival));
  });
  test('a measured distance, and one of its ends', async () => {
    const { after, selection } = await drawn(drawMeasure, [100, 100], [[400, 500]]);
    // 300 and 400 make 500.
    expect(after.panel.measures!.at(-1)).toEqual({ from: at(100, 100), to: at(400, 500), measuredMm: 500 });
    expect(selection).toEqual({ kind: 'measure', index: 2 });
    const moved = await drawn((start) => dragMeasureEnd(start, 1, 'to'), [506, 272], [[510, 272]]);
    expect(moved.after.panel.measures![1]!.to).toEqual(at(510, 272));
  });
  test('measuring tells and keeps nothing', async () => {
    const { workbench, start } = await started();
    measure(start(10, 10))({ to: at(50, 12), ...held, isStraight: true });
    expect(workbench.state.measured).toEqual({ from: at(10, 10), to: at(50, 10) });
    expect(workbench.project).toBe(carnival);
  });
});

describe('one run', () => {
  const ring = (clockwise: boolean): Project =>
    projectOf({
      runs: [
        {
          id: 'ring',
          firstLed: at(130, 80),
          arrowDeg: clockwise ? 270 : 90,
          ledCount: 12,
          strip: 'ws2812b-60',
          ring: { radiusMm: 30, ...(clockwise ? { clockwise } : {}) },
        },
      ],
    });
  test.each([false, true])(
    'a ring turns until its first LED looks at the pointer; clockwise %s',
    async (clockwise) => {
      const { workbench, start } = await started(ring(clockwise));
      const [placed] = workbench.state.compiled.layout.runs;
      // Its middle is (100, 80); the pointer stands above it. The arrow is at right angles to that, to the left or to the right.
      dragTurn(start(130, 80), placed!)({ to: at(100, 20), ...held });
      const turned = workbench.project.runs[0]!;
      expect(turned.arrowDeg).toBe(clockwise ? 0 : 180);
      expect(turned.firstLed.xMm).toBeCloseTo(100, 5);
      expect(turned.firstLed.yMm).toBeCloseTo(50, 5);
    },
  );
  test('the end keeps to cut marks, but for who holds Alt', async () => {
    const project = projectOf({
      runs: rowsOfStrip(9).map((run) => ({ ...run, strip: 'threes' })),
      strips: [
        {
          id: 'threes',
          supplyVolts: 12,
          floorVolts: 10.8,
          ledsPerMetre: 60,
          boardWidthMm: 10,
          colourOrder: 'RGB',
          channelMilliamps: 18.5,
          quiescentMilliamps: 2.6,
          currentModel: 'sum',
          railOhmPerMetre: 0.1,
          cutEveryLeds: 3,
        },
      ],
    });
    const { workbench, start } = await started(project);
    const [placed] = workbench.state.compiled.layout.runs;
    const drag = dragLength(start(20, 20), placed!);
    // 13.4 pitches behind the first LED: 14 LEDs, the next mark is at 15.
    const to = at(20 + 13.4 * (1000 / 60), 20);
    drag({ to, ...held });
    expect(workbench.project.runs[0]!.ledCount).toBe(15);
    drag({ to, ...held, isFree: true });
    expect(workbench.project.runs[0]!.ledCount).toBe(14);
  });
});

describe('several runs', () => {
  test('go together, and cling with the LEDs of any of them', async () => {
    const project = projectOf({ runs: rowsOfStrip(90) });
    const { workbench, start } = await started(project);
    // row-2 begins at 20 mm, as row-0 does: moved by 16 mm, its LEDs stand 0.667 mm before the next column of row-1.
    dragRuns(start(0, 0), ['row-0', 'row-2'])({ to: at(16, 0.2), ...held, toleranceMm: 1 });
    const [a, b, c] = workbench.project.runs;
    expect(a!.firstLed.xMm).toBeCloseTo(20 + 1000 / 60, 5);
    expect(c!.firstLed.xMm).toBeCloseTo(20 + 1000 / 60, 5);
    expect(b).toEqual(project.runs[1]);
    expect(workbench.state.snapLines.xMm).toBeDefined();
  });
  test('a box catches the runs that have an LED in it', async () => {
    const project = projectOf({ runs: rowsOfStrip(90) });
    const { start } = await started(project);
    expect(runsInBox(start(0, 0), at(15, 15), at(25, 50))).toEqual(['row-0', 'row-1']);
    expect(runsInBox(start(0, 0), at(25, 75), at(21, 60))).toEqual([]);
  });
  test('there and back again is no edit, and the locked axis doesn’t move', async () => {
    const project = projectOf({
      runs: rowsOfStrip(30).map((run) => ({ ...run, firstLed: at(20.123456, 33.765432) })),
    });
    const { workbench, start } = await started(project);
    const drag = dragRuns(start(0, 0), ['row-0']);
    drag({ to: at(12, 5), ...held, isStraight: true });
    expect(workbench.project.runs[0]!.firstLed.yMm).toBe(33.765432);
    drag({ to: at(0, 0), ...held });
    workbench.endGesture();
    expect(workbench.state.history.past).toHaveLength(0);
    expect(textOf(workbench)).toBe(writeProject(project));
  });
  test('a drag compiles nothing until the hand lets go', async () => {
    const { workbench, start } = await started();
    const { settled } = workbench.state;
    workbench.beginDrag();
    dragRuns(start(0, 0), ['tent-3'])({ to: at(10, 10), ...held });
    expect(workbench.state.settled).toBe(settled);
    expect(workbench.state.compiled.layout).not.toBe(settled.layout);
    workbench.endDrag();
    expect(workbench.state.settled).not.toBe(settled);
    expect(workbench.state.settled).toBe(workbench.state.compiled);
    expect(workbench.state.settled.layout.runs).toEqual(layOut(workbench.project).runs);
  });
});

test('a press without artwork tells that there are no colours to pick', async () => {
  const { workbench, start } = await started(projectOf({ runs: rowsOfStrip(30) }));
  workbench.set({ tool: 'pick-colour' });
  const target = { closest: () => null } as unknown as Element;
  const none = () => undefined;
  const more = {
    target,
    isShift: false,
    isFree: false,
    toleranceMm: 1,
    cutBefore: undefined,
    colourAt: none,
    lightness: none,
  };
  expect(beginPress({ ...start(20, 20), ...more })).toBeUndefined();
  expect(workbench.state.message?.title).toBe('No artwork to take colours from');
});
