// Edits of areas. Expected documents are written by hand from the edit's name and the sample's own lists.
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/project/edits-areas.ts';
import { type Area, edited, limits, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases, withValues } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';

const corner: Area = {
  id: 'corner',
  name: 'Corner',
  members: [
    { kind: 'rectangle', xMm: 0, yMm: 0, widthMm: 50, heightMm: 40 },
    { kind: 'leds', run: 'sky-1', from: 0, to: 2 },
  ],
  order: { kind: 'up' },
};

const cases: readonly EditCase[] = [
  {
    name: 'addArea',
    fact: 'adds it behind the others',
    on: 'first-light',
    edit: edits.addArea(corner),
    leaves: () => ({ '/areas/10': corner }),
  },
  {
    name: 'deleteArea',
    fact: 'takes the clips that play on it along, in every show',
    on: 'first-light',
    edit: edits.deleteArea('lantern'),
    // Attract row 7, game start row 2, ball lost row 1, tilt row 2 and high score row 5 hold nothing else; the tower rows of jackpot and multiball hold
    // the tower's clips as well.
    leaves: (before) => ({
      '/areas': before.areas.filter((_, i) => i !== 5),
      '/lampshows/0/rows/7/clips': [],
      '/lampshows/1/rows/2/clips': [],
      '/lampshows/2/rows/3/clips': [0, 2].map((i) => before.lampshows[2]?.rows[3]?.clips[i]),
      '/lampshows/3/rows/1/clips': [],
      '/lampshows/4/rows/2/clips': [before.lampshows[4]?.rows[2]?.clips[0]],
      '/lampshows/5/rows/2/clips': [],
      '/lampshows/6/rows/5/clips': [],
    }),
  },
  {
    name: 'deleteArea',
    fact: 'that nothing plays on touches no show',
    on: { ...sample('first-light'), areas: [...sample('first-light').areas, corner] },
    edit: edits.deleteArea('corner'),
    leaves: (before) => ({ '/areas': before.areas.slice(0, 10) }),
  },
  {
    name: 'renameArea',
    fact: 'sets the name and leaves the id',
    on: 'midnight-carnival',
    edit: edits.renameArea('wheel', 'Ferris wheel'),
    leaves: () => ({ '/areas/2/name': 'Ferris wheel' }),
  },
  {
    name: 'renameArea',
    fact: 'takes an empty name away',
    on: 'first-light',
    edit: edits.renameArea('sky', ''),
    leaves: () => ({ '/areas/0/name': undefined }),
  },
  {
    name: 'setAreaRole',
    fact: 'sets the role in the letters of an id',
    on: 'first-light',
    edit: edits.setAreaRole('sky', 'Sky, top'),
    leaves: () => ({ '/areas/0/role': 'sky-top' }),
  },
  {
    name: 'setAreaRole',
    fact: 'takes an empty role away',
    on: withValues(sample('first-light'), { '/areas/0/role': 'heaven' }),
    edit: edits.setAreaRole('sky', ' '),
    leaves: () => ({ '/areas/0/role': undefined }),
  },
  {
    name: 'setAreaMembers',
    fact: 'sets what belongs to it',
    on: 'first-light',
    edit: edits.setAreaMembers('house', corner.members),
    leaves: () => ({ '/areas/6/members': corner.members }),
  },
  {
    name: 'setAreaMembers',
    fact: 'makes an area of nothing one of no runs',
    on: 'first-light',
    edit: edits.setAreaMembers('house', []),
    leaves: () => ({ '/areas/6/members': [{ kind: 'runs', runs: [] }] }),
  },
  {
    name: 'setAreaOrder',
    fact: 'sets the order',
    on: 'first-light',
    edit: edits.setAreaOrder('sky', { kind: 'outward', centre: { xMm: 1, yMm: 2 }, reversed: true }),
    leaves: () => ({ '/areas/0/order': { kind: 'outward', centre: { xMm: 1, yMm: 2 }, reversed: true } }),
  },
];

describe('[EDIT1] edits of areas', () => {
  testCases(cases, edits);

  test.each([
    ['no area "nowhere"', edits.deleteArea('nowhere')],
    ['the id "sky" is taken', edits.addArea({ ...corner, id: 'sky' })],
    ['no run "nobody"', edits.setAreaMembers('sky', [{ kind: 'runs', runs: ['nobody'] }])],
    [
      'no LED 15 in run "sky-1"',
      edits.addArea({ ...corner, members: [{ kind: 'leds', run: 'sky-1', from: 0, to: 15 }] }),
    ],
  ])('what the document does not hold is refused: %s', (message, edit) => {
    expect(() => edited(startHistory(sample('first-light')), 'edit', edit)).toThrow(message);
  });

  test('the last area that the limit allows is added, one more is left undone', () => {
    const filled = (count: number) => ({
      ...sample('first-light'),
      areas: [
        ...sample('first-light').areas,
        ...Array.from({ length: count - 10 }, (_, i) => ({ ...corner, id: `corner-${i}` })),
      ],
    });
    expect(holdsLaws(filled(limits.areas - 1), 'addArea', edits.addArea(corner)).areas).toHaveLength(
      limits.areas,
    );
    expect(holdsLaws(filled(limits.areas), 'addArea', edits.addArea(corner)).areas).toHaveLength(
      limits.areas,
    );
  });
});
