// What plays and where it stands. A show's own clock gives the frame number: floor(elapsed ms / frame time), as on the board, where a late
// frame is skipped and never slowed. Scrubbing sets the frame number. The clock comes from outside.
// Frame numbers run on when a show repeats; which moment of the show that is, the player decides, and `frameInPass` says.

export interface PlaybackState {
  readonly show: string;
  readonly playing: boolean;
  readonly frame: number;
}

export class Playback {
  private frameMs: number;
  private readonly nowMs: () => number;
  private readonly listeners = new Set<() => void>();
  private state: PlaybackState;
  /** Clock's reading at which frame 0 would have begun. */
  private zeroMs: number;

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
    const frame = Math.max(0, Math.floor((this.nowMs() - this.zeroMs) / this.frameMs));
    if (frame !== this.state.frame) this.change({ frame });
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
    this.change({ show, frame: 0 });
  }

  /** After an edit: another frame time keeps the moment, and a show that is gone gives way to the first. */
  follow(frameMs: number, shows: readonly string[]): void {
    if (frameMs !== this.frameMs) {
      const frame = Math.floor((this.state.frame * this.frameMs) / frameMs);
      this.frameMs = frameMs;
      this.scrubTo(frame);
    }
    const [first] = shows;
    if (first !== undefined && !shows.includes(this.state.show)) this.choose(first);
  }

  private anchor(frame: number): void {
    this.zeroMs = this.nowMs() - frame * this.frameMs;
  }

  private change(part: Partial<PlaybackState>): void {
    this.state = { ...this.state, ...part };
    for (const listener of this.listeners) listener();
  }
}

/** Frame number counted from the start of the pass that it belongs to. */
export const frameInPass = (frame: number, frameMs: number, lengthMs: number): number =>
  Math.floor(((frame * frameMs) % lengthMs) / frameMs);
