// Moving pictures without a graphics card: the stages of the reference picture on few pixels, the light worked out on a coarse grid and drawn
// smooth between its cells. Whoever shows it stretches it.
// Not here: canvases and clocks.
import { gridOf, gridOver, type LightGrid } from './grid.ts';
import { lightMap, lightWeights } from './light-map.ts';
import { pictureOf } from './picture.ts';
import type { LightScene } from './scene.ts';
import { channelCount, ledFlux } from './sources.ts';
import { type Viewing, viewingFactors } from './viewing.ts';

/** Straight lines between cells then miss an LED's light by at most 1 % of its peak: its curve bends by at most 4 / gap^2 each way. */
const cellsPerAirGap = 7;
/** Coarser cells for a panel that would need more. */
const mostCells = 16_000;
/** An LED whose peak is the screen's white ends in a step of under 2 codes of 255, before the artwork darkens it. */
const ignoredShare = 1 / 2000;

/** Where a line of fine cells lies among coarse ones: the one before, the one after, and how far between. */
function between(fine: number, coarse: number) {
  const low = new Uint32Array(fine);
  const high = new Uint32Array(fine);
  const share = new Float32Array(fine);
  for (let i = 0; i < fine; i++) {
    const place = Math.max(0, Math.min(coarse - 1, ((i + 0.5) * coarse) / fine - 0.5));
    low[i] = Math.floor(place);
    high[i] = Math.min(coarse - 1, low[i]! + 1);
    share[i] = place - low[i]!;
  }
  return { low, high, share };
}

/** A map over one grid drawn on a finer one over the same rectangle, straight lines between cells. */
function enlarge(map: Float32Array, from: LightGrid, to: LightGrid, into: Float32Array): void {
  const across = between(to.columns, from.columns);
  const down = between(to.rows, from.rows);
  const line = new Float32Array(from.columns * channelCount);
  for (let row = 0, at = 0; row < to.rows; row++) {
    const upper = down.low[row]! * line.length;
    const lower = down.high[row]! * line.length;
    const share = down.share[row]!;
    for (let i = 0; i < line.length; i++) {
      const above = map[upper + i]!;
      line[i] = above + share * (map[lower + i]! - above);
    }
    for (let column = 0; column < to.columns; column++) {
      const left = across.low[column]! * channelCount;
      const right = across.high[column]! * channelCount;
      const part = across.share[column]!;
      for (let channel = 0; channel < channelCount; channel++, at++) {
        const before = line[left + channel]!;
        into[at] = before + part * (line[right + channel]! - before);
      }
    }
  }
}

export interface LivePicture {
  readonly columns: number;
  readonly rows: number;
  /** Fills RGBA pixels with one frame as it goes out. */
  readonly paint: (wireBytes: Uint8Array, viewing: Viewing, pixels: Uint8ClampedArray) => void;
}

/** `ink` as inkTransmission gives it for columns x rows; undefined without artwork. */
export function livePicture(
  scene: LightScene,
  columns: number,
  rows: number,
  ink: Float32Array | undefined,
): LivePicture {
  const { widthMm, heightMm, airGapMm, spreadMm, sources, opening } = scene;
  const whole = { xMm: 0, yMm: 0, widthMm, heightMm };
  const cellMm = Math.max(airGapMm / cellsPerAirGap, Math.sqrt((widthMm * heightMm) / mostCells));
  const coarse = gridOver(whole, cellMm);
  const grid = gridOf(whole, columns, rows);
  const weights = lightWeights(sources, coarse, airGapMm, ignoredShare, spreadMm);
  const flux = new Float32Array(sources.length * channelCount);
  const light = new Float32Array(coarse.columns * coarse.rows * channelCount);
  const behindSheet = new Float32Array(columns * rows * channelCount);
  return {
    columns,
    rows,
    paint: (wireBytes, viewing, pixels) => {
      lightMap(weights, ledFlux(sources, wireBytes, flux), light);
      enlarge(light, coarse, grid, behindSheet);
      pictureOf({ grid, behindSheet, ink, opening, factors: viewingFactors(scene, viewing) }, pixels);
    },
  };
}
