// The planner's least number of feeds against trying everything, over random paths; how varied these are is checked too.
import { expect, test } from 'vitest';
import { type PlanProblem, PlanZones, planModel, planPath } from '../../src/power/index.ts';
import { brokenRule, fuseExcess, leastFeedsByTrial } from './brute-force-plan.ts';
import { mostCandidates, randomPath } from './random-paths.ts';

const plentyOfWork = () => ({ left: 2e8 });
const paths = Array.from({ length: 200 }, (_, seed) => randomPath(seed));

const plannedFeeds = (problem: PlanProblem): number | undefined => {
  const planned = planPath(problem, plentyOfWork());
  return planned.kind === 'planned' ? planned.plan.feedCount : undefined;
};

test('as many feeds as the least of all sets of places and states of + joints, and impossible where none will do', () => {
  const found = new Map<number | undefined, number>();
  let [boundByVolts, boundByAmperes, behindBound, kept, free, supplies, crossed] = [0, 0, 0, 0, 0, 0, 0];
  for (const [seed, problem] of paths.entries()) {
    expect(problem.places.length).toBeLessThanOrEqual(mostCandidates);
    const least = leastFeedsByTrial(problem);
    const planned = planPath(problem, plentyOfWork());
    const count = planned.kind === 'planned' ? planned.plan.feedCount : undefined;
    expect(count, `path ${seed}`).toBe(least);
    expect('isProved' in planned && planned.isProved, `proof of path ${seed}`).toBe(true);
    found.set(least, (found.get(least) ?? 0) + 1);
    if (problem.places.some(({ isKept }) => isKept)) kept++;
    if (problem.joints.some(({ plus }) => plus === 'free')) free++;
    if (new Set(problem.busVolts).size > 1) supplies++;
    if (problem.crossingAmps > 0 && plannedFeeds({ ...problem, crossingAmps: 0 }) !== least) crossed++;
    if (planned.kind !== 'planned') continue;
    expect(brokenRule(problem, planned.plan.zones), `path ${seed}`).toBeUndefined();
    expect(
      fuseExcess(
        problem,
        planned.plan.zones.map((zone) => ({ ...zone, fuses: zone.fuseAmps })),
      ),
    ).toBeLessThanOrEqual(0);
    const withoutVolts = { ...problem, leastVolts: problem.leastVolts.map(() => -1000) };
    if (plannedFeeds(withoutVolts)! < least!) boundByVolts++;
    const fewest = Math.max(1, problem.places.filter(({ isKept }) => isKept).length);
    if (plannedFeeds(withoutVolts)! > fewest) boundByAmperes++;
    if (new PlanZones(planModel(problem), plentyOfWork()).leastBehind()[0]! < least!) behindBound++;
  }
  // Varied enough that no rule went untried: numbers of feeds, what decided them, and answers that lie above what zones alone would need.
  const atLeast = (least: number) =>
    [...found].reduce((sum, [count, times]) => sum + (count !== undefined && count >= least ? times : 0), 0);
  expect(found.get(undefined)).toBeGreaterThan(20);
  expect(found.get(1)).toBeGreaterThan(40);
  expect(found.get(2)).toBeGreaterThan(25);
  expect(found.get(3)).toBeGreaterThan(8);
  expect(atLeast(4)).toBeGreaterThan(4);
  expect(boundByVolts).toBeGreaterThan(20);
  expect(boundByAmperes).toBeGreaterThan(20);
  expect(behindBound).toBeGreaterThan(10);
  expect(kept).toBeGreaterThan(20);
  expect(free).toBeGreaterThan(80);
  expect(supplies).toBeGreaterThan(4);
  expect(crossed).toBeGreaterThan(4);
}, 120_000);
