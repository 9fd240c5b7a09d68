// How large the ready-to-flash program is: flash in all and function by function, static SRAM, each function's stack frame, and how deep the stack really gets on the
// emulated board with the heaviest random shows while events come. Held against sizes.json; nothing may grow unnoticed, and where something shrinks the record is made
// anew: node test/player/record-sizes.mjs. Under another compiler than the manifest names only the totals are compared, within 3 %.
// Not here: whether a panel fits (test/export/memory.test.ts).
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/intel-hex.ts';
import { compileShowData, predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Clip, Project } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { messageBytes } from '../support/game-controller.ts';
import { playerManifest } from '../support/profile-board.ts';
import { variedProject } from './varied-project.ts';

type Bytes = Readonly<Record<string, number>>;
interface Sizes {
  readonly flashBytes: number;
  readonly sramBytes: number;
  /** SRAM where nothing can start another show, so that inputs and director need no room. */
  readonly quietSramBytes: number;
  readonly stackBytes: number;
  readonly functionBytes: Bytes;
  readonly variableBytes: Bytes;
  readonly frameBytes: Bytes;
}

const recordPath = 'test/player/sizes.json';
const recorded = JSON.parse(readFileSync(recordPath, 'utf8')) as Sizes;
const { compiler, ...built } = JSON.parse(
  execFileSync('node', ['test/player/program-sizes.mjs'], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  }),
) as Omit<Sizes, 'stackBytes'> & { readonly compiler: string };
const manifest = JSON.parse(readFileSync('firmware-templates/prebuilt/manifest.json', 'utf8')) as {
  readonly compilers: { readonly avrGcc: string };
};
const isManifestsCompiler = compiler === manifest.compilers.avrGcc;

// ---- the stack's depth ----

const sramBytes = 2048;
const cyclesPerMs = 16_000;
/** Sixteen slow frames, or so many more quick ones. */
const leastFrames = 16;
const leastMs = 400;
const projectCount = 30;
/** Fixed, so that the record holds for every run. */
const stackSeed = 20_261_126;

const score: Clip = {
  startMs: 0,
  lengthMs: 60_000,
  area: 'everything',
  gradient: 'g1',
  blend: 'over',
  effect: { kind: 'column', fillSeconds: 1, travel: 'fills', byValue: true, softness: 0.4, easing: 'both' },
};

/** Two shows that fade into each other and a score, heard by serial port and pins; a room button. */
function withEvents(project: Project): Project {
  const [show] = project.lampshows;
  const free = [2, 3, 4, 5, 7, 8].filter((pin) => project.dataLines.every((line) => line.pin !== pin));
  return {
    ...project,
    lampshows: [
      show!,
      { ...show!, id: 'other', lengthMs: 3000 },
      { id: 'score', lengthMs: 60_000, rows: [{ id: 'row', clips: [score] }] },
    ],
    gameEvents: [
      { id: 'other', lampshow: 'other', crossfadeMs: 5000, resume: true, pin: free[0]! },
      { id: 'queued', lampshow: 'other', when: 'queue', plays: 2, retriggerMs: 100, pin: free[1]! },
      { id: 'score', lampshow: 'score', crossfadeMs: 700, plays: 'until-next', hasValue: true },
      { id: 'late', lampshow: 'other', delayMs: 300, pin: free[3]! },
    ],
    inputs: { serial: true, roomPin: free[2]! },
  };
}

/** Bytes of stack that a run reached. */
function stackOf(project: Project): number {
  const program = playerManifest().programs.find(({ mcu }) => mcu === 'atmega328p')!;
  const layout = layOut(project);
  const { frameMs } = predictSpeed(project, layout);
  const frames = Math.max(leastFrames, Math.ceil(leastMs / frameMs));
  const stepMs = (frames * frameMs) / leastFrames;
  const data = compileShowData(project, layout, { frameMs })!;
  const hex = readHex(readFileSync(`firmware-templates/prebuilt/${program.file}`, 'utf8'));
  let answers = 0;
  const run = runInAvr8js(writeHex(withBytes(hex, program.showDataAt, data.bytes)), {
    lines: project.dataLines.map((line) => ({ pin: line.pin! })),
    frames: frames + 1,
    maxCycles: cyclesPerMs * frameMs * (frames + 10),
    onStart: (board) => {
      board.onSerialByte = () => answers++;
      const messages = [[63], [0], [1], [2, 77], [0], [2, 200]] as const;
      for (const [i, [event, value]] of messages.entries())
        board.at(cyclesPerMs * stepMs * (2 + 2 * i) + 77 * i, () =>
          board.sendSerial(messageBytes(event, i % 2 ? 1 : 0, value ?? 0), 115_200),
        );
      const pins = [...project.gameEvents!.flatMap(({ pin }) => pin ?? []), project.inputs!.roomPin!];
      for (const pin of pins) {
        board.at(cyclesPerMs * stepMs * 3, () => board.setInput(pin, 'low'));
        board.at(cyclesPerMs * (stepMs * 3 + 200), () => board.setInput(pin, 'open'));
      }
    },
  });
  // While two shows fade into each other, frames that come late are left out.
  expect(run.lines[0]!.frames.length).toBeGreaterThan(leastFrames / 2);
  // A hello's text, and a byte for each message.
  expect(answers).toBeGreaterThan(20);
  return sramBytes - program.staticSramBytes - 3 * layout.wireLeds.length - run.untouchedStackBytes;
}

const fits = (project: Project): boolean =>
  3 * layOut(project).wireLeds.length + built.sramBytes + 200 <= sramBytes;
const deepest = (): number =>
  Math.max(
    ...fc
      .sample(variedProject, { seed: stackSeed, numRuns: 2 * projectCount })
      .filter(fits)
      .slice(0, projectCount)
      .map((project) => stackOf(withEvents(project))),
  );

// ---- against the record ----

const howTo = 'If that is meant: node test/player/record-sizes.mjs';
/** Less than this much smaller is not worth a new record. */
const littleFunctionBytes = 16;
const littleTotalBytes = 64;

function grown(before: Bytes, now: Bytes): string[] {
  return Object.entries(now)
    .filter(([name, bytes]) => bytes > (before[name] ?? 0))
    .map(([name, bytes]) => `${name}: ${before[name] ?? 'absent'} -> ${bytes} bytes`);
}
function shrunk(before: Bytes, now: Bytes, little: number): string[] {
  return grown(now, before).filter((line) => {
    const [, to, from] = /: (\w+) -> (\d+)/.exec(line)!;
    return Number(from) - (to === 'absent' ? 0 : Number(to)) > little;
  });
}

const totalsOf = ({
  flashBytes,
  sramBytes: staticBytes,
  quietSramBytes,
}: Omit<Sizes, 'stackBytes'>): Bytes => ({
  flashBytes,
  sramBytes: staticBytes,
  quietSramBytes,
});

if (process.env['LAMPLOOM_RECORD_SIZES']) {
  test('sizes are recorded', { timeout: 240_000 }, () => {
    expect(isManifestsCompiler, `${compiler} is not the manifest's ${manifest.compilers.avrGcc}`).toBe(true);
    const sizes: Sizes = { ...totalsOf(built), stackBytes: deepest(), ...built } as Sizes;
    writeFileSync(recordPath, `${JSON.stringify(sizes, null, 2)}\n`);
  });
} else if (isManifestsCompiler) {
  test('the program, its static memory and its parts have not grown', () => {
    expect(grown(totalsOf(recorded), totalsOf(built)), howTo).toEqual([]);
    expect(grown(recorded.variableBytes, built.variableBytes), howTo).toEqual([]);
    expect(grown(recorded.functionBytes, built.functionBytes), howTo).toEqual([]);
    expect(grown(recorded.frameBytes, built.frameBytes), howTo).toEqual([]);
  });

  test('nor has anything become so much smaller that the record is out of date', () => {
    expect(shrunk(totalsOf(recorded), totalsOf(built), littleTotalBytes), howTo).toEqual([]);
    expect(shrunk(recorded.functionBytes, built.functionBytes, littleFunctionBytes), howTo).toEqual([]);
  });

  test(`the stack of ${projectCount} heavy shows with events is no deeper than recorded`, {
    timeout: 240_000,
  }, () => {
    const stackBytes = deepest();
    expect(grown({ stackBytes: recorded.stackBytes }, { stackBytes }), howTo).toEqual([]);
    expect(shrunk({ stackBytes: recorded.stackBytes }, { stackBytes }, littleFunctionBytes), howTo).toEqual(
      [],
    );
  });
} else {
  test('totals are within 3 % of the record, which another compiler made', () => {
    const before = totalsOf(recorded);
    for (const [name, bytes] of Object.entries(totalsOf(built)))
      expect(Math.abs(bytes / before[name]! - 1), `${name}: ${before[name]} -> ${bytes}`).toBeLessThan(0.03);
  });
}
