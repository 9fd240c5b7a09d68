// What a panel can play that must be looked at for flashes: every show by itself and into its own beginning, the ways into and back from every game
// event, an event again and again at every rate that the director lets through, and two events in turn.
// Not here: the analysis itself (src/light/flash-analysis.ts).
import { eventDefaults, type HeardEvent } from '../lampshow/index.ts';
import type { GameEvent, Lampshow, Project } from '../project/index.ts';

export interface FlashPlay {
  /** What is done, in words. */
  readonly title: string;
  /** Plays from power-up on. */
  readonly show: string;
  readonly log: readonly HeardEvent[];
  /** Frames to look at: so many from this one on. */
  readonly fromFrame: number;
  readonly frameCount: number;
  /** A show by itself; one show into another; one event again and again; two events in turn. */
  readonly kind: 'alone' | 'join' | 'again' | 'in-turn';
  /** The events that are pressed. */
  readonly events: readonly string[];
  /** Time between two presses, where they repeat. */
  readonly everyMs?: number;
}

const secondMs = 1000;
/** Slower presses than one a second bring no second with more than one of them. */
export const slowestAgainMs = 1000;
/** Two in turn that are slower than this repeat at one each second, so each is looked at by itself. */
export const slowestInTurnMs = 500;
/** No hand, and no game's program, keeps a rate more exactly than that. */
export const againStepMs = 20;
const inTurnStepMs = 50;
/** Long enough for a second of presses once the first have been answered. */
const pressingMs = 1400;
/** Moments of the attract mode out of which an event is pressed. */
const joinPhases = 3;

const priorityOf = ({ priority }: GameEvent): number => priority ?? eventDefaults.priority;

const nameOf = ({ id, name }: { readonly id: string; readonly name?: string }): string => name ?? id;

/** All sequences to look at, the shows first. `frameMs`: the project's. */
export function flashPlays(project: Project, frameMs: number): FlashPlay[] {
  const events = project.gameEvents ?? [];
  const frames = (ms: number): number => Math.ceil(ms / frameMs);
  const showOf = (id: string): Lampshow => project.lampshows.find((show) => show.id === id)!;
  const attract = showOf(project.attractMode);
  // What waits until a show is over can't chop it up; and of two events only those of one priority cut each other short.
  const interrupting = events.filter(({ when }) => when !== 'queue');
  return [
    ...project.lampshows.map((show) => ({
      title: nameOf(show),
      show: show.id,
      log: [],
      fromFrame: 0,
      // A second of the next pass: the join is looked at too.
      frameCount: frames(show.lengthMs + secondMs),
      events: [],
      kind: 'alone' as const,
    })),
    ...events.flatMap((event) => joins(event, attract, showOf(event.lampshow), frames)),
    ...interrupting.flatMap((event) => again(event, attract, frameMs)),
    ...interrupting.flatMap((first, index) =>
      interrupting
        .slice(index + 1)
        .filter((second) => priorityOf(first) === priorityOf(second))
        .flatMap((second) => inTurn(first, second, attract, frameMs)),
    ),
  ];
}

function joins(
  event: GameEvent,
  attract: Lampshow,
  show: Lampshow,
  frames: (ms: number) => number,
): FlashPlay[] {
  const { crossfadeMs = 0, delayMs = 0, plays = 1 } = event;
  const lastsMs = show.lengthMs * (plays === 'until-next' ? 1 : plays);
  // A second before the join, the join itself, and the second after it.
  const aroundMs = 2 * secondMs + crossfadeMs;
  return Array.from({ length: joinPhases }, (_, phase) =>
    [0, lastsMs].map((joinMs) => {
      const pressedMs = secondMs + (attract.lengthMs * phase) / joinPhases;
      return {
        title: joinMs === 0 ? `Into ${nameOf(event)}` : `Back from ${nameOf(event)}`,
        show: attract.id,
        log: [{ frame: frames(pressedMs), event: event.id }],
        fromFrame: Math.max(0, frames(pressedMs + delayMs + joinMs - crossfadeMs - secondMs)),
        frameCount: frames(aroundMs + crossfadeMs),
        events: [event.id],
        kind: 'join' as const,
      };
    }),
  ).flat();
}

/** Values that come with an event swing as far as they can: a column filled by them then changes most. */
const swingOf = (event: GameEvent, press: number): { readonly value?: number } =>
  event.hasValue ? { value: press % 2 === 0 ? 255 : 0 } : {};

/** Times between two presses, in whole frames, from the shortest that the director hears; short frames are taken several at a time. */
function periods(leastMs: number, mostMs: number, stepMs: number, frameMs: number): number[] {
  const least = Math.max(1, Math.ceil(leastMs / frameMs));
  const most = Math.ceil(mostMs / frameMs);
  const step = Math.max(1, Math.round(stepMs / frameMs));
  return Array.from(
    { length: Math.max(0, Math.floor((most - least) / step) + 1) },
    (_, i) => least + i * step,
  );
}

function again(event: GameEvent, attract: Lampshow, frameMs: number): FlashPlay[] {
  const frameCount = Math.ceil((pressingMs + (event.delayMs ?? 0)) / frameMs);
  return periods(event.retriggerMs ?? 0, slowestAgainMs, againStepMs, frameMs).map((period) => ({
    title: `${nameOf(event)}, pressed every ${Math.round(period * frameMs)} ms`,
    show: attract.id,
    log: pressesEvery(period, frameCount, () => event),
    fromFrame: 0,
    frameCount,
    events: [event.id],
    kind: 'again' as const,
    everyMs: period * frameMs,
  }));
}

function inTurn(first: GameEvent, second: GameEvent, attract: Lampshow, frameMs: number): FlashPlay[] {
  const frameCount = Math.ceil((pressingMs + Math.max(first.delayMs ?? 0, second.delayMs ?? 0)) / frameMs);
  // Each is pressed every second time.
  const leastMs = Math.max(first.retriggerMs ?? 0, second.retriggerMs ?? 0) / 2;
  return periods(leastMs, slowestInTurnMs, inTurnStepMs, frameMs).map((period) => ({
    title: `${nameOf(first)} and ${nameOf(second)} in turn, pressed every ${Math.round(period * frameMs)} ms`,
    show: attract.id,
    log: pressesEvery(period, frameCount, (press) => (press % 2 === 0 ? first : second)),
    fromFrame: 0,
    frameCount,
    events: [first.id, second.id],
    kind: 'in-turn' as const,
    everyMs: period * frameMs,
  }));
}

const pressesEvery = (
  period: number,
  frameCount: number,
  eventOf: (press: number) => GameEvent,
): HeardEvent[] =>
  Array.from({ length: Math.ceil(frameCount / period) }, (_, press) => {
    const event = eventOf(press);
    return { frame: press * period, event: event.id, ...swingOf(event, press) };
  });
