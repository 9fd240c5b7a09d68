// Every way to feed one zone, as far as the zone by itself can tell: the sets of places with which it keeps the rules while the ground rises no more
// than it would with a feed at every place of the path. So what fails here fails in every plan. Not here: which zones make a plan (plan-search.ts).
import { fuseLoadShare, fuseRatings } from '../catalogue/index.ts';
import {
  type FusedZone,
  fusedZone,
  type PlanRoom,
  roomForPlan,
  zoneDrops,
  zoneRating,
} from './plan-check.ts';
import type { PlanModel, ZonePlan } from './plan-problem.ts';

/** How much work is left, in LEDs swept over; no clock, so that the same project gives the same plan everywhere. */
export interface Work {
  left: number;
}

export interface ZoneOptions {
  /** Those that leave the zone's LEDs the most volts come first. */
  readonly options: readonly FusedZone[];
  /** Whether all sets of this many places were looked at. */
  readonly isWhole: boolean;
}

/** So many sets of places are looked at for one zone and number of feeds; beyond, an even choice among the places. */
const mostSets = { roughly: 300, finely: 6000 } as const;
export type Fineness = keyof typeof mostSets;

function setCount(from: number, take: number): number {
  let count = 1;
  for (let i = 1; i <= take; i++) count = (count * (from - take + i)) / i;
  return count;
}

/** Evenly spread over the list, its ends included. */
function thinned<T>(list: readonly T[], keep: number): T[] {
  if (keep >= list.length) return [...list];
  if (keep === 1) return [list[list.length >> 1]!];
  return Array.from({ length: keep }, (_, i) => list[Math.round((i * (list.length - 1)) / (keep - 1))]!);
}

/** All sets of `take` of the list, each in the list's order. */
function* setsOf(list: readonly number[], take: number, from = 0): Generator<number[]> {
  if (take === 0) yield [];
  else
    for (let i = from; i <= list.length - take; i++)
      for (const rest of setsOf(list, take - 1, i + 1)) yield [list[i]!, ...rest];
}

/** Zones by their stretches: from stretch `a` up to and without stretch `b`. */
export class PlanZones {
  readonly model: PlanModel;
  readonly room: PlanRoom;
  readonly work: Work;
  readonly stretchCount: number;
  /** For each stretch, where a zone that begins there may end. */
  readonly endsFrom: readonly (readonly number[])[];
  readonly #known = new Map<number, { readonly found: ZoneOptions; readonly fineness: Fineness }>();
  readonly #hopeless = new Map<number, boolean>();

  constructor(model: PlanModel, work: Work) {
    this.model = model;
    this.room = roomForPlan(model);
    this.work = work;
    this.stretchCount = model.starts.length - 1;
    this.endsFrom = Array.from({ length: this.stretchCount }, (_, a) => this.#ends(a));
  }

  /** The zone with every place in it. */
  zone(a: number, b: number): ZonePlan {
    const { starts, problem } = this.model;
    const [first, last] = [starts[a]!, starts[b]! - 1];
    const places: number[] = [];
    for (const [index, { led }] of problem.places.entries())
      if (led >= first && led <= last) places.push(index);
    return { first, last, places };
  }

  /** Ends within + joints, up to where the load is more than any fuses may pass. */
  #ends(a: number): number[] {
    const { starts, problem } = this.model;
    const ends: number[] = [];
    let load = 0;
    let rating = problem.boardAmps ?? Number.POSITIVE_INFINITY;
    for (let b = a + 1; b <= this.stretchCount; b++) {
      const before = starts[b - 1]!;
      if (b > a + 1) {
        if (problem.joints[before - 1]!.plus === 'cut') break;
        rating = Math.min(rating, problem.joints[before - 1]!.ratingAmps);
      }
      for (let led = before; led < starts[b]!; led++) {
        load += problem.drawnAmps[led]!;
        if (led + 1 < starts[b]!) rating = Math.min(rating, problem.joints[led]!.ratingAmps);
      }
      if (load > rating * fuseLoadShare * (1 + 1e-9)) break;
      ends.push(b);
    }
    return ends;
  }

  /** Whether a zone can't have its volts even with a feed at every place and no fuse in the way. */
  #isHopeless(a: number, b: number): boolean {
    const key = a * (this.stretchCount + 1) + b;
    const known = this.#hopeless.get(key);
    if (known !== undefined) return known;
    const zone = this.zone(a, b);
    const { busVolts, leastVolts, copperFactors } = this.model.problem;
    const isHopeless =
      zone.places.length === 0 ||
      copperFactors.some((_, condition) => {
        zoneDrops(this.model, zone, condition, undefined, this.room);
        const rises = this.model.leastRises[condition]!;
        for (let led = zone.first; led <= zone.last; led++)
          if (busVolts[led]! - this.room.drops[led]! - rises[led]! < leastVolts[led]!) return true;
        return false;
      });
    this.work.left -= 4 * (zone.last - zone.first + 1);
    this.#hopeless.set(key, isHopeless);
    return isHopeless;
  }

  /** Least and greatest number of feeds that are worth trying for a zone; none where the greatest is below the least. */
  feedCounts(a: number, b: number): { readonly least: number; readonly most: number } {
    const { places } = this.model.problem;
    const zone = this.zone(a, b);
    if (this.#isHopeless(a, b)) return { least: 1, most: 0 };
    const kept = zone.places.filter((index) => places[index]!.isKept).length;
    const widest = Math.max(...zone.places.map((index) => places[index]!.ratingAmps));
    const rating = Math.min(widest, zoneRating(this.model, { ...zone, places: [] }));
    const smallest = Math.min(
      ...zone.places.map((index) => places[index]!.fuseAmps ?? fuseRatings[places[index]!.fuseKind][0]!),
    );
    return {
      least: Math.max(1, kept),
      most: Math.min(zone.places.length, Math.floor(rating / smallest + 1e-9)),
    };
  }

  /** The ways to feed a zone with so many feeds, kept ones among them. What was looked at finely stays known. */
  options(a: number, b: number, feedCount: number, fineness: Fineness): ZoneOptions {
    const width = this.stretchCount + 1;
    const key = (feedCount * width + a) * width + b;
    const known = this.#known.get(key);
    if (known && (known.found.isWhole || known.fineness === 'finely' || fineness === 'roughly'))
      return known.found;
    const found = this.#lookFor(a, b, feedCount, mostSets[fineness]);
    this.#known.set(key, { found, fineness });
    return found;
  }

  #lookFor(a: number, b: number, feedCount: number, most: number): ZoneOptions {
    const { places } = this.model.problem;
    const zone = this.zone(a, b);
    const kept = zone.places.filter((index) => places[index]!.isKept);
    const free = zone.places.filter((index) => !places[index]!.isKept);
    const take = feedCount - kept.length;
    if (take < 0 || take > free.length) return { options: [], isWhole: true };
    let tried = free;
    while (setCount(tried.length, take) > most) tried = thinned(free, tried.length - 1);
    let isWhole = tried.length === free.length;
    const options: FusedZone[] = [];
    for (const set of setsOf(tried, take)) {
      if (this.work.left <= 0) {
        isWhole = false;
        break;
      }
      this.work.left -= 4 * (zone.last - zone.first + 1);
      const chosen = [...kept, ...set].sort((one, other) => one - other);
      const option = fusedZone(this.model, { ...zone, places: chosen }, this.model.leastRises, this.room);
      if (option) options.push(option);
    }
    options.sort((one, other) => other.marginVolts - one.marginVolts);
    return { options, isWhole };
  }

  /** No plan feeds this zone with fewer; Infinity where none feeds it at all. */
  leastFeeds(a: number, b: number): number {
    const { least, most } = this.feedCounts(a, b);
    for (let count = least; count <= most; count++) {
      const { options, isWhole } = this.options(a, b, count, 'finely');
      if (options.length > 0 || !isWhole) return count;
    }
    return Number.POSITIVE_INFINITY;
  }

  /** For each stretch, the least number of feeds for it and all behind it; at the end 0. */
  leastBehind(): Float64Array {
    const least = new Float64Array(this.stretchCount + 1).fill(Number.POSITIVE_INFINITY);
    least[this.stretchCount] = 0;
    for (let a = this.stretchCount - 1; a >= 0; a--)
      for (const b of this.endsFrom[a]!) least[a] = Math.min(least[a]!, this.leastFeeds(a, b) + least[b]!);
    return least;
  }
}
