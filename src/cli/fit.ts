// The fit command: engraved channels from a drawing, in each the most LEDs that fit, in a new project file.
// Not here: reading drawings and fitting (src/panel).
import { readFileSync, statSync } from 'node:fs';
import { basename } from 'node:path';
import { examine } from '../board/index.ts';
import {
  type ChannelFit,
  channelsFrom,
  type Drawing,
  drawingSizeProblem,
  fitChannels,
  fitFindings,
  mostMisfitMm,
  readDrawing,
} from '../panel/index.ts';
import {
  checkProject,
  edited,
  type Finding,
  findingLine,
  type Result,
  startHistory,
  writeProject,
} from '../project/index.ts';
import { type ExitStatus, exitStatus, UnusableInput, unusable } from './console.ts';
import { loadProject, writeFileWhole } from './files.ts';
import { parseOptions, required } from './options.ts';
import { type Context, statusOf } from './shared.ts';
import { readTemplates } from './templates.ts';

const usable = <T>(result: Result<T>): T => {
  if (!result.ok) throw new UnusableInput(result.problems);
  return result.value;
};

function bytesOf(path: string): Uint8Array {
  try {
    const stats = statSync(path);
    if (stats.isFile()) {
      const tooLarge = drawingSizeProblem(stats.size, basename(path));
      return tooLarge ? unusable(tooLarge) : readFileSync(path);
    }
  } catch (error) {
    if (error instanceof UnusableInput) throw error;
  }
  return unusable({
    code: 'unreadable-file',
    at: '--channels',
    expected: 'a readable drawing, .svg or .dxf',
    found: `no such file at ${JSON.stringify(path)}`,
    mend: 'Check the path.',
  });
}

const drawingAt = (path: string, panelHeightMm: number): Drawing =>
  usable(readDrawing(bytesOf(path), basename(path), panelHeightMm));

const mm = (value: number): string => `${value.toFixed(2)} mm`;

const obstacles: Readonly<Record<NonNullable<ChannelFit['obstacle']>, string>> = {
  narrow: "narrower than the strip's board",
  short: 'too short for one piece of the strip',
  limit: 'the project holds no more',
};

/** `channel-1: 33 LEDs in run "sky-1" (as before), 550.00 mm of 556.20 mm; 6.20 mm left over.` */
function lineOf(fit: ChannelFit): string {
  const why = fit.obstacle === undefined ? '' : ` (${obstacles[fit.obstacle]})`;
  if (fit.run === undefined) return `${fit.channel}: no LEDs${why}, ${mm(fit.lengthMm)} long.`;
  const lost = fit.lostLeds > 0 ? `, ${fit.lostLeds} lost` : '';
  const state = fit.isNew ? 'new' : 'kept';
  const other = fit.pitchMismatch;
  const pitch =
    other && fit.leftOverMm > mostMisfitMm
      ? ` ${other.ledCount} LEDs of ${other.ledsPerMetre} per metre would come out even.`
      : '';
  return `${fit.channel}: ${fit.ledCount} ${fit.ledCount === 1 ? 'LED' : 'LEDs'} in run "${fit.run}" (${state})${lost}${why}, ${mm(fit.usedMm)} of ${mm(fit.lengthMm)}, ${mm(Math.max(0, fit.leftOverMm))} left over.${pitch}`;
}

/** Besides errors, what is about channels is told: the rest is what `check` says of any project. */
const isTold = ({ severity, code }: Finding): boolean => severity === 'error' || /\bchannel\b/.test(code);

export async function fit(args: readonly string[], { console, root }: Context): Promise<ExitStatus> {
  const { positionals, options } = parseOptions(args, { channels: 'text', out: 'text' }, 1);
  const project = loadProject(positionals[0]!);
  const path = required('channels', options.channels);
  const out = required('out', options.out);
  const drawing = drawingAt(path, project.panel.heightMm);
  const { channels, notes } = usable(channelsFrom(drawing, { layer: 'channels', panel: project.panel }));
  const { edit, report } = fitChannels(project, channels);
  const fitted = usable(checkProject(edited(startHistory(project), 'Fit runs to channels', edit).project));
  const examination = examine(fitted, readTemplates(root));
  const lost = fitFindings(report);
  writeFileWhole(out, [new TextEncoder().encode(writeProject(fitted))]);
  for (const note of notes) console.print(`note: ${note}`);
  for (const one of report) console.print(lineOf(one));
  for (const finding of [...lost, ...examination.findings.filter(isTold)])
    console.print(findingLine(finding));
  const status = statusOf(examination);
  return lost.some(({ severity }) => severity === 'error') ? exitStatus.projectHasErrors : status;
}
