// Edits of what was built otherwise than planned. Expected documents are written by hand from the edit's name.
import * as edits from '../../src/project/edits-as-built.ts';
import type { AsBuilt, Project } from '../../src/project/index.ts';
import { type EditCase, testCases } from '../support/edit-laws.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const plain: Project = projectOf({ runs: rowsOfStrip(90) });
const withRecord = (asBuilt: AsBuilt): Project => ({ ...plain, asBuilt });
const known = withRecord({
  runs: [
    { run: 'row-1', laidReversed: true, colourOrder: 'BGR' },
    { run: 'row-2', skipped: true },
  ],
  swaps: [
    { first: 'row-0', second: 'row-2' },
    { first: 'row-1', second: 'row-2' },
  ],
});

const cases: readonly EditCase[] = [
  {
    name: 'changeBuiltRun',
    fact: 'begins the record',
    on: plain,
    edit: edits.changeBuiltRun('row-1', { laidReversed: true }),
    leaves: () => ({ '/asBuilt': { runs: [{ run: 'row-1', laidReversed: true }], swaps: [] } }),
  },
  {
    name: 'changeBuiltRun',
    fact: 'adds to what is known of a run, and takes away',
    on: known,
    edit: edits.changeBuiltRun('row-1', { laidReversed: false, strip: 'ws2813-60' }),
    leaves: () => ({ '/asBuilt/runs/0': { run: 'row-1', colourOrder: 'BGR', strip: 'ws2813-60' } }),
  },
  {
    name: 'changeBuiltRun',
    fact: 'drops an entry that says nothing any more',
    on: known,
    edit: edits.changeBuiltRun('row-2', { skipped: undefined }),
    leaves: () => ({ '/asBuilt/runs': [{ run: 'row-1', laidReversed: true, colourOrder: 'BGR' }] }),
  },
  {
    name: 'changeBuiltRun',
    fact: 'writes nothing where nothing differs',
    on: plain,
    edit: edits.changeBuiltRun('row-2', { skipped: false }),
    leaves: () => ({}),
  },
  {
    name: 'swapBuiltRuns',
    fact: 'notes an exchange',
    on: plain,
    edit: edits.swapBuiltRuns('row-0', 'row-1'),
    leaves: () => ({ '/asBuilt': { runs: [], swaps: [{ first: 'row-0', second: 'row-1' }] } }),
  },
  {
    name: 'swapBuiltRuns',
    fact: 'takes the last exchange back when the same two are exchanged again',
    on: known,
    edit: edits.swapBuiltRuns('row-2', 'row-1'),
    leaves: () => ({ '/asBuilt/swaps': [{ first: 'row-0', second: 'row-2' }] }),
  },
  {
    name: 'swapBuiltRuns',
    fact: 'does nothing with one run',
    on: known,
    edit: edits.swapBuiltRuns('row-2', 'row-2'),
    leaves: () => ({}),
  },
  {
    name: 'removeBuiltSwap',
    fact: 'takes one exchange away',
    on: known,
    edit: edits.removeBuiltSwap(0),
    leaves: () => ({ '/asBuilt/swaps': [{ first: 'row-1', second: 'row-2' }] }),
  },
  {
    name: 'clearAsBuilt',
    fact: 'empties the record',
    on: known,
    edit: edits.clearAsBuilt,
    leaves: () => ({ '/asBuilt': { runs: [], swaps: [] } }),
  },
  {
    name: 'clearAsBuilt',
    fact: 'makes none where there is none',
    on: plain,
    edit: edits.clearAsBuilt,
    leaves: () => ({}),
  },
  {
    name: 'clearAsBuilt',
    fact: 'takes dead and bypassed LEDs from all runs, and leaves the spare ones, which are planned',
    on: {
      ...known,
      runs: plain.runs.map((run, i) => ({
        ...run,
        ...[
          { deadLeds: [3], spareLeds: [1] },
          { bypassedLeds: [0, 2] },
          { deadLeds: [1], bypassedLeds: [4] },
        ][i],
      })),
    },
    edit: edits.clearAsBuilt,
    leaves: () => ({
      '/asBuilt': { runs: [], swaps: [] },
      '/runs/0/deadLeds': undefined,
      '/runs/1/bypassedLeds': undefined,
      '/runs/2/deadLeds': undefined,
      '/runs/2/bypassedLeds': undefined,
    }),
  },
  {
    name: 'clearAsBuilt',
    fact: 'takes dead LEDs away where there is no record, and begins none',
    on: { ...plain, runs: plain.runs.map((run, i) => (i === 1 ? { ...run, deadLeds: [0] } : run)) },
    edit: edits.clearAsBuilt,
    leaves: () => ({ '/runs/1/deadLeds': undefined }),
  },
];

testCases(cases, edits);
