// The plan of one path: the least number of feeds, among equals the fewest cuts, then the highest lowest volts, and what is proved of it.
// Method: the zones by themselves give a bound; plans with no more feeds than that are looked for, narrowly at first, then more widely until one is found
// or none can be; then with one more. Not here: single zones (plan-zones.ts), one search (plan-search.ts), thinner wires (plan-wires.ts).
import type { CheckedPlan } from './plan-check.ts';
import { type PlanModel, type PlanProblem, planModel } from './plan-problem.ts';
import { type SearchResult, searchPlans } from './plan-search.ts';
import { PlanZones, type Work } from './plan-zones.ts';

export type PathPlan =
  | {
      readonly kind: 'planned';
      readonly model: PlanModel;
      readonly plan: CheckedPlan;
      /** No plan has fewer feeds than this. */
      readonly least: number;
      /** Whether that is as many as this plan has. */
      readonly isProved: boolean;
    }
  | {
      readonly kind: 'impossible';
      readonly model: PlanModel;
      readonly zones: PlanZones;
      /** Whether no plan exists; otherwise none was found within the work allowed. */
      readonly isProved: boolean;
    };

/** Widths of the searches that follow one another. The last leaves nothing out and so settles what whole plans failed for. */
const searches: readonly { readonly width: number; readonly leavesOut: boolean; readonly share: number }[] = [
  { width: 12, leavesOut: true, share: 0.1 },
  { width: 120, leavesOut: true, share: 0.3 },
  { width: 2500, leavesOut: true, share: 0.6 },
  { width: 20_000, leavesOut: false, share: 0.6 },
];

/** The rounds in which the lowest volts are raised; each halves what is still open. */
const marginRounds = 7;
/** Closer than this nobody measures, volts. */
const marginStepVolts = 0.002;

/** A search with only a share of the work that is left. */
function searchWithin(
  zones: PlanZones,
  share: number,
  task: Parameters<typeof searchPlans>[1],
): SearchResult {
  const { work } = zones;
  const held = work.left * (1 - share);
  work.left -= held;
  const result = searchPlans(zones, task);
  work.left = Math.max(0, work.left) + held;
  return result;
}

/** @param work how much may be done, in LEDs swept over; about a hundred million of them are a second */
export function planPath(problem: PlanProblem, work: Work): PathPlan {
  const model = planModel(problem);
  const zones = new PlanZones(model, work);
  const leastBehind = zones.leastBehind();
  const most = problem.places.length;
  let least = leastBehind[0]!;
  const bounds = { leastBehind, mostCuts: Number.POSITIVE_INFINITY, marginVolts: 0 };
  for (let mostFeeds = least, step = 1; least <= most; mostFeeds = Math.min(most, mostFeeds + step)) {
    let isSettled = false;
    for (const { share, ...how } of searches) {
      const { plan, cuts, isExhaustive } = searchWithin(zones, share, { ...bounds, ...how, mostFeeds });
      if (plan) {
        if (isExhaustive) least = Math.max(least, plan.feedCount);
        return {
          kind: 'planned',
          model,
          plan: withMostVolts(zones, leastBehind, plan, cuts),
          least,
          isProved: plan.feedCount <= least,
        };
      }
      isSettled = isExhaustive;
      if (isSettled) break;
    }
    if (isSettled) least = mostFeeds + 1;
    if (mostFeeds >= most) break;
    if (mostFeeds - leastBehind[0]! >= 2) step *= 2;
  }
  return { kind: 'impossible', model, zones, isProved: least > most };
}

/** The same number of feeds and cuts with the lowest volts raised as far as a narrow search sees. */
function withMostVolts(
  zones: PlanZones,
  leastBehind: Float64Array,
  plan: CheckedPlan,
  mostCuts: number,
): CheckedPlan {
  const { busVolts, leastVolts } = zones.model.problem;
  let best = plan;
  let tooMuch = leastVolts.reduce(
    (least, volts) => Math.min(least, busVolts - volts),
    Number.POSITIVE_INFINITY,
  );
  for (let round = 0; round < marginRounds && tooMuch - best.marginVolts > marginStepVolts; round++) {
    const marginVolts = (best.marginVolts + tooMuch) / 2;
    const { plan: better } = searchWithin(zones, 0.2, {
      leastBehind,
      mostFeeds: plan.feedCount,
      mostCuts,
      width: 12,
      marginVolts,
      leavesOut: true,
    });
    if (better && better.marginVolts > best.marginVolts) best = better;
    else tooMuch = marginVolts;
  }
  return best;
}
