// When events are pressed so that a join of two shows draws as much as it can: chosen from what each show by itself draws, frame by frame, as if a crossfade
// added up amperes. What it really draws is measured by playing (power-plays.ts).
import { eventDefaults, type HeardEvent } from '../lampshow/index.ts';
import type { GameEvent, Project } from '../project/index.ts';
import type { FlashPlay } from './flash-plays.ts';

type Amps = readonly number[];

const secondMs = 1000;
/** Moments of a show that are tried, and moments of a crossfade. */
const mostPhases = 400;
const mostFadeSteps = 40;
/** How far through a crossfade a show's brightest moment is laid. */
const fadeShares = [0, 0.25, 0.5] as const;
/** How much of the worst second belongs to the outgoing show, where one cuts off the other. */
const cutShares = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9] as const;

const nameOf = ({ id, name }: { readonly id: string; readonly name?: string }): string => name ?? id;

/** How long an event's show has the panel, ms; one pass where only the next event ends it. */
export const passesMs = (project: Project, { plays = eventDefaults.plays, lampshow }: GameEvent): number =>
  (plays === 'until-next' ? 1 : plays) * project.lampshows.find(({ id }) => id === lampshow)!.lengthMs;

/** Index of the greatest, the first of equals. */
const greatest = (values: Amps): number =>
  values.reduce((best, value, index) => (value > values[best]! ? index : best), 0);

/** Frame of the outgoing show at which a crossfade of `fadeFrames` should begin. */
function fadePhase(outgoing: Amps, frames: number, incoming: Amps, fadeFrames: number): number {
  const step = Math.max(1, Math.ceil(frames / mostPhases));
  const fadeStep = Math.max(1, Math.ceil(fadeFrames / mostFadeSteps));
  let best = { amps: -1, phase: 0 };
  for (let phase = 0; phase < frames; phase += step)
    for (let t = 0; t <= fadeFrames; t += fadeStep) {
      const share = t / fadeFrames;
      const amps =
        (1 - share) * outgoing[(phase + t) % frames]! + share * incoming[Math.min(t, incoming.length - 1)]!;
      if (amps > best.amps) best = { amps, phase };
    }
  return best.phase;
}

/** Frame of the outgoing show at which it is cut off, so that the second around the cut draws most. */
function cutPhase(outgoing: Amps, frames: number, incoming: Amps, secondFrames: number): number {
  const sum = (amps: Amps, from: number, count: number): number => {
    let total = 0;
    for (let i = from; i < from + count; i++) total += amps[Math.min(Math.max(0, i), amps.length - 1)]!;
    return total;
  };
  let best = { amps: -1, phase: 0 };
  for (const share of cutShares) {
    const before = Math.max(1, Math.round(share * secondFrames));
    const after = sum(incoming, 0, secondFrames - before);
    let ending = sum(outgoing, 0, before);
    for (let end = before; end <= frames; end++) {
      if (ending + after > best.amps) best = { amps: ending + after, phase: end };
      ending += (outgoing[end] ?? 0) - outgoing[end - before]!;
    }
  }
  return best.phase;
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
    const chosen =
      fadeFrames === 0
        ? [cutPhase(outgoing, frames, incoming, secondFrames), brightest + 1]
        : [
            fadePhase(outgoing, frames, incoming, fadeFrames),
            ...fadeShares.map((share) => brightest - Math.round(share * fadeFrames)),
          ];
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
      // A pass later where the press would lie before power-up.
      const press = phase - delayOf(event) + (phase < delayOf(event) ? frames : 0);
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
