// Feeds for a project: every data line, and every fed run outside the chains, becomes a path of its own (plan-paths.ts), is planned, gets thinner wires where
// they do, and comes back in the document's words. Not here: doing it to the document (applyFeedPlan of src/project), why none exists (plan-reasons.ts).
import { plugAmps, plugs, rowById, type Wire, wires } from '../catalogue/index.ts';
import { type Layout, runTitle } from '../panel/index.ts';
import { type Feed, limits, type Project } from '../project/index.ts';
import { type PathPlan, planPath } from './plan-line.ts';
import { type ProjectPath, projectPaths, usualFeedWire } from './plan-paths.ts';
import { type PlanReason, pathReasons, suppliesMixed, tooManyFeeds } from './plan-reasons.ts';
import { thinWires, type WireChoice } from './plan-wires.ts';
import { wireById, wireOhms } from './supplies.ts';

/** A feed as planning gives it: nothing is left to be chosen later. */
export type PlannedFeed = Feed & Required<Pick<Feed, 'fuseAmps' | 'fuseKind'>>;

/** What was planned of one data line, or of a run outside every chain. */
export interface PlannedLine {
  /** Index in the project's list; undefined for a run outside every chain. */
  readonly line: number | undefined;
  readonly runs: readonly string[];
  readonly feedCount: number;
  /** No plan has fewer feeds. */
  readonly least: number;
  readonly isProved: boolean;
  /** White without limiter, copper cold or hot, whichever is lower. */
  readonly lowestVolts: number;
}

export type FeedPlan =
  | {
      readonly kind: 'planned';
      readonly feeds: readonly PlannedFeed[];
      /** Every + jumper that planning may decide, as applyFeedPlan takes them. */
      readonly jumpers: readonly {
        readonly line: number;
        readonly place: number;
        readonly power: 'carried' | 'cut';
      }[];
      readonly lines: readonly PlannedLine[];
      readonly lowestVolts: number;
    }
  | { readonly kind: 'impossible'; readonly reasons: readonly PlanReason[] };

export interface PlanOptions {
  /** How much may be done for all lines together, in LEDs swept over; seventy million are about a second. */
  readonly work?: number;
}

const usualWork = 1.5e8;

/** What a feed's wire should carry at least, A: thinner ones than AWG 22 or 0.5 mm2 break where they are soldered (common practice, no source). */
const leastFeedWireAmps = 3;

/** The same system of wires, no thicker, the given one first, and none that is too thin to last. */
const noThicker = (wire: Wire): Wire[] =>
  wires
    .filter(
      ({ id, ohmPerKm, designAmps }) =>
        id === wire.id ||
        (id.startsWith('AWG') === wire.id.startsWith('AWG') &&
          ohmPerKm > wire.ohmPerKm &&
          designAmps >= leastFeedWireAmps),
    )
    .sort((a, b) => a.ohmPerKm - b.ohmPerKm);

type Planned = Extract<PathPlan, { kind: 'planned' }>;

/**
 * A path's plan in the document's words, with thinner wires.
 * @param fusesAmps the most that the fuses of any zone come to whose fault current reaches its ground wires
 */
function inDocument(project: Project, path: ProjectPath, planned: Planned, fusesAmps: number) {
  const { planning = {} } = project.power;
  const { leds, problem, kept, lengthsMm, supply } = path;
  const plug = planning.plug === undefined ? undefined : rowById(plugs, planning.plug);
  const rows = noThicker(wireById(planning.wire ?? usualFeedWire));
  const choices = problem.places.map((place, index): readonly WireChoice[] =>
    place.isKept
      ? [place]
      : rows
          .map((wire) => ({
            wireOhms: wireOhms(wire, lengthsMm[index]!),
            ratingAmps: Math.min(wire.designAmps, plugAmps(plug)),
          }))
          .filter(({ ratingAmps }, choice) => choice === 0 || ratingAmps >= fusesAmps),
  );
  const thinned = thinWires(planned.model, planned.plan, choices, fusesAmps);
  const feeds = thinned.plan.zones.flatMap(({ places, fuseAmps }) =>
    places.map((index, at): PlannedFeed => {
      const { led, fuseKind } = problem.places[index]!;
      const fuse = { fuseAmps: fuseAmps[at]!, fuseKind };
      const before = kept[index];
      if (before) return { ...before, ...fuse };
      const { run, led: number } = leds[led]!;
      return {
        run,
        led: number,
        wire: rows[thinned.choices[index]!]!.id,
        lengthMm: lengthsMm[index]!,
        ...fuse,
        ...(planning.plug === undefined ? {} : { plug: planning.plug }),
        ...(supply.id === undefined ? {} : { supply: supply.id }),
      };
    }),
  );
  const ends = new Set(thinned.plan.zones.map(({ last }) => last));
  const jumpers = path.freeJumpers.map(({ joint, place }) => ({
    line: path.line!,
    place,
    power: ends.has(joint) ? ('cut' as const) : ('carried' as const),
  }));
  return { feeds, jumpers, lowestVolts: thinned.plan.lowestVolts };
}

/** Plans the feeds of a whole project; kept ones stay, all others are planned anew. */
export function planFeeds(
  project: Project,
  layout: Layout,
  { work = usualWork }: PlanOptions = {},
): FeedPlan {
  const paths = projectPaths(project, layout);
  const ledCount = paths.reduce((sum, { leds }) => sum + leds.length, 0);
  const titles = new Map(project.runs.map((run) => [run.id, runTitle(run)]));
  const titleOf = (run: string): string => titles.get(run) ?? run;
  const reasons: PlanReason[] = [];
  const found: { path: ProjectPath; planned: Planned }[] = [];
  for (const path of paths) {
    if (path.isMixed) {
      reasons.push(suppliesMixed(path.line, path.runs, titleOf));
      continue;
    }
    const planned = planPath(path.problem, { left: (work * path.leds.length) / ledCount });
    if (planned.kind === 'planned') found.push({ path, planned });
    else reasons.push(...pathReasons(path, planned, titleOf));
  }
  if (reasons.length > 0) return { kind: 'impossible', reasons };
  const fusesOf = ({ planned }: { readonly planned: Planned }): number =>
    Math.max(...planned.plan.zones.map(({ fusesAmps }) => fusesAmps));
  // Grounds of data lines meet at the board; a run outside every chain has none but its own.
  const atBoard = Math.max(0, ...found.filter(({ path }) => path.line !== undefined).map(fusesOf));
  const done = found.map((one) => {
    const { path, planned } = one;
    return inDocument(project, path, planned, path.line === undefined ? fusesOf(one) : atBoard);
  });
  const feeds = done.flatMap((one) => one.feeds);
  if (feeds.length > limits.runs)
    return { kind: 'impossible', reasons: [tooManyFeeds(feeds.length, limits.runs)] };
  return {
    kind: 'planned',
    feeds,
    jumpers: done.flatMap((one) => one.jumpers),
    lines: found.map(({ path: { line, runs }, planned: { least, isProved, plan } }, index) => ({
      line,
      runs,
      feedCount: plan.feedCount,
      least,
      isProved,
      lowestVolts: done[index]!.lowestVolts,
    })),
    lowestVolts: done.reduce((least, one) => Math.min(least, one.lowestVolts), project.power.supply.volts),
  };
}
