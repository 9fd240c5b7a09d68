// Decodes the single-wire LED protocol from the edges of one pin, each stamped with its processor cycle.
// Not here: judging the pulses against chips (chip-windows.ts) or producing edges (board-*.ts).
// A bit is one whose high time is above 562.5 ns, half way between the firmware's 375 and 750 ns; latch 300 us.
// Assumes: an undriven pin is low, since the board has a pull-down resistor on each data pin.

/** Clock of the boards that the firmware is written for. */
export const BOARD_CLOCK_HZ = 16e6;
const ONE_ABOVE_SECONDS = 562.5e-9;
const LATCH_SECONDS = 300e-6;

/** What stood on the wire between two latches. */
export interface WireFrame {
  /** Rising edge of the first bit. */
  readonly startCycle: number;
  /** Falling edge of the last bit. */
  readonly endCycle: number;
  readonly bytes: Uint8Array;
  /** Bits after the last whole byte: 0 in a sound frame. */
  readonly strayBits: number;
}

/** Shortest and longest time seen of one kind of pulse. */
export interface CycleSpan {
  readonly minCycles: number;
  readonly maxCycles: number;
  readonly count: number;
}

/** Pulse times under their datasheet names; null where none was seen. */
export interface WirePulses {
  readonly T0H: CycleSpan | null;
  readonly T1H: CycleSpan | null;
  readonly T0L: CycleSpan | null;
  readonly T1L: CycleSpan | null;
  /** Shortest low time between two frames. */
  readonly shortestLatchCycles: number | null;
}

export interface WireDecoderOptions {
  readonly clockHz?: number;
  /** A low time of at least this ends a frame. */
  readonly latchMinCycles?: number;
}

class SpanRecorder {
  #minCycles = Number.POSITIVE_INFINITY;
  #maxCycles = 0;
  #count = 0;

  add(cycles: number): void {
    if (cycles < this.#minCycles) this.#minCycles = cycles;
    if (cycles > this.#maxCycles) this.#maxCycles = cycles;
    this.#count++;
  }

  get span(): CycleSpan | null {
    if (this.#count === 0) return null;
    return { minCycles: this.#minCycles, maxCycles: this.#maxCycles, count: this.#count };
  }
}

export class WireDecoder {
  readonly frames: WireFrame[] = [];
  readonly #oneAboveCycles: number;
  readonly #latchMinCycles: number;
  readonly #highTimes = [new SpanRecorder(), new SpanRecorder()] as const;
  readonly #lowTimes = [new SpanRecorder(), new SpanRecorder()] as const;
  #shortestLatchCycles: number | null = null;
  #level: 0 | 1 = 0;
  #lastEdgeCycle = 0;
  #lastBit: 0 | 1 | null = null;
  #frameStartCycle = 0;
  #bytes = new Uint8Array(64);
  #byteCount = 0;
  #shift = 0;
  #bitCount = 0;

  constructor(options: WireDecoderOptions = {}) {
    const clockHz = options.clockHz ?? BOARD_CLOCK_HZ;
    this.#oneAboveCycles = ONE_ABOVE_SECONDS * clockHz;
    // Rounded: 300e-6 * 16e6 is a hair above 4800, and a latch of exactly 300 us must count.
    this.#latchMinCycles = options.latchMinCycles ?? Math.round(LATCH_SECONDS * clockHz);
  }

  /** Takes the pin's level from this cycle on; a repeat of the present level is no edge. */
  edge(cycle: number, level: 0 | 1): void {
    if (level === this.#level) return;
    const heldCycles = cycle - this.#lastEdgeCycle;
    if (level === 1) this.#rise(cycle, heldCycles);
    else this.#fall(heldCycles);
    this.#level = level;
    this.#lastEdgeCycle = cycle;
  }

  /** Says that nothing more happened up to this cycle: closes a frame whose latch is over. */
  advance(cycle: number): void {
    const latched = this.#level === 0 && cycle - this.#lastEdgeCycle >= this.#latchMinCycles;
    if (latched) this.#closeFrame();
  }

  /** Ends the recording; a frame that was cut off before its latch is not counted among the frames. */
  finish(cycle: number): { readonly unfinished: WireFrame | null } {
    this.advance(cycle);
    return { unfinished: this.#openFrame() };
  }

  get pulses(): WirePulses {
    return {
      T0H: this.#highTimes[0].span,
      T1H: this.#highTimes[1].span,
      T0L: this.#lowTimes[0].span,
      T1L: this.#lowTimes[1].span,
      shortestLatchCycles: this.#shortestLatchCycles,
    };
  }

  #rise(cycle: number, lowCycles: number): void {
    if (this.#lastBit !== null) {
      if (lowCycles < this.#latchMinCycles) {
        this.#lowTimes[this.#lastBit].add(lowCycles);
      } else {
        this.#closeFrame();
        this.#shortestLatchCycles = Math.min(lowCycles, this.#shortestLatchCycles ?? lowCycles);
      }
    }
    if (this.#byteCount === 0 && this.#bitCount === 0) this.#frameStartCycle = cycle;
  }

  #fall(highCycles: number): void {
    const bit = highCycles > this.#oneAboveCycles ? 1 : 0;
    this.#highTimes[bit].add(highCycles);
    this.#lastBit = bit;
    this.#shift = ((this.#shift << 1) | bit) & 0xff;
    this.#bitCount++;
    if (this.#bitCount < 8) return;
    this.#bitCount = 0;
    if (this.#byteCount === this.#bytes.length) this.#growBytes();
    this.#bytes[this.#byteCount++] = this.#shift;
  }

  #growBytes(): void {
    const larger = new Uint8Array(this.#bytes.length * 2);
    larger.set(this.#bytes);
    this.#bytes = larger;
  }

  #openFrame(): WireFrame | null {
    if (this.#byteCount === 0 && this.#bitCount === 0) return null;
    return {
      startCycle: this.#frameStartCycle,
      endCycle: this.#lastEdgeCycle,
      bytes: this.#bytes.slice(0, this.#byteCount),
      strayBits: this.#bitCount,
    };
  }

  #closeFrame(): void {
    const frame = this.#openFrame();
    if (frame === null) return;
    this.frames.push(frame);
    this.#byteCount = 0;
    this.#bitCount = 0;
  }
}
