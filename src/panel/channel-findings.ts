// What is worth telling about engraved channels and the runs in them: channels that no strip fits, that are empty or leave a rest, and runs that
// leave their groove. Also what a fitting changed against the plan, which the document no longer shows afterwards.
import { pitchMm } from '../catalogue/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';
import { cutPieceOf, Grooves, matchRuns, mostLeds, outsideMm, stripIdFor } from './channel-runs.ts';
import { betterPitch, type ChannelFit, mostMisfitMm } from './fit.ts';
import { runTitle } from './layout.ts';
import { stripById } from './strips.ts';

const mm = (value: number): string => `${value.toFixed(2)} mm`;
const ledsOf = (count: number): string => (count === 1 ? '1 LED' : `${count} LEDs`);

/** How far an LED may lie off its groove, mm: the clearance that a channel is cut with. */
const mostOutsideMm = 0.5;

/** Findings about `project.channels`; none where the project has none. */
export function channelFindings(project: Project): Finding[] {
  const channels = project.channels ?? [];
  if (channels.length === 0) return [];
  const grooves = new Grooves();
  const { runOf, besides } = matchRuns(project, channels, grooves);
  const findings: Finding[] = [];
  const atRun = (id: string): string =>
    pointer(
      'runs',
      project.runs.findIndex((run) => run.id === id),
    );
  for (const [index, channel] of channels.entries()) {
    const at = pointer('channels', index);
    const tell = (
      severity: Finding['severity'],
      code: string,
      message: string,
      mend: string,
      where = at,
    ): void => {
      findings.push({ severity, code, at: where, message, mend });
    };
    const run = runOf.get(channel);
    const strip = stripById(project, stripIdFor(project, run));
    const groove = grooves.of(channel, strip.boardWidthMm);
    const most = groove ? mostLeds(strip, groove.lengthMm) : 0;
    if (groove && !groove.takesBoard) {
      const message = `Channel "${channel.id}" is ${mm(groove.widthMm!)} wide, and the strip's board ${mm(strip.boardWidthMm)}.`;
      tell('error', 'channel-narrow', message, 'Cut it wider, or choose a narrower strip.');
    } else if (most === 0) {
      const message = `Channel "${channel.id}" is ${mm(groove?.lengthMm ?? 0)} long, too short for one piece of the strip.`;
      tell('warning', 'channel-short', message, 'Cut it longer, or choose a strip with more LEDs per metre.');
    } else if (!run)
      tell(
        'warning',
        'channel-empty',
        `No run lies in channel "${channel.id}".`,
        'Lay a run in it, or fit runs again.',
      );
    if (!groove?.takesBoard || most === 0) continue;
    const leftOverMm = groove.lengthMm - most * pitchMm(strip);
    if (leftOverMm > mostMisfitMm) {
      const shortMm = pitchMm(strip) * (strip.cutEveryLeds ?? 1) - leftOverMm;
      const other = betterPitch(groove.lengthMm, strip);
      const message = `Channel "${channel.id}" is ${mm(groove.lengthMm)} long: ${ledsOf(most)} leave ${mm(leftOverMm)} over, and ${mm(shortMm)} are missing to one piece more.`;
      const mend = other
        ? `Cut it to a whole number of LEDs; ${ledsOf(other.ledCount)} of ${other.ledsPerMetre} per metre would come out even.`
        : 'Cut it to a whole number of LEDs, or leave the rest empty.';
      tell('warning', 'channel-misfit', message, mend);
    }
    if (!run) continue;
    const outside = outsideMm(groove, cutPieceOf(project, run));
    if (outside > mostOutsideMm)
      tell(
        'error',
        'run-outside-channel',
        `Run "${runTitle(run)}" leaves channel "${channel.id}" by ${mm(outside)}.`,
        'Move it back, take LEDs off it, or fit runs to the channels again.',
        atRun(run.id),
      );
    else if (run.ledCount < most)
      tell(
        'note',
        'channel-room',
        `Channel "${channel.id}" takes ${ledsOf(most)}, and run "${runTitle(run)}" has ${run.ledCount}.`,
        'Lengthen the run if the place is to be lit.',
        atRun(run.id),
      );
  }
  const told = new Set<string>();
  for (const { run, channel } of besides) {
    if (told.has(run.id)) continue;
    told.add(run.id);
    findings.push({
      severity: 'warning',
      code: 'channel-shared',
      at: atRun(run.id),
      message: `Run "${runTitle(run)}" lies in channel "${channel.id}", where run "${runOf.get(channel)?.id}" lies already.`,
      mend: 'Delete one of the two, or move it to a channel of its own.',
    });
  }
  const inChannel = new Set([...runOf.values()].map((run) => run.id));
  for (const run of project.runs)
    if (!run.ring && !inChannel.has(run.id) && !told.has(run.id))
      findings.push({
        severity: 'warning',
        code: 'run-without-channel',
        at: atRun(run.id),
        message: `Run "${runTitle(run)}" lies in no engraved channel.`,
        mend: 'Move it into one, engrave one for it, or glue it on the face.',
      });
  return findings;
}

/** What fitting took from the plan; the pointers are those of the fitted project. */
export function fitFindings(report: readonly ChannelFit[]): Finding[] {
  return report.flatMap((fit, index): Finding[] => {
    const at = pointer('channels', index);
    const findings: Finding[] = [];
    if (fit.run !== undefined && fit.lostLeds > 0)
      findings.push({
        severity: 'warning',
        code: 'channel-lost-leds',
        at,
        message: `Channel "${fit.channel}" takes ${ledsOf(fit.ledCount)}; run "${fit.run}" had ${fit.ledCount + fit.lostLeds}, so it loses ${ledsOf(fit.lostLeds)}.`,
        mend: 'Cut the channel longer, or accept the shorter run.',
      });
    if (fit.obstacle === 'limit')
      findings.push({
        severity: 'error',
        code: 'channel-limit',
        at,
        message: `Channel "${fit.channel}" could take more LEDs, but the project holds no more LEDs or runs.`,
        mend: 'Choose a strip with fewer LEDs per metre, or leave channels out.',
      });
    return findings;
  });
}
