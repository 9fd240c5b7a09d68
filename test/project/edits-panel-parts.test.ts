// Edits of lists that lie on the panel, and of the builder's own sheets. Expected documents are written by hand from the edit's name.
import { describe, expect, test } from 'vitest';
import * as baffleEdits from '../../src/project/edits-baffles.ts';
import * as guideEdits from '../../src/project/edits-guides.ts';
import * as keepOutEdits from '../../src/project/edits-keep-outs.ts';
import * as measureEdits from '../../src/project/edits-measures.ts';
import * as sheetEdits from '../../src/project/edits-sheets.ts';
import { type Edit, edited, limits, type Project, startHistory } from '../../src/project/index.ts';
import { type EditCase, testCases } from '../support/edit-laws.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const plain = projectOf({ runs: rowsOfStrip(60) });
const withPanel = (panel: Partial<Project['panel']>): Project => ({
  ...plain,
  panel: { ...plain.panel, ...panel },
});
const applied = (project: Project, edit: Edit): Project =>
  edited(startHistory(project), 'edit', edit).project;
const mm = (xMm: number, yMm: number) => ({ xMm, yMm });

const screw = {
  id: 'screw',
  name: 'Screw, top left',
  purpose: 'screw',
  shape: { kind: 'circle', centre: mm(12, 12), diameterMm: 5 },
} as const;
const display = {
  id: 'display',
  purpose: 'display',
  shape: { kind: 'rectangle', xMm: 200, yMm: 20, widthMm: 120, heightMm: 30 },
} as const;
const kept = withPanel({ keepOuts: [screw, display] });

const keepOutCases: readonly EditCase[] = [
  {
    name: 'addKeepOut',
    fact: 'begins the list',
    on: plain,
    edit: keepOutEdits.addKeepOut(screw),
    leaves: () => ({ '/panel/keepOuts': [screw] }),
  },
  {
    name: 'addKeepOut',
    fact: 'adds one at the end',
    on: withPanel({ keepOuts: [screw] }),
    edit: keepOutEdits.addKeepOut(display),
    leaves: () => ({ '/panel/keepOuts': [screw, display] }),
  },
  {
    name: 'changeKeepOut',
    fact: 'takes the name away and leaves the shape',
    on: kept,
    edit: keepOutEdits.changeKeepOut('screw', { name: undefined, purpose: 'cable' }),
    leaves: () => ({ '/panel/keepOuts/0/name': undefined, '/panel/keepOuts/0/purpose': 'cable' }),
  },
  {
    name: 'changeKeepOut',
    fact: 'makes a rectangle of a circle',
    on: kept,
    edit: keepOutEdits.changeKeepOut('screw', { shape: display.shape }),
    leaves: () => ({ '/panel/keepOuts/0/shape': display.shape }),
  },
  {
    name: 'removeKeepOut',
    fact: 'leaves the others',
    on: kept,
    edit: keepOutEdits.removeKeepOut('screw'),
    leaves: () => ({ '/panel/keepOuts': [display] }),
  },
  {
    name: 'removeKeepOut',
    fact: 'of the last one takes the list away',
    on: withPanel({ keepOuts: [screw], glassMm: 3 }),
    edit: keepOutEdits.removeKeepOut('screw'),
    leaves: () => ({ '/panel/keepOuts': undefined }),
  },
];

describe('edits of keep-outs', () => {
  testCases(keepOutCases, keepOutEdits);

  test('an id is taken once, and what is not there is refused', () => {
    expect(() => applied(kept, keepOutEdits.addKeepOut(screw))).toThrow('"screw" is taken');
    expect(() => applied(kept, keepOutEdits.removeKeepOut('horn'))).toThrow('no keep-out "horn"');
    expect(() => applied(plain, keepOutEdits.changeKeepOut('screw', {}))).toThrow('no keep-out "screw"');
  });

  test('the list takes as many as the limit says, and no more', () => {
    const many = Array.from({ length: limits.keepOuts - 1 }, (_, i) => ({ ...screw, id: `screw-${i}` }));
    const full = applied(withPanel({ keepOuts: many }), keepOutEdits.addKeepOut(display));
    expect(full.panel.keepOuts).toHaveLength(limits.keepOuts);
    expect(applied(full, keepOutEdits.addKeepOut({ ...display, id: 'other' }))).toBe(full);
  });
});

const grid = { origin: mm(20, 20), rowMm: 33.3, strip: 'ws2812b-60', everyLeds: 2 };
const guides = [
  { axis: 'x', atMm: 100 },
  { axis: 'y', atMm: 40 },
] as const;
const guided = withPanel({ grid, guides: [...guides] });

const guideCases: readonly EditCase[] = [
  {
    name: 'setGrid',
    fact: 'gives the panel a grid',
    on: plain,
    edit: guideEdits.setGrid(grid),
    leaves: () => ({ '/panel/grid': grid }),
  },
  {
    name: 'setGrid',
    fact: 'takes the grid away and leaves the guides',
    on: guided,
    edit: guideEdits.setGrid(undefined),
    leaves: () => ({ '/panel/grid': undefined }),
  },
  {
    name: 'addGuide',
    fact: 'begins the list',
    on: plain,
    edit: guideEdits.addGuide('y', 55.5),
    leaves: () => ({ '/panel/guides': [{ axis: 'y', atMm: 55.5 }] }),
  },
  {
    name: 'addGuide',
    fact: 'adds one at the end',
    on: guided,
    edit: guideEdits.addGuide('x', -3),
    leaves: () => ({ '/panel/guides': [...guides, { axis: 'x', atMm: -3 }] }),
  },
  {
    name: 'moveGuide',
    fact: 'moves one alone',
    on: guided,
    edit: guideEdits.moveGuide(1, 41),
    leaves: () => ({ '/panel/guides/1/atMm': 41 }),
  },
  {
    name: 'removeGuide',
    fact: 'leaves the others',
    on: guided,
    edit: guideEdits.removeGuide(0),
    leaves: () => ({ '/panel/guides': [guides[1]] }),
  },
  {
    name: 'removeGuide',
    fact: 'of the last one takes the list away',
    on: withPanel({ guides: [guides[0]] }),
    edit: guideEdits.removeGuide(0),
    leaves: () => ({ '/panel/guides': undefined }),
  },
];

describe('edits of grid and guides', () => {
  testCases(guideCases, guideEdits);

  test('a grid of a strip that is not there, and a guide that is not there, are refused', () => {
    expect(() => applied(plain, guideEdits.setGrid({ ...grid, strip: 'rope' }))).toThrow('no strip "rope"');
    expect(() => applied(guided, guideEdits.moveGuide(2, 1))).toThrow('no guide 2');
    expect(() => applied(plain, guideEdits.removeGuide(0))).toThrow('no guide 0');
  });

  test('the list takes as many as the limit says, and no more', () => {
    const many = Array.from({ length: limits.guides - 1 }, (_, i) => ({ axis: 'x' as const, atMm: i }));
    const full = applied(withPanel({ guides: many }), guideEdits.addGuide('x', 1));
    expect(full.panel.guides).toHaveLength(limits.guides);
    expect(applied(full, guideEdits.addGuide('x', 2))).toBe(full);
  });
});

const measures = [
  { from: mm(0, 0), to: mm(600, 0), measuredMm: 600 },
  { from: mm(0, 0), to: mm(0, 90), measuredMm: 91 },
];
const measured = withPanel({ measures });

const measureCases: readonly EditCase[] = [
  {
    name: 'addMeasure',
    fact: 'begins the list and leaves the size',
    on: plain,
    edit: measureEdits.addMeasure(measures[1]!),
    leaves: () => ({ '/panel/measures': [measures[1]] }),
  },
  {
    name: 'addMeasure',
    fact: 'adds one at the end',
    on: withPanel({ measures: [measures[0]!] }),
    edit: measureEdits.addMeasure(measures[1]!),
    leaves: () => ({ '/panel/measures': measures }),
  },
  {
    name: 'changeMeasure',
    fact: 'sets what was measured and leaves the places',
    on: measured,
    edit: measureEdits.changeMeasure(1, { measuredMm: 90.5 }),
    leaves: () => ({ '/panel/measures/1/measuredMm': 90.5 }),
  },
  {
    name: 'removeMeasure',
    fact: 'leaves the others',
    on: measured,
    edit: measureEdits.removeMeasure(0),
    leaves: () => ({ '/panel/measures': [measures[1]] }),
  },
  {
    name: 'removeMeasure',
    fact: 'of the last one takes the list away',
    on: withPanel({ measures: [measures[0]!] }),
    edit: measureEdits.removeMeasure(0),
    leaves: () => ({ '/panel/measures': undefined }),
  },
];

describe('edits of measures', () => {
  testCases(measureCases, measureEdits);

  test('one that is not there is refused', () => {
    expect(() => applied(measured, measureEdits.changeMeasure(2, { measuredMm: 1 }))).toThrow('no measure 2');
    expect(() => applied(plain, measureEdits.removeMeasure(0))).toThrow('no measure 0');
  });

  test('the list takes as many as the limit says, and no more', () => {
    const many = Array.from({ length: limits.measures - 1 }, () => measures[0]!);
    const full = applied(withPanel({ measures: many }), measureEdits.addMeasure(measures[1]!));
    expect(full.panel.measures).toHaveLength(limits.measures);
    expect(applied(full, measureEdits.addMeasure(measures[1]!))).toBe(full);
  });
});

const own = { id: 'sample-1', label: 'Sample 1', transmission: 0.61, thicknessMm: 2.1, spreadMm: 1.2 };
/** Takes the place of the catalogue's sheet with this id. */
const measuredOpal = { id: 'opal-pmma', transmission: 0.84, thicknessMm: 3.1, spreadMm: 1.7 };
const sheeted: Project = {
  ...plain,
  panel: { ...plain.panel, sheet: 'sample-1' },
  sheets: [own, measuredOpal],
};

const sheetCases: readonly EditCase[] = [
  {
    name: 'addSheet',
    fact: 'begins the list and leaves the panel its sheet',
    on: plain,
    edit: sheetEdits.addSheet(own),
    leaves: () => ({ '/sheets': [own] }),
  },
  {
    name: 'addSheet',
    fact: "may take the place of a catalogue's sheet",
    on: { ...sheeted, sheets: [own] },
    edit: sheetEdits.addSheet(measuredOpal),
    leaves: () => ({ '/sheets': [own, measuredOpal] }),
  },
  {
    name: 'changeSheet',
    fact: 'sets the spread and takes the label away',
    on: sheeted,
    edit: sheetEdits.changeSheet('sample-1', { spreadMm: 2, label: undefined }),
    leaves: () => ({ '/sheets/0/spreadMm': 2, '/sheets/0/label': undefined }),
  },
  {
    name: 'removeSheet',
    fact: "gives a panel that had it the catalogue's first",
    on: sheeted,
    edit: sheetEdits.removeSheet('sample-1'),
    leaves: () => ({ '/sheets': [measuredOpal], '/panel/sheet': 'opal-pmma' }),
  },
  {
    name: 'removeSheet',
    fact: 'leaves the panel its sheet where that is another',
    on: sheeted,
    edit: sheetEdits.removeSheet('opal-pmma'),
    leaves: () => ({ '/sheets': [own] }),
  },
  {
    name: 'removeSheet',
    fact: "leaves the panel the catalogue's sheet of the same id",
    on: { ...plain, panel: { ...plain.panel, sheet: 'opal-pc' }, sheets: [{ ...own, id: 'opal-pc' }] },
    edit: sheetEdits.removeSheet('opal-pc'),
    leaves: () => ({ '/sheets': [] }),
  },
];

describe("edits of the builder's own sheets", () => {
  testCases(sheetCases, sheetEdits);

  test('an id is taken once, and what is not there is refused', () => {
    expect(() => applied(sheeted, sheetEdits.addSheet(own))).toThrow('"sample-1" is taken');
    expect(() => applied(sheeted, sheetEdits.removeSheet('opal-pc'))).toThrow(
      'no sheet of the project "opal-pc"',
    );
  });

  test('the list takes 64, and no more', () => {
    // The schema's limit.
    const many = Array.from({ length: 63 }, (_, i) => ({ ...own, id: `sheet-${i}` }));
    const full = applied({ ...plain, sheets: many }, sheetEdits.addSheet(own));
    expect(full.sheets).toHaveLength(64);
    expect(applied(full, sheetEdits.addSheet({ ...own, id: 'other' }))).toBe(full);
  });
});

const walls = [
  { from: mm(0, 30), to: mm(500, 30) },
  { from: mm(250, 0), to: mm(250, 30) },
];
const walled = withPanel({ baffles: { thicknessMm: 4, belowSheetMm: 2, finish: 'white-paint', walls } });

const baffleCases: readonly EditCase[] = [
  {
    name: 'addBaffles',
    fact: 'begins the list with walls 3 mm thick',
    on: plain,
    edit: baffleEdits.addBaffles([walls[0]!]),
    leaves: () => ({ '/panel/baffles': { thicknessMm: 3, walls: [walls[0]] } }),
  },
  {
    name: 'addBaffles',
    fact: 'adds several at the end',
    on: walled,
    edit: baffleEdits.addBaffles([walls[1]!, walls[0]!]),
    leaves: () => ({ '/panel/baffles/walls': [...walls, walls[1], walls[0]] }),
  },
  {
    name: 'changeBaffle',
    fact: 'moves one end and leaves the other',
    on: walled,
    edit: baffleEdits.changeBaffle(1, { to: mm(250, 28) }),
    leaves: () => ({ '/panel/baffles/walls/1/to': mm(250, 28) }),
  },
  {
    name: 'removeBaffle',
    fact: 'leaves the others',
    on: walled,
    edit: baffleEdits.removeBaffle(0),
    leaves: () => ({ '/panel/baffles/walls': [walls[1]] }),
  },
  {
    name: 'removeBaffle',
    fact: 'of the last one takes all of it away',
    on: withPanel({ baffles: { thicknessMm: 4, walls: [walls[0]!] }, glassMm: 3 }),
    edit: baffleEdits.removeBaffle(0),
    leaves: () => ({ '/panel/baffles': undefined }),
  },
  {
    name: 'setBaffles',
    fact: 'sets the thickness and takes the finish away',
    on: walled,
    edit: baffleEdits.setBaffles({ thicknessMm: 6, finish: undefined }),
    leaves: () => ({ '/panel/baffles/thicknessMm': 6, '/panel/baffles/finish': undefined }),
  },
  {
    name: 'setBaffles',
    fact: 'takes all walls away',
    on: walled,
    edit: baffleEdits.setBaffles(undefined),
    leaves: () => ({ '/panel/baffles': undefined }),
  },
  {
    name: 'setBaffles',
    fact: 'leaves a panel without walls as it is',
    on: plain,
    edit: baffleEdits.setBaffles({ thicknessMm: 6 }),
    leaves: () => ({}),
  },
];

describe('edits of baffles', () => {
  testCases(baffleCases, baffleEdits);

  test('one that is not there is refused', () => {
    expect(() => applied(walled, baffleEdits.changeBaffle(2, {}))).toThrow('no baffle 2');
    expect(() => applied(plain, baffleEdits.removeBaffle(0))).toThrow('no baffle 0');
  });

  test('the list takes as many as the limit says, and no more', () => {
    const many = Array.from({ length: limits.baffles - 1 }, () => walls[0]!);
    const full = applied(
      withPanel({ baffles: { thicknessMm: 3, walls: many } }),
      baffleEdits.addBaffles(walls),
    );
    expect(full.panel.baffles?.walls).toHaveLength(limits.baffles);
    expect(applied(full, baffleEdits.addBaffles(walls))).toBe(full);
  });
});
