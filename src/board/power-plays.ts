// The most that a panel can be made to draw: every show by itself, with the values of its events at both ends, events pressed where shows draw most, crossfades
// laid so that both shows are bright, events again and again and in turn, recorded presses. The sequences of the flash analysis are played as well.
// What is found is the worst of what was played, never a proof that nothing is worse; white without limiter is the bound (src/power/load-cases.ts).
// Not here: how frames are turned into amperes, and volts.
import type { FrameOf, HeardEvent, Player } from '../lampshow/index.ts';
import { ampsMeter, darkAmps, panelNetwork, totalAmps, worstSecond } from '../power/index.ts';
import type { Project } from '../project/index.ts';
import type { CompiledProject } from './compile.ts';
import { alonePlays, type FlashPlay, pressedPlays, type ShowSurvey } from './flash-plays.ts';
import { brightPresses, passesMs } from './power-presses.ts';

export interface PowerPlay {
  /** What is done, in words. */
  readonly title: string;
  /** Plays from power-up on. */
  readonly show: string;
  readonly log: readonly HeardEvent[];
  readonly peakAmps: number;
  /** The first frame that draws so much, from power-up on. */
  readonly peakFrame: number;
  /** Largest mean over a second. */
  readonly worstSecondAmps: number;
  /** Frame in which that second begins. */
  readonly worstSecondFrame: number;
}

export interface PowerPlays {
  /** Every show by itself, in the project's order, at the value of power-up, 0. */
  readonly alone: readonly PowerPlay[];
  /** Of all that was played, the one with the highest peak; undefined in a project without shows. */
  readonly highestPeak: PowerPlay | undefined;
  /** The one with the highest mean over a second. */
  readonly highestSecond: PowerPlay | undefined;
  /** How many sequences were played or known to be no worse than what was, and how many were left out because there are too many. */
  readonly lookedAtCount: number;
  readonly leftOutCount: number;
}

export interface PowerProgress {
  readonly doneCount: number;
  readonly playCount: number;
}

const secondMs = 1000;
/** Frames between two yields: about a millisecond of work. */
const framesASlice = 64;
/** LEDs times frames, for all but the shows by themselves: some seconds of work. */
const mostLedFrames = 200_000_000;
/** A frame of few LEDs takes no less time than one of so many. */
const leastLeds = 100;
const mostValue = 255;
/** A nanoampere of arithmetic makes no sequence worse than a simpler one. */
const noAmps = 1e-9;

type Play = Pick<FlashPlay, 'title' | 'show' | 'log' | 'fromFrame' | 'frameCount' | 'stride' | 'events'> & {
  readonly kind: FlashPlay['kind'] | 'value';
};

interface Measured {
  readonly load: PowerPlay;
  /** Frame by frame, of every `stride` frames one. */
  readonly amps: readonly number[];
}

const nameOf = ({ id, name }: { readonly id: string; readonly name?: string }): string => name ?? id;

/** Shows with a column that a value fills. */
const followsValue = ({ rows }: Project['lampshows'][number]): boolean =>
  rows.some(({ clips }) => clips.some(({ effect }) => effect.kind === 'column' && effect.byValue === true));

/**
 * Each event with a value at both ends of it: its own show, and then the attract mode and all shows that a value changes, when its own is over. Behind a
 * show without end they are started by an event of theirs.
 */
function valuePlays(project: Project, frameMs: number): Play[] {
  const events = project.gameEvents ?? [];
  const frames = (ms: number): number => Math.ceil(ms / frameMs);
  const lengthMs = (show: string): number => project.lampshows.find(({ id }) => id === show)!.lengthMs;
  const changed = project.lampshows.filter(followsValue).map(({ id }) => id);
  return events
    .filter(({ hasValue }) => hasValue)
    .flatMap((event) => {
      const startsAt = frames(event.delayMs ?? 0);
      const fadeMs = event.crossfadeMs ?? 0;
      return [0, mostValue].flatMap((value) => {
        const press = { frame: 0, event: event.id, value };
        const play = (
          title: string,
          show: string,
          log: HeardEvent[],
          from: number,
          lastsMs: number,
        ): Play => ({
          title: `${title} with the value ${value}`,
          show,
          log,
          fromFrame: from,
          frameCount: frames(lastsMs + secondMs),
          stride: 1,
          kind: 'value',
          events: [event.id],
        });
        const own = play(nameOf(event), project.attractMode, [press], 0, fadeMs + lengthMs(event.lampshow));
        const behind = [...new Set([project.attractMode, ...changed])].flatMap((show): Play[] => {
          const lastsMs = fadeMs + lengthMs(show);
          const title = `${nameOf(project.lampshows.find(({ id }) => id === show)!)} after ${nameOf(event)}`;
          if (event.plays !== 'until-next')
            return [play(title, show, [press], startsAt + frames(passesMs(project, event)), lastsMs)];
          const starting = events.find(({ id, lampshow }) => lampshow === show && id !== event.id);
          if (!starting) return [];
          const next = { frame: startsAt + 1, event: starting.id };
          return [
            play(title, project.attractMode, [press, next], next.frame, (starting.delayMs ?? 0) + lastsMs),
          ];
        });
        return [own, ...behind];
      });
    });
}

/** The sequence as it is, and where presses with a value come without one, with the greatest one as well. */
function withValues(project: Project, play: Play): Play[] {
  const valued = new Set(
    (project.gameEvents ?? []).filter(({ hasValue }) => hasValue).map((event) => event.id),
  );
  const isOpen = ({ event, value }: HeardEvent) => value === undefined && valued.has(event);
  if (play.kind === 'recorded' || !play.log.some(isOpen)) return [play];
  const log = play.log.map((press) => (isOpen(press) ? { ...press, value: mostValue } : press));
  return [play, { ...play, log, title: `${play.title}, the value ${mostValue}` }];
}

/**
 * Plays everything and measures it. Yields how far it is; whoever asks no further has stopped it. The player holds the project's show data, and nobody
 * else may use it until the end. Show data must exist.
 */
export function* powerPlaysOf(
  { project, layout, frameMs }: Pick<CompiledProject, 'project' | 'layout' | 'frameMs'>,
  player: Player,
): Generator<PowerProgress, PowerPlays, undefined> {
  const panel = panelNetwork(project, layout);
  const measure = ampsMeter(panel);
  const dark = totalAmps(darkAmps(panel));
  let [doneCount, playCount, frameCount, leftOutCount] = [0, 0, 0, 0];
  let highestPeak: PowerPlay | undefined;
  let highestSecond: PowerPlay | undefined;

  function* played(play: Play): Generator<PowerProgress, Measured, undefined> {
    const frameOf: FrameOf =
      play.kind === 'alone' ? (frame) => player.frame(play.show, frame) : player.perform(play.show, play.log);
    const amps: number[] = [];
    let peak = 0;
    for (let i = 0; i * play.stride < play.frameCount; i++) {
      amps.push(measure(frameOf(play.fromFrame + i * play.stride)));
      if (amps[i]! > amps[peak]!) peak = i;
      if (++frameCount % framesASlice === 0) yield { doneCount, playCount };
    }
    doneCount++;
    const stepMs = frameMs * play.stride;
    // Around a show that is shorter than a second nothing else is lit.
    const padding = Array.from({ length: Math.ceil(secondMs / stepMs) - amps.length }, () => dark);
    const second = worstSecond([...amps, ...padding], stepMs, false)!;
    const { title, show, log, fromFrame, stride } = play;
    const load: PowerPlay = {
      title,
      show,
      log,
      peakAmps: amps[peak]!,
      peakFrame: fromFrame + peak * stride,
      worstSecondAmps: second.amps,
      worstSecondFrame: fromFrame + second.fromFrame * stride,
    };
    if (highestPeak === undefined || load.peakAmps > highestPeak.peakAmps + noAmps) highestPeak = load;
    if (highestSecond === undefined || load.worstSecondAmps > highestSecond.worstSecondAmps + noAmps)
      highestSecond = load;
    return { load, amps };
  }

  const first = alonePlays(project, frameMs);
  const values = valuePlays(project, frameMs);
  playCount = first.length + values.length;
  const alone: PowerPlay[] = [];
  const surveys = new Map<string, readonly number[]>();
  /** The most that was seen of each show, whatever the value. */
  const peaks = new Map<string, number>();
  const saw = (show: string, amps: number) => peaks.set(show, Math.max(amps, peaks.get(show) ?? 0));
  for (const play of first) {
    const { load, amps } = yield* played(play);
    alone.push(load);
    surveys.set(play.show, amps);
    saw(play.show, load.peakAmps);
  }
  const showOf = new Map((project.gameEvents ?? []).map((event) => [event.id, event.lampshow]));
  for (const play of values) {
    const { load } = yield* played(play);
    for (const show of [play.show, ...play.log.map(({ event }) => showOf.get(event)!)])
      saw(show, load.peakAmps);
  }
  frameCount = 0;

  const fading = new Set(
    (project.gameEvents ?? []).filter(({ crossfadeMs = 0 }) => crossfadeMs > 0).map(({ id }) => id),
  );
  /** No sequence without crossfades draws more than the brightest of its shows. */
  const mostOf = (play: Play): number =>
    Math.max(
      ...[play.show, project.attractMode, ...play.events.map((id) => showOf.get(id)!)].map(
        (show) => peaks.get(show)!,
      ),
    );
  const mayBeWorse = (play: Play): boolean =>
    play.kind === 'recorded' ||
    play.events.some((id) => fading.has(id)) ||
    mostOf(play) > Math.min(highestPeak!.peakAmps, highestSecond!.worstSecondAmps) + noAmps;
  // Amperes take the place of what flashes: a show's most restless moment is then its brightest one.
  const asFlashes = new Map(
    [...surveys].map(([show, amps]): [string, ShowSurvey] => [
      show,
      { changes: amps.map((one) => one * milliampsPerAmp), light: amps, red: amps },
    ]),
  );
  const isRecorded = ({ kind }: Play): boolean => kind === 'recorded';
  const pressed: Play[] = pressedPlays(project, frameMs, asFlashes);
  const rest = [
    ...pressed.filter(isRecorded),
    ...brightPresses(project, frameMs, surveys),
    ...pressed.filter((play) => !isRecorded(play)).sort((a, b) => mostOf(b) - mostOf(a)),
  ].flatMap((play) => withValues(project, play));
  playCount += rest.length;
  const mostFrames = mostLedFrames / Math.max(leastLeds, panel.leds.length);
  for (const play of rest) {
    if (frameCount > mostFrames) leftOutCount++;
    else if (mayBeWorse(play)) yield* played(play);
    else doneCount++;
  }
  return { alone, highestPeak, highestSecond, lookedAtCount: playCount - leftOutCount, leftOutCount };
}

/** Whole numbers of some size, as counts of changes are. */
const milliampsPerAmp = 1000;
