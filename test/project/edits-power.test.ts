// Edits of supply, limit and feeds. Expected documents are written by hand from the edit's name and the sample's own lists.
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/project/edits-power.ts';
import { edited, limits, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const feed = { run: 'sea-1', led: 13, wire: '0.75 mm2', lengthMm: 250 };

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
    leaves: (before) => ({ '/power/feeds': before.power.feeds.filter((one) => one.run !== 'tent-3') }),
  },
  {
    name: 'changeFeed',
    fact: 'moves it to another LED and leaves its wire',
    on: 'midnight-carnival',
    edit: edits.changeFeed(4, { led: 32, lengthMm: 600 }),
    leaves: () => ({ '/power/feeds/4/led': 32, '/power/feeds/4/lengthMm': 600 }),
  },
  {
    name: 'changeFeed',
    fact: 'takes the chosen fuse away',
    on: 'first-light',
    edit: edits.changeFeed(0, { fuseAmps: undefined }),
    leaves: () => ({ '/power/feeds/0/fuseAmps': undefined }),
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
