// Inputs of the emulated board that have registers of their own: I2C, the watchdog, pins that share a port with a data line. Frames are compared with the player
// in WebAssembly. Not here: pins and serial port with bytes lost (events-on-board.test.ts).
import { beforeAll, describe, expect, test } from 'vitest';
import type { HeardEvent, Player } from '../../src/lampshow/index.ts';
import type { Clip, Project } from '../../src/project/index.ts';
import { type BoardRun, type BoardRunOptions, runInAvr8js } from '../board/board-avr8js.ts';
import type { EmulatedBoard } from '../board/emulated-board.ts';
import { messageBytes } from '../support/game-controller.ts';
import { examine, exportedText, loadPlayer, templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const cyclesPerMs = 16_000;
const starsOf = (seed: number): Clip => ({
  startMs: 0,
  lengthMs: 600_000,
  area: 'everything',
  gradient: 'ember',
  blend: 'over',
  effect: { kind: 'stars', lifeSeconds: 0.5, density: 1, seed },
});
const runs = rowsOfStrip(120);
/** Shows that move at every frame; event pins stand on the port of the first data line. */
const project: Project = projectOf({
  runs,
  dataLines: [
    { pin: 6, chain: runs.slice(0, 2).map(({ id }) => ({ run: id })) },
    { pin: 15, chain: runs.slice(2).map(({ id }) => ({ run: id })) },
  ],
  lampshows: [
    { id: 'attract', lengthMs: 20_000, rows: [{ id: 'row', clips: [starsOf(1)] }] },
    { id: 'start', lengthMs: 3000, rows: [{ id: 'row', clips: [starsOf(2)] }] },
    { id: 'lost', lengthMs: 3000, rows: [{ id: 'row', clips: [starsOf(3)] }] },
  ],
  gameEvents: [
    { id: 'start', lampshow: 'start', pin: 7 },
    { id: 'lost', lampshow: 'lost' },
  ],
  inputs: { i2cAddress: 42 },
  power: { supply: { volts: 5, amps: 20 }, feeds: [] },
});

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

function play(one: Project, ms: number, options: Partial<BoardRunOptions> = {}): BoardRun {
  const { frameMs } = examine(one, templates);
  return runInAvr8js(exportedText(one, `firmware/${one.board.id}.hex`), {
    lines: one.dataLines.map(({ pin }) => ({ pin: pin! })),
    frames: Math.floor(ms / frameMs),
    maxCycles: (ms + 10 * frameMs) * cyclesPerMs,
    ...options,
  });
}

/** Both lines' bytes of the frames behind the black one. */
const sentFrames = (run: BoardRun): Buffer[] =>
  run.lines[0]!.frames.slice(1).map(({ bytes }, i) =>
    Buffer.concat([bytes, run.lines[1]!.frames[i + 1]!.bytes]),
  );

// ---- I2C ----

/** Data addresses of the registers (ATmega328P data sheet, register summary), and status codes of its tables for slave receiver and transmitter. */
const twi = { status: 0xb9, address: 0xba, data: 0xbb, control: 0xbc } as const;
const flag = 0x80;
const status = {
  ownWrite: 0x60,
  byteCame: 0x80,
  stop: 0xa0,
  ownRead: 0xa8,
  byteRead: 0xb8,
  lastRead: 0xc0,
} as const;
/** Eight bits and the acknowledgement at 100 kHz. */
const byteCycles = 9 * 160;

interface Step {
  readonly status: number;
  readonly byte?: number;
  /** What the board put into the data register by the end of this step. */
  readonly read?: (byte: number) => void;
}

/** A master on the bus: the slave's registers as its transactions leave them. The flag is cleared by writing a 1, and the bus waits until then. */
class Master {
  longestHeldCycles = 0;
  readonly #board: EmulatedBoard;
  #steps: Step[] = [];
  #current: Step | undefined;
  #flaggedAt = 0;

  constructor(board: EmulatedBoard) {
    this.#board = board;
    board.cpu.writeHooks[twi.control] = (value) => {
      board.cpu.data[twi.control] = value & ~flag;
      if (value & flag) this.#released();
      return true;
    };
  }

  write(bytes: readonly number[]): void {
    this.#begin([
      { status: status.ownWrite },
      ...bytes.map((byte) => ({ status: status.byteCame, byte })),
      { status: status.stop },
    ]);
  }

  read(count: number, read: (byte: number) => void): void {
    const steps = Array.from({ length: count }, (_, i) => ({
      status: i === 0 ? status.ownRead : status.byteRead,
      read,
    }));
    this.#begin([...steps, { status: status.lastRead }]);
  }

  #begin(steps: Step[]): void {
    this.#steps.push(...steps);
    if (!this.#current) this.#next();
  }

  #next(): void {
    this.#current = this.#steps.shift();
    const { cpu } = this.#board;
    if (!this.#current) return;
    this.#board.at(cpu.cycles + byteCycles, () => {
      const { byte, status: code } = this.#current!;
      cpu.data[twi.status] = code;
      if (byte !== undefined) cpu.data[twi.data] = byte;
      cpu.data[twi.control]! |= flag;
      this.#flaggedAt = cpu.cycles;
    });
  }

  #released(): void {
    if (!this.#current) return;
    const { cpu } = this.#board;
    this.longestHeldCycles = Math.max(this.longestHeldCycles, cpu.cycles - this.#flaggedAt);
    this.#current.read?.(cpu.data[twi.data]!);
    this.#next();
  }
}

describe('[I-9] I2C', () => {
  test('a message is heard once, its answer can be read, and the bus waits a frame at most', () => {
    const { frameMs, showData } = examine(project, templates);
    let master: Master | undefined;
    const read: number[] = [];
    const first = messageBytes(0, 1);
    const second = messageBytes(1, 0);
    const at = { first: 150, again: 400, second: 700 } as const;
    const run = play(project, 1200, {
      onStart: (board) => {
        master = new Master(board);
        const plan: [number, readonly number[]][] = [
          [at.first, first],
          [at.again, first],
          [at.second, second],
        ];
        for (const [ms, message] of plan) {
          board.at(ms * cyclesPerMs, () => master!.write(message));
          board.at((ms + 5 * frameMs) * cyclesPerMs, () => master!.read(2, (byte) => read.push(byte)));
        }
        board.at(100 * cyclesPerMs, () => {
          expect(board.cpu.data[twi.address]).toBe(42 << 1);
          // TWEN and TWEA.
          expect(board.cpu.data[twi.control]! & 0x44).toBe(0x44);
        });
      },
    });
    expect(read).toEqual([first[0], 0, first[0], 0, second[0], 0]);
    // A frame's rendering and sending, and the wait for its moment, in which the bus is polled.
    expect(master!.longestHeldCycles).toBeLessThan(2 * frameMs * cyclesPerMs);
    player.setShowData(showData!);
    const sent = sentFrames(run);
    const isAll = (log: readonly HeardEvent[]): boolean => {
      const frameOf = player.perform('attract', log);
      return sent.every((bytes, number) => bytes.equals(Buffer.from(frameOf(number))));
    };
    const near = (ms: number): number[] => [0, 1, 2, 3].map((more) => Math.floor(ms / frameMs) - 1 + more);
    const logs = near(at.first).flatMap((one) =>
      near(at.second).map((other) => [
        { frame: one, event: 'start' },
        { frame: other, event: 'lost' },
      ]),
    );
    expect(logs.filter(isAll)).toHaveLength(1);
    expect(isAll([])).toBe(false);
  });
});

// ---- watchdog ----

/** WDTCSR (data sheet, register summary): WDE is bit 3; WDP2 to WDP0 of 6 is 1 s. */
const watchdogControl = 0x60;
const watchdogBits = 0x2f;
const onForOneSecond = 0x0e;

describe('[I-11] the watchdog', () => {
  const board = (id: string): Project => ({ ...project, board: { id } });

  test('is on for one second where the board has one to turn on; a program that stands still is reset', () => {
    const stopMs = 1500;
    let control = 0;
    const run = play(board('atmega328p'), 8000, {
      onCycle: ({ cpu }) => {
        control = cpu.data[watchdogControl]! & watchdogBits;
        // `rjmp .-2`: it jumps to itself for ever.
        if (cpu.cycles > stopMs * cyclesPerMs) cpu.progMem[cpu.pc] = 0xcfff;
      },
    });
    expect(control).toBe(onForOneSecond);
    // One second of its own oscillator, from the beginning of the frame in which it stopped.
    const firedMs = run.watchdogResetCycle! / cyclesPerMs;
    expect(firedMs).toBeGreaterThan(stopMs + 900);
    expect(firedMs).toBeLessThan(stopMs + 1150);
  });

  test('never fires while frames go out', () => {
    const run = play(board('atmega328p'), 3000);
    expect(run.watchdogResetCycle).toBeNull();
    expect(run.complete).toBe(true);
  });

  test('is turned off on a board whose start-up program can not stand it, also where it was on', () => {
    let control = -1;
    const run = play(board('atmega328p-old'), 500, {
      onStart: ({ cpu }) => {
        cpu.data[watchdogControl] = onForOneSecond;
      },
      onCycle: ({ cpu }) => {
        control = cpu.data[watchdogControl]! & watchdogBits;
      },
    });
    expect(control & 0x08).toBe(0);
    expect(run.watchdogResetCycle).toBeNull();
  });
});

// ---- what shares a port with a data line ----

/** SREG (data sheet, register summary); its highest bit allows interrupts. */
const statusRegister = 0x5f;

test('[W-2] lines go out in their order with interrupts off, and other pins of the port keep their level', () => {
  const states = new Set<string>();
  let whileSending = 0;
  let between = 0;
  const run = play(project, 1000, {
    onStart: (board) => {
      board.watchPort('D', (cycle, outputs, _high, pulledUp) => {
        if (cycle < 50 * cyclesPerMs) return;
        states.add(`${outputs} ${pulledUp}`);
        whileSending |= board.cpu.data[statusRegister]! & 0x80;
      });
      board.watchPort('B', (cycle) => {
        if (cycle > 50 * cyclesPerMs) whileSending |= board.cpu.data[statusRegister]! & 0x80;
      });
    },
    onCycle: ({ cpu }) => {
      between |= cpu.data[statusRegister]! & 0x80;
    },
  });
  // Pin 6 drives, pin 7 has its pull-up on.
  expect([...states]).toEqual([`${1 << 6} ${1 << 7}`]);
  expect([whileSending, between]).toEqual([0, 0x80]);
  for (const [i, { endCycle }] of run.lines[0]!.frames.entries())
    expect(run.lines[1]!.frames[i]!.startCycle).toBeGreaterThan(endCycle);
});

test('[I-3] a pin that is low from power-up starts nothing until it has been released', () => {
  const { frameMs, showData } = examine(project, templates);
  const run = play(project, 1200, {
    onStart: (board) => {
      board.setInput(7, 'low');
      board.at(500 * cyclesPerMs, () => board.setInput(7, 'open'));
      board.at(700 * cyclesPerMs, () => board.setInput(7, 'low'));
    },
  });
  player.setShowData(showData!);
  const sent = sentFrames(run);
  const quiet = player.perform('attract', []);
  const firstOther = sent.findIndex((bytes, number) => !bytes.equals(Buffer.from(quiet(number))));
  expect(firstOther * frameMs).toBeGreaterThan(700);
  expect(firstOther * frameMs).toBeLessThan(700 + 60 + 3 * frameMs);
});
