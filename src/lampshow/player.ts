// The player in WebAssembly: the same C++ as on the board, behind a small typed face. Where its bytes come from is the caller's matter.
// A frame is a pure function of (show data, show, events heard, frame number), so any frame can be asked for at any time.
import { type DirectorState, directorState, toldCount } from './director-state.ts';
import type { ShowData } from './show-data.ts';

interface PlayerExports {
  readonly memory: WebAssembly.Memory;
  readonly showDataAt: () => number;
  readonly isPlayable: (size: number) => number;
  readonly wireAt: () => number;
  readonly wireBytes: () => number;
  readonly renderToWire: (show: number, frame: number) => void;
  readonly begin: (show: number) => void;
  readonly hear: (event: number, value: number, frame: number) => void;
  readonly playToWire: (frame: number) => void;
  readonly directorAt: (frame: number) => number;
  readonly renderMany: (show: number, count: number) => number;
}

/** A game event that is heard at a frame. */
export interface HeardEvent {
  readonly frame: number;
  readonly event: string;
  /** 0 to 255; where absent, the value that came before it stays. */
  readonly value?: number | undefined;
}

/** What the wire carries at a frame number, in the player's own memory, valid until the player's next frame. */
export type FrameOf = (frameNumber: number) => Uint8Array;

/** A show with the events heard, frame by frame; and what the director holds at a frame. */
export interface Performance extends FrameOf {
  readonly directorAt: (frameNumber: number) => DirectorState;
}

/** host.cpp's keepsValue. */
const keepsValue = 256;

export class Player {
  private readonly exports: PlayerExports;
  private data: ShowData | undefined;
  /** Which performance the director is in the middle of. */
  private performing: object | undefined;

  private constructor(exports: PlayerExports) {
    this.exports = exports;
  }

  /** `wasm` is firmware-templates/prebuilt/player.wasm. */
  static async load(wasm: BufferSource): Promise<Player> {
    const { instance } = await WebAssembly.instantiate(wasm, {});
    return new Player(instance.exports as unknown as PlayerExports);
  }

  /** Throws for show data that are not sound, which the show compiler never makes. */
  setShowData(data: ShowData): void {
    new Uint8Array(this.exports.memory.buffer, this.exports.showDataAt(), data.bytes.length).set(data.bytes);
    if (!this.exports.isPlayable(data.bytes.length)) throw new Error('the show data are not sound');
    this.data = data;
    this.performing = undefined;
  }

  /**
   * What the wire carries at a frame number: 3 or 4 bytes an LED, line after line, in wire order, after the whole output stage.
   * The array is the player's own memory, valid until the next call. Throws for a show that the show data doesn't hold.
   */
  frame(show: string, frameNumber: number): Uint8Array {
    this.exports.renderToWire(this.showNumber(show), frameNumber);
    return this.wire();
  }

  /**
   * The same with game events: what the wire carries when the director has heard the log since power-up with `show`. Frames may be asked for in any
   * order; ascending ones are quickest. Asking what the director holds renders nothing. Good until the next setShowData. Throws for a show or an event that the show data doesn't hold.
   */
  perform(show: string, log: readonly HeardEvent[]): Performance {
    const showNumber = this.showNumber(show);
    const events = log
      .map(({ frame, event, value }) => ({ frame, number: this.eventNumber(event), value }))
      .sort((a, b) => a.frame - b.frame);
    let heard = 0;
    let reached = 0;
    const hearUpTo = (frameNumber: number): void => {
      if (this.performing !== events || frameNumber < reached) {
        this.exports.begin(showNumber);
        this.performing = events;
        heard = 0;
      }
      reached = frameNumber;
      for (; heard < events.length && events[heard]!.frame <= frameNumber; heard++) {
        const { frame, number, value } = events[heard]!;
        this.exports.hear(number, value ?? keepsValue, frame);
      }
    };
    const frameOf: FrameOf = (frameNumber) => {
      hearUpTo(frameNumber);
      this.exports.playToWire(frameNumber);
      return this.wire();
    };
    const directorAt = (frameNumber: number): DirectorState => {
      hearUpTo(frameNumber);
      const words = new Uint32Array(
        this.exports.memory.buffer,
        this.exports.directorAt(frameNumber),
        toldCount,
      );
      return directorState(words, this.current());
    };
    return Object.assign(frameOf, { directorAt });
  }

  /** Renders `count` frames without the output stage, for benchmarks. */
  renderMany(show: string, count: number): void {
    this.exports.renderMany(this.showNumber(show), count);
  }

  private wire(): Uint8Array {
    return new Uint8Array(this.exports.memory.buffer, this.exports.wireAt(), this.exports.wireBytes());
  }

  private current(): ShowData {
    if (!this.data) throw new Error('setShowData comes first');
    return this.data;
  }

  private showNumber(show: string): number {
    const number = this.current().showNumbers.get(show);
    if (number === undefined) throw new Error(`no lampshow "${show}" in the show data`);
    return number;
  }

  private eventNumber(event: string): number {
    const number = this.current().eventNumbers.get(event);
    if (number === undefined) throw new Error(`no game event "${event}" in the show data`);
    return number;
  }
}
