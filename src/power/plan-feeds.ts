// Feeds for a project: every data line, and every fed run outside the chains, becomes a path of its own (plan-paths.ts), is planned, the lines so that they
// go together (plan-together.ts), gets thinner wires where they do, and comes back in the document's words. Each run stays on its supply (plan-supplies.ts).
// Not here: doing it to the document (applyFeedPlan of src/project), why none exists (plan-reasons.ts).
import { plugAmps, plugs, rowById, type Wire, wires } from '../catalogue/index.ts';
import { type Layout, runTitle } from '../panel/index.ts';
import { type Feed, limits, type Project } from '../project/index.ts';
import { isLifted, solvedPaths, surelyNeeded } from './plan-lift.ts';
import { planPath } from './plan-line.ts';
import { type ProjectPath, projectPaths, usualFeedWire } from './plan-paths.ts';
import { planModel } from './plan-problem.ts';
import {
  groundsLifted,
  notTogether,
  type PlanReason,
  pathReasons,
  type RunTitles,
  supplyReason,
  tooManyFeeds,
} from './plan-reasons.ts';
import { fusesOfPlans, type PlannedPath, planTogether } from './plan-together.ts';
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
  /** No plan of the project has fewer feeds there. */
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
      /** No plan of the project has fewer feeds in all; may be more than the lines' least ones come to. */
      readonly least: number;
      /** Of all LEDs planned, whichever volts their strips are for; the first supply's where none are. */
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

/** A path's plan in the document's words, with thinner wires. */
function inDocument(project: Project, path: ProjectPath, { model, plan }: PlannedPath) {
  const { planning = {} } = project.power;
  const { leds, problem, kept, lengthsMm, supplies } = path;
  const plug = planning.plug === undefined ? undefined : rowById(plugs, planning.plug);
  const rows = noThicker(wireById(planning.wire ?? usualFeedWire));
  const choices = problem.places.map((place, index): readonly WireChoice[] =>
    place.isKept
      ? [place]
      : rows.map((wire) => ({
          wireOhms: wireOhms(wire, lengthsMm[index]!),
          ratingAmps: Math.min(wire.designAmps, plugAmps(plug)),
        })),
  );
  const thinned = thinWires(model, plan, choices);
  const feeds = thinned.plan.zones.flatMap(({ places, fuseAmps }) =>
    places.map((index, at): PlannedFeed => {
      const { led, fuseKind } = problem.places[index]!;
      const fuse = { fuseAmps: fuseAmps[at]!, fuseKind };
      const before = kept[index];
      if (before) return { ...before, ...fuse };
      const { run, led: number } = leds[led]!;
      const { id: supply } = supplies[led]!;
      return {
        run,
        led: number,
        wire: rows[thinned.choices[index]!]!.id,
        lengthMm: lengthsMm[index]!,
        ...fuse,
        ...(planning.plug === undefined ? {} : { plug: planning.plug }),
        ...(supply === undefined ? {} : { supply }),
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

/** Plans in the order of their paths, and the least number of feeds of any. */
interface FoundPlans {
  readonly plans: readonly PlannedPath[];
  readonly least: number;
}

/** Plans of all paths: those of data lines go together, runs outside every chain meet nothing. */
function plansOf(paths: readonly ProjectPath[], work: number, titleOf: RunTitles): FoundPlans | PlanReason[] {
  const ledCount = paths.reduce((sum, { leds }) => sum + leds.length, 0);
  const workFor = ({ leds }: ProjectPath): number => (work * leds.length) / ledCount;
  const reasons: PlanReason[] = [];
  const found = new Map<ProjectPath, PlannedPath>();
  let least = 0;
  for (const path of paths.filter(({ line }) => line === undefined)) {
    const planned = planPath(path.problem, { left: workFor(path) });
    if (planned.kind === 'planned') found.set(path, planned);
    else reasons.push(...pathReasons(path, planned, titleOf));
    if (planned.kind === 'planned') least += planned.least;
  }
  const lines = paths.filter(({ line }) => line !== undefined);
  const together = planTogether(
    lines.map(({ problem }) => problem),
    lines.map(workFor),
  );
  if (together.kind === 'impossible-together') reasons.push(notTogether(lines, together, titleOf));
  else
    for (const [index, planned] of together.plans.entries())
      if (planned.kind === 'impossible') reasons.push(...pathReasons(lines[index]!, planned, titleOf));
  if (together.kind !== 'planned' || reasons.length > 0) return reasons;
  // From here on no line's fuses come to more than now, and no line's wires bear less.
  const bound = fusesOfPlans(together.plans);
  for (const [index, planned] of together.plans.entries()) {
    const { problem } = planned.model;
    const model = planModel({ ...problem, boardAmps: bound, crossingAmps: bound });
    found.set(lines[index]!, { ...planned, model });
  }
  return { plans: paths.map((path) => found.get(path)!), least: least + together.least };
}

/** All paths planned once, each as if all grounds were one. */
function planPaths(
  project: Project,
  paths: readonly ProjectPath[],
  work: number,
  titleOf: RunTitles,
): FeedPlan {
  const found = plansOf(paths, work, titleOf);
  if (!('plans' in found)) return { kind: 'impossible', reasons: found };
  const { plans, least } = found;
  const done = paths.map((path, index) => inDocument(project, path, plans[index]!));
  const feeds = done.flatMap((one) => one.feeds);
  if (feeds.length > limits.runs)
    return { kind: 'impossible', reasons: [tooManyFeeds(feeds.length, limits.runs)] };
  return {
    kind: 'planned',
    feeds,
    jumpers: done.flatMap((one) => one.jumpers),
    lines: paths.map(({ line, runs }, index) => {
      const { plan, least, isProved } = plans[index]!;
      const { lowestVolts } = done[index]!;
      return { line, runs, feedCount: plan.feedCount, least, isProved, lowestVolts };
    }),
    least,
    lowestVolts:
      done.length > 0 ? Math.min(...done.map((one) => one.lowestVolts)) : project.power.supply.volts,
  };
}

/** Whose grounds lift each other asks for more than it lacked, so that the next round is the last in nearly all cases, volts. */
const liftSpareVolts = 1e-4;
const liftRounds = 4;

const raised = (path: ProjectPath, byVolts: number): ProjectPath => ({
  ...path,
  problem: { ...path.problem, leastVolts: path.problem.leastVolts.map((volts) => volts + byVolts) },
});

/** Plans again and again with what LEDs lacked in the whole network. Least numbers are then of what is needed whatever the volts. */
function planLifted(
  project: Project,
  paths: readonly ProjectPath[],
  work: number,
  titleOf: RunTitles,
): FeedPlan {
  const extraVolts = paths.map(() => 0);
  for (let round = 0; round < liftRounds; round++) {
    const asked = paths.map((path, index) => raised(path, extraVolts[index]!));
    const plan = planPaths(project, asked, work / liftRounds, titleOf);
    if (plan.kind === 'impossible' && round === 0) return plan;
    const solved = plan.kind === 'planned' ? solvedPaths(project, paths, plan) : undefined;
    if (plan.kind === 'impossible' || !solved) break;
    if (solved.every(({ missingVolts }) => missingVolts <= 0)) {
      const lines = plan.lines.map((line, index): PlannedLine => {
        const { lowestVolts } = solved[index]!;
        const least =
          line.line === undefined ? line.least : Math.min(line.least, surelyNeeded(paths[index]!.problem));
        return { ...line, lowestVolts, least, isProved: line.feedCount === least };
      });
      return {
        ...plan,
        lines,
        least: lines.reduce((sum, { least }) => sum + least, 0),
        lowestVolts: Math.min(...lines.map(({ lowestVolts }) => lowestVolts)),
      };
    }
    for (const [index, { missingVolts }] of solved.entries())
      if (missingVolts > 0) extraVolts[index]! += missingVolts + liftSpareVolts;
  }
  return {
    kind: 'impossible',
    reasons: paths.filter(isLifted).map(({ line, runs }) => groundsLifted(line, runs, titleOf)),
  };
}

/** Plans the feeds of a whole project; kept ones stay, all others are planned anew. */
export function planFeeds(
  project: Project,
  layout: Layout,
  { work = usualWork }: PlanOptions = {},
): FeedPlan {
  const paths = projectPaths(project, layout);
  const titles = new Map(project.runs.map((run) => [run.id, runTitle(run)]));
  const titleOf = (run: string): string => titles.get(run) ?? run;
  const faults = paths.flatMap(({ line, faults }) =>
    faults.map((fault) => supplyReason(line, fault, titleOf)),
  );
  if (faults.length > 0) return { kind: 'impossible', reasons: faults };
  return (paths.some(isLifted) ? planLifted : planPaths)(project, paths, work, titleOf);
}
