// Plans of data lines whose grounds meet at the board. A short on one of them sends its zone's fuses through what the others give to that current: their
// ground wires, and their ground rails from the first LED to the last feed. So all lines are bound by one number: no zone's fuses come to more than it, and nothing
// that they reach carries less. For each such number every line is planned by itself again, and the numbers that matter are the ratings of conductors:
// of any sound plans, take the least rating that they reach. The least sum over these is the least of all.
// Most often the lines' own best plans go together as they are, and nothing of that is needed. Not here: one line (plan-line.ts).
import { mostFusesAmps, pathRating } from './plan-check.ts';
import { type PathPlan, planPath } from './plan-line.ts';
import type { PlanProblem } from './plan-problem.ts';

export type PlannedPath = Extract<PathPlan, { kind: 'planned' }>;

export type LinesPlan =
  | {
      readonly kind: 'planned';
      /** By line; `least` and `isProved` are of that line in any plan of all. */
      readonly plans: readonly PlannedPath[];
      /** No plans of all lines have fewer feeds together. */
      readonly least: number;
    }
  /** Lines that can't be fed, or weren't within the work allowed, even if no other line were there; the others' plans are left out of account. */
  | { readonly kind: 'impossible-apart'; readonly plans: readonly PathPlan[] }
  /** Each can be fed, but no plans were found that go together. */
  | {
      readonly kind: 'impossible-together';
      readonly isProved: boolean;
      /** Of the lines' best plans: the greatest sum of fuses, and the least that it reaches, A. */
      readonly fusesAmps: number;
      readonly ratingAmps: number;
    };

/** While lines are planned together, what each may do by itself. */
const shareApart = 0.5;

const isPlanned = (plan: PathPlan): plan is PlannedPath => plan.kind === 'planned';
const feedsOf = (plans: readonly PlannedPath[]): number =>
  plans.reduce((sum, { plan }) => sum + plan.feedCount, 0);
const zonesOf = (plans: readonly PlannedPath[]): number =>
  plans.reduce((sum, { plan }) => sum + plan.zones.length, 0);
const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

export const fusesOfPlans = (plans: readonly PlannedPath[]): number =>
  Math.max(...plans.map(({ plan }) => mostFusesAmps(plan.zones)));
const ratingOfPlans = (plans: readonly PlannedPath[]): number =>
  Math.min(...plans.map(({ model, plan }) => pathRating(model, plan.zones)));

/** What a line comes to under one bound, and how many feeds it takes at least: none can do with fewer; Infinity where none can do at all. */
interface Bounded {
  readonly plan: PlannedPath | undefined;
  readonly least: number;
}

function planWithin(apart: PlannedPath, boundAmps: number, work: number): Bounded {
  const { plan, least, model } = apart;
  if (mostFusesAmps(plan.zones) <= boundAmps && pathRating(model, plan.zones) >= boundAmps)
    return { plan: apart, least };
  const { problem } = model;
  const boardAmps = Math.min(boundAmps, problem.boardAmps ?? boundAmps);
  const planned = planPath({ ...problem, boardAmps, crossingAmps: boundAmps }, { left: work });
  if (isPlanned(planned)) return { plan: planned, least: Math.max(least, planned.least) };
  return { plan: undefined, least: planned.isProved ? Number.POSITIVE_INFINITY : least };
}

/** Every rating that may be the least of all that lines give to each other's fault current, rising. */
function boundsOf(problems: readonly PlanProblem[]): number[] {
  const board = Math.min(...problems.map(({ boardAmps }) => boardAmps ?? Number.POSITIVE_INFINITY));
  const ratings = problems.flatMap(({ joints, places }) =>
    [...joints, ...places].map(({ ratingAmps }) => ratingAmps),
  );
  return [...new Set([board, ...ratings])].filter((amps) => amps <= board).sort((a, b) => a - b);
}

/**
 * @param problems of data lines, with what fault current meets on its way by the board beside the lines themselves, and nothing crossing
 * @param work for each, in LEDs swept over
 */
export function planTogether(problems: readonly PlanProblem[], work: readonly number[]): LinesPlan {
  const isAlone = problems.length === 1;
  const plans = problems.map((problem, line) =>
    planPath(problem, { left: work[line]! * (isAlone ? 1 : shareApart) }),
  );
  const apart = plans.filter(isPlanned);
  if (apart.length < plans.length) return { kind: 'impossible-apart', plans };
  const leastApart = sumOf(apart.map(({ least }) => least));
  const [fusesAmps, ratingAmps] = [fusesOfPlans(apart), ratingOfPlans(apart)];
  if (isAlone || fusesAmps <= ratingAmps) return { kind: 'planned', plans: apart, least: leastApart };

  const bounds = boundsOf(problems);
  let best: readonly PlannedPath[] | undefined;
  let least = Number.POSITIVE_INFINITY;
  const leastOfLine = apart.map(() => Number.POSITIVE_INFINITY);
  for (const boundAmps of bounds) {
    const leasts = apart.map((one) => one.least);
    const found: (PlannedPath | undefined)[] = [];
    for (const [line, one] of apart.entries()) {
      // No fewer feeds than there are: left alone, and its bound with it.
      if (best && sumOf(leasts) >= feedsOf(best)) break;
      const bounded = planWithin(one, boundAmps, (work[line]! * (1 - shareApart)) / bounds.length);
      leasts[line] = bounded.least;
      found.push(bounded.plan);
    }
    const all = found.filter((plan) => plan !== undefined);
    least = Math.min(least, sumOf(leasts));
    if (sumOf(leasts) < Number.POSITIVE_INFINITY)
      for (const [line, one] of leasts.entries()) leastOfLine[line] = Math.min(leastOfLine[line]!, one);
    if (all.length < apart.length) continue;
    const fewer = best ? feedsOf(all) - feedsOf(best) || zonesOf(all) - zonesOf(best) : -1;
    if (fewer < 0) best = all;
  }
  if (!best)
    return {
      kind: 'impossible-together',
      isProved: least === Number.POSITIVE_INFINITY,
      fusesAmps,
      ratingAmps,
    };
  return {
    kind: 'planned',
    plans: best.map((plan, line) => ({
      ...plan,
      least: leastOfLine[line]!,
      isProved: plan.plan.feedCount === leastOfLine[line],
    })),
    least,
  };
}
