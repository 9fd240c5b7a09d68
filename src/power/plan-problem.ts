// The planning of feeds as a bare problem: one path of LEDs with two rails, places where feeds may enter, and what every plan must keep.
// A path is a data line, or a fed run outside every chain. Paths meet at the supplies' terminals and at the board alone and LEDs draw constant currents, so with
// every LED fed the supplies' output drops are known and each path is planned by itself, but for two numbers: what other lines bear of its fault
// current, and what of theirs it must bear (plan-together.ts). Not here: how a project becomes such paths (plan-paths.ts).
//
// A plan names places, and cuts or joins each free + joint; a zone is a longest stretch of joined +. It keeps the rules when, in unlimited white
// and with copper cold as well as hot:
// 1. every zone has a feed; 2. every LED has at least its least volts;
// 3. each feed's fuse is the smallest of its kind that carries at 80 % what plain wires would give it; with the fuses' own cold resistance in the + wires
//    it still does; what enters at an LED and what returns there, and what returns in each ground wire, is within their ratings;
// 4. no ground rail carries more than its rating;
// 5. in any single short the fuses whose current crosses a conductor sum to at most its rating. Fault current of all fuses of the shorted zone reaches
//    every conductor of the zone from one side or the other, every ground wire of the path, and every ground rail between two ways to the supply:
//    between the path's first and last feed, or from its first LED where a lead joins that to the board, by which it reaches the other lines too,
//    and theirs this one: all its ground wires, and its ground rails from the first LED to the last feed.
//    So: a zone's fuses sum to at most each of these. The + side of the rule, and + rails in use, then hold by themselves: their current
//    is part of what those fuses pass.
import type { FuseKind } from '../catalogue/index.ts';
import { pathRises, rightOfPath } from './path-volts.ts';

/** What joins one LED to the next. */
export interface PlanJoint {
  /** Copper at 20 C. */
  readonly ohms: number;
  /** Of each of its two conductors. */
  readonly ratingAmps: number;
  /** Whether + is joined there; free: planning decides. Ground always is. */
  readonly plus: 'joined' | 'cut' | 'free';
}

/** Where a feed may enter, or a kept one does. Several kept ones may share an LED. */
export interface PlanPlace {
  readonly led: number;
  /** One conductor at 20 C. */
  readonly wireOhms: number;
  /** One contact of the plug; not copper, so no warmer. */
  readonly contactOhms: number;
  /** The lesser of wire and plug. */
  readonly ratingAmps: number;
  /** What may enter the strip at that LED, and what may leave it there on ground. */
  readonly pointAmps: number;
  readonly isKept: boolean;
  readonly fuseKind: FuseKind;
  /** The fuse of a kept feed that has one already; undefined: chosen. */
  readonly fuseAmps: number | undefined;
}

export interface PlanProblem {
  /** By LED, where its feeds begin: its supply's volts less the output drop. They differ only across + joints that are cut. */
  readonly busVolts: Float64Array;
  /** By LED, in the order of the path. */
  readonly drawnAmps: Float64Array;
  readonly leastVolts: Float64Array;
  /** One fewer than there are LEDs. */
  readonly joints: readonly PlanJoint[];
  /** By rising LED. */
  readonly places: readonly PlanPlace[];
  /**
   * The first LED's ground is joined to the board's, and so to the supply's and to other lines': the least rating of all that fault current meets
   * there. Undefined for a run outside every chain.
   */
  readonly boardAmps: number | undefined;
  /** What the fuses of other lines may send into this path's ground by the board; 0 where there is nothing of the kind. */
  readonly crossingAmps: number;
  /** Copper's resistance against 20 C, rising; every rule holds at each of them. */
  readonly copperFactors: readonly number[];
}

/** One zone of a plan: LEDs from first to last, and indices of its places, rising. */
export interface ZonePlan {
  readonly first: number;
  readonly last: number;
  readonly places: readonly number[];
}

/** A problem with what is worked out of it once. */
export interface PlanModel {
  readonly problem: PlanProblem;
  readonly ledCount: number;
  /** First LED of each stretch that no plan divides, and at the end the number of LEDs. */
  readonly starts: readonly number[];
  /** By copper factor and joint; a 0 behind the last LED. */
  readonly ohms: readonly Float64Array[];
  /** By copper factor and LED: the ground's rise with a feed at every place; no plan has less. */
  readonly leastRises: readonly Float64Array[];
  /** By LED, at the last copper factor: what lies behind the joint to its right as seen from it, with a feed at every place. */
  readonly right: { readonly siemens: Float64Array; readonly amps: Float64Array };
}

/** A feed's conductor at a copper factor, ohms. */
export const feedOhms = ({ wireOhms, contactOhms }: PlanPlace, copperFactor: number): number =>
  wireOhms * copperFactor + contactOhms;

export function planModel(problem: PlanProblem): PlanModel {
  const { joints, places, drawnAmps, copperFactors } = problem;
  const ledCount = drawnAmps.length;
  const ohms = copperFactors.map((factor) =>
    Float64Array.from(drawnAmps, (_, joint) => (joints[joint]?.ohms ?? 0) * factor),
  );
  const ties = copperFactors.map((factor) => {
    const siemens = new Float64Array(ledCount);
    for (const place of places) siemens[place.led]! += 1 / feedOhms(place, factor);
    return siemens;
  });
  const hottest = copperFactors.length - 1;
  return {
    problem,
    ledCount,
    starts: [0, ...joints.flatMap(({ plus }, joint) => (plus === 'joined' ? [] : [joint + 1])), ledCount],
    ohms,
    leastRises: copperFactors.map((_, at) => {
      const rises = new Float64Array(ledCount);
      if (places.length > 0) pathRises(0, ledCount - 1, ohms[at]!, drawnAmps, ties[at]!, rises);
      return rises;
    }),
    right: rightOfPath(ohms[hottest]!, drawnAmps, ties[hottest]!),
  };
}
