// The reference light on the face, as `picture` uses it, against closed forms: one LED, and the ripple of large grids and rows.
import { describe, expect, it } from 'vitest';
import { faceLight, gridOver, pixelGrid } from '../../src/light/index.ts';

const white = (leds: number) => new Float32Array(leds * 3).fill(1);

describe('one LED', () => {
  // Source: Lambertian LED over a parallel plane, E = (flux / pi) z^2 / (r^2 + z^2)^2; written out anew here.
  const map = faceLight(
    [{ xMm: 33.3, yMm: 41.7 }],
    Float32Array.of(1, 0.25, 0),
    pixelGrid({ widthMm: 120, heightMm: 60 }, 4),
    28,
  );

  it('lights fifty places within 1 % of the formula, each channel by its own flux', () => {
    for (let place = 0; place < 50; place++) {
      const pixel = place * 9;
      const xMm = ((pixel % 30) + 0.5) * 4;
      const yMm = (Math.floor(pixel / 30) + 0.5) * 4;
      const r2 = (xMm - 33.3) ** 2 + (yMm - 41.7) ** 2;
      const expected = (1 / Math.PI) * (28 ** 2 / (r2 + 28 ** 2) ** 2);
      expect(Math.abs(map[pixel * 3]! / expected - 1)).toBeLessThan(0.01);
      expect(Math.abs(map[pixel * 3 + 1]! / (expected / 4) - 1)).toBeLessThan(0.01);
      expect(map[pixel * 3 + 2]).toBe(0);
    }
  });
});

describe('the pixels of a picture', () => {
  it('are whole in number and exactly as large as asked, at least one each way', () => {
    // The contract: max(1, round(width / size)), centres at (i + 0.5) x size.
    const grid = pixelGrid({ widthMm: 100.4, heightMm: 0.2 }, 0.7);
    expect(grid).toMatchObject({ columns: 143, rows: 1, cellWidthMm: 0.7, cellHeightMm: 0.7, leftMm: 0 });
  });
});

/** Least light over most light, between one LED and the next, at the middle of `leds` that shine white. */
function minPerMax(leds: readonly { xMm: number; yMm: number }[], airGapMm: number, down: boolean): number {
  const pitchMm = 20;
  // 40 cells a pitch each way, two of them with centres on an LED and in the middle.
  const side = pitchMm / 40;
  const grid = gridOver(
    {
      xMm: -side / 2,
      yMm: -side / 2,
      widthMm: pitchMm + side,
      heightMm: down ? pitchMm + side : side,
    },
    side,
  );
  const red = faceLight(leds, white(leds.length), grid, airGapMm).filter((_, i) => i % 3 === 0);
  return Math.min(...red) / Math.max(...red);
}

describe('ripple', () => {
  // Source: E / mean of an endless square grid as a Fourier series with coefficients u K1(u), u = 2 pi z / pitch; for a long row
  // (1 + u) e^-u. Least over most light from them.
  it.each([
    [0.5, 0.4394],
    [0.6, 0.6181],
    [0.75, 0.8115],
    [0.8, 0.8545],
    [0.9, 0.9152],
    [1, 0.9516],
    [1.25, 0.9887],
    [1.5, 0.9974],
  ])('of a large square grid at %f air gaps a pitch: least light is %f of the most', (gaps, expected) => {
    const side = 61;
    const leds = Array.from({ length: side * side }, (_, i) => ({
      xMm: ((i % side) - (side - 1) / 2) * 20,
      yMm: (Math.floor(i / side) - (side - 1) / 2) * 20,
    }));
    expect(Math.abs(minPerMax(leds, gaps * 20, true) / expected - 1)).toBeLessThan(0.01);
  });

  it.each([
    [0.5, 0.4814],
    [0.6, 0.6417],
    [0.75, 0.8141],
    [0.8, 0.8535],
    // Worked out from the series with eight terms.
    [0.9, 0.911],
    [1, 0.947],
    [1.25, 0.9863],
    [1.5, 0.9966],
  ])('of a long row on its axis at %f air gaps a pitch: least light is %f of the most', (gaps, expected) => {
    const leds = Array.from({ length: 401 }, (_, i) => ({ xMm: (i - 200) * 20, yMm: 0 }));
    expect(Math.abs(minPerMax(leds, gaps * 20, false) / expected - 1)).toBeLessThan(0.01);
  });
});

describe('many LEDs', () => {
  it('keep the share of those far away: 2,000 at one place are 2,000 times one', () => {
    const place = { xMm: -300, yMm: 0 };
    const grid = pixelGrid({ widthMm: 2, heightMm: 1 }, 1);
    const one = faceLight([place], white(1), grid, 10)[0]!;
    const all = faceLight(Array(2000).fill(place), white(2000), grid, 10)[0]!;
    expect(all / one / 2000).toBeCloseTo(1, 6);
  });
});
