// Why a path can't be fed as planning may do it: which runs, which limit, and how to mend it, as data and in one sentence.
// Each stretch that no zone can hold is looked at by itself: first what no feed can change, then what other wires, fuses or places would.
import { fuseLoadShare } from '../catalogue/index.ts';
import { supplyVoltsWrong } from './findings-supplies.ts';
import { amps, volts } from './findings-words.ts';
import { zoneDrops, zoneRating } from './plan-check.ts';
import type { PathPlan } from './plan-line.ts';
import type { ProjectPath } from './plan-paths.ts';
import { type PlanModel, type PlanProblem, planModel } from './plan-problem.ts';
import type { SupplyFault } from './plan-supplies.ts';
import type { LinesPlan } from './plan-together.ts';
import { PlanZones } from './plan-zones.ts';

export type ReasonKind =
  /** No place is allowed in these runs. */
  | 'no-place'
  /** They draw more than fuses that protect their rails may carry. */
  | 'too-much-load'
  /** An LED has too few volts even with a feed at every place. */
  | 'too-few-volts'
  /** Thicker wires or larger plugs would do. */
  | 'thin-feeds'
  /** Kept feeds stand in the way. */
  | 'kept-feeds'
  /** No choice of places has fuses that suit their loads and the rails. */
  | 'fuses'
  /** With few feeds volts are too low; with more, fuses come to more than a conductor carries. */
  | 'volts-or-fuses'
  /** None was found in the time allowed, and none is proved impossible. */
  | 'not-found'
  | 'several-supplies'
  /** + stays joined between strips for different volts. */
  | 'several-volts'
  /** A strip is not made for its supply. */
  | 'wrong-supply'
  /** Each data line could be fed, but a short on one would send too much through another's ground. */
  | 'lines-together'
  | 'too-many-feeds';

export interface PlanReason {
  readonly kind: ReasonKind;
  /** Index of the data line; undefined for a run outside every chain, and for the panel as a whole. */
  readonly line: number | undefined;
  readonly runs: readonly string[];
  /** Where volts are too few. */
  readonly at?: { readonly run: string; readonly led: number };
  /** What there is, and what may or must be: amperes, volts or feeds, by kind. */
  readonly value?: number;
  readonly limit?: number;
  readonly message: string;
  readonly mend: string;
}

/** Runs by what they are called, not by their ids. */
function named(names: readonly string[]): string {
  const [first, ...others] = names.map((name) => `"${name}"`);
  if (others.length === 0) return `Run ${first}`;
  return others.length < 3
    ? `Runs ${[first, ...others.slice(0, -1)].join(', ')} and ${others.at(-1)}`
    : `Runs ${first} to ${others.at(-1)}`;
}
const inside = (names: readonly string[]): string => named(names).replace(/^R/, 'r');
const has = (runs: readonly string[], one: string, several: string): string =>
  runs.length === 1 ? one : several;

/** What a run is called, by its id. */
export type RunTitles = (run: string) => string;

/** What the document asks of supplies and strips that no plan can give. */
export function supplyReason(line: number | undefined, fault: SupplyFault, titleOf: RunTitles): PlanReason {
  const { kind, runs } = fault;
  const names = runs.map(titleOf);
  switch (fault.kind) {
    case 'several-supplies':
      return {
        kind,
        line,
        runs,
        message: `${named(names)} ${has(runs, 'has', 'have')} kept feeds from more than one supply.`,
        mend: 'Keep feeds of one supply where + is joined, or let planning move the others.',
      };
    case 'several-volts':
      return {
        kind,
        line,
        runs,
        message: `+ is joined between ${inside(names)}, whose strips are for ${fault.volts.map((one) => `${one} V`).join(' and ')}.`,
        mend: 'Cut the + jumpers between them, or let planning cut them.',
      };
    case 'wrong-supply':
      return {
        kind,
        line,
        runs,
        value: fault.supply.volts,
        limit: fault.strip.supplyVolts,
        message: `${named(names)}: ${supplyVoltsWrong(fault.strip, fault.supply)!.message}`,
        mend: `Take a supply that is trimmed for strips of ${fault.strip.supplyVolts} V, or other strip.`,
      };
  }
}

/** Each line could be fed, but not all of them. */
export const notTogether = (
  lines: readonly ProjectPath[],
  { isProved, fusesAmps, ratingAmps }: Extract<LinesPlan, { kind: 'impossible-together' }>,
  titleOf: RunTitles,
): PlanReason => {
  const runs = lines.flatMap((line) => line.runs);
  return {
    kind: 'lines-together',
    line: undefined,
    runs,
    value: fusesAmps,
    limit: ratingAmps,
    message:
      `Each data line could be fed by itself, but their grounds meet at the board: for ${inside(runs.map(titleOf))}, a short would send ${amps(fusesAmps)} of fuses ` +
      `through ground of another line that carries ${amps(ratingAmps)}${isProved ? '' : '; no other plan was found in the time allowed'}.`,
    mend: 'Let the lines with the thinner strip or wire be fed at their first LEDs, take wider strip or thicker wire there, or divide the runs that draw most.',
  };
};

/** No plan was found that still holds where a line joins grounds of supplies that a wire joins too. */
export const groundsLifted = (
  line: number | undefined,
  runs: readonly string[],
  titleOf: RunTitles,
): PlanReason => ({
  kind: 'not-found',
  line,
  runs,
  message: `No plan was found for ${inside(runs.map(titleOf))}: the wire that joins the grounds of their supplies takes volts from them, or sends too much through their ground.`,
  mend: 'Join the grounds of the supplies by thicker or shorter wire, or feed each data line from one supply.',
});

export const tooManyFeeds = (count: number, most: number): PlanReason => ({
  kind: 'too-many-feeds',
  line: undefined,
  runs: [],
  value: count,
  limit: most,
  message: `The plan takes ${count} feeds; a project holds ${most}.`,
  mend: 'Take strip that draws less, or wider strip whose rails carry more.',
});

/** Whether a stretch by itself can be fed under another problem. */
const isFeedable = (problem: PlanProblem, stretch: number): boolean =>
  new PlanZones(planModel(problem), { left: 1e7 }).leastFeeds(stretch, stretch + 1) <
  Number.POSITIVE_INFINITY;

/** The LED of a zone that misses its least volts by the most, with a feed at every place and no fuse. */
function lowestAtBest(model: PlanModel, zones: PlanZones, stretch: number) {
  const zone = zones.zone(stretch, stretch + 1);
  const { busVolts, leastVolts, copperFactors } = model.problem;
  let worst = { led: zone.first, volts: busVolts[zone.first]!, missing: Number.NEGATIVE_INFINITY };
  for (let condition = 0; condition < copperFactors.length; condition++) {
    zoneDrops(model, zone, condition, undefined, zones.room);
    for (let led = zone.first; led <= zone.last; led++) {
      const left = busVolts[led]! - zones.room.drops[led]! - model.leastRises[condition]![led]!;
      const missing = leastVolts[led]! - left;
      if (missing > worst.missing) worst = { led, volts: left, missing };
    }
  }
  return worst;
}

type Found = Pick<PlanReason, 'kind' | 'at' | 'value' | 'limit' | 'message' | 'mend'>;

function stretchReason(
  path: ProjectPath,
  model: PlanModel,
  zones: PlanZones,
  stretch: number,
  runs: readonly string[],
  titleOf: RunTitles,
): Found {
  const { problem, leds } = path;
  const zone = zones.zone(stretch, stretch + 1);
  const names = runs.map(titleOf);
  const name = named(names);
  if (zone.places.length === 0)
    return {
      kind: 'no-place',
      message: `${name} ${has(runs, 'has', 'have')} no place where a feed may enter, and ${has(runs, 'its neighbours', 'their neighbours')} can't carry ${has(runs, 'its', 'their')} supply.`,
      mend: 'Allow a place there, or let feeds enter anywhere.',
    };
  let load = 0;
  for (let led = zone.first; led <= zone.last; led++) load += problem.drawnAmps[led]!;
  const rating = zoneRating(model, { ...zone, places: [] });
  if (zones.endsFrom[stretch]!.length === 0)
    return {
      kind: 'too-much-load',
      value: load,
      limit: rating * fuseLoadShare,
      message: `${name} ${has(runs, 'draws', 'draw')} ${amps(load)} in full white; fuses that protect all that a short there reaches, of ${amps(rating)} at the thinnest, carry ${amps(rating * fuseLoadShare)}.`,
      mend:
        runs.length === 1
          ? 'Divide the run in two with + cut between them, or take wider strip.'
          : 'Let planning cut the + jumpers between them, or take thicker jumper wire or wider strip.',
    };
  const worst = lowestAtBest(model, zones, stretch);
  if (worst.missing > 0) {
    const { run, led } = leds[worst.led]!;
    return {
      kind: 'too-few-volts',
      at: { run, led },
      value: worst.volts,
      limit: problem.leastVolts[worst.led]!,
      message: `LED ${led} of run "${titleOf(run)}" has ${volts(worst.volts)} at most with a feed at every place; it needs ${volts(problem.leastVolts[worst.led]!)}.`,
      mend: 'Allow more places, thicker feed wires or a greater drop, move the supply nearer, trim it up to 5.2 V at most, take one that gives way less under load, or divide the run.',
    };
  }
  const places = problem.places.map((place) => ({ ...place, ratingAmps: Number.POSITIVE_INFINITY }));
  if (isFeedable({ ...problem, places }, stretch))
    return {
      kind: 'thin-feeds',
      value: load,
      limit: Math.max(...zone.places.map((index) => problem.places[index]!.ratingAmps)),
      message: `${name} ${has(runs, 'draws', 'draw')} ${amps(load)}, too much for the wires and plugs of ${has(runs, 'its', 'their')} feeds.`,
      mend: 'Allow thicker wire, a plug that carries more, or more places.',
    };
  const free = problem.places.map((place) => ({ ...place, isKept: false }));
  if (isFeedable({ ...problem, places: free }, stretch))
    return {
      kind: 'kept-feeds',
      message: `The feeds kept on ${inside(names)} leave no plan that holds: their fuses, wires or number don't suit.`,
      mend: 'Let planning move them, or change their fuses.',
    };
  return {
    kind: 'fuses',
    value: load,
    message: `For ${inside(names)}, drawing ${amps(load)}, no choice of places has fuses that suit both loads and rails.`,
    mend: 'Take fuses of the other kind, more places, thicker wire, or divide the run.',
  };
}

/** The reasons of one path, those of each run that no zone can hold; never an empty list. */
export function pathReasons(
  path: ProjectPath,
  { model, zones, isProved }: Extract<PathPlan, { kind: 'impossible' }>,
  titleOf: RunTitles,
): PlanReason[] {
  const { line, leds } = path;
  const runsIn = (first: number, end: number): string[] => [
    ...new Set(leds.slice(first, end).map(({ run }) => run)),
  ];
  const held = new Set<number>();
  for (const [a, ends] of zones.endsFrom.entries())
    for (const b of ends)
      if (zones.leastFeeds(a, b) < Number.POSITIVE_INFINITY) for (let s = a; s < b; s++) held.add(s);
  const reasons = zones.endsFrom.flatMap((_, stretch): PlanReason[] => {
    if (held.has(stretch)) return [];
    const runs = runsIn(model.starts[stretch]!, model.starts[stretch + 1]!);
    return [{ line, runs, ...stretchReason(path, model, zones, stretch, runs, titleOf) }];
  });
  if (reasons.length > 0) return reasons;
  const all = { line, runs: path.runs };
  const names = path.runs.map(titleOf);
  return [
    isProved
      ? {
          ...all,
          kind: 'volts-or-fuses',
          message: `No choice of feeds holds for ${inside(names)}: with few of them an LED has too few volts, with more the fuses that a short draws on come to more than rails and wires carry.`,
          mend: 'Allow more places, thicker feed wires or a greater drop, or divide the runs.',
        }
      : {
          ...all,
          kind: 'not-found',
          message: `No plan was found for ${inside(names)} in the time allowed, which does not prove that there is none.`,
          mend: 'Allow fewer places, keep a few feeds where they surely belong, or allow thicker wires.',
        },
  ];
}
