// The panel as a network: a + node and a ground node for every LED, joined by strip rails, jumpers and feeds to the supplies' terminals.
// Not here: how much the LEDs draw (load-cases.ts), the solution (panel-solve.ts), whether a wire is thick enough (sizing.ts).
// The two rails never meet, so each is solved as its distance from the first supply's own terminal: beside 5 V, the microvolts along a
// short wire would lose the digits that its current is computed from.
// Resistances: rails and wires from the catalogue or the project; a jumper starts and ends on half a pitch of strip, because
// a run's cut edge lies half a pitch away from its last LED. A feed is soldered at its LED. Plugs and fuses count where the project names them.
import { fuseOhms, type Plug, pitchMm, plugs, rowById, type Wire } from '../catalogue/index.ts';
import {
  builtLines,
  defaultJumperWire,
  type Jumper,
  type Layout,
  type PlacedRun,
  runTitle,
} from '../panel/index.ts';
import { type Feed, type Project, pointer, type StripData } from '../project/index.ts';
import { badJointOhms, type Conditions, type Fault, faultOf, usualConditions } from './conditions.ts';
import { controllerAmps, usualController } from './controller.ts';
import { type FactoredNetwork, factorNetwork, type Link, type Network, terminal } from './network.ts';
import { type Supply, suppliesOf, supplyOf, wireById, wireOhms } from './supplies.ts';
import { type GroundBonds, groundBonds } from './supply-grounds.ts';
import { firstLeds, type Zone, zonesOf } from './zones.ts';

export interface PowerLed {
  readonly run: string;
  /** From 0 at the run's DIN as planned. */
  readonly led: number;
  /** Whether it takes data: it is on a chain, and no wire leads past it. */
  readonly isOnWire: boolean;
  /** Whether that data gets there: behind a joint at the wrong end none does. */
  readonly isReached: boolean;
  readonly strip: StripData;
  /** Index in the list of zones. */
  readonly zone: number;
}

/** Indices of two links, + and ground; undefined where that one is cut. */
export interface ConductorPair {
  readonly plus: number | undefined;
  readonly ground: number | undefined;
}

/** Links point from the supply's + to the LED, and from the LED to the supply's ground; undefined where a fault took the wire away. */
export interface FeedConductors extends ConductorPair {
  readonly feed: Feed;
  /** What the run that it enters is called. */
  readonly runTitle: string;
  readonly at: string;
  readonly wire: Wire;
  readonly plug: Plug | undefined;
  /** Index in the list of supplies. */
  readonly supply: number;
  /** Index of the LED in the list of LEDs. */
  readonly atLed: number;
}

/** Links point the way the data goes. */
export interface JumperConductors extends ConductorPair {
  readonly jumper: Jumper;
  readonly at: string;
  /** Index of the data line and place of the run that it leads to in the line's chain. */
  readonly line: number;
  readonly place: number;
  readonly wire: Wire;
  /** Indices of the LEDs before and behind it. */
  readonly fromLed: number;
  readonly toLed: number;
}

/** From one LED of a run to the next as planned. */
export interface SegmentConductors extends ConductorPair {
  readonly fromLed: number;
  readonly toLed: number;
}

/** Links from each data line's first LED to the board, and from the board to the first supply's ground where it hangs on it. */
export interface BoardWay {
  readonly leads: readonly number[];
  readonly ground: number | undefined;
}

export interface PanelNetwork {
  /** Along the chains as the data goes, then the runs outside every chain. */
  readonly leds: readonly PowerLed[];
  /** How many of the LEDs belong to chains; they come first. */
  readonly chainLedCount: number;
  /** How many of those take data: all but the ones that a wire leads past. */
  readonly wireLedCount: number;
  readonly zones: readonly Zone[];
  readonly supplies: readonly Supply[];
  readonly feeds: readonly FeedConductors[];
  readonly jumpers: readonly JumperConductors[];
  readonly segments: readonly SegmentConductors[];
  /** Terminals: + and ground of each supply, as rises above the first supply's own. */
  readonly network: Network;
  readonly factored: FactoredNetwork;
  /** By LED: 1 where both its rails have a way to a supply; what has not draws nothing. */
  readonly isPowered: Uint8Array;
  readonly bonds: GroundBonds;
  /** With a ground broken, its current also returns through the board: along the data leads' grounds and the board's own; undefined where none is. */
  readonly boardWay: BoardWay | undefined;
  /** Where the board draws from, and how much; undefined where its current moves nothing: at an output that does not give way. */
  readonly board: { readonly node: number; readonly amps: number } | undefined;
  /** The first supply's volts. */
  readonly supplyVolts: number;
}

export const plusTerminal = (supply: number): number => terminal(2 * supply);
export const groundTerminal = (supply: number): number => terminal(2 * supply + 1);
export const plusNode = (led: number): number => 2 * led;
export const groundNode = (led: number): number => 2 * led + 1;

/** One rail over one pitch, ohms at 20 C. */
export const pitchOhms = (strip: StripData, ofMm = pitchMm(strip)): number =>
  (strip.railOhmPerMetre * ofMm) / 1000;

/** The list of links, each with a hindrance that a fault may have put into it. */
class Links {
  readonly list: Link[] = [];
  readonly #faults: readonly Fault[];
  constructor(faults: readonly Fault[]) {
    this.#faults = faults;
  }
  /** Index of a new link; none where a fault cuts it. */
  add(from: number, to: number, ohms: number, place: Fault['at']): number | undefined {
    const fault = faultOf(this.#faults, place);
    if (fault === 'cut') return undefined;
    return this.list.push({ from, to, ohms: ohms + (fault === 'bad-joint' ? badJointOhms : 0) }) - 1;
  }
}

function ledsOf(layout: Layout, zones: readonly Zone[]): PowerLed[] {
  const dark = new Set(
    layout.lines.flatMap(({ runs, darkFrom }) =>
      darkFrom === undefined ? [] : runs.slice(darkFrom).map(({ run }) => run.id),
    ),
  );
  return zones.flatMap(({ runs, chained }, zone) =>
    runs.flatMap(({ leds, strip, isTurned }) =>
      (isTurned ? leds.toReversed() : leds).map(
        ({ run, led, bypassed }): PowerLed => ({
          run,
          led,
          strip,
          zone,
          isOnWire: chained && !bypassed,
          isReached: chained && !bypassed && !dark.has(run),
        }),
      ),
    ),
  );
}

/** A lead of which nothing is said. */
const usualLeadMm = 500;

/** Adds the way through the board to the links. A sound panel is judged without it: no strip's current should take it. */
function wayThroughBoard(
  project: Project,
  layout: Layout,
  links: Link[],
  boardNode: number,
  copperFactor: number,
  firstGround: (placed: PlacedRun) => number,
): BoardWay {
  const built = builtLines(project);
  const leads = layout.lines.flatMap(({ index, runs }) => {
    const [first] = runs;
    const jumper = built[index]!.chain[0]?.jumper;
    if (!first) return [];
    const ohms =
      wireOhms(wireById(jumper?.wire ?? defaultJumperWire), jumper?.lengthMm ?? usualLeadMm) +
      pitchOhms(first.strip, first.pitchMm) / 2;
    return [links.push({ from: firstGround(first), to: boardNode, ohms: ohms * copperFactor }) - 1];
  });
  if (controllerAmps(project) === 0) return { leads, ground: undefined };
  const { wire, lengthMm } = { ...usualController, ...project.power.controller };
  const ohms = wireOhms(wireById(wire), lengthMm) * copperFactor;
  return { leads, ground: links.push({ from: boardNode, to: groundTerminal(0), ohms }) - 1 };
}

export function panelNetwork(
  project: Project,
  layout: Layout,
  conditions: Conditions = usualConditions,
): PanelNetwork {
  const { copperFactor, faults, fuses, boardAmps } = conditions;
  const zones = zonesOf(project, layout);
  const firstLedOf = firstLeds(zones);
  const links = new Links(faults);
  const pair = (
    a: number,
    b: number,
    ohms: number,
    power: Jumper['power'],
    place: PairPlace,
  ): ConductorPair => ({
    plus:
      power === 'carried' ? links.add(plusNode(a), plusNode(b), ohms, { ...place, rail: 'plus' }) : undefined,
    ground: links.add(groundNode(a), groundNode(b), ohms, { ...place, rail: 'ground' }),
  });
  const turned = new Map(layout.runs.filter((placed) => placed.isTurned).map(({ run }) => [run.id, run]));
  /** Index of an LED by its planned number. */
  const at = (run: string, led: number): number =>
    firstLedOf.get(run)! + (turned.has(run) ? turned.get(run)!.ledCount - 1 - led : led);
  const firstOf = ({ run, isTurned }: PlacedRun): number => at(run.id, isTurned ? run.ledCount - 1 : 0);
  const lastOf = ({ run, isTurned }: PlacedRun): number => at(run.id, isTurned ? 0 : run.ledCount - 1);

  const leds = ledsOf(layout, zones);
  const segments = layout.runs.flatMap((placed) =>
    Array.from({ length: placed.run.ledCount - 1 }, (_, led): SegmentConductors => {
      const [fromLed, toLed] = [at(placed.run.id, led), at(placed.run.id, led + 1)];
      const ohms = pitchOhms(placed.strip, placed.pitchMm) * copperFactor;
      return {
        fromLed,
        toLed,
        ...pair(fromLed, toLed, ohms, 'carried', { kind: 'segment', run: placed.run.id, led }),
      };
    }),
  );
  const jumpers = layout.lines.flatMap((line) =>
    line.jumpers.map((jumper): JumperConductors => {
      const wire = wireById(jumper.wire);
      const { from, to, lengthMm, power, place } = jumper;
      const ohms =
        (wireOhms(wire, lengthMm) +
          (pitchOhms(from.strip, from.pitchMm) + pitchOhms(to.strip, to.pitchMm)) / 2) *
        copperFactor;
      const [fromLed, toLed] = [lastOf(from), firstOf(to)];
      return {
        jumper,
        at: pointer('dataLines', line.index, 'chain', place),
        line: line.index,
        place,
        wire,
        fromLed,
        toLed,
        ...pair(fromLed, toLed, ohms, power, { kind: 'jumper', line: line.index, place }),
      };
    }),
  );

  const supplies = suppliesOf(project, copperFactor);
  const busOf = supplies.map(({ outputOhms }, supply) => {
    if (outputOhms === 0) return plusTerminal(supply);
    const bus = 2 * leds.length + supplies.slice(0, supply).filter((one) => one.outputOhms > 0).length;
    links.list.push({ from: plusTerminal(supply), to: bus, ohms: outputOhms });
    return bus;
  });
  const titles = new Map(project.runs.map((run) => [run.id, runTitle(run)]));
  const feeds = project.power.feeds.map((feed, index): FeedConductors => {
    const wire = wireById(feed.wire);
    const plug = feed.plug === undefined ? undefined : rowById(plugs, feed.plug);
    const supply = supplyOf(supplies, feed);
    const atLed = at(feed.run, feed.led);
    const ohms = wireOhms(wire, feed.lengthMm) * copperFactor + (plug?.contactMilliohms ?? 0) / 1000;
    const fuse = fuses[index];
    const plusOhms = ohms + (fuse ? fuseOhms(fuse.kind, fuse.amps) : 0);
    const place = { kind: 'feed', feed: index } as const;
    return {
      feed,
      runTitle: titles.get(feed.run)!,
      at: pointer('power', 'feeds', index),
      wire,
      plug,
      supply,
      atLed,
      plus: links.add(busOf[supply]!, plusNode(atLed), plusOhms, { ...place, rail: 'plus' }),
      ground: links.add(groundNode(atLed), groundTerminal(supply), ohms, { ...place, rail: 'ground' }),
    };
  });

  const busCount = supplies.filter(({ outputOhms }) => outputOhms > 0).length;
  const boardWay = faults.some(({ at }) => at.rail === 'ground')
    ? wayThroughBoard(project, layout, links.list, 2 * leds.length + busCount, copperFactor, (placed) =>
        groundNode(firstOf(placed)),
      )
    : undefined;
  const network: Network = {
    nodeCount: 2 * leds.length + busCount + (boardWay ? 1 : 0),
    terminalVolts: supplies.flatMap(({ volts }) => [volts - supplies[0]!.volts, 0]),
    links: links.list,
  };
  const factored = factorNetwork(network);
  const isPowered = new Uint8Array(leds.length).fill(1);
  for (const node of factored.floating) if (node < 2 * leds.length) isPowered[node >> 1] = 0;
  return {
    leds,
    chainLedCount: zones.reduce((sum, zone) => sum + (zone.chained ? zone.ledCount : 0), 0),
    wireLedCount: layout.wireLeds.length,
    zones,
    supplies,
    feeds,
    jumpers,
    segments,
    network,
    factored,
    isPowered,
    bonds: groundBonds(network, factored, supplies),
    boardWay,
    board: boardAmps > 0 && busOf[0]! >= 0 ? { node: busOf[0]!, amps: boardAmps } : undefined,
    supplyVolts: supplies[0]!.volts,
  };
}

type PairPlace =
  | { readonly kind: 'segment'; readonly run: string; readonly led: number }
  | { readonly kind: 'jumper'; readonly line: number; readonly place: number };

/** Whether both rails of an LED have a way to a supply. */
export const isFed = (panel: PanelNetwork, led: number): boolean => panel.isPowered[led] === 1;
