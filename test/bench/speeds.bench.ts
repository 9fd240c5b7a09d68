// The figures that matter: frames a second on the emulated board, WebAssembly against native, and the network's solution.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'vitest';
import { compileShowData, predictSpeed } from '../../src/lampshow/index.ts';
import { evennessMap } from '../../src/light/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Blend, Effect, Project } from '../../src/project/index.ts';
import { benchNetwork } from '../power/bench-network.ts';
import { loadPlayer, root } from '../support/lamploom.ts';
import { profile } from '../support/profile-board.ts';
import { loadProject } from '../support/projects.ts';

const clockHz = 16_000_000;
/** 30 us an LED and 300 us of latch: what the wire alone takes. */
const wireFramesPerSecond = (leds: number): number => 1e6 / (30 * leds + 300);
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** The load's rows, all of one kind: `effect` with `blend` on every row. */
function onlyEffect(project: Project, effect: Effect, blend: Blend): Project {
  const [show] = project.lampshows;
  const rows = show!.rows.map((row) => ({
    ...row,
    clips: row.clips.map((clip) => ({ ...clip, effect, blend })),
  }));
  return { ...project, lampshows: [{ ...show!, rows }] };
}

/** Half of the rows on a line of its own, on another pin of the same port. */
function onTwoLines(project: Project): Project {
  const chain = project.dataLines[0]!.chain;
  const half = chain.length / 2;
  return {
    ...project,
    dataLines: [
      { pin: 6, chain: chain.slice(0, half) },
      { pin: 5, chain: chain.slice(half) },
    ],
  };
}

const centre = { xMm: 300, yMm: 130 };
const wayOf = { gradientPlace: 0, gradientSpan: 1 };
const palette = ['#102030', '#ff8040', '#40ff80', '#8040ff', '#ffff00', '#00ffff', '#ff00ff', '#ffffff'];
/** Every effect so that it lights every LED, as its dearest moment does. */
const everyEffect: readonly Effect[] = [
  { kind: 'glow', breathSeconds: 3, depth: 1, ...wayOf },
  { kind: 'band', passSeconds: 3, width: 1, bands: 1, travel: 'forward', softness: 1 },
  { kind: 'chase', every: 2, stepSeconds: 0.2, travel: 'forward', softness: 1 },
  { kind: 'spokes', centre, spokes: 5, turnSeconds: 3, width: 1, softness: 1 },
  { kind: 'rings', centre, spacingMm: 120, ringSeconds: 2, width: 1 },
  { kind: 'stream', passSeconds: 3, repeats: 2, travel: 'forward' },
  { kind: 'column', fillSeconds: 0.2, travel: 'fills', softness: 0.5 },
  { kind: 'bursts', flashes: 2, flashesPerSecond: 3, pauseSeconds: 0, litShare: 0.9, softness: 0, ...wayOf },
  { kind: 'lightning', strikesPerMinute: 30, glowSeconds: 5, ...wayOf, seed: 1 },
  { kind: 'stars', lifeSeconds: 1.5, density: 1, seed: 7 },
  { kind: 'glints', lifeSeconds: 1.5, density: 1, seed: 7 },
  { kind: 'cloud', patchMm: 120, driftMmPerSecond: 40, driftDeg: 20, seed: 3 },
  { kind: 'fire', patchMm: 120, riseMmPerSecond: 120, height: 1, seed: 3 },
  {
    kind: 'painted',
    columns: 4,
    rows: 2,
    palette,
    frames: ['01234567', '76543210'].map((cells) => ({ holdMs: 200, fadeMs: 200, cells })),
  },
  { kind: 'letters', text: 'NIGHT FAIR', passSeconds: 2 },
];

async function fpsOf(project: Project): Promise<{ fps: number; predicted: number }> {
  const slowest = Math.max(...(await profile(project, 40, 80)).map((frame) => frame.total));
  const predicted = predictSpeed(project, layOut(project)).slowestFrameCycles.get('attract')!;
  return { fps: clockHz / slowest, predicted: clockHz / predicted };
}

test('frames a second on the emulated ATmega328P, 16 MHz', async () => {
  const loads: [string, number, number, Project][] = [
    ['300 LEDs, 4 rows', 300, 68, loadProject(300, 4)],
    ['300 LEDs, 6 rows', 300, 58, loadProject(300, 6)],
    ['480 LEDs, 4 rows', 480, 42, loadProject(480, 4)],
    ['300 LEDs, 4 rows, two lines at once', 150, 95, onTwoLines(loadProject(300, 4))],
    ['480 LEDs, 4 rows, two lines at once', 240, 58, onTwoLines(loadProject(480, 4))],
  ];
  console.log(
    '\nEvery row lights every LED, limiter on and active; frames/s from the slowest frame, the wait left out',
  );
  for (const [name, ledsInTurn, goal, project] of loads) {
    const { fps, predicted } = await fpsOf(project);
    const wire = wireFramesPerSecond(ledsInTurn);
    console.log(
      `  ${name.padEnd(40)} ${fps.toFixed(1).padStart(5)} frames/s, goal ${goal}; ${((100 * fps) / wire).toFixed(0)} % of the wire's ${wire.toFixed(1)}; predicted ${predicted.toFixed(1)}`,
    );
  }
});

test('every effect on 6 rows of 300 LEDs, by blend', async () => {
  console.log('\nFrames/s with one effect on all 6 rows; goal 50 for the slowest');
  for (const effect of everyEffect) {
    const figures: string[] = [];
    for (const blend of ['over', 'add', 'brighter-wins', 'tint'] as const)
      figures.push(
        `${blend} ${(await fpsOf(onlyEffect(loadProject(300, 6), effect, blend))).fps.toFixed(1)}`,
      );
    console.log(`  ${effect.kind.padEnd(12)} ${figures.join(', ')}`);
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

test('the light over the whole opening, for evenness', () => {
  console.log('\nEvenness map of 1,000 x 700 mm, no LED left out; goal 300 ms');
  for (const leds of [300, 500]) {
    const project = loadProject(leds, 1);
    const panel = { ...project.panel, widthMm: 1000, heightMm: 700 };
    const layout = layOut(project);
    for (const mmPerPx of [3, 2.5, 2]) {
      const times = Array.from({ length: 9 }, () => {
        const start = performance.now();
        evennessMap({ panel }, layout, { mmPerPx });
        return performance.now() - start;
      });
      console.log(`  ${leds} LEDs, ${mmPerPx} mm a pixel ${median(times).toFixed(0).padStart(5)} ms`);
    }
  }
});
