// Memory: the largest panel that the budget lets through still leaves 100 bytes of stack untouched, in the ready-to-flash program and in a
// sketch; the figures of the report are those of the real program.
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { hasErrors, sketchNameOf } from '../../src/board/index.ts';
import type { Project } from '../../src/project/index.ts';
import { type BoardRun, runInAvr8js } from '../board/board-avr8js.ts';
import { hexByteCount } from '../board/intel-hex.ts';
import { compileSketch, mustCompile } from '../board/sketch-compiler.ts';
import { temporaryFolder } from '../support/command-line.ts';
import { examine, exportedText, exportedTexts, templates } from '../support/lamploom.ts';
import { loadProject } from '../support/projects.ts';

const fed = (ledCount: number, rows: number): Project => {
  const project = loadProject(ledCount, rows);
  const feeds = project.runs.map((run) => ({ run: run.id, led: 0, wire: 'AWG 18', lengthMm: 300 }));
  const lampshows = project.lampshows.map((show) => ({
    ...show,
    rows: show.rows.map((row) => ({
      ...row,
      clips: row.clips.map((clip) => ({ ...clip, fadeInMs: 900, fadeOutMs: 900 })),
    })),
  }));
  return {
    ...project,
    lampshows,
    panel: { ...project.panel, heightMm: 1000 },
    power: { ...project.power, feeds },
  };
};
const fits = (ledCount: number): boolean => !hasErrors(examine(fed(ledCount, 4), templates).findings);

function largest(): number {
  let ledCount = 400;
  while (fits(ledCount + 1)) ledCount++;
  return ledCount;
}

const run = (hexText: string): BoardRun =>
  runInAvr8js(hexText, { lines: [{ pin: 6 }], frames: 8, maxCycles: 16e6 * 2 });

describe('[MEM1] the largest panel that fits', () => {
  const ledCount = largest();
  const project = fed(ledCount, 4);

  test('has at least the 480 LEDs that the board is meant for', () => {
    expect(ledCount).toBeGreaterThanOrEqual(480);
    expect(examine(fed(ledCount + 1, 4), templates).findings.map((finding) => finding.code)).toContain(
      'sram-too-small',
    );
  });

  test('leaves 100 bytes of stack untouched, flashed or compiled', { timeout: 60_000 }, async () => {
    expect(run(exportedText(project, '.hex')).untouchedStackBytes).toBeGreaterThanOrEqual(100);
    const folder = temporaryFolder();
    for (const [path, text] of exportedTexts(project)) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text);
    }
    const compiled = mustCompile(await compileSketch(join(folder, 'sketch', sketchNameOf(project))));
    expect(run(compiled.hexText).untouchedStackBytes).toBeGreaterThanOrEqual(100);
  });
});

test.each([
  ['without inputs', {}],
  ['with a game event', { gameEvents: [{ id: 'go', lampshow: 'attract', pin: 4 }] }],
])(
  '[MEM3] the largest show data %s that fits makes a sketch that fits too',
  { timeout: 60_000 },
  async (_, more) => {
    const base = { ...fed(60, 4), ...more };
    const [clip] = base.lampshows[0]!.rows[0]!.clips;
    const withClips = (count: number): Project => ({
      ...base,
      lampshows: [0, 1, 2].map((show) => ({
        id: show === 0 ? 'attract' : `more-${show}`,
        lengthMs: 20_000,
        rows: [
          {
            id: 'row',
            // One after the other, so that speed is no matter here.
            clips: Array.from({ length: Math.min(500, Math.max(0, count - 500 * show)) }, (_, i) => ({
              ...clip!,
              startMs: 20 * i,
              lengthMs: 20,
            })),
          },
        ],
      })),
    });
    const fitsFlash = (count: number) =>
      examine(withClips(count), templates).findings.every((finding) => finding.code !== 'flash-too-small');
    let count = 0;
    for (let step = 512; step >= 1; step /= 2)
      if (count + step <= 1000 && fitsFlash(count + step)) count += step;
    expect(fitsFlash(count + 1)).toBe(false);
    const folder = temporaryFolder();
    for (const [path, text] of exportedTexts(withClips(count))) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text);
    }
    const { flashBytes } = mustCompile(await compileSketch(join(folder, 'sketch', sketchNameOf(base))));
    // 30,720 bytes are usable with either start-up program (boards.txt of the Arduino core).
    expect(flashBytes).toBeLessThanOrEqual(30_720);
    // One of the two programs is what sets the limit: no more than a clip, a page and the reserve for the sketch are left.
    const { flash } = examine(withClips(count), templates).budget!;
    expect(Math.min(flash.freeBytes, 30_720 - flashBytes)).toBeLessThan(700);
  },
);

test('[MEM2] the report’s flash is where the program and its show data end, its SRAM what the frame buffer leaves', () => {
  const project = fed(300, 4);
  const { budget, showData, program } = examine(project, templates);
  const hex = exportedText(project, '.hex');
  const used = hex.split('\n').filter((line) => line.slice(7, 9) === '00');
  const last = used.at(-1)!;
  expect(budget!.flash.usedBytes).toBe(
    Number.parseInt(last.slice(3, 7), 16) + Number.parseInt(last.slice(1, 3), 16),
  );
  expect(hexByteCount(hex)).toBe(program.programBytes + showData!.bytes.length);
  expect(budget!.flash.usedBytes + budget!.flash.freeBytes).toBe(30_720);
  expect(budget!.sram.usedBytes).toBe(program.quietSramBytes + 900);
  expect(budget!.sram.usedBytes + budget!.sram.freeBytes).toBe(2048);
});
