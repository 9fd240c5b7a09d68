// Random paths to plan feeds for: strips of 10 and 12 mm, good and bad rails, thin and thick wire, both kinds of fuses, kept places, + joints that are
// fixed or free, several supplies, fuses of other lines that reach the ground. Tight enough that volts decide in many and amperes in others. The same numbers in every run.
import { type FuseKind, fuseRatings, wires } from '../../src/catalogue/index.ts';
import { type PlanJoint, type PlanPlace, type PlanProblem, railAmps } from '../../src/power/index.ts';

export interface Dice {
  /** From 0 up to 1. */
  next(): number;
  between(least: number, most: number): number;
  whole(least: number, most: number): number;
  pick<T>(list: readonly T[]): T;
  chance(share: number): boolean;
}

/** A linear congruential generator, as in test/bench: only its variety matters. */
export function diceOf(seed: number): Dice {
  let state = Math.imul(seed + 1, 2654435761) >>> 0;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return {
    next,
    between: (least, most) => least + (most - least) * next(),
    whole: (least, most) => least + Math.floor((most - least + 1) * next()),
    pick: (list) => list[Math.floor(list.length * next())]!,
    chance: (share) => next() < share,
  };
}

export const mostCandidates = 12;

/** @param runCount how many runs; 1 to 5 where absent */
export function randomPath(seed: number, runCount?: number): PlanProblem {
  const dice = diceOf(seed);
  for (let i = 0; i < 5; i++) dice.next();
  const runs = Array.from({ length: runCount ?? dice.whole(1, 5) }, () => dice.whole(2, 8));
  const boardWidthMm = dice.pick([10, 12]);
  const pitchOhms = (dice.pick([0.02, 0.1, 0.25, 1]) * dice.between(0.7, 1.3)) / dice.pick([15, 30]);
  const milliamps = dice.pick([20, 60, 100, 200]) * dice.between(0.7, 1.2);
  const isTube = dice.chance(0.4);
  const kind: FuseKind = isTube ? 'tube' : 'blade';
  const mayCut = dice.chance(0.75);
  // Thin wire between runs that stay joined would leave most paths without any plan.
  const jumperWire = dice.pick(
    wires.filter(({ designAmps }) => designAmps >= (mayCut && dice.chance(0.3) ? 0.4 : 3)),
  );
  const joints: PlanJoint[] = [];
  const drawnAmps: number[] = [];
  const leastVolts: number[] = [];
  const candidates: { led: number; isInside: boolean }[] = [];
  const mostDrop = dice.pick([0.1, 0.15, 0.25, 0.4, 0.6]) * dice.between(0.6, 1.4);
  for (const [run, ledCount] of runs.entries()) {
    const first = drawnAmps.length;
    if (run > 0)
      joints.push({
        ohms: pitchOhms + (jumperWire.ohmPerKm * dice.between(20, 600)) / 1e6,
        ratingAmps: jumperWire.designAmps,
        plus: mayCut ? 'free' : dice.pick(['joined', 'joined', 'cut']),
      });
    for (let led = 0; led < ledCount; led++) {
      if (led > 0) joints.push({ ohms: pitchOhms, ratingAmps: railAmps({ boardWidthMm }), plus: 'joined' });
      drawnAmps.push((milliamps * dice.between(0.9, 1.1)) / 1000);
      leastVolts.push(5 - mostDrop);
    }
    candidates.push({ led: first, isInside: false }, { led: first + ledCount - 1, isInside: false });
    if (dice.chance(0.3)) candidates.push({ led: first + (ledCount >> 1), isInside: ledCount > 2 });
  }
  const wire = dice.pick(
    wires.filter(({ designAmps }) => designAmps >= (isTube && dice.chance(0.3) ? 0.7 : 3)),
  );
  const kept = dice.chance(0.2) ? dice.whole(1, 2) : 0;
  const places = candidates
    .filter(() => dice.chance(0.92))
    .slice(0, runCount === undefined ? mostCandidates : undefined)
    .map(({ led, isInside }, index): PlanPlace => {
      const isKept = index < kept;
      return {
        led,
        wireOhms: (wire.ohmPerKm * dice.between(100, 1500)) / 1e6,
        contactOhms: dice.pick([0, 0, 0.02]),
        ratingAmps: Math.min(wire.designAmps, dice.pick([Number.POSITIVE_INFINITY, 10, 3, 3])),
        pointAmps: railAmps({ boardWidthMm }) * (isInside ? 2 : 1),
        isKept,
        fuseKind: kind,
        fuseAmps: isKept && dice.chance(0.4) ? dice.pick(fuseRatings[kind].slice(0, 8)) : undefined,
      };
    })
    .sort((a, b) => a.led - b.led);
  const busVolts = new Float64Array(drawnAmps.length).fill(5 - dice.pick([0, 0.01, 0.03]));
  const boardAmps = dice.chance(0.6) ? dice.pick([5, 5, 3, 3, 2]) : undefined;
  const copperFactors = dice.chance(0.8) ? [1, 1.1179] : [1];
  // Behind a joint that is cut another supply may begin: with less or more to spare, or of quite other volts.
  for (const [joint, { plus }] of joints.entries())
    if (plus === 'cut' && dice.chance(0.5)) {
      const [more, spare] = dice.pick([
        [0.05, 0.05],
        [-0.05, -0.05],
        [7, 0],
      ] as const);
      for (let led = joint + 1; led < drawnAmps.length; led++) {
        busVolts[led]! += more;
        leastVolts[led]! += more - spare;
      }
    }
  return {
    busVolts,
    drawnAmps: Float64Array.from(drawnAmps),
    leastVolts: Float64Array.from(leastVolts),
    joints,
    places,
    boardAmps,
    crossingAmps: boardAmps !== undefined && dice.chance(0.6) ? Math.min(boardAmps, dice.pick([2, 3, 5])) : 0,
    copperFactors,
  };
}
