// Edits of several runs at once. Places are worked out by hand: strip of 60 LEDs per m has a pitch of 16.666667 mm (DESIGN: LEDs x pitch).
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/panel/group-edits.ts';
import { layOut } from '../../src/panel/index.ts';
import { reverseRun, splitRun } from '../../src/panel/run-edits.ts';
import { edited, type Project, type Run, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { projectOf } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';
import { wiredProject } from '../support/wired-project.ts';

const run = (id: string, xMm: number, yMm: number, arrowDeg: number, ledCount: number): Run => ({
  id,
  firstLed: { xMm, yMm },
  arrowDeg,
  ledCount,
  strip: 'ws2812b-60',
});
// Seven LEDs are six pitches, 100 mm, from the first to the last: middles at (150, 50) and (150, 90).
const pair: Project = projectOf({
  runs: [run('top', 100, 50, 0, 7), run('low', 200, 90, 180, 7), run('far', 400, 200, 90, 4)],
});
const split: Project = {
  ...projectOf({
    runs: [run('front', 100, 50, 0, 4), run('rest', 100 + 4000 / 60, 50, 0, 3), run('far', 400, 200, 90, 4)],
  }),
  areas: [
    { id: 'both', members: [{ kind: 'runs', runs: ['front', 'rest'] }], order: { kind: 'across' } },
    { id: 'half', members: [{ kind: 'runs', runs: ['far', 'rest'] }], order: { kind: 'across' } },
    { id: 'part', members: [{ kind: 'leds', run: 'rest', from: 1, to: 2 }], order: { kind: 'across' } },
  ],
  power: {
    supply: { volts: 5, amps: 5 },
    feeds: [{ run: 'rest', led: 2, wire: 'AWG 18', lengthMm: 300 }],
  },
};

const cases: readonly EditCase[] = [
  {
    name: 'moveRuns',
    fact: 'moves all by the same way',
    on: pair,
    edit: edits.moveRuns(['top', 'far'], 5, -3),
    leaves: () => ({
      '/runs/0/firstLed': { xMm: 105, yMm: 47 },
      '/runs/2/firstLed': { xMm: 405, yMm: 197 },
    }),
  },
  {
    name: 'moveRuns',
    fact: 'moves none where one would leave the document’s bounds',
    on: pair,
    edit: edits.moveRuns(['top', 'far'], 9700, 0),
    leaves: () => ({}),
  },
  {
    name: 'turnRuns',
    fact: 'turns a group about its middle',
    on: pair,
    // About (150, 70), a quarter counter-clockwise: (x, y) goes to (150 + (y - 70), 70 - (x - 150)).
    edit: edits.turnRuns(['top', 'low'], 90),
    leaves: () => ({
      '/runs/0/firstLed': { xMm: 130, yMm: 120 },
      '/runs/0/arrowDeg': 90,
      '/runs/1/firstLed': { xMm: 170, yMm: 20 },
      '/runs/1/arrowDeg': 270,
    }),
  },
  {
    name: 'mirrorRuns',
    fact: 'exchanges left and right about the group’s middle',
    on: pair,
    edit: edits.mirrorRuns(['top', 'low'], 'left-right'),
    leaves: () => ({
      '/runs/0/firstLed/xMm': 200,
      '/runs/0/arrowDeg': 180,
      '/runs/1/firstLed/xMm': 100,
      '/runs/1/arrowDeg': 0,
    }),
  },
  {
    name: 'mirrorRuns',
    fact: 'exchanges up and down',
    on: pair,
    edit: edits.mirrorRuns(['top', 'low'], 'up-down'),
    leaves: () => ({ '/runs/0/firstLed/yMm': 90, '/runs/1/firstLed/yMm': 50 }),
  },
  {
    name: 'copyInRows',
    fact: 'copies back and forth, each behind the one before in the chain',
    on: pair,
    edit: edits.copyInRows(['top'], 2, 0, 20, true),
    leaves: (before) => ({
      '/runs': [
        before.runs[0],
        run('top-2', 200, 70, 180, 7),
        run('top-3', 100, 90, 0, 7),
        before.runs[1],
        before.runs[2],
      ],
      '/dataLines/0/chain': ['top', 'top-2', 'top-3', 'low', 'far'].map((id) => ({ run: id })),
    }),
  },
  {
    name: 'copyInRows',
    fact: 'copies nothing that the limits have no room for',
    on: pair,
    edit: edits.copyInRows(['top'], 300, 0, 0, false),
    leaves: () => ({}),
  },
  {
    name: 'deleteRuns',
    fact: 'takes them out of the chain too',
    on: pair,
    edit: edits.deleteRuns(['top', 'far']),
    leaves: (before) => ({ '/runs': [before.runs[1]], '/dataLines/0/chain': [{ run: 'low' }] }),
  },
  {
    name: 'joinRuns',
    fact: 'makes two pieces one; areas and feeds keep their LEDs',
    on: split,
    edit: edits.joinRuns('front', 'rest'),
    leaves: (before) => ({
      '/runs': [{ ...before.runs[0], ledCount: 7 }, before.runs[2]],
      '/dataLines/0/chain': [{ run: 'front' }, { run: 'far' }],
      '/areas/0/members': [{ kind: 'runs', runs: ['front'] }],
      '/areas/1/members': [
        { kind: 'runs', runs: ['far'] },
        { kind: 'leds', run: 'front', from: 4, to: 6 },
      ],
      '/areas/2/members': [{ kind: 'leds', run: 'front', from: 5, to: 6 }],
      '/power/feeds/0': { run: 'front', led: 6, wire: 'AWG 18', lengthMm: 300 },
    }),
  },
  {
    name: 'joinRuns',
    fact: 'leaves runs alone that don’t go on from each other',
    on: pair,
    edit: edits.joinRuns('top', 'low'),
    leaves: () => ({}),
  },
];

testCases(cases, edits);

const apply = (project: Project, ...steps: Parameters<typeof edited>[2][]): Project =>
  steps.reduce((p, step) => edited(startHistory(p), 'step', step).project, project);

const places = (project: Project) =>
  layOut(project).runs.map(({ leds }) => leds.map(({ xMm, yMm }) => [xMm, yMm] as const));

/** Places agree to a thousandth of a millimetre; edits round to millionths. */
function expectSamePlaces(a: Project, b: Project): void {
  const [one, other] = [places(a), places(b)];
  expect(one.map((leds) => leds.length)).toEqual(other.map((leds) => leds.length));
  for (const [r, leds] of one.entries())
    for (const [i, [x, y]] of leds.entries()) {
      expect(Math.abs(x - other[r]![i]![0])).toBeLessThan(1e-3);
      expect(Math.abs(y - other[r]![i]![1])).toBeLessThan(1e-3);
    }
}

describe('[GRP] groups, on any project', () => {
  const someIds = (project: Project, chance: number): string[] =>
    project.runs.filter((_, i) => ((chance >> i) & 1) === 1).map(({ id }) => id);

  test('four quarter turns, two mirrorings, there and back: every LED where it was', () => {
    fc.assert(
      fc.property(wiredProject, fc.integer({ min: 1, max: 255 }), (project, chance) => {
        const ids = someIds(project, chance);
        if (ids.length === 0) return;
        const quarter = edits.turnRuns(ids, 90);
        expectSamePlaces(apply(project, quarter, quarter, quarter, quarter), project);
        for (const kind of ['left-right', 'up-down'] as const)
          expectSamePlaces(apply(project, edits.mirrorRuns(ids, kind), edits.mirrorRuns(ids, kind)), project);
        expectSamePlaces(apply(project, edits.moveRuns(ids, 7, -9), edits.moveRuns(ids, -7, 9)), project);
      }),
      { numRuns: 60, seed: seedOf(42) },
    );
  });

  test('a split run that is joined again is what it was', () => {
    fc.assert(
      fc.property(wiredProject, fc.nat(7), fc.nat(100), (project, which, cut) => {
        const chosen = project.runs[which % project.runs.length]!;
        if (chosen.ledCount < 2) return;
        const halves = apply(project, splitRun(chosen.id, 1 + (cut % (chosen.ledCount - 1))));
        const fresh = halves.runs.find((one) => !project.runs.some(({ id }) => id === one.id));
        if (!fresh) return;
        expect(edits.canJoin(halves, chosen.id, fresh.id)).toBe(true);
        const whole = holdsLaws(halves, 'join', edits.joinRuns(chosen.id, fresh.id));
        expect(whole.runs).toEqual(project.runs);
        expect(whole.dataLines).toEqual(project.dataLines);
        expect(whole.power).toEqual(project.power);
      }),
      { numRuns: 100, seed: seedOf(43) },
    );
  });
});

describe('[GRP2] ring boards', () => {
  const ring: Project = projectOf({
    runs: [{ ...run('ring', 130, 80, 90, 12), ring: { radiusMm: 30 } }],
  });
  test('twelve LEDs stand like the hours of a clock, counter-clockwise from the right', () => {
    const leds = layOut(ring).runs[0]!.leds;
    for (const [i, { xMm, yMm }] of leds.entries()) {
      const turn = (2 * Math.PI * i) / 12;
      expect(xMm).toBeCloseTo(100 + 30 * Math.cos(turn), 9);
      expect(yMm).toBeCloseTo(80 - 30 * Math.sin(turn), 9);
    }
  });
  test('turned round, the same LEDs in the other order; mirrored, clockwise', () => {
    const back = apply(ring, reverseRun('ring'));
    expect(back.runs[0]!.ring).toEqual({ radiusMm: 30, clockwise: true });
    const [forth, other] = [places(ring)[0]!, places(back)[0]!.toReversed()];
    for (const [i, [x, y]] of forth.entries()) {
      expect(other[i]![0]).toBeCloseTo(x, 5);
      expect(other[i]![1]).toBeCloseTo(y, 5);
    }
    const mirrored = places(apply(ring, edits.mirrorRuns(['ring'], 'left-right')))[0]!;
    for (const [i, [x, y]] of forth.entries()) {
      expect(mirrored[i]![0]).toBeCloseTo(200 - x, 5);
      expect(mirrored[i]![1]).toBeCloseTo(y, 5);
    }
  });
  test('its cut length is the circle’s', () => {
    expect(layOut(ring).runs[0]!.cutLengthMm).toBeCloseTo(2 * Math.PI * 30, 9);
  });
});
