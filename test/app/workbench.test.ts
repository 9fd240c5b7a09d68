// The workbench: what follows from an edit, at once and a moment later; and that the quick way of following it gives what the slow way gives.
import { describe, expect, test } from 'vitest';
import { compileProject, examine, recompileProject } from '../../src/board/index.ts';
import { reverseRun, splitRun } from '../../src/panel/index.ts';
import {
  changeBuiltRun,
  changeClip,
  changeKeepOut,
  deleteLampshow,
  deleteRun,
  type Edit,
  edited,
  lengthenRun,
  moveRun,
  setAirGap,
  setBacking,
  setBoard,
  setGradientStops,
  setJumper,
  setLampshowLength,
  setLimit,
  startHistory,
  swapBuiltRuns,
  turnRun,
  undone,
} from '../../src/project/index.ts';
import { sample, templates } from '../support/lamploom.ts';
import { benchFor } from './bench.ts';

const carnival = sample('midnight-carnival');
const clipPlace = { show: 'attract', row: 0, clip: 1 } as const;

const edits: readonly (readonly [string, Edit])[] = [
  ['a clip moved', changeClip(clipPlace, { startMs: 2500 })],
  ['a run moved', moveRun('tent-3', 470, 190)],
  ['a run turned', turnRun('tent-3', 170)],
  ['a run reversed', reverseRun('wheel-4')],
  ['a run split', splitRun('sky-1', 7)],
  ['a run lengthened', lengthenRun('tower-1', 13)],
  ['a gradient recoloured', setGradientStops(carnival.gradients[0]!.id, [{ at: 0, colour: '#123456' }])],
  ['another air gap', setAirGap(33)],
  ['the limit taken off', setLimit(undefined)],
  ['another board', setBoard('atmega328p')],
  ['a strip laid the other way round', changeBuiltRun('wheel-4', { laidReversed: true })],
  ['two runs exchanged', swapBuiltRuns('tent-2', 'tent-4')],
  ['a run left out', changeBuiltRun('tower-1', { skipped: true })],
  ['a jumper measured', setJumper(0, 6, { lengthMm: 44 })],
  ['a backing', setBacking({ thicknessMm: 12, bitMm: 6 })],
  [
    'a keep-out in the way of a jumper',
    changeKeepOut('speaker', { shape: { kind: 'circle', centre: { xMm: 250, yMm: 180 }, diameterMm: 44 } }),
  ],
  [
    'no game event any more',
    (project) => {
      project.gameEvents = [];
    },
  ],
  ['a show shortened', setLampshowLength('attract', 20_000)],
  ['a show deleted', deleteLampshow('tilt')],
  ['a run deleted', deleteRun('tent-1')],
];

describe('following an edit', () => {
  test('step by step over many edits, forwards and back, the quick way gives what compiling anew gives', () => {
    let history = startHistory(carnival);
    let compiled = compileProject(carnival, templates);
    const follow = () => {
      compiled = recompileProject(compiled, history.project, templates);
      expect(compiled).toEqual(compileProject(structuredClone(history.project), templates));
    };
    for (const [label, edit] of edits) {
      history = edited(history, label, edit);
      follow();
    }
    expect(history.past).toHaveLength(edits.length);
    for (const _ of edits) {
      history = undone(history);
      follow();
    }
    expect(history.project).toEqual(carnival);
  });

  test('moving a clip leaves the layout as it was, and moving a run leaves the other runs as they were', () => {
    const before = compileProject(carnival, templates);
    const clipMoved = edited(startHistory(carnival), 'Move clip', changeClip(clipPlace, { startMs: 2500 }));
    expect(recompileProject(before, clipMoved.project, templates).layout).toBe(before.layout);
    const runMoved = edited(startHistory(carnival), 'Move run', moveRun('tent-3', 470, 190));
    const after = recompileProject(before, runMoved.project, templates).layout;
    const changed = after.runs.filter((placed, index) => placed !== before.layout.runs[index]);
    expect(changed.map(({ run }) => run.id)).toEqual(['tent-3']);
  });

  test('a drag moves places alone; all else follows when it ends, and is then what compiling anew gives', async () => {
    const { workbench } = await benchFor(carnival);
    const { settled, figures } = workbench.state;
    workbench.beginDrag();
    for (let step = 1; step <= 5; step++)
      workbench.edit('Move run', moveRun('tent-3', 470 + step, 190), 'drag');
    workbench.edit('Lengthen', lengthenRun('tower-1', 9), 'drag');
    expect(workbench.state.settled).toBe(settled);
    expect(workbench.state.figures).toBe(figures);
    // The bytes still belong to the layout that the glass draws.
    expect(workbench.wireBytes('attract', 10)).toHaveLength(284 * 3);
    workbench.endDrag();
    expect(workbench.state.compiled).toBe(workbench.state.settled);
    expect(workbench.state.settled).toEqual(compileProject(structuredClone(workbench.project), templates));
    expect(workbench.wireBytes('attract', 10)).toHaveLength((284 - 3) * 3);
  });

  test('while the hand rests in a drag, figures follow too', async () => {
    const { workbench, clock } = await benchFor(carnival);
    workbench.beginDrag();
    workbench.edit('Move run', moveRun('tent-3', 470, 190), 'drag');
    clock.pass(100);
    workbench.edit('Move run', moveRun('tent-3', 471, 190), 'drag');
    clock.pass(100);
    expect(workbench.state.figures.compiled.project).toBe(carnival);
    clock.pass(100);
    expect(workbench.state.figures.compiled.project).toBe(workbench.project);
    workbench.endDrag();
  });

  test('the player plays the edited show with the very next frame', async () => {
    const { workbench } = await benchFor(carnival);
    const before = Uint8Array.from(workbench.wireBytes('attract', 100));
    workbench.edit('Dark', (project) => {
      for (const row of project.lampshows[0]!.rows) row.clips = [];
    });
    expect([...workbench.wireBytes('attract', 100)].every((byte) => byte === 0)).toBe(true);
    workbench.undo();
    expect(Uint8Array.from(workbench.wireBytes('attract', 100))).toEqual(before);
  });

  test('figures follow a moment later and are then what the command line computes', async () => {
    const { workbench, clock } = await benchFor(carnival);
    const before = workbench.state.figures;
    workbench.edit('Delete run', deleteRun('ground'));
    expect(workbench.state.figures).toBe(before);
    clock.pass(100);
    const { figures } = workbench.state;
    expect(figures.findings).toEqual(examine(workbench.project, templates).findings);
    expect(figures.power.leds).toHaveLength(284 - 33);
  });

  test('a selection ends with what it names, also by undo', async () => {
    const { workbench } = await benchFor(carnival);
    workbench.edit('Split run', splitRun('sky-1', 7));
    workbench.select({ kind: 'run', id: 'sky-1-b' });
    expect(workbench.state.selection).toEqual({ kind: 'run', id: 'sky-1-b' });
    workbench.undo();
    expect(workbench.state.selection).toEqual({ kind: 'none' });
  });

  test('the show that plays gives way to the first when it is deleted', async () => {
    const { workbench } = await benchFor(carnival);
    workbench.playback.choose('tilt');
    workbench.edit('Delete show', deleteLampshow('tilt'));
    expect(workbench.playback.current().show).toBe('attract');
  });

  test('another frame time keeps the moment of the show', async () => {
    const { workbench } = await benchFor(carnival);
    const before = workbench.state.compiled.frameMs;
    workbench.playback.scrubTo(120);
    workbench.edit('Delete shows but one row', (project) => {
      for (const show of project.lampshows) show.rows = show.rows.slice(0, 1);
    });
    const after = workbench.state.compiled.frameMs;
    expect(after).toBeLessThan(before);
    expect(workbench.playback.current().frame).toBe(Math.floor((120 * before) / after));
  });

  test('a gesture that is called off leaves neither a step back nor one forward', async () => {
    const { workbench } = await benchFor(carnival);
    workbench.edit('Move run', moveRun('tent-3', 470, 190), 'drag 1');
    workbench.edit('Move run', moveRun('tent-3', 460, 195), 'drag 1');
    workbench.cancelGesture('drag 1');
    expect(workbench.project).toEqual(carnival);
    expect(workbench.state.history).toMatchObject({ past: [], future: [] });
    workbench.cancelGesture('drag 1');
    expect(workbench.project).toEqual(carnival);
  });
});
