// Runs firmware in simavr, the second emulator, through the small C program pin-probe.c.
// Not here: the first emulator (board-avr8js.ts). Each line comes back twice: decoded here from the recorded edges,
// and decoded by pin-probe.c by itself. pin-probe.c says how exact simavr's edge times are.
// Assumes: 16 MHz, at most 8 lines.
import { createHash } from 'node:crypto';
import { readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Mcu, pinPlaces } from './chip-headers.ts';
import {
  cacheFolder,
  isReadable,
  missingPackageError,
  runProgram,
  runTool,
  withTemporaryFolder,
} from './tools.ts';
import { type CycleSpan, WireDecoder, type WireFrame, type WirePulses } from './wire-decoder.ts';

const DEFAULT_LATCH_CYCLES = 4800;

export interface SimavrRunOptions {
  /** An ATmega328P where left out. */
  readonly mcu?: Mcu;
  /** Arduino pin numbers. */
  readonly lines: readonly { readonly pin: number }[];
  readonly frames: number;
  readonly maxCycles: number;
  readonly latchMinCycles?: number;
  /** Byte address of the first instruction; 0 where left out. */
  readonly start?: number;
  /** Bytes that come over the first serial port, one a millisecond from 50 ms on. */
  readonly heard?: readonly number[];
  /** Data address of a register whose value at the end is wanted. */
  readonly watched?: number;
}

/** What one of the two decoders made of a line. */
export interface DecodedLine {
  readonly frames: readonly WireFrame[];
  readonly pulses: WirePulses;
}

export interface SimavrLine extends DecodedLine {
  readonly pin: number;
  /** The same line as pin-probe.c decoded it. */
  readonly probe: DecodedLine;
  readonly firstDrivenCycle: number | null;
  readonly drivenHighBeforeLow: boolean;
}

export interface SimavrRun {
  readonly lines: readonly SimavrLine[];
  readonly complete: boolean;
  readonly cycles: number;
  readonly untouchedStackBytes: number;
  /** simavr met something that it could not run. */
  readonly crashed: boolean;
  /** When the watchdog reset the chip; the run stops there. */
  readonly watchdogResetCycle: number | null;
  /** What was sent over the first serial port. */
  readonly sent: Uint8Array;
  /** Value of the watched register at the end. */
  readonly registerAtEnd: number;
}

let probe: Promise<string> | undefined;

/** Path of the compiled probe; its name holds the source's hash, so a change of the source makes a new one. */
function pinProbe(): Promise<string> {
  probe ??= buildPinProbe();
  return probe;
}

async function buildPinProbe(): Promise<string> {
  const sourcePath = fileURLToPath(new URL('pin-probe.c', import.meta.url));
  const hash = createHash('sha256')
    .update(await readFile(sourcePath))
    .digest('hex');
  const path = join(await cacheFolder(), `pin-probe-${hash.slice(0, 16)}`);
  if (await isReadable(path)) return path;
  // Under a name of its own first: another test file may be building, or already running, the same program.
  const ownPath = `${path}.${process.pid}.${Math.random().toString(36).slice(2)}`;
  const args = ['-std=gnu11', '-O2', '-Wall', '-Wextra', '-Werror', sourcePath, '-o', ownPath, '-lsimavr'];
  const { exitCode, stderr } = await runTool('gcc', args);
  if (exitCode !== 0) {
    await rm(ownPath, { force: true });
    if (/simavr\/\S+: No such file|cannot find -lsimavr/.test(stderr)) {
      throw missingPackageError('The simavr library', 'libsimavr-dev');
    }
    throw new Error(`pin-probe.c does not compile:\n${stderr}`);
  }
  await rename(ownPath, path);
  return path;
}

interface ProbeLine {
  readonly frames: WireFrame[];
  readonly spans: Map<string, CycleSpan>;
  firstDrivenCycle: number | null;
  drivenHighBeforeLow: boolean;
}

interface ProbeReport {
  readonly lines: readonly ProbeLine[];
  cycles: number;
  untouchedStackBytes: number;
  crashed: boolean;
  watchdogResetCycle: number | null;
  sent: Uint8Array;
  registerAtEnd: number;
}

type WordReader = (report: ProbeReport, words: readonly string[]) => void;

function lineOf(report: ProbeReport, word: string | undefined): ProbeLine {
  const line = report.lines[Number(word)];
  if (line === undefined) throw new Error(`pin-probe reported a line ${word} that was not asked for`);
  return line;
}

/** One reader per first word of the probe's report. */
const REPORT_WORDS: Readonly<Record<string, WordReader>> = {
  frame: (report, [, line, start, end, strayBits, hex]) => {
    const bytes = Uint8Array.from(Buffer.from(hex ?? '', 'hex'));
    lineOf(report, line).frames.push({
      startCycle: Number(start),
      endCycle: Number(end),
      bytes,
      strayBits: Number(strayBits),
    });
  },
  pulse: (report, [, line, name, least, most, count]) => {
    if (Number(count) === 0) return;
    const span = { minCycles: Number(least), maxCycles: Number(most), count: Number(count) };
    lineOf(report, line).spans.set(name ?? '', span);
  },
  driven: (report, [, line, firstHigh, cycle]) => {
    if (Number(firstHigh) < 0) return;
    lineOf(report, line).firstDrivenCycle = Number(cycle);
    lineOf(report, line).drivenHighBeforeLow = firstHigh === '1';
  },
  sent: (report, [, hex]) => {
    report.sent = Uint8Array.from(Buffer.from(hex ?? '', 'hex'));
  },
  register: (report, [, value]) => {
    report.registerAtEnd = Number(value);
  },
  end: (report, [, cycles, untouchedStackBytes, crashed, resetCycle]) => {
    report.cycles = Number(cycles);
    report.untouchedStackBytes = Number(untouchedStackBytes);
    report.crashed = crashed === '1';
    report.watchdogResetCycle = resetCycle === '0' ? null : Number(resetCycle);
  },
};

function readReport(text: string, lineCount: number): ProbeReport {
  const newLine = (): ProbeLine => ({
    frames: [],
    spans: new Map(),
    firstDrivenCycle: null,
    drivenHighBeforeLow: false,
  });
  const lines = Array.from({ length: lineCount }, newLine);
  const report: ProbeReport = {
    lines,
    cycles: 0,
    untouchedStackBytes: 0,
    crashed: false,
    watchdogResetCycle: null,
    sent: new Uint8Array(),
    registerAtEnd: 0,
  };
  for (const row of text.split('\n')) {
    if (row === '') continue;
    const words = row.split(' ');
    const read = REPORT_WORDS[words[0] ?? ''];
    if (read === undefined) throw new Error(`pin-probe reported something unknown: ${row}`);
    read(report, words);
  }
  if (report.cycles === 0) throw new Error('pin-probe ended before its report did');
  return report;
}

/** Feeds the recorded edges to one decoder per line. The form of the file stands in pin-probe.c. */
function replayEdges(edges: Uint8Array, decoders: readonly WireDecoder[]): void {
  let cycle = 0;
  let word = 0;
  let scale = 1;
  for (const byte of edges) {
    // Not by shifts: a pause of a few seconds does not fit into 32 bits.
    word += (byte & 0x7f) * scale;
    scale *= 128;
    if (byte & 0x80) continue;
    cycle += Math.floor(word / 16);
    decoders[(word >> 1) & 7]?.edge(cycle, word & 1 ? 1 : 0);
    word = 0;
    scale = 1;
  }
}

export async function runInSimavr(hexText: string, options: SimavrRunOptions): Promise<SimavrRun> {
  const latchMinCycles = options.latchMinCycles ?? DEFAULT_LATCH_CYCLES;
  const mcu = options.mcu ?? 'atmega328p';
  const program = await pinProbe();
  const { report, edges } = await withTemporaryFolder(async (folder) => {
    const hexPath = join(folder, 'firmware.hex');
    const edgesPath = join(folder, 'edges');
    await writeFile(hexPath, hexText);
    const limits = [options.frames, options.maxCycles, latchMinCycles, options.start ?? 0].map(String);
    const heard = options.heard?.length ? Buffer.from(options.heard).toString('hex') : '-';
    const places = pinPlaces(mcu);
    const pins = options.lines.map(({ pin }) => {
      const place = places[pin];
      if (place === undefined)
        throw new Error(`The ${mcu} board has pins 0 to ${places.length - 1}, not ${pin}`);
      return `${place.port}${place.bit}`;
    });
    const run = await runProgram(program, [
      mcu,
      hexPath,
      edgesPath,
      ...limits,
      heard,
      String(options.watched ?? 0),
      ...pins,
    ]);
    if (run.exitCode !== 0) throw new Error(`pin-probe failed: ${run.stderr}`);
    return { report: readReport(run.stdout, pins.length), edges: await readFile(edgesPath) };
  });

  const decoders = options.lines.map(() => new WireDecoder({ latchMinCycles }));
  replayEdges(edges, decoders);
  const lines = options.lines.map(({ pin }, index): SimavrLine => {
    const decoder = decoders[index];
    const line = report.lines[index];
    if (decoder === undefined || line === undefined) throw new Error('pin-probe lost a line');
    decoder.finish(report.cycles);
    const span = (name: string) => line.spans.get(name) ?? null;
    const probePulses: WirePulses = {
      T0H: span('T0H'),
      T1H: span('T1H'),
      T0L: span('T0L'),
      T1L: span('T1L'),
      shortestLatchCycles: span('latch')?.minCycles ?? null,
    };
    return {
      pin,
      frames: decoder.frames,
      pulses: decoder.pulses,
      probe: { frames: line.frames, pulses: probePulses },
      firstDrivenCycle: line.firstDrivenCycle,
      drivenHighBeforeLow: line.drivenHighBeforeLow,
    };
  });
  return {
    lines,
    complete: lines.every((line) => line.frames.length >= options.frames),
    cycles: report.cycles,
    untouchedStackBytes: report.untouchedStackBytes,
    crashed: report.crashed,
    watchdogResetCycle: report.watchdogResetCycle,
    sent: report.sent,
    registerAtEnd: report.registerAtEnd,
  };
}
