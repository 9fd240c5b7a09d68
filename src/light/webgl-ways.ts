// Light behind the sheet where walls are in the way, worked out by the graphics card: the face's light by ways (light-ways.ts) on texels fine enough
// for shadows' edges, each tile of them by the ways that reach it, then the sheet's spread in two passes. Texels are per mm2, before the sheet's transmission; row 0 is the panel's top.
// Not here: the same without walls, which needs neither fine texels nor passes of spread (webgl-light.ts).
import { gridOver, type LightGrid, widened } from './grid.ts';
import type { LightWay, LightWays } from './light-ways.ts';
import { reachesDisc } from './lit-cells.ts';
import { mostPlanes } from './regions.ts';
import type { LightScene } from './scene.ts';
import { channelCount, ledFlux } from './sources.ts';
import { halfKernel } from './spread.ts';
import type { LightPass } from './webgl-light.ts';
import { fillProgram, targetOf, texture } from './webgl-program.ts';
import {
  ledsPerTextureRow,
  mostSpreadTexels,
  numbersPerTextureRow,
  regionsPerTextureRow,
  spreadShader,
  texelsPerTile,
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

/** Regions of all ways in a texture's order, and for each way where its own begin. */
function packRegions(ways: LightWays): {
  readonly floats: Float32Array;
  readonly rows: number;
  readonly first: number[];
} {
  const all = ways.flat();
  const count = all.reduce((sum, { within, shadows }) => sum + within.length + shadows.length, 0);
  const rows = Math.max(1, Math.ceil(count / regionsPerTextureRow));
  const floats = new Float32Array(rows * regionsPerTextureRow * floatsPerRegion);
  let region = 0;
  const first = all.map(({ within, shadows }) => {
    const begins = region;
    for (const planes of [...within, ...shadows]) {
      for (let plane = 0; plane < mostPlanes; plane++) {
        const at = region * floatsPerRegion + plane * 4;
        floats.set(planes.length > plane * 3 ? planes.subarray(plane * 3, plane * 3 + 3) : noPlane, at);
      }
      region++;
    }
    return begins;
  });
  return { first, floats, rows };
}

/** For each tile the numbers of the ways that light any of it: between walls they are few. */
function waysByTile(ways: readonly LightWay[], grid: LightGrid) {
  const columns = Math.ceil(grid.columns / texelsPerTile);
  const rows = Math.ceil(grid.rows / texelsPerTile);
  const [widthMm, heightMm] = [grid.cellWidthMm * texelsPerTile, grid.cellHeightMm * texelsPerTile];
  // A texel at the rim sees half a texel beyond it.
  const radiusMm = Math.hypot(widthMm + grid.cellWidthMm, heightMm + grid.cellHeightMm) / 2;
  const spans = new Float32Array(columns * rows * 4);
  const list: number[] = [];
  for (let tile = 0; tile < columns * rows; tile++) {
    const xMm = grid.leftMm + ((tile % columns) + 0.5) * widthMm;
    const yMm = grid.topMm + (Math.floor(tile / columns) + 0.5) * heightMm;
    const first = list.length;
    for (const [number, way] of ways.entries())
      if (reachesDisc(way, xMm, yMm, radiusMm) !== false) list.push(number);
    spans.set([first, list.length - first], tile * 4);
  }
  const numberRows = Math.max(1, Math.ceil(list.length / numbersPerTextureRow));
  const numbers = new Float32Array(numberRows * numbersPerTextureRow);
  numbers.set(list);
  return { columns, rows, spans, numberRows, numbers };
}

/** Undefined where the card can't draw 32-bit floats. */
export function waysPass(gl: WebGL2RenderingContext): LightPass | undefined {
  if (!gl.getExtension('EXT_color_buffer_float')) return undefined;
  const program = fillProgram(gl, waysShader);
  const spreading = fillProgram(gl, spreadShader);
  const made = () => texture(gl, gl.NEAREST, gl.NEAREST);
  const [waysTexture, regionsTexture, tilesTexture, numbersTexture] = [made(), made(), made(), made()];
  const inputs = [
    ['ways', waysTexture],
    ['regions', regionsTexture],
    ['tiles', tilesTexture],
    ['numbers', numbersTexture],
  ] as const;
  const [light, between] = [0, 1].map(() => {
    const own = texture(gl, gl.NEAREST, gl.NEAREST);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, 1, 1, 0, gl.RGBA, gl.FLOAT, null);
    return { texture: own, target: targetOf(gl, own) };
  }) as [Target, Target];
  let scene: LightScene | undefined;
  let layers: Layers | undefined;
  let packed = new Float32Array(0);
  let flux = new Float32Array(0);
  let wayRows = 0;

  /** Sets the flux of every way; dark ones are skipped on the card. */
  const setFlux = ({ sources, ways }: LightScene, wireBytes: Uint8Array): void => {
    ledFlux(sources, wireBytes, flux);
    let to = 4;
    for (let led = 0; led < ways!.length; led++) {
      const from = led * channelCount;
      for (const { share } of ways![led]!) {
        packed[to] = share * flux[from]!;
        packed[to + 1] = share * flux[from + 1]!;
        packed[to + 2] = share * flux[from + 2]!;
        to += floatsPerWay;
      }
    }
  };

  const sized = (
    own: WebGLTexture,
    width: number,
    height: number,
    floats: Float32Array | null,
    isSingle = false,
  ) => {
    gl.bindTexture(gl.TEXTURE_2D, own);
    const [inside, format] = isSingle ? [gl.R32F, gl.RED] : [gl.RGBA32F, gl.RGBA];
    gl.texImage2D(gl.TEXTURE_2D, 0, inside, width, height, 0, format, gl.FLOAT, floats);
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
      wayRows = rows;
      packed = new Float32Array(rows * ledsPerTextureRow * floatsPerWay);
      sized(waysTexture, 2 * ledsPerTextureRow, rows, null);
      const regions = packRegions(ways);
      for (const [way, { xMm, yMm, within, shadows }] of ways.flat().entries()) {
        const to = way * floatsPerWay;
        packed.set([xMm, yMm, regions.first[way]!, within.length], to);
        packed[to + 7] = shadows.length;
      }
      sized(regionsTexture, mostPlanes * regionsPerTextureRow, regions.rows, regions.floats);
      layers = layersOf(next, count);
      const { grid } = layers;
      const tiles = waysByTile(ways.flat(), grid);
      sized(tilesTexture, tiles.columns, tiles.rows, tiles.spans);
      sized(numbersTexture, numbersPerTextureRow, tiles.numberRows, tiles.numbers, true);
      for (const own of [light, between]) sized(own.texture, grid.columns, grid.rows, null);
      program.use();
      gl.uniform2f(program.place('firstMm'), grid.leftMm, grid.topMm);
      gl.uniform2f(program.place('cellMm'), grid.cellWidthMm, grid.cellHeightMm);
      gl.uniform1f(program.place('gapMm2'), next.airGapMm * next.airGapMm);
    },
    run: (wireBytes) => {
      const { grid, across, down } = layers!;
      setFlux(scene!, wireBytes);
      gl.bindFramebuffer(gl.FRAMEBUFFER, light.target);
      gl.viewport(0, 0, grid.columns, grid.rows);
      program.use();
      for (const [unit, [name, own]] of inputs.entries()) {
        gl.activeTexture(gl.TEXTURE0 + unit);
        gl.bindTexture(gl.TEXTURE_2D, own);
        gl.uniform1i(program.place(name), unit);
      }
      gl.activeTexture(gl.TEXTURE0);
      gl.texSubImage2D(gl.TEXTURE_2D, 0, 0, 0, 2 * ledsPerTextureRow, wayRows, gl.RGBA, gl.FLOAT, packed);
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
      for (const [, own] of inputs) gl.deleteTexture(own);
    },
  };
}

interface Target {
  readonly texture: WebGLTexture;
  readonly target: WebGLFramebuffer;
}
