// A day and more: frames at numbers over 24 hours and around every place where a count could wrap, natively and in WebAssembly; no drift, shown by shows whose rates divide
// their length; and the emulated board with its frame counter set far ahead. With LAMPLOOM_SOAK also every frame of an hour, and ten minutes on the emulated chip.
// Not here: what the effects look like; the director's long times (director.test.ts).
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
// @ts-expect-error the build script is plain JavaScript
import { avrFlags } from '../../firmware-templates/build.mjs';
import { readHex, withBytes, writeHex } from '../../src/board/index.ts';
import { compileShowData, type Player, type ShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Clip, Effect, Project } from '../../src/project/index.ts';
import { type BoardRun, runInAvr8js } from '../board/board-avr8js.ts';
import { compileAvr, mustCompile } from '../board/sketch-compiler.ts';
import { runProgram } from '../board/tools.ts';
import { playerManifest } from '../support/profile-board.ts';
import { loadProject } from '../support/projects.ts';
import { NativePlayer } from './native.ts';
import { gridOf, projectOfScene } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

const isSoak = process.env['LAMPLOOM_SOAK'] !== undefined;
const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const cyclesPerMs = 16_000;

let wasm: Player;
const natives: NativePlayer[] = [];
beforeAll(async () => {
  wasm = await loadPlayer();
  natives.push(await NativePlayer.start('plain'), await NativePlayer.start('checked'));
});
afterAll(async () => {
  for (const native of natives) await native.stop();
});

const compiled = (project: Project, frameMs: number): ShowData =>
  compileShowData(project, layOut(project), { frameMs })!;

/** Four rows: one through the whole hour, the others with fades of a minute; so clips are far beyond 16 bits of milliseconds, and no join is dark. */
function hourProject(ledCount: number): Project {
  const project = loadProject(ledCount, 4);
  const whole = (clip: Clip): Clip => ({ ...clip, startMs: 0, lengthMs: hourMs });
  const faded = (clip: Clip): Clip => ({
    ...clip,
    startMs: 3000,
    lengthMs: hourMs - 5000,
    fadeInMs: 60_000,
    fadeOutMs: 60_000,
  });
  return {
    ...project,
    power: { ...project.power, supply: { volts: 5, amps: 40 } },
    lampshows: project.lampshows.map((show) => ({
      ...show,
      lengthMs: hourMs,
      rows: show.rows.map((row, i) => ({ ...row, clips: row.clips.map(i === 0 ? whole : faded) })),
    })),
  };
}

/** Frame numbers just before places where something could wrap: 16 bits of frames and of milliseconds, 24 bits of both, joins of the show, a day, 32 bits of both. */
function edges(frameMs: number, showMs: number): number[] {
  const numbers = [
    2 ** 16,
    2 ** 16 / frameMs,
    2 ** 24,
    2 ** 24 / frameMs,
    ...[1, 2, 23, 24, 1000].map((pass) => (pass * showMs) / frameMs),
    2 ** 31 / frameMs,
    2 ** 32 / frameMs,
    2 ** 31,
    2 ** 32,
  ];
  return numbers.map((number) => Math.floor(number) - 3);
}
const wrapped = (frame: number): number => frame % 2 ** 32;
const around = (frameMs: number, showMs: number): number[] =>
  edges(frameMs, showMs).flatMap((first) => Array.from({ length: 8 }, (_, i) => wrapped(first + i)));

/** Compares frames in portions, so that no answer is too large to hold; how many LED bytes were lit. */
async function compareNatively(
  native: NativePlayer,
  data: ShowData,
  numbers: readonly number[],
): Promise<number> {
  const portion = 2000;
  let lit = 0;
  wasm.setShowData(data);
  for (let from = 0; from < numbers.length; from += portion) {
    const asked = numbers.slice(from, from + portion);
    const { bytes, overflows } = await native.frames(
      data,
      asked.map((number) => [0, number] as const),
    );
    expect(overflows, native.messages).toBe(0);
    const each = bytes.length / asked.length;
    for (const [i, number] of asked.entries()) {
      const given = Buffer.from(wasm.frame('attract', number));
      if (!given.equals(bytes.subarray(i * each, (i + 1) * each))) throw new Error(`frame ${number} differs`);
      if (given.some((byte) => byte !== 0)) lit++;
    }
  }
  return lit;
}

describe('over 24 hours', () => {
  test.each([
    [1, 20],
    [2, 33],
    [300, 20],
    [480, 24],
  ])(
    '%i LEDs with frames of %i ms: native and WebAssembly give the same bytes',
    { timeout: 120_000 },
    async (ledCount, frameMs) => {
      const data = compiled(hourProject(ledCount), frameMs);
      // A prime number of frames apart, so that no phase of an effect is left out.
      const day = Array.from({ length: Math.floor(dayMs / frameMs / 199) }, (_, i) => 199 * i);
      const numbers = [...around(frameMs, hourMs), ...day];
      expect(await compareNatively(natives[0]!, data, numbers)).toBeGreaterThan(0.95 * numbers.length);
      const fewer = [...around(frameMs, hourMs), ...day.filter((_, i) => i % 40 === 0)];
      await compareNatively(natives[1]!, data, fewer);
    },
  );

  test.runIf(isSoak)('every frame of an hour', { timeout: 600_000 }, async () => {
    const data = compiled(hourProject(300), 20);
    const first = Math.floor(dayMs / 20);
    const numbers = Array.from({ length: hourMs / 20 }, (_, i) => first + i);
    expect(await compareNatively(natives[0]!, data, numbers)).toBeGreaterThan(0.95 * numbers.length);
  });
});

// ---- no drift ----

/** 2^10 ms, so that a turn in that time is exactly 2^14 of 2^24 a millisecond: no rate is rounded. */
const turnMs = 1024;
const turnSeconds = turnMs / 1000;
const exactFrameMs = 16;
/** The longest show of whole turns in which stars, whose slots come back after 256 lives, fit a whole number of times. */
const exactShowMs = 13 * 256 * turnMs;
const centre = { xMm: 200, yMm: 40 };

/** Effects whose rates are exact, and after how many turns of 1,024 ms each is the same again. Lightning has no such rate. */
const exact: readonly (readonly [turns: number, effect: Effect])[] = [
  [1, { kind: 'glow', breathSeconds: turnSeconds, depth: 1, gradientPlace: 0, gradientSpan: 1 }],
  [2, { kind: 'band', passSeconds: 2 * turnSeconds, width: 0.4, bands: 1, travel: 'forward', softness: 0.5 }],
  [
    2,
    {
      kind: 'band',
      passSeconds: turnSeconds,
      width: 0.3,
      bands: 1,
      travel: 'there-and-back',
      softness: 0.5,
      easing: 'both',
    },
  ],
  [1, { kind: 'chase', every: 4, stepSeconds: turnSeconds / 4, travel: 'backward', softness: 1 }],
  [4, { kind: 'spokes', centre, spokes: 2, turnSeconds: 8 * turnSeconds, width: 0.5, softness: 0.5 }],
  [1, { kind: 'rings', centre, spacingMm: 60, ringSeconds: turnSeconds, width: 0.6, inward: false }],
  [4, { kind: 'stream', passSeconds: 4 * turnSeconds, repeats: 1, travel: 'forward' }],
  [2, { kind: 'column', fillSeconds: turnSeconds, travel: 'fills-and-empties', softness: 0.2 }],
  [
    4,
    {
      kind: 'bursts',
      flashes: 2,
      flashesPerSecond: 1 / turnSeconds,
      pauseSeconds: 2 * turnSeconds,
      litShare: 0.5,
      softness: 0.5,
      gradientPlace: 0,
      gradientSpan: 1,
    },
  ],
  [256, { kind: 'stars', lifeSeconds: turnSeconds, density: 0.7, seed: 5 }],
  [256, { kind: 'glints', lifeSeconds: turnSeconds, density: 0.7, seed: 6 }],
  // A cell a turn; dice repeat after 256 cells.
  [256, { kind: 'cloud', patchMm: 128, driftMmPerSecond: 125, driftDeg: 0, seed: 7 }],
  [256, { kind: 'fire', patchMm: 128, riseMmPerSecond: 125, height: 0.8, seed: 8 }],
  [
    2,
    {
      kind: 'painted',
      columns: 3,
      rows: 1,
      palette: ['#000000', '#ff0000', '#00ff00'],
      frames: [
        { holdMs: turnMs, fadeMs: 500, cells: '012' },
        { holdMs: turnMs, fadeMs: 900, cells: '201' },
      ],
    },
  ],
  [8, { kind: 'letters', text: 'FAIR', passSeconds: 8 * turnSeconds, travel: 'left' }],
];

describe('[T-1, T-3] no drift: frame n is frame n modulo the period over 24 hours, through every join of the show', () => {
  test.each(exact.map(([turns, effect]) => [effect.kind, turns, effect] as const))(
    '%s, %i turns',
    (_kind, turns, effect) => {
      const project = projectOfScene({
        runs: gridOf(7, 20),
        lengthMs: exactShowMs,
        gradients: [
          {
            id: 'g',
            stops: [
              { at: 0, colour: '#ffffff' },
              { at: 1, colour: '#ff2000' },
            ],
          },
        ],
        clips: [{ effect, startMs: 0, lengthMs: hourMs, cycle: { seconds: turnSeconds, backward: false } }],
      });
      const periodFrames = (turns * turnMs) / exactFrameMs;
      wasm.setShowData(compiled(project, exactFrameMs));
      const dayFrames = dayMs / exactFrameMs;
      const joins = Array.from({ length: 27 }, (_, pass) => (pass * exactShowMs) / exactFrameMs);
      const numbers = [
        ...Array.from({ length: Math.floor(dayFrames / 2003) }, (_, i) => 2003 * i),
        ...joins.flatMap((join) => [join - 1, join, join + 1]).filter((number) => number > 0),
      ];
      const pictures = new Map<number, string>();
      const pictureOf = (number: number): string =>
        Buffer.from(wasm.frame('attract', number)).toString('latin1');
      for (const number of numbers) {
        const inPeriod = number % periodFrames;
        const known = pictures.get(inPeriod) ?? pictureOf(inPeriod);
        pictures.set(inPeriod, known);
        if (pictureOf(number) !== known) throw new Error(`frame ${number} is not frame ${inPeriod}`);
      }
      // Something moves, or equal frames would prove nothing.
      expect(new Set(pictures.values()).size).toBeGreaterThan(20);
    },
  );
});

// ---- the emulated board ----

const showDataAt = 0x5000;
let program: { readonly hexText: string; readonly counterAt: number };
beforeAll(async () => {
  const folder = mkdtempSync(join(tmpdir(), 'lamploom-long-'));
  try {
    const out = join(folder, 'player.elf');
    const { hexText } = mustCompile(
      await compileAvr(['firmware-templates/prebuilt/main.cpp'], {
        defines: { LAMPLOOM_SHOW_DATA_AT: showDataAt },
        includes: ['firmware-templates/player'],
        flags: avrFlags('atmega328p'),
        out,
      }),
    );
    const { stdout } = await runProgram('avr-nm', ['-C', out]);
    const [, at] = /^(?:00)?80(\w{4}) \w \S*frameNumber\S*$/m.exec(stdout) ?? [];
    program = { hexText, counterAt: Number.parseInt(at!, 16) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}, 60_000);

/** The board with its frame counter set to `first` once frame 0 is out: bytes of the slots behind, from the one that shows first + 1 on. */
function boardFrom(project: Project, frameMs: number, first: number, frames: number): Buffer[] {
  const hexText = writeHex(withBytes(readHex(program.hexText), showDataAt, compiled(project, frameMs).bytes));
  let isSet = false;
  const run = runInAvr8js(hexText, {
    lines: project.dataLines.map(({ pin }) => ({ pin: pin! })),
    frames: frames + 3,
    maxCycles: cyclesPerMs * frameMs * (frames + 6),
    onCycle: ({ cpu }) => {
      const counter = new DataView(cpu.data.buffer, cpu.data.byteOffset + program.counterAt, 4);
      if (isSet || counter.getUint32(0, true) !== 1) return;
      counter.setUint32(0, first, true);
      isSet = true;
    },
  });
  expect(isSet).toBe(true);
  expect(run.complete).toBe(true);
  const [, zero, ...later] = run.lines[0]!.frames;
  for (const [i, frame] of later.entries())
    expect(Math.round((frame.startCycle - zero!.startCycle) / cyclesPerMs)).toBe((i + 1) * frameMs);
  return later.slice(1).map(({ bytes }) => Buffer.from(bytes));
}

/** A show that is played by the director, since a button could start another. */
const withButton = (project: Project): Project => ({
  ...project,
  gameEvents: [{ id: 'start', lampshow: 'attract', pin: 3 }],
});

describe('[T-1, T-3, D-16] on the emulated board the frame counter may stand anywhere', () => {
  test.each<[number, string, Project, number]>([
    [1, 'LED', hourProject(1), 20],
    [2, 'LEDs', hourProject(2), 20],
    [300, 'LEDs', hourProject(300), 40],
    [480, 'LEDs', hourProject(480), 60],
    [300, 'LEDs with the director', withButton(hourProject(300)), 41],
  ])('%i %s: bytes are those of WebAssembly', { timeout: 240_000 }, (ledCount, _name, project, frameMs) => {
    const frames = 6;
    let lit = 0;
    wasm.setShowData(compiled(project, frameMs));
    for (const first of edges(frameMs, hourMs)) {
      const sent = boardFrom(project, frameMs, first, frames);
      const numbers = sent.map((_, i) => wrapped(first + 1 + i));
      for (const [i, number] of numbers.entries()) {
        if (sent[i]!.some((byte) => byte !== 0)) lit++;
        expect(sent[i]!.equals(Buffer.from(wasm.frame('attract', number))), `frame ${number}`).toBe(true);
      }
    }
    expect(lit).toBeGreaterThan(ledCount > 2 ? 60 : 20);
  });
});

test.runIf(isSoak)('ten minutes on the emulated chip, every frame compared', { timeout: 1_200_000 }, () => {
  const frameMs = 20;
  const minutesMs = 600_000;
  const project = hourProject(150);
  const { file, showDataAt: at } = playerManifest().programs.find(({ mcu }) => mcu === 'atmega328p')!;
  const hex = readHex(readFileSync(`firmware-templates/prebuilt/${file}`, 'utf8'));
  const data = compiled(project, frameMs);
  const frames = minutesMs / frameMs;
  const run: BoardRun = runInAvr8js(writeHex(withBytes(hex, at, data.bytes)), {
    lines: [{ pin: 6 }],
    frames: frames + 1,
    maxCycles: cyclesPerMs * (minutesMs + 10 * frameMs),
  });
  wasm.setShowData(data);
  const [, ...sent] = run.lines[0]!.frames;
  expect(sent).toHaveLength(frames);
  for (const [number, { bytes, startCycle }] of sent.entries()) {
    expect(Math.abs(startCycle - sent[0]!.startCycle - number * frameMs * cyclesPerMs)).toBeLessThan(200);
    if (!Buffer.from(bytes).equals(Buffer.from(wasm.frame('attract', number))))
      throw new Error(`frame ${number} differs`);
  }
});
