// The paint command: a picture or an animation becomes painted frames on a new row of a show, in a new project file.
// Not here: reading pictures (pictures.ts), bringing them down to cells and colours (src/lampshow).
import { basename, extname } from 'node:path';
import { examine } from '../board/index.ts';
import {
  framesBytes,
  mappedLeds,
  type PaintedPictures,
  packFrames,
  paintedFrom,
  paletteBytes,
} from '../lampshow/index.ts';
import { areaLeds, layOut } from '../panel/index.ts';
import {
  type Area,
  checkProject,
  excerpt,
  freeId,
  idFrom,
  type Lampshow,
  type Project,
  paintedLimits,
  writeProject,
} from '../project/index.ts';
import { type ExitStatus, UnusableInput, unusable } from './console.ts';
import { loadProject, writeFileWhole } from './files.ts';
import { parseOptions, required, showId, wholeNumber } from './options.ts';
import { sampledPictures, usualFrameMs } from './pictures.ts';
import { type Context, statusOf } from './shared.ts';
import { readTemplates } from './templates.ts';

function areaOf(project: Project, value: string | undefined): Area {
  const area = project.areas.find((one) => one.id === value);
  if (area) return area;
  const ids = project.areas.map((one) => one.id);
  return unusable({
    code: value === undefined ? 'bad-option' : 'unknown-id',
    at: '--area',
    expected: 'the id of an area',
    found: value === undefined ? 'none' : excerpt(value),
    mend: `The project has ${ids.length === 0 ? 'no area' : ids.join(', ')}.`,
  });
}

const frameMsOf = (value: string | undefined): number | undefined =>
  value === undefined ? undefined : wholeNumber('frame-ms', value, 20, 60_000, usualFrameMs);

function side(name: 'columns' | 'rows', value: string | undefined): number {
  return wholeNumber(name, required(name, value), 1, paintedLimits.cells, 1);
}

/** The project with the painted frames as one clip on a new uppermost row of the show, for its whole length. */
function withRow(
  project: Project,
  show: string,
  area: Area,
  name: string,
  painted: PaintedPictures,
): unknown {
  const gradients = project.gradients.length > 0 ? project.gradients : [plainGradient];
  const rowIn = ({ rows, lengthMs }: Lampshow) => ({
    id: freeId(
      rows.map((row) => row.id),
      idFrom(name),
    ),
    clips: [
      {
        startMs: 0,
        lengthMs,
        area: area.id,
        gradient: gradients[0]!.id,
        blend: 'over',
        effect: painted.effect,
      },
    ],
  });
  return {
    ...project,
    gradients,
    lampshows: project.lampshows.map((one) =>
      one.id === show ? { ...one, rows: [...one.rows, rowIn(one)] } : one,
    ),
  };
}

/** Every clip names a gradient; painted frames have their own colours instead. */
const plainGradient = { id: 'plain', stops: [{ at: 0, colour: '#ffffff' }] } as const;

/** Flash that the frames and their palette take, bytes; the clip's own row not counted. */
function flashBytes(project: Project, area: Area, { effect }: PaintedPictures): number {
  const leds = mappedLeds(areaLeds(layOut(project), area));
  return framesBytes(packFrames(effect, leds)) + paletteBytes(effect.palette, 'RGB').length;
}

/** Prints what was made and how near it comes to the picture: OKLab distances, of which 0.02 is about the least that is seen. */
export async function paint(args: readonly string[], { console, root }: Context): Promise<ExitStatus> {
  const { positionals, options } = parseOptions(
    args,
    {
      picture: 'text',
      area: 'text',
      columns: 'text',
      rows: 'text',
      out: 'text',
      show: 'text',
      colours: 'text',
      'frame-ms': 'text',
      json: 'flag',
    },
    1,
  );
  const project = loadProject(positionals[0]!);
  const picture = required('picture', options.picture);
  const out = required('out', options.out);
  const area = areaOf(project, options.area);
  const grid = { columns: side('columns', options.columns), rows: side('rows', options.rows) };
  const show = options.show === undefined ? project.attractMode : showId('show', options.show, project);
  const colours = wholeNumber('colours', options.colours, 1, paintedLimits.colours, paintedLimits.colours);
  const sampled = sampledPictures(picture, grid, frameMsOf(options['frame-ms']));
  const painted = paintedFrom(sampled, grid, colours);
  if (!painted)
    return unusable({
      code: 'too-many',
      at: '--picture',
      expected: `at most ${paintedLimits.frames} frames that differ from the one before`,
      found: `more, of ${sampled.length}`,
      mend: 'Take a shorter animation, fewer cells or fewer colours.',
    });
  const name = basename(picture, extname(picture));
  const checked = checkProject(withRow(project, show, area, name, painted));
  if (!checked.ok) throw new UnusableInput(checked.problems);
  writeFileWhole(out, [new TextEncoder().encode(writeProject(checked.value))]);
  const { effect, meanError, worstError } = painted;
  const figures = {
    ...grid,
    frames: effect.frames.length,
    colours: effect.palette.length,
    bytes: flashBytes(project, area, painted),
    meanError: rounded(meanError),
    worstError: rounded(worstError),
  };
  if (options.json) console.print(JSON.stringify(figures));
  else
    console.print(
      `${figures.frames} ${figures.frames === 1 ? 'frame' : 'frames'} of ${grid.columns} x ${grid.rows} cells in ${figures.colours} colours on a new row of "${show}", ${figures.bytes} bytes of flash; colours miss the picture by ${figures.meanError} on average, ${figures.worstError} at most.`,
    );
  return statusOf(examine(checked.value, readTemplates(root)));
}

const rounded = (error: number): number => Number(error.toPrecision(4));
