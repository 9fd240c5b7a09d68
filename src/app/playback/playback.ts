// What plays and where it stands. A show's own clock gives the frame number: floor(elapsed ms / frame time), as on the board, where a late
// frame is skipped and never slowed. Scrubbing sets the frame number. The clock comes from outside.
// Frame numbers run on when a show repeats; which moment of the show that is, the player decides, and `frameInPass` says. A loop range is repeated
// within the first pass. It is a matter of the screen alone: the document and the board know nothing of it.
// In a game frames count from power-up and nothing repeats; which show has the panel then, the director decides (workbench/game.ts).

/** A part of a show that playing repeats, ms from the show's start. */
export interface LoopRange {
  readonly fromMs: number;
  readonly toMs: number;
}

export interface PlaybackState {
  readonly show: string;
  readonly playing: boolean;
  readonly frame: number;
  /** Undefined where the whole show plays. */
  readonly loop?: LoopRange | undefined;
  /** Of a game: the furthest frame since power-up. Undefined where one show plays. */
  readonly reached?: number | undefined;
}

export class Playback {
  private frameMs: number;
  private readonly nowMs: () => number;
  private readonly listeners = new Set<() => void>();
  private readonly loops = new Map<string, LoopRange>();
  private state: PlaybackState;
  /** Clock's reading at which frame 0 would have begun. */
  private zeroMs: number;
  /** Where the one show stands while a game is played. */
  private showFrame = 0;

  constructor(start: PlaybackState, frameMs: number, nowMs: () => number) {
    this.state = start;
    this.frameMs = frameMs;
    this.nowMs = nowMs;
    this.zeroMs = nowMs() - start.frame * frameMs;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly current = (): PlaybackState => this.state;

  /** Moves on to the frame that is due. */
  tick(): void {
    if (!this.state.playing) return;
    const due = Math.max(0, Math.floor((this.nowMs() - this.zeroMs) / this.frameMs));
    const frame = this.looped(due);
    if (frame !== due) this.anchor(frame);
    if (frame !== this.state.frame) this.change({ frame });
  }

  /** The frame that is shown where this one is due. */
  private looped(due: number): number {
    const { loop } = this.state;
    if (!loop) return due;
    const { from, to } = loopFrames(loop, this.frameMs);
    return due < to ? due : from + ((due - from) % (to - from));
  }

  /** Repeats a part of the show, or the whole where undefined. Each show keeps its own. */
  setLoop(range: LoopRange | undefined): void {
    if (range) this.loops.set(this.state.show, range);
    else this.loops.delete(this.state.show);
    this.change({ loop: range });
  }

  setPlaying(playing: boolean): void {
    if (playing === this.state.playing) return;
    this.anchor(this.state.frame);
    this.change({ playing });
  }

  toggle(): void {
    this.setPlaying(!this.state.playing);
  }

  scrubTo(frame: number): void {
    this.anchor(frame);
    this.change({ frame });
  }

  /** Starts a show from its first frame; playing goes on, and so does a pause. */
  choose(show: string): void {
    this.anchor(0);
    this.change({ show, frame: 0, loop: this.loops.get(show), reached: undefined });
  }

  /** A game from power-up on, in place of the one show. */
  powerUp(): void {
    if (this.state.reached === undefined) this.showFrame = this.state.frame;
    this.anchor(0);
    this.change({ frame: 0, loop: undefined, reached: 0 });
  }

  /** Back to the one show, where it stood. */
  leaveGame(): void {
    if (this.state.reached === undefined) return;
    this.anchor(this.showFrame);
    this.change({ frame: this.showFrame, loop: this.loops.get(this.state.show), reached: undefined });
  }

  /** After an edit: another frame time keeps the moment, a show that is gone gives way to the first, and a loop ends with its show. */
  follow(frameMs: number, shows: readonly { readonly id: string; readonly lengthMs: number }[]): void {
    if (frameMs !== this.frameMs) {
      const inNewFrames = (frame: number) => Math.floor((frame * this.frameMs) / frameMs);
      const { frame, reached } = this.state;
      const next = inNewFrames(frame);
      this.showFrame = inNewFrames(this.showFrame);
      if (reached !== undefined) this.change({ reached: inNewFrames(reached) });
      this.frameMs = frameMs;
      this.scrubTo(next);
    }
    const [first] = shows;
    const show = shows.find(({ id }) => id === this.state.show);
    if (!show) {
      if (first && this.state.reached !== undefined) this.forgetShow(first.id);
      else if (first) this.choose(first.id);
      return;
    }
    const { loop } = this.state;
    if (loop && loop.toMs > show.lengthMs) {
      const fromMs = Math.min(loop.fromMs, show.lengthMs - 1);
      this.setLoop({ fromMs, toMs: show.lengthMs });
    }
  }

  /** A game goes on without the show that it was begun from. */
  private forgetShow(next: string): void {
    this.showFrame = 0;
    this.change({ show: next });
  }

  private anchor(frame: number): void {
    this.zeroMs = this.nowMs() - frame * this.frameMs;
  }

  private change(part: Partial<PlaybackState>): void {
    const next = { ...this.state, ...part };
    const isFurther = next.reached !== undefined && next.frame > next.reached;
    this.state = isFurther ? { ...next, reached: next.frame } : next;
    for (const listener of this.listeners) listener();
  }
}

/** The frames whose moments lie in the range, from the first up to the one before `to`; at least one. */
export function loopFrames({ fromMs, toMs }: LoopRange, frameMs: number): { from: number; to: number } {
  const from = Math.ceil(fromMs / frameMs);
  return { from, to: Math.max(from + 1, Math.ceil(toMs / frameMs)) };
}

/** Frame number counted from the start of the pass that it belongs to. */
export const frameInPass = (frame: number, frameMs: number, lengthMs: number): number =>
  Math.floor(((frame * frameMs) % lengthMs) / frameMs);
