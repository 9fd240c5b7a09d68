// The paths of a project that feeds are planned for: every data line, and every run outside the chains that has a feed. What stands in the document as runs,
// jumpers, wires, plugs and rules of planning becomes the bare problem of plan-problem.ts. Not here: planning them (plan-line.ts).
import { copperFactor, ledMilliamps, plugAmps, plugs, rowById, worstLevels } from '../catalogue/index.ts';
import type { Layout } from '../panel/index.ts';
import type { Feed, Project } from '../project/index.ts';
import { usualHotCelsius } from './assessment.ts';
import { usualConditions } from './conditions.ts';
import { controllerPower } from './controller.ts';
import { feedLengthMm } from './feed-length.ts';
import { boardLead } from './fuse-conductors.ts';
import { type PanelNetwork, type PowerLed, panelNetwork } from './panel-network.ts';
import type { PlanJoint, PlanPlace, PlanProblem } from './plan-problem.ts';
import { railAmps } from './rail-ratings.ts';
import { type Supply, suppliesOf, supplyOf, wireById, wireOhms } from './supplies.ts';

/** The thickest wire of planned feeds, where the project says nothing. */
export const usualFeedWire = 'AWG 18';

/** A path with what its LEDs, places and joints are in the document. */
export interface ProjectPath {
  /** Index in the project's list; undefined for a run outside every chain. */
  readonly line: number | undefined;
  readonly runs: readonly string[];
  readonly leds: readonly PowerLed[];
  /** The supply of its kept feeds, else of the first feed it has, else the first. */
  readonly supply: Supply;
  /** Whether its kept feeds come from more than one; then none can be planned. */
  readonly isMixed: boolean;
  readonly problem: PlanProblem;
  /** By place: the kept feed, or undefined. */
  readonly kept: readonly (Feed | undefined)[];
  readonly lengthsMm: readonly number[];
  /** Joints that planning may cut or join, and the place in the chain of the run behind each. */
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
  supply: Supply,
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
    const lengthMm = feedLengthMm(project, layout, { run, led }, supply.id);
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

/** What joins each LED of the panel to the next, and which of these are jumpers. */
function jointsOf(panel: PanelNetwork, jumpersStay: boolean) {
  const joints = new Map<number, PlanJoint>();
  const places = new Map<number, number>();
  const ohmsOf = (ground: number | undefined) => panel.network.links[ground!]!.ohms;
  for (const { fromLed, toLed, ground } of panel.segments) {
    const led = Math.min(fromLed, toLed);
    const ratingAmps = railAmps(panel.leds[led]!.strip);
    joints.set(led, { ohms: ohmsOf(ground), ratingAmps, plus: 'joined' });
  }
  for (const { fromLed, ground, wire, jumper, place } of panel.jumpers) {
    const asNow = jumper.power === 'cut' ? 'cut' : 'joined';
    const plus = jumpersStay ? asNow : 'free';
    joints.set(fromLed, { ohms: ohmsOf(ground), ratingAmps: wire.designAmps, plus });
    places.set(fromLed, place);
  }
  return { joints, places };
}

/**
 * The least rating that a data line's fault current meets on its way by the board: the leads to all lines, the board's own ground wire, the wires between
 * the grounds of supplies, and the other lines' jumpers, rails and kept feeds, as if each line had a feed at its end.
 */
function boardRating(
  project: Project,
  layout: Layout,
  panel: PanelNetwork,
  others: readonly { readonly joints: readonly PlanJoint[]; readonly kept: readonly Feed[] }[],
  grounds: readonly Supply[],
): number {
  const boardWire = controllerPower(project, panel, 0)?.wire;
  return Math.min(
    boardWire?.designAmps ?? Number.POSITIVE_INFINITY,
    ...layout.lines.map(({ index }) => boardLead(project, index).wire.designAmps),
    ...grounds.flatMap(({ groundWire }) => (groundWire ? [groundWire.designAmps] : [])),
    ...others.flatMap(({ joints }) => joints.map(({ ratingAmps }) => ratingAmps)),
    ...others.flatMap(({ kept }) => kept.map((feed) => keptPlace(feed, 0, 0).place.ratingAmps)),
  );
}

/** Every path of a project, ready to be planned. */
export function projectPaths(project: Project, layout: Layout): readonly ProjectPath[] {
  const { power } = project;
  const { planning = {} } = power;
  const panel = panelNetwork({ ...project, power: { ...power, feeds: [] } }, layout, usualConditions);
  const { joints, places } = jointsOf(panel, planning.jumpersStay ?? false);
  const supplies = suppliesOf(project);
  const hot = copperFactor(power.hotCelsius ?? usualHotCelsius);
  const stretches = stretchesOf(panel, power.feeds).map((stretch) => {
    const feeds = power.feeds.filter(({ run }) => stretch.runs.includes(run));
    const kept = feeds.filter(({ isKept }) => isKept);
    const used = new Set(
      (kept.length > 0 ? kept : feeds.slice(0, 1)).map((feed) => supplyOf(supplies, feed)),
    );
    const leds = panel.leds.slice(stretch.first, stretch.end);
    const drawnAmps = Float64Array.from(leds, whiteAmpsOf);
    const [supply = 0] = used;
    const inner = Array.from({ length: leds.length - 1 }, (_, joint) => joint);
    return {
      ...stretch,
      kept,
      leds,
      drawnAmps,
      supply,
      isMixed: used.size > 1,
      joints: inner.map((joint) => joints.get(stretch.first + joint)!),
      freeJumpers: inner.flatMap((joint) => {
        const place = places.get(stretch.first + joint);
        return place === undefined || planning.jumpersStay ? [] : [{ joint, place }];
      }),
    };
  });
  const lines = stretches.filter(({ line }) => line !== undefined);
  const grounds = supplies.filter((_, index) => lines.some(({ supply }) => supply === index));
  const loads = supplies.map((_, index) =>
    stretches.reduce(
      (sum, { supply, drawnAmps }) =>
        supply === index ? drawnAmps.reduce((all, amps) => all + amps, sum) : sum,
      0,
    ),
  );
  return stretches.map((stretch) => {
    const { line, runs, kept, leds, drawnAmps, isMixed, freeJumpers } = stretch;
    const supply = supplies[stretch.supply]!;
    const rows = placesOf(project, layout, leds, kept, supply);
    const others = lines.filter((other) => other !== stretch);
    const leastVolts = supply.volts - (planning.mostDropVolts ?? Number.POSITIVE_INFINITY);
    return {
      line,
      runs,
      leds,
      supply,
      isMixed,
      problem: {
        busVolts: supply.volts - supply.outputOhms * loads[stretch.supply]!,
        drawnAmps,
        leastVolts: Float64Array.from(leds, ({ strip }) => Math.max(strip.floorVolts, leastVolts)),
        joints: stretch.joints,
        places: rows.map(({ place }) => place),
        boardAmps: line === undefined ? undefined : boardRating(project, layout, panel, others, grounds),
        copperFactors: hot > 1 ? [1, hot] : [1],
      },
      kept: rows.map(({ feed }) => feed),
      lengthsMm: rows.map(({ lengthMm }) => lengthMm),
      freeJumpers,
    };
  });
}
