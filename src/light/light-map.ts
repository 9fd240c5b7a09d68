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
  const table = spreadTable(airGapMm, spreadMm);
  const xMm = Float64Array.from(leds, (place) => place.xMm);
  const yMm = Float64Array.from(leds, (place) => place.yMm);
  const firstEntry = new Uint32Array(grid.columns * grid.rows + 1);
  let led = new Uint16Array(leds.length * 64);
  let weight = new Float32Array(led.length);
  let entry = 0;
  const near = new Uint16Array(leds.length);
  for (let row = 0, cell = 0; row < grid.rows; row++) {
    const cellYMm = rowMm(grid, row);
    let nearCount = 0;
    for (let index = 0; index < leds.length; index++)
      if ((yMm[index]! - cellYMm) ** 2 <= reachMm2) near[nearCount++] = index;
    for (let column = 0; column < grid.columns; column++) {
      const cellXMm = columnMm(grid, column);
      if (entry + nearCount > led.length) {
        led = enlarged(led, entry + nearCount);
        weight = enlarged(weight, entry + nearCount);
      }
      for (let i = 0; i < nearCount; i++) {
        const index = near[i]!;
        const acrossMm2 = (xMm[index]! - cellXMm) ** 2 + (yMm[index]! - cellYMm) ** 2;
        if (acrossMm2 > reachMm2) continue;
        led[entry] = index;
        weight[entry++] = spreadFluxPerMm2(acrossMm2, airGapMm, table);
      }
      firstEntry[++cell] = entry;
    }
  }
  const own = { led: led.subarray(0, entry), weight: weight.subarray(0, entry) };
  return { grid, ledCount: leds.length, firstEntry, ...own };
}

/** The same numbers with room for at least so many. */
function enlarged<T extends Uint16Array<ArrayBuffer> | Float32Array<ArrayBuffer>>(
  numbers: T,
  least: number,
): T {
  const larger = new (numbers.constructor as new (length: number) => T)(Math.max(least, 2 * numbers.length));
  larger.set(numbers);
  return larger;
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
