// A game controller at the emulated board's serial port, written from rules I-5 to I-7 of SPEC.md alone: sends events as messages, repeats each until it is
// acknowledged, and loses bytes both ways as told. Not here: what the board makes of them.
import type { EmulatedBoard } from '../board/emulated-board.ts';

const baud = 115_200;
const helloEvent = 63;

/** The three bytes of a message. */
export function messageBytes(event: number, bit: 0 | 1, value = 0): [number, number, number] {
  const head = 0x80 | (bit << 6) | event;
  const mixed = head ^ value;
  return [head, value >> 2, 0x40 | ((value & 3) << 4) | ((mixed ^ (mixed >> 4)) & 15)];
}

export interface PlannedEvent {
  readonly event: number;
  readonly value?: number;
  /** The controller waits this long after the last one was acknowledged. */
  readonly pauseMs: number;
}

export interface Delivery extends PlannedEvent {
  readonly firstSentCycle: number;
  readonly acknowledgedCycle: number;
}

export interface ControllerOptions {
  readonly events: readonly PlannedEvent[];
  /** The first message is sent then. */
  readonly startMs: number;
  /** Rule I-6: a frame time and 10 ms. */
  readonly repeatMs: number;
  /** Whether the line loses the next byte. */
  readonly loses: () => boolean;
  /** Whether it says hello first; the text that comes back is kept. */
  readonly hello?: boolean;
}

export class GameController {
  readonly deliveries: Delivery[] = [];
  lostBytes = 0;
  helloText = '';
  readonly #board: EmulatedBoard;
  readonly #options: ControllerOptions;
  readonly #plan: readonly PlannedEvent[];
  #bit: 0 | 1 = 0;
  #firstSentCycle: number | undefined;
  #nextSendCycle: number;

  constructor(board: EmulatedBoard, options: ControllerOptions) {
    this.#board = board;
    this.#options = options;
    this.#plan = options.hello ? [{ event: helloEvent, pauseMs: 100 }, ...options.events] : options.events;
    this.#nextSendCycle = this.#cyclesOf(options.startMs);
    board.onSerialByte = (byte, cycle) => this.#heard(byte, cycle);
  }

  get isDone(): boolean {
    return this.deliveries.length === this.#plan.length;
  }

  /** Call often: sends what is due. */
  step(): void {
    const due = this.#plan[this.deliveries.length];
    if (!due || this.#board.cycles < this.#nextSendCycle) return;
    this.#firstSentCycle ??= this.#board.cycles;
    const bytes = messageBytes(due.event, this.#bit, due.value);
    this.#board.sendSerial(
      bytes.filter(() => !this.#isLost()),
      baud,
    );
    this.#nextSendCycle = this.#board.cycles + this.#cyclesOf(this.#options.repeatMs);
  }

  #cyclesOf = (ms: number): number => Math.round((ms * this.#board.clockHz) / 1000);

  #isLost(): boolean {
    const is = this.#options.loses();
    if (is) this.lostBytes++;
    return is;
  }

  #heard(byte: number, cycle: number): void {
    if (this.#isLost()) return;
    if (byte < 0x80) {
      this.helloText += String.fromCharCode(byte);
      return;
    }
    const due = this.#plan[this.deliveries.length];
    if (!due || this.#firstSentCycle === undefined) return;
    if (byte !== messageBytes(due.event, this.#bit, due.value)[0]) return;
    this.deliveries.push({ ...due, firstSentCycle: this.#firstSentCycle, acknowledgedCycle: cycle });
    if (due.event !== helloEvent) this.#bit = this.#bit === 0 ? 1 : 0;
    this.#firstSentCycle = undefined;
    this.#nextSendCycle = cycle + this.#cyclesOf(due.pauseMs);
  }
}
