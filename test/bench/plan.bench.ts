// How long planning takes: chains by their number of runs, the way of one jumper round keep-outs, and an automatic layout.
import { test } from 'vitest';
import { autoLayout, type ChainTask, distanceMm, jumperLengthMm, planChain } from '../../src/panel/index.ts';
import type { KeepOut } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

function milliseconds(times: number, work: () => void): number {
  const taken = Array.from({ length: times }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return median(taken);
}

/** Numbers from 0 up to 1, the same in every run. */
function series(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Runs of 30 to 230 mm scattered over a panel, two in three level. */
function scattered(count: number, turn: 'all' | 'none' | 'some'): ChainTask {
  const next = series(count);
  const runs = Array.from({ length: count }, () => {
    const [xMm, yMm, lengthMm, isLevel] = [600 * next(), 450 * next(), 30 + 200 * next(), next() < 2 / 3];
    const doutEnd = isLevel ? { xMm: xMm + lengthMm, yMm } : { xMm, yMm: yMm + lengthMm };
    return { dinEnd: { xMm, yMm }, doutEnd, mayTurn: turn === 'all' || (turn === 'some' && next() < 0.5) };
  });
  return { runs, start: { xMm: 0, yMm: 450 }, lengthMm: distanceMm };
}

test('planned chains', () => {
  console.log('\nplanned chains    runs  may turn       wire mm    bound mm     gap');
  for (const count of [8, 16, 24, 40, 80, 255])
    for (const turn of ['all', 'some', 'none'] as const) {
      const task = scattered(count, turn);
      const plan = planChain(task);
      const took = milliseconds(3, () => planChain(task));
      const gap = (100 * (1 - plan.boundMm / plan.lengthMm)).toFixed(1);
      console.log(
        `${String(count).padStart(22)}  ${turn.padEnd(8)} ${plan.lengthMm.toFixed(1).padStart(13)} ${plan.boundMm.toFixed(1).padStart(11)} ${gap.padStart(6)} %  ${took.toFixed(0)} ms${plan.proved ? ', proved' : ''}`,
      );
    }
});

test('jumpers round keep-outs, and a layout', () => {
  const next = series(9);
  const keepOuts = Array.from({ length: 30 }, (_, i): KeepOut => {
    const centre = { xMm: 600 * next(), yMm: 400 * next() };
    return { id: `k-${i}`, purpose: 'screw', shape: { kind: 'circle', centre, diameterMm: 6 + 30 * next() } };
  });
  const project = projectOf({ runs: [] });
  const panel = { ...project.panel, widthMm: 600, heightMm: 400, backing: { thicknessMm: 9 }, keepOuts };
  const places = Array.from({ length: 80 }, () => ({ xMm: 600 * next(), yMm: 400 * next() }));
  const all = milliseconds(3, () => {
    // A fresh list each time, so that nothing is remembered.
    const fresh = { ...panel, keepOuts: [...keepOuts] };
    for (const a of places) for (const b of places) jumperLengthMm(fresh, a, b);
  });
  console.log(`\n6,400 jumpers between 80 places, round 30 circles: ${all.toFixed(0)} ms`);
  const rows = milliseconds(3, () =>
    autoLayout({ ...project, panel, dataLines: [] }, { pattern: 'rows', strip: 'ws2812b-60' }),
  );
  console.log(`Rows over 600 x 400 mm round 30 circles: ${rows.toFixed(1)} ms`);
});
