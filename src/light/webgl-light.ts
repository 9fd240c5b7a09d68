// Light behind the sheet, worked out by the graphics card: a texture of few texels, because behind an air gap nothing changes within a
// fraction of that gap. Texels are per mm2, before the sheet's transmission; row 0 is the panel's top.
// Not here: the reference (face.ts, spread.ts); tests hold both against each other.
import { gridOver, type LightGrid, widened } from './grid.ts';
import type { LightScene } from './scene.ts';
import { channelCount, ledFlux } from './sources.ts';
import { spreadTable } from './spread-kernel.ts';
import { fillProgram, targetOf, texture } from './webgl-program.ts';
import { ledsPerTextureRow, lightShader } from './webgl-shaders.ts';

/** The curve between texels then misses light by under 0.2 % of a peak. */
const texelsPerAirGap = 6;
/** With 2,000 LEDs that is 80 million sums a frame. */
const mostTexels = 40_000;
/** Beyond the panel's edges, so that the curve has neighbours there. */
const margin = 2;

const floatsPerLed = 8;

export interface LightPass {
  readonly texture: WebGLTexture;
  readonly target: WebGLFramebuffer;
  /** Where the texels lie; valid after setScene. */
  readonly grid: () => LightGrid;
  /** Cheap enough for every step of a drag. */
  readonly setScene: (scene: LightScene) => void;
  readonly run: (wireBytes: Uint8Array) => void;
  readonly dispose: () => void;
}

export const lightGridOf = ({ widthMm, heightMm, airGapMm }: LightScene): LightGrid => {
  const cellMm = Math.max(airGapMm / texelsPerAirGap, Math.sqrt((widthMm * heightMm) / mostTexels));
  return widened(gridOver({ xMm: 0, yMm: 0, widthMm, heightMm }, cellMm), margin, margin);
};

/** Undefined where the card can't draw 32-bit floats. */
export function lightPass(gl: WebGL2RenderingContext): LightPass | undefined {
  if (!gl.getExtension('EXT_color_buffer_float')) return undefined;
  const program = fillProgram(gl, lightShader);
  const leds = texture(gl, gl.NEAREST, gl.NEAREST);
  const light = texture(gl, gl.NEAREST, gl.NEAREST);
  gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, 1, 1, 0, gl.RGBA, gl.FLOAT, null);
  const target = targetOf(gl, light);
  let lightColumns = 1;
  let lightRows = 1;
  let ledRows = 0;
  let packed = new Float32Array(0);
  let flux = new Float32Array(0);
  let scene: LightScene | undefined;
  let grid: LightGrid | undefined;

  /** Packs the LEDs that shine; returns how many. */
  const pack = ({ sources }: LightScene, wireBytes: Uint8Array): number => {
    ledFlux(sources, wireBytes, flux);
    let count = 0;
    for (const [led, { xMm, yMm }] of sources.entries()) {
      const from = led * channelCount;
      if (flux[from] === 0 && flux[from + 1] === 0 && flux[from + 2] === 0) continue;
      const to = count++ * floatsPerLed;
      packed[to] = xMm;
      packed[to + 1] = yMm;
      packed[to + 4] = flux[from]!;
      packed[to + 5] = flux[from + 1]!;
      packed[to + 6] = flux[from + 2]!;
    }
    return count;
  };

  return {
    texture: light,
    target,
    grid: () => grid!,
    setScene: (next) => {
      const sameShape =
        scene?.airGapMm === next.airGapMm &&
        scene.spreadMm === next.spreadMm &&
        scene.widthMm === next.widthMm &&
        scene.heightMm === next.heightMm;
      scene = next;
      const rows = Math.max(1, Math.ceil(next.sources.length / ledsPerTextureRow));
      if (flux.length !== next.sources.length * channelCount) {
        flux = new Float32Array(next.sources.length * channelCount);
        packed = new Float32Array(rows * ledsPerTextureRow * floatsPerLed);
      }
      if (rows !== ledRows) {
        ledRows = rows;
        gl.bindTexture(gl.TEXTURE_2D, leds);
        gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, 2 * ledsPerTextureRow, rows, 0, gl.RGBA, gl.FLOAT, null);
      }
      if (sameShape) return;
      grid = lightGridOf(next);
      if (grid.columns !== lightColumns || grid.rows !== lightRows) {
        lightColumns = grid.columns;
        lightRows = grid.rows;
        gl.bindTexture(gl.TEXTURE_2D, light);
        gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, lightColumns, lightRows, 0, gl.RGBA, gl.FLOAT, null);
      }
      program.use();
      gl.uniform2f(program.place('firstMm'), grid.leftMm, grid.topMm);
      gl.uniform2f(program.place('cellMm'), grid.cellWidthMm, grid.cellHeightMm);
      gl.uniform1f(program.place('gapMm2'), next.airGapMm * next.airGapMm);
      gl.uniform1fv(program.place('spreadTable'), spreadTable(next.airGapMm, next.spreadMm));
    },
    run: (wireBytes) => {
      const count = pack(scene!, wireBytes);
      gl.bindFramebuffer(gl.FRAMEBUFFER, target);
      gl.viewport(0, 0, lightColumns, lightRows);
      program.use();
      gl.activeTexture(gl.TEXTURE0);
      gl.bindTexture(gl.TEXTURE_2D, leds);
      const rows = Math.ceil(count / ledsPerTextureRow);
      if (rows > 0)
        gl.texSubImage2D(
          gl.TEXTURE_2D,
          0,
          0,
          0,
          2 * ledsPerTextureRow,
          rows,
          gl.RGBA,
          gl.FLOAT,
          packed.subarray(0, rows * ledsPerTextureRow * floatsPerLed),
        );
      gl.uniform1i(program.place('leds'), 0);
      gl.uniform1i(program.place('ledCount'), count);
      program.fill();
    },
    dispose: () => {
      program.dispose();
      gl.deleteFramebuffer(target);
      gl.deleteTexture(leds);
      gl.deleteTexture(light);
    },
  };
}
