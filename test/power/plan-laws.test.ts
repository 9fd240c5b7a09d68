// The laws that planning leaves plans out by, on random paths and by the general network solver; and thinner wires.
import { expect, test } from 'vitest';
import { type PlanProblem, planModel, planPath, thinWires } from '../../src/power/index.ts';
import { brokenRule, railRises } from './brute-force-plan.ts';
import { diceOf, randomPath } from './random-paths.ts';

const paths = Array.from({ length: 150 }, (_, seed) => randomPath(seed + 1000)).filter(
  ({ places }) => places.length >= 2,
);

const tiesOf = (problem: PlanProblem, places: readonly number[]) =>
  places.map((index) => {
    const { led, wireOhms, contactOhms } = problem.places[index]!;
    return { led, ohms: wireOhms + contactOhms };
  });

test('adding a feed raises no rail anywhere, and no other feed carries more for it', () => {
  let [lowered, relieved] = [0, 0];
  for (const [seed, problem] of paths.entries()) {
    const dice = diceOf(seed);
    const last = problem.drawnAmps.length - 1;
    const all = [...problem.places.keys()];
    const added = dice.pick(all);
    const others = all.filter((index) => index !== added && dice.chance(0.6));
    if (others.length === 0) continue;
    const without = tiesOf(problem, others);
    const before = railRises(problem, 1, 0, last, without);
    const after = railRises(problem, 1, 0, last, [...without, ...tiesOf(problem, [added])]);
    for (let led = 0; led <= last; led++) {
      expect(after[led]!).toBeLessThanOrEqual(before[led]! + 1e-12);
      if (after[led]! < before[led]! - 1e-6) lowered++;
    }
    for (const { led, ohms } of without) {
      expect(after[led]! / ohms).toBeLessThanOrEqual(before[led]! / ohms + 1e-12);
      if (after[led]! / ohms < before[led]! / ohms - 1e-6) relieved++;
    }
  }
  expect(lowered).toBeGreaterThan(1000);
  expect(relieved).toBeGreaterThan(100);
});

test('a thicker feed wire raises no rail', () => {
  for (const problem of paths) {
    const last = problem.drawnAmps.length - 1;
    const ties = tiesOf(problem, [...problem.places.keys()]);
    const before = railRises(problem, 1, 0, last, ties);
    const [first, ...others] = ties;
    const after = railRises(problem, 1, 0, last, [{ ...first!, ohms: first!.ohms / 2 }, ...others]);
    for (let led = 0; led <= last; led++) expect(after[led]!).toBeLessThanOrEqual(before[led]! + 1e-12);
  }
});

test('joining two zones can lower an LED: why cuts are tried and not decided by a law', () => {
  // Left: 1 A through 0.01 ohm, 10 mV down. Right: 3 A through 0.1 ohm, 300 mV. Joined by 0.01 ohm, the left one helps the right one and sags.
  const problem: PlanProblem = {
    busVolts: Float64Array.from([5, 5]),
    drawnAmps: Float64Array.from([1, 3]),
    leastVolts: Float64Array.from([4, 4]),
    joints: [{ ohms: 0.01, ratingAmps: 5, plus: 'free' }],
    places: [],
    boardAmps: undefined,
    crossingAmps: 0,
    copperFactors: [1],
  };
  const apart = railRises(problem, 1, 0, 0, [{ led: 0, ohms: 0.01 }])[0]!;
  const [joined] = railRises(problem, 1, 0, 1, [
    { led: 0, ohms: 0.01 },
    { led: 1, ohms: 0.1 },
  ]);
  expect(apart).toBeCloseTo(0.01, 12);
  // Two nodes by hand: currents through 0.01 and 0.1 ohm sum to 4 A, and 10 mV per ampere lie between the nodes.
  // v1 = 0.01 a, v2 = 0.1 (4 - a), v2 - v1 = 0.01 (a - 1): a = 0.41 / 0.12.
  expect(joined).toBeCloseTo((0.01 * 0.41) / 0.12, 12);
  expect(joined!).toBeGreaterThan(apart);
});

test('the proof: with one place fewer the least number of feeds is never smaller', () => {
  for (const problem of paths.slice(0, 60)) {
    const whole = planPath(problem, { left: 1e8 });
    const free = problem.places.findIndex(({ isKept }) => !isKept);
    if (free < 0) continue;
    const fewer = planPath(
      { ...problem, places: problem.places.filter((_, index) => index !== free) },
      { left: 1e8 },
    );
    if (fewer.kind === 'planned') {
      expect(whole.kind).toBe('planned');
      if (whole.kind === 'planned') expect(whole.plan.feedCount).toBeLessThanOrEqual(fewer.plan.feedCount);
    }
  }
});

test('the plan that is told is the one that was checked: its margin, its lowest volts, and one millivolt more would fail', () => {
  for (const problem of paths) {
    const planned = planPath(problem, { left: 1e8 });
    if (planned.kind !== 'planned') continue;
    const { marginVolts, zones } = planned.plan;
    const raised = (by: number): PlanProblem => ({
      ...problem,
      leastVolts: problem.leastVolts.map((volts) => volts + marginVolts + by),
    });
    expect(brokenRule(raised(-1e-6), zones)).toBeUndefined();
    expect(brokenRule(raised(1e-6), zones)).toBe('volts');
  }
});

test('wires get as thin as every rule allows: no feed could take the next one', () => {
  let [thinner, whole] = [0, 0];
  for (const problem of paths) {
    const planned = planPath(problem, { left: 1e8 });
    if (planned.kind !== 'planned') continue;
    const choices = problem.places.map((place) =>
      place.isKept
        ? [place]
        : [0, 1, 2, 3].map((step) => ({
            wireOhms: place.wireOhms * 1.6 ** step,
            ratingAmps: place.ratingAmps * 0.65 ** step,
          })),
    );
    const withWires = (of: readonly number[]): PlanProblem => ({
      ...problem,
      places: problem.places.map((place, index) => ({ ...place, ...choices[index]![of[index]!]! })),
    });
    const thinned = thinWires(planned.model, planned.plan, choices);
    expect(brokenRule(withWires(thinned.choices), thinned.plan.zones)).toBeUndefined();
    for (const place of thinned.plan.zones.flatMap((zone) => zone.places)) {
      const choice = thinned.choices[place]!;
      if (choice > 0) thinner++;
      if (choices[place]!.length <= choice + 1) continue;
      whole++;
      const next = thinned.choices.map((one, index) => (index === place ? one + 1 : one));
      expect(brokenRule(withWires(next), thinned.plan.zones)).toBeDefined();
    }
  }
  expect(thinner).toBeGreaterThan(50);
  expect(whole).toBeGreaterThan(50);
});

test('wires stay thick enough for the fuses of other lines', () => {
  let thinner = 0;
  for (const path of paths) {
    const problem: PlanProblem = {
      ...path,
      boardAmps: 5,
      crossingAmps: 0,
      joints: path.joints.map((joint) => ({ ...joint, ratingAmps: 5 })),
      places: path.places.map((place) => ({ ...place, ratingAmps: 5, isKept: false, fuseAmps: undefined })),
    };
    const planned = planPath(problem, { left: 1e8 });
    if (planned.kind !== 'planned') continue;
    // One step down, from more than the other lines' fuses to less.
    const choices = problem.places.map((place) => [place, { wireOhms: place.wireOhms, ratingAmps: 1.9 }]);
    if (thinWires(planned.model, planned.plan, choices).choices.some((choice) => choice > 0)) thinner++;
    const crossed = planModel({ ...problem, crossingAmps: 2 });
    expect(thinWires(crossed, planned.plan, choices).choices.every((choice) => choice === 0)).toBe(true);
  }
  expect(thinner).toBeGreaterThan(20);
});
