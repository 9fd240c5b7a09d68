// The player in WebAssembly: the same C++ as on the board, behind a small typed face. Where its bytes come from is the caller's matter.
// A frame is a pure function of (show data, show, frame number), so any frame can be asked for at any time.
import type { ShowData } from './show-data.ts';

interface PlayerExports {
  readonly memory: WebAssembly.Memory;
  readonly showDataAt: () => number;
  readonly frameAt: () => number;
  readonly renderToWire: (show: number, frame: number) => void;
  readonly renderMany: (show: number, count: number) => number;
}

export class Player {
  private readonly exports: PlayerExports;
  private data: ShowData | undefined;

  private constructor(exports: PlayerExports) {
    this.exports = exports;
  }

  /** `wasm` is firmware-templates/prebuilt/player.wasm. */
  static async load(wasm: BufferSource): Promise<Player> {
    const { instance } = await WebAssembly.instantiate(wasm, {});
    return new Player(instance.exports as unknown as PlayerExports);
  }

  setShowData(data: ShowData): void {
    new Uint8Array(this.exports.memory.buffer, this.exports.showDataAt(), data.bytes.length).set(data.bytes);
    this.data = data;
  }

  /**
   * What the wire carries at a frame number: 3 bytes an LED, line after line, in wire order, after the whole output stage.
   * The array is the player's own memory, valid until the next call. Throws for a show that the show data doesn't hold.
   */
  frame(show: string, frameNumber: number): Uint8Array {
    this.exports.renderToWire(this.showNumber(show), frameNumber);
    return new Uint8Array(this.exports.memory.buffer, this.exports.frameAt(), this.current().ledCount * 3);
  }

  /** Renders `count` frames without the output stage, for benchmarks. */
  renderMany(show: string, count: number): void {
    this.exports.renderMany(this.showNumber(show), count);
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
}
