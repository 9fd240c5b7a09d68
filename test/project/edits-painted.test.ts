// Painted frames that an edit brings in: whatever they are, the project can be read afterwards. And the edits that paint.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as painting from '../../src/project/edits-painted.ts';
import {
  addClip,
  type Clip,
  changeClip,
  checkProject,
  type Edit,
  edited,
  type PaintedEffect,
  type PaintedFrame,
  type Project,
  setEffect,
  startHistory,
} from '../../src/project/index.ts';
import { type EditCase, testCases } from '../support/edit-laws.ts';
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

// ---- painting ----

/** Three frames of 3 x 2 cells in three colours. */
const picture: PaintedEffect = {
  kind: 'painted',
  columns: 3,
  rows: 2,
  palette: ['#000000', '#ff0000', '#00ff00'],
  frames: [
    { holdMs: 100, fadeMs: 60, cells: '012210' },
    { holdMs: 200, cells: '111000' },
    { holdMs: 300, cells: '222222' },
  ],
};
const clipOf = (effect: PaintedEffect): Project =>
  projectOf({
    runs: rowsOfStrip(30),
    lampshows: [{ id: 'attract', lengthMs: 1000, rows: [{ id: 'row', clips: [{ ...clip, effect }] }] }],
  });
const on = clipOf(picture);
const at = '/lampshows/0/rows/0/clips/0/effect';
const [first, second, third] = picture.frames as [PaintedFrame, PaintedFrame, PaintedFrame];
const full = clipOf({
  ...picture,
  frames: Array.from({ length: 250 }, () => first) as PaintedEffect['frames'],
});
const manyColours = Array.from(
  { length: 16 },
  (_, i) => `#0000${i.toString(16)}0`,
) as PaintedEffect['palette'];
const nothing = () => ({});

const cases: EditCase[] = [
  {
    name: 'setCells',
    fact: 'gives frames other cells',
    on,
    edit: painting.setCells(place, [
      { frame: 0, cells: '000000' },
      { frame: 2, cells: '000001' },
    ]),
    leaves: () => ({ [`${at}/frames/0/cells`]: '000000', [`${at}/frames/2/cells`]: '000001' }),
  },
  ...['00000', '0000000', '000003', '00000g', '00000A'].map(
    (cells): EditCase => ({
      name: 'setCells',
      fact: `leaves a frame where ${cells} fits neither grid nor palette`,
      on,
      edit: painting.setCells(place, [{ frame: 1, cells }]),
      leaves: nothing,
    }),
  ),
  {
    name: 'addFrames',
    fact: 'puts frames in before another, their fades within their holds',
    on,
    edit: painting.addFrames(place, 1, [{ holdMs: 50, fadeMs: 90, cells: '000000' }, third]),
    leaves: () => ({
      [`${at}/frames`]: [first, { holdMs: 50, fadeMs: 50, cells: '000000' }, third, second, third],
    }),
  },
  {
    name: 'addFrames',
    fact: 'adds behind the last one',
    on,
    edit: painting.addFrames(place, 3, [{ holdMs: 5, cells: '000000' }]),
    leaves: () => ({ [`${at}/frames`]: [first, second, third, { holdMs: 20, cells: '000000' }] }),
  },
  {
    name: 'addFrames',
    fact: 'adds nothing beyond 250 frames',
    on: full,
    edit: painting.addFrames(place, 0, [second]),
    leaves: nothing,
  },
  {
    name: 'addFrames',
    fact: 'adds none of several where one does not fit',
    on,
    edit: painting.addFrames(place, 0, [second, { holdMs: 100, cells: '0' }]),
    leaves: nothing,
  },
  {
    name: 'deleteFrames',
    fact: 'deletes frames',
    on,
    edit: painting.deleteFrames(place, [0, 2]),
    leaves: () => ({ [`${at}/frames`]: [second] }),
  },
  {
    name: 'deleteFrames',
    fact: 'leaves all where none would stay',
    on,
    edit: painting.deleteFrames(place, [0, 1, 2]),
    leaves: nothing,
  },
  {
    name: 'moveFrames',
    fact: 'moves one frame',
    on,
    edit: painting.moveFrames(place, [0], 2),
    leaves: () => ({ [`${at}/frames`]: [second, third, first] }),
  },
  {
    name: 'moveFrames',
    fact: 'moves several together, no farther than the end',
    on,
    edit: painting.moveFrames(place, [1, 0], 5),
    leaves: () => ({ [`${at}/frames`]: [third, first, second] }),
  },
  {
    name: 'changeFrameTimes',
    fact: 'sets the hold of several, and shortens a fade that is longer',
    on,
    edit: painting.changeFrameTimes(place, [0, 1], { holdMs: 40 }),
    leaves: () => ({
      [`${at}/frames/0`]: { holdMs: 40, fadeMs: 40, cells: first.cells },
      [`${at}/frames/1/holdMs`]: 40,
    }),
  },
  {
    name: 'changeFrameTimes',
    fact: 'sets a fade within the hold, and leaves one of 0 out',
    on,
    edit: (draft) => {
      painting.changeFrameTimes(place, [2], { fadeMs: 900 })(draft);
      painting.changeFrameTimes(place, [0], { fadeMs: 0 })(draft);
    },
    leaves: () => ({ [`${at}/frames/2/fadeMs`]: 300, [`${at}/frames/0/fadeMs`]: undefined }),
  },
  {
    name: 'addPaletteColour',
    fact: 'adds a colour behind the others',
    on,
    edit: painting.addPaletteColour(place, '#123456'),
    leaves: () => ({ [`${at}/palette`]: [...picture.palette, '#123456'] }),
  },
  {
    name: 'addPaletteColour',
    fact: 'adds no 17th colour',
    on: clipOf({ ...picture, palette: manyColours }),
    edit: painting.addPaletteColour(place, '#123456'),
    leaves: nothing,
  },
  {
    name: 'changePaletteColour',
    fact: 'changes a colour',
    on,
    edit: painting.changePaletteColour(place, 1, '#00ffff'),
    leaves: () => ({ [`${at}/palette/1`]: '#00ffff' }),
  },
  {
    name: 'changePaletteColour',
    fact: 'takes nothing that is no colour',
    on,
    edit: painting.changePaletteColour(place, 1, 'red'),
    leaves: nothing,
  },
  {
    name: 'deletePaletteColour',
    fact: 'gives its cells another colour, and those behind it their new number',
    on,
    edit: painting.deletePaletteColour(place, 1, 2),
    leaves: () => ({
      [`${at}/palette`]: ['#000000', '#00ff00'],
      [`${at}/frames/0/cells`]: '011110',
      [`${at}/frames/1/cells`]: '111000',
      [`${at}/frames/2/cells`]: '111111',
    }),
  },
  {
    name: 'deletePaletteColour',
    fact: 'leaves a colour that is to take its own place',
    on,
    edit: painting.deletePaletteColour(place, 1, 1),
    leaves: nothing,
  },
  {
    name: 'movePaletteColour',
    fact: 'puts a colour elsewhere and leaves the pictures as they look',
    on,
    edit: painting.movePaletteColour(place, 0, 2),
    leaves: () => ({
      [`${at}/palette`]: ['#ff0000', '#00ff00', '#000000'],
      [`${at}/frames/0/cells`]: '201102',
      [`${at}/frames/1/cells`]: '000222',
      [`${at}/frames/2/cells`]: '111111',
    }),
  },
  {
    name: 'setPaintedGrid',
    fact: 'puts every frame on the other grid, each cell in the colour that its middle lies on',
    on,
    edit: painting.setPaintedGrid(place, 6, 1),
    leaves: () => ({
      [`${at}/columns`]: 6,
      [`${at}/rows`]: 1,
      // The middle of one row of cells lies on the border of the two: it belongs to the lower one.
      [`${at}/frames/0/cells`]: '221100',
      [`${at}/frames/1/cells`]: '000000',
      [`${at}/frames/2/cells`]: '222222',
    }),
  },
  {
    name: 'setPaintedGrid',
    fact: 'keeps to 64 cells a side, and to what was where the number is none',
    on,
    edit: painting.setPaintedGrid(place, Number.NaN, 1000),
    leaves: () => ({
      [`${at}/rows`]: 64,
      [`${at}/frames/0/cells`]: '012'.repeat(32) + '210'.repeat(32),
      [`${at}/frames/1/cells`]: '111'.repeat(32) + '000'.repeat(32),
      [`${at}/frames/2/cells`]: '222'.repeat(64),
    }),
  },
];

describe('[PAINT8] edits of painted frames', () => {
  testCases(cases, painting);

  test('an edit of a clip that is not painted is a fault of ours', () => {
    const glow = edited(
      startHistory(on),
      'glow',
      setEffect(place, { kind: 'glow', gradientPlace: 0, gradientSpan: 1 }),
    );
    expect(() => edited(glow, 'cells', painting.setCells(place, []))).toThrow('no painted frames');
  });

  test('a stroke of many moves is one step, which takes back one frame’s cells alone', () => {
    let history = startHistory(on);
    for (const cells of ['100000', '110000', '111000'])
      history = edited(history, 'Paint cells', painting.setCells(place, [{ frame: 2, cells }]), 'stroke 1');
    expect(history.past).toHaveLength(1);
    expect(history.past[0]!.undo.map(({ path }) => path.join('/'))).toEqual([
      `${at.slice(1)}/frames/2/cells`,
    ]);
  });
});
