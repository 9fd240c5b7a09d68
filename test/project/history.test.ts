// History by laws: steps, gestures, and any series of edits undone to the same bytes. Each edit by itself is tested in edits-*.test.ts.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addClip,
  addFeed,
  addRun,
  changeClip,
  deleteClip,
  deleteRun,
  type Edit,
  edited,
  endGesture,
  type History,
  lengthenRun,
  moveInChain,
  moveRun,
  type Project,
  redone,
  removeFeed,
  renameProject,
  setLimit,
  setPin,
  setSpareLeds,
  startHistory,
  turnRun,
  undone,
  writeProject,
} from '../../src/project/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const clip = {
  startMs: 0,
  fadeInMs: 100,
  lengthMs: 500,
  area: 'everything',
  gradient: 'ember',
  blend: 'add',
  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
} as const;
const start = (): Project =>
  projectOf({
    runs: rowsOfStrip(120).map((run, i) => (i === 1 ? { ...run, spareLeds: [3, 29] } : run)),
    areas: [
      { id: 'everything', members: [{ kind: 'all' }], order: { kind: 'across' } },
      {
        id: 'part',
        members: [
          { kind: 'leds', run: 'row-1', from: 2, to: 28 },
          { kind: 'runs', runs: ['row-1', 'row-2'] },
        ],
        order: { kind: 'up' },
      },
      { id: 'lonely', members: [{ kind: 'leds', run: 'row-1', from: 0, to: 1 }], order: { kind: 'up' } },
    ],
    lampshows: [
      { id: 'attract', lengthMs: 2000, rows: [{ id: 'a', clips: [clip, { ...clip, startMs: 600 }] }] },
    ],
    power: {
      supply: { volts: 5, amps: 10 },
      limitAmps: 8,
      feeds: [{ run: 'row-1', led: 29, wire: 'AWG 18', lengthMm: 300 }],
    },
  });

const row = { show: 'attract', row: 0 };
/** Some of every kind: plain values, optional ones that come and go, parts that go with others. */
const edits: readonly (readonly [name: string, edit: Edit])[] = [
  ['renameProject', renameProject('Other')],
  ['moveRun', moveRun('row-2', 33, 44)],
  ['turnRun', turnRun('row-0', 90)],
  ['lengthenRun', lengthenRun('row-1', 10)],
  ['addRun', addRun({ ...rowsOfStrip(5)[0]!, id: 'new' }, 0)],
  ['deleteRun', deleteRun('row-1')],
  ['moveInChain', moveInChain(0, 0, 2)],
  ['setPin', setPin(0, 9)],
  ['setSpareLeds', setSpareLeds('row-1', [])],
  ['addFeed', addFeed({ run: 'row-0', led: 0, wire: 'AWG 20', lengthMm: 200 })],
  ['removeFeed', removeFeed(0)],
  ['setLimit', setLimit(3)],
  ['take the limit off', setLimit(undefined)],
  ['addClip', addClip(row, { ...clip, startMs: 1500 })],
  ['deleteClip', deleteClip({ ...row, clip: 0 })],
  ['changeClip', changeClip({ ...row, clip: 1 }, { startMs: 700, blend: 'over' })],
  ['take the fade off', changeClip({ ...row, clip: 0 }, { fadeInMs: undefined, lengthMs: 400 })],
];

describe('[EDIT2] history', () => {
  test('an edit that changes nothing leaves no step', () => {
    const history = startHistory(start());
    expect(edited(history, 'same', renameProject(start().name))).toBe(history);
  });

  test('undo with nothing to undo and redo with nothing to redo give the same history', () => {
    const history = startHistory(start());
    expect(undone(history)).toBe(history);
    expect(redone(history)).toBe(history);
  });

  test('a new edit forgets what was undone', () => {
    const once = undone(edited(startHistory(start()), 'a', renameProject('A')));
    expect(edited(once, 'b', renameProject('B')).future).toEqual([]);
  });

  test('parts that an edit does not touch keep their identity', () => {
    const before = startHistory(start());
    const after = edited(before, 'move', moveRun('row-2', 1, 2));
    expect(after.project.lampshows).toBe(before.project.lampshows);
    expect(after.project.runs[0]).toBe(before.project.runs[0]);
  });
});

describe('[EDIT3] gestures', () => {
  const drag = (history: History, steps: number) =>
    Array.from({ length: steps }, (_, i) => i).reduce(
      (h, i) => edited(h, 'Move run', moveRun('row-2', 30 + i, 40 + i), 'drag'),
      history,
    );

  test('a drag of 500 moves is one small step, undone at once', () => {
    const before = startHistory(start());
    const after = drag(before, 500);
    expect(after.past).toHaveLength(1);
    expect(after.past[0]!.redo.length).toBeLessThanOrEqual(2);
    expect(after.project.runs[2]!.firstLed).toEqual({ xMm: 529, yMm: 539 });
    expect(writeProject(undone(after).project)).toBe(writeProject(before.project));
    expect(writeProject(redone(undone(after)).project)).toBe(writeProject(after.project));
  });

  test('two drags with an end between them are two steps', () => {
    expect(drag(endGesture(drag(startHistory(start()), 3)), 4).past).toHaveLength(2);
  });

  test('a drag back to where it began leaves no step', () => {
    const before = startHistory(start());
    const { xMm, yMm } = before.project.runs[2]!.firstLed;
    const back = edited(drag(before, 10), 'Move run', moveRun('row-2', xMm, yMm), 'drag');
    expect(back.past).toEqual([]);
    expect(writeProject(back.project)).toBe(writeProject(before.project));
  });

  test('any series of edits and gestures is undone to the same bytes', () => {
    const choice = fc.record({
      edit: fc.nat(edits.length - 1),
      gesture: fc.constantFrom(undefined, 'g1', 'g2'),
    });
    fc.assert(
      fc.property(fc.array(choice, { maxLength: 12 }), (choices) => {
        const before = startHistory(start());
        let history = before;
        for (const { edit, gesture } of choices) {
          const [name, recipe] = edits[edit]!;
          try {
            history = edited(history, name, recipe, gesture);
          } catch (error) {
            // An edit of something that an earlier edit deleted, or made already, is refused.
            expect(String(error)).toMatch(/no (run|clip|row|feed)|is taken/);
          }
        }
        const after = writeProject(history.project);
        let back = history;
        while (back.past.length > 0) back = undone(back);
        expect(writeProject(back.project)).toBe(writeProject(before.project));
        while (back.future.length > 0) back = redone(back);
        expect(writeProject(back.project)).toBe(after);
      }),
      { seed: 4711, numRuns: 150 },
    );
  });
});
