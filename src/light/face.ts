// The reference: linear light on the diffuser's face, every LED summed at every cell, nothing left out and nothing stored but the
// result; and the same with walls in the way.
// Not here: the sheet (spread.ts), and the fast way for moving pictures (light-map.ts, webgl-light.ts).
// Source of the law: diffuser.ts.
import type { PointMm } from '../panel/index.ts';
import { fluxPerMm2 } from './diffuser.ts';
import { columnMm, type LightGrid, rowMm } from './grid.ts';
import type { LightWays } from './light-ways.ts';
import { eachLitCell } from './lit-cells.ts';
import { channelCount } from './sources.ts';

/** LEDs that shine, their places and fluxes packed for tight loops. */
interface Shining {
  readonly count: number;
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly flux: Float64Array;
}

function shining(places: readonly PointMm[], flux: Float32Array): Shining {
  if (flux.length !== places.length * channelCount)
    throw new Error(`${places.length} LEDs need ${places.length * channelCount} values, not ${flux.length}`);
  const lit = places
    .map((place, led) => ({ place, own: flux.subarray(led * channelCount, (led + 1) * channelCount) }))
    .filter(({ own }) => own.some((share) => share > 0));
  return {
    count: lit.length,
    xMm: Float64Array.from(lit, ({ place }) => place.xMm),
    yMm: Float64Array.from(lit, ({ place }) => place.yMm),
    flux: Float64Array.from(lit.flatMap(({ own }) => [...own])),
  };
}

/**
 * Light per mm2 at the middle of every cell, the LEDs `airGapMm` behind the face. `flux` as ledFlux gives it.
 * @param ways by LED, where something is in the light's way; a cell at a shadow's edge gets the share that lies on either side
 */
export function faceLight(
  places: readonly PointMm[],
  flux: Float32Array,
  grid: LightGrid,
  airGapMm: number,
  ways?: LightWays,
): Float32Array<ArrayBuffer> {
  const leds = shining(places, flux);
  if (ways) return lightByWays(ways, flux, grid, airGapMm);
  const { columns, rows } = grid;
  const gapMm2 = airGapMm * airGapMm;
  const strength = gapMm2 / Math.PI;
  const xMm = Float64Array.from({ length: columns }, (_, column) => columnMm(grid, column));
  const map = new Float32Array(columns * rows * channelCount);
  // One row is summed in double precision, so that thousands of faint shares aren't rounded away.
  const sums = new Float64Array(columns * channelCount);
  for (let row = 0; row < rows; row++) {
    sums.fill(0);
    const yMm = rowMm(grid, row);
    for (let led = 0; led < leds.count; led++) {
      const downAndGapMm2 = (leds.yMm[led]! - yMm) ** 2 + gapMm2;
      const ledXMm = leds.xMm[led]!;
      const red = leds.flux[led * channelCount]! * strength;
      const green = leds.flux[led * channelCount + 1]! * strength;
      const blue = leds.flux[led * channelCount + 2]! * strength;
      for (let column = 0, to = 0; column < columns; column++, to += channelCount) {
        const across = xMm[column]! - ledXMm;
        const distanceMm2 = across * across + downAndGapMm2;
        const share = 1 / (distanceMm2 * distanceMm2);
        sums[to]! += red * share;
        sums[to + 1]! += green * share;
        sums[to + 2]! += blue * share;
      }
    }
    map.set(sums, row * sums.length);
  }
  return map;
}

function lightByWays(
  ways: LightWays,
  flux: Float32Array,
  grid: LightGrid,
  airGapMm: number,
): Float32Array<ArrayBuffer> {
  const sums = new Float64Array(grid.columns * grid.rows * channelCount);
  const softMm = (grid.cellWidthMm + grid.cellHeightMm) / 2;
  for (const [led, own] of ways.entries()) {
    const [red, green, blue] = flux.subarray(led * channelCount, (led + 1) * channelCount) as unknown as [
      number,
      number,
      number,
    ];
    if (red === 0 && green === 0 && blue === 0) continue;
    for (const way of own)
      eachLitCell(way, grid, softMm, (row, column, xMm, yMm, open) => {
        const share = way.share * open * fluxPerMm2((xMm - way.xMm) ** 2 + (yMm - way.yMm) ** 2, airGapMm);
        const to = (row * grid.columns + column) * channelCount;
        sums[to]! += red * share;
        sums[to + 1]! += green * share;
        sums[to + 2]! += blue * share;
      });
  }
  return Float32Array.from(sums);
}
