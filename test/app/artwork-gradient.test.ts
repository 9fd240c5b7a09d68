// A gradient out of the artwork: its stops lie along the area's order, keep each colour's hue, and are bright enough to be light. Expected values follow
// from the colours given; lightness and hue are OKLab's, by chroma-js.
import chroma from 'chroma-js';
import { expect, test } from 'vitest';
import { artworkStops } from '../../src/app/stages/lampshows/artwork-gradient.ts';
import { dotsOf } from '../../src/app/stages/lampshows/effect-pictures.tsx';
import { layOut } from '../../src/panel/index.ts';
import type { Area } from '../../src/project/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const project = projectOf({ runs: rowsOfStrip(30) });
const layout = layOut(project);
const across: Area = { id: 'row', members: [{ kind: 'all' }], order: { kind: 'across' } };
const hueOf = (hex: string): number => chroma(hex).oklch()[2];

test('stops follow the order: the print’s left colour first, and last where the order is reversed', () => {
  const middle = 20 + (29 * 1000) / 60 / 2;
  const print = ({ xMm }: { xMm: number }) =>
    xMm < middle ? ([120, 10, 10] as const) : ([10, 10, 120] as const);
  const stops = artworkStops(layout, across, print);
  expect(stops.map(({ at }) => at)).toEqual([0, 0.25, 0.5, 0.75, 1]);
  const red = hueOf('#780a0a');
  const blue = hueOf('#0a0a78');
  expect(Math.abs(hueOf(stops[0]!.colour) - red)).toBeLessThan(6);
  expect(Math.abs(hueOf(stops[4]!.colour) - blue)).toBeLessThan(6);
  const back = artworkStops(layout, { ...across, order: { kind: 'across', reversed: true } }, print);
  expect(back.map(({ colour }) => colour)).toEqual(stops.map(({ colour }) => colour).toReversed());
});

test('the lightest colour becomes light, darker ones keep their distance; grey stays grey', () => {
  const print = ({ xMm }: { xMm: number }) => (xMm < 150 ? ([20, 20, 20] as const) : ([60, 60, 60] as const));
  const stops = artworkStops(layout, across, print);
  const lightness = stops.map(({ colour }) => chroma(colour).oklch()[0]);
  expect(lightness.at(-1)).toBeCloseTo(0.82, 2);
  const [dark, bright] = ['#141414', '#3c3c3c'].map((hex) => chroma(hex).oklch()[0]);
  expect(lightness[0]! / lightness.at(-1)!).toBeCloseTo(dark! / bright!, 1);
  for (const { colour } of stops) expect(new Set(chroma(colour).rgb()).size).toBe(1);
});

test('one LED gives one stop, none gives none', () => {
  const single: Area = { ...across, members: [{ kind: 'leds', run: 'row-0', from: 3, to: 3 }] };
  expect(artworkStops(layout, single, () => [200, 0, 0])).toHaveLength(1);
  const none: Area = { ...across, members: [{ kind: 'runs', runs: [] }] };
  expect(artworkStops(layout, none, () => [200, 0, 0])).toEqual([]);
});

test('an effect’s picture shows LEDs where they lie, unstretched and inside', () => {
  const dots = dotsOf([
    { xMm: 100, yMm: 50 },
    { xMm: 300, yMm: 50 },
    { xMm: 300, yMm: 150 },
  ]);
  const [a, b, c] = dots as [(typeof dots)[0], (typeof dots)[0], (typeof dots)[0]];
  // 200 x 100 mm: twice as wide as high, and so in the picture; the middle stays in the middle.
  expect((b.x - a.x) / (c.y - b.y)).toBeCloseTo(2, 9);
  expect((a.x + b.x) / 2).toBeCloseTo(40, 9);
  expect((a.y + c.y) / 2).toBeCloseTo(25, 9);
  for (const { x, y } of dots) {
    expect(x).toBeGreaterThanOrEqual(5 - 1e-9);
    expect(x).toBeLessThanOrEqual(75 + 1e-9);
    expect(y).toBeGreaterThanOrEqual(5 - 1e-9);
    expect(y).toBeLessThanOrEqual(45 + 1e-9);
  }
});
