// Areas: membership and the order along which effects travel. Expected places are geometry done by hand.
import { describe, expect, test } from 'vitest';
import { alongPath, areaLeds, layOut } from '../../src/panel/index.ts';
import type { Area, Project } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

/** A cross of five single-LED runs: centre, right, above, left, below, 50 mm apart. */
const cross: Project = projectOf({
  panel: { widthMm: 200, heightMm: 200, airGapMm: 20, sheet: 'opal-pmma' },
  runs: (
    [
      ['centre', 100, 100],
      ['right', 150, 100],
      ['above', 100, 50],
      ['left', 50, 100],
      ['below', 100, 150],
    ] as const
  ).map(([id, xMm, yMm]) => ({ id, firstLed: { xMm, yMm }, arrowDeg: 0, ledCount: 1, strip: 'ws2812b-60' })),
});
const layout = layOut(cross);
const all: Area['members'] = [{ kind: 'all' }];
const centre = { xMm: 100, yMm: 100 };
const places = (order: Area['order'], members = all) =>
  Object.fromEntries(
    areaLeds(layout, { id: 'x', members, order }).map((led) => [layout.wireLeds[led.wire]!.run, led.place]),
  );

describe('[AREA1] orders', () => {
  test('across goes from left to right', () => {
    expect(places({ kind: 'across' })).toEqual({ left: 0, centre: 0.5, above: 0.5, below: 0.5, right: 1 });
  });
  test('up goes from bottom to top', () => {
    expect(places({ kind: 'up' })).toEqual({ below: 0, centre: 0.5, left: 0.5, right: 0.5, above: 1 });
  });
  test('outward goes away from the point', () => {
    expect(places({ kind: 'outward', centre })).toEqual({ centre: 0, left: 1, right: 1, above: 1, below: 1 });
  });
  test('around goes clockwise, one turn being the whole way', () => {
    const turn = places({ kind: 'around', centre, startDeg: 90 }, [
      { kind: 'runs', runs: ['above', 'right', 'below', 'left'] },
    ]);
    expect(turn).toEqual({ above: 0, right: 0.25, below: 0.5, left: 0.75 });
  });
  test('around starts at the right where nothing is said', () => {
    expect(places({ kind: 'around', centre })).toMatchObject({
      right: 0,
      below: 0.25,
      left: 0.5,
      above: 0.75,
    });
  });
  test('wiring follows the data', () => {
    expect(places({ kind: 'wiring' })).toEqual({ centre: 0, right: 0.25, above: 0.5, left: 0.75, below: 1 });
  });
  test('path goes along the drawn line, each LED at its nearest place', () => {
    const points = [
      { xMm: 50, yMm: 90 },
      { xMm: 150, yMm: 90 },
    ];
    expect(places({ kind: 'path', points })).toEqual({
      left: 0,
      centre: 0.5,
      above: 0.5,
      below: 0.5,
      right: 1,
    });
  });
  test.each<Area['order']>([
    { kind: 'across' },
    { kind: 'up' },
    { kind: 'outward', centre },
    { kind: 'wiring' },
  ])('$kind reversed goes the other way', (order) => {
    const forward = places(order);
    for (const [run, place] of Object.entries(places({ ...order, reversed: true })))
      expect(place).toBeCloseTo(1 - forward[run]!, 12);
  });
  test('around reversed goes counter-clockwise and stays below one turn', () => {
    expect(places({ kind: 'around', centre, reversed: true })).toMatchObject({
      right: 0,
      above: 0.25,
      left: 0.5,
      below: 0.75,
    });
  });
  test('an order along which nothing differs puts every LED at its beginning', () => {
    expect(places({ kind: 'up' }, [{ kind: 'runs', runs: ['left', 'centre'] }])).toEqual({
      left: 0,
      centre: 0,
    });
  });
});

describe('[AREA2] members', () => {
  const members = (list: Area['members']) => Object.keys(places({ kind: 'wiring' }, list)).sort();
  test('a rectangle holds the LEDs whose centre lies in it, its edges included', () => {
    expect(members([{ kind: 'rectangle', xMm: 50, yMm: 99, widthMm: 50, heightMm: 2 }])).toEqual([
      'centre',
      'left',
    ]);
  });
  test('several kinds together hold an LED once', () => {
    const list: Area['members'] = [
      { kind: 'runs', runs: ['left'] },
      { kind: 'leds', run: 'left', from: 0, to: 0 },
    ];
    expect(members(list)).toEqual(['left']);
  });
  test.each(['spareLeds', 'deadLeds'] as const)('%s and runs outside the chain belong to no area', (list) => {
    const project: Project = {
      ...cross,
      runs: cross.runs.map((run) => (run.id === 'above' ? { ...run, [list]: [0] } : run)),
      dataLines: [{ pin: 6, chain: ['centre', 'right', 'above', 'left'].map((run) => ({ run })) }],
    };
    const placed = layOut(project);
    const leds = areaLeds(placed, { id: 'x', members: all, order: { kind: 'wiring' } });
    expect(leds.map((led) => placed.wireLeds[led.wire]!.run)).toEqual(['centre', 'right', 'left']);
  });
});

test('[AREA3] the way along a bent line is the sum of its pieces', () => {
  const points = [
    { xMm: 0, yMm: 0 },
    { xMm: 30, yMm: 0 },
    { xMm: 30, yMm: 40 },
  ];
  expect(alongPath(points, { xMm: 10, yMm: 5 })).toEqual({ alongMm: 10, lengthMm: 70 });
  expect(alongPath(points, { xMm: 36, yMm: 20 })).toEqual({ alongMm: 50, lengthMm: 70 });
  expect(alongPath(points, { xMm: -9, yMm: -9 }).alongMm).toBe(0);
  expect(alongPath(points, { xMm: 30, yMm: 99 }).alongMm).toBe(70);
});
