// Plans of one path out of its zones' options, from the first stretch to the last. What a beginning means for the rest is only how its ground looks from
// there: one conductor to the supply, one current, and how far the ground may rise before an LED or a wire of the beginning has too little. Of two
// beginnings the one that is no worse in all of these (and in feeds, cuts, fuses and ratings) makes the other needless.
// Left out here, and checked of whole plans by plan-check.ts: copper that is cold, and ground rails that carry too much to the right, where a lower rise
// behind could be the worse one. Plans that fail for these are told apart, so that nothing is called impossible on their account.
import { type CheckedPlan, checkPlan, crossedRating, type FusedZone, zoneDrops } from './plan-check.ts';
import { feedOhms } from './plan-problem.ts';
import type { Fineness, PlanZones } from './plan-zones.ts';

/** The beginning of a plan, up to some stretch, seen at its last LED. */
interface Beginning {
  readonly feeds: number;
  readonly cuts: number;
  readonly siemens: number;
  readonly amps: number;
  /** The ground at its last LED may rise by so much. */
  readonly mostRise: number;
  /** By how much that is more than it must rise. */
  readonly slack: number;
  /** The greatest sum of fuses of a zone; 0 where it is below every rating of the path anyway. */
  readonly fusesAmps: number;
  /** The least rating of ground wires, and of ground rails that every zone's fault current reaches. */
  readonly ratingAmps: number;
  readonly before: Beginning | undefined;
  readonly zone: FusedZone | undefined;
}

export interface SearchTask {
  /** By stretch: no plan feeds it and all behind it with fewer. */
  readonly leastBehind: Float64Array;
  readonly mostFeeds: number;
  readonly mostCuts: number;
  /** Beginnings kept at each stretch, by number of feeds. */
  readonly width: number;
  /** Ways to feed a zone with so many feeds that are tried, the best first. */
  readonly mostOptions: number;
  /** How many sets of places these are chosen from. */
  readonly fineness: Fineness;
  /** Every LED must have its least volts and so much more. */
  readonly marginVolts: number;
  /** Whether beginnings that are no better than another are left out. */
  readonly leavesOut: boolean;
}

export interface SearchResult {
  readonly plan: CheckedPlan | undefined;
  readonly cuts: number;
  /** Whether no plan within the task's bounds has fewer feeds: none at all where none was found. */
  readonly isExhaustive: boolean;
}

/** So many whole plans are checked in one search. */
const mostChecks = 60;
/** Far above what adding up in another order changes, far below anything that matters, volts. */
const tinyVolts = 1e-9;
/** A beginning compared costs about as much as so many LEDs swept over. */
const comparison = 0.25;

const isNoWorse = (one: Beginning, than: Beginning): boolean =>
  one.feeds <= than.feeds &&
  one.cuts <= than.cuts &&
  one.siemens >= than.siemens &&
  one.amps <= than.amps &&
  one.mostRise >= than.mostRise &&
  one.fusesAmps <= than.fusesAmps &&
  one.ratingAmps >= than.ratingAmps;

/** Slack before cuts: a beginning that barely holds seldom goes on. */
const byPromise = (one: Beginning, other: Beginning): number =>
  one.feeds - other.feeds || other.slack - one.slack || one.cuts - other.cuts;
const byWorth = (one: Beginning, other: Beginning): number =>
  one.feeds - other.feeds || one.cuts - other.cuts || other.slack - one.slack;

const nothingYet: Beginning = {
  feeds: 0,
  cuts: 0,
  siemens: 0,
  amps: 0,
  mostRise: Number.POSITIVE_INFINITY,
  slack: Number.POSITIVE_INFINITY,
  fusesAmps: 0,
  ratingAmps: Number.POSITIVE_INFINITY,
  before: undefined,
  zone: undefined,
};

/** What one option of a zone asks of the ground, ready to be put behind any beginning. */
class GroundOfZone {
  readonly #zones: PlanZones;
  readonly #ties: Float64Array;
  readonly #mostRises: Float64Array;
  #option: FusedZone | undefined;

  constructor(zones: PlanZones) {
    this.#zones = zones;
    this.#ties = new Float64Array(zones.model.ledCount);
    this.#mostRises = new Float64Array(zones.model.ledCount);
  }

  take(option: FusedZone, marginVolts: number): void {
    const { model, room } = this.#zones;
    const { busVolts, leastVolts, places, copperFactors } = model.problem;
    const hottest = copperFactors.length - 1;
    this.#option = option;
    zoneDrops(model, option, hottest, option.fuseAmps, room);
    for (let led = option.first; led <= option.last; led++) {
      this.#ties[led] = 0;
      this.#mostRises[led] = busVolts[led]! - room.drops[led]! - leastVolts[led]! - marginVolts;
    }
    for (const index of option.places) {
      const place = places[index]!;
      const ohms = feedOhms(place, copperFactors[hottest]!);
      this.#ties[place.led]! += 1 / ohms;
      this.#mostRises[place.led] = Math.min(
        this.#mostRises[place.led]!,
        place.ratingAmps * ohms,
        place.pointAmps / this.#ties[place.led]!,
      );
    }
  }

  /** The beginning with this zone behind it; undefined where it can't be. */
  behind(beginning: Beginning, cuts: number, leastRating: number): Beginning | undefined {
    const { model } = this.#zones;
    const option = this.#option!;
    const { joints, drawnAmps } = model.problem;
    const ratingAmps = Math.min(beginning.ratingAmps, crossedRating(model, option));
    const fusesAmps = Math.max(beginning.fusesAmps, option.fusesAmps);
    if (fusesAmps > ratingAmps) return undefined;
    const ohms = model.ohms.at(-1)!;
    const { right } = model;
    let { siemens, amps, mostRise } = beginning;
    let leastRise = 0;
    for (let led = option.first; led <= option.last; led++) {
      if (led > 0) {
        const jointOhms = ohms[led - 1]!;
        const share = 1 + siemens * jointOhms;
        mostRise = mostRise * share - amps * jointOhms;
        // What comes in from the right must not be more than the rail's rating.
        if (siemens > 0)
          mostRise = Math.min(mostRise, (amps + joints[led - 1]!.ratingAmps * share) / siemens);
        siemens /= share;
        amps /= share;
      }
      siemens += this.#ties[led]!;
      amps += drawnAmps[led]!;
      mostRise = Math.min(mostRise, this.#mostRises[led]!);
      leastRise = (amps + right.amps[led]!) / (siemens + right.siemens[led]!);
      if (leastRise > mostRise + tinyVolts) return undefined;
    }
    return {
      feeds: beginning.feeds + option.places.length,
      cuts,
      siemens,
      amps,
      mostRise,
      slack: mostRise - leastRise,
      fusesAmps: fusesAmps <= leastRating ? 0 : fusesAmps,
      ratingAmps,
      before: beginning,
      zone: option,
    };
  }
}

/** The most promising, needless ones left out, up to `width` for each number of feeds; whether all were kept that should be. */
function sifted(
  list: Beginning[],
  { width, leavesOut }: SearchTask,
  zones: PlanZones,
): { readonly kept: readonly Beginning[]; readonly isWhole: boolean } {
  list.sort(byPromise);
  const kept: Beginning[] = [];
  let isWhole = true;
  let withAsMany = 0;
  for (const [index, one] of list.entries()) {
    if (index === 0 || list[index - 1]!.feeds !== one.feeds) withAsMany = 0;
    if (withAsMany >= width) {
      isWhole &&= leavesOut && kept.some((other) => isNoWorse(other, one));
      continue;
    }
    if (leavesOut) {
      zones.work.left -= comparison * kept.length;
      if (kept.some((other) => isNoWorse(other, one))) continue;
    }
    kept.push(one);
    withAsMany++;
  }
  return { kept, isWhole };
}

function zonesOf(beginning: Beginning): FusedZone[] {
  const list: FusedZone[] = [];
  for (let at: Beginning | undefined = beginning; at?.zone; at = at.before) list.unshift(at.zone);
  return list;
}

/** Whether + at the joint before this stretch is cut by the plan's choice. */
const isFreeBefore = ({ model }: PlanZones, stretch: number): boolean =>
  stretch > 0 && model.problem.joints[model.starts[stretch]! - 1]!.plus === 'free';

/** The plan with the least feeds, then the fewest cuts, then the most volts that it comes upon. */
export function searchPlans(zones: PlanZones, task: SearchTask): SearchResult {
  const { stretchCount, endsFrom, model } = zones;
  const { leastBehind, mostFeeds, mostCuts, mostOptions, marginVolts } = task;
  const { joints, places } = model.problem;
  const ratingOf = ({ ratingAmps }: { readonly ratingAmps: number }) => ratingAmps;
  const leastRating = Math.min(...joints.map(ratingOf), ...places.map(ratingOf));
  const ground = new GroundOfZone(zones);
  const waiting: Beginning[][] = Array.from({ length: stretchCount + 1 }, () => []);
  waiting[0]!.push(nothingYet);
  let isExhaustive = true;
  for (let a = 0; a < stretchCount; a++) {
    const { kept, isWhole } = sifted(waiting[a]!, task, zones);
    waiting[a] = [];
    isExhaustive &&= isWhole;
    if (kept.length === 0) continue;
    const fewest = kept[0]!.feeds;
    for (const b of endsFrom[a]!) {
      const { least, most } = zones.feedCounts(a, b);
      for (let count = least; count <= most; count++) {
        const room = mostFeeds - leastBehind[b]! - count;
        if (room < fewest) break;
        const { options, isWhole: areAll } = zones.options(a, b, count, task.fineness);
        isExhaustive &&= areAll && options.length <= mostOptions;
        for (const option of options.slice(0, mostOptions)) {
          ground.take(option, marginVolts);
          for (const beginning of kept) {
            if (beginning.feeds > room) continue;
            const cuts = beginning.cuts + (isFreeBefore(zones, a) ? 1 : 0);
            if (cuts > mostCuts) continue;
            zones.work.left -= option.last - option.first + 1;
            const next = ground.behind(beginning, cuts, leastRating);
            if (next) waiting[b]!.push(next);
          }
          if (zones.work.left <= 0) return finish(zones, task, waiting[stretchCount]!, false);
        }
      }
    }
  }
  return finish(zones, task, waiting[stretchCount]!, isExhaustive);
}

function finish(
  zones: PlanZones,
  { marginVolts, leavesOut }: SearchTask,
  whole: Beginning[],
  isExhaustive: boolean,
): SearchResult {
  whole.sort(byWorth);
  for (const [index, one] of whole.entries()) {
    if (leavesOut ? index >= mostChecks : zones.work.left <= 0)
      return { plan: undefined, cuts: 0, isExhaustive: false };
    zones.work.left -= 8 * zones.model.ledCount;
    const plan = checkPlan(zones.model, zonesOf(one), zones.room);
    if (plan && plan.marginVolts >= marginVolts) {
      // One with fewer feeds that failed may have made another needless that would not.
      const isLeast = !leavesOut || whole[0]!.feeds === one.feeds;
      return { plan, cuts: one.cuts, isExhaustive: isExhaustive && isLeast };
    }
  }
  return { plan: undefined, cuts: 0, isExhaustive: isExhaustive && (whole.length === 0 || !leavesOut) };
}
