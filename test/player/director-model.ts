// The director a second time, from its rules D-1 to D-17 of SPEC.md and nothing else: frame by frame, with lists and plain numbers, as slow as it
// likes. What the player's director says is held against it. Not here: what shows look like.

export interface ModelEvent {
  readonly show: number;
  readonly priority: number;
  readonly queues: boolean;
  readonly resumes: boolean;
  readonly hasValue: boolean;
  /** 0: without end. */
  readonly plays: number;
  readonly crossfadeMs: number;
  readonly retriggerMs: number;
  readonly delayFrames: number;
}

export interface ModelScene {
  readonly frameMs: number;
  readonly showLengthsMs: readonly number[];
  readonly events: readonly ModelEvent[];
}

export interface ModelLog {
  readonly frame: number;
  readonly event: number;
  readonly value?: number;
}

export interface ModelLayer {
  readonly show: number;
  readonly ms: number;
  readonly master: number;
}

export interface ModelFrame {
  readonly layers: readonly ModelLayer[];
  readonly value: number;
}

/** What it holds at a frame; events and shows by number. */
export interface ModelState {
  readonly show: number;
  readonly event: number | undefined;
  readonly sinceFrame: number;
  readonly value: number;
  readonly fading: { readonly from: number; readonly share: number } | undefined;
  readonly waiting: readonly number[];
  readonly delayed: readonly { readonly event: number; readonly frame: number }[];
  readonly resumes:
    | { readonly show: number; readonly how: 'anew' | 'where-it-was' | 'as-if-it-played' }
    | undefined;
}

/** A show that plays: the moment of its time 0, and the event that started it, if one did. */
interface Act {
  readonly event: ModelEvent | undefined;
  readonly zeroMs: number;
}
interface Aside {
  readonly event: ModelEvent;
  readonly playedMs: number;
  readonly goesOn: boolean;
}

export class DirectorModel {
  readonly #scene: ModelScene;
  readonly #baseShow: number;
  #nowMs = 0;
  #act: Act = { event: undefined, zeroMs: 0 };
  /** Moment of the base show's time 0, or how far it was when it was stopped. */
  #base: { readonly zeroMs: number } | { readonly stoppedAtMs: number } = { zeroMs: 0 };
  #queue: ModelEvent[] = [];
  #aside: Aside[] = [];
  #fade: { readonly from: Act; readonly sinceMs: number; readonly lengthMs: number } | undefined;
  #limits: { readonly event: ModelEvent | undefined; readonly untilMs: number }[] = Array.from(
    { length: 4 },
    () => ({ event: undefined, untilMs: 0 }),
  );
  #value = 0;
  #sinceFrame = 0;
  /** Heard and not counting yet, in the order in which they were heard. */
  #delayed: { readonly event: ModelEvent; readonly due: number }[] = [];

  constructor(scene: ModelScene, baseShow: number) {
    this.#scene = scene;
    this.#baseShow = baseShow;
  }

  /** One frame after the other, from 0. */
  frame(number: number, log: readonly ModelLog[]): ModelFrame {
    this.#nowMs = number * this.#scene.frameMs;
    while (this.#isOver(this.#act)) this.#goOn();
    for (const { event } of this.#delayed.filter(({ due }) => due === number)) this.#counts(event);
    this.#delayed = this.#delayed.filter(({ due }) => due > number);
    for (const entry of log) if (entry.frame === number) this.#hear(entry, number);
    return { layers: this.#layers(), value: this.#value };
  }

  /** What it holds at the frame that was asked for last. */
  state(): ModelState {
    const number = (event: ModelEvent): number => this.#scene.events.indexOf(event);
    const [outgoing, arriving] = this.#layers();
    return {
      show: this.#act.event?.show ?? this.#baseShow,
      event: this.#act.event && number(this.#act.event),
      sinceFrame: this.#sinceFrame,
      value: this.#value,
      fading: arriving && { from: outgoing!.show, share: arriving.master / 255 },
      waiting: this.#queue.map(number),
      delayed: this.#delayed
        .map(({ event, due }) => ({ event: number(event), frame: due }))
        .sort((a, b) => a.frame - b.frame),
      resumes: this.#comesBack(),
    };
  }

  // D-8, D-9
  #comesBack(): ModelState['resumes'] {
    if (!this.#act.event) return undefined;
    const aside = this.#aside.at(-1);
    if (aside) return { show: aside.event.show, how: aside.goesOn ? 'where-it-was' : 'anew' };
    return { show: this.#baseShow, how: 'zeroMs' in this.#base ? 'as-if-it-played' : 'where-it-was' };
  }

  #wholeMs(event: ModelEvent | undefined): number {
    return event && event.plays > 0
      ? event.plays * this.#scene.showLengthsMs[event.show]!
      : Number.POSITIVE_INFINITY;
  }

  // D-4
  #isOver = ({ event, zeroMs }: Act): boolean => this.#nowMs - zeroMs >= this.#wholeMs(event);

  #begin(act: Act, crossfadeMs: number): void {
    this.#fade = { from: this.#act, sinceMs: this.#nowMs, lengthMs: crossfadeMs };
    this.#act = act;
    this.#sinceFrame = this.#nowMs / this.#scene.frameMs;
    // D-10
    if (act.event && act.event.plays === 0 && !act.event.resumes) this.#aside = [];
  }

  // D-7
  #goOn(): void {
    const left = this.#act.event!;
    const next = this.#queue.shift();
    if (next) {
      this.#begin({ event: next, zeroMs: this.#nowMs }, next.crossfadeMs);
      return;
    }
    const back = this.#aside.pop();
    if (back)
      this.#begin(
        { event: back.event, zeroMs: this.#nowMs - (back.goesOn ? back.playedMs : 0) },
        left.crossfadeMs,
      );
    else {
      const zeroMs = 'zeroMs' in this.#base ? this.#base.zeroMs : this.#nowMs - this.#base.stoppedAtMs;
      this.#begin({ event: undefined, zeroMs }, left.crossfadeMs);
    }
  }

  // D-12
  #isLimited(event: ModelEvent): boolean {
    if (this.#limits.some((one) => one.event === event && one.untilMs > this.#nowMs)) return true;
    if (event.retriggerMs > 0) {
      const left = this.#limits.map((one) => Math.max(0, one.untilMs - this.#nowMs));
      const place = left.indexOf(Math.min(...left));
      this.#limits[place] = { event, untilMs: this.#nowMs + event.retriggerMs };
    }
    return false;
  }

  #hear({ event: number, value }: ModelLog, frame: number): void {
    const event = this.#scene.events[number];
    if (!event) return;
    if (event.hasValue && value !== undefined) this.#value = value;
    if (this.#isLimited(event)) return;
    // D-17
    if (event.delayFrames === 0 || this.#delayed.length === 4) this.#counts(event);
    else this.#delayed.push({ event, due: frame + event.delayFrames });
  }

  #counts(event: ModelEvent): void {
    const underWay = [
      this.#baseShow,
      this.#act.event?.show,
      ...this.#queue.map((one) => one.show),
      ...this.#aside.map((one) => one.event.show),
    ];
    if (event.hasValue && underWay.includes(event.show)) return;
    const against = this.#act.event;
    if (!against) {
      const { zeroMs } = this.#act;
      this.#base = event.resumes ? { stoppedAtMs: this.#nowMs - zeroMs } : { zeroMs };
    } else {
      const isLower = event.priority < against.priority;
      if (event.queues && (isLower || against.plays > 0)) {
        const behind = this.#queue.filter((one) => one.priority >= event.priority).length;
        this.#queue.splice(behind, 0, event);
        this.#queue = this.#queue.slice(0, 4);
        return;
      }
      if (isLower) return;
      if (event !== against && (against.plays > 0 || event.resumes)) {
        const playedMs = this.#nowMs - this.#act.zeroMs;
        this.#aside = [...this.#aside, { event: against, playedMs, goesOn: event.resumes }].slice(-2);
      }
    }
    this.#begin({ event, zeroMs: this.#nowMs }, event.crossfadeMs);
  }

  #layer({ event, zeroMs }: Act, master: number): ModelLayer {
    const show = event?.show ?? this.#baseShow;
    const ms = Math.min(this.#nowMs - zeroMs, this.#wholeMs(event) - 1);
    return { show, ms: ms % this.#scene.showLengthsMs[show]!, master };
  }

  // D-15
  #layers(): ModelLayer[] {
    const fade = this.#fade;
    const elapsedMs = fade ? this.#nowMs - fade.sinceMs : 0;
    if (!fade || elapsedMs >= fade.lengthMs) return [this.#layer(this.#act, 255)];
    const share = Math.floor((255 * elapsedMs) / fade.lengthMs);
    return [this.#layer(fade.from, 255 - share), this.#layer(this.#act, share)];
  }
}
