// How even the whole panel looks before anything is cut: the light on the diffuser's face over the visible opening with every LED white, what its
// spread comes to, the same for each area, and the places where it is darkest.
// The light is the picture's (the same sum as face.ts, of every LED at every cell, none left out), in one channel, since white is alike in all.
// Walls and channel lips cut it as they cut the picture's. Not here: the sheet's spread, which only helps; endless grids (evenness-ripple.ts).
import {
  type AreaLed,
  builtRun,
  distanceToLineMm,
  edgesOf,
  hullOf,
  isInside,
  type Layout,
  type Led,
  type PointMm,
} from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { fluxPerMm2 } from './diffuser.ts';
import { lightAt, placesAlong } from './evenness.ts';
import type { RectangleMm } from './grid.ts';
import { type LightWays, lightWays, openShare } from './light-ways.ts';
import { eachLitCell } from './lit-cells.ts';
import { openingOf } from './scene.ts';

/** What is told of the light at many places, per mm2 for one unit of flux an LED. All 0 where there is no place, or no light. */
export interface EvennessFigures {
  readonly mean: number;
  readonly least: number;
  readonly greatest: number;
  /** 1 is perfectly even. */
  readonly minByMean: number;
  readonly minByMax: number;
  /** (greatest - least) / (greatest + least); 0 is perfectly even. */
  readonly michelson: number;
  /** Standard deviation by mean. */
  readonly cv: number;
}

export interface EvennessMap extends EvennessFigures {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPx: number;
  readonly airGapMm: number;
  /** Those that shine. */
  readonly leds: readonly PointMm[];
  /** By LED, where something is in the light's way. */
  readonly ways: LightWays | undefined;
  /** Light at the middle of each pixel, row by row from the top left; no number (NaN) where it doesn't count. */
  readonly light: Float32Array<ArrayBuffer>;
}

export interface EvennessOptions {
  /** Edge of a pixel; 2.5 where absent, or coarser where the map would take long. */
  readonly mmPerPx?: number;
  /** A closed outline, inside of which alone the light counts; the whole opening where absent. */
  readonly within?: readonly PointMm[];
}

const usualMmPerPx = 2.5;
/** Shares of an LED at a pixel that are summed up in about a tenth of a second. */
const mostShares = 40e6;
/** Light that walls may cut takes about so many times as long as light that nothing is in the way of. */
const sharesPerWay = 8;

/** LEDs that are to shine: of all runs, whether a chain passes them yet or not; without runs that were skipped, spare, dead and bypassed LEDs. */
const shiningLeds = (project: Pick<Project, 'asBuilt'>, layout: Layout): Led[] =>
  layout.runs
    .filter(({ run }) => !builtRun(project, run.id).skipped)
    .flatMap(({ leds }) => leds.filter(({ spare, dead, bypassed }) => !spare && !dead && !bypassed));

export function figuresOf(light: ArrayLike<number>): EvennessFigures {
  let [count, sum, least, greatest] = [0, 0, Number.POSITIVE_INFINITY, 0];
  for (let i = 0; i < light.length; i++) {
    const value = light[i]!;
    if (Number.isNaN(value)) continue;
    count++;
    sum += value;
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  if (greatest === 0)
    return { mean: 0, least: 0, greatest: 0, minByMean: 0, minByMax: 0, michelson: 0, cv: 0 };
  const mean = sum / count;
  let squares = 0;
  for (let i = 0; i < light.length; i++) if (!Number.isNaN(light[i]!)) squares += (light[i]! - mean) ** 2;
  return {
    mean,
    least,
    greatest,
    minByMean: least / mean,
    minByMax: least / greatest,
    michelson: (greatest - least) / (greatest + least),
    cv: Math.sqrt(squares / count) / mean,
  };
}

/** The rectangle that is looked at: the opening, or as much of it as the outline spans. */
function lookedAt(opening: RectangleMm, within: readonly PointMm[] | undefined): RectangleMm {
  if (!within) return opening;
  const across = within.map((point) => point.xMm);
  const down = within.map((point) => point.yMm);
  const xMm = Math.max(opening.xMm, Math.min(...across));
  const yMm = Math.max(opening.yMm, Math.min(...down));
  const rightMm = Math.min(opening.xMm + opening.widthMm, Math.max(...across));
  const bottomMm = Math.min(opening.yMm + opening.heightMm, Math.max(...down));
  return { xMm, yMm, widthMm: Math.max(0, rightMm - xMm), heightMm: Math.max(0, bottomMm - yMm) };
}

const isInRectangle = ({ xMm, yMm, widthMm, heightMm }: RectangleMm, place: PointMm): boolean =>
  place.xMm >= xMm && place.xMm <= xMm + widthMm && place.yMm >= yMm && place.yMm <= yMm + heightMm;

/** The light over the opening, or over the part of it inside an outline. */
export function evennessMap(
  project: Pick<Project, 'panel' | 'asBuilt'>,
  layout: Layout,
  { mmPerPx, within }: EvennessOptions = {},
): EvennessMap {
  const { panel } = project;
  const leds = shiningLeds(project, layout);
  const opening = openingOf(panel);
  const { xMm: leftMm, yMm: topMm, widthMm, heightMm } = lookedAt(opening, within);
  const ways = lightWays(panel, layout, leds);
  const shares = ways ? ways.reduce((sum, own) => sum + own.length, 0) * sharesPerWay : leds.length;
  const coarsest = Math.sqrt((widthMm * heightMm * shares) / mostShares);
  const pixelMm = mmPerPx ?? Math.max(usualMmPerPx, coarsest);
  const widthPx = Math.max(1, Math.round(widthMm / pixelMm));
  const heightPx = Math.max(1, Math.round(heightMm / pixelMm));
  const { airGapMm } = panel;
  const grid = { leftMm, topMm, widthPx, heightPx, mmPerPx: pixelMm };
  const light = ways ? lightByWays(ways, airGapMm, grid) : summedLight(leds, airGapMm, grid);
  const map = { ...grid, airGapMm, leds, ways, light };
  if (within)
    for (let at = 0; at < light.length; at++) {
      const place = placeOf(map, at);
      if (!isInside(within, place) || !isInRectangle(opening, place)) light[at] = Number.NaN;
    }
  return { ...map, ...figuresOf(light) };
}

type MapGrid = Pick<EvennessMap, 'leftMm' | 'topMm' | 'widthPx' | 'heightPx' | 'mmPerPx'>;

/** Middle of a pixel by its number. */
const placeOf = ({ leftMm, topMm, widthPx, mmPerPx }: MapGrid, at: number): PointMm => ({
  xMm: leftMm + ((at % widthPx) + 0.5) * mmPerPx,
  yMm: topMm + (Math.floor(at / widthPx) + 0.5) * mmPerPx,
});

function summedLight(leds: readonly PointMm[], airGapMm: number, grid: MapGrid): Float32Array<ArrayBuffer> {
  const { leftMm, topMm, widthPx, heightPx, mmPerPx } = grid;
  const light = new Float32Array(widthPx * heightPx);
  const gapMm2 = airGapMm * airGapMm;
  const strength = gapMm2 / Math.PI;
  const xMm = Float64Array.from({ length: widthPx }, (_, column) => leftMm + (column + 0.5) * mmPerPx);
  // One row is summed in double precision, so that hundreds of faint shares aren't rounded away.
  const sums = new Float64Array(widthPx);
  for (let row = 0; row < heightPx; row++) {
    sums.fill(0);
    const yMm = topMm + (row + 0.5) * mmPerPx;
    for (const led of leds) {
      const downAndGapMm2 = (led.yMm - yMm) ** 2 + gapMm2;
      const ledXMm = led.xMm;
      for (let column = 0; column < widthPx; column++) {
        const across = xMm[column]! - ledXMm;
        const distanceMm2 = across * across + downAndGapMm2;
        sums[column]! += strength / (distanceMm2 * distanceMm2);
      }
    }
    light.set(sums, row * widthPx);
  }
  return light;
}

/** Light per mm2 at a place by the ways that light takes, every LED shining with one unit of flux. */
const lightOfWays = (ways: LightWays, { xMm, yMm }: PointMm, airGapMm: number, softMm: number): number => {
  let sum = 0;
  for (const own of ways)
    for (const way of own) {
      const open = openShare(way, xMm, yMm, softMm);
      if (open > 0)
        sum += way.share * open * fluxPerMm2((xMm - way.xMm) ** 2 + (yMm - way.yMm) ** 2, airGapMm);
    }
  return sum;
};

function lightByWays(ways: LightWays, airGapMm: number, grid: MapGrid): Float32Array<ArrayBuffer> {
  const { leftMm, topMm, widthPx: columns, heightPx: rows, mmPerPx } = grid;
  const cells = { leftMm, topMm, columns, rows, cellWidthMm: mmPerPx, cellHeightMm: mmPerPx };
  // In double precision, so that hundreds of faint shares aren't rounded away.
  const light = new Float64Array(columns * rows);
  for (const own of ways)
    for (const way of own)
      eachLitCell(way, cells, mmPerPx, (row, column, xMm, yMm, open) => {
        const acrossMm2 = (xMm - way.xMm) ** 2 + (yMm - way.yMm) ** 2;
        light[row * columns + column]! += way.share * open * fluxPerMm2(acrossMm2, airGapMm);
      });
  return Float32Array.from(light);
}

/** Fewer pixels than this say nothing about a shape. */
const fewestPixels = 8;
/** The outermost pixels of a shape lie no farther than this from its outline. */
const edgePixels = 1.5;

export interface AreaEvenness extends EvennessFigures {
  /** Whether its darkest place lies on its outline, or at its ends. */
  readonly isDarkestAtEdge: boolean;
}

/**
 * How even one area is: over the pixels of the map inside the convex outline of its LEDs, or where that is as thin as a row, along its runs. A sparse
 * panel is dark between its areas on purpose, so these figures say more than the whole map's.
 * @param area as areaLeds gives it for the same layout
 */
export function evennessOfArea(map: EvennessMap, layout: Layout, area: readonly AreaLed[]): AreaEvenness {
  const hull = hullOf(area.map(({ wire }) => layout.wireLeds[wire]!));
  const inside: number[] = [];
  if (hull.length > 2)
    for (const [at, light] of map.light.entries())
      if (!Number.isNaN(light) && isInside(hull, placeOf(map, at))) inside.push(at);
  if (inside.length < fewestPixels) {
    const light = placesAlong(layout, area).map((place) =>
      map.ways
        ? lightOfWays(map.ways, place, map.airGapMm, map.mmPerPx)
        : lightAt(map.leds, place, map.airGapMm),
    );
    const figures = figuresOf(light);
    const darkest = light.indexOf(figures.least);
    return { ...figures, isDarkestAtEdge: darkest === 0 || darkest === light.length - 1 };
  }
  const figures = figuresOf(inside.map((at) => map.light[at]!));
  const darkest = placeOf(map, inside.find((at) => map.light[at] === figures.least) ?? inside[0]!);
  const toEdgeMm = Math.min(...edgesOf(hull).map(([a, b]) => distanceToLineMm(a, b, darkest)));
  return { ...figures, isDarkestAtEdge: toEdgeMm <= edgePixels * map.mmPerPx };
}

export interface DarkPlace extends PointMm {
  /** The light there by the map's mean. */
  readonly byMean: number;
}

/** A spot of light is about two air gaps wide, so darkness nearer than that is the same darkness. */
const gapsApart = 2;

/** Up to `count` places darker than all around them, the darkest first, at least two air gaps from each other; none without light. */
export function worstPlaces(map: EvennessMap, count: number): DarkPlace[] {
  const { light, airGapMm, mean } = map;
  if (mean === 0) return [];
  const dark: number[] = [];
  for (let at = 0; at < light.length; at++) if (isDarkest(map, at)) dark.push(at);
  dark.sort((a, b) => light[a]! - light[b]! || a - b);
  const places: DarkPlace[] = [];
  for (const at of dark) {
    if (places.length >= count) break;
    const place = placeOf(map, at);
    const isNew = places.every(
      ({ xMm, yMm }) => Math.hypot(xMm - place.xMm, yMm - place.yMm) >= gapsApart * airGapMm,
    );
    if (isNew) places.push({ ...place, byMean: light[at]! / mean });
  }
  return places;
}

/** Whether no pixel beside this one that counts is darker. */
function isDarkest({ light, widthPx, heightPx }: EvennessMap, at: number): boolean {
  const own = light[at]!;
  if (Number.isNaN(own)) return false;
  const column = at % widthPx;
  const row = Math.floor(at / widthPx);
  for (let y = Math.max(0, row - 1); y <= Math.min(heightPx - 1, row + 1); y++)
    for (let x = Math.max(0, column - 1); x <= Math.min(widthPx - 1, column + 1); x++)
      if (light[y * widthPx + x]! < own) return false;
  return true;
}
