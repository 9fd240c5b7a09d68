// The places at which flashes are looked for: cells over the visible opening, and every LED's own place where cells are wider than the glow of
// one LED. Their light comes from the LEDs by the light formula, behind the sheet, as a share of the panel's white.
// Artwork, walls and the room are left out: print only takes light away, and eyes get used to what it leaves.

import { reachMm } from './diffuser.ts';
import { gridOver, type LightGrid } from './grid.ts';
import type { LightScene } from './scene.ts';
import { channelCount } from './sources.ts';
import { spreadFluxPerMm2, spreadTable } from './spread-kernel.ts';

export interface FlashPoints {
  readonly grid: LightGrid;
  /** For each place the cell of the grid whose area it stands for. */
  readonly cellOf: Int32Array;
  /** For each LED on the wire: the places it lights, and how much, 1 the panel's white. */
  readonly leds: readonly { readonly places: Int32Array; readonly weights: Float32Array }[];
}

/** Fine enough for the area of a ten-degree field seen from arm's length; more cells only take time. */
const cellMm = 10;
const mostCells = 500;
/** Light under this share of an LED's peak is left out; what it would have lit there is given to the places nearer by. */
const ignoredShare = 1 / 100;

/** `whiteShare`: the brightness at which the panel's white is meant, 0 to 1. */
export function flashPoints(scene: LightScene, whiteShare: number): FlashPoints {
  const { opening, airGapMm, spreadMm, sources, whiteLight } = scene;
  const sideMm = Math.max(cellMm, Math.sqrt((opening.widthMm * opening.heightMm) / mostCells));
  const grid = gridOver(opening, sideMm);
  const xMm: number[] = [];
  const yMm: number[] = [];
  const cells: number[] = [];
  for (let row = 0; row < grid.rows; row++)
    for (let column = 0; column < grid.columns; column++) {
      xMm.push(grid.leftMm + (column + 0.5) * grid.cellWidthMm);
      yMm.push(grid.topMm + (row + 0.5) * grid.cellHeightMm);
      cells.push(row * grid.columns + column);
    }
  // Half a cell away from its middle an LED of a small gap would go unseen.
  if (airGapMm < Math.max(grid.cellWidthMm, grid.cellHeightMm))
    for (const place of sources) {
      const column = Math.floor((place.xMm - grid.leftMm) / grid.cellWidthMm);
      const row = Math.floor((place.yMm - grid.topMm) / grid.cellHeightMm);
      if (column < 0 || row < 0 || column >= grid.columns || row >= grid.rows) continue;
      xMm.push(place.xMm);
      yMm.push(place.yMm);
      cells.push(row * grid.columns + column);
    }
  const table = spreadTable(airGapMm, spreadMm);
  const reach2 = reachMm(ignoredShare, airGapMm) ** 2;
  // Share of an LED's flux that falls within the reach: the light formula summed over a disc.
  const caught = reach2 / (reach2 + airGapMm * airGapMm);
  const white = whiteLight * whiteShare * caught;
  const leds = sources.map((led) => {
    const places: number[] = [];
    const weights: number[] = [];
    for (let index = 0; index < xMm.length; index++) {
      const across2 = (xMm[index]! - led.xMm) ** 2 + (yMm[index]! - led.yMm) ** 2;
      if (across2 > reach2) continue;
      places.push(index);
      weights.push(spreadFluxPerMm2(across2, airGapMm, table) / white);
    }
    return { places: Int32Array.from(places), weights: Float32Array.from(weights) };
  });
  return { grid, cellOf: Int32Array.from(cells), leds };
}

/** Light of every place for one frame: red, green and blue interleaved. `flux` as ledFlux gives it. */
export function lightAtPoints(
  { leds, cellOf }: FlashPoints,
  flux: Float32Array,
  into: Float32Array,
): Float32Array {
  if (into.length !== cellOf.length * channelCount) throw new Error('the light has another number of places');
  into.fill(0);
  for (const [led, { places, weights }] of leds.entries()) {
    const red = flux[led * channelCount]!;
    const green = flux[led * channelCount + 1]!;
    const blue = flux[led * channelCount + 2]!;
    if (red === 0 && green === 0 && blue === 0) continue;
    for (let i = 0; i < places.length; i++) {
      const to = places[i]! * channelCount;
      const weight = weights[i]!;
      into[to]! += red * weight;
      into[to + 1]! += green * weight;
      into[to + 2]! += blue * weight;
    }
  }
  return into;
}
