// When events are pressed so that a join of two shows draws as much as it can: chosen from what each show by itself draws, frame by frame, and from a guess at
// what a crossfade makes of it. What it really draws is measured by playing (power-plays.ts).
import { eventDefaults, type HeardEvent } from '../lampshow/index.ts';
import type { GameEvent, Project } from '../project/index.ts';
import type { FlashPlay } from './flash-plays.ts';

type Amps = readonly number[];

const secondMs = 1000;
/** Moments of a show that are thought through, and how finely. */
const mostPhases = 400;
const stepsASecond = 50;
/** Moments of a show, evenly spread, at which a crossfade begins whatever is thought: levels add up to less or more than amperes do. */
const evenPhases = 8;
/** How far through a crossfade a show's brightest moment is laid. */
const fadeShares = [0, 0.25, 0.5] as const;
const nameOf = ({ id, name }: { readonly id: string; readonly name?: string }): string => name ?? id;

/** How long an event's show has the panel, ms; one pass where only the next event ends it. */
export const passesMs = (project: Project, { plays = eventDefaults.plays, lampshow }: GameEvent): number =>
  (plays === 'until-next' ? 1 : plays) * project.lampshows.find(({ id }) => id === lampshow)!.lengthMs;

/** Index of the greatest, the first of equals. */
const greatest = (values: Amps): number =>
  values.reduce((best, value, index) => (value > values[best]! ? index : best), 0);

/**
 * What a show may give of its amperes at a share of its level. Rows that add up and are cut off at full level keep them until half way; all others give less,
 * and two such shows never draw more together than one of them alone.
 */
const guess = (share: number): number => Math.min(1, 2 * share);

/**
 * Frames of the outgoing show at which the next one should take over: the one that gives the highest peak by guess, and the one that gives the highest
 * mean over a second. `frames`: the outgoing show's own; it is seen as often as it takes.
 */
function bestPhases(
  outgoing: Amps,
  frames: number,
  incoming: Amps,
  fadeFrames: number,
  secondFrames: number,
): number[] {
  const before = (frame: number): number => outgoing[((frame % frames) + frames) % frames]!;
  const after = (frame: number): number => incoming[Math.min(frame, incoming.length - 1)]!;
  const step = Math.max(1, Math.ceil(frames / mostPhases));
  const pace = Math.max(1, Math.floor(secondFrames / stepsASecond));
  const steps = Math.ceil(secondFrames / pace);
  let peak = { amps: -1, phase: 0 };
  let second = { amps: -1, phase: 0 };
  for (let phase = 0; phase < frames; phase += step) {
    const seen: number[] = [];
    let sum = 0;
    for (let t = -secondFrames; t < fadeFrames + secondFrames; t += pace) {
      const share = t < 0 ? 0 : t < fadeFrames ? t / fadeFrames : 1;
      const amps = guess(1 - share) * before(phase + t) + (share > 0 ? guess(share) * after(t) : 0);
      if (amps > peak.amps) peak = { amps, phase };
      seen.push(amps);
      sum += amps - (seen.length > steps ? seen[seen.length - 1 - steps]! : 0);
      if (seen.length >= steps && sum > second.amps) second = { amps: sum, phase };
    }
  }
  return [peak.phase, second.phase];
}

/**
 * Events pressed where what plays before draws most. `surveys`: amperes of each show by itself, frame by frame, by its id.
 */
export function brightPresses(
  project: Project,
  frameMs: number,
  surveys: ReadonlyMap<string, Amps>,
): FlashPlay[] {
  const events = project.gameEvents ?? [];
  const framesOf = (ms: number): number => Math.ceil(ms / frameMs);
  const showFrames = (show: string): number =>
    Math.min(surveys.get(show)!.length, framesOf(project.lampshows.find(({ id }) => id === show)!.lengthMs));
  const secondFrames = framesOf(secondMs);

  /** Frames of a show at which the next one should take over. */
  const phases = (show: string, next: GameEvent): number[] => {
    const outgoing = surveys.get(show)!;
    const incoming = surveys.get(next.lampshow)!;
    const frames = showFrames(show);
    const fadeFrames = framesOf(next.crossfadeMs ?? 0);
    const brightest = greatest(outgoing.slice(0, frames));
    const chosen = bestPhases(outgoing, frames, incoming, fadeFrames, secondFrames);
    if (fadeFrames === 0) return [...new Set([...chosen, brightest + 1])];
    chosen.push(
      ...fadeShares.map((share) => brightest - Math.round(share * fadeFrames)),
      ...Array.from({ length: evenPhases }, (_, i) => Math.floor((i * frames) / evenPhases)),
    );
    return [...new Set(chosen)];
  };

  const play = (
    title: string,
    show: string,
    log: readonly HeardEvent[],
    joinFrame: number,
    fadeMs: number,
    pressed: readonly GameEvent[],
  ): FlashPlay => {
    const fromFrame = Math.max(0, joinFrame - secondFrames);
    return {
      title,
      kind: 'join',
      show,
      log,
      fromFrame,
      frameCount: joinFrame - fromFrame + framesOf(fadeMs) + secondFrames,
      stride: 1,
      events: pressed.map(({ id }) => id),
    };
  };

  const delayOf = (event: GameEvent): number => framesOf(event.delayMs ?? 0);
  const priorityOf = ({ priority = eventDefaults.priority }: GameEvent): number => priority;

  const outOfAttract = (event: GameEvent): FlashPlay[] => {
    const attract = project.attractMode;
    const frames = showFrames(attract);
    return phases(attract, event).map((phase) => {
      // Passes later where the press, or the second before the join, would lie before power-up.
      const passes = Math.ceil(Math.max(0, delayOf(event) + secondFrames - phase) / frames);
      const press = phase - delayOf(event) + passes * frames;
      const log = [{ frame: press, event: event.id }];
      return play(
        `${nameOf(event)} at a bright moment of the attract mode`,
        attract,
        log,
        press + delayOf(event),
        event.crossfadeMs ?? 0,
        [event],
      );
    });
  };

  const fromShow = (first: GameEvent, next: GameEvent): FlashPlay[] => {
    if (next.when === 'queue' || priorityOf(next) < priorityOf(first)) return [];
    return phases(first.lampshow, next)
      .map((phase) => delayOf(first) + phase - delayOf(next))
      .filter((press) => press > 0)
      .map((press) =>
        play(
          `${nameOf(next)} at a bright moment of ${nameOf(first)}`,
          project.attractMode,
          [
            { frame: 0, event: first.id },
            { frame: press, event: next.id },
          ],
          press + delayOf(next),
          next.crossfadeMs ?? 0,
          [first, next],
        ),
      );
  };

  /** The event's show stays at its end while the attract mode comes back: pressed so that this is then brightest. */
  const backToAttract = (event: GameEvent): FlashPlay[] => {
    const fadeFrames = framesOf(event.crossfadeMs ?? 0);
    if (event.plays === 'until-next' || fadeFrames === 0) return [];
    const attract = project.attractMode;
    const frames = showFrames(attract);
    const brightest = greatest(surveys.get(attract)!.slice(0, frames));
    const lasts = delayOf(event) + framesOf(passesMs(project, event));
    return [0.25, 0.5, 0.75].map((share) => {
      const comesBackAt = brightest - Math.round(share * fadeFrames);
      // What was interrupted and resumes goes on from the press; otherwise the attract mode went on unseen.
      const wanted = event.resume ? comesBackAt - delayOf(event) : comesBackAt - lasts;
      const press = ((wanted % frames) + frames) % frames;
      return play(
        `Back from ${nameOf(event)} at a bright moment of the attract mode`,
        attract,
        [{ frame: press, event: event.id }],
        press + lasts,
        event.crossfadeMs ?? 0,
        [event],
      );
    });
  };

  return [
    ...events.flatMap(outOfAttract),
    ...events.flatMap(backToAttract),
    ...events.flatMap((first) => events.flatMap((next) => fromShow(first, next))),
  ];
}
