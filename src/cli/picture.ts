// The picture command: the lit panel as a PNG, and the light on the diffuser's face as numbers. The room is dark.
// Not here: the light itself (src/light), the artwork's formats (artwork.ts).
import { PNG } from 'pngjs';
import { type Examination, examine } from '../board/index.ts';
import {
  darkRoom,
  glowOf,
  type LightGrid,
  type LightScene,
  ledFlux,
  lightScene,
  pictureOf,
  pixelGrid,
  printTransmission,
  viewingFactors,
} from '../light/index.ts';
import { excerpt, type Project } from '../project/index.ts';
import { hasSvgText, type PictureKey, pictureNames, readPicture } from './artwork.ts';
import { type ExitStatus, UnusableInput, unusable } from './console.ts';
import { loadProject, writeFilesWhole } from './files.ts';
import { parseOptions, required, showId, wholeNumber } from './options.ts';
import { type Context, lastFrameOf, playerFor, statusOf, tooLarge } from './shared.ts';
import { readTemplates } from './templates.ts';

/** A picture of this size takes about 0.7 GB while it is made. */
const mostPixels = 16e6;
/** Drawings are drawn so much finer than the picture and then averaged, unless it is large. */
const drawingScale = 2;
const mostPixelsDrawnFiner = 4e6;

const badOption = (at: string, expected: string, found: string, mend: string): never =>
  unusable({ code: 'bad-option', at, expected, found, mend });

function pixelsOf({ panel }: Project, mmPerPx: string | undefined): LightGrid {
  const at = '--mm-per-px';
  const size = mmPerPx === undefined ? 1 : /^\d{1,9}(\.\d{1,9})?$/.test(mmPerPx) ? Number(mmPerPx) : 0;
  if (size <= 0)
    badOption(at, 'a number of millimetres above 0', excerpt(mmPerPx), 'Write a number such as 0.5.');
  const grid = pixelGrid(panel, size);
  const pixels = grid.columns * grid.rows;
  if (pixels > mostPixels)
    badOption(at, `at most ${mostPixels / 1e6} million pixels`, `${pixels}`, 'Take larger pixels.');
  return grid;
}

/** What is to be lit: everything white, or one frame of a show. */
type Wanted = 'white' | { readonly show: string; readonly frame: string };

function wantedOf(
  project: Project,
  options: { readonly white?: boolean; readonly show?: string; readonly frame?: string },
): Wanted {
  if (options.white) {
    for (const name of ['show', 'frame'] as const)
      if (options[name] !== undefined)
        badOption(`--${name}`, 'no show beside --white', excerpt(options[name]), 'Take one of them away.');
    return 'white';
  }
  if (options.show === undefined && options.frame === undefined)
    badOption('arguments', '--show ID --frame N, or --white', 'neither', 'Say what is to be lit.');
  return { show: showId('show', options.show, project), frame: required('frame', options.frame) };
}

/** Each LED's flux, or undefined where no player can hold the shows. */
async function fluxOf(
  wanted: Wanted,
  examination: Examination,
  { sources }: LightScene,
  root: string,
): Promise<Float32Array | undefined> {
  if (wanted === 'white') return new Float32Array(sources.length * 3).fill(1);
  const frame = wholeNumber('frame', wanted.frame, 0, lastFrameOf(examination.frameMs), 0);
  const player = await playerFor(examination, root);
  return player && ledFlux(sources, player.frame(wanted.show, frame));
}

async function inkOf(project: Project, grid: LightGrid, root: string): Promise<Float32Array | undefined> {
  const { columns, rows } = grid;
  const scale = columns * rows > mostPixelsDrawnFiner ? 1 : drawingScale;
  const read = async (key: PictureKey) => {
    const image = await readPicture(project, key, columns * scale, rows * scale, root);
    if (!image.ok) throw new UnusableInput(image.problems);
    return image.value;
  };
  return printTransmission(await read('artwork'), await read('opacity'), columns, rows, scale);
}

function pngOf(pixels: Uint8ClampedArray, { columns, rows }: LightGrid): Uint8Array {
  const png = new PNG({ width: columns, height: rows });
  png.data = Buffer.from(pixels.buffer);
  return PNG.sync.write(png, { colorType: 2, inputColorType: 6, inputHasAlpha: true });
}

/** 32-bit floats are good for 7 digits. */
const digits = 7;

function* lightJson(face: Float32Array, { columns, rows, cellWidthMm }: LightGrid): Generator<Uint8Array> {
  const encoder = new TextEncoder();
  yield encoder.encode(
    `{"widthPx":${columns},"heightPx":${rows},"mmPerPx":${JSON.stringify(cellWidthMm)},"rgb":[`,
  );
  const perRow = columns * 3;
  for (let row = 0; row < rows; row++) {
    const values = Array.from(face.subarray(row * perRow, (row + 1) * perRow), (light) =>
      Number(light.toPrecision(digits)),
    );
    yield encoder.encode(`${row === 0 ? '' : ','}${values.join(',')}`);
  }
  yield encoder.encode(']}\n');
}

function summary(face: Float32Array, { columns, rows, cellWidthMm }: LightGrid): string {
  let most = 0;
  let sum = 0;
  for (const light of face) {
    most = Math.max(most, light);
    sum += light;
  }
  return `${columns} x ${rows} pixels of ${cellWidthMm} mm. Light on the diffuser's face: ${(sum / face.length).toPrecision(3)} per mm2 and colour on average, ${most.toPrecision(3)} at most.`;
}

/** Without --out and --light it only prints the summary, which it prints in any case. */
export async function picture(args: readonly string[], context: Context): Promise<ExitStatus> {
  const { console, root } = context;
  const { positionals, options } = parseOptions(
    args,
    { show: 'text', frame: 'text', white: 'flag', 'mm-per-px': 'text', out: 'text', light: 'text' },
    1,
  );
  const project = loadProject(positionals[0]!);
  const wanted = wantedOf(project, options);
  const grid = pixelsOf(project, options['mm-per-px']);
  const out = options.out === undefined ? undefined : required('out', options.out);
  const light = options.light === undefined ? undefined : required('light', options.light);
  const show = wanted === 'white' ? undefined : wanted.show;
  const examination = examine(project, readTemplates(root), show);
  const scene = lightScene(project, examination.layout);
  const flux = await fluxOf(wanted, examination, scene, root);
  if (!flux) return tooLarge(context, examination);
  const ink = out === undefined ? undefined : await inkOf(project, grid, root);
  const { face, behindSheet } = glowOf(scene.sources, flux, grid, scene.airGapMm, scene, scene.ways);
  const files: { path: string; chunks: Iterable<Uint8Array> }[] = [];
  if (out !== undefined) {
    const factors = viewingFactors(scene, darkRoom);
    const pixels = pictureOf({ grid, behindSheet, ink, opening: scene.opening, factors });
    files.push({ path: out, chunks: [pngOf(pixels, grid)] });
  }
  if (light !== undefined) files.push({ path: light, chunks: lightJson(face, grid) });
  writeFilesWhole(files);
  if (out !== undefined)
    for (const key of ['artwork', 'opacity'] as const) {
      const picture = project.panel[key];
      if (picture && hasSvgText(picture))
        console.complain(`The ${pictureNames[key]} has text that is no outline; the picture leaves it out.`);
    }
  console.print(summary(face, grid));
  return statusOf(examination);
}
