// Light behind the sheet where walls are in the way, worked out by the graphics card: the face's light by ways (light-ways.ts) on texels fine enough
// for shadows' edges, then the sheet's spread in two passes. Texels are per mm2, before the sheet's transmission; row 0 is the panel's top.
// Not here: the same without walls, which needs neither fine texels nor passes of spread (webgl-light.ts).
import { gridOver, type LightGrid, widened } from './grid.ts';
import type { LightWay, LightWays } from './light-ways.ts';
import { mostPlanes } from './regions.ts';
import type { LightScene } from './scene.ts';
import { channelCount, ledFlux } from './sources.ts';
import { halfKernel } from './spread.ts';
import type { LightPass } from './webgl-light.ts';
import { fillProgram, targetOf, texture } from './webgl-program.ts';
import {
  ledsPerTextureRow,
  mostSpreadTexels,
  regionsPerTextureRow,
  spreadShader,
  waysShader,
} from './webgl-shaders.ts';

/** Texels for a blurred edge: the curve between them then misses it by about 1 % of its height. */
const texelsPerSpread = 2;
/** Edges behind a sheet that hardly spreads light. */
const finestMm = 0.6;
const texelsPerAirGap = 6;
/** An ordinary card's share of a frame; fewer texels where there are many ways, within these bounds. */
const mostSums = 160e6;
const [fewestTexels, mostTexels] = [40_000, 160_000];
/** Beyond the panel's edges, so that the curve has neighbours there. */
const margin = 2;

const floatsPerWay = 8;
const floatsPerRegion = 4 * mostPlanes;
/** Everything lies inside of it. */
const noPlane = [0, 0, -1e9, 0] as const;

interface Layers {
  readonly grid: LightGrid;
  readonly across: Float64Array;
  readonly down: Float64Array;
}

/** A texel averages over its own width already; the spread's passes add the rest. */
const sigmaCells = (spreadMm: number, cellMm: number): number =>
  Math.sqrt(Math.max(0, (spreadMm / cellMm) ** 2 - 1 / 12));

const kernelOf = (spreadMm: number, cellMm: number): Float64Array => {
  const sigma = sigmaCells(spreadMm, cellMm);
  return sigma > 0 ? halfKernel(sigma).subarray(0, mostSpreadTexels + 1) : Float64Array.of(1);
};

function layersOf({ widthMm, heightMm, airGapMm, spreadMm }: LightScene, ways: number): Layers {
  const texels = Math.max(fewestTexels, Math.min(mostTexels, mostSums / Math.max(1, ways)));
  const wished = Math.min(airGapMm / texelsPerAirGap, Math.max(finestMm, spreadMm / texelsPerSpread));
  const cellMm = Math.max(wished, Math.sqrt((widthMm * heightMm) / texels));
  const inner = gridOver({ xMm: 0, yMm: 0, widthMm, heightMm }, cellMm);
  const across = kernelOf(spreadMm, inner.cellWidthMm);
  const down = kernelOf(spreadMm, inner.cellHeightMm);
  return { grid: widened(inner, margin + across.length - 1, margin + down.length - 1), across, down };
}

/** Regions of all ways in a texture's order, and for each LED's ways where its own begin. */
function packRegions(ways: LightWays): {
  readonly floats: Float32Array;
  readonly rows: number;
  readonly first: number[][];
} {
  const count = ways.flat().reduce((sum, { within, shadows }) => sum + within.length + shadows.length, 0);
  const rows = Math.max(1, Math.ceil(count / regionsPerTextureRow));
  const floats = new Float32Array(rows * regionsPerTextureRow * floatsPerRegion);
  let region = 0;
  const packed = ({ within, shadows }: LightWay): number => {
    const first = region;
    for (const planes of [...within, ...shadows]) {
      for (let plane = 0; plane < mostPlanes; plane++) {
        const at = region * floatsPerRegion + plane * 4;
        floats.set(planes.length > plane * 3 ? planes.subarray(plane * 3, plane * 3 + 3) : noPlane, at);
      }
      region++;
    }
    return first;
  };
  return { first: ways.map((own) => own.map(packed)), floats, rows };
}

/** Undefined where the card can't draw 32-bit floats. */
export function waysPass(gl: WebGL2RenderingContext): LightPass | undefined {
  if (!gl.getExtension('EXT_color_buffer_float')) return undefined;
  const program = fillProgram(gl, waysShader);
  const spreading = fillProgram(gl, spreadShader);
  const [waysTexture, regionsTexture] = [0, 1].map(() => texture(gl, gl.NEAREST, gl.NEAREST)) as [
    WebGLTexture,
    WebGLTexture,
  ];
  const [light, between] = [0, 1].map(() => {
    const own = texture(gl, gl.NEAREST, gl.NEAREST);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, 1, 1, 0, gl.RGBA, gl.FLOAT, null);
    return { texture: own, target: targetOf(gl, own) };
  }) as [Target, Target];
  let scene: LightScene | undefined;
  let layers: Layers | undefined;
  let packed = new Float32Array(0);
  let flux = new Float32Array(0);
  let first: number[][] = [];

  /** Packs the ways of LEDs that shine; returns how many. */
  const pack = ({ sources, ways }: LightScene, wireBytes: Uint8Array): number => {
    ledFlux(sources, wireBytes, flux);
    let count = 0;
    for (const [led, own] of ways!.entries()) {
      const from = led * channelCount;
      if (flux[from] === 0 && flux[from + 1] === 0 && flux[from + 2] === 0) continue;
      for (const [index, { xMm, yMm, share, within, shadows }] of own.entries()) {
        const to = count++ * floatsPerWay;
        packed[to] = xMm;
        packed[to + 1] = yMm;
        packed[to + 2] = first[led]![index]!;
        packed[to + 3] = within.length;
        packed[to + 4] = share * flux[from]!;
        packed[to + 5] = share * flux[from + 1]!;
        packed[to + 6] = share * flux[from + 2]!;
        packed[to + 7] = shadows.length;
      }
    }
    return count;
  };

  const sized = (own: WebGLTexture, width: number, height: number, floats: Float32Array | null) => {
    gl.bindTexture(gl.TEXTURE_2D, own);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, width, height, 0, gl.RGBA, gl.FLOAT, floats);
  };

  const spreadBy = (kernel: Float64Array, from: Target, to: Target, stepX: number, stepY: number) => {
    gl.bindFramebuffer(gl.FRAMEBUFFER, to.target);
    gl.bindTexture(gl.TEXTURE_2D, from.texture);
    gl.uniform2i(spreading.place('towards'), stepX, stepY);
    gl.uniform1i(spreading.place('reach'), kernel.length - 1);
    gl.uniform1fv(spreading.place('kernel'), Float32Array.from(kernel));
    spreading.fill();
  };

  return {
    texture: light.texture,
    target: light.target,
    grid: () => layers!.grid,
    setScene: (next) => {
      if (next === scene) return;
      scene = next;
      const ways = next.ways ?? [];
      const count = ways.reduce((sum, own) => sum + own.length, 0);
      const rows = Math.max(1, Math.ceil(count / ledsPerTextureRow));
      flux = new Float32Array(next.sources.length * channelCount);
      packed = new Float32Array(rows * ledsPerTextureRow * floatsPerWay);
      sized(waysTexture, 2 * ledsPerTextureRow, rows, null);
      const regions = packRegions(ways);
      first = regions.first;
      sized(regionsTexture, mostPlanes * regionsPerTextureRow, regions.rows, regions.floats);
      layers = layersOf(next, count);
      const { grid } = layers;
      for (const own of [light, between]) sized(own.texture, grid.columns, grid.rows, null);
      program.use();
      gl.uniform2f(program.place('firstMm'), grid.leftMm, grid.topMm);
      gl.uniform2f(program.place('cellMm'), grid.cellWidthMm, grid.cellHeightMm);
      gl.uniform1f(program.place('gapMm2'), next.airGapMm * next.airGapMm);
    },
    run: (wireBytes) => {
      const { grid, across, down } = layers!;
      const count = pack(scene!, wireBytes);
      gl.bindFramebuffer(gl.FRAMEBUFFER, light.target);
      gl.viewport(0, 0, grid.columns, grid.rows);
      program.use();
      gl.activeTexture(gl.TEXTURE1);
      gl.bindTexture(gl.TEXTURE_2D, regionsTexture);
      gl.activeTexture(gl.TEXTURE0);
      gl.bindTexture(gl.TEXTURE_2D, waysTexture);
      const rows = Math.ceil(count / ledsPerTextureRow);
      if (rows > 0) {
        const floats = packed.subarray(0, rows * ledsPerTextureRow * floatsPerWay);
        gl.texSubImage2D(gl.TEXTURE_2D, 0, 0, 0, 2 * ledsPerTextureRow, rows, gl.RGBA, gl.FLOAT, floats);
      }
      gl.uniform1i(program.place('ways'), 0);
      gl.uniform1i(program.place('regions'), 1);
      gl.uniform1i(program.place('wayCount'), count);
      program.fill();
      spreading.use();
      gl.uniform1i(spreading.place('light'), 0);
      spreadBy(across, light, between, 1, 0);
      spreadBy(down, between, light, 0, 1);
    },
    dispose: () => {
      program.dispose();
      spreading.dispose();
      for (const { texture: own, target } of [light, between]) {
        gl.deleteFramebuffer(target);
        gl.deleteTexture(own);
      }
      gl.deleteTexture(waysTexture);
      gl.deleteTexture(regionsTexture);
    },
  };
}

interface Target {
  readonly texture: WebGLTexture;
  readonly target: WebGLFramebuffer;
}
