// What a panel can play that must be looked at for flashes: every show by itself and into its own beginning; from show to show, where the end of one and
// the beginning of the other could be too much together; an event again and again at every rate that the director lets through; events in turn; and the
// project's own recorded presses. What the shows by themselves gave decides which of the rest can matter, so that the time stays short.
// Not here: the analysis itself (src/light/flash-analysis.ts).
import {
  eventDefaults,
  type HeardEvent,
  heardPresses,
  pressLogFrames,
  pressLogStart,
} from '../lampshow/index.ts';
import { firstTooMany } from '../light/index.ts';
import type { GameEvent, Project } from '../project/index.ts';

export interface FlashPlay {
  /** What is done, in words. */
  readonly title: string;
  /** Plays from power-up on. */
  readonly show: string;
  readonly log: readonly HeardEvent[];
  /** Frames to look at: so many from this one on, or of every `stride` frames one. */
  readonly fromFrame: number;
  readonly frameCount: number;
  readonly stride: number;
  /** A show by itself; one show into another; one event again and again; events in turn; recorded presses. */
  readonly kind: 'alone' | 'join' | 'again' | 'in-turn' | 'recorded';
  /** The events that are pressed; of recorded presses their log's id. */
  readonly events: readonly string[];
  /** Time between two presses, where they repeat. */
  readonly everyMs?: number;
}

/** What a show by itself gave, frame by frame. */
export interface ShowSurvey {
  /** As FlashAnalysis has them. */
  readonly changes: readonly number[];
  /** Light of all LEDs together, and of their red alone; any unit. */
  readonly light: readonly number[];
  readonly red: readonly number[];
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
/** Moments of the attract mode out of which an event is pressed, beside its most restless one. */
const joinPhases = 3;
/** Presses are looked at no finer than that: shorter frames are taken several at a time. */
const leastStepMs = 10;
/** Pairs of events that differ most in light; a game with more of one priority has others that are as like. */
const mostPairs = 30;
/** Presses behind a show's most restless moment: at once would swallow its last change, and the changes of a flash lie about so far apart. */
const joinsAfterMs = [0, 60, 120] as const;
/** A join can add the change from one show's light to the other's, and back. */
const joinChanges = 2;

const nameOf = ({ id, name }: { readonly id: string; readonly name?: string }): string => name ?? id;
const priorityOf = ({ priority }: GameEvent): number => priority ?? eventDefaults.priority;

/** Whether a show ever begins again right behind its own end: the attract mode, what plays several times, and what no event starts but power-up may. */
const isRepeated = ({ attractMode, gameEvents = [] }: Project, show: string): boolean => {
  const starting = gameEvents.filter(({ lampshow }) => lampshow === show);
  return show === attractMode || starting.length === 0 || starting.some(({ plays }) => (plays ?? 1) !== 1);
};

/** Every show by itself. `frameMs`: the project's. */
export const alonePlays = (project: Project, frameMs: number): FlashPlay[] =>
  project.lampshows.map((show) => ({
    title: nameOf(show),
    show: show.id,
    log: [],
    fromFrame: 0,
    // A second of the next pass, where there is one: the join is looked at too.
    frameCount: Math.ceil((show.lengthMs + (isRepeated(project, show.id) ? secondMs : 0)) / frameMs),
    stride: 1,
    kind: 'alone',
    events: [],
  }));

/** Everything else. `surveys`: what each show by itself gave, by its id. */
export function pressedPlays(
  project: Project,
  frameMs: number,
  surveys: ReadonlyMap<string, ShowSurvey>,
): FlashPlay[] {
  const events = project.gameEvents ?? [];
  const plan = new Plan(project, frameMs, surveys);
  const interrupting = events.filter(({ when }) => when !== 'queue');
  return [
    ...events.flatMap((event) => plan.joins(event)),
    ...events.flatMap((first) => events.flatMap((second) => plan.fromShowToShow(first, second))),
    ...events.flatMap((event) => plan.again(event)),
    ...plan.pairs(events).flatMap(([first, second]) => plan.inTurn([first, second])),
    ...[...new Set(interrupting.map(priorityOf))].flatMap((priority) => {
      const group = interrupting.filter((event) => priorityOf(event) === priority);
      return group.length > 2 ? plan.inTurn(group) : [];
    }),
    ...(project.pressLogs ?? []).map(
      (log): FlashPlay => ({
        title: `Recorded presses "${nameOf(log)}"`,
        show: pressLogStart(log, project),
        log: heardPresses(log, frameMs),
        fromFrame: 0,
        frameCount: pressLogFrames(log, frameMs),
        stride: 1,
        kind: 'recorded',
        events: [log.id],
      }),
    ),
  ];
}

class Plan {
  private readonly project: Project;
  private readonly frameMs: number;
  private readonly surveys: ReadonlyMap<string, ShowSurvey>;
  private readonly stride: number;

  constructor(project: Project, frameMs: number, surveys: ReadonlyMap<string, ShowSurvey>) {
    this.project = project;
    this.frameMs = frameMs;
    this.surveys = surveys;
    this.stride = Math.max(1, Math.floor(leastStepMs / frameMs));
  }

  private frames(ms: number): number {
    return Math.ceil(ms / this.frameMs);
  }

  private lengthMs(show: string): number {
    return this.project.lampshows.find(({ id }) => id === show)!.lengthMs;
  }

  /** How long its show has the panel; endless where only the next event ends it. */
  private lastsMs(event: GameEvent): number {
    const plays = event.plays ?? eventDefaults.plays;
    return plays === 'until-next' ? Number.POSITIVE_INFINITY : plays * this.lengthMs(event.lampshow);
  }

  /** Most changes that a place had in the first second, in the last one and in any. */
  private restless(show: string): {
    readonly first: number;
    readonly last: number;
    readonly any: number;
    readonly atMs: number;
  } {
    const changes = this.surveys.get(show)?.changes ?? [];
    const own = changes.slice(0, this.frames(this.lengthMs(show)));
    const second = this.frames(secondMs);
    const most = (list: readonly number[]): number => list.reduce((a, b) => Math.max(a, b), 0);
    const any = most(own);
    return {
      first: most(own.slice(0, second)),
      last: most(own.slice(-second)),
      any,
      atMs: Math.max(0, own.indexOf(any)) * this.frameMs,
    };
  }

  /** Moments of a show at which it is brightest, darkest, reddest, and at its beginning, ms. */
  private phases(show: string): number[] {
    const { light, red } = this.surveys.get(show) ?? { light: [], red: [] };
    const end = this.frames(this.lengthMs(show));
    const at = (values: readonly number[], isBetter: (a: number, b: number) => boolean): number => {
      let best = 0;
      for (let frame = 1; frame < Math.min(end, values.length); frame++)
        if (isBetter(values[frame]!, values[best]!)) best = frame;
      return best;
    };
    const frames = [0, at(light, (a, b) => a > b), at(light, (a, b) => a < b), at(red, (a, b) => a > b)];
    return [...new Set(frames)].map((frame) => frame * this.frameMs);
  }

  private play(
    title: string,
    kind: FlashPlay['kind'],
    show: string,
    log: readonly HeardEvent[],
    fromMs: number,
    lastsMs: number,
    events: readonly GameEvent[],
  ): FlashPlay {
    return {
      title,
      kind,
      show,
      log,
      fromFrame: Math.max(0, this.frames(fromMs)),
      frameCount: this.frames(lastsMs),
      stride: this.stride,
      events: events.map(({ id }) => id),
    };
  }

  /** Out of the attract mode and back into it. */
  joins(event: GameEvent): FlashPlay[] {
    const { crossfadeMs = 0, delayMs = 0 } = event;
    const attract = this.project.attractMode;
    const lengthMs = this.lengthMs(attract);
    const { any, atMs } = this.restless(attract);
    const { first } = this.restless(event.lampshow);
    const isRestless = any + first + joinChanges >= firstTooMany;
    const pressedAt = [
      ...Array.from({ length: joinPhases }, (_, phase) => secondMs + (lengthMs * phase) / joinPhases),
      ...(isRestless ? joinsAfterMs.map((ms) => (atMs > secondMs ? atMs : atMs + lengthMs) + ms) : []),
    ];
    const ends = Number.isFinite(this.lastsMs(event)) ? [0, this.lastsMs(event)] : [0];
    return pressedAt.flatMap((pressedMs) =>
      ends.map((joinMs) =>
        this.play(
          joinMs === 0 ? `Into ${nameOf(event)}` : `Back from ${nameOf(event)}`,
          'join',
          attract,
          [{ frame: this.frames(pressedMs), event: event.id }],
          pressedMs + delayMs + joinMs - crossfadeMs - secondMs,
          2 * secondMs + 2 * crossfadeMs,
          [event],
        ),
      ),
    );
  }

  /** One event's show straight into another's: the second waits, or cuts the first short at its most restless moment or just before its end. */
  fromShowToShow(first: GameEvent, second: GameEvent): FlashPlay[] {
    const before = this.restless(first.lampshow);
    const after = this.restless(second.lampshow);
    if (before.any + after.first + joinChanges < firstTooMany) return [];
    const startMs = first.delayMs ?? 0;
    const lastsMs = Math.min(this.lastsMs(first), this.lengthMs(first.lampshow));
    const moments = [
      ...joinsAfterMs.map((ms) => Math.min(before.atMs + ms, lastsMs - 2 * this.frameMs)),
      lastsMs - 2 * this.frameMs,
    ].map((ms) => startMs + ms);
    return moments.map((pressedMs) =>
      this.play(
        `From ${nameOf(first)} into ${nameOf(second)}`,
        'join',
        this.project.attractMode,
        [
          { frame: 0, event: first.id },
          { frame: Math.max(1, this.frames(pressedMs)), event: second.id },
        ],
        pressedMs - secondMs,
        3 * secondMs + (second.crossfadeMs ?? 0) + (second.delayMs ?? 0),
        [first, second],
      ),
    );
  }

  /** Shows that may lie under an event that is pressed again and again: what is seen between its own when they are short. */
  private bases(event: GameEvent): string[] {
    const others = (this.project.gameEvents ?? []).filter(
      (other) =>
        other.id !== event.id &&
        priorityOf(other) <= priorityOf(event) &&
        this.lastsMs(other) > slowestAgainMs,
    );
    return [...new Set([this.project.attractMode, ...others.map(({ lampshow }) => lampshow)])];
  }

  again(event: GameEvent): FlashPlay[] {
    const isShort = this.lastsMs(event) < slowestAgainMs;
    // A long show that waits for its turn is heard to its end; only its value changes.
    if (event.when === 'queue' && !isShort && !event.hasValue) return [];
    const lastsMs = pressingMs + (event.delayMs ?? 0) + (event.crossfadeMs ?? 0);
    // A press that is not heard sets the value all the same.
    const leastMs = event.hasValue ? 0 : (event.retriggerMs ?? 0);
    const under = isShort
      ? this.bases(event).flatMap((show) => this.phases(show).map((startMs) => ({ show, startMs })))
      : [{ show: this.project.attractMode, startMs: 0 }];
    return under.flatMap(({ show, startMs }) =>
      this.periods(leastMs, slowestAgainMs, againStepMs).map((period) => ({
        ...this.play(
          `${nameOf(event)} again and again`,
          'again',
          show,
          this.presses(period, startMs, lastsMs, () => event),
          startMs,
          lastsMs,
          [event],
        ),
        everyMs: period * this.frameMs,
      })),
    );
  }

  /** Pairs that can chop each other up: of one priority, or where the one that wins is short. The ones that differ most in light first. */
  pairs(events: readonly GameEvent[]): (readonly [GameEvent, GameEvent])[] {
    const pairs = events.flatMap((first, index) =>
      events.slice(index + 1).flatMap((second) => {
        const higher = priorityOf(first) >= priorityOf(second) ? first : second;
        const waits = first.when === 'queue' || second.when === 'queue';
        const isEven = priorityOf(first) === priorityOf(second) && !waits;
        return isEven || this.lastsMs(higher) < slowestAgainMs ? [[first, second] as const] : [];
      }),
    );
    const begins = ({ lampshow }: GameEvent): number => {
      const light = this.surveys.get(lampshow)?.light.slice(0, this.frames(slowestInTurnMs)) ?? [];
      return light.reduce((sum, one) => sum + one, 0) / Math.max(1, light.length);
    };
    const apart = ([a, b]: readonly [GameEvent, GameEvent]): number => Math.abs(begins(a) - begins(b));
    return pairs.sort((a, b) => apart(b) - apart(a)).slice(0, mostPairs);
  }

  /** Each is pressed when it is its turn. Where a value comes along, both ends of its swing are tried with each. */
  inTurn(events: readonly GameEvent[]): FlashPlay[] {
    const least = Math.max(...events.map(({ retriggerMs = 0 }) => retriggerMs)) / events.length;
    const delays = events.map(({ delayMs = 0, crossfadeMs = 0 }) => delayMs + crossfadeMs);
    const lastsMs = pressingMs + Math.max(...delays);
    const turns = events.some(({ hasValue }) => hasValue) ? [0, 1] : [0];
    return turns.flatMap((turn) =>
      this.periods(least, slowestInTurnMs, inTurnStepMs).map((period) => ({
        ...this.play(
          `${events.map(nameOf).join(' and ')} in turn`,
          'in-turn',
          this.project.attractMode,
          this.presses(period, 0, lastsMs, (press) => events[press % events.length]!, turn),
          0,
          lastsMs,
          events,
        ),
        everyMs: period * this.frameMs,
      })),
    );
  }

  /** Times between two presses, in whole frames, from the shortest that the director hears; short frames are taken several at a time. */
  private periods(leastMs: number, mostMs: number, stepMs: number): number[] {
    const least = Math.max(1, Math.ceil(leastMs / this.frameMs));
    const most = Math.ceil(mostMs / this.frameMs);
    const step = Math.max(1, Math.round(stepMs / this.frameMs));
    return Array.from(
      { length: Math.max(0, Math.floor((most - least) / step) + 1) },
      (_, i) => least + i * step,
    );
  }

  /** A value swings as far as it can from press to press: a column filled by it then changes most. */
  private presses(
    period: number,
    fromMs: number,
    lastsMs: number,
    eventOf: (press: number) => GameEvent,
    turn = 0,
  ): HeardEvent[] {
    return Array.from({ length: Math.ceil(this.frames(lastsMs) / period) }, (_, press) => {
      const event = eventOf(press);
      const value = (press + turn) % 2 === 0 ? 255 : 0;
      return {
        frame: this.frames(fromMs) + press * period,
        event: event.id,
        ...(event.hasValue ? { value } : {}),
      };
    });
  }
}
