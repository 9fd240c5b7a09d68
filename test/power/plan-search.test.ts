// The parts that plans are made and judged by: the exact check against the plain rules for any plan at all, searches that leave beginnings out against ones
// that don't, and what is claimed when there is too little time.
import { expect, test } from 'vitest';
import {
  checkPlan,
  type PlanProblem,
  PlanZones,
  planModel,
  planPath,
  projectPaths,
  type ZonePlan,
} from '../../src/power/index.ts';
import { searchPlans } from '../../src/power/plan-search.ts';
import { type BrokenRule, brokenRule } from './brute-force-plan.ts';
import { buildPanel } from './build-project.ts';
import { type Dice, diceOf, randomPath } from './random-paths.ts';

/** Any set of places with any state of the free joints; one feed in a zone more often than several. */
function anyPlan(problem: PlanProblem, dice: Dice): ZonePlan[] {
  const share = dice.pick([0.2, 0.4, 0.7]);
  const zones: ZonePlan[] = [];
  let first = 0;
  for (let led = 0; led < problem.drawnAmps.length; led++) {
    const plus = problem.joints[led]?.plus ?? 'cut';
    if (plus === 'joined' || (plus === 'free' && dice.chance(0.5))) continue;
    const from = first;
    const within = [...problem.places.keys()].filter(
      (index) => problem.places[index]!.led >= from && problem.places[index]!.led <= led,
    );
    const places = within.filter(() => dice.chance(share));
    zones.push({ first, last: led, places: places.length > 0 ? places : within.slice(0, 1) });
    first = led + 1;
  }
  return zones;
}

/** Ratings as they come, so that no rule stands in another's shadow. */
const loosened = (problem: PlanProblem, dice: Dice): PlanProblem => ({
  ...problem,
  leastVolts: problem.leastVolts.map((volts) => (dice.chance(0.5) ? volts : volts - 5)),
  joints: problem.joints.map((joint) => ({
    ...joint,
    ratingAmps: dice.pick([joint.ratingAmps, 0.3, 1, 5, 30]),
  })),
  places: problem.places.map((place) => ({
    ...place,
    // Thick and thin side by side: the ground of several zones then comes back by one wire.
    wireOhms: place.wireOhms * dice.pick([0.02, 1, 1, 20]),
    ratingAmps: dice.pick([place.ratingAmps, 0.5, 2, 3, 30]),
    pointAmps: dice.pick([place.pointAmps, 0.3, 1]),
    // Also one that nobody would choose: too small for its load.
    fuseAmps: dice.chance(0.3) ? dice.pick([0.5, 1, 2, 3]) : place.fuseAmps,
  })),
});

test('the exact check holds of a plan what the plain rules say of it, whichever rule it breaks', () => {
  const told = new Map<BrokenRule | undefined, number>();
  for (let seed = 0; seed < 400; seed++) {
    const dice = diceOf(seed + 77);
    const plain = randomPath(seed + 3000);
    const problem = dice.chance(0.3) ? plain : loosened(plain, dice);
    const model = planModel(problem);
    for (let round = 0; round < 12; round++) {
      const plan = anyPlan(problem, dice);
      const broken = brokenRule(problem, plan);
      told.set(broken, (told.get(broken) ?? 0) + 1);
      expect(checkPlan(model, plan) === undefined, `path ${seed}: ${broken}`).toBe(broken !== undefined);
    }
  }
  for (const rule of [undefined, 'unfed', 'fuse', 'load', 'point', 'volts', 'rails', 'short'] as const)
    expect(told.get(rule) ?? 0, `${rule}`).toBeGreaterThan(15);
});

/** Four single LEDs of 2 A, each its own zone with a fuse of 3 A; grounds joined by next to nothing, and all but the first wire are bad. */
const commonGround = (firstWireAmps: number, railAmps: number, pointAmps: number): PlanProblem => ({
  busVolts: new Float64Array(4).fill(5),
  drawnAmps: new Float64Array(4).fill(2),
  leastVolts: new Float64Array(4).fill(-10),
  joints: Array.from({ length: 3 }, () => ({ ohms: 1e-6, ratingAmps: railAmps, plus: 'cut' as const })),
  places: Array.from({ length: 4 }, (_, led) => ({
    led,
    wireOhms: led === 0 ? 0.001 : 1,
    contactOhms: 0,
    ratingAmps: led === 0 ? firstWireAmps : 3,
    pointAmps,
    isKept: false,
    fuseKind: 'blade' as const,
    fuseAmps: undefined,
  })),
  boardAmps: undefined,
  crossingAmps: 0,
  copperFactors: [1],
});

test('ground that comes back by one wire is held against that wire, the LED where it leaves, and the rails on the way there', () => {
  const plan = [0, 1, 2, 3].map((led) => ({ first: led, last: led, places: [led] }));
  // Nearly all of the 8 A take the first wire, 6 A of them along the first rail.
  for (const [wireAmps, railAmps, pointAmps, expected] of [
    [10, 10, 10, undefined],
    [7, 10, 10, 'ground'],
    [10, 5, 10, 'ground'],
    [10, 10, 7, 'ground'],
  ] as const) {
    const problem = commonGround(wireAmps, railAmps, pointAmps);
    expect(brokenRule(problem, plan)).toBe(expected);
    expect(checkPlan(planModel(problem), plan) === undefined).toBe(expected !== undefined);
  }
  // Every LED needs its feed, so where that plan fails there is none.
  expect(planPath(commonGround(10, 10, 10), { left: 1e7 }).kind).toBe('planned');
  for (const problem of [commonGround(7, 10, 10), commonGround(10, 5, 10), commonGround(10, 10, 7)])
    expect(planPath(problem, { left: 1e7 })).toMatchObject({ kind: 'impossible', isProved: true });
});

test('beginnings that are left out would not have led to fewer feeds', () => {
  let compared = 0;
  for (let seed = 0; seed < 60; seed++) {
    const problem = randomPath(seed + 4000, 6 + (seed % 3));
    const zones = new PlanZones(planModel(problem), { left: 1e9 });
    const leastBehind = zones.leastBehind();
    if (leastBehind[0]! > problem.places.length) continue;
    const task = {
      leastBehind,
      mostCuts: Number.POSITIVE_INFINITY,
      width: 20_000,
      mostOptions: Number.POSITIVE_INFINITY,
      fineness: 'finely',
    } as const;
    // Also with volts to spare: at the most that a number of feeds can give, one wrong choice decides.
    for (let mostFeeds = leastBehind[0]!; mostFeeds < leastBehind[0]! + 3; mostFeeds++)
      for (let marginVolts = 0; marginVolts < 0.4; marginVolts += 0.01) {
        const all = searchPlans(zones, { ...task, mostFeeds, marginVolts, leavesOut: false });
        const some = searchPlans(zones, { ...task, mostFeeds, marginVolts, leavesOut: true });
        if (!all.isExhaustive || !some.isExhaustive) continue;
        expect(some.plan?.feedCount, `path ${seed}`).toBe(all.plan?.feedCount);
        compared++;
        if (!all.plan) break;
      }
  }
  expect(compared).toBeGreaterThan(200);
}, 60_000);

test('with too little time nothing is claimed that is not so', () => {
  let lost = 0;
  for (let seed = 0; seed < 60; seed++) {
    const problem = randomPath(seed + 5000, 5 + (seed % 6));
    const whole = planPath(problem, { left: 3e8 });
    for (const left of [0, 4000, 16_000, 64_000, 128_000, 256_000, 512_000, 1e6]) {
      const hurried = planPath(problem, { left });
      if (hurried.kind === 'impossible') {
        if (!hurried.isProved) lost++;
        else expect(whole.kind, `path ${seed}`).toBe('impossible');
        continue;
      }
      if (whole.kind !== 'planned' || !whole.isProved)
        throw new Error(`path ${seed} was not planned with all the time`);
      expect(hurried.least, `path ${seed}`).toBeLessThanOrEqual(whole.least);
      expect(hurried.plan.feedCount).toBeGreaterThanOrEqual(whole.least);
      expect(brokenRule(problem, hurried.plan.zones)).toBeUndefined();
      if (hurried.isProved) expect(hurried.plan.feedCount).toBe(whole.least);
    }
  }
  expect(lost).toBeGreaterThan(5);
}, 60_000);

test('a bound that is told for want of time is no higher than the fewest feeds found with more', () => {
  const { project, layout } = buildPanel({
    reel: { boardWidthMm: 12 },
    lines: [Array.from({ length: 9 }, () => ({ leds: 33, jumper: { wire: 'AWG 20', lengthMm: 60 } }))],
    supply: { volts: 5.1, place: { xMm: 280, yMm: 190 } },
  });
  let unproved = 0;
  for (const mostDropVolts of [0.2, 0.22, 0.25]) {
    const planning = { places: 'anywhere', mostDropVolts, wire: 'AWG 16' } as const;
    const tight = { ...project, power: { ...project.power, planning } };
    const [path] = projectPaths(tight, layout);
    const whole = planPath(path!.problem, { left: 3e8 });
    if (whole.kind !== 'planned') throw new Error('there is a plan');
    for (let left = 1e5; left < 1e7; left *= 1.25) {
      const hurried = planPath(path!.problem, { left });
      if (hurried.kind === 'impossible') {
        expect(hurried.isProved).toBe(false);
        continue;
      }
      expect(hurried.least).toBeLessThanOrEqual(whole.plan.feedCount);
      expect(hurried.isProved).toBe(hurried.least === hurried.plan.feedCount);
      if (!hurried.isProved) unproved++;
    }
  }
  expect(unproved).toBeGreaterThan(1);
}, 60_000);
