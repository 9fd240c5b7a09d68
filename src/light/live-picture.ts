// Moving pictures without a graphics card: the stages of the reference picture on few pixels, the light worked out on a coarse grid and drawn
// smooth between its cells. Whoever shows it stretches it.
// Not here: the weights (light-map.ts), the pixels (live-pixels.ts), canvases and clocks.
import { gridOf, gridOver } from './grid.ts';
import { type LightWeights, lightMap, lightWeights } from './light-map.ts';
import { pixelPainter } from './live-pixels.ts';
import type { LightScene } from './scene.ts';
import { channelCount, ledFlux } from './sources.ts';
import { type Viewing, viewingFactors } from './viewing.ts';

/** Straight lines between cells then miss an LED's light by at most 1 % of its peak: its curve bends by at most 4 / gap^2 each way. */
const cellsPerAirGap = 7;
/** Coarser cells for a panel that would need more. */
const mostCells = 16_000;
/** An LED whose peak is the screen's white ends in a step of under 2 codes of 255, before the artwork darkens it. */
const ignoredShare = 1 / 2000;

export interface LivePicture {
  readonly columns: number;
  readonly rows: number;
  /** What the LEDs light; for the next scene, which may share most of it. */
  readonly weights: LightWeights;
  /** Fills RGBA pixels with one frame as it goes out. */
  readonly paint: (wireBytes: Uint8Array, viewing: Viewing, pixels: Uint8ClampedArray) => void;
}

/**
 * `ink` as inkTransmission gives it for columns x rows; undefined without artwork. Whatever still holds of the weights of the picture before
 * is taken over: all of them when only the size in pixels is another, and those of LEDs that stayed where they were.
 */
export function livePicture(
  scene: LightScene,
  columns: number,
  rows: number,
  ink: Float32Array | undefined,
  before?: LivePicture,
): LivePicture {
  const { widthMm, heightMm, airGapMm, spreadMm, sources, opening, ways } = scene;
  const whole = { xMm: 0, yMm: 0, widthMm, heightMm };
  const cellMm = Math.max(airGapMm / cellsPerAirGap, Math.sqrt((widthMm * heightMm) / mostCells));
  const coarse = gridOver(whole, cellMm);
  const weights = lightWeights(sources, coarse, airGapMm, ignoredShare, spreadMm, before?.weights, ways);
  const paintPixels = pixelPainter(coarse, gridOf(whole, columns, rows), ink, opening);
  const flux = new Float32Array(sources.length * channelCount);
  const light = new Float64Array(coarse.columns * coarse.rows * channelCount);
  return {
    columns,
    rows,
    weights,
    paint: (wireBytes, viewing, pixels) => {
      lightMap(weights, ledFlux(sources, wireBytes, flux), light);
      paintPixels(light, viewingFactors(scene, viewing), pixels);
    },
  };
}
