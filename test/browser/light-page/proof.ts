// Runs in the browser under test: draws the same frame by WebGL and by the reference and says how far they are apart in linear light.
// Both get the same pixels of artwork, as many as the picture has, so that only the light is compared and not two ways to shrink an image.
import {
  glowOf,
  inkTransmission,
  type LightScene,
  ledFlux,
  lightOfCode,
  lightScene,
  pictureOf,
  pixelGrid,
  shoulderFrom,
  type Viewing,
  viewingFactors,
} from '../../../src/light/index.ts';
import { lightPass } from '../../../src/light/webgl-light.ts';
import { createGlassRenderer, type GlassRenderer } from '../../../src/light/webgl-renderer.ts';
import { waysPass } from '../../../src/light/webgl-ways.ts';
import { layOut } from '../../../src/panel/index.ts';
import { type Project, problemLine, readProject } from '../../../src/project/index.ts';

/** Shadows of walls need finer pixels. */
const usualMmPerPx = 2;
const mmPerPxWithWalls = 0.8;
/**
 * Codes of 8 bits are rough where it is dark: at this code (of 255) and above, one step is at most 2 % of linear light (2.4 / (code + 14), the
 * slope of sRGB's curve). Darker places are compared at longer exposures.
 */
const leastCode = 108;

interface Bench {
  readonly scene: LightScene;
  readonly artwork: HTMLCanvasElement;
  readonly ink: Float32Array;
  readonly renderer: GlassRenderer;
  readonly gl: WebGL2RenderingContext;
}

let bench: Bench | undefined;

async function drawn(mediaType: string, base64: string, width: number, height: number) {
  const image = new Image();
  image.src = `data:${mediaType};base64,${base64}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  canvas.getContext('2d', { willReadFrequently: true })!.drawImage(image, 0, 0, width, height);
  return canvas;
}

/** Opaque black on the left third, nothing on the right one, and half-clear red from top to bottom across the border of it. */
function planted(artwork: HTMLCanvasElement): void {
  const context = artwork.getContext('2d')!;
  const { width, height } = artwork;
  context.fillStyle = '#000';
  context.fillRect(0, 0, width / 3, height);
  context.clearRect((width * 2) / 3, 0, width, height);
  context.clearRect(width / 2, 0, width / 4, height);
  context.fillStyle = 'rgb(200 60 30 / 0.5)';
  context.fillRect(width / 2, 0, width / 4, height);
}

const sheetOfPaper = (scene: LightScene) => pixelGrid(scene, scene.ways ? mmPerPxWithWalls : usualMmPerPx);

type Panel = Project['panel'];

async function setUp(projectText: string, plantedInk: boolean, inBox: Partial<Panel> = {}): Promise<number> {
  const read = readProject(projectText);
  if (!read.ok) throw new Error(read.problems.map(problemLine).join('\n'));
  const project = { ...read.value, panel: { ...read.value.panel, ...inBox } };
  const { panel } = project;
  const scene = lightScene(project, layOut(project));
  const { columns, rows } = sheetOfPaper(scene);
  const artwork = await drawn(panel.artwork!.mediaType, panel.artwork!.base64, columns, rows);
  if (plantedInk) planted(artwork);
  const { data } = artwork.getContext('2d')!.getImageData(0, 0, columns, rows);
  const canvas = document.createElement('canvas');
  const renderer = createGlassRenderer(canvas, true);
  if (!renderer) throw new Error('no WebGL2 with float targets');
  renderer.resize(columns, rows);
  renderer.setScene(scene);
  renderer.setArtwork({ source: artwork, widthPx: columns, heightPx: rows });
  const ink = inkTransmission({ widthPx: columns, heightPx: rows, rgba: data }, columns, rows);
  bench?.renderer.dispose();
  bench = { scene, artwork, ink, renderer, gl: canvas.getContext('webgl2')! };
  return scene.sources.length;
}

/** The canvas's pixels, top row first. */
function shown({ gl }: Bench): Uint8Array {
  const { width, height } = gl.canvas;
  const upsideDown = new Uint8Array(width * height * 4);
  gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, upsideDown);
  const pixels = new Uint8Array(upsideDown.length);
  for (let row = 0; row < height; row++)
    pixels.set(
      upsideDown.subarray((height - 1 - row) * width * 4, (height - row) * width * 4),
      row * width * 4,
    );
  return pixels;
}

export interface Apart {
  /** Worst difference over the reference, where codes are fine enough and below the shoulder. */
  readonly worstShare: number;
  readonly comparedChannels: number;
  /** The same, the difference over the screen's white. */
  readonly worstOfWhite: number;
  /** Worst difference of codes anywhere, the shoulder included. */
  readonly worstCodes: number;
  /** Of the channels that opaque black ink covers, left and right of them too, in a dark room: those that are not code 0 in the WebGL picture. */
  readonly litBlack: number;
  readonly blackChannels: number;
}

/** Compares the picture of a frame at several exposures. */
function comparePictures(wireBytes: Uint8Array, roomLight: number, exposures: readonly number[]): Apart {
  const { scene, ink, renderer } = bench!;
  const grid = sheetOfPaper(scene);
  const flux = ledFlux(scene.sources, wireBytes);
  const { behindSheet } = glowOf(scene.sources, flux, grid, scene.airGapMm, scene, scene.ways);
  const worst = {
    worstShare: 0,
    worstOfWhite: 0,
    comparedChannels: 0,
    worstCodes: 0,
    litBlack: 0,
    blackChannels: 0,
  };
  for (const exposureStops of exposures) {
    const viewing: Viewing = { roomLight, exposureStops };
    renderer.paint(wireBytes, viewing);
    const ours = shown(bench!);
    const factors = viewingFactors(scene, viewing);
    const reference = pictureOf({ grid, behindSheet, ink, opening: scene.opening, factors });
    for (let at = 0; at < reference.length; at++) {
      if (at % 4 === 3) continue;
      const code = reference[at]!;
      const light = lightOfCode[code]!;
      worst.worstCodes = Math.max(worst.worstCodes, Math.abs(ours[at]! - code));
      const inkAt = Math.floor(at / 4) * 3 + (at % 4);
      // Beside clear print a card's filter may let in a 256th of it; so the neighbours must be black too.
      if (roomLight === 0 && [inkAt - 3, inkAt, inkAt + 3].every((place) => ink[place] === 0)) {
        worst.blackChannels++;
        if (ours[at] !== 0) worst.litBlack++;
      }
      if (light <= shoulderFrom)
        worst.worstOfWhite = Math.max(worst.worstOfWhite, Math.abs(lightOfCode[ours[at]!]! - light));
      if (code < leastCode || light > shoulderFrom) continue;
      worst.comparedChannels++;
      worst.worstShare = Math.max(worst.worstShare, Math.abs(lightOfCode[ours[at]!]! / light - 1));
    }
  }
  return worst;
}

export interface LightApart {
  /** Worst difference over the reference. */
  readonly worstShare: number;
  /** Worst difference over the reference's brightest texel. */
  readonly worstOfPeak: number;
  readonly texels: number;
}

/** Light behind the sheet, read back as floats: every texel, however dark. */
function compareLight(wireBytes: Uint8Array): LightApart {
  const { scene } = bench!;
  const gl = document.createElement('canvas').getContext('webgl2')!;
  const pass = scene.ways ? waysPass(gl)! : lightPass(gl)!;
  pass.setScene(scene);
  pass.run(wireBytes);
  const grid = pass.grid();
  const read = new Float32Array(grid.columns * grid.rows * 4);
  gl.readPixels(0, 0, grid.columns, grid.rows, gl.RGBA, gl.FLOAT, read);
  // The reference on cells three times as fine, so that its sampled Gaussian is good; every third of them lies on a texel.
  const fine = {
    ...grid,
    columns: grid.columns * 3,
    rows: grid.rows * 3,
    cellWidthMm: grid.cellWidthMm / 3,
    cellHeightMm: grid.cellHeightMm / 3,
  };
  const flux = ledFlux(scene.sources, wireBytes);
  const { behindSheet } = glowOf(scene.sources, flux, fine, scene.airGapMm, scene, scene.ways);
  let [worstShare, worst, peak] = [0, 0, 0];
  for (let row = 0; row < grid.rows; row++)
    for (let column = 0; column < grid.columns; column++)
      for (let channel = 0; channel < 3; channel++) {
        const expected = behindSheet[((3 * row + 1) * fine.columns + 3 * column + 1) * 3 + channel]!;
        const found = read[(row * grid.columns + column) * 4 + channel]!;
        peak = Math.max(peak, expected);
        worst = Math.max(worst, Math.abs(found - expected));
        if (expected > 0) worstShare = Math.max(worstShare, Math.abs(found / expected - 1));
        else if (found !== 0) worstShare = Number.POSITIVE_INFINITY;
      }
  pass.dispose();
  return { worstShare, worstOfPeak: worst / peak, texels: grid.columns * grid.rows };
}

/** Whether the picture is the same after the context was lost and given back. */
async function sameAfterLoss(wireBytes: Uint8Array): Promise<{ lost: boolean; same: boolean; lit: boolean }> {
  const { gl, renderer } = bench!;
  renderer.paint(wireBytes, { roomLight: 0, exposureStops: 0 });
  const before = shown(bench!);
  const loss = gl.getExtension('WEBGL_lose_context')!;
  const canvas = gl.canvas as HTMLCanvasElement;
  const event = (name: string) =>
    new Promise<void>((resolve) => canvas.addEventListener(name, () => resolve(), { once: true }));
  const gone = event('webglcontextlost');
  loss.loseContext();
  await gone;
  const lost = gl.isContextLost();
  // The browser lets it be restored only once all listeners of the loss have run.
  await new Promise((resolve) => setTimeout(resolve));
  // A frame that comes meanwhile must do no harm.
  renderer.paint(wireBytes, { roomLight: 0, exposureStops: 0 });
  let after = new Uint8Array(0);
  const back = new Promise<void>((resolve) =>
    canvas.addEventListener(
      'webglcontextrestored',
      () => {
        after = shown(bench!).slice();
        resolve();
      },
      { once: true },
    ),
  );
  loss.restoreContext();
  await back;
  return {
    lost,
    same: after.length === before.length && after.every((code, i) => code === before[i]),
    lit: before.some((code, i) => i % 4 !== 3 && code > 100),
  };
}

/** Uploads of images, readbacks and script time while a run is dragged through so many steps. */
function drag(wireBytes: Uint8Array, steps: number) {
  const { gl, renderer, scene } = bench!;
  const calls = { images: 0, readbacks: 0 };
  const { texImage2D, readPixels } = gl;
  gl.texImage2D = ((...args: unknown[]) => {
    calls.images++;
    return (texImage2D as (...all: unknown[]) => void).apply(gl, args);
  }) as typeof gl.texImage2D;
  gl.readPixels = ((...args: unknown[]) => {
    calls.readbacks++;
    return (readPixels as (...all: unknown[]) => void).apply(gl, args);
  }) as typeof gl.readPixels;
  const began = performance.now();
  for (let step = 0; step < steps; step++) {
    renderer.setScene({
      ...scene,
      sources: scene.sources.map((source, led) =>
        led < 20 ? { ...source, xMm: source.xMm + step } : source,
      ),
    });
    renderer.paint(wireBytes, { roomLight: 0, exposureStops: 0 });
  }
  const scriptMsPerStep = (performance.now() - began) / steps;
  gl.texImage2D = texImage2D;
  gl.readPixels = readPixels;
  renderer.setScene(scene);
  return { ...calls, scriptMsPerStep };
}

const proof = { setUp, comparePictures, compareLight, sameAfterLoss, drag };
export type Proof = typeof proof;
Object.assign(globalThis, { proof });
