// The paths of a project that feeds are planned for: every data line, and every run outside the chains that has a feed. What stands in the document as runs,
// jumpers, wires, plugs and rules of planning becomes the bare problem of plan-problem.ts. Not here: planning them (plan-line.ts).
import { copperFactor, ledMilliamps, plugAmps, plugs, rowById, worstLevels } from '../catalogue/index.ts';
import { builtLines, type Layout } from '../panel/index.ts';
import type { Feed, Project } from '../project/index.ts';
import { usualHotCelsius } from './assessment.ts';
import { usualConditions } from './conditions.ts';
import { controllerAmps, controllerPower } from './controller.ts';
import { feedLengthMm } from './feed-length.ts';
import { boardLead } from './fuse-conductors.ts';
import { type PanelNetwork, type PowerLed, panelNetwork } from './panel-network.ts';
import type { PlanJoint, PlanPlace, PlanProblem } from './plan-problem.ts';
import { type SuppliedRun, type SupplyFault, suppliesOfPath } from './plan-supplies.ts';
import { railAmps } from './rail-ratings.ts';
import { type Supply, suppliesOf, wireById, wireOhms } from './supplies.ts';

/** The thickest wire of planned feeds, where the project says nothing. */
export const usualFeedWire = 'AWG 18';

/** A path with what its LEDs, places and joints are in the document. */
export interface ProjectPath {
  /** Index in the project's list; undefined for a run outside every chain. */
  readonly line: number | undefined;
  readonly runs: readonly string[];
  readonly leds: readonly PowerLed[];
  /** By LED: where its feeds come from. */
  readonly supplies: readonly Supply[];
  /** What of it makes planning impossible from the start. */
  readonly faults: readonly SupplyFault[];
  readonly problem: PlanProblem;
  /** By place: the kept feed, or undefined. */
  readonly kept: readonly (Feed | undefined)[];
  readonly lengthsMm: readonly number[];
  /** Jumpers whose + planning cuts or joins: the joint, and the place in the chain of the run behind it. */
  readonly freeJumpers: readonly { readonly joint: number; readonly place: number }[];
}

interface Stretch {
  readonly line: number | undefined;
  readonly first: number;
  end: number;
  readonly runs: string[];
}

const whiteAmpsOf = ({ strip }: PowerLed): number => ledMilliamps(strip, worstLevels(strip)) / 1000;

/** LEDs of each path, from first up to and without end. */
function stretchesOf({ zones }: PanelNetwork, feeds: readonly Feed[]): Stretch[] {
  const stretches: Stretch[] = [];
  const fed = new Set(feeds.map(({ run }) => run));
  for (const { line, firstLed, ledCount, runs } of zones) {
    const ids = runs.map(({ run }) => run.id);
    const last = stretches.at(-1);
    if (line !== undefined && last?.line === line) {
      last.end += ledCount;
      last.runs.push(...ids);
    } else if (line !== undefined || fed.has(ids[0]!))
      stretches.push({ line, first: firstLed, end: firstLed + ledCount, runs: ids });
  }
  return stretches;
}

interface PlaceRow {
  readonly place: PlanPlace;
  readonly feed: Feed | undefined;
  readonly lengthMm: number;
}

function keptPlace(feed: Feed, led: number, pointAmps: number): PlaceRow {
  const wire = wireById(feed.wire);
  const plug = feed.plug === undefined ? undefined : rowById(plugs, feed.plug);
  const place: PlanPlace = {
    led,
    wireOhms: wireOhms(wire, feed.lengthMm),
    contactOhms: (plug?.contactMilliohms ?? 0) / 1000,
    ratingAmps: Math.min(wire.designAmps, plugAmps(plug)),
    pointAmps,
    isKept: true,
    fuseKind: feed.fuseKind ?? 'blade',
    fuseAmps: feed.fuseAmps,
  };
  return { place, feed, lengthMm: feed.lengthMm };
}

/** Kept feeds, and where others may enter. Where a feed is kept none is added. */
function placesOf(
  project: Project,
  layout: Layout,
  leds: readonly PowerLed[],
  kept: readonly Feed[],
  supplies: readonly Supply[],
) {
  const { planning = {} } = project.power;
  const wire = wireById(planning.wire ?? usualFeedWire);
  const plug = planning.plug === undefined ? undefined : rowById(plugs, planning.plug);
  const ledCounts = new Map(project.runs.map(({ id, ledCount }) => [id, ledCount]));
  const forbidden = new Set((planning.forbidden ?? []).map(({ run, led }) => `${led} ${run}`));
  return leds.flatMap(({ run, led, strip }, index): PlaceRow[] => {
    const isEnd = led === 0 || led === ledCounts.get(run)! - 1;
    const pointAmps = railAmps(strip) * (isEnd ? 1 : 2);
    const here = kept.filter((feed) => feed.run === run && feed.led === led);
    if (here.length > 0) return here.map((feed) => keptPlace(feed, index, pointAmps));
    if (forbidden.has(`${led} ${run}`) || (!isEnd && planning.places !== 'anywhere')) return [];
    const lengthMm = feedLengthMm(project, layout, { run, led }, supplies[index]!.id);
    const place: PlanPlace = {
      led: index,
      wireOhms: wireOhms(wire, lengthMm),
      contactOhms: (plug?.contactMilliohms ?? 0) / 1000,
      ratingAmps: Math.min(wire.designAmps, plugAmps(plug)),
      pointAmps,
      isKept: false,
      fuseKind: planning.fuseKind ?? 'blade',
      fuseAmps: undefined,
    };
    return [{ place, feed: undefined, lengthMm }];
  });
}

/** A jumper of the panel, and whether planning may decide over its +. */
interface PlanJumper {
  readonly place: number;
  readonly isJoined: boolean;
  readonly isFree: boolean;
}

/**
 * The jumpers by the LED before each. Past a skipped run + stays cut where a jumper that was left out with it was to be cut, whatever the document says of
 * the one behind: such a jumper is not free.
 */
function jumpersOf(project: Project, panel: PanelNetwork): Map<number, PlanJumper> {
  const own = new Set(panel.jumpers.map(({ line, place }) => `${line} ${place}`));
  const dataLines = project.dataLines.map(({ chain, ...line }, index) => ({
    ...line,
    chain: chain.map((link, place) =>
      own.has(`${index} ${place}`)
        ? { ...link, jumper: { ...link.jumper, power: 'carried' as const } }
        : link,
    ),
  }));
  const stayCut = new Set(
    builtLines({ ...project, dataLines }).flatMap(({ chain }, line) =>
      chain.flatMap(({ jumper, place }) => (jumper?.power === 'cut' ? [`${line} ${place}`] : [])),
    ),
  );
  const jumpersStay = project.power.planning?.jumpersStay ?? false;
  return new Map(
    panel.jumpers.map(({ fromLed, line, place, jumper }) => [
      fromLed,
      {
        place,
        isJoined: jumper.power === 'carried',
        isFree: !jumpersStay && !stayCut.has(`${line} ${place}`),
      },
    ]),
  );
}

/** What joins each LED of the panel to the next; + of jumpers as it is now. */
function jointsOf(panel: PanelNetwork): Map<number, PlanJoint> {
  const joints = new Map<number, PlanJoint>();
  const ohmsOf = (ground: number | undefined) => panel.network.links[ground!]!.ohms;
  for (const { fromLed, toLed, ground } of panel.segments) {
    const led = Math.min(fromLed, toLed);
    const ratingAmps = railAmps(panel.leds[led]!.strip);
    joints.set(led, { ohms: ohmsOf(ground), ratingAmps, plus: 'joined' });
  }
  for (const { fromLed, ground, wire, jumper } of panel.jumpers)
    joints.set(fromLed, {
      ohms: ohmsOf(ground),
      ratingAmps: wire.designAmps,
      plus: jumper.power === 'cut' ? 'cut' : 'joined',
    });
  return joints;
}

/** The runs of a stretch, and by run how many LEDs it has. */
function suppliedRuns(
  { first, end }: Stretch,
  leds: readonly PowerLed[],
  jumpers: ReadonlyMap<number, PlanJumper>,
): { readonly runs: SuppliedRun[]; readonly runOfLed: number[] } {
  const runs: SuppliedRun[] = [];
  const runOfLed: number[] = [];
  for (let led = first; led < end; led++) {
    const { run, strip } = leds[led]!;
    const jumper = led > first ? jumpers.get(led - 1) : undefined;
    if (led === first || jumper)
      runs.push({ run, strip, isJoined: jumper?.isJoined ?? false, isFree: jumper?.isFree ?? false });
    runOfLed.push(runs.length - 1);
  }
  return { runs, runOfLed };
}

/**
 * The least rating that a data line's fault current meets on its way by the board beside the lines themselves: the leads to all lines, the board's own
 * ground wire, and the wires between the grounds of supplies.
 */
function boardRating(
  project: Project,
  layout: Layout,
  panel: PanelNetwork,
  grounds: readonly Supply[],
): number {
  const boardWire = controllerPower(project, panel, 0)?.wire;
  return Math.min(
    boardWire?.designAmps ?? Number.POSITIVE_INFINITY,
    ...layout.lines.map(({ index }) => boardLead(project, index).wire.designAmps),
    ...grounds.flatMap(({ groundWire }) => (groundWire ? [groundWire.designAmps] : [])),
  );
}

/** Every path of a project, ready to be planned. */
export function projectPaths(project: Project, layout: Layout): readonly ProjectPath[] {
  const { power } = project;
  const { planning = {} } = power;
  const panel = panelNetwork({ ...project, power: { ...power, feeds: [] } }, layout, usualConditions);
  const joints = jointsOf(panel);
  const jumpers = jumpersOf(project, panel);
  const supplies = suppliesOf(project);
  const hot = copperFactor(power.hotCelsius ?? usualHotCelsius);
  const loads = supplies.map((_, index) => (index === 0 ? controllerAmps(project) : 0));
  const stretches = stretchesOf(panel, power.feeds).map((stretch) => {
    const leds = panel.leds.slice(stretch.first, stretch.end);
    const drawnAmps = Float64Array.from(leds, whiteAmpsOf);
    const { runs, runOfLed } = suppliedRuns(stretch, panel.leds, jumpers);
    const chosen = suppliesOfPath(runs, supplies, power.feeds);
    const supplyOfLed = runOfLed.map((run) => chosen.supplies[run]!);
    for (const [led, supply] of supplyOfLed.entries()) loads[supply]! += drawnAmps[led]!;
    const freeJumpers: { joint: number; place: number }[] = [];
    const own = Array.from({ length: leds.length - 1 }, (_, joint): PlanJoint => {
      const known = joints.get(stretch.first + joint)!;
      const jumper = jumpers.get(stretch.first + joint);
      if (!jumper?.isFree) return known;
      freeJumpers.push({ joint, place: jumper.place });
      return { ...known, plus: chosen.isCut[runOfLed[joint + 1]!] ? 'cut' : 'free' };
    });
    return { ...stretch, leds, drawnAmps, supplyOfLed, faults: chosen.faults, joints: own, freeJumpers };
  });
  const lines = stretches.filter(({ line }) => line !== undefined);
  const used = new Set(lines.flatMap(({ supplyOfLed }) => supplyOfLed));
  const boardAmps = boardRating(
    project,
    layout,
    panel,
    supplies.filter((_, index) => used.has(index)),
  );
  const busVolts = supplies.map(({ volts, outputOhms }, index) => volts - outputOhms * loads[index]!);
  const mostDropVolts = planning.mostDropVolts ?? Number.POSITIVE_INFINITY;
  return stretches.map((stretch) => {
    const { line, runs, leds, drawnAmps, supplyOfLed, faults, freeJumpers } = stretch;
    const kept = power.feeds.filter(({ run, isKept }) => isKept && runs.includes(run));
    const ofLeds = supplyOfLed.map((index) => supplies[index]!);
    const rows = placesOf(project, layout, leds, kept, ofLeds);
    return {
      line,
      runs,
      leds,
      supplies: ofLeds,
      faults,
      problem: {
        busVolts: Float64Array.from(supplyOfLed, (index) => busVolts[index]!),
        drawnAmps,
        leastVolts: Float64Array.from(leds, ({ strip }, led) =>
          Math.max(strip.floorVolts, ofLeds[led]!.volts - mostDropVolts),
        ),
        joints: stretch.joints,
        places: rows.map(({ place }) => place),
        boardAmps: line === undefined ? undefined : boardAmps,
        crossingAmps: 0,
        copperFactors: hot > 1 ? [1, hot] : [1],
      },
      kept: rows.map(({ feed }) => feed),
      lengthsMm: rows.map(({ lengthMm }) => lengthMm),
      freeJumpers,
    };
  });
}
