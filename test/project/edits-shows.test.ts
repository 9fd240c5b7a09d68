// Edits of lampshows, rows, clips and gradients. Expected documents are written by hand from the edit's name and the sample's own lists.
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/project/edits-shows.ts';
import {
  type Clip,
  edited,
  type Lampshow,
  limits,
  type Project,
  startHistory,
} from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const clip: Clip = {
  startMs: 100,
  lengthMs: 900,
  area: 'sea',
  gradient: 'gold',
  blend: 'add',
  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
};
const show: Lampshow = { id: 'bonus', name: 'Bonus', lengthMs: 3000, rows: [{ id: 'a', clips: [clip] }] };
const stars = { kind: 'stars', lifeSeconds: 1, density: 0.5, seed: 9 } as const;
const stops = [
  { at: 0, colour: '#000000' },
  { at: 1, colour: '#ffffff' },
];
const spareGradient = { id: 'spare', name: 'Spare', stops };
const withSpareGradient: Project = {
  ...sample('first-light'),
  gradients: [spareGradient, ...sample('first-light').gradients],
};

const cases: readonly EditCase[] = [
  {
    name: 'addLampshow',
    fact: 'adds it behind the others',
    on: 'first-light',
    edit: edits.addLampshow(show),
    leaves: () => ({ '/lampshows/7': show }),
  },
  {
    name: 'deleteLampshow',
    fact: 'takes the game events that start it along',
    on: 'first-light',
    edit: edits.deleteLampshow('jackpot'),
    leaves: (before) => ({
      '/lampshows': [0, 1, 3, 4, 5, 6].map((i) => before.lampshows[i]),
      '/gameEvents': [0, 2, 3, 4, 5].map((i) => before.gameEvents![i]),
    }),
  },
  {
    name: 'deleteLampshow',
    fact: 'passes the attract mode to the first that is left',
    on: 'first-light',
    edit: edits.deleteLampshow('attract'),
    leaves: (before) => ({ '/lampshows': before.lampshows.slice(1), '/attractMode': 'game-start' }),
  },
  {
    name: 'deleteLampshow',
    fact: 'leaves the last one',
    on: projectOf({ runs: rowsOfStrip(30) }),
    edit: edits.deleteLampshow('attract'),
    leaves: () => ({}),
  },
  {
    name: 'renameLampshow',
    fact: 'sets the name and leaves the id',
    on: 'first-light',
    edit: edits.renameLampshow('jackpot', 'Super jackpot'),
    leaves: () => ({ '/lampshows/2/name': 'Super jackpot' }),
  },
  {
    name: 'setLampshowLength',
    fact: 'sets whole milliseconds and leaves the clips',
    on: 'first-light',
    edit: edits.setLampshowLength('jackpot', 3000.4),
    leaves: () => ({ '/lampshows/2/lengthMs': 3000 }),
  },
  {
    name: 'setLampshowLength',
    fact: 'stops at the shortest show there may be',
    on: 'first-light',
    edit: edits.setLampshowLength('jackpot', -5),
    leaves: () => ({ '/lampshows/2/lengthMs': 20 }),
  },
  {
    name: 'setAttractMode',
    fact: 'names another show',
    on: 'first-light',
    edit: edits.setAttractMode('jackpot'),
    leaves: () => ({ '/attractMode': 'jackpot' }),
  },
  {
    name: 'addRow',
    fact: 'adds it behind the others',
    on: 'first-light',
    edit: edits.addRow('ball-lost', { id: 'new', clips: [clip] }),
    leaves: () => ({ '/lampshows/3/rows/3': { id: 'new', clips: [clip] } }),
  },
  {
    name: 'addRow',
    fact: 'adds it before the one at its place',
    on: 'first-light',
    edit: edits.addRow('ball-lost', { id: 'new', clips: [] }, 1),
    leaves: ({ lampshows }) => ({
      '/lampshows/3/rows': [lampshows[3]?.rows[0], { id: 'new', clips: [] }, ...lampshows[3]!.rows.slice(1)],
    }),
  },
  {
    name: 'deleteRow',
    fact: 'takes it away with its clips',
    on: 'first-light',
    edit: edits.deleteRow('jackpot', 1),
    leaves: ({ lampshows }) => ({ '/lampshows/2/rows': [0, 2, 3, 4].map((i) => lampshows[2]?.rows[i]) }),
  },
  {
    name: 'moveRow',
    fact: 'moves it to another place',
    on: 'first-light',
    edit: edits.moveRow('jackpot', 3, 1),
    leaves: ({ lampshows }) => ({ '/lampshows/2/rows': [0, 3, 1, 2, 4].map((i) => lampshows[2]?.rows[i]) }),
  },
  {
    name: 'renameRow',
    fact: 'sets the name and leaves the id',
    on: 'first-light',
    edit: edits.renameRow('attract', 2, 'Starlight'),
    leaves: () => ({ '/lampshows/0/rows/2/name': 'Starlight' }),
  },
  {
    name: 'renameRow',
    fact: 'takes an empty name away',
    on: 'first-light',
    edit: edits.renameRow('attract', 2, ''),
    leaves: () => ({ '/lampshows/0/rows/2/name': undefined }),
  },
  {
    name: 'muteRow',
    fact: 'mutes it',
    on: 'first-light',
    edit: edits.muteRow('attract', 2, true),
    leaves: () => ({ '/lampshows/0/rows/2/muted': true }),
  },
  {
    name: 'addClip',
    fact: 'adds it behind the others of the row, in whole milliseconds',
    on: 'first-light',
    edit: edits.addClip({ show: 'jackpot', row: 3 }, { ...clip, startMs: -40, lengthMs: 899.6 }),
    leaves: () => ({ '/lampshows/2/rows/3/clips/3': { ...clip, startMs: 0, lengthMs: 900 } }),
  },
  {
    name: 'deleteClip',
    fact: 'takes one of several away',
    on: 'first-light',
    edit: edits.deleteClip({ show: 'jackpot', row: 3, clip: 0 }),
    leaves: ({ lampshows }) => ({ '/lampshows/2/rows/3/clips': lampshows[2]?.rows[3]?.clips.slice(1) }),
  },
  {
    name: 'changeClip',
    fact: 'changes what it names',
    on: 'first-light',
    edit: edits.changeClip(
      { show: 'jackpot', row: 1, clip: 0 },
      { area: 'sky', blend: 'tint', levelPercent: 40 },
    ),
    leaves: () => ({
      '/lampshows/2/rows/1/clips/0/area': 'sky',
      '/lampshows/2/rows/1/clips/0/blend': 'tint',
      '/lampshows/2/rows/1/clips/0/levelPercent': 40,
    }),
  },
  {
    name: 'changeClip',
    fact: 'takes optional properties away that are given as undefined',
    on: 'first-light',
    edit: edits.changeClip(
      { show: 'jackpot', row: 1, clip: 0 },
      { fadeInMs: undefined, levelPercent: undefined, fadeOutMs: 70_000 },
    ),
    leaves: () => ({
      '/lampshows/2/rows/1/clips/0/fadeInMs': undefined,
      '/lampshows/2/rows/1/clips/0/levelPercent': undefined,
      '/lampshows/2/rows/1/clips/0/fadeOutMs': 60_000,
    }),
  },
  {
    name: 'moveClip',
    fact: 'moves it in time within its row',
    on: 'first-light',
    edit: edits.moveClip({ show: 'jackpot', row: 3, clip: 0 }, 3, 250.5),
    leaves: () => ({ '/lampshows/2/rows/3/clips/0/startMs': 251 }),
  },
  {
    name: 'moveClip',
    fact: 'moves it to another row',
    on: 'first-light',
    edit: edits.moveClip({ show: 'jackpot', row: 3, clip: 0 }, 0, -3),
    leaves: ({ lampshows }) => ({
      '/lampshows/2/rows/3/clips': lampshows[2]?.rows[3]?.clips.slice(1),
      '/lampshows/2/rows/0/clips/1': { ...lampshows[2]?.rows[3]?.clips[0], startMs: 0 },
    }),
  },
  {
    name: 'setEffect',
    fact: 'replaces the effect with all it had',
    on: 'first-light',
    edit: edits.setEffect({ show: 'jackpot', row: 1, clip: 0 }, stars),
    leaves: () => ({ '/lampshows/2/rows/1/clips/0/effect': stars }),
  },
  {
    name: 'addGradient',
    fact: 'adds it behind the others',
    on: 'first-light',
    edit: edits.addGradient(spareGradient),
    leaves: () => ({ '/gradients/15': spareGradient }),
  },
  {
    name: 'deleteGradient',
    fact: 'takes one away that no clip plays through',
    on: withSpareGradient,
    edit: edits.deleteGradient('spare'),
    leaves: () => ({ '/gradients': sample('first-light').gradients }),
  },
  {
    name: 'deleteGradient',
    fact: 'leaves one that a clip plays through',
    on: 'first-light',
    edit: edits.deleteGradient('ebb'),
    leaves: () => ({}),
  },
  {
    name: 'setGradientStops',
    fact: 'sets the stops and leaves the name',
    on: 'first-light',
    edit: edits.setGradientStops('sea', stops),
    leaves: () => ({ '/gradients/1/stops': stops }),
  },
  {
    name: 'setGradientStops',
    fact: 'leaves the old stops rather than none',
    on: 'first-light',
    edit: edits.setGradientStops('sea', []),
    leaves: () => ({}),
  },
  {
    name: 'setGradientStops',
    fact: 'leaves the old stops rather than too many',
    on: 'first-light',
    edit: edits.setGradientStops(
      'sea',
      Array.from({ length: limits.stopsPerGradient + 1 }, () => ({ at: 0, colour: '#000000' })),
    ),
    leaves: () => ({}),
  },
  {
    name: 'renameGradient',
    fact: 'sets the name and leaves the id',
    on: 'first-light',
    edit: edits.renameGradient('sea', 'Deep water'),
    leaves: () => ({ '/gradients/1/name': 'Deep water' }),
  },
];

describe('[EDIT1] edits of shows', () => {
  testCases(cases, edits);

  test.each([
    ['no lampshow "none"', edits.deleteLampshow('none')],
    ['no lampshow "none"', edits.setAttractMode('none')],
    ['no row 9', edits.deleteRow('attract', 9)],
    ['no clip 1', edits.changeClip({ show: 'jackpot', row: 0, clip: 1 }, { startMs: 1 })],
    ['no row 9', edits.moveClip({ show: 'jackpot', row: 0, clip: 0 }, 9, 0)],
    ['no area "nowhere"', edits.addClip({ show: 'jackpot', row: 0 }, { ...clip, area: 'nowhere' })],
    ['no gradient "none"', edits.changeClip({ show: 'jackpot', row: 0, clip: 0 }, { gradient: 'none' })],
    ['the id "jackpot" is taken', edits.addLampshow({ ...show, id: 'jackpot' })],
    ['the id "night" is taken', edits.addRow('jackpot', { id: 'night', clips: [] })],
    ['the id "sea" is taken', edits.addGradient({ ...spareGradient, id: 'sea' })],
  ])('what the document does not hold is refused: %s', (message, edit) => {
    expect(() => edited(startHistory(sample('first-light')), 'edit', edit)).toThrow(message);
  });
});

describe('[EDIT4] limits of shows', () => {
  const clipsOf = (count: number): Clip[] => Array.from({ length: count }, () => clip);
  const withShows = (lampshows: readonly Lampshow[]): Project => ({
    ...sample('first-light'),
    lampshows: [...lampshows],
    attractMode: 'a',
    gameEvents: [],
  });
  const showOf = (id: string, ...clipCounts: number[]): Lampshow => ({
    id,
    lengthMs: 1000,
    rows: clipCounts.map((count, i) => ({ id: `row-${i}`, clips: clipsOf(count) })),
  });

  test.each([
    [
      'clips of one show',
      [showOf('a', 300, limits.clipsPerShow - 301)],
      edits.addClip({ show: 'a', row: 0 }, clip),
    ],
    [
      'clips of all shows',
      [showOf('a', 500), showOf('b', limits.clips - 501)],
      edits.addClip({ show: 'b', row: 0 }, clip),
    ],
    [
      'rows of a show',
      [showOf('a', ...Array.from({ length: limits.rowsPerShow - 1 }, () => 0))],
      edits.addRow('a', { id: 'new', clips: [] }),
    ],
    [
      'shows',
      ['a', ...Array.from({ length: limits.lampshows - 2 }, (_, i) => `b-${i}`)].map((id) => showOf(id)),
      edits.addLampshow(showOf('new')),
    ],
  ] as const)('the last of the %s is added, one more is left undone', (_, shows, edit) => {
    const most = holdsLaws(withShows(shows), 'once', edit);
    expect(most).not.toEqual(withShows(shows));
    // The same again, with another id where the first took it.
    const again = edited(startHistory(structuredClone(most)), 'again', (draft) => {
      const renamed = draft.lampshows.find((one) => one.id === 'new');
      if (renamed) renamed.id = 'old';
      for (const one of draft.lampshows) for (const row of one.rows) if (row.id === 'new') row.id = 'old';
    }).project;
    expect(holdsLaws(again, 'twice', edit)).toEqual(again);
  });
});
