// Cycles of a frame on the emulated board, part by part: the player compiled with its profiling marks, the pacing wait left out.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
// @ts-expect-error the build script is plain JavaScript
import { avrFlags } from '../../firmware-templates/build.mjs';
import { readHex, withBytes, writeHex } from '../../src/board/intel-hex.ts';
import { compileShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { compileAvr, mustCompile } from '../board/sketch-compiler.ts';

const showDataAt = 0x5000;
let profiled: Promise<string> | undefined;

/** The prebuilt program with profiling marks, as Intel HEX, its show data at 0x5000. Compiled once a test file. */
function profiledProgram(): Promise<string> {
  profiled ??= (async () => {
    const dir = mkdtempSync(join(tmpdir(), 'lamploom-profile-'));
    try {
      const out = join(dir, 'profiled.elf');
      return mustCompile(
        await compileAvr(['firmware-templates/prebuilt/main.cpp'], {
          mcu: 'atmega328p',
          defines: { F_CPU: '16000000L', LAMPLOOM_SHOW_DATA_AT: String(showDataAt), LAMPLOOM_PROFILE: '1' },
          includes: ['firmware-templates/player'],
          flags: avrFlags('atmega328p'),
          out,
        }),
      ).hexText;
    } finally {
      rmSync(dir, { recursive: true, force: true });
    }
  })();
  return profiled;
}

/** Names of the marks that the player sets; each lasts until the next one. */
export const parts = {
  clip: 0x10,
  prepare: 0x11,
  table: 0x12,
  effect: 0x13,
  limiter: 0x20,
  wait: 0x30,
  send: 0x40,
} as const;
export type Part = keyof typeof parts;

export interface FrameCycles {
  readonly frame: number;
  /** All but the wait for the frame's moment. */
  readonly total: number;
  readonly byPart: Readonly<Record<Part, number>>;
}

const nameOf = new Map<number, Part>(Object.entries(parts).map(([name, value]) => [value, name as Part]));

/** Cycles of the first frames of the attract mode, wait left out. `frameMs` must be enough that no frame is skipped. */
export async function profile(project: Project, frames: number, frameMs: number): Promise<FrameCycles[]> {
  const data = compileShowData(project, layOut(project), { frameMs });
  if (!data) throw new Error('the show data is too large');
  const hex = writeHex(withBytes(readHex(await profiledProgram()), showDataAt, data.bytes));
  const lines = project.dataLines.map((line) => ({ pin: line.pin ?? 6 }));
  const run = runInAvr8js(hex, {
    lines,
    frames: frames + 2,
    maxCycles: 16_000 * frameMs * (frames + 4),
    marks: true,
  });
  const result: FrameCycles[] = [];
  let byPart: Record<Part, number> | undefined;
  for (const [i, [cycle, value]] of run.marks.entries()) {
    const next = run.marks[i + 1];
    const before = run.marks[i - 1]?.[1];
    if (value === parts.clip && (before === parts.send || before === undefined)) {
      if (byPart && before === parts.send) {
        const total = Object.entries(byPart).reduce(
          (sum, [part, cycles]) => (part === 'wait' ? sum : sum + cycles),
          0,
        );
        result.push({ frame: result.length, total, byPart });
      }
      byPart = { clip: 0, prepare: 0, table: 0, effect: 0, limiter: 0, wait: 0, send: 0 };
    }
    const name = nameOf.get(value);
    if (byPart && next && name) byPart[name] += next[0] - cycle;
  }
  return result.slice(0, frames);
}

export const playerManifest = (): {
  programs: {
    file: string;
    mcu: string;
    showDataAt: number;
    programBytes: number;
    staticSramBytes: number;
  }[];
} => JSON.parse(readFileSync('firmware-templates/prebuilt/manifest.json', 'utf8'));
