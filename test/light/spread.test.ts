// The sheet's spread: no light gained or lost, the width of an edge, and the table of one LED's kernel against the spread of a whole map.
import { describe, expect, it } from 'vitest';
import {
  faceLight,
  glowOf,
  gridOver,
  lightMap,
  lightWeights,
  pixelGrid,
  spread,
  spreadFluxPerMm2,
  spreadTable,
} from '../../src/light/index.ts';

const grid = pixelGrid({ widthMm: 60, heightMm: 40 }, 0.5);
const at = (column: number, row: number) => (row * grid.columns + column) * 3;

describe('the spread', () => {
  it('keeps all light of a spot well inside, each channel by itself', () => {
    const map = new Float32Array(grid.columns * grid.rows * 3);
    map[at(60, 40)] = 8;
    map[at(61, 39) + 2] = 2;
    spread(map, grid, 2);
    const sum = [0, 1, 2].map((channel) =>
      map.filter((_, i) => i % 3 === channel).reduce((a, b) => a + b, 0),
    );
    expect(sum[0]).toBeCloseTo(8, 4);
    expect(sum[1]).toBe(0);
    expect(sum[2]).toBeCloseTo(2, 4);
  });

  it('leaves even light even, up to the edges', () => {
    const map = new Float32Array(grid.columns * grid.rows * 3).fill(0.7);
    spread(map, grid, 3);
    for (const light of map) expect(light).toBeCloseTo(0.7, 6);
  });

  // Source: the integral of a Gaussian passes 15.87 % and 84.13 % one standard deviation to each side of its middle.
  it.each([1.5, 4])('makes a straight edge 2 x %f mm wide between its 16th and 84th hundredth', (sigmaMm) => {
    for (const down of [false, true]) {
      const map = new Float32Array(grid.columns * grid.rows * 3);
      for (let row = 0; row < grid.rows; row++)
        for (let column = 0; column < grid.columns; column++)
          if (down ? row >= 40 : column >= 60) map[at(column, row)] = 1;
      spread(map, grid, sigmaMm);
      const profile = Array.from({ length: down ? grid.rows : grid.columns }, (_, i) =>
        down ? map[at(60, i)]! : map[at(i, 40)]!,
      );
      const crossing = (level: number) => {
        const after = profile.findIndex((light) => light >= level);
        const before = profile[after - 1]!;
        return (after - 1 + (level - before) / (profile[after]! - before)) * 0.5;
      };
      // Reading a curve by straight lines between cells of 0.5 mm adds up to 1 % where a deviation is 3 cells.
      expect(Math.abs((crossing(0.8413) - crossing(0.1587)) / (2 * sigmaMm) - 1)).toBeLessThan(0.015);
    }
  });

  it('does nothing without a sheet', () => {
    const map = Float32Array.from({ length: grid.columns * grid.rows * 3 }, (_, i) => i % 11);
    const same = map.slice();
    spread(map, grid, 0);
    expect(map).toEqual(same);
  });
});

describe('light behind the sheet', () => {
  it('has in it what the sheet brings in from beside the picture', () => {
    const places = [{ xMm: -3, yMm: 10 }];
    const flux = Float32Array.of(1, 1, 1);
    const small = pixelGrid({ widthMm: 20, heightMm: 20 }, 0.5);
    const wide = gridOver({ xMm: -40, yMm: -40, widthMm: 100, heightMm: 100 }, 0.5);
    const whole = faceLight(places, flux, wide, 8);
    spread(whole, wide, 1.5);
    const { behindSheet } = glowOf(places, flux, small, 8, { spreadMm: 1.5 });
    for (const [column, row] of [
      [0, 0],
      [0, 20],
      [39, 39],
    ] as const) {
      const inWide = ((row + 80) * wide.columns + column + 80) * 3;
      expect(behindSheet[(row * small.columns + column) * 3]! / whole[inWide]!).toBeCloseTo(1, 5);
    }
  });

  // The reference is the spread of the map on cells of a quarter of a millimetre.
  it.each([
    { airGapMm: 28, spreadMm: 1.5 },
    { airGapMm: 8, spreadMm: 1.5 },
    { airGapMm: 3, spreadMm: 1.5 },
    { airGapMm: 2, spreadMm: 0.3 },
  ])('is the same from the table of the kernel: $spreadMm mm behind a gap of $airGapMm mm', (one) => {
    const places = [{ xMm: 10, yMm: 10 }];
    const fine = pixelGrid({ widthMm: 60, heightMm: 30 }, 0.25 * Math.min(1, one.spreadMm));
    const { behindSheet } = glowOf(places, Float32Array.of(1, 1, 1), fine, one.airGapMm, one);
    const table = spreadTable(one.airGapMm, one.spreadMm);
    let worst = 0;
    for (let row = 0; row < fine.rows; row += 3)
      for (let column = 0; column < fine.columns; column += 3) {
        const acrossMm2 =
          ((column + 0.5) * fine.cellWidthMm - 10) ** 2 + ((row + 0.5) * fine.cellHeightMm - 10) ** 2;
        const light = behindSheet[(row * fine.columns + column) * 3]!;
        worst = Math.max(worst, Math.abs(spreadFluxPerMm2(acrossMm2, one.airGapMm, table) / light - 1));
      }
    expect(worst).toBeLessThan(0.003);
  });

  it('comes out of the fast weights as well', () => {
    const places = [
      { xMm: 12, yMm: 9 },
      { xMm: 31, yMm: 22 },
    ];
    const flux = Float32Array.of(1, 0.2, 0, 0, 0.5, 1);
    const cells = pixelGrid({ widthMm: 40, heightMm: 30 }, 0.5);
    const { behindSheet } = glowOf(places, flux, cells, 6, { spreadMm: 1.5 });
    const fast = lightMap(lightWeights(places, cells, 6, 0, 1.5), flux);
    for (const [i, light] of behindSheet.entries())
      expect(Math.abs(fast[i]! - light)).toBeLessThan(3e-3 * light + 1e-12);
  });
});
