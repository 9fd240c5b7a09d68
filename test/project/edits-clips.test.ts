// Edits of several clips at once. Expected documents are written by hand from what each edit says it does, over a show of
// two rows with round times.
import { describe, expect, test } from 'vitest';
import {
  addedSpots,
  copiedClips,
  movedSpots,
  repeatsWithin,
  rowsForCopies,
  splitSpots,
} from '../../src/project/clip-spots.ts';
import * as edits from '../../src/project/edits-clips.ts';
import { type Clip, edited, limits, type Project, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const clip = (startMs: number, lengthMs: number, more: Partial<Clip> = {}): Clip => ({
  startMs,
  lengthMs,
  area: 'everything',
  gradient: 'ember',
  blend: 'over',
  effect: { kind: 'band', passSeconds: 2, width: 0.3, bands: 1, travel: 'forward', softness: 1 },
  ...more,
});

/** Row a: 0 to 1 s, 2 to 4 s with fades and brightness over time. Row b: 3 to 5 s. The show lasts 20 s. */
const a0 = clip(0, 1000, { id: 'first' });
const a1 = clip(2000, 2000, {
  fadeInMs: 300,
  fadeOutMs: 500,
  envelope: [
    { atMs: 0, percent: 0 },
    { atMs: 2000, percent: 100 },
  ],
});
const b0 = clip(3000, 2000, { gradient: 'sea', blend: 'add' });
const project: Project = projectOf({
  runs: rowsOfStrip(30),
  lampshows: [
    {
      id: 'attract',
      lengthMs: 20_000,
      rows: [
        { id: 'a', clips: [a0, a1] },
        { id: 'b', clips: [b0] },
      ],
    },
    { id: 'other', lengthMs: 5000, rows: [] },
  ],
});
const rows = project.lampshows[0]!.rows;
const at = (row: number, index: number) => `/lampshows/0/rows/${row}/clips/${index}`;
const clipsOfRow = (row: number) => `/lampshows/0/rows/${row}/clips`;
const spotA1 = { row: 0, clip: 1 };
const spotB0 = { row: 1, clip: 0 };
const all = [{ row: 0, clip: 0 }, spotA1, spotB0];

const overlapping: Project = {
  ...project,
  lampshows: [
    {
      id: 'attract',
      lengthMs: 20_000,
      // The later one stands first in the list.
      rows: [{ id: 'a', clips: [clip(2500, 2000), clip(1000, 2000), clip(8000, 100)] }],
    },
  ],
};

const cases: readonly EditCase[] = [
  {
    name: 'changeClips',
    fact: 'sets the same in all of them',
    on: project,
    edit: edits.changeClips('attract', [spotA1, spotB0], { gradient: 'sea', levelPercent: 40 }),
    leaves: () => ({
      [`${at(0, 1)}/gradient`]: 'sea',
      [`${at(0, 1)}/levelPercent`]: 40,
      [`${at(1, 0)}/levelPercent`]: 40,
    }),
  },
  {
    name: 'deleteClips',
    fact: 'takes them all away, whatever the order they are named in',
    on: project,
    edit: edits.deleteClips('attract', [spotA1, spotB0, { row: 0, clip: 0 }]),
    leaves: () => ({ [clipsOfRow(0)]: [], [clipsOfRow(1)]: [] }),
  },
  {
    name: 'moveClips',
    fact: 'moves all by the same time, in whole milliseconds',
    on: project,
    edit: edits.moveClips('attract', [spotA1, spotB0], 250.4, 0),
    leaves: () => ({ [`${at(0, 1)}/startMs`]: 2250, [`${at(1, 0)}/startMs`]: 3250 }),
  },
  {
    name: 'moveClips',
    fact: 'stops where the first would begin before the show, and keeps distances',
    on: project,
    edit: edits.moveClips('attract', [spotA1, spotB0], -9000, 0),
    leaves: () => ({ [`${at(0, 1)}/startMs`]: 0, [`${at(1, 0)}/startMs`]: 1000 }),
  },
  {
    name: 'moveClips',
    fact: 'moves to the row below, behind what is there',
    on: project,
    edit: edits.moveClips('attract', [spotA1], 100, 1),
    leaves: () => ({ [clipsOfRow(0)]: [a0], [clipsOfRow(1)]: [b0, { ...a1, startMs: 2100 }] }),
  },
  {
    name: 'moveClips',
    fact: 'moves to no row where one would leave the show',
    on: project,
    edit: edits.moveClips('attract', all, 0, 1),
    leaves: () => ({}),
  },
  {
    name: 'splitClips',
    fact: 'cuts one in two: fades stay at the outer ends, brightness goes on',
    on: project,
    edit: edits.splitClips('attract', [spotA1], 2500),
    leaves: () => {
      const { fadeInMs, fadeOutMs, envelope: _, ...like } = a1;
      // A quarter of the way from 0 to 100 %.
      return {
        [clipsOfRow(0)]: [
          a0,
          {
            ...like,
            lengthMs: 500,
            fadeInMs,
            envelope: [
              { atMs: 0, percent: 0 },
              { atMs: 500, percent: 25 },
            ],
          },
          {
            ...like,
            startMs: 2500,
            lengthMs: 1500,
            fadeOutMs,
            envelope: [
              { atMs: 0, percent: 25 },
              { atMs: 1500, percent: 100 },
            ],
          },
        ],
      };
    },
  },
  {
    name: 'splitClips',
    fact: 'leaves those that do not play at the moment',
    on: project,
    edit: edits.splitClips('attract', [{ row: 0, clip: 0 }, spotB0], 4000),
    leaves: () => ({
      [clipsOfRow(1)]: [
        { ...b0, lengthMs: 1000 },
        { ...b0, startMs: 4000, lengthMs: 1000 },
      ],
    }),
  },
  {
    name: 'splitClips',
    fact: 'shortens a fade that is longer than what is left of the clip',
    on: project,
    edit: edits.splitClips('attract', [spotA1], 3800),
    leaves: () => {
      const { fadeInMs, fadeOutMs: _, ...like } = a1;
      const { fadeInMs: __, ...after } = a1;
      return {
        [clipsOfRow(0)]: [
          a0,
          {
            ...like,
            fadeInMs,
            lengthMs: 1800,
            envelope: [
              { atMs: 0, percent: 0 },
              { atMs: 1800, percent: 90 },
            ],
          },
          {
            ...after,
            startMs: 3800,
            lengthMs: 200,
            fadeOutMs: 200,
            envelope: [
              { atMs: 0, percent: 90 },
              { atMs: 200, percent: 100 },
            ],
          },
        ],
      };
    },
  },
  {
    name: 'trimClips',
    fact: 'brings the start to the moment; the end, fades and brightness stay',
    on: project,
    edit: edits.trimClips('attract', [spotA1, { row: 0, clip: 0 }], 'start', 3000),
    leaves: () => ({
      [`${at(0, 1)}/startMs`]: 3000,
      [`${at(0, 1)}/lengthMs`]: 1000,
      [`${at(0, 1)}/envelope`]: [
        { atMs: 0, percent: 50 },
        { atMs: 1000, percent: 100 },
      ],
    }),
  },
  {
    name: 'trimClips',
    fact: 'brings the end to the moment',
    on: project,
    edit: edits.trimClips('attract', [spotB0], 'end', 3400.4),
    leaves: () => ({ [`${at(1, 0)}/lengthMs`]: 400 }),
  },
  {
    name: 'stretchClips',
    fact: 'makes times, fades, brightness and the effect twice as long from the first start on',
    on: project,
    edit: edits.stretchClips('attract', [spotA1, spotB0], 2, 'start'),
    leaves: () => ({
      [`${at(0, 1)}/lengthMs`]: 4000,
      [`${at(0, 1)}/fadeInMs`]: 600,
      [`${at(0, 1)}/fadeOutMs`]: 1000,
      [`${at(0, 1)}/envelope/1/atMs`]: 4000,
      [`${at(0, 1)}/effect/passSeconds`]: 4,
      // A second behind the first before, two now.
      [`${at(1, 0)}/startMs`]: 4000,
      [`${at(1, 0)}/lengthMs`]: 4000,
      [`${at(1, 0)}/effect/passSeconds`]: 4,
    }),
  },
  {
    name: 'stretchClips',
    fact: 'keeps the end where it says so',
    on: project,
    edit: edits.stretchClips('attract', [spotB0], 0.5, 'end'),
    leaves: () => ({
      [`${at(1, 0)}/startMs`]: 4000,
      [`${at(1, 0)}/lengthMs`]: 1000,
      [`${at(1, 0)}/effect/passSeconds`]: 1,
    }),
  },
  {
    name: 'pasteClips',
    fact: 'adds copies from the row and the moment on, into another show too, and makes the rows that are missing',
    on: project,
    edit: edits.pasteClips('other', 0, 700, copiedClips(rows, [spotA1, spotB0])),
    leaves: () => ({
      '/lampshows/1/rows': [
        { id: 'row-1', clips: [{ ...a1, startMs: 700 }] },
        { id: 'row-2', clips: [{ ...b0, startMs: 1700 }] },
      ],
    }),
  },
  {
    name: 'pasteClips',
    fact: 'leaves out what the project can’t play any more',
    on: project,
    edit: edits.pasteClips('attract', 1, 9000, [
      { rowsDown: 0, afterMs: 0, clip: { ...b0, area: 'gone' } },
      { rowsDown: 0, afterMs: 50, clip: b0 },
    ]),
    leaves: () => ({ [`${at(1, 1)}`]: { ...b0, startMs: 9050 } }),
  },
  {
    name: 'repeatClips',
    fact: 'lets a group follow itself, without ids',
    on: project,
    edit: edits.repeatClips('attract', [{ row: 0, clip: 0 }, spotB0], 2),
    leaves: () => {
      const { id: _, ...first } = a0;
      // The group reaches from 0 to 5 s.
      return {
        [at(0, 2)]: { ...first, startMs: 5000 },
        [at(1, 1)]: { ...b0, startMs: 8000 },
        [at(0, 3)]: { ...first, startMs: 10_000 },
        [at(1, 2)]: { ...b0, startMs: 13_000 },
      };
    },
  },
  {
    name: 'repeatClips',
    fact: 'stops at the show’s end',
    on: { ...project, lampshows: [{ ...project.lampshows[0]!, lengthMs: 6000 }, project.lampshows[1]!] },
    edit: edits.repeatClips('attract', [spotB0], 50),
    leaves: () => ({ [at(1, 1)]: { ...b0, startMs: 5000 } }),
  },
  {
    name: 'crossfadeClips',
    fact: 'fades those that overlap for as long as both play',
    on: overlapping,
    edit: edits.crossfadeClips('attract', [
      { row: 0, clip: 0 },
      { row: 0, clip: 1 },
      { row: 0, clip: 2 },
    ]),
    leaves: () => ({ [`${at(0, 1)}/fadeOutMs`]: 500, [`${at(0, 0)}/fadeInMs`]: 500 }),
  },
];

describe('[EDIT1] edits of several clips', () => {
  testCases(cases, edits);

  test('what the document does not hold is refused', () => {
    const run = (edit: (typeof cases)[number]['edit']) => edited(startHistory(project), 'edit', edit);
    expect(() => run(edits.deleteClips('attract', [{ row: 0, clip: 5 }]))).toThrow('no clip 5');
    expect(() => run(edits.moveClips('nowhere', [spotA1], 1, 0))).toThrow('no lampshow "nowhere"');
  });

  test('every effect is stretched in its own times, and back again to what it was', () => {
    const frames = [
      { holdMs: 100, fadeMs: 50, cells: '01' },
      { holdMs: 300, cells: '10' },
    ] as const;
    const effects: readonly [Clip['effect'], object][] = [
      [
        { kind: 'glow', breathSeconds: 3, depth: 0.5, gradientPlace: 0, gradientSpan: 1 },
        { breathSeconds: 6 },
      ],
      [
        {
          kind: 'lightning',
          strikesPerMinute: 8,
          glowSeconds: 0.4,
          gradientPlace: 0,
          gradientSpan: 1,
          seed: 1,
        },
        { strikesPerMinute: 4, glowSeconds: 0.8 },
      ],
      [
        {
          kind: 'bursts',
          flashes: 2,
          flashesPerSecond: 2,
          pauseSeconds: 2,
          litShare: 0.4,
          softness: 0,
          gradientPlace: 0,
          gradientSpan: 1,
        },
        { flashesPerSecond: 1, pauseSeconds: 4 },
      ],
      [{ kind: 'cloud', patchMm: 100, driftMmPerSecond: 40, driftDeg: 0, seed: 1 }, { driftMmPerSecond: 20 }],
      [
        { kind: 'painted', columns: 2, rows: 1, palette: ['#000000', '#ffffff'], frames: [...frames] },
        {
          frames: [
            { ...frames[0], holdMs: 200, fadeMs: 100 },
            { ...frames[1], holdMs: 600 },
          ],
        },
      ],
    ];
    for (const [effect, expected] of effects) {
      const before: Project = {
        ...project,
        lampshows: [
          { id: 'attract', lengthMs: 20_000, rows: [{ id: 'a', clips: [clip(0, 1000, { effect })] }] },
        ],
      };
      const slow = holdsLaws(
        before,
        effect.kind,
        edits.stretchClips('attract', [{ row: 0, clip: 0 }], 2, 'start'),
      );
      expect(slow.lampshows[0]!.rows[0]!.clips[0]!.effect).toEqual({ ...effect, ...expected });
      const back = holdsLaws(
        slow,
        effect.kind,
        edits.stretchClips('attract', [{ row: 0, clip: 0 }], 0.5, 'start'),
      );
      expect(back).toEqual(before);
    }
  });

  test('a factor that is none changes nothing, and one that is too large stops at the bounds', () => {
    for (const factor of [0, -2, Number.NaN, Infinity])
      expect(holdsLaws(project, 'stretch', edits.stretchClips('attract', all, factor, 'start'))).toEqual(
        project,
      );
    const huge = holdsLaws(project, 'stretch', edits.stretchClips('attract', all, 1e6, 'start'));
    expect(huge.lampshows[0]!.rows[0]!.clips[0]!.lengthMs).toBe(limits.showMs);
  });
});

describe('where clips stand after an edit', () => {
  const clipAt = (after: Project, { row, clip: index }: { row: number; clip: number }) =>
    after.lampshows[0]!.rows[row]!.clips[index];

  test('moved to another row, they are found behind those that stayed', () => {
    const two = edited(startHistory(project), 'a third row', (draft) => {
      draft.lampshows[0]!.rows.push({ id: 'c', clips: [] });
    }).project;
    const before = two.lampshows[0]!.rows;
    const moved = edited(startHistory(two), 'move', edits.moveClips('attract', all, 0, 1)).project;
    const spots = movedSpots(before, all, 1);
    expect(spots).toEqual([
      { row: 1, clip: 0 },
      { row: 1, clip: 1 },
      { row: 2, clip: 0 },
    ]);
    expect(spots.map((spot) => clipAt(moved, spot))).toEqual([a0, a1, b0]);
  });

  test('cut, both parts are found, also behind another that was cut', () => {
    const spots = splitSpots(all, ({ clip: index, row }) => row === 0 && index >= 0);
    expect(spots).toEqual([
      { row: 0, clip: 0 },
      { row: 0, clip: 1 },
      { row: 0, clip: 2 },
      { row: 0, clip: 3 },
      { row: 1, clip: 0 },
    ]);
  });

  test('pasted, they are found where they were added', () => {
    const copied = copiedClips(rows, [spotA1, spotB0]);
    const after = edited(startHistory(project), 'paste', edits.pasteClips('attract', 0, 100, copied)).project;
    const spots = addedSpots(rows, rowsForCopies(copied, 0));
    expect(spots.map((spot) => clipAt(after, spot))).toEqual([
      { ...a1, startMs: 100 },
      { ...b0, startMs: 1100 },
    ]);
  });

  test('as many repeats as begin before the show’s end', () => {
    const [show] = project.lampshows as [Project['lampshows'][number]];
    // 3 to 5 s in 20 s: copies begin at 5, 7, ... 19 s.
    expect(repeatsWithin(project, show, [b0], 100)).toBe(8);
    expect(repeatsWithin(project, show, [b0], 3)).toBe(3);
    expect(repeatsWithin(project, show, [], 3)).toBe(0);
  });
});
