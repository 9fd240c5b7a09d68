// Painted frames that an edit brings in: whatever they are, the project can be read afterwards.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addClip,
  type Clip,
  changeClip,
  checkProject,
  type Edit,
  edited,
  type PaintedEffect,
  type Project,
  setEffect,
  startHistory,
} from '../../src/project/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const painted = (parts: Partial<PaintedEffect> = {}): PaintedEffect => ({
  kind: 'painted',
  columns: 2,
  rows: 1,
  palette: ['#000000', '#ffffff'],
  frames: [{ holdMs: 100, fadeMs: 60, cells: '01' }],
  ...parts,
});
const clip: Clip = {
  startMs: 0,
  lengthMs: 1000,
  area: 'everything',
  gradient: 'sea',
  blend: 'over',
  effect: painted(),
};
const project = projectOf({
  runs: rowsOfStrip(30),
  lampshows: [{ id: 'attract', lengthMs: 1000, rows: [{ id: 'row', clips: [clip] }] }],
});
const row = { show: 'attract', row: 0 };
const place = { ...row, clip: 0 };

const clipsAfter = (edit: Edit): Clip[] => {
  const after = edited(startHistory(project), 'edit', edit).project;
  expect(checkProject(after).ok).toBe(true);
  return (after as Project).lampshows[0]!.rows[0]!.clips;
};
const edits: readonly [string, (effect: PaintedEffect) => Edit][] = [
  ['setEffect', (effect) => setEffect(place, effect)],
  ['changeClip', (effect) => changeClip(place, { effect })],
  ['addClip', (effect) => addClip(row, { ...clip, effect })],
];

describe.each(edits)('%s', (_, edit) => {
  test('cuts a fade to its hold', () => {
    const frames: PaintedEffect['frames'] = [
      { holdMs: 50, fadeMs: 60, cells: '10' },
      { holdMs: 70, cells: '01' },
    ];
    expect(clipsAfter(edit(painted({ frames }))).at(-1)!.effect).toEqual(
      painted({ frames: [{ holdMs: 50, fadeMs: 50, cells: '10' }, frames[1]!] }),
    );
  });

  test('leaves what was where cells fit neither the grid nor the palette', () => {
    for (const effect of [painted({ columns: 3 }), painted({ palette: ['#000000'] })])
      expect(clipsAfter(edit(effect))).toEqual([clip]);
  });

  test('takes in what is right as it is', () => {
    const effect = painted({ frames: [{ holdMs: 70, fadeMs: 70, cells: '11' }] });
    expect(clipsAfter(edit(effect)).at(-1)!.effect).toEqual(effect);
  });

  test('leaves a project that can be read, whatever the numbers', () => {
    const number = fc.oneof(fc.double(), fc.integer({ min: -100, max: 70_000 }));
    fc.assert(
      fc.property(number, number, number, number, (columns, rows, holdMs, fadeMs) => {
        clipsAfter(edit(painted({ columns, rows, frames: [{ holdMs, fadeMs, cells: '01' }] })));
      }),
    );
  });
});

test('a change of a clip beside a broken effect is made all the same', () => {
  expect(clipsAfter(changeClip(place, { effect: painted({ rows: 2 }), blend: 'add' }))).toEqual([
    { ...clip, blend: 'add' },
  ]);
});
