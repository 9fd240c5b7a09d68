// Edits of the builder's own reels and of engraved channels. Expected documents are written by hand from the edit's name.
import { describe, expect, test } from 'vitest';
import * as channelEdits from '../../src/project/edits-channels.ts';
import * as stripEdits from '../../src/project/edits-strips.ts';
import {
  type Channel,
  type Edit,
  edited,
  limits,
  type OwnStrip,
  type Project,
  startHistory,
} from '../../src/project/index.ts';
import { type EditCase, testCases } from '../support/edit-laws.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const plain = projectOf({ runs: rowsOfStrip(60) });
const applied = (project: Project, edit: Edit): Project =>
  edited(startHistory(project), 'edit', edit).project;

const reel: OwnStrip = {
  id: 'reel',
  label: 'Measured reel',
  supplyVolts: 5,
  floorVolts: 4.5,
  ledsPerMetre: 74,
  boardWidthMm: 10,
  colourOrder: 'GRB',
  channelMilliamps: 11.4,
  quiescentMilliamps: 0.7,
  currentModel: 'sum',
  railOhmPerMetre: 0.12,
};
const white: OwnStrip = { ...reel, id: 'white', colourOrder: 'GRBW' };
const twelve: OwnStrip = { ...reel, id: 'twelve', supplyVolts: 12 };
/** Takes the place of the catalogue's strip with this id. */
const instead: OwnStrip = { ...reel, id: 'ws2812b-144' };

/** A project that names a strip wherever one can be named. */
const cutFrom = (strip: OwnStrip): Project => ({
  ...plain,
  strips: [strip],
  runs: plain.runs.map((run, i) => (i === 0 ? { ...run, strip: strip.id } : run)),
  panel: { ...plain.panel, grid: { origin: { xMm: 0, yMm: 0 }, rowMm: 20, strip: strip.id } },
  asBuilt: { runs: [{ run: plain.runs[0]!.id, strip: strip.id }], swaps: [] },
});

const stripCases: readonly EditCase[] = [
  {
    name: 'addStrip',
    fact: 'begins the list',
    on: plain,
    edit: stripEdits.addStrip(reel),
    leaves: () => ({ '/strips': [reel] }),
  },
  {
    name: 'addStrip',
    fact: 'adds one at the end',
    on: { ...plain, strips: [reel] },
    edit: stripEdits.addStrip(white),
    leaves: () => ({ '/strips': [reel, white] }),
  },
  {
    name: 'changeStrip',
    fact: 'sets what was measured, and takes the label away',
    on: { ...plain, strips: [reel] },
    edit: stripEdits.changeStrip('reel', { railOhmPerMetre: 0.2, label: undefined }),
    leaves: () => ({ '/strips/0/railOhmPerMetre': 0.2, '/strips/0/label': undefined }),
  },
  {
    name: 'changeStrip',
    fact: 'keeps figures within what the document can hold',
    on: { ...plain, strips: [reel] },
    edit: stripEdits.changeStrip('reel', { ledsPerMetre: 9999, cutEveryLeds: 2.4 }),
    // The schema's bounds: at most 400 LEDs a metre; whole LEDs between cut marks.
    leaves: () => ({ '/strips/0/ledsPerMetre': 400, '/strips/0/cutEveryLeds': 2 }),
  },
  {
    name: 'removeStrip',
    fact: 'that nothing was cut from leaves all else',
    on: { ...plain, strips: [reel, white] },
    edit: stripEdits.removeStrip('reel'),
    leaves: () => ({ '/strips': [white] }),
  },
  {
    name: 'removeStrip',
    fact: 'gives the catalogue strip of the same id back',
    on: cutFrom(instead),
    edit: stripEdits.removeStrip('ws2812b-144'),
    leaves: () => ({ '/strips': [] }),
  },
  {
    name: 'removeStrip',
    fact: 'puts the nearest density of the catalogue in its place, everywhere',
    on: cutFrom(reel),
    edit: stripEdits.removeStrip('reel'),
    // Of 30, 60, 96 and 144 a metre, 60 is nearest to 74; the catalogue's first of them is ws2812b-60.
    leaves: () => ({
      '/strips': [],
      '/runs/0/strip': 'ws2812b-60',
      '/panel/grid/strip': 'ws2812b-60',
      '/asBuilt/runs/0/strip': 'ws2812b-60',
    }),
  },
];

describe('edits of own reels', () => {
  testCases(stripCases, stripEdits);

  test('a reel with a white die goes to one with a white die, a 12 V reel to 12 V', () => {
    // From the catalogue: the SK6812 strips of 4 bytes are the only ones with a white die, ws2815 the strip for 12 V.
    const strip = (project: Project): string => project.runs[0]!.strip;
    expect(strip(applied(cutFrom(white), stripEdits.removeStrip('white')))).toMatch(/^sk6812/);
    expect(strip(applied(cutFrom(twelve), stripEdits.removeStrip('twelve')))).toMatch(/^ws2815/);
  });

  test('no more reels than the document holds', () => {
    const strips = Array.from({ length: 64 }, (_, i): OwnStrip => ({ ...reel, id: `reel-${i + 1}` }));
    const full = { ...plain, strips };
    expect(applied(full, stripEdits.addStrip(reel))).toBe(full);
  });

  test('an id that is taken is a fault of ours', () => {
    expect(() => applied({ ...plain, strips: [reel] }, stripEdits.addStrip(reel))).toThrow('"reel" is taken');
  });
});

const channel = (id: string, xMm: number): Channel => ({
  id,
  points: [
    { xMm, yMm: 10 },
    { xMm: xMm + 100, yMm: 10 },
  ],
});

const channelCases: readonly EditCase[] = [
  {
    name: 'addChannels',
    fact: 'adds them behind those that there are',
    on: { ...plain, channels: [channel('a', 0)] },
    edit: channelEdits.addChannels([channel('b', 10), channel('c', 20)]),
    leaves: () => ({ '/channels': [channel('a', 0), channel('b', 10), channel('c', 20)] }),
  },
  {
    name: 'removeChannel',
    fact: 'leaves the others',
    on: { ...plain, channels: [channel('a', 0), channel('b', 10)] },
    edit: channelEdits.removeChannel('a'),
    leaves: () => ({ '/channels': [channel('b', 10)] }),
  },
];

describe('edits of engraved channels', () => {
  testCases(channelCases, channelEdits);

  test('all of them or none', () => {
    const many = Array.from({ length: limits.runs }, (_, i) => channel(`channel-${i + 1}`, i));
    const full = applied(plain, channelEdits.addChannels(many));
    expect(full.channels).toHaveLength(limits.runs);
    expect(applied(full, channelEdits.addChannels([channel('more', 0)]))).toBe(full);
  });
});
