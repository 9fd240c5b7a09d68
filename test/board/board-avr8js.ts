// Runs firmware on the avr8js board and reports what each data pin sent, how the pins woke up, and the unused stack.
// Not here: the second emulator (board-simavr.ts) and the judging of pulses (chip-windows.ts).
// Profiling marks are writes to GPIOR0, which the firmware makes only when it is compiled for profiling.
import { EmulatedBoard, type EmulatedBoardOptions, placeOfPin } from './emulated-board.ts';
import { flashFromHex } from './intel-hex.ts';
import { WireDecoder, type WireDecoderOptions, type WireFrame, type WirePulses } from './wire-decoder.ts';

/** Data address of general purpose register 0 (ATmega328P datasheet, register summary: I/O 0x1E). */
const GPIOR0 = 0x3e;
/** 0.1 ms: how often the run looks whether it is done. */
const BLOCK_CYCLES = 1600;

export interface PinWakeUp {
  /** At the first instruction. */
  readonly levelAtReset: 0 | 1;
  readonly directionAtReset: 'input' | 'output';
  /** When the firmware first drove the pin; null: never. Until then the pull-down resistor holds it low. */
  readonly firstDrivenCycle: number | null;
  readonly drivenHighBeforeLow: boolean;
  /** The pin's pull-up was on before the pin was driven, against the pull-down resistor. */
  readonly pulledUpBeforeDriven: boolean;
}

export interface LineRecord {
  readonly pin: number;
  readonly frames: readonly WireFrame[];
  /** A frame that the end of the run cut off. */
  readonly unfinished: WireFrame | null;
  readonly pulses: WirePulses;
  readonly wakeUp: PinWakeUp;
}

export interface BoardRunOptions extends EmulatedBoardOptions, WireDecoderOptions {
  /** Arduino pin numbers. */
  readonly lines: readonly { readonly pin: number }[];
  /** The run stops when every line has sent this many. */
  readonly frames: number;
  readonly maxCycles: number;
  /** Called once before the first instruction: connect inputs, plan events, listen to the serial port. */
  readonly onStart?: (board: EmulatedBoard) => void;
  /** Called about every 0.1 ms of the board's time. For an exact cycle use the board's `at`. */
  readonly onCycle?: (board: EmulatedBoard) => void;
  /** Looked at as often; true stops the run before the frames are complete. */
  readonly stopWhen?: (board: EmulatedBoard) => boolean;
  readonly marks?: boolean;
}

export interface BoardRun {
  readonly lines: readonly LineRecord[];
  /** Every line has sent the wanted frames. */
  readonly complete: boolean;
  readonly cycles: number;
  /** Longest stretch of SRAM that was never written. */
  readonly untouchedStackBytes: number;
  /** Cycle and value of each profiling mark. */
  readonly marks: readonly (readonly [cycle: number, value: number])[];
  readonly watchdogResetCycle: number | null;
}

class LineWatcher {
  readonly pin: number;
  readonly decoder: WireDecoder;
  readonly #levelAtReset: 0 | 1;
  readonly #directionAtReset: 'input' | 'output';
  #firstDrivenCycle: number | null = null;
  #drivenHighBeforeLow = false;
  #pulledUpBeforeDriven = false;

  constructor(board: EmulatedBoard, pin: number, options: WireDecoderOptions) {
    const { port, bit } = placeOfPin(pin);
    const mask = 1 << bit;
    const state = board.portState(port);
    this.pin = pin;
    this.decoder = new WireDecoder(options);
    this.#levelAtReset = (state.drivenHigh | state.pulledUp) & mask ? 1 : 0;
    this.#directionAtReset = state.outputs & mask ? 'output' : 'input';
    board.watchPort(port, (cycle, outputs, drivenHigh, pulledUp) => {
      if (this.#firstDrivenCycle === null) {
        if (pulledUp & mask) this.#pulledUpBeforeDriven = true;
        if (outputs & mask) {
          this.#firstDrivenCycle = cycle;
          this.#drivenHighBeforeLow = (drivenHigh & mask) !== 0;
        }
      }
      this.decoder.edge(cycle, drivenHigh & mask ? 1 : 0);
    });
  }

  record(cycle: number): LineRecord {
    const { unfinished } = this.decoder.finish(cycle);
    return {
      pin: this.pin,
      frames: this.decoder.frames,
      unfinished,
      pulses: this.decoder.pulses,
      wakeUp: {
        levelAtReset: this.#levelAtReset,
        directionAtReset: this.#directionAtReset,
        firstDrivenCycle: this.#firstDrivenCycle,
        drivenHighBeforeLow: this.#drivenHighBeforeLow,
        pulledUpBeforeDriven: this.#pulledUpBeforeDriven,
      },
    };
  }
}

export function runInAvr8js(hexText: string, options: BoardRunOptions): BoardRun {
  const board = new EmulatedBoard(flashFromHex(hexText), options);
  board.paintSram();
  const watchers = options.lines.map(({ pin }) => new LineWatcher(board, pin, options));
  const marks: [number, number][] = [];
  if (options.marks) board.watchRegister(GPIOR0, (cycle, value) => marks.push([cycle, value]));
  options.onStart?.(board);

  const isComplete = () => watchers.every(({ decoder }) => decoder.frames.length >= options.frames);
  let stopped = false;
  while (!stopped && board.watchdogResetCycle === null && board.cycles < options.maxCycles) {
    board.runUntilCycle(Math.min(board.cycles + BLOCK_CYCLES, options.maxCycles));
    for (const { decoder } of watchers) decoder.advance(board.cycles);
    options.onCycle?.(board);
    stopped = isComplete() || options.stopWhen?.(board) === true;
  }
  return {
    lines: watchers.map((watcher) => watcher.record(board.cycles)),
    complete: isComplete(),
    cycles: board.cycles,
    untouchedStackBytes: board.longestPaintedBytes(),
    marks,
    watchdogResetCycle: board.watchdogResetCycle,
  };
}
