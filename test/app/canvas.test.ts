// The canvas without a browser: places between panel and screen, what drags do to the document, and where a ruler has its figures.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dragLength, dragRuns, dragTurn, drawRun } from '../../src/app/canvas/drags.ts';
import { drawRectangle } from '../../src/app/canvas/drags-areas.ts';
import {
  alongRun,
  angleDeg,
  pointAlong,
  type Sight,
  toPanel,
  toScreen,
} from '../../src/app/canvas/geometry.ts';
import { rulerTicks } from '../../src/app/canvas/ruler-ticks.ts';
import { Viewport } from '../../src/app/canvas/viewport.ts';
import { voltColoursOf } from '../../src/app/canvas/volt-colours.ts';
import { writeProject } from '../../src/project/index.ts';
import { sample } from '../support/lamploom.ts';
import { benchFor, textOf } from './bench.ts';

const carnival = sample('midnight-carnival');
const seed = 20261125;
const held = { isFree: false, isStraight: false, toleranceMm: 0 };

const sightOf = (side: Sight['side'], pxPerMm = 1.5): Sight => ({
  view: { pxPerMm, xPx: 40, yPx: 30 },
  side,
  widthMm: 600,
});

describe('places', () => {
  test.each(['front', 'rear'] as const)(
    'seen from the %s, screen and panel are each other’s inverse',
    (side) => {
      const place = fc.record({
        xMm: fc.double({ min: -900, max: 900, noNaN: true }),
        yMm: fc.double({ min: -900, max: 900, noNaN: true }),
      });
      fc.assert(
        fc.property(place, fc.double({ min: 0.05, max: 40, noNaN: true }), (point, pxPerMm) => {
          const sight = sightOf(side, pxPerMm);
          const back = toPanel(sight, toScreen(sight, point));
          expect(back.xMm).toBeCloseTo(point.xMm, 6);
          expect(back.yMm).toBeCloseTo(point.yMm, 6);
        }),
        { seed },
      );
    },
  );

  test('from the rear the left edge is at the right, and up stays up', () => {
    const sight = sightOf('rear');
    expect(toScreen(sight, { xMm: 0, yMm: 0 })).toEqual({ x: 40 + 900, y: 30 });
    expect(toScreen(sight, { xMm: 600, yMm: 100 })).toEqual({ x: 40, y: 180 });
  });

  test('a place along a run comes back as pitches and distance beside it', async () => {
    const { workbench } = await benchFor(carnival);
    for (const placed of workbench.state.compiled.layout.runs) {
      const { pitches, besideMm } = alongRun(placed, pointAlong(placed, 3.25, 4));
      expect(pitches).toBeCloseTo(3.25, 9);
      expect(Math.abs(besideMm)).toBeCloseTo(4, 9);
    }
  });

  test('angles run counter-clockwise from the right', () => {
    const from = { xMm: 10, yMm: 10 };
    expect(angleDeg(from, { xMm: 20, yMm: 10 })).toBe(0);
    expect(angleDeg(from, { xMm: 10, yMm: 0 })).toBe(90);
    expect(angleDeg(from, { xMm: 0, yMm: 10 })).toBe(180);
    expect(angleDeg(from, { xMm: 10, yMm: 20 })).toBe(270);
  });

  test('zooming keeps the place under the pointer', () => {
    const viewport = new Viewport();
    viewport.setSizes({ width: 900, height: 500 }, { width: 600, height: 300 });
    const under = (x: number) => (x - viewport.current().xPx) / viewport.current().pxPerMm;
    const before = under(700);
    viewport.zoomBy(2.2, { x: 700, y: 100 });
    expect(under(700)).toBeCloseTo(before, 9);
  });

  test('a fitted panel stays fitted when the window changes, a zoomed one stays as it is', () => {
    const viewport = new Viewport();
    viewport.setSizes({ width: 900, height: 500 }, { width: 600, height: 300 });
    viewport.setSizes({ width: 600, height: 500 }, { width: 600, height: 300 });
    // 28 px of margin on each side.
    expect(viewport.current().pxPerMm).toBeCloseTo((600 - 56) / 600, 9);
    viewport.zoomBy(3);
    const zoomed = viewport.current();
    viewport.setSizes({ width: 700, height: 500 }, { width: 600, height: 300 });
    expect(viewport.current()).toEqual(zoomed);
  });
});

describe('drags', () => {
  async function started(gesture = 'drag') {
    const bench = await benchFor(carnival);
    const { workbench } = bench;
    const { layout } = workbench.state.compiled;
    const placed = layout.runs.find(({ run }) => run.id === 'tent-3')!;
    const from = placed.run.firstLed;
    return { ...bench, placed, start: { workbench, layout, from, gesture } };
  }
  const runOf = (project: typeof carnival, id: string) => project.runs.find((run) => run.id === id)!;

  test('a run goes with the pointer in half millimetres, freely with Alt, along one axis with Shift', async () => {
    const { workbench, placed, start } = await started();
    const { xMm, yMm } = placed.run.firstLed;
    const drag = dragRuns(start, [placed.run.id]);
    drag({ to: { xMm: xMm + 10.3, yMm: yMm + 4.9 }, ...held });
    const half = (mm: number) => Math.round(mm * 2) / 2;
    expect(runOf(workbench.project, 'tent-3').firstLed).toEqual({
      xMm: half(xMm + 10.3),
      yMm: half(yMm + 4.9),
    });
    drag({ to: { xMm: xMm + 10.3, yMm: yMm + 4.9 }, ...held, isFree: true });
    const free = runOf(workbench.project, 'tent-3').firstLed;
    expect(free.xMm).toBeCloseTo(xMm + 10.3, 2);
    expect(free.yMm).toBeCloseTo(yMm + 4.9, 2);
    drag({ to: { xMm: xMm + 10, yMm: yMm + 4.9 }, ...held, isStraight: true });
    expect(runOf(workbench.project, 'tent-3').firstLed.yMm).toBeCloseTo(yMm, 2);
  });

  test('a whole drag is one step back to the same bytes', async () => {
    const { workbench, placed, start } = await started();
    const drag = dragRuns(start, [placed.run.id]);
    for (let i = 1; i <= 40; i++)
      drag({ to: { xMm: placed.run.firstLed.xMm - i, yMm: placed.run.firstLed.yMm + i / 2 }, ...held });
    workbench.endGesture();
    expect(workbench.state.history.past).toHaveLength(1);
    workbench.undo();
    expect(textOf(workbench)).toBe(writeProject(carnival));
  });

  test('turning snaps to 15 degrees about the first LED', async () => {
    const { workbench, placed, start } = await started();
    const { xMm, yMm } = placed.run.firstLed;
    dragTurn(start, placed)({ to: { xMm: xMm + 100, yMm: yMm - 55 }, ...held });
    // atan(55 / 100) is 28.8 degrees.
    expect(runOf(workbench.project, 'tent-3')).toMatchObject({ arrowDeg: 30, firstLed: { xMm, yMm } });
    dragTurn(start, placed)({ to: { xMm: xMm + 100, yMm: yMm - 55 }, ...held, isFree: true });
    expect(runOf(workbench.project, 'tent-3').arrowDeg).toBeCloseTo(28.8, 1);
  });

  test('the end is drawn to whole LEDs, never under one', async () => {
    const { workbench, placed, start } = await started();
    const drag = dragLength(start, placed);
    drag({ to: pointAlong(placed, 15.6), ...held });
    expect(runOf(workbench.project, 'tent-3').ledCount).toBe(16);
    drag({ to: pointAlong(placed, -40), ...held });
    expect(runOf(workbench.project, 'tent-3').ledCount).toBe(1);
  });

  test('a drawn run has as many LEDs as fit on the way, and is one step however often the pointer moved', async () => {
    const { workbench, start } = await started();
    const drag = drawRun({ ...start, from: { xMm: 100, yMm: 100 } }, 'ws2812b-60', 1000 / 60, 0);
    for (const xMm of [120, 160, 200]) drag({ to: { xMm, yMm: 101 }, ...held });
    const drawn = workbench.project.runs.at(-1)!;
    // 100 mm hold six whole pitches of 16.667 mm: 7 LEDs.
    expect(drawn).toMatchObject({ firstLed: { xMm: 100, yMm: 100 }, arrowDeg: 0, ledCount: 7 });
    expect(workbench.project.dataLines[0]!.chain.at(-1)!.run).toBe(drawn.id);
    expect(workbench.state.history.past).toHaveLength(1);
    workbench.undo();
    expect(textOf(workbench)).toBe(writeProject(carnival));
  });

  test('a drawn area is the rectangle between the corners, whichever way it was drawn', async () => {
    const { workbench, start } = await started();
    drawRectangle({ ...start, from: { xMm: 220, yMm: 180 } })({ to: { xMm: 100, yMm: 60 }, ...held });
    expect(workbench.project.areas.at(-1)!.members).toEqual([
      { kind: 'rectangle', xMm: 100, yMm: 60, widthMm: 120, heightMm: 120 },
    ]);
  });
});

describe('rulers and colours', () => {
  test.each([0.05, 0.4, 1.3, 4, 40])(
    'figures at %d px/mm are at least 80 px apart and all round',
    (pxPerMm) => {
      const figures = rulerTicks(-100, 2000, pxPerMm).filter(({ isFigure }) => isFigure);
      const steps = figures.slice(1).map(({ mm }, index) => mm - figures[index]!.mm);
      expect(new Set(steps).size).toBeLessThanOrEqual(1);
      for (const step of steps) {
        expect(step * pxPerMm).toBeGreaterThanOrEqual(Math.min(80, 1000 * pxPerMm));
        expect([1, 2, 5, 10, 20, 50, 100, 200, 500, 1000]).toContain(step);
      }
    },
  );

  test('LEDs with the same volts have the same colour, and the lowest another than the highest', async () => {
    const { workbench } = await benchFor(carnival);
    const { assessment } = workbench.state.figures;
    const { colours } = voltColoursOf(assessment);
    const all = assessment.panel.leds.map(({ run, led }) => colours.get(run)![led]!);
    const volts = [...assessment.worst.ledVolts];
    const lowest = volts.indexOf(Math.min(...volts));
    const highest = volts.indexOf(Math.max(...volts));
    expect(all[lowest]).not.toBe(all[highest]);
    expect(all).toHaveLength(284);
  });
});

describe('showing a part of the panel', () => {
  test('a box fills the canvas, its middle in the middle, from either side', () => {
    const viewport = new Viewport();
    viewport.setSizes({ width: 900, height: 500 }, { width: 600, height: 300 });
    const box = { leftMm: 100, topMm: 50, rightMm: 200, bottomMm: 70 };
    viewport.showBox(box, false);
    // 28 px of margin on each side: 844 px for 100 mm.
    expect(viewport.current().pxPerMm).toBeCloseTo(8.44, 9);
    const sight = { view: viewport.current(), side: 'front' as const, widthMm: 600 };
    expect(toScreen(sight, { xMm: 150, yMm: 60 })).toEqual({ x: 450, y: 250 });
    viewport.showBox(box, true);
    const rear = { view: viewport.current(), side: 'rear' as const, widthMm: 600 };
    const middle = toScreen(rear, { xMm: 150, yMm: 60 });
    expect(middle.x).toBeCloseTo(450, 9);
    expect(middle.y).toBeCloseTo(250, 9);
  });
});
