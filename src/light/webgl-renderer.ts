// The lit panel on a canvas by WebGL2: light behind the sheet (webgl-light.ts), then one pass that adds ink, room, exposure and encoding.
// The canvas stands for exactly the panel's rectangle. A lost context is built up again when the browser gives it back.
// Not here: the reference (picture.ts), with which this agrees within 2 % of linear light; sizes and frames, which the page decides.
import type { LightScene } from './scene.ts';
import { type Viewing, viewingFactors } from './viewing.ts';
import { type ArtworkPixels, type InkTexture, inkTexture } from './webgl-ink.ts';
import { type LightPass, lightPass } from './webgl-light.ts';
import { fillProgram, type Program } from './webgl-program.ts';
import { pictureShader } from './webgl-shaders.ts';
import { waysPass } from './webgl-ways.ts';

export interface GlassRenderer {
  /** Places, sizes, gap and sheet; cheap, so call it for every step of a drag. */
  readonly setScene: (scene: LightScene) => void;
  /** Only when the artwork changes: it is uploaded. */
  readonly setArtwork: (artwork: ArtworkPixels | undefined) => void;
  readonly resize: (widthPx: number, heightPx: number) => void;
  /** One frame as it goes out, of the scene's LEDs. */
  readonly paint: (wireBytes: Uint8Array, viewing: Viewing) => void;
  readonly dispose: () => void;
}

/** All that lives on the card and is gone with its context. */
interface OnCard {
  light: LightPass;
  /** Whether `light` is the pass that knows walls; it is built only for panels that have some. */
  hasWalls: boolean;
  readonly picture: Program;
  ink: InkTexture;
}

function buildUp(gl: WebGL2RenderingContext): OnCard | undefined {
  const light = lightPass(gl);
  if (!light) return undefined;
  return { light, hasWalls: false, picture: fillProgram(gl, pictureShader), ink: inkTexture(gl, undefined) };
}

/** Gives the scene to the pass for it. */
function setLight(gl: WebGL2RenderingContext, onCard: OnCard, scene: LightScene): void {
  const hasWalls = scene.ways !== undefined;
  if (hasWalls !== onCard.hasWalls) {
    const other = hasWalls ? waysPass(gl) : lightPass(gl);
    if (other) {
      onCard.light.dispose();
      onCard.light = other;
      onCard.hasWalls = hasWalls;
    }
  }
  onCard.light.setScene(scene);
}

function paintPicture(
  gl: WebGL2RenderingContext,
  { light, picture, ink }: OnCard,
  scene: LightScene,
  viewing: Viewing,
): void {
  const { widthMm, heightMm, opening } = scene;
  const { width, height } = gl.canvas;
  const grid = light.grid();
  const factors = viewingFactors(scene, viewing);
  gl.bindFramebuffer(gl.FRAMEBUFFER, null);
  gl.viewport(0, 0, width, height);
  picture.use();
  for (const [unit, [name, bound]] of (
    [
      ['light', light.texture],
      ['ink', ink.texture],
    ] as const
  ).entries()) {
    gl.activeTexture(gl.TEXTURE0 + unit);
    gl.bindTexture(gl.TEXTURE_2D, bound);
    gl.uniform1i(picture.place(name), unit);
  }
  gl.activeTexture(gl.TEXTURE0);
  gl.uniform2f(picture.place('firstMm'), grid.leftMm, grid.topMm);
  gl.uniform2f(picture.place('cellMm'), grid.cellWidthMm, grid.cellHeightMm);
  gl.uniform2f(picture.place('panelMm'), widthMm, heightMm);
  gl.uniform2f(picture.place('pixelMm'), widthMm / width, heightMm / height);
  gl.uniform2f(picture.place('openingMm'), opening.xMm, opening.yMm);
  gl.uniform2f(picture.place('openingSizeMm'), opening.widthMm, opening.heightMm);
  gl.uniform1f(picture.place('through'), factors.through);
  gl.uniform1f(picture.place('printLight'), factors.printLight);
  gl.uniform1f(picture.place('frameLight'), factors.frameLight);
  picture.fill();
}

/** Names that drivers give themselves which let the processor do a card's work (from memory; seen: ANGLE's SwiftShader). */
const processorNames = /swiftshader|llvmpipe|softpipe|software|basic render/i;

/** Browsers don't always own up to it when asked for `failIfMajorPerformanceCaveat`; the driver's name does. */
function isProcessor(gl: WebGL2RenderingContext): boolean {
  const names = gl.getExtension('WEBGL_debug_renderer_info');
  return processorNames.test(String(gl.getParameter(names ? names.UNMASKED_RENDERER_WEBGL : gl.RENDERER)));
}

/**
 * Undefined where WebGL2 or drawing of floats is missing, or where the processor would have to do the card's work, unless `forced`. The canvas
 * may then have been given away; take another one for anything else.
 */
export function createGlassRenderer(canvas: HTMLCanvasElement, forced = false): GlassRenderer | undefined {
  const gl = canvas.getContext('webgl2', {
    alpha: false,
    antialias: false,
    depth: false,
    stencil: false,
    failIfMajorPerformanceCaveat: !forced,
  });
  if (!gl || (!forced && isProcessor(gl))) return undefined;
  let onCard = buildUp(gl);
  if (!onCard) return undefined;
  let scene: LightScene | undefined;
  let artwork: ArtworkPixels | undefined;
  let painted: { readonly wireBytes: Uint8Array; readonly viewing: Viewing } | undefined;

  const paint = () => {
    if (!onCard || !scene || !painted || gl.isContextLost()) return;
    onCard.light.run(painted.wireBytes);
    paintPicture(gl, onCard, scene, painted.viewing);
  };
  const onLost = (event: Event) => {
    // Without this the browser never gives it back.
    event.preventDefault();
    onCard = undefined;
  };
  const onRestored = () => {
    onCard = buildUp(gl);
    if (!onCard) return;
    if (artwork) {
      onCard.ink.dispose();
      onCard.ink = inkTexture(gl, artwork);
    }
    if (scene) setLight(gl, onCard, scene);
    paint();
  };
  canvas.addEventListener('webglcontextlost', onLost);
  canvas.addEventListener('webglcontextrestored', onRestored);

  return {
    setScene: (next) => {
      // What was painted belongs to other LEDs.
      if (next.sources.length !== scene?.sources.length) painted = undefined;
      scene = next;
      if (onCard) setLight(gl, onCard, next);
    },
    setArtwork: (next) => {
      artwork = next;
      if (!onCard) return;
      onCard.ink.dispose();
      onCard.ink = inkTexture(gl, next);
    },
    resize: (widthPx, heightPx) => {
      canvas.width = widthPx;
      canvas.height = heightPx;
    },
    paint: (wireBytes, viewing) => {
      // A copy: a lost context is painted again later, and the player writes into the same bytes.
      painted = { wireBytes: wireBytes.slice(), viewing };
      paint();
    },
    dispose: () => {
      canvas.removeEventListener('webglcontextlost', onLost);
      canvas.removeEventListener('webglcontextrestored', onRestored);
      onCard?.light.dispose();
      onCard?.picture.dispose();
      onCard?.ink.dispose();
      onCard = undefined;
    },
  };
}
