// The light map: linear light on the diffuser's face on a grid, as a weighted sum of the LEDs' flux. The weights depend on places only,
// so they are computed once; a frame is multiply and add. LEDs' places are exact, never rounded to cells.
// Not here: where flux comes from (sources.ts), how light looks on a screen (screen.ts).
import type { PointMm } from '../panel/index.ts';
import { fluxPerMm2, reachMm } from './diffuser.ts';
import { channelCount } from './sources.ts';

/** Cells side by side over a rectangle of the panel; a cell's light is the light at its centre. */
export interface LightGrid {
  readonly leftMm: number;
  readonly topMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly cellWidthMm: number;
  readonly cellHeightMm: number;
}

export interface RectangleMm {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A grid that fills the rectangle exactly, with cells as near to `cellMm` as whole numbers allow. */
export function gridOver({ xMm, yMm, widthMm, heightMm }: RectangleMm, cellMm: number): LightGrid {
  const columns = Math.max(1, Math.round(widthMm / cellMm));
  const rows = Math.max(1, Math.round(heightMm / cellMm));
  return {
    leftMm: xMm,
    topMm: yMm,
    columns,
    rows,
    cellWidthMm: widthMm / columns,
    cellHeightMm: heightMm / rows,
  };
}

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
 * saves time and loses a share of z^2 / (r^2 + z^2) of its flux, r being the distance reached: 3 % for a thousandth.
 */
export function lightWeights(
  leds: readonly PointMm[],
  grid: LightGrid,
  airGapMm: number,
  ignoredShare = 0,
): LightWeights {
  if (leds.length > most16) throw new Error(`${leds.length} LEDs are more than 16 bits can number`);
  const reach = ignoredShare > 0 ? reachMm(ignoredShare, airGapMm) : Number.POSITIVE_INFINITY;
  const reachMm2 = reach * reach;
  const firstEntry = new Uint32Array(grid.columns * grid.rows + 1);
  const eachEntry = (take: (cell: number, led: number, acrossMm2: number) => void): void => {
    for (let row = 0, cell = 0; row < grid.rows; row++)
      for (let column = 0; column < grid.columns; column++, cell++) {
        const xMm = grid.leftMm + (column + 0.5) * grid.cellWidthMm;
        const yMm = grid.topMm + (row + 0.5) * grid.cellHeightMm;
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
  let entry = 0;
  eachEntry((_, index, acrossMm2) => {
    led[entry] = index;
    weight[entry++] = fluxPerMm2(acrossMm2, airGapMm);
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

/** Light per mm2 of one channel, averaged over the grid, with every LED at full white. 0 without LEDs. */
export function meanWhiteLight({ grid, weight }: LightWeights): number {
  let sum = 0;
  for (const share of weight) sum += share;
  return sum / (grid.columns * grid.rows);
}
