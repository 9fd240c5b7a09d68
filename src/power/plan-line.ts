// The plan of one path: the least number of feeds, among equals the fewest cuts, then the highest lowest volts, and what is proved of it.
// Method: the zones by themselves give a bound; plans with no more feeds than that are looked for, narrowly and with more feeds until there is one; then ever
// more widely, until the bound is raised to it or it is brought down to the bound. Not here: single zones (plan-zones.ts), one search (plan-search.ts), thinner wires (plan-wires.ts).
import type { CheckedPlan } from './plan-check.ts';
import { type PlanModel, type PlanProblem, planModel } from './plan-problem.ts';
import { type SearchResult, searchPlans } from './plan-search.ts';
import { type Fineness, PlanZones, type Work } from './plan-zones.ts';

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

/** How much a search looks at. */
interface Effort {
  readonly width: number;
  readonly mostOptions: number;
  readonly fineness: Fineness;
  readonly leavesOut: boolean;
  /** Of the work that is left, at most. */
  readonly share: number;
}

const narrow: Effort = { width: 4, mostOptions: 8, fineness: 'roughly', leavesOut: true, share: 0.1 };
const usual: Effort = { width: 12, mostOptions: 24, fineness: 'roughly', leavesOut: true, share: 0.15 };
/** One after the other until something is settled. The last leaves nothing out, and so settles what whole plans failed for. */
const efforts: readonly Effort[] = [
  narrow,
  usual,
  { width: 120, mostOptions: 200, fineness: 'finely', leavesOut: true, share: 0.15 },
  { width: 2500, mostOptions: Number.POSITIVE_INFINITY, fineness: 'finely', leavesOut: true, share: 0.4 },
  { width: 20_000, mostOptions: Number.POSITIVE_INFINITY, fineness: 'finely', leavesOut: false, share: 0.4 },
];

/** The rounds in which the lowest volts are raised; each halves what is still open. */
const marginRounds = 7;
/** Closer than this nobody measures, volts. */
const marginStepVolts = 0.002;

interface Aim {
  readonly mostFeeds: number;
  readonly mostCuts: number;
  readonly marginVolts: number;
}

/** What is known of a path while it is planned. */
class Planning {
  readonly zones: PlanZones;
  readonly #leastBehind: Float64Array;
  readonly #mostFeeds: number;
  /** No plan has fewer feeds. */
  least: number;
  best: { readonly plan: CheckedPlan; readonly cuts: number } | undefined;

  constructor(zones: PlanZones) {
    this.zones = zones;
    this.#leastBehind = zones.leastBehind();
    this.#mostFeeds = zones.model.problem.places.length;
    this.least = this.#leastBehind[0]!;
  }

  get isSettled(): boolean {
    return this.least > this.#mostFeeds || this.least === this.best?.plan.feedCount;
  }

  #search({ share, ...how }: Effort, aim: Aim): SearchResult {
    const { work } = this.zones;
    const held = work.left * (1 - share);
    work.left -= held;
    const result = searchPlans(this.zones, { ...how, ...aim, leastBehind: this.#leastBehind });
    work.left = Math.max(0, work.left) + held;
    return result;
  }

  /** Looks for a plan with at most so many feeds; whether one was found, or none can be. */
  #isDecided(mostFeeds: number, effort: Effort): boolean {
    const aim = { mostFeeds, mostCuts: Number.POSITIVE_INFINITY, marginVolts: 0 };
    const { plan, cuts, isExhaustive } = this.#search(effort, aim);
    if (plan) this.best = { plan, cuts };
    if (isExhaustive) this.least = Math.max(this.least, plan ? plan.feedCount : mostFeeds + 1);
    return plan !== undefined || isExhaustive;
  }

  /** Any plan at all: with few feeds first, then with ever more, narrowly and then more widely. */
  findAny(): void {
    for (const effort of efforts)
      for (let mostFeeds = this.least, step = 1; !this.best && !this.isSettled; step *= 2) {
        this.#isDecided(mostFeeds, effort);
        if (mostFeeds === this.#mostFeeds) break;
        mostFeeds = Math.min(this.#mostFeeds, mostFeeds + step);
      }
  }

  /** Fewer feeds, or the proof that there are none: from the bound upwards, then from the plan downwards. */
  tighten(): void {
    while (this.best && !this.isSettled)
      if (!efforts.some((effort) => this.#isDecided(this.least, effort))) break;
    while (this.best && !this.isSettled) {
      const fewer = this.best.plan.feedCount - 1;
      if (!efforts.some((effort) => this.#isDecided(fewer, effort))) break;
    }
  }

  /** The same number of feeds with ever fewer cuts, as far as the usual search sees. */
  spareCuts(): void {
    while (this.best && this.best.cuts > 0) {
      const aim = { mostFeeds: this.best.plan.feedCount, mostCuts: this.best.cuts - 1, marginVolts: 0 };
      const { plan, cuts } = this.#search(usual, aim);
      if (!plan) return;
      this.best = { plan, cuts };
    }
  }

  /** The same number of feeds and cuts with the lowest volts raised as far as the usual search sees. */
  raiseVolts(plan: CheckedPlan, mostCuts: number): CheckedPlan {
    const { busVolts, leastVolts } = this.zones.model.problem;
    let best = plan;
    let tooMuch = leastVolts.reduce(
      (least, volts, led) => Math.min(least, busVolts[led]! - volts),
      Number.POSITIVE_INFINITY,
    );
    for (let round = 0; round < marginRounds && tooMuch - best.marginVolts > marginStepVolts; round++) {
      const marginVolts = (best.marginVolts + tooMuch) / 2;
      const aim = { mostFeeds: plan.feedCount, mostCuts, marginVolts };
      const better = this.#search(usual, aim).plan;
      if (better && better.marginVolts > best.marginVolts) best = better;
      else tooMuch = marginVolts;
    }
    return best;
  }
}

/** @param work how much may be done, in LEDs swept over; about seventy million of them are a second */
export function planPath(problem: PlanProblem, work: Work): PathPlan {
  const model = planModel(problem);
  const zones = new PlanZones(model, work);
  const planning = new Planning(zones);
  planning.findAny();
  planning.tighten();
  planning.spareCuts();
  const { best, least } = planning;
  if (!best) return { kind: 'impossible', model, zones, isProved: planning.isSettled };
  const plan = planning.raiseVolts(best.plan, best.cuts);
  return { kind: 'planned', model, plan, least, isProved: plan.feedCount === least };
}
