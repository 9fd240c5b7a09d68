// The light map for moving pictures without a graphics card: light on a coarse grid as a weighted sum of the LEDs' flux. Weights depend on places
// only. They are kept LED by LED, so that an edit that moves some LEDs works out those alone, and a frame is multiply and add for LEDs that
// shine. LEDs' places are exact, never rounded to cells. Walls and lips cut the weights as they cut the reference's light, but their shadows' edges
// are as soft as the sheet and the cells make them.
// Not here: the reference (face.ts), where flux comes from (sources.ts), how light looks on a screen (screen.ts).
import type { PointMm } from '../panel/index.ts';
import { reachMm } from './diffuser.ts';
import { columnMm, type LightGrid, rowMm } from './grid.ts';
import type { LightWay, LightWays } from './light-ways.ts';
import { eachLitCell } from './lit-cells.ts';
import { channelCount } from './sources.ts';
import { spreadFluxPerMm2, spreadTable } from './spread-kernel.ts';

/** What one LED lights. It never changes once made, so maps that have an LED at the same place share it. */
export interface LedWeights {
  /** The cells within reach, one stretch for each row of the grid: the first cell, how many cells, the next stretch's first cell... */
  readonly stretches: Uint32Array;
  /** Light per mm2 for 1 unit of flux, cell by cell through all stretches. */
  readonly weight: Float32Array;
}

export interface LightWeights {
  readonly grid: LightGrid;
  readonly airGapMm: number;
  readonly ignoredShare: number;
  readonly spreadMm: number;
  /** As spreadTable gives it. */
  readonly table: Float32Array;
  readonly places: readonly PointMm[];
  readonly ways: LightWays | undefined;
  /** In the order of the places. */
  readonly leds: readonly LedWeights[];
}

/**
 * Weights of all LEDs. `ignoredShare` 0 is exact; above 0, an LED is left out where its light is under that share of its peak, which
 * saves time and loses a share of z^2 / (r^2 + z^2) of its flux, r being the distance reached: 3 % for a thousandth. With a `spreadMm` it is
 * the light behind a sheet of that spread, else on the face. Whatever still holds of `known` is taken over. `ways` as lightWays gives them for
 * these places.
 */
export function lightWeights(
  places: readonly PointMm[],
  grid: LightGrid,
  airGapMm: number,
  ignoredShare = 0,
  spreadMm = 0,
  known?: LightWeights,
  ways?: LightWays,
): LightWeights {
  const usable = known && isOf(known, grid, airGapMm, ignoredShare, spreadMm) ? known : undefined;
  const table = usable?.table ?? spreadTable(airGapMm, spreadMm);
  const map = { grid, airGapMm, ignoredShare, spreadMm, table };
  const xMm = Float64Array.from({ length: grid.columns }, (_, column) => columnMm(grid, column));
  const byPlace = usable ? ledsByPlace(usable) : undefined;
  const leds = places.map((place, index) => {
    const own = ways?.[index];
    const before = byPlace?.get(place.xMm)?.get(place.yMm);
    if (before && isSameWays(before.ways, own)) return before.weights;
    return own ? wayWeights(place, own, map, xMm) : ledWeights(place, map, xMm);
  });
  return { ...map, places, ways, leds };
}

const gridKeys = ['leftMm', 'topMm', 'columns', 'rows', 'cellWidthMm', 'cellHeightMm'] as const;

const isOf = (
  known: LightWeights,
  grid: LightGrid,
  airGapMm: number,
  ignoredShare: number,
  spreadMm: number,
) =>
  known.airGapMm === airGapMm &&
  known.ignoredShare === ignoredShare &&
  known.spreadMm === spreadMm &&
  gridKeys.every((key) => known.grid[key] === grid[key]);

interface KnownLed {
  readonly weights: LedWeights;
  readonly ways: readonly LightWay[] | undefined;
}

/** By x, then by y: an edit may change which number an LED has, and numbers are found quicker than text made of them. */
function ledsByPlace({ places, ways, leds }: LightWeights): Map<number, Map<number, KnownLed>> {
  const byPlace = new Map<number, Map<number, KnownLed>>();
  for (const [index, { xMm, yMm }] of places.entries()) {
    const column = byPlace.get(xMm) ?? new Map<number, KnownLed>();
    byPlace.set(xMm, column.set(yMm, { weights: leds[index]!, ways: ways?.[index] }));
  }
  return byPlace;
}

const isSameRegions = (one: readonly Float64Array[], other: readonly Float64Array[]): boolean =>
  one.length === other.length &&
  one.every((region, i) => {
    const second = other[i]!;
    return region.length === second.length && region.every((n, at) => n === second[at]);
  });

/** Whether light goes the same ways from a place as before. */
const isSameWays = (one: readonly LightWay[] | undefined, other: readonly LightWay[] | undefined): boolean =>
  one === other ||
  (one !== undefined &&
    other !== undefined &&
    one.length === other.length &&
    one.every((way, i) => {
      const second = other[i]!;
      return (
        way.share === second.share &&
        isSameRegions(way.within, second.within) &&
        isSameRegions(way.shadows, second.shadows)
      );
    }));

/** A Gaussian of this standard deviation blurs an edge as much as a straight ramp of so many times its width. */
const rampPerSigma = Math.sqrt(12);

/**
 * Weights of an LED whose light goes several ways. Light by way of a wall has come farther than straight light where both fall, so it
 * ends within the same reach.
 */
function wayWeights(
  place: PointMm,
  ways: readonly LightWay[],
  map: Omit<LightWeights, 'places' | 'ways' | 'leds'>,
  xMm: Float64Array,
): LedWeights {
  const { grid, airGapMm, table, spreadMm } = map;
  const { stretches, weight } = ledWeights(place, map, xMm);
  weight.fill(0);
  const softMm = Math.hypot((grid.cellWidthMm + grid.cellHeightMm) / 2, rampPerSigma * spreadMm);
  // By row of the grid: its first cell within reach, the end of those, and where their weights begin.
  const spans = new Int32Array(3 * grid.rows);
  for (let i = 0, at = 0; i < stretches.length; i += 2) {
    const row = Math.floor(stretches[i]! / grid.columns);
    const first = stretches[i]! - row * grid.columns;
    spans.set([first, first + stretches[i + 1]!, at], 3 * row);
    at += stretches[i + 1]!;
  }
  for (const way of ways)
    eachLitCell(way, grid, softMm, (row, column, x, y, open) => {
      const first = spans[3 * row]!;
      if (column < first || column >= spans[3 * row + 1]!) return;
      const acrossMm2 = (x - way.xMm) ** 2 + (y - way.yMm) ** 2;
      weight[spans[3 * row + 2]! + column - first]! +=
        way.share * open * spreadFluxPerMm2(acrossMm2, airGapMm, table);
    });
  return { stretches, weight };
}

function ledWeights(
  place: PointMm,
  { grid, airGapMm, ignoredShare, table }: Omit<LightWeights, 'places' | 'ways' | 'leds'>,
  xMm: Float64Array,
): LedWeights {
  const reach = ignoredShare > 0 ? reachMm(ignoredShare, airGapMm) : Number.POSITIVE_INFINITY;
  const stretches = stretchesAround(place, grid, reach);
  let cells = 0;
  for (let i = 1; i < stretches.length; i += 2) cells += stretches[i]!;
  const weight = new Float32Array(cells);
  for (let i = 0, at = 0; i < stretches.length; i += 2) {
    const row = Math.floor(stretches[i]! / grid.columns);
    const downMm2 = (rowMm(grid, row) - place.yMm) ** 2;
    const column = stretches[i]! - row * grid.columns;
    const end = column + stretches[i + 1]!;
    for (let to = column; to < end; to++) {
      const across = xMm[to]! - place.xMm;
      weight[at++] = spreadFluxPerMm2(across * across + downMm2, airGapMm, table);
    }
  }
  return { stretches, weight };
}

/** The cells whose middles are at most `reach` mm away. */
function stretchesAround({ xMm, yMm }: PointMm, grid: LightGrid, reach: number): Uint32Array {
  const { leftMm, topMm, columns, rows, cellWidthMm, cellHeightMm } = grid;
  const firstRow = Math.max(0, Math.ceil((yMm - reach - topMm) / cellHeightMm - 0.5));
  const lastRow = Math.min(rows - 1, Math.floor((yMm + reach - topMm) / cellHeightMm - 0.5));
  const stretches = new Uint32Array(2 * Math.max(0, lastRow - firstRow + 1));
  let filled = 0;
  for (let row = firstRow; row <= lastRow; row++) {
    // Right at the rim rounding may take the root of a little less than nothing.
    const half = Math.sqrt(Math.max(0, reach * reach - (rowMm(grid, row) - yMm) ** 2));
    const first = Math.max(0, Math.ceil((xMm - half - leftMm) / cellWidthMm - 0.5));
    const last = Math.min(columns - 1, Math.floor((xMm + half - leftMm) / cellWidthMm - 0.5));
    if (first > last) continue;
    stretches[filled++] = row * columns + first;
    stretches[filled++] = last - first + 1;
  }
  return stretches.subarray(0, filled);
}

/** Linear light per mm2 of every cell, row by row, red, green and blue interleaved. `flux` as ledFlux gives it. */
export function lightMap(
  { grid, leds }: LightWeights,
  flux: Float32Array,
  // In double precision, so that hundreds of faint shares aren't rounded away.
  into: Float64Array = new Float64Array(grid.columns * grid.rows * channelCount),
): Float64Array {
  if (flux.length !== leds.length * channelCount)
    throw new Error(`${leds.length} LEDs need ${leds.length * channelCount} values, not ${flux.length}`);
  into.fill(0);
  for (let index = 0; index < leds.length; index++) {
    const red = flux[index * channelCount]!;
    const green = flux[index * channelCount + 1]!;
    const blue = flux[index * channelCount + 2]!;
    const led = leds[index]!;
    const lit = Number(red > 0) + Number(green > 0) + Number(blue > 0);
    // Going through the weights twice takes longer than adding nothing to the third channel.
    if (lit > 1) addColour(led, red, green, blue, into);
    else if (red > 0) addChannel(led, red, 0, into);
    else if (green > 0) addChannel(led, green, 1, into);
    else if (blue > 0) addChannel(led, blue, 2, into);
  }
  return into;
}

function addColour(
  { stretches, weight }: LedWeights,
  red: number,
  green: number,
  blue: number,
  into: Float64Array,
): void {
  for (let i = 0, at = 0; i < stretches.length; i += 2) {
    let to = stretches[i]! * channelCount;
    for (const end = at + stretches[i + 1]!; at < end; at++, to += channelCount) {
      const share = weight[at]!;
      into[to]! += red * share;
      into[to + 1]! += green * share;
      into[to + 2]! += blue * share;
    }
  }
}

function addChannel(
  { stretches, weight }: LedWeights,
  flux: number,
  channel: number,
  into: Float64Array,
): void {
  for (let i = 0, at = 0; i < stretches.length; i += 2) {
    let to = stretches[i]! * channelCount + channel;
    for (const end = at + stretches[i + 1]!; at < end; at++, to += channelCount)
      into[to]! += flux * weight[at]!;
  }
}
