// Edits of a show's beats and markers. Expected documents are written by hand from what each edit says it does.
import { describe, expect, test } from 'vitest';
import * as beats from '../../src/project/edits-beats.ts';
import { edited, limits, type Project, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const project: Project = projectOf({
  runs: rowsOfStrip(30),
  lampshows: [
    {
      id: 'attract',
      lengthMs: 20_000,
      beatsMs: [500, 1000],
      markers: [{ atMs: 700, name: 'Bell' }, { atMs: 100 }],
      rows: [],
    },
    { id: 'other', lengthMs: 5000, rows: [] },
  ],
});

const beatCases: readonly EditCase[] = [
  {
    name: 'setBeats',
    fact: 'sorts them and keeps each once, in whole milliseconds',
    on: project,
    edit: beats.setBeats('attract', [900.4, 100, 900, Number.NaN, -5]),
    leaves: () => ({ '/lampshows/0/beatsMs': [0, 100, 900] }),
  },
  {
    name: 'setBeats',
    fact: 'takes the list away with the last one',
    on: project,
    edit: beats.setBeats('attract', []),
    leaves: () => ({ '/lampshows/0/beatsMs': undefined }),
  },
  {
    name: 'addBeat',
    fact: 'puts one between the others',
    on: project,
    edit: beats.addBeat('attract', 750),
    leaves: () => ({ '/lampshows/0/beatsMs': [500, 750, 1000] }),
  },
  {
    name: 'addMarker',
    fact: 'adds it behind the others',
    on: project,
    edit: beats.addMarker('attract', { atMs: 5 }),
    leaves: () => ({ '/lampshows/0/markers/2': { atMs: 5 } }),
  },
  {
    name: 'addMarker',
    fact: 'begins the list in a show that had none',
    on: project,
    edit: beats.addMarker('other', { atMs: 5.4, name: 'Start' }),
    leaves: () => ({ '/lampshows/1/markers': [{ atMs: 5, name: 'Start' }] }),
  },
  {
    name: 'changeMarker',
    fact: 'moves it and leaves its name',
    on: project,
    edit: beats.changeMarker('attract', 0, { atMs: -3 }),
    leaves: () => ({ '/lampshows/0/markers/0/atMs': 0 }),
  },
  {
    name: 'changeMarker',
    fact: 'takes an empty name away',
    on: project,
    edit: beats.changeMarker('attract', 0, { name: '' }),
    leaves: () => ({ '/lampshows/0/markers/0/name': undefined }),
  },
  {
    name: 'deleteMarker',
    fact: 'takes one of several away',
    on: project,
    edit: beats.deleteMarker('attract', 0),
    leaves: () => ({ '/lampshows/0/markers': [{ atMs: 100 }] }),
  },
];

describe('[EDIT1] edits of beats and markers', () => {
  testCases(beatCases, beats);

  test('beats and markers stop at their limits', () => {
    const many = Array.from({ length: limits.beatsPerShow + 5 }, (_, i) => i);
    const full = holdsLaws(project, 'beats', beats.setBeats('attract', many));
    expect(full.lampshows[0]!.beatsMs).toHaveLength(limits.beatsPerShow);
    const markers = Array.from({ length: limits.markersPerShow }, (_, atMs) => ({ atMs }));
    const [show, other] = project.lampshows as [Project['lampshows'][number], Project['lampshows'][number]];
    const marked = { ...project, lampshows: [{ ...show, markers }, other] };
    expect(holdsLaws(marked as Project, 'one more', beats.addMarker('attract', { atMs: 1 }))).toEqual(marked);
  });

  test('a marker that isn’t there is refused', () => {
    expect(() => edited(startHistory(project), 'edit', beats.deleteMarker('attract', 7))).toThrow(
      'no marker 7',
    );
  });
});
