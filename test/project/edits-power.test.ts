// Edits of supply, limit and feeds. Expected documents are written by hand from the edit's name and the sample's own lists.
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/project/edits-power.ts';
import { edited, limits, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const feed = { run: 'sea-1', led: 13, wire: '0.75 mm2', lengthMm: 250 };

const second = { id: 'second', volts: 5, amps: 10 };
const twoSupplies = projectOf({
  runs: rowsOfStrip(30),
  power: {
    supply: { volts: 5, amps: 10 },
    moreSupplies: [second, { id: 'third', volts: 5, amps: 4, ground: { wire: 'AWG 14', lengthMm: 300 } }],
    feeds: [
      { run: 'row-0', led: 0, wire: 'AWG 18', lengthMm: 400 },
      { run: 'row-0', led: 29, wire: 'AWG 18', lengthMm: 700, supply: 'second' },
    ],
  },
});

const cases: readonly EditCase[] = [
  {
    name: 'setSupply',
    fact: 'changes what it names',
    on: 'first-light',
    edit: edits.setSupply({ amps: 6, outputMilliohms: 20 }),
    leaves: () => ({ '/power/supply/amps': 6, '/power/supply/outputMilliohms': 20 }),
  },
  {
    name: 'setSupply',
    fact: 'takes the output resistance away',
    on: projectOf({
      runs: rowsOfStrip(30),
      power: { supply: { volts: 5, outputMilliohms: 9, amps: 3 }, feeds: [] },
    }),
    edit: edits.setSupply({ volts: 5.1, outputMilliohms: undefined }),
    leaves: () => ({ '/power/supply/volts': 5.1, '/power/supply/outputMilliohms': undefined }),
  },
  {
    name: 'setLimit',
    fact: 'puts a limit on',
    on: 'first-light',
    edit: edits.setLimit(2.5),
    leaves: () => ({ '/power/limitAmps': 2.5 }),
  },
  {
    name: 'setLimit',
    fact: 'takes the limit off',
    on: 'midnight-carnival',
    edit: edits.setLimit(undefined),
    leaves: () => ({ '/power/limitAmps': undefined }),
  },
  {
    name: 'addFeed',
    fact: 'adds it behind the others',
    on: 'first-light',
    edit: edits.addFeed(feed),
    leaves: () => ({ '/power/feeds/1': feed }),
  },
  {
    name: 'removeFeed',
    fact: 'takes one of several away',
    on: 'midnight-carnival',
    edit: edits.removeFeed(2),
    leaves: (before) => ({ '/power/feeds': before.power.feeds.filter((one) => one.run !== 'tower-1') }),
  },
  {
    name: 'changeFeed',
    fact: 'moves it to another LED and leaves its wire',
    on: 'midnight-carnival',
    edit: edits.changeFeed(5, { led: 32, lengthMm: 600 }),
    leaves: () => ({ '/power/feeds/5/led': 32, '/power/feeds/5/lengthMm': 600 }),
  },
  {
    name: 'changeFeed',
    fact: 'takes the chosen fuse away',
    on: 'first-light',
    edit: edits.changeFeed(0, { fuseAmps: undefined }),
    leaves: () => ({ '/power/feeds/0/fuseAmps': undefined }),
  },
  {
    name: 'changeFeed',
    fact: 'gives it a fuse of another kind, a plug and another supply, and keeps it where it is',
    on: twoSupplies,
    edit: edits.changeFeed(0, { fuseKind: 'tube', plug: 'vh-3.96', supply: 'third', isKept: true }),
    leaves: () => ({
      '/power/feeds/0/fuseKind': 'tube',
      '/power/feeds/0/plug': 'vh-3.96',
      '/power/feeds/0/supply': 'third',
      '/power/feeds/0/isKept': true,
    }),
  },
  {
    name: 'addSupply',
    fact: 'adds the first further one, with an id of its own',
    on: 'first-light',
    edit: edits.addSupply({ volts: 5, amps: 10 }),
    leaves: () => ({ '/power/moreSupplies': [{ id: 'supply-2', volts: 5, amps: 10 }] }),
  },
  {
    name: 'addSupply',
    fact: 'adds it behind the others',
    on: twoSupplies,
    edit: edits.addSupply({ id: 'fourth', volts: 5.1, amps: 3 }),
    leaves: () => ({ '/power/moreSupplies/2': { id: 'fourth', volts: 5.1, amps: 3 } }),
  },
  {
    name: 'changeFurtherSupply',
    fact: 'changes what it names and takes its ground wire away',
    on: twoSupplies,
    edit: edits.changeFurtherSupply('third', { volts: 5.2, outputMilliohms: 12, ground: undefined }),
    leaves: () => ({
      '/power/moreSupplies/1/volts': 5.2,
      '/power/moreSupplies/1/outputMilliohms': 12,
      '/power/moreSupplies/1/ground': undefined,
    }),
  },
  {
    name: 'removeFurtherSupply',
    fact: 'takes it away, and its feeds go to the first one',
    on: twoSupplies,
    edit: edits.removeFurtherSupply('second'),
    leaves: (before) => ({
      '/power/moreSupplies': before.power.moreSupplies!.slice(1),
      '/power/feeds/1/supply': undefined,
    }),
  },
  {
    name: 'removeFurtherSupply',
    fact: 'leaves no empty list behind the last',
    on: projectOf({
      runs: rowsOfStrip(30),
      power: { supply: { volts: 5, amps: 10 }, moreSupplies: [second], feeds: [] },
    }),
    edit: edits.removeFurtherSupply('second'),
    leaves: () => ({ '/power/moreSupplies': undefined }),
  },
  {
    name: 'setPlanning',
    fact: 'says what planning may do',
    on: 'first-light',
    edit: edits.setPlanning({ places: 'anywhere', mostDropVolts: 0.25 }),
    leaves: () => ({ '/power/planning': { places: 'anywhere', mostDropVolts: 0.25 } }),
  },
  {
    name: 'setForbidden',
    fact: 'forbids a place',
    on: 'first-light',
    edit: edits.setForbidden('sea-1', 13, true),
    leaves: () => ({ '/power/planning': { forbidden: [{ run: 'sea-1', led: 13 }] } }),
  },
  {
    name: 'setForbidden',
    fact: 'allows the only one again',
    on: projectOf({
      runs: rowsOfStrip(30),
      power: {
        supply: { volts: 5, amps: 10 },
        feeds: [],
        planning: { forbidden: [{ run: 'row-0', led: 3 }], places: 'anywhere' },
      },
    }),
    edit: edits.setForbidden('row-0', 3, false),
    leaves: () => ({ '/power/planning/forbidden': undefined }),
  },
  {
    name: 'setController',
    fact: 'says what the board runs from',
    on: 'first-light',
    edit: edits.setController({ from: 'usb', milliamps: 80 }),
    leaves: () => ({ '/power/controller': { from: 'usb', milliamps: 80 } }),
  },
  {
    name: 'setPowerSurroundings',
    fact: 'says how hot it gets and how long play is',
    on: 'first-light',
    edit: edits.setPowerSurroundings({ hotCelsius: 60, eveningHours: 3 }),
    leaves: () => ({ '/power/hotCelsius': 60, '/power/eveningHours': 3 }),
  },
  {
    name: 'applyFeedPlan',
    fact: 'puts its feeds in place of all others, and cuts a jumper',
    on: 'first-light',
    edit: edits.applyFeedPlan({ feeds: [feed], jumpers: [{ line: 0, place: 2, power: 'cut' }] }),
    leaves: () => ({ '/power/feeds': [feed], '/dataLines/0/chain/2/jumper': { power: 'cut' } }),
  },
  {
    name: 'applyFeedPlan',
    fact: 'leaves jumpers alone that are so already',
    on: 'first-light',
    edit: edits.applyFeedPlan({ feeds: [feed], jumpers: [{ line: 0, place: 2, power: 'carried' }] }),
    leaves: () => ({ '/power/feeds': [feed] }),
  },
];

describe('[EDIT1] edits of power', () => {
  testCases(cases, edits);

  test.each([
    ['no feed 1', edits.removeFeed(1)],
    ['no feed 1', edits.changeFeed(1, { led: 0 })],
    ['no LED 14 in run "sea-1"', edits.addFeed({ ...feed, led: 14 })],
    ['no LED 9 in run "sky-2"', edits.changeFeed(0, { led: 9 })],
    ['no wire "string"', edits.changeFeed(0, { wire: 'string' })],
    ['no run "nobody"', edits.addFeed({ ...feed, run: 'nobody' })],
    ['no supply "second" to edit', edits.removeFurtherSupply('second')],
    ['no wire "string"', edits.setPlanning({ wire: 'string' })],
    ['no wire "string"', edits.setController({ wire: 'string' })],
    ['no LED 14 in run "sea-1"', edits.setForbidden('sea-1', 14, true)],
    ['no link 9 to edit', edits.applyFeedPlan({ feeds: [], jumpers: [{ line: 0, place: 9, power: 'cut' }] })],
  ])('what the document does not hold is refused: %s', (message, edit) => {
    expect(() => edited(startHistory(sample('first-light')), 'edit', edit)).toThrow(message);
  });

  test('the last feed that the limit allows is added, one more is left undone', () => {
    const base = sample('first-light');
    const filled = (count: number) => ({
      ...base,
      power: { ...base.power, feeds: Array.from({ length: count }, () => feed) },
    });
    const added = (count: number) =>
      holdsLaws(filled(count), 'addFeed', edits.addFeed(feed)).power.feeds.length;
    expect([added(limits.runs - 1), added(limits.runs)]).toEqual([limits.runs, limits.runs]);
  });
});
