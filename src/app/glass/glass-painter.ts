// Paints one frame of the glass on a canvas: the light map, drawn large and smooth, with the artwork multiplied in.
// The light map is small, because behind an air gap nothing changes within a fraction of that gap. Multiplying encoded colours stands for
// multiplying light: encoding is nearly a power, and a product of powers is the power of the product (exact behind white print).
// Not here: where LEDs and light are (src/light), when to paint (glass.tsx).
import {
  exposureGain,
  gridOver,
  ledFlux,
  lightMap,
  lightSources,
  lightWeights,
  meanWhiteLight,
  screenPixels,
} from '../../light/index.ts';
import type { OpenedProject } from '../opening/open-project.ts';

/** Straight lines between cells then miss an LED's light by at most 1 % of its peak: its curve bends by at most 4 / gap^2. */
const cellsPerAirGap = 7;
/** Coarser cells for a panel that would need more. 10,000 with 284 LEDs took 10 ms a frame, painting included, without a graphics card. */
const mostCells = 16_000;
/** An LED whose peak is the screen's white ends in a step of under 2 codes of 255, before the artwork darkens it. */
const ignoredShare = 1 / 2000;
/** By eye: shows run far below full white, so that level lands well above the screen's. */
const stopsAboveWhite = 0.9;
/** In a lit room eyes and cameras close down: the LEDs lose this many stops there. */
const stopsLostInLitRoom = 0.7;
/** Share of a lit room's light that the print reflects. */
const printReflects = 0.7;
/** Perceived lightness runs with about this power of light, so the slider feels even. */
const roomPower = 2.2;

const contextOf = (canvas: HTMLCanvasElement): CanvasRenderingContext2D => {
  const context = canvas.getContext('2d', { alpha: false });
  if (!context) throw new Error('this browser gives no 2D canvas');
  return context;
};

export function openingOf({ panel }: OpenedProject['project']) {
  return panel.opening ?? { xMm: 0, yMm: 0, widthMm: panel.widthMm, heightMm: panel.heightMm };
}

export class GlassPainter {
  private readonly opened: OpenedProject;
  private readonly sources;
  private readonly weights;
  private readonly whiteLight: number;
  private readonly flux: Float32Array;
  private readonly light: Float32Array;
  private readonly small: CanvasRenderingContext2D;
  private readonly pixels: ImageData;
  private readonly print: CanvasRenderingContext2D;
  private readonly glass: CanvasRenderingContext2D;

  constructor(canvas: HTMLCanvasElement, opened: OpenedProject) {
    const { project, examination } = opened;
    const opening = openingOf(project);
    const { airGapMm } = project.panel;
    const cellMm = Math.max(
      airGapMm / cellsPerAirGap,
      Math.sqrt((opening.widthMm * opening.heightMm) / mostCells),
    );
    const grid = gridOver(opening, cellMm);
    this.opened = opened;
    this.sources = lightSources(examination.layout);
    this.weights = lightWeights(this.sources, grid, airGapMm, ignoredShare);
    this.whiteLight = meanWhiteLight(this.weights);
    this.flux = new Float32Array(this.sources.length * 3);
    this.light = new Float32Array(grid.columns * grid.rows * 3);
    this.small = contextOf(document.createElement('canvas'));
    this.small.canvas.width = grid.columns;
    this.small.canvas.height = grid.rows;
    this.pixels = this.small.createImageData(grid.columns, grid.rows);
    this.print = contextOf(document.createElement('canvas'));
    this.glass = contextOf(canvas);
  }

  /** Pixels of the glass; the artwork is drawn anew, as sharp as they allow. */
  resize(widthPx: number, heightPx: number): void {
    for (const { canvas } of [this.print, this.glass]) {
      canvas.width = widthPx;
      canvas.height = heightPx;
    }
    const { project, artwork } = this.opened;
    const opening = openingOf(project);
    this.print.fillStyle = '#fff';
    this.print.fillRect(0, 0, widthPx, heightPx);
    if (!artwork) return;
    const pxPerMmAcross = widthPx / opening.widthMm;
    const pxPerMmDown = heightPx / opening.heightMm;
    this.print.imageSmoothingQuality = 'high';
    this.print.drawImage(
      artwork,
      -opening.xMm * pxPerMmAcross,
      -opening.yMm * pxPerMmDown,
      project.panel.widthMm * pxPerMmAcross,
      project.panel.heightMm * pxPerMmDown,
    );
  }

  /** `roomLight` 0 dark to 1 lit. */
  paint(wireBytes: Uint8Array, roomLight: number): void {
    const gain = exposureGain(this.whiteLight, stopsAboveWhite - stopsLostInLitRoom * roomLight);
    lightMap(this.weights, ledFlux(this.sources, wireBytes, this.flux), this.light);
    screenPixels(this.light, gain, printReflects * roomLight ** roomPower, this.pixels.data);
    this.small.putImageData(this.pixels, 0, 0);
    const { glass, print, small } = this;
    const { width, height } = glass.canvas;
    glass.globalCompositeOperation = 'copy';
    glass.imageSmoothingEnabled = true;
    glass.imageSmoothingQuality = 'high';
    glass.drawImage(small.canvas, 0, 0, width, height);
    glass.globalCompositeOperation = 'multiply';
    glass.drawImage(print.canvas, 0, 0);
    // The pixels are half codes: added to themselves they are whole.
    glass.globalCompositeOperation = 'lighter';
    glass.drawImage(glass.canvas, 0, 0);
  }
}
