// Edits of runs and chains. Expected documents are written by hand from the edit's name and the sample's own lists.
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/project/edits-runs.ts';
import { edited, freeId, idFrom, limits, type Project, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const newRun = {
  id: 'new',
  firstLed: { xMm: 10, yMm: 20 },
  arrowDeg: 45,
  ledCount: 4,
  strip: 'ws2812b-30',
};
/** Four rows of 30 on two data lines, with spare LEDs, a feed, jumpers, parts of areas, and a run outside every chain. */
const rows = rowsOfStrip(150).map((run, i) => (i === 1 ? { ...run, spareLeds: [3, 12, 29] } : run));
const rich: Project = projectOf({
  runs: rows,
  dataLines: [
    {
      pin: 6,
      chain: [
        { run: 'row-0' },
        { run: 'row-1', jumper: { power: 'cut', lengthMm: 75 } },
        { run: 'row-2', jumper: { wire: 'AWG 18' } },
      ],
    },
    { pin: 7, chain: [{ run: 'row-3' }] },
  ],
  areas: [
    { id: 'everything', members: [{ kind: 'all' }], order: { kind: 'across' } },
    {
      id: 'parts',
      members: [
        { kind: 'leds', run: 'row-1', from: 2, to: 28 },
        { kind: 'leds', run: 'row-1', from: 28, to: 11 },
        { kind: 'leds', run: 'row-2', from: 0, to: 29 },
      ],
      order: { kind: 'up' },
    },
    { id: 'far-end', members: [{ kind: 'leds', run: 'row-1', from: 20, to: 29 }], order: { kind: 'up' } },
  ],
  power: {
    supply: { volts: 5, amps: 20 },
    feeds: [
      { run: 'row-0', led: 0, wire: 'AWG 18', lengthMm: 300 },
      { run: 'row-1', led: 9, wire: 'AWG 18', lengthMm: 300 },
      { run: 'row-1', led: 29, wire: 'AWG 18', lengthMm: 300 },
    ],
  },
});

const cases: readonly EditCase[] = [
  {
    name: 'addRun',
    fact: 'adds it behind the last one of the line',
    on: 'first-light',
    edit: edits.addRun(newRun, 0),
    leaves: () => ({ '/runs/6': newRun, '/dataLines/0/chain/6': { run: 'new' } }),
  },
  {
    name: 'addRun',
    fact: 'makes a line without a pin where there is none',
    on: rich,
    edit: edits.addRun(newRun, 2),
    leaves: () => ({ '/runs/5': newRun, '/dataLines/2': { chain: [{ run: 'new' }] } }),
  },
  {
    name: 'deleteRun',
    fact: 'takes it out of chain, areas and feeds',
    on: 'first-light',
    edit: edits.deleteRun('sky-2'),
    leaves: (before) => ({
      '/runs': [0, 1, 2, 4, 5].map((i) => before.runs[i]),
      '/dataLines/0/chain': ['sky-1', 'sky-3', 'tower', 'sea-1', 'sea-2'].map((run) => ({ run })),
      '/areas/0/members': [{ kind: 'runs', runs: ['sky-1', 'sky-3'] }],
      '/areas/1/members/0/runs': ['sky-3'],
      '/areas/2/members': [{ kind: 'leds', run: 'sky-1', from: 1, to: 3 }],
      '/areas/7/members/0/runs': ['sky-1', 'sky-3', 'sea-1', 'sea-2'],
      '/power/feeds': [],
    }),
  },
  {
    name: 'deleteRun',
    fact: 'leaves an area empty but there, so its clips stay',
    on: 'first-light',
    edit: edits.deleteRun('tower'),
    leaves: (before) => ({
      '/runs': [0, 1, 3, 4, 5].map((i) => before.runs[i]),
      '/dataLines/0/chain': ['sky-1', 'sky-3', 'sky-2', 'sea-1', 'sea-2'].map((run) => ({ run })),
      '/areas/4/members': [{ kind: 'runs', runs: [] }],
      '/areas/5/members': [{ kind: 'runs', runs: [] }],
    }),
  },
  {
    name: 'deleteRun',
    fact: 'takes away the line that held nothing else',
    on: rich,
    edit: edits.deleteRun('row-3'),
    leaves: (before) => ({
      '/runs': [0, 1, 2, 4].map((i) => before.runs[i]),
      '/dataLines': [before.dataLines[0]],
    }),
  },
  {
    name: 'moveRun',
    fact: 'sets the place of the first LED',
    on: 'midnight-carnival',
    edit: edits.moveRun('tent-1', 470.5, 131),
    leaves: () => ({ '/runs/5/firstLed': { xMm: 470.5, yMm: 131 } }),
  },
  {
    name: 'turnRun',
    fact: 'sets the arrow and leaves the first LED',
    on: 'midnight-carnival',
    edit: edits.turnRun('ground', -12.5),
    leaves: () => ({ '/runs/17/arrowDeg': -12.5 }),
  },
  {
    name: 'turnRun',
    fact: 'takes whole turns off what the document can not hold',
    on: 'first-light',
    edit: edits.turnRun('sea-2', -750),
    leaves: () => ({ '/runs/5/arrowDeg': -30 }),
  },
  {
    name: 'lengthenRun',
    fact: 'adds LEDs and nothing else',
    on: 'first-light',
    edit: edits.lengthenRun('tower', 8),
    leaves: () => ({ '/runs/2/ledCount': 8 }),
  },
  {
    name: 'lengthenRun',
    fact: 'cuts off spare LEDs, feeds and parts of areas with the end',
    on: rich,
    edit: edits.lengthenRun('row-1', 12),
    leaves: (before) => ({
      '/runs/1/ledCount': 12,
      '/runs/1/spareLeds': [3],
      '/power/feeds': before.power.feeds.slice(0, 2),
      '/areas/1/members/0/to': 11,
      '/areas/1/members/1': { kind: 'leds', run: 'row-1', from: 11, to: 11 },
      '/areas/2/members': [{ kind: 'runs', runs: [] }],
    }),
  },
  {
    name: 'lengthenRun',
    fact: 'stops at the most that one run may have',
    on: 'first-light',
    edit: edits.lengthenRun('tower', 9000),
    leaves: () => ({ '/runs/2/ledCount': limits.ledsPerRun }),
  },
  {
    name: 'lengthenRun',
    fact: 'leaves one LED at least',
    on: 'first-light',
    edit: edits.lengthenRun('sea-2', 0),
    leaves: () => ({ '/runs/5/ledCount': 1 }),
  },
  {
    name: 'setRunStrip',
    fact: 'sets the strip and leaves the LED count',
    on: 'first-light',
    edit: edits.setRunStrip('sea-1', 'ws2812b-144'),
    leaves: () => ({ '/runs/4/strip': 'ws2812b-144' }),
  },
  {
    name: 'setRunColourOrder',
    fact: 'gives a run an order of its own',
    on: 'first-light',
    edit: edits.setRunColourOrder('sea-1', 'BRG'),
    leaves: () => ({ '/runs/4/colourOrder': 'BRG' }),
  },
  {
    name: 'setRunColourOrder',
    fact: "goes back to the strip's own",
    on: { ...rich, runs: rich.runs.map((run) => ({ ...run, colourOrder: 'RGB' as const })) },
    edit: edits.setRunColourOrder('row-4', undefined),
    leaves: () => ({ '/runs/4/colourOrder': undefined }),
  },
  {
    name: 'renameRun',
    fact: 'sets the name and leaves the id',
    on: 'first-light',
    edit: edits.renameRun('tower', 'Lighthouse'),
    leaves: () => ({ '/runs/2/name': 'Lighthouse' }),
  },
  {
    name: 'renameRun',
    fact: 'takes an empty name away',
    on: 'first-light',
    edit: edits.renameRun('tower', ''),
    leaves: () => ({ '/runs/2/name': undefined }),
  },
  {
    name: 'setSpareLeds',
    fact: 'sorts them and keeps each once',
    on: 'first-light',
    edit: edits.setSpareLeds('sky-1', [14, 0, 3, 0]),
    leaves: () => ({ '/runs/0/spareLeds': [0, 3, 14] }),
  },
  {
    name: 'setSpareLeds',
    fact: 'takes the list away where none is left',
    on: rich,
    edit: edits.setSpareLeds('row-1', []),
    leaves: () => ({ '/runs/1/spareLeds': undefined }),
  },
  {
    name: 'setBypassedLeds',
    fact: 'sorts them and takes each once',
    on: rich,
    edit: edits.setBypassedLeds('row-2', [7, 3, 7]),
    leaves: () => ({ '/runs/2/bypassedLeds': [3, 7] }),
  },
  {
    name: 'setRing',
    fact: 'bends a run to a ring board, within the bounds',
    on: rich,
    edit: edits.setRing('row-2', { radiusMm: 90_000, clockwise: true }),
    leaves: () => ({ '/runs/2/ring': { radiusMm: limits.panelMm, clockwise: true } }),
  },
  {
    name: 'deleteRun',
    fact: 'takes what was built otherwise along',
    on: {
      ...rich,
      asBuilt: {
        runs: [
          { run: 'row-1', skipped: true },
          { run: 'row-3', skipped: true },
        ],
        swaps: [
          { first: 'row-1', second: 'row-3' },
          { first: 'row-0', second: 'row-2' },
        ],
      },
    },
    edit: edits.deleteRun('row-3'),
    leaves: (before) => ({
      '/runs': before.runs.toSpliced(3, 1),
      '/dataLines': before.dataLines.slice(0, 1),
      '/asBuilt/runs': [{ run: 'row-1', skipped: true }],
      '/asBuilt/swaps': [{ first: 'row-0', second: 'row-2' }],
    }),
  },
  {
    name: 'setDeadLeds',
    fact: 'sorts them, keeps each once, and leaves the spare ones',
    on: rich,
    edit: edits.setDeadLeds('row-1', [14, 3, 14]),
    leaves: () => ({ '/runs/1/deadLeds': [3, 14] }),
  },
  {
    name: 'setDeadLeds',
    fact: 'takes the list away where none is left',
    on: { ...rich, runs: rich.runs.map((run) => ({ ...run, deadLeds: [1] })) },
    edit: edits.setDeadLeds('row-4', []),
    leaves: () => ({ '/runs/4/deadLeds': undefined }),
  },
  {
    name: 'moveInChain',
    fact: 'moves a run, with its jumper, to another place',
    on: rich,
    edit: edits.moveInChain(0, 1, 2),
    leaves: ({ dataLines: [line] }) => ({
      '/dataLines/0/chain': [line?.chain[0], line?.chain[2], line?.chain[1]],
    }),
  },
  {
    name: 'moveRunToChain',
    fact: 'moves a run, with its jumper, into another line',
    on: rich,
    edit: edits.moveRunToChain('row-1', 1, 0),
    leaves: () => ({
      '/dataLines/0/chain': [{ run: 'row-0' }, { run: 'row-2', jumper: { wire: 'AWG 18' } }],
      '/dataLines/1/chain': [{ run: 'row-1', jumper: { power: 'cut', lengthMm: 75 } }, { run: 'row-3' }],
    }),
  },
  {
    name: 'moveRunToChain',
    fact: 'takes a run from outside into a chain',
    on: rich,
    edit: edits.moveRunToChain('row-4', 0, 1),
    leaves: ({ dataLines: [line] }) => ({
      '/dataLines/0/chain': [line?.chain[0], { run: 'row-4' }, line?.chain[1], line?.chain[2]],
    }),
  },
  {
    name: 'moveRunToChain',
    fact: 'takes away the line it leaves empty',
    on: rich,
    edit: edits.moveRunToChain('row-3', 0, 3),
    leaves: ({ dataLines: [line] }) => ({
      '/dataLines': [{ pin: 6, chain: [...(line?.chain ?? []), { run: 'row-3' }] }],
    }),
  },
  {
    name: 'moveRunToChain',
    fact: 'makes a line without a pin where there is none',
    on: rich,
    edit: edits.moveRunToChain('row-0', 2, 0),
    leaves: ({ dataLines: [line] }) => ({
      '/dataLines/0/chain': line?.chain.slice(1),
      '/dataLines/2': { chain: [{ run: 'row-0' }] },
    }),
  },
  {
    name: 'moveRunToChain',
    fact: 'moves within its own line, places counted without it',
    on: 'first-light',
    edit: edits.moveRunToChain('sky-1', 0, 2),
    leaves: () => ({
      '/dataLines/0/chain': ['sky-3', 'tower', 'sky-1', 'sky-2', 'sea-1', 'sea-2'].map((run) => ({ run })),
    }),
  },
  {
    name: 'unchainRun',
    fact: 'takes it out of the chain and leaves it on the panel, in its areas and fed',
    on: 'first-light',
    edit: edits.unchainRun('sky-2'),
    leaves: () => ({
      '/dataLines/0/chain': ['sky-1', 'sky-3', 'tower', 'sea-1', 'sea-2'].map((run) => ({ run })),
    }),
  },
  {
    name: 'unchainRun',
    fact: 'changes nothing for a run that no chain holds',
    on: rich,
    edit: edits.unchainRun('row-4'),
    leaves: () => ({}),
  },
  {
    name: 'setJumper',
    fact: 'changes what it names and leaves the rest',
    on: rich,
    edit: edits.setJumper(0, 1, { power: 'carried', wire: '0.75 mm2' }),
    leaves: () => ({ '/dataLines/0/chain/1/jumper': { power: 'carried', lengthMm: 75, wire: '0.75 mm2' } }),
  },
  {
    name: 'setJumper',
    fact: 'makes one where there was none',
    on: 'first-light',
    edit: edits.setJumper(0, 3, { power: 'cut' }),
    leaves: () => ({ '/dataLines/0/chain/3/jumper': { power: 'cut' } }),
  },
  {
    name: 'setJumper',
    fact: 'takes away one whose last property goes',
    on: rich,
    edit: edits.setJumper(0, 2, { wire: undefined }),
    leaves: () => ({ '/dataLines/0/chain/2/jumper': undefined }),
  },
  {
    name: 'setJumper',
    fact: 'goes back to the plain one',
    on: rich,
    edit: edits.setJumper(0, 1, undefined),
    leaves: () => ({ '/dataLines/0/chain/1/jumper': undefined }),
  },
];

describe('[EDIT1] edits of runs and chains', () => {
  testCases(cases, edits);

  test.each([
    ['no run "nobody"', edits.moveRun('nobody', 1, 1)],
    ['no run "nobody"', edits.deleteRun('nobody')],
    ['no run "nobody"', edits.moveRunToChain('nobody', 0, 0)],
    ['no strip "rope"', edits.setRunStrip('sky-1', 'rope')],
    ['no strip "rope"', edits.addRun({ ...newRun, strip: 'rope' }, 0)],
    ['the id "sky-1" is taken', edits.addRun({ ...newRun, id: 'sky-1' }, 0)],
    ['no LED 15 in run "sky-1"', edits.setSpareLeds('sky-1', [15])],
    ['no LED 15 in run "sky-1"', edits.setDeadLeds('sky-1', [15])],
    ['no wire "string"', edits.setJumper(0, 1, { wire: 'string' })],
    ['no run at place 6', edits.moveInChain(0, 6, 0)],
    ['no data line 1', edits.moveInChain(1, 0, 0)],
  ])('what the document does not hold is refused: %s', (message, edit) => {
    expect(() => edited(startHistory(sample('first-light')), 'edit', edit)).toThrow(message);
  });
});

describe('[EDIT4] limits', () => {
  /** 720, 720 and 560 LEDs, the last row short of that by so many. */
  const short = (by: number): Project =>
    projectOf({
      runs: rowsOfStrip(limits.leds, limits.ledsPerRun).map((run, i) => ({
        ...run,
        firstLed: { xMm: 0, yMm: 0 },
        ledCount: i === 2 ? run.ledCount - by : run.ledCount,
      })),
      panel: { widthMm: 600, heightMm: 300, airGapMm: 30, sheet: 'opal-pmma' },
      dataLines: [],
    });

  test('the last LED that the limit allows is added, one more is left undone', () => {
    expect(newRun.ledCount).toBe(4);
    expect(holdsLaws(short(4), 'addRun', edits.addRun(newRun, 0)).runs).toHaveLength(4);
    expect(holdsLaws(short(3), 'addRun', edits.addRun(newRun, 0))).toEqual(short(3));
    expect(holdsLaws(short(3), 'lengthenRun', edits.lengthenRun('row-2', 720))).toEqual(short(0));
  });

  test('a ninth data line is left undone, unless the run leaves an eighth empty', () => {
    const runs = rowsOfStrip(90, 10);
    const eight = projectOf({
      runs,
      dataLines: runs.slice(0, limits.dataLines).map((run) => ({ chain: [{ run: run.id }] })),
    });
    expect(holdsLaws(eight, 'addRun', edits.addRun(newRun, 8))).toEqual(eight);
    expect(holdsLaws(eight, 'moveRunToChain', edits.moveRunToChain('row-8', 8, 0))).toEqual(eight);
    const moved = holdsLaws(eight, 'moveRunToChain', edits.moveRunToChain('row-0', 8, 0));
    expect(moved.dataLines.map((line) => line.chain[0]!.run)).toEqual(
      [1, 2, 3, 4, 5, 6, 7, 0].map((i) => `row-${i}`),
    );
  });
});

describe('[EDIT5] ids', () => {
  test.each([
    ['Sky, top', 'sky-top'],
    ['  Über-Rad (groß) ', 'uber-rad-gro'],
    ['3 rows', 'n-3-rows'],
    ['!?', 'unnamed'],
    ['', 'unnamed'],
    ['x'.repeat(60), 'x'.repeat(40)],
    [`${'x'.repeat(39)} y`, 'x'.repeat(39)],
  ])('the name "%s" gives the id "%s"', (name, id) => {
    expect(idFrom(name)).toBe(id);
  });

  test.each([
    [[], 'sky', 'sky'],
    [['sky'], 'sky', 'sky-2'],
    [['sky', 'sky-2'], 'sky', 'sky-3'],
    [['row-3'], 'row-3', 'row-4'],
    [['row-3', 'row-4'], 'row-3', 'row-5'],
    [['x'.repeat(40)], 'x'.repeat(40), `${'x'.repeat(38)}-2`],
    [['a-9'], 'a-9', 'a-10'],
  ])('beside %j, "%s" becomes "%s"', (taken, base, id) => {
    expect(freeId(taken, base)).toBe(id);
  });
});
