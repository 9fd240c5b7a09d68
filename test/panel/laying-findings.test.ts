// Findings about boards on the backing, each on both sides of its threshold. A 60 per m board is 10 mm wide, its pitch 16.667 mm.
// Sources of the thresholds: 6 mm of plywood between milled pockets, a wall as thick as the sheet for a laser: common practice, no source.
// Half-metre boards in a reel: a seller's page on WS2812B strip.
import { describe, expect, test } from 'vitest';
import { channelAllowanceMm, layOut, panelFindings } from '../../src/panel/index.ts';
import type { Project, Run } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

const run = (id: string, xMm: number, yMm: number, more: Partial<Run> = {}): Run => ({
  id,
  firstLed: { xMm, yMm },
  arrowDeg: 0,
  ledCount: 6,
  strip: 'ws2812b-60',
  ...more,
});
const panelOf = (more: Partial<Project['panel']> = {}): Project['panel'] => ({
  widthMm: 700,
  heightMm: 400,
  airGapMm: 20,
  sheet: 'opal-pmma',
  ...more,
});
const told = (runs: readonly Run[], panel: Partial<Project['panel']> = {}, more: Partial<Project> = {}) => {
  const project = projectOf({ runs: [...runs], panel: panelOf(panel), ...more });
  return panelFindings(project, layOut(project)).map(({ severity, code, at }) => [severity, code, at]);
};

describe('[LAY1] boards that meet', () => {
  test('side by side: 10 mm apart they touch, nearer they overlap', () => {
    expect(told([run('a', 50, 50), run('b', 50, 60)])).toEqual([]);
    expect(told([run('a', 50, 50), run('b', 50, 59.9)])).toEqual([['warning', 'runs-overlap', '/runs/1']]);
  });
  test('end to end: six pitches of 16.667 mm are 100 mm', () => {
    expect(told([run('a', 50, 50), run('b', 150, 50)])).toEqual([]);
    expect(told([run('a', 50, 50), run('b', 149.9, 50)])).toEqual([['warning', 'runs-overlap', '/runs/1']]);
  });
  test('crossing', () => {
    expect(told([run('a', 50, 50), run('b', 90, 105, { arrowDeg: 90 })])).toEqual([
      ['warning', 'runs-overlap', '/runs/1'],
    ]);
  });
  test('a lamp in the middle of a ring board is free, one on the ring is not', () => {
    const ring = run('ring', 150, 100, { arrowDeg: 90, ledCount: 16, ring: { radiusMm: 50 } });
    const lamp = (xMm: number) => run('lamp', xMm, 100, { ledCount: 1 });
    expect(told([ring, lamp(100)])).toEqual([]);
    expect(told([ring, lamp(148)])).toEqual([['warning', 'runs-overlap', '/runs/1']]);
  });
});

describe('[LAY2] wood between channels', () => {
  const apart = (mm: number) => [run('a', 50, 50), run('b', 50, 60 + mm)];
  test('a router wants 6 mm between two channels, or its bit where that is thicker', () => {
    const milled = (bitMm: number) => ({ backing: { thicknessMm: 12, bitMm } });
    expect(told(apart(6.01 + channelAllowanceMm), milled(3.175))).toEqual([]);
    expect(told(apart(5.99 + channelAllowanceMm), milled(3.175))).toEqual([
      ['warning', 'runs-too-close', '/runs/1'],
    ]);
    expect(told(apart(7.99 + channelAllowanceMm), milled(8))).toEqual([
      ['warning', 'runs-too-close', '/runs/1'],
    ]);
  });
  test('two pieces end to end on one line lie in one channel; half a millimetre beside it they don’t', () => {
    const milled = { backing: { thicknessMm: 12, bitMm: 6 } };
    expect(told([run('a', 50, 50), run('b', 151, 50)], milled)).toEqual([]);
    expect(told([run('a', 50, 50), run('b', 151, 50.6)], milled)).toEqual([
      ['warning', 'runs-too-close', '/runs/1'],
    ]);
  });
  test('boards whose boxes are apart in one way only are still measured by their nearest edges', () => {
    // Side by side across, 4 mm apart between the cut edges, the second turned upright.
    const upright = run('b', 50 + 5.5 * (1000 / 60) + 4 + 5, 120, { arrowDeg: 90 });
    expect(told([run('a', 50, 50), upright], { backing: { thicknessMm: 5 } })).toEqual([
      ['warning', 'runs-too-close', '/runs/1'],
    ]);
  });
  test('a laser wants the sheet’s thickness', () => {
    const cut = { backing: { thicknessMm: 3 } };
    expect(told(apart(3.01 + channelAllowanceMm), cut)).toEqual([]);
    expect(told(apart(2.99 + channelAllowanceMm), cut)).toEqual([['warning', 'runs-too-close', '/runs/1']]);
  });
  test('a bit thicker than the channel', () => {
    const milled = (bitMm: number) => ({ backing: { thicknessMm: 12, bitMm } });
    expect(told([run('a', 50, 50)], milled(10.6))).toEqual([]);
    expect(told([run('a', 50, 50)], milled(12))).toEqual([['warning', 'channel-below-bit', '/runs/0']]);
  });
});

describe('[LAY3] keep-outs', () => {
  const screw = (xMm: number, yMm: number, diameterMm = 6) => ({
    keepOuts: [
      {
        id: 'screw',
        purpose: 'screw' as const,
        shape: { kind: 'circle' as const, centre: { xMm, yMm }, diameterMm },
      },
    ],
  });
  test('a circle 3 mm beside the board’s edge touches it; nearer the run lies in it', () => {
    expect(told([run('a', 50, 50)], screw(80, 58))).toEqual([]);
    expect(told([run('a', 50, 50)], screw(80, 57.9))).toEqual([['error', 'run-in-keep-out', '/runs/0']]);
  });
  test('a hole between two LEDs is in it too, and one beyond the cut edge is not', () => {
    expect(told([run('a', 50, 50)], screw(58, 50, 2))).toEqual([['error', 'run-in-keep-out', '/runs/0']]);
    // The cut edge lies at 50 - 8.333 mm.
    expect(told([run('a', 50, 50)], screw(40, 50, 3))).toEqual([]);
  });
  test('a rectangle', () => {
    const box = (yMm: number) => ({
      keepOuts: [
        {
          id: 'display',
          purpose: 'display' as const,
          shape: { kind: 'rectangle' as const, xMm: 60, yMm, widthMm: 30, heightMm: 20 },
        },
      ],
    });
    expect(told([run('a', 50, 50)], box(55))).toEqual([]);
    expect(told([run('a', 50, 50)], box(54.9))).toEqual([['error', 'run-in-keep-out', '/runs/0']]);
  });
});

describe('[LAY4] cutting', () => {
  const threes: Project['strips'] = [
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
  ];
  test('between cut marks', () => {
    const laid = (ledCount: number) =>
      told([run('a', 50, 50, { strip: 'threes', ledCount })], {}, { strips: threes });
    expect(laid(6)).toEqual([]);
    expect(laid(7)).toEqual([['warning', 'cut-off-mark', '/runs/0/ledCount']]);
  });
  test('over half a metre there is a joint: 30 LEDs of 16.667 mm are just 500 mm', () => {
    expect(told([run('a', 50, 50, { ledCount: 30 })])).toEqual([]);
    expect(told([run('a', 50, 50, { ledCount: 31 }), run('b', 50, 90, { ledCount: 31 })])).toEqual([
      ['note', 'joint-inside', '/runs/0'],
    ]);
  });
});
