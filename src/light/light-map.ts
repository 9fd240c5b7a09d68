// The light map for moving pictures without a graphics card: light on a coarse grid as a weighted sum of the LEDs' flux. The weights depend
// on places only, so they are computed once; a frame is multiply and add. LEDs' places are exact, never rounded to cells.
// Not here: the reference (face.ts), where flux comes from (sources.ts), how light looks on a screen (screen.ts).
import type { PointMm } from '../panel/index.ts';
import { reachMm } from './diffuser.ts';
import { columnMm, type LightGrid, rowMm } from './grid.ts';
import { channelCount } from './sources.ts';
import { spreadFluxPerMm2, spreadTable } from './spread-kernel.ts';

/** For each cell, which LEDs light it and how much: the entries from `firstEntry[cell]` up to `firstEntry[cell + 1]`. */
export interface LightWeights {
  readonly grid: LightGrid;
  readonly ledCount: number;
  readonly firstEntry: Uint32Array;
  readonly led: Uint16Array;
  /** Light per mm2 for 1 unit of flux. */
  readonly weight: Float32Array;
}

const most16 = 65_536;

/**
 * Weights of all cells. `ignoredShare` 0 is exact; above 0, an LED is left out where its light is under that share of its peak, which
 * saves time and loses a share of z^2 / (r^2 + z^2) of its flux, r being the distance reached: 3 % for a thousandth. With a `spreadMm` it is
 * the light behind a sheet of that spread, else on the face.
 */
export function lightWeights(
  leds: readonly PointMm[],
  grid: LightGrid,
  airGapMm: number,
  ignoredShare = 0,
  spreadMm = 0,
): LightWeights {
  if (leds.length > most16) throw new Error(`${leds.length} LEDs are more than 16 bits can number`);
  const reach = ignoredShare > 0 ? reachMm(ignoredShare, airGapMm) : Number.POSITIVE_INFINITY;
  const reachMm2 = reach * reach;
  const firstEntry = new Uint32Array(grid.columns * grid.rows + 1);
  const eachEntry = (take: (cell: number, led: number, acrossMm2: number) => void): void => {
    for (let row = 0, cell = 0; row < grid.rows; row++)
      for (let column = 0; column < grid.columns; column++, cell++) {
        const xMm = columnMm(grid, column);
        const yMm = rowMm(grid, row);
        for (let led = 0; led < leds.length; led++) {
          const place = leds[led]!;
          const acrossMm2 = (place.xMm - xMm) ** 2 + (place.yMm - yMm) ** 2;
          if (acrossMm2 <= reachMm2) take(cell, led, acrossMm2);
        }
      }
  };
  eachEntry((cell) => {
    firstEntry[cell + 1]!++;
  });
  for (let cell = 1; cell < firstEntry.length; cell++) firstEntry[cell]! += firstEntry[cell - 1]!;
  const entryCount = firstEntry.at(-1)!;
  const led = new Uint16Array(entryCount);
  const weight = new Float32Array(entryCount);
  const table = spreadTable(airGapMm, spreadMm);
  let entry = 0;
  eachEntry((_, index, acrossMm2) => {
    led[entry] = index;
    weight[entry++] = spreadFluxPerMm2(acrossMm2, airGapMm, table);
  });
  return { grid, ledCount: leds.length, firstEntry, led, weight };
}

/** Linear light per mm2 of every cell, row by row, red, green and blue interleaved. `flux` as ledFlux gives it. */
export function lightMap(
  { grid, ledCount, firstEntry, led, weight }: LightWeights,
  flux: Float32Array,
  into: Float32Array = new Float32Array(grid.columns * grid.rows * channelCount),
): Float32Array {
  if (flux.length !== ledCount * channelCount)
    throw new Error(`${ledCount} LEDs need ${ledCount * channelCount} values, not ${flux.length}`);
  const cells = grid.columns * grid.rows;
  for (let cell = 0; cell < cells; cell++) {
    let red = 0;
    let green = 0;
    let blue = 0;
    const end = firstEntry[cell + 1]!;
    for (let entry = firstEntry[cell]!; entry < end; entry++) {
      const share = weight[entry]!;
      const first = led[entry]! * channelCount;
      red += share * flux[first]!;
      green += share * flux[first + 1]!;
      blue += share * flux[first + 2]!;
    }
    const first = cell * channelCount;
    into[first] = red;
    into[first + 1] = green;
    into[first + 2] = blue;
  }
  return into;
}
