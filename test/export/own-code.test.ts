// The builder's own code beside the show: it runs, interrupts reach it between frames, and a pause in it leaves frames out but spoils none.
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ownCodeName, sketchNameOf } from '../../src/board/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { compileSketch, mustCompile } from '../board/sketch-compiler.ts';
import { compareFrames } from '../support/board-frames.ts';
import { temporaryFolder } from '../support/command-line.ts';
import { examine, exportedTexts, loadPlayer, templates } from '../support/lamploom.ts';
import { loadProject } from '../support/projects.ts';

const project = loadProject(60, 3);
const { showData, frameMs } = examine(project, templates);

/** Runs the exported sketch with this loop of the builder's, C++ statements. */
async function runWith(loop: string, frames: number) {
  const folder = temporaryFolder();
  for (const [path, text] of exportedTexts(project)) {
    const own = `#pragma once\n#include <Arduino.h>\nstatic inline void ownSetup() {}\nstatic inline void ownLoop() {\n${loop}\n}\n`;
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), path.endsWith(ownCodeName) ? own : text);
  }
  const compiled = mustCompile(await compileSketch(join(folder, 'sketch', sketchNameOf(project))));
  const run = runInAvr8js(compiled.hexText, {
    lines: [{ pin: 6 }],
    frames: frames + 1,
    maxCycles: 16e6 * 4,
    marks: true,
  });
  const player = await loadPlayer();
  player.setShowData(showData!);
  return {
    run,
    result: compareFrames(
      run.lines.map((line) => line.frames),
      player,
      project.attractMode,
      frameMs,
    ),
  };
}

describe('[OWN1] own code', () => {
  test.each([20, 60, 95])(
    'a pause of %i ms leaves frames out, and every frame that goes out is right',
    { timeout: 60_000 },
    async (pauseMs) => {
      const { result } = await runWith(
        `static uint8_t n; if (++n == 10 || n == 40) delayMicroseconds(10000), delay(${pauseMs - 10});`,
        80,
      );
      expect(result).toMatchObject({ bytesDiffering: 0, framesCompared: 80, blackFirst: true });
      expect(result.framesSkipped).toBeGreaterThanOrEqual(2 * Math.floor(pauseMs / frameMs) - 2);
      expect(result.framesSkipped).toBeLessThanOrEqual(2 * Math.ceil(pauseMs / frameMs) + 4);
    },
  );

  test('interrupts run between frames: the Arduino clock goes on', { timeout: 60_000 }, async () => {
    const { run, result } = await runWith('GPIOR0 = (uint8_t)(millis() / 4);', 60);
    expect(result).toMatchObject({ bytesDiffering: 0, framesSkipped: 0 });
    const values = run.marks.map(([, value]) => value);
    expect(values.length).toBeGreaterThan(50);
    // It loses what passes while frames go out, 1.8 ms of each, but no more than about half.
    expect(values.at(-1)! - values[0]!).toBeGreaterThan((60 * frameMs) / 4 / 2);
  });
});
