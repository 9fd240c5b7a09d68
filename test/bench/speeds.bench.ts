// The figures that matter: frames a second on the emulated board, WebAssembly against native, and the network's solution.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'vitest';
import { compileShowData, predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { benchNetwork } from '../power/bench-network.ts';
import { loadPlayer, root } from '../support/lamploom.ts';
import { profile } from '../support/profile-board.ts';
import { loadProject } from '../support/projects.ts';

const clockHz = 16_000_000;
/** 30 us an LED and 300 us of latch: what the wire alone takes. */
const wireFramesPerSecond = (leds: number): number => 1e6 / (30 * leds + 300);
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

function slowestEffectOnly(project: Project): Project {
  const [show] = project.lampshows;
  const cloud = show!.rows[3]!.clips;
  return { ...project, lampshows: [{ ...show!, rows: show!.rows.map((row) => ({ ...row, clips: cloud })) }] };
}

test('frames a second on the emulated ATmega328P, 16 MHz', async () => {
  const loads: [string, number, Project][] = [
    ['300 LEDs, 4 rows', 300, loadProject(300, 4)],
    ['300 LEDs, 6 rows', 300, loadProject(300, 6)],
    ['300 LEDs, slowest effect (cloud) on 6 rows', 300, slowestEffectOnly(loadProject(300, 6))],
    ['480 LEDs, 4 rows', 480, loadProject(480, 4)],
  ];
  console.log(
    '\nEvery row lights every LED, limiter on and active; frames/s from the slowest frame, the wait left out',
  );
  for (const [name, leds, project] of loads) {
    const slowest = Math.max(...(await profile(project, 40, 60)).map((frame) => frame.total));
    const predicted = predictSpeed(project, layOut(project)).slowestFrameCycles.get('attract')!;
    const wire = wireFramesPerSecond(leds);
    const fps = clockHz / slowest;
    console.log(
      `  ${name.padEnd(44)} ${fps.toFixed(1).padStart(5)} frames/s = ${((100 * fps) / wire).toFixed(0)} % of the wire's ${wire.toFixed(1)}; predicted ${(clockHz / predicted).toFixed(1)}`,
    );
  }
});

test('WebAssembly against native', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'lamploom-bench-'));
  try {
    const leds = 300;
    const rows = 4;
    const frames = 500;
    const rounds = 15;
    const project = loadProject(leds, rows);
    const data = compileShowData(project, layOut(project), { frameMs: 25 })!;
    const program = join(folder, 'player_time');
    execFileSync('g++', [
      '-std=c++11',
      '-O3',
      `-I${root}/firmware-templates/player`,
      `${root}/test/bench/player_time.cpp`,
      '-o',
      program,
    ]);
    writeFileSync(join(folder, 'show.bin'), data.bytes);
    const perLedRow = (ns: number) => ns / frames / leds / rows;
    const native = execFileSync(program, [join(folder, 'show.bin'), String(frames), String(rounds)], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    const nativeNs = median(native.trim().split('\n').map(Number).map(perLedRow));
    const player = await loadPlayer();
    player.setShowData(data);
    player.renderMany('attract', frames);
    const wasmNs = median(
      Array.from({ length: rounds }, () => {
        const begun = performance.now();
        player.renderMany('attract', frames);
        return perLedRow((performance.now() - begun) * 1e6);
      }),
    );
    console.log(
      `\nOne LED and row: WebAssembly ${wasmNs.toFixed(2)} ns, native (g++ -O3) ${nativeNs.toFixed(2)} ns, ratio ${(wasmNs / nativeNs).toFixed(2)} (medians of ${rounds})`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('solution of the two-rail network', () => {
  console.log(`\nNetwork solution, medians:\n${JSON.stringify(benchNetwork([300, 2000]), null, 2)}`);
});
