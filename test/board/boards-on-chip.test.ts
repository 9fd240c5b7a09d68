// Every board on its emulated chip: the ready-to-flash program and the exported sketch against the player in WebAssembly, on a data pin of every port.
// Not here: the ATmega328P at length (test/export, test/player), what the rows say (board-rows.test.ts).
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boardOf, sketchNameOf } from '../../src/board/index.ts';
import { type Board, boards, rowById } from '../../src/catalogue/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { seed, variedProject } from '../player/varied-project.ts';
import { compareFrames } from '../support/board-frames.ts';
import { temporaryFolder } from '../support/command-line.ts';
import { messageBytes } from '../support/game-controller.ts';
import { examine, exportedText, exportedTexts, loadPlayer, templates } from '../support/lamploom.ts';
import { loadProject } from '../support/projects.ts';
import { runInSimavr, type SimavrRun } from './board-simavr.ts';
import { deviceValues, type Mcu, pinPlaces } from './chip-headers.ts';
import { compileAvr, compileSketch, mustCompile } from './sketch-compiler.ts';

const cyclesPerMs = 16_000;
const framesWanted = 12;
const mcuOf = (board: Board): Mcu => board.mcu as Mcu;

/** Names of the Arduino core's boards. */
const fqbn: Readonly<Record<string, string>> = {
  atmega328p: 'arduino:avr:nano:cpu=atmega328',
  atmega32u4: 'arduino:avr:leonardo',
  atmega2560: 'arduino:avr:mega:cpu=atmega2560',
};
const chips = Object.keys(fqbn).map((id) => rowById(boards, id)!);

const player = await loadPlayer();

/** Whether at least a fifth of its first bytes are lit. */
function isLit(project: Project): boolean {
  const { showData } = examine(project, templates);
  player.setShowData(showData!);
  const bytes = Array.from({ length: framesWanted }, (_, i) => [
    ...player.frame(project.attractMode, i),
  ]).flat();
  return bytes.filter((byte) => byte !== 0).length > bytes.length / 5;
}

/** Small projects with much in them, one data line each. */
const projects = fc
  .sample(variedProject, { seed, numRuns: 100 })
  .filter((project) => project.dataLines.length === 1 && layOut(project).wireLeds.length <= 150)
  .filter(isLit)
  .slice(0, 30);
const plain = loadProject(90, 4);

const onBoard = (project: Project, board: Board, pins: readonly number[]): Project => {
  const chain = project.dataLines.flatMap((line) => line.chain);
  const share = Math.ceil(chain.length / pins.length);
  return {
    ...project,
    board: { id: board.id },
    dataLines: pins.map((pin, i) => ({ pin, chain: chain.slice(share * i, share * (i + 1)) })),
  };
};

/** Runs a program of this project and holds its frames and pulses to what they should be. */
async function expectFrames(
  project: Project,
  hexText: string,
  frames = framesWanted,
  heard: readonly number[] = [],
): Promise<SimavrRun> {
  const board = boardOf(project);
  const { frameMs, showData } = examine(project, templates);
  player.setShowData(showData!);
  const run = await runInSimavr(hexText, {
    mcu: mcuOf(board),
    lines: project.dataLines.map((line) => ({ pin: line.pin! })),
    frames: frames + 1,
    maxCycles: (frames + 4) * frameMs * cyclesPerMs,
    heard,
  });
  const sent = run.lines.map((line) => line.frames);
  const label = `${board.id}, pins ${project.dataLines.map((line) => line.pin)}`;
  expect(run.complete, label).toBe(true);
  const result = compareFrames(sent, player, project.attractMode, frameMs);
  expect({ label, ...result }).toMatchObject({
    framesCompared: frames,
    bytesDiffering: 0,
    firstDifference: undefined,
    framesSkipped: 0,
    blackFirst: true,
  });
  for (const { pulses, drivenHighBeforeLow } of run.lines) {
    // 20 cycles a bit, T0H 6 and T1H 12: the window that every listed chip leaves open (chip-windows.ts).
    const spans = [pulses.T0H, pulses.T1H, pulses.T0L, pulses.T1L].map(
      (span) => span && [span.minCycles, span.maxCycles],
    );
    expect(spans, label).toEqual([
      [6, 6],
      [12, 12],
      [14, 14],
      [8, 8],
    ]);
    expect(drivenHighBeforeLow).toBe(false);
  }
  expect(run.crashed).toBe(false);
  return run;
}

const flashed = (project: Project): string => exportedText(project, `firmware/${project.board.id}.hex`);

async function compiledSketch(project: Project) {
  const folder = temporaryFolder();
  for (const [path, text] of exportedTexts(project)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const sketch = join(folder, 'sketch', sketchNameOf(project));
  const compiled = mustCompile(await compileSketch(sketch, { fqbn: fqbn[project.board.id]! }));
  expect(compiled.warningsFromSketch).toEqual([]);
  return compiled;
}

/** The last pin of each port that the board brings out. */
function pinOfEachPort(board: Board): [port: string, pin: number][] {
  const places = pinPlaces(mcuOf(board));
  const found = new Map<string, number>();
  for (const { pin } of board.pins) if (!board.usbSerialPins.includes(pin)) found.set(places[pin]!.port, pin);
  return [...found].sort();
}

describe.each(chips)('$id', (board) => {
  const ports = pinOfEachPort(board);

  test('brings out the ports that its data sheet names', () => {
    const named = { atmega328p: 'BCD', atmega32u4: 'BCDEF', atmega2560: 'ABCDEFGHJKL' }[mcuOf(board)];
    expect(ports.map(([port]) => port).join('')).toBe(named);
  });

  test.each(ports)(
    '[BYTES5] port %s: the ready-to-flash program sends what the preview shows',
    async (port, pin) => {
      const place = ports.findIndex(([one]) => one === port);
      for (const example of [projects[2 * place]!, projects[2 * place + 1]!]) {
        const project = onBoard(example, board, [pin]);
        await expectFrames(project, flashed(project));
      }
    },
  );

  test('two lines of one port go out at the same time', async () => {
    const [port, last] = ports.at(-1)!;
    const places = pinPlaces(mcuOf(board));
    const other = board.pins.find(({ pin }) => pin !== last && places[pin]!.port === port)!.pin;
    const project = onBoard(plain, board, [last, other]);
    const run = await expectFrames(project, flashed(project));
    // A bit takes 20 cycles: both begin within one.
    const [first, second] = run.lines.map((line) => line.frames[1]!.startCycle);
    expect(Math.abs(first! - second!)).toBeLessThan(20);
  });

  test('lines on two ports go out one after the other', async () => {
    const pins = [ports[0]![1], ports.at(-1)![1]];
    const project = onBoard(plain, board, pins);
    const run = await expectFrames(project, flashed(project));
    const [first, second] = run.lines.map((line) => line.frames[1]!);
    expect(second!.startCycle).toBeGreaterThan(first!.endCycle);
  });

  test('[SERIAL3] the serial port at pins 0 and 1 answers a hello with the project’s name and acknowledges it', async () => {
    const project: Project = {
      ...onBoard(plain, board, [ports[0]![1]]),
      gameEvents: [{ id: 'start', lampshow: 'attract' }],
      inputs: { serial: true },
    };
    const hello = messageBytes(63, 0);
    const run = await expectFrames(project, flashed(project), 30, hello);
    // Rules I-5 and I-7 of SPEC.md: the first byte comes back, then name, date and hash in a line.
    expect(run.sent[0]).toBe(hello[0]);
    expect(new TextDecoder().decode(run.sent.subarray(1))).toMatch(/^Test panel, 2026-11-25, [0-9A-F]{4}\n$/);
  });

  test('what a start-up program leaves on is turned off, and the show starts all the same', async () => {
    const start = 0x7000;
    const usartControl = board.hasOwnUsb ? 'UCSR1B' : 'UCSR0B';
    const registers = board.hasOwnUsb ? [usartControl, 'USBCON'] : [usartControl];
    // Serial port on; USB on, off the bus, its interrupts allowed: as the start-up program of the ATmega32U4 jumps to the program.
    const store = (name: string, value: number) => `ldi r24,${value}\n sts _SFR_MEM_ADDR(${name}),r24`;
    const source = [
      '#include <avr/io.h>',
      store(usartControl, 0x18),
      // USBE and OTGPADE; EORSTE and SUSPE.
      ...(board.hasOwnUsb ? [store('USBCON', 0x90), store('UDIEN', 0x09)] : []),
      'jmp 0',
      '',
    ].join('\n');
    const folder = temporaryFolder();
    const path = join(folder, 'start.S');
    writeFileSync(path, source);
    const flags = [
      '-nostartfiles',
      '-Wl,--no-gc-sections',
      `-Wl,--section-start=.text=0x${start.toString(16)}`,
    ];
    const startUp = mustCompile(await compileAvr([path], { mcu: board.mcu, flags }));
    const project = onBoard(plain, board, [ports[0]![1]]);
    const both = startUp.hexText.replace(/:00000001FF\s*/, '') + flashed(project);
    const addresses = deviceValues(mcuOf(board), registers);
    for (const name of registers) {
      const run = await runInSimavr(both, {
        mcu: mcuOf(board),
        lines: [{ pin: ports[0]![1] }],
        frames: 3,
        maxCycles: 16e6,
        start,
        watched: addresses[name]!,
      });
      expect(run.complete).toBe(true);
      expect({ name, value: run.registerAtEnd }).toEqual({ name, value: 0 });
    }
  });

  test('[BYTES5] the exported sketch sends what the preview shows', { timeout: 240_000 }, async () => {
    const project = onBoard(projects[1]!, board, [ports[0]![1]]);
    const compiled = await compiledSketch(project);
    await expectFrames(project, compiled.hexText);
  });
});
