// Edits of runs that know where LEDs lie. Places are worked out by hand from 60 LEDs per m, a pitch of 16.666667 mm (DESIGN: LEDs x pitch).
// And the laws that hold for any project: the same LEDs stay at the same places, on the wire, in the same areas, fed where they were.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { areaLeds, layOut } from '../../src/panel/index.ts';
import * as edits from '../../src/panel/run-edits.ts';
import { edited, limits, type Project, startHistory } from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';
import { wiredProject } from '../support/wired-project.ts';

const links = (...runs: string[]) => runs.map((run) => ({ run }));
const strip = 'ws2812b-60';

const cases: readonly EditCase[] = [
  {
    name: 'reverseRun',
    fact: 'lets data enter at the other end; parts of areas follow',
    on: 'first-light',
    edit: edits.reverseRun('sea-1'),
    // 41.66 + 13 x 16.666667
    leaves: () => ({
      '/runs/4/firstLed': { xMm: 258.326667, yMm: 154 },
      '/runs/4/arrowDeg': 180,
      '/areas/1/members/1/from': 5,
      '/areas/1/members/1/to': 13,
      '/areas/6/members/0/from': 0,
      '/areas/6/members/0/to': 0,
    }),
  },
  {
    name: 'reverseRun',
    fact: 'takes the feed along',
    on: 'first-light',
    edit: edits.reverseRun('sky-2'),
    // 175 - 8 x 16.666667
    leaves: () => ({
      '/runs/3/firstLed': { xMm: 41.666667, yMm: 70 },
      '/runs/3/arrowDeg': 0,
      '/areas/2/members/1/from': 0,
      '/areas/2/members/1/to': 2,
      '/power/feeds/0/led': 8,
    }),
  },
  {
    name: 'splitRun',
    fact: 'cuts between parts of areas',
    on: 'first-light',
    edit: edits.splitRun('sea-1', 9),
    // 41.66 + 9 x 16.666667 = 191.66
    leaves: (before) => ({
      '/runs': [
        ...before.runs.slice(0, 4),
        { ...before.runs[4], ledCount: 9 },
        { id: 'sea-1-b', firstLed: { xMm: 191.66, yMm: 154 }, arrowDeg: 0, ledCount: 5, strip },
        before.runs[5],
      ],
      '/dataLines/0/chain': links('sky-1', 'sky-3', 'tower', 'sky-2', 'sea-1', 'sea-1-b', 'sea-2'),
      '/areas/3/members/0/runs': ['sea-1', 'sea-1-b', 'sea-2'],
      '/areas/6/members': [{ kind: 'leds', run: 'sea-1-b', from: 4, to: 4 }],
      '/areas/7/members/0/runs': ['sky-1', 'sky-2', 'sky-3', 'sea-1', 'sea-1-b', 'sea-2'],
    }),
  },
  {
    name: 'splitRun',
    fact: 'cuts through a part of an area; the feed goes with its LED',
    on: {
      ...sample('first-light'),
      power: {
        supply: { volts: 5, amps: 4 },
        feeds: [{ run: 'tower', led: 2, wire: 'AWG 20', lengthMm: 100 }],
      },
    },
    edit: edits.splitRun('tower', 2),
    // Down from (215, 52): 52 + 2 x 16.666667
    leaves: (before) => ({
      '/runs': [
        ...before.runs.slice(0, 2),
        { ...before.runs[2], ledCount: 2 },
        { id: 'tower-b', firstLed: { xMm: 215, yMm: 85.333333 }, arrowDeg: 270, ledCount: 4, strip },
        ...before.runs.slice(3),
      ],
      '/dataLines/0/chain': links('sky-1', 'sky-3', 'tower', 'tower-b', 'sky-2', 'sea-1', 'sea-2'),
      '/areas/4/members': [
        { kind: 'leds', run: 'tower', from: 1, to: 1 },
        { kind: 'leds', run: 'tower-b', from: 0, to: 3 },
      ],
      '/power/feeds/0/run': 'tower-b',
      '/power/feeds/0/led': 0,
    }),
  },
  {
    name: 'turnRunAboutMiddle',
    fact: 'turns an upright run level about its middle',
    on: 'first-light',
    edit: edits.turnRunAboutMiddle('tower', 0),
    // Middle: 52 + 2.5 x 16.666667 = 93.666667; from there 41.666667 to the left.
    leaves: () => ({ '/runs/2/firstLed': { xMm: 173.333333, yMm: 93.666667 }, '/runs/2/arrowDeg': 0 }),
  },
  {
    name: 'duplicateRun',
    fact: 'puts a like run behind it, in no area by name, without a feed',
    on: 'first-light',
    edit: edits.duplicateRun('sky-2', -10, 5.5),
    leaves: (before) => ({
      '/runs': [
        ...before.runs.slice(0, 4),
        { id: 'sky-4', firstLed: { xMm: 165, yMm: 75.5 }, arrowDeg: 180, ledCount: 9, strip },
        ...before.runs.slice(4),
      ],
      '/dataLines/0/chain': links('sky-1', 'sky-3', 'tower', 'sky-2', 'sky-4', 'sea-1', 'sea-2'),
    }),
  },
];

describe('[EDIT1] edits of runs by place', () => {
  testCases(cases, edits);

  test.each([
    ['no run "nobody"', edits.reverseRun('nobody')],
    ['no place to cut run "tower" before LED 0', edits.splitRun('tower', 0)],
    ['no place to cut run "tower" before LED 6', edits.splitRun('tower', 6)],
  ])('what the document does not hold is refused: %s', (message, edit) => {
    expect(() => edited(startHistory(sample('first-light')), 'edit', edit)).toThrow(message);
  });

  test('a run split again and again gets letters, none twice', () => {
    let project = sample('first-light');
    for (const at of [13, 12, 11]) project = holdsLaws(project, 'split', edits.splitRun('sky-1', at));
    expect(project.runs.slice(0, 4).map((run) => run.id)).toEqual(['sky-1', 'sky-1-d', 'sky-1-c', 'sky-1-b']);
  });

  test('no run is split or repeated beyond the limit', () => {
    const base = sample('first-light');
    const run = { ...base.runs[0]!, ledCount: 2 };
    const filled: Project = {
      ...base,
      runs: [
        ...base.runs,
        ...Array.from({ length: limits.runs - 6 }, (_, i) => ({ ...run, id: `more-${i}` })),
      ],
    };
    expect(holdsLaws(filled, 'split', edits.splitRun('tower', 2))).toEqual(filled);
    expect(holdsLaws(filled, 'duplicate', edits.duplicateRun('tower', 1, 1))).toEqual(filled);
  });

  test('what would lie beyond all places stays as it is', () => {
    const base = sample('first-light');
    const far: Project = {
      ...base,
      runs: base.runs.map((run) => (run.id === 'sky-1' ? { ...run, firstLed: { xMm: 9990, yMm: 0 } } : run)),
    };
    expect(holdsLaws(far, 'reverse', edits.reverseRun('sky-1'))).toEqual(far);
    expect(holdsLaws(far, 'split', edits.splitRun('sky-1', 7))).toEqual(far);
    expect(holdsLaws(far, 'duplicate', edits.duplicateRun('sky-1', 20, 0))).toEqual(far);
  });
});

// ---- laws over any project ----

/** Places agree to a ten-thousandth of a millimetre: what is written is rounded to a millionth. */
const near = 1e-4;
const runs = { seed: 2207, numRuns: 120 };
const anyRun = fc.tuple(wiredProject, fc.nat(), fc.nat());

interface Spot {
  readonly xMm: number;
  readonly yMm: number;
}
const isNear = (a: Spot, b: Spot): boolean => Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) < near;

/** Where the supply is fed in. */
const feedSpots = (project: Project): Spot[] => {
  const layout = layOut(project);
  return project.power.feeds.map(
    (feed) => layout.runs.find((placed) => placed.run.id === feed.run)!.leds[feed.led]!,
  );
};

/** By area: place on the panel and along the order of each of its LEDs, in wire order. */
const areaSpots = (project: Project) => {
  const layout = layOut(project);
  return project.areas.map((area) =>
    areaLeds(layout, area).map(({ wire, place }) => ({ spot: layout.wireLeds[wire]!, place })),
  );
};

/** LEDs that lie just on the edge of a rectangle may fall on either side by the last digit; the projects here have none. */
describe('[EDIT6] the same LEDs', () => {
  test('a split leaves every LED on the wire, in its areas and fed where it was', () => {
    fc.assert(
      fc.property(anyRun, ([before, run, at]) => {
        const { id, ledCount } = before.runs[run % before.runs.length]!;
        fc.pre(ledCount > 1 && !edits.isSwapped(before, id));
        const after = holdsLaws(before, 'split', edits.splitRun(id, 1 + (at % (ledCount - 1))));
        expect(after.runs).toHaveLength(before.runs.length + 1);
        const [old, now] = [layOut(before).wireLeds, layOut(after).wireLeds];
        expect(now.length).toBe(old.length);
        expect(
          now.every(
            (led, i) => isNear(led, old[i]!) && led.spare === old[i]!.spare && led.dead === old[i]!.dead,
          ),
        ).toBe(true);
        const [oldAreas, nowAreas] = [areaSpots(before), areaSpots(after)];
        for (const [a, area] of nowAreas.entries()) {
          expect(area.length).toBe(oldAreas[a]!.length);
          for (const [i, { spot, place }] of area.entries()) {
            expect(isNear(spot, oldAreas[a]![i]!.spot)).toBe(true);
            expect(place).toBeCloseTo(oldAreas[a]![i]!.place, 5);
          }
        }
        const fed = feedSpots(before);
        expect(feedSpots(after).every((spot, i) => isNear(spot, fed[i]!))).toBe(true);
      }),
      runs,
    );
  });

  test('a reversal turns the wire order of that run around, and nothing else', () => {
    fc.assert(
      fc.property(anyRun, ([before, run]) => {
        const { id } = before.runs[run % before.runs.length]!;
        const after = holdsLaws(before, 'reverse', edits.reverseRun(id));
        const ofRun = (project: Project) => layOut(project).runs.find((one) => one.run.id === id)!.leds;
        const [old, now] = [ofRun(before).toReversed(), ofRun(after)];
        expect(
          now.every(
            (led, i) => isNear(led, old[i]!) && led.spare === old[i]!.spare && led.dead === old[i]!.dead,
          ),
        ).toBe(true);
        const others = (project: Project) => layOut(project).wireLeds.filter((led) => led.run !== id);
        expect(others(after)).toEqual(others(before));
        const [oldAreas, nowAreas] = [areaSpots(before), areaSpots(after)];
        for (const [a, area] of nowAreas.entries()) {
          expect(area.length).toBe(oldAreas[a]!.length);
          // Along the wiring the order is what turns around.
          if (before.areas[a]!.order.kind === 'wiring') continue;
          const left = [...oldAreas[a]!];
          for (const { spot, place } of area) {
            const match = left.findIndex(
              (one) => isNear(one.spot, spot) && Math.abs(one.place - place) < 1e-5,
            );
            expect(match).toBeGreaterThanOrEqual(0);
            left.splice(match, 1);
          }
        }
        const fed = feedSpots(before);
        expect(feedSpots(after).every((spot, i) => isNear(spot, fed[i]!))).toBe(true);
      }),
      runs,
    );
  });

  test('twice reversed, a run is what it was', () => {
    fc.assert(
      fc.property(anyRun, ([before, run]) => {
        const { id, firstLed, arrowDeg } = before.runs[run % before.runs.length]!;
        const once = edited(startHistory(before), 'reverse', edits.reverseRun(id)).project;
        const twice = edited(startHistory(once), 'reverse', edits.reverseRun(id)).project;
        const index = run % before.runs.length;
        expect(isNear(twice.runs[index]!.firstLed, firstLed)).toBe(true);
        expect((twice.runs[index]!.arrowDeg - arrowDeg + 720) % 360).toBeCloseTo(0, 5);
        const rest = (project: Project) => ({
          ...project,
          runs: project.runs.map(({ firstLed: _, arrowDeg: __, ...others }) => others),
        });
        expect(rest(twice)).toEqual(rest(before));
      }),
      runs,
    );
  });

  test('turned about its middle, a run keeps its middle and points where it was told', () => {
    fc.assert(
      fc.property(anyRun, fc.integer({ min: -900, max: 900 }), ([before, run], arrowDeg) => {
        const index = run % before.runs.length;
        const { id } = before.runs[index]!;
        const after = holdsLaws(before, 'turn', edits.turnRunAboutMiddle(id, arrowDeg));
        const middle = (project: Project): Spot => {
          const { leds } = layOut(project).runs[index]!;
          return {
            xMm: leds.reduce((sum, led) => sum + led.xMm, 0) / leds.length,
            yMm: leds.reduce((sum, led) => sum + led.yMm, 0) / leds.length,
          };
        };
        expect(isNear(middle(after), middle(before))).toBe(true);
        expect((after.runs[index]!.arrowDeg - arrowDeg + 3600) % 360).toBeCloseTo(0, 9);
        expect({ ...after.runs[index], firstLed: 0, arrowDeg: 0 }).toEqual({
          ...before.runs[index],
          firstLed: 0,
          arrowDeg: 0,
        });
      }),
      runs,
    );
  });
});
