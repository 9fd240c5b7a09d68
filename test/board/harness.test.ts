// Facts about the board harness itself: both emulators, both decoders, the compilers. Firmware has its own tests.
// Expected times are counted from the instructions of fixtures/wire_pattern.S, whose opening states the waveform.
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { runInAvr8js } from './board-avr8js.ts';
import { runInSimavr } from './board-simavr.ts';
import { chipsMissed, marginsNs } from './chip-windows.ts';
import { EmulatedBoard } from './emulated-board.ts';
import { flashFromHex, hexByteCount } from './intel-hex.ts';
import { type Compiled, compileAvr, compileSketch, mustCompile } from './sketch-compiler.ts';
import type { WireFrame } from './wire-decoder.ts';

const COMPILE_TIMEOUT_MS = 120_000;
const CLOCK_HZ = 16e6;
const LINES = [{ pin: 6 }, { pin: 7 }] as const;
const SENT = [
  [0x00, 0xff, 0xa5],
  [0xff, 0x00, 0x3c],
] as const;
/** 24 bits of 20 cycles, then mark 1, pause 6001, jump 2, mark 1. */
const PAUSE_CYCLES = 6005;
const FRAME_PERIOD_CYCLES = 24 * 20 + PAUSE_CYCLES;
const SRAM_BYTES = 2048;

const fixture = (name: string) => fileURLToPath(new URL(`fixtures/${name}`, import.meta.url));
const runOptions = { lines: LINES, frames: 3, maxCycles: 1e6 };

async function compilePattern(defines: Record<string, number | true> = {}): Promise<string> {
  return mustCompile(await compileAvr([fixture('wire_pattern.S')], { defines })).hexText;
}

/** The pattern's lines as each emulator, and each decoder, saw them. */
async function everyView(hexText: string) {
  const avr8js = runInAvr8js(hexText, runOptions);
  const simavr = await runInSimavr(hexText, runOptions);
  return [
    { view: 'avr8js', complete: avr8js.complete, lines: avr8js.lines },
    { view: 'simavr', complete: simavr.complete, lines: simavr.lines },
    {
      view: 'simavr, decoded by the probe',
      complete: simavr.complete,
      lines: simavr.lines.map((l) => l.probe),
    },
  ];
}

const bytesOf = (frames: readonly WireFrame[]) => frames.map((frame) => [...frame.bytes]);

describe('a known waveform on two pins', () => {
  let hexText = '';
  beforeAll(async () => {
    hexText = await compilePattern();
  });

  test('both emulators and both decoders see its bytes on each pin', async () => {
    for (const { view, complete, lines } of await everyView(hexText)) {
      expect(complete, view).toBe(true);
      lines.forEach(({ frames }, index) => {
        const sent = [...(SENT[index] ?? [])];
        expect(bytesOf(frames), view).toEqual([sent, sent, sent]);
        expect(
          frames.map(({ strayBits }) => strayBits),
          view,
        ).toEqual([0, 0, 0]);
      });
    }
  });

  test('its pulses last 6, 12, 14 and 8 cycles, and its latch the pause', async () => {
    for (const { view, lines } of await everyView(hexText)) {
      const spans = lines.map(({ pulses }) => pulses);
      for (const { T0H, T1H, T0L, T1L } of spans) {
        expect(T0H, view).toMatchObject({ minCycles: 6, maxCycles: 6 });
        expect(T1H, view).toMatchObject({ minCycles: 12, maxCycles: 12 });
        expect(T0L, view).toMatchObject({ minCycles: 14, maxCycles: 14 });
        expect(T1L, view).toMatchObject({ minCycles: 8, maxCycles: 8 });
      }
      // A5 ends in a one (8 cycles low), 3C in a zero (14).
      expect(
        spans.map(({ shortestLatchCycles }) => shortestLatchCycles),
        view,
      ).toEqual([PAUSE_CYCLES + 8, PAUSE_CYCLES + 14]);
    }
  });

  test('its frames start a whole period apart', async () => {
    for (const { view, lines } of await everyView(hexText)) {
      for (const { frames } of lines) {
        const starts = frames.map(({ startCycle }) => startCycle);
        const gaps = starts.slice(1).map((start, index) => start - (starts[index] ?? 0));
        expect(gaps, view).toEqual([FRAME_PERIOD_CYCLES, FRAME_PERIOD_CYCLES]);
      }
    }
  });

  test('the two decoders agree on every frame and pulse that simavr gave', async () => {
    const { lines } = await runInSimavr(hexText, { ...runOptions, frames: 50 });
    expect(lines.map(({ frames }) => frames.length)).toEqual([50, 50]);
    for (const { frames, pulses, probe } of lines) {
      expect(probe.frames).toEqual(frames);
      expect(probe.pulses).toEqual(pulses);
    }
  });

  test('every listed chip reads it', () => {
    for (const { pulses } of runInAvr8js(hexText, runOptions).lines) {
      expect(chipsMissed(marginsNs(pulses, CLOCK_HZ))).toEqual([]);
    }
  });

  test('a pulse of 8 cycles instead of 6 keeps its byte but is reported as outside the chips’ windows', async () => {
    for (const { view, lines } of await everyView(await compilePattern({ WRONG_PULSE: true }))) {
      const [first] = lines;
      expect(bytesOf(first?.frames ?? [])[0], view).toEqual([...SENT[0]]);
      expect(first?.pulses.T0H, view).toMatchObject({ minCycles: 6, maxCycles: 8 });
      // 500 ns; the windows end at 380, 450 and 450 ns.
      const missed = first === undefined ? [] : chipsMissed(marginsNs(first.pulses, CLOCK_HZ));
      expect(missed, view).toContain('WS2812B-V5: T0H outside by 120 ns');
      expect(missed, view).toContain('WS2813: T0H outside by 50 ns');
      expect(missed, view).toContain('SK6812 and SK6812 RGBW: T0H outside by 50 ns');
    }
  });

  test('a missing bit leaves seven stray bits', async () => {
    for (const { view, lines } of await everyView(await compilePattern({ MISSING_BIT: true }))) {
      lines.forEach(({ frames }, index) => {
        expect(bytesOf(frames)[0], view).toEqual([...(SENT[index] ?? [])].slice(0, 2));
        expect(frames[0]?.strayBits, view).toBe(7);
      });
    }
  });

  test('a frame counts as soon as its latch is over, before the next one starts', async () => {
    const options = { ...runOptions, frames: 1, latchMinCycles: 1000 };
    for (const { cycles, lines } of [runInAvr8js(hexText, options), await runInSimavr(hexText, options)]) {
      const cyclesAfterFrame = cycles - (lines[0]?.frames[0]?.endCycle ?? 0);
      expect(cyclesAfterFrame).toBeGreaterThanOrEqual(1000);
      expect(cyclesAfterFrame).toBeLessThan(PAUSE_CYCLES);
    }
  });

  test('a run that ends too early is incomplete, and its cut-off frame is kept apart', () => {
    const { complete, lines, cycles } = runInAvr8js(hexText, {
      ...runOptions,
      maxCycles: FRAME_PERIOD_CYCLES + 200,
    });
    expect(complete).toBe(false);
    expect(lines[0]?.frames.length).toBe(1);
    expect([...(lines[0]?.unfinished?.bytes ?? [])]).toEqual([SENT[0][0]]);
    // An instruction takes at most 4 cycles, so the run may end up to 3 late.
    expect(cycles - (FRAME_PERIOD_CYCLES + 200)).toBeLessThanOrEqual(3);
  });
});

describe('waking up', () => {
  test('a pin that becomes an output while low was never driven high first', async () => {
    const hexText = await compilePattern();
    const [avr8js] = runInAvr8js(hexText, runOptions).lines;
    const [simavr] = (await runInSimavr(hexText, runOptions)).lines;
    expect(avr8js?.wakeUp).toMatchObject({
      levelAtReset: 0,
      directionAtReset: 'input',
      drivenHighBeforeLow: false,
      pulledUpBeforeDriven: false,
    });
    expect(simavr?.drivenHighBeforeLow).toBe(false);
    expect(simavr?.firstDrivenCycle).toBe(avr8js?.wakeUp.firstDrivenCycle);
  });

  test('a pin that becomes an output while high is reported, and so is its pull-up before', async () => {
    const hexText = await compilePattern({ GLITCH: true });
    const [avr8js] = runInAvr8js(hexText, runOptions).lines;
    const [simavr] = (await runInSimavr(hexText, runOptions)).lines;
    expect(avr8js?.wakeUp).toMatchObject({ drivenHighBeforeLow: true, pulledUpBeforeDriven: true });
    expect(simavr?.drivenHighBeforeLow).toBe(true);
  });
});

describe('memory and marks', () => {
  // The start-up code's call of main leaves 2 bytes at the top of the stack; the pattern has no static data.
  test.each([
    [2, 1],
    [100, 100],
  ])(
    'a stack of %i bytes at its deepest leaves the rest of the SRAM untouched',
    async (touchedBytes, pushedBytes) => {
      const hexText = await compilePattern({ STACK_BYTES: pushedBytes });
      expect(runInAvr8js(hexText, runOptions).untouchedStackBytes).toBe(SRAM_BYTES - touchedBytes);
      expect((await runInSimavr(hexText, runOptions)).untouchedStackBytes).toBe(SRAM_BYTES - touchedBytes);
    },
  );

  test('marks carry their value and cycle', async () => {
    const { marks, lines } = runInAvr8js(await compilePattern(), { ...runOptions, marks: true });
    const [start, end, nextStart] = marks;
    expect([start?.[1], end?.[1], nextStart?.[1]]).toEqual([1, 2, 1]);
    // The mark takes one cycle, so the first edge is one cycle after it.
    expect((lines[0]?.frames[0]?.startCycle ?? 0) - (start?.[0] ?? 0)).toBe(1);
    expect((end?.[0] ?? 0) - (start?.[0] ?? 0)).toBe(1 + 24 * 20);
    expect((nextStart?.[0] ?? 0) - (start?.[0] ?? 0)).toBe(FRAME_PERIOD_CYCLES);
  });

  test('a .hex file with a changed byte is refused', async () => {
    const hexText = await compilePattern();
    expect(hexByteCount(hexText)).toBeGreaterThan(100);
    const spoiled = hexText.replace(
      /^(:\w{8})(\w)/,
      (_, head: string, digit: string) => head + (digit === '0' ? '1' : '0'),
    );
    expect(() => flashFromHex(spoiled)).toThrow(/checksum/i);
  });
});

describe('the serial receiver', () => {
  test('of five unread bytes the first two and the last arrive', async () => {
    // ATmega328P datasheet, USART0: two bytes wait in the buffer, one in the shift register, which is overwritten.
    const { hexText } = mustCompile(await compileAvr([fixture('serial_burst.S')]));
    const board = new EmulatedBoard(flashFromHex(hexText));
    const sentBack: number[] = [];
    board.onSerialByte = (byte) => sentBack.push(byte);
    board.runUntilCycle(100);
    board.sendSerial([1, 2, 3, 4, 5], 1_000_000);
    board.runUntilCycle(30_000);
    expect(sentBack).toEqual([1, 2, 5]);
    expect(board.serial.lostByteCount).toBe(2);
  });
});

describe('watchdog and EEPROM', () => {
  let hexText = '';
  beforeAll(async () => {
    hexText = mustCompile(await compileAvr([fixture('watchdog_eeprom.cpp')])).hexText;
  });
  const options = { lines: [{ pin: 6 }], frames: 1, maxCycles: 2e6, marks: true };

  test('a run stops at the watchdog’s reset, 16 ms after it was set', async () => {
    const avr8js = runInAvr8js(hexText, options);
    const simavr = await runInSimavr(hexText, options);
    expect([avr8js.complete, simavr.complete, simavr.crashed]).toEqual([false, false, false]);
    // ATmega328P datasheet, watchdog prescaler 0: 2048 cycles of its 128 kHz oscillator.
    const waitedMs = (((avr8js.watchdogResetCycle ?? 0) - (avr8js.marks[0]?.[0] ?? 0)) * 1000) / CLOCK_HZ;
    expect(waitedMs).toBeGreaterThanOrEqual(16);
    expect(waitedMs).toBeLessThan(16.01);
    // No marks here, so counted from power-up: simavr does not let the program wait for the EEPROM (at most 3.6 ms).
    const resetMs = ((simavr.watchdogResetCycle ?? 0) * 1000) / CLOCK_HZ;
    expect(resetMs).toBeGreaterThanOrEqual(16);
    expect(resetMs).toBeLessThan(16 + 3.7);
  });

  test('EEPROM contents are handed in and changed in place', () => {
    const eeprom = new Uint8Array(1024).fill(0xff);
    eeprom[7] = 41;
    runInAvr8js(hexText, { ...options, eeprom });
    expect([eeprom[6], eeprom[7], eeprom[8]]).toEqual([0xff, 42, 0xff]);
  });
});

describe('sketches', () => {
  let plain: Compiled;
  beforeAll(async () => {
    plain = mustCompile(await compileSketch(fixture('plain_sketch')));
  }, COMPILE_TIMEOUT_MS);

  test('a sketch without a fault compiles without a warning, and its sizes are those of its .hex file', () => {
    expect(plain.warningsFromSketch).toEqual([]);
    expect(plain.flashBytes).toBe(hexByteCount(plain.hexText));
    expect(plain.log).toContain(`Sketch uses ${plain.flashBytes} bytes`);
    expect(plain.log).toContain(`Global variables use ${plain.sramBytes} bytes`);
  });

  test(
    'an unused variable in a sketch and a sign comparison in its header are reported, and nothing of the core',
    async () => {
      const { warningsFromSketch } = mustCompile(await compileSketch(fixture('warned_sketch')));
      expect(warningsFromSketch.length).toBe(2);
      expect(warningsFromSketch.join('\n')).toMatch(
        /^warned_sketch\.ino:5:\d+: warning: unused variable .*neverUsed/m,
      );
      expect(warningsFromSketch.join('\n')).toMatch(
        /^limits_of_row\.h:5:\d+: warning: comparison between signed and/m,
      );
    },
    COMPILE_TIMEOUT_MS,
  );

  test(
    'a sketch that does not compile is a result with the compiler’s error',
    async () => {
      const result = await compileSketch(fixture('broken_sketch'));
      expect(result.ok).toBe(false);
      expect(result.ok ? [] : result.errors.join('\n')).toMatch(/startEverything.* was not declared/);
    },
    COMPILE_TIMEOUT_MS,
  );

  test('timer, pull-up and serial port work on the emulated board', () => {
    const board = new EmulatedBoard(flashFromHex(plain.hexText));
    const edgesBeforeEcho: number[] = [];
    const echoCycle = 0.05 * CLOCK_HZ;
    let sent = '';
    board.watchPin(13, (cycle) => {
      // Echoing happens between two edges and takes its time.
      if (cycle < echoCycle) edgesBeforeEcho.push(cycle);
    });
    board.onSerialByte = (byte) => {
      sent += String.fromCharCode(byte);
    };
    board.at(echoCycle, () => board.sendSerial(new TextEncoder().encode('echo!'), 115_200));
    board.runUntilCycle(0.1 * CLOCK_HZ);
    // The open button reads its pull-up.
    expect(sent).toBe('hecho!');
    const halfPeriodsMs = edgesBeforeEcho
      .slice(1)
      .map((cycle, index) => ((cycle - (edgesBeforeEcho[index] ?? 0)) * 1000) / CLOCK_HZ);
    expect(halfPeriodsMs.length).toBe(4);
    // delay() counts microseconds in steps of 4 and may be one call late.
    for (const ms of halfPeriodsMs) expect(Math.abs(ms - 10)).toBeLessThan(0.05);
  });

  test('a button held low reads low, and high again once released', () => {
    const board = new EmulatedBoard(flashFromHex(plain.hexText));
    let sent = '';
    board.onSerialByte = (byte) => {
      sent += String.fromCharCode(byte);
    };
    board.setInput(2, 'low');
    board.runUntilCycle(0.01 * CLOCK_HZ);
    expect(sent).toBe('l');
    const pinRegisterOfD = () => ((board.cpu.data[0x29] ?? 0) >> 2) & 1;
    expect(pinRegisterOfD()).toBe(0);
    board.setInput(2, 'open');
    expect(pinRegisterOfD()).toBe(1);
  });
});
