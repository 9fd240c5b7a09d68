// The commands as rows of data: name, one line of help, and what they do. Each returns its exit status; unusable input is thrown and told
// by main.ts. What they print with --json is a contract that scripts depend on.
import { byGravity, examine, flashCaution, hasErrors, noFlashes } from '../board/index.ts';
import { supplyAmps, supplyKind } from '../catalogue/index.ts';
import {
  expectedDiffers,
  type HeardEvent,
  lineBytesPerLed,
  type Player,
  playedShows,
  pressLogFrames,
  pressLogStart,
  wireByteCount,
} from '../lampshow/index.ts';
import { panelNetwork, powerReport, type SupplyLoad, supplyLoads, supplySizes } from '../power/index.ts';
import { findingLine, type Project, projectSchema } from '../project/index.ts';
import { planExport } from '../workshop/index.ts';
import { type ExitStatus, exitStatus } from './console.ts';
import { inspectTarget, sha256 } from './earlier-export.ts';
import { eventLog, pressLogEvents, pressLogNamed } from './event-log.ts';
import { loadProject, realTarget, writeFileWhole, writeFolderWhole } from './files.ts';
import { fit } from './fit.ts';
import { findFlashes } from './flashes.ts';
import { parseOptions, required, showId, wholeNumber } from './options.ts';
import { paint } from './paint.ts';
import { picture } from './picture.ts';
import { type Context, lastFrameOf, playerFor, statusOf, tooLarge } from './shared.ts';
import { readSheetWriter, readTemplates } from './templates.ts';

export interface Command {
  readonly name: string;
  readonly usage: string;
  readonly help: string;
  readonly run: (args: readonly string[], context: Context) => Promise<ExitStatus>;
}

const json = (value: unknown): string => JSON.stringify(value);

const showFrames = (project: Project, show: string, frameMs: number): number =>
  Math.ceil(project.lampshows.find((one) => one.id === show)!.lengthMs / frameMs);

async function check(args: readonly string[], { console, root }: Context): Promise<ExitStatus> {
  const { positionals, options } = parseOptions(args, { json: 'flag' }, 1);
  const project = loadProject(positionals[0]!);
  const examination = examine(project, readTemplates(root));
  const flashes = await findFlashes(project, examination, root);
  const ledCount = project.runs.reduce((sum, run) => sum + run.ledCount, 0);
  const findings = byGravity([...examination.findings, ...(flashes ?? [])]);
  if (options.json) console.print(json({ ledCount, runCount: project.runs.length, findings }));
  else {
    for (const finding of findings) console.print(findingLine(finding));
    const { budget, frameMs } = examination;
    console.print(`${ledCount} LEDs in ${project.runs.length} runs, one frame every ${frameMs} ms.`);
    if (budget)
      console.print(
        `SRAM ${budget.sram.usedBytes} bytes used, ${budget.sram.freeBytes} free. Flash ${budget.flash.usedBytes} bytes used, ${budget.flash.freeBytes} free.`,
      );
    if (flashes?.length === 0) console.print(noFlashes());
    if (findings.length === 0) console.print('No findings.');
  }
  return statusOf(examination);
}

async function frames(args: readonly string[], context: Context): Promise<ExitStatus> {
  const { console, root } = context;
  const { positionals, options } = parseOptions(
    args,
    { show: 'text', from: 'text', count: 'text', events: 'text', out: 'text', json: 'flag' },
    1,
  );
  const project = loadProject(positionals[0]!);
  const pressLog = pressLogNamed(options.events, project);
  const show = showId('show', options.show ?? (pressLog && pressLogStart(pressLog, project)), project);
  const examination = examine(project, readTemplates(root), show);
  const { frameMs, layout } = examination;
  const lastFrame = lastFrameOf(frameMs);
  const from = wholeNumber('from', options.from, 0, lastFrame, 0);
  const count = wholeNumber(
    'count',
    options.count,
    1,
    lastFrame - from + 1,
    Math.min(
      pressLog ? pressLogFrames(pressLog, frameMs) : showFrames(project, show, frameMs),
      lastFrame - from + 1,
    ),
  );
  const byFrame = () =>
    options.events === undefined ? undefined : eventLog(options.events, project, lastFrame);
  const heard = pressLog ? pressLogEvents(pressLog, project, frameMs) : byFrame();
  const player = await playerFor(examination, root);
  if (!player) return tooLarge(context, examination);
  for (const remark of heard?.remarks ?? []) console.complain(remark);
  if (options.out !== undefined)
    writeFileWhole(required('out', options.out), rendered(player, show, from, count, heard?.events));
  const lines = layout.lines.map((line) => ({
    pin: line.pin ?? null,
    ledCount: line.ledCount,
    bytesPerLed: lineBytesPerLed(line),
  }));
  const bytesPerFrame = wireByteCount(layout);
  const differs = pressLog?.expected
    ? { expectedDiffers: expectedDiffers(pressLog, playedShows(player, pressLog, show, frameMs), frameMs) }
    : undefined;
  if (options.json)
    console.print(json({ lampshow: show, frameMs, from, count, bytesPerFrame, lines, ...differs }));
  else {
    console.print(
      `${count} frames of "${show}" from frame ${from}, ${frameMs} ms apart, ${bytesPerFrame} bytes each.`,
    );
    for (const line of differs?.expectedDiffers ?? []) console.print(line);
  }
  return statusOf(examination);
}

/** Frames of a show as after power-up; with events where there are any. */
function* rendered(
  player: Player,
  show: string,
  from: number,
  count: number,
  events?: readonly HeardEvent[],
): Generator<Uint8Array> {
  const frameOf = events ? player.perform(show, events) : (frame: number) => player.frame(show, frame);
  for (let frame = from; frame < from + count; frame++) yield frameOf(frame);
}

/** What a supply carries, and which of the usual sizes would do, its own among them. */
function supplyLine(load: SupplyLoad): string {
  const { supply, drawAmps, needAmps, loadShare } = load;
  const name = `${supply.id === undefined ? 'The supply' : `Supply "${supply.id}"`}, ${supply.amps} A,`;
  const usualAmps = supplyAmps[supplyKind(supply.volts)];
  const enough = supplySizes(load).filter(
    ({ verdict, amps }) => verdict === 'enough' && usualAmps.includes(amps),
  );
  const usual = enough.length === 0 ? 'none is' : `${enough.map(({ amps }) => amps).join(', ')} A are`;
  return `${name} gives up to ${drawAmps.toFixed(2)} A, ${(100 * loadShare).toFixed(0)} % of its rating; it should be rated ${needAmps.toFixed(2)} A or more. Of the usual sizes ${usual} enough.`;
}

async function power(args: readonly string[], context: Context): Promise<ExitStatus> {
  const { console, root } = context;
  const { positionals, options } = parseOptions(args, { show: 'text', json: 'flag' }, 1);
  const project = loadProject(positionals[0]!);
  const show = options.show === undefined ? undefined : showId('show', options.show, project);
  const examination = examine(project, readTemplates(root), show);
  const player = show === undefined ? undefined : await playerFor(examination, root);
  if (show !== undefined && !player) return tooLarge(context, examination);
  const showFramesCount = show === undefined ? 0 : showFrames(project, show, examination.frameMs);
  const played =
    show && player ? { lampshow: show, frames: rendered(player, show, 0, showFramesCount) } : undefined;
  const report = powerReport(project, examination.layout, played);
  if (options.json) console.print(json(report));
  else {
    const { supply, worstCase } = report;
    console.print(`Supply ${supply.volts} V, ${supply.amps} A, ${supply.watts} W.`);
    const where = worstCase.at ? ` at ${worstCase.at.run} LED ${worstCase.at.led}` : '';
    console.print(
      `Worst case, all white without limiter: ${worstCase.amps.toFixed(2)} A, lowest ${worstCase.lowestVolts.toFixed(3)} V${where}.`,
    );
    if (report.show)
      console.print(
        `Show "${report.show.lampshow}": peak ${report.show.peakAmps.toFixed(2)} A, average ${report.show.averageAmps.toFixed(2)} A, lowest ${report.show.lowestVolts.toFixed(3)} V.`,
      );
    for (const load of supplyLoads(project, panelNetwork(project, examination.layout)))
      console.print(supplyLine(load));
    for (const feed of report.feeds)
      console.print(
        `Feed at ${feed.run} LED ${feed.led}: ${feed.amps.toFixed(2)} A, ${feed.wire}, ${feed.lengthMm} mm, ${feed.fuseAmps === null ? 'no fuse fits' : `fuse ${feed.fuseAmps} A`}.`,
      );
  }
  return statusOf(examination);
}

async function exportFolder(args: readonly string[], { console, root }: Context): Promise<ExitStatus> {
  const { positionals, options } = parseOptions(args, { out: 'text', start: 'text' }, 1);
  const project = loadProject(positionals[0]!);
  const folder = realTarget(required('out', options.out));
  const start = options.start === undefined ? project.attractMode : showId('start', options.start, project);
  const earlier = inspectTarget(folder);
  const templates = readTemplates(root);
  const flashes = await findFlashes(project, examine(project, templates), root);
  const tools = { sha256, writeSheet: await readSheetWriter(root) };
  const { files, report } = planExport(project, templates, tools, {
    start,
    ...(flashes && { flashes }),
    ...(earlier?.ownCode === undefined ? {} : { ownCode: earlier.ownCode }),
  });
  writeFolderWhole(folder, files, earlier?.files);
  for (const finding of report.findings) console.complain(findingLine(finding));
  if (flashes) console.complain(flashCaution);
  console.print(
    `${files.size} files in ${folder}; after power-up the board plays "${start}", a frame every ${report.frameMs} ms.`,
  );
  return hasErrors(report.findings) ? exitStatus.projectHasErrors : exitStatus.done;
}

async function schema(args: readonly string[], { console }: Context): Promise<ExitStatus> {
  parseOptions(args, {}, 0);
  console.print(JSON.stringify(projectSchema, null, 2));
  return exitStatus.done;
}

export const commands: readonly Command[] = [
  {
    name: 'check',
    usage: 'check FILE [--json]',
    help: 'what is wrong or worth knowing about a project',
    run: check,
  },
  {
    name: 'frames',
    usage:
      'frames FILE (--show ID [--events "FRAME:EVENT[=VALUE],..."] | --events LOG [--show ID]) [--from N] [--count N] [--out FRAMES.bin] [--json]',
    help: 'what the wire carries, frame by frame; recorded presses LOG play from their own show on and for their length, unless --show and --count say otherwise',
    run: frames,
  },
  { name: 'power', usage: 'power FILE [--show ID] [--json]', help: 'currents, voltages, fuses', run: power },
  {
    name: 'picture',
    usage:
      'picture FILE (--show ID --frame N | --white) [--mm-per-px N] [--out LIT.png] [--light LIGHT.json]',
    help: 'the panel lit, as the eye sees it',
    run: picture,
  },
  {
    name: 'paint',
    usage:
      'paint FILE --picture IMAGE|FOLDER --area ID --columns N --rows N --out NEW.lamploom.json [--show ID] [--colours N] [--frame-ms N] [--json]',
    help: 'a picture or an animation as painted frames on a new row of a show',
    run: paint,
  },
  {
    name: 'fit',
    usage: 'fit FILE --channels DRAWING.svg|.dxf --out NEW.lamploom.json',
    help: 'runs fitted to engraved channels: in each the most LEDs that fit',
    run: fit,
  },
  {
    name: 'export',
    usage: 'export FILE --out DIR [--start SHOW]',
    help: 'sketch, ready-to-flash program, workshop drawing and lists, build sheet, report',
    run: exportFolder,
  },
  { name: 'schema', usage: 'schema', help: "the project file's JSON Schema", run: schema },
];
