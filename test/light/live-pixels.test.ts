// The quick way to pixels against the reference's own stages: straight lines between coarse cells written out plainly here, then `pictureOf`.
import { describe, expect, it } from 'vitest';
import { gridOf, gridOver, pictureOf } from '../../src/light/index.ts';
import { pixelPainter } from '../../src/light/live-pixels.ts';

const whole = { xMm: 0, yMm: 0, widthMm: 83, heightMm: 47 };
const coarse = gridOver(whole, 6);
const columns = 97;
const rows = 53;
const grid = gridOf(whole, columns, rows);
const cells = coarse.columns * coarse.rows;
/** From none to far above the screen's white, every cell and channel another. */
const light = Float64Array.from({ length: cells * 3 }, (_, i) => ((i * 7919) % 1013) ** 3 / 1013 ** 3);
const ink = Float32Array.from({ length: columns * rows * 3 }, (_, i) => ((i * 104_729) % 997) / 996);

/** Between the middles of coarse cells, and no further than the outermost ones. */
function lightAt(column: number, row: number, channel: number): number {
  const place = (fine: number, size: number, coarseSize: number) =>
    Math.min(coarseSize - 1, Math.max(0, ((fine + 0.5) / size) * coarseSize - 0.5));
  const x = place(column, columns, coarse.columns);
  const y = place(row, rows, coarse.rows);
  let sum = 0;
  for (const [atRow, down] of [
    [Math.floor(y), 1 - (y % 1)],
    [Math.ceil(y), y % 1],
  ] as const)
    for (const [atColumn, across] of [
      [Math.floor(x), 1 - (x % 1)],
      [Math.ceil(x), x % 1],
    ] as const)
      sum += down * across * light[(atRow * coarse.columns + atColumn) * 3 + channel]!;
  return sum;
}

const behindSheet = Float32Array.from({ length: columns * rows * 3 }, (_, i) => {
  const pixel = Math.floor(i / 3);
  return lightAt(pixel % columns, Math.floor(pixel / columns), i % 3);
});

const openings = {
  whole,
  'cut through pixels': { xMm: 10.3, yMm: 5.2, widthMm: 60.9, heightMm: 31.7 },
  'on the edges of pixels': {
    xMm: 83 / columns,
    yMm: 47 / rows,
    widthMm: (83 * 90) / columns,
    heightMm: (47 * 40) / rows,
  },
  'narrower than a pixel': { xMm: 40.1, yMm: 5, widthMm: 0.4, heightMm: 30 },
  'lower than a pixel': { xMm: 5, yMm: 20.1, widthMm: 60, heightMm: 0.4 },
};

const viewings = {
  dark: { through: 1.7, printLight: 0, frameLight: 0 },
  lit: { through: 0.8, printLight: 0.6, frameLight: 0.03 },
  'far too bright': { through: 1e9, printLight: 0, frameLight: 0 },
  unlit: { through: 0, printLight: 0, frameLight: 0 },
};

describe.each(Object.entries(openings))('the opening: %s', (_, opening) => {
  it.each(Object.entries(viewings))('is painted as by the reference within one code: %s', (__, factors) => {
    for (const own of [ink, undefined]) {
      const paint = pixelPainter(coarse, grid, own, opening);
      // What was in the buffer must not shine through.
      const pixels = new Uint8ClampedArray(columns * rows * 4).fill(77);
      paint(light, factors, pixels);
      const exact = pictureOf({ grid, behindSheet, ink: own, opening, factors });
      let worst = 0;
      for (let i = 0; i < pixels.length; i++) worst = Math.max(worst, Math.abs(pixels[i]! - exact[i]!));
      expect(worst).toBeLessThanOrEqual(1);
      expect(pixels.every((value, i) => i % 4 !== 3 || value === 255)).toBe(true);
    }
  });
});

it('a view into a larger buffer is filled, and nothing beside it', () => {
  const buffer = new Uint8ClampedArray(columns * rows * 4 + 10).fill(77);
  pixelPainter(coarse, grid, ink, whole)(light, viewings.lit, buffer.subarray(5, buffer.length - 5));
  expect([...buffer.subarray(0, 5), ...buffer.subarray(-5)]).toEqual(Array(10).fill(77));
  const own = new Uint8ClampedArray(columns * rows * 4);
  pixelPainter(coarse, grid, ink, whole)(light, viewings.lit, own);
  expect(buffer.subarray(5, buffer.length - 5)).toEqual(own);
});
