// The panel as a network: a + node and a ground node for every LED, joined by strip rails, jumpers and feeds, all at 20 C.
// Not here: how much the LEDs draw (load-cases.ts), whether a wire is thick enough (sizing.ts).
// The two rails never meet, so each is solved as its distance from the supply's own terminal: beside 5 V, the microvolts along a
// short wire would lose the digits that its current is computed from.
// Resistances: rails and wires from the catalogue or the project; a jumper starts and ends on half a pitch of strip, because
// a run's cut edge lies half a pitch away from its last LED. A feed is soldered at its LED.
import { pitchMm, rowById, type Wire, wires } from '../catalogue/index.ts';
import type { Jumper, Layout, PlacedLine, PlacedRun } from '../panel/index.ts';
import { type Feed, type Project, pointer, type StripData } from '../project/index.ts';
import {
  type FactoredNetwork,
  factorNetwork,
  type Link,
  linkAmps,
  type Network,
  terminal,
} from './network.ts';

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

/** LEDs whose + is joined: consecutive runs of one data line up to a cut + jumper, or one run outside every chain. */
export interface Zone {
  readonly runs: readonly PlacedRun[];
  readonly firstLed: number;
  readonly ledCount: number;
  /** Indices in the project's list of feeds. */
  readonly feeds: readonly number[];
  /** Whether a data line passes it; the player can't light the others, but they can fail lit. */
  readonly chained: boolean;
}

/** Indices of two links, + and ground; no + where the jumper's is cut. */
export interface ConductorPair {
  readonly plus: number | undefined;
  readonly ground: number;
}

/** Links point from the supply's + to the LED, and from the LED to the supply's ground. */
export interface FeedConductors {
  readonly feed: Feed;
  readonly at: string;
  readonly wire: Wire;
  /** Index of the LED in the list of LEDs. */
  readonly atLed: number;
  readonly plus: number;
  readonly ground: number;
}

/** Links point the way the data goes. */
export interface JumperConductors extends ConductorPair {
  readonly jumper: Jumper;
  readonly at: string;
  readonly wire: Wire;
}

export interface PanelNetwork {
  /** Along the chains as the data goes, then the runs outside every chain. */
  readonly leds: readonly PowerLed[];
  /** How many of the LEDs belong to chains; they come first. */
  readonly chainLedCount: number;
  /** How many of those take data: all but the ones that a wire leads past. */
  readonly wireLedCount: number;
  readonly zones: readonly Zone[];
  readonly feeds: readonly FeedConductors[];
  readonly jumpers: readonly JumperConductors[];
  /** From one LED of a run to the next as planned. */
  readonly segments: readonly (ConductorPair & { readonly fromLed: number })[];
  /** Both terminals stand at 0 V here. */
  readonly network: Network;
  readonly factored: FactoredNetwork;
  readonly supplyVolts: number;
}

/** Room for one load case: what each node draws, how far it lies above its terminal of the supply, volts across LEDs. */
export interface PanelVolts {
  readonly drawnAmps: Float64Array;
  /** Negative on + rails, positive on ground rails. */
  readonly riseVolts: Float64Array;
  /** + minus ground of each LED as computed, also below 0; 0 where no feed reaches it. */
  readonly ledVolts: Float64Array;
}

const plusTerminal = terminal(0);
const groundTerminal = terminal(1);

export const plusNode = (led: number): number => 2 * led;
export const groundNode = (led: number): number => 2 * led + 1;

export function wireById(id: string): Wire {
  const wire = rowById(wires, id);
  if (!wire) throw new Error(`no wire "${id}"; the project was not checked`);
  return wire;
}

/** One conductor of a wire, ohms at 20 C. */
export const wireOhms = (wire: Wire, lengthMm: number): number => (wire.ohmPerKm * lengthMm) / 1e6;

/** One rail over one pitch, ohms. */
export const pitchOhms = (strip: StripData, ofMm = pitchMm(strip)): number =>
  (strip.railOhmPerMetre * ofMm) / 1000;

/** A line's runs, a new list after each jumper whose + is cut. */
function runsByZone(line: PlacedLine): PlacedRun[][] {
  const lists: PlacedRun[][] = [];
  for (const [index, placed] of line.runs.entries())
    if (index === 0 || line.jumpers[index - 1]!.power === 'cut') lists.push([placed]);
    else lists.at(-1)!.push(placed);
  return lists;
}

function zonesOf(project: Project, layout: Layout): Zone[] {
  const lists = [
    ...layout.lines.flatMap((line) => runsByZone(line).map((runs) => ({ runs, chained: true }))),
    ...layout.unchained.map((placed) => ({ runs: [placed], chained: false })),
  ];
  let firstLed = 0;
  return lists.map(({ runs, chained }) => {
    const ids = new Set(runs.map((placed) => placed.run.id));
    const ledCount = runs.reduce((sum, placed) => sum + placed.run.ledCount, 0);
    const feeds = [...project.power.feeds.keys()].filter((feed) => ids.has(project.power.feeds[feed]!.run));
    const zone = { runs, firstLed, ledCount, feeds, chained };
    firstLed += ledCount;
    return zone;
  });
}

/** Index of each run's first LED in the list of LEDs. */
function firstLeds(zones: readonly Zone[]): Map<string, number> {
  const first = new Map<string, number>();
  for (const zone of zones) {
    let led = zone.firstLed;
    for (const placed of zone.runs) {
      first.set(placed.run.id, led);
      led += placed.run.ledCount;
    }
  }
  return first;
}

export function panelNetwork(project: Project, layout: Layout): PanelNetwork {
  const zones = zonesOf(project, layout);
  const firstLedOf = firstLeds(zones);
  const links: Link[] = [];
  const link = (from: number, to: number, ohms: number): number => links.push({ from, to, ohms }) - 1;
  const pair = (a: number, b: number, ohms: number, power: Jumper['power']): ConductorPair => ({
    plus: power === 'carried' ? link(plusNode(a), plusNode(b), ohms) : undefined,
    ground: link(groundNode(a), groundNode(b), ohms),
  });
  const turned = new Map(layout.runs.filter((placed) => placed.isTurned).map(({ run }) => [run.id, run]));
  /** Index of an LED by its planned number. */
  const at = (run: string, led: number): number =>
    firstLedOf.get(run)! + (turned.has(run) ? turned.get(run)!.ledCount - 1 - led : led);

  const dark = new Set(
    layout.lines.flatMap(({ runs, darkFrom }) =>
      darkFrom === undefined ? [] : runs.slice(darkFrom).map(({ run }) => run.id),
    ),
  );
  const leds = zones.flatMap(({ runs, chained }, zone) =>
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
  const segments = layout.runs.flatMap((placed) =>
    Array.from({ length: placed.run.ledCount - 1 }, (_, led) => {
      const fromLed = at(placed.run.id, led);
      return {
        fromLed,
        ...pair(fromLed, at(placed.run.id, led + 1), pitchOhms(placed.strip, placed.pitchMm), 'carried'),
      };
    }),
  );
  const jumpers = layout.lines.flatMap((line) =>
    line.jumpers.map((jumper): JumperConductors => {
      const wire = wireById(jumper.wire);
      const { from, to, lengthMm, power } = jumper;
      const ohms =
        wireOhms(wire, lengthMm) +
        (pitchOhms(from.strip, from.pitchMm) + pitchOhms(to.strip, to.pitchMm)) / 2;
      const lastLed = at(from.run.id, from.isTurned ? 0 : from.run.ledCount - 1);
      const firstLed = at(to.run.id, to.isTurned ? to.run.ledCount - 1 : 0);
      return {
        jumper,
        at: pointer('dataLines', line.index, 'chain', jumper.place),
        wire,
        ...pair(lastLed, firstLed, ohms, power),
      };
    }),
  );

  const { supply } = project.power;
  const outputOhms = (supply.outputMilliohms ?? 0) / 1000;
  const busNode = 2 * leds.length;
  if (outputOhms > 0) link(plusTerminal, busNode, outputOhms);
  const feeds = project.power.feeds.map((feed, index): FeedConductors => {
    const wire = wireById(feed.wire);
    const ohms = wireOhms(wire, feed.lengthMm);
    const atLed = at(feed.run, feed.led);
    return {
      feed,
      at: pointer('power', 'feeds', index),
      wire,
      atLed,
      plus: link(outputOhms > 0 ? busNode : plusTerminal, plusNode(atLed), ohms),
      ground: link(groundNode(atLed), groundTerminal, ohms),
    };
  });

  const network: Network = {
    nodeCount: 2 * leds.length + (outputOhms > 0 ? 1 : 0),
    terminalVolts: [0, 0],
    links,
  };
  return {
    leds,
    chainLedCount: zones.reduce((sum, zone) => sum + (zone.chained ? zone.ledCount : 0), 0),
    wireLedCount: layout.wireLeds.length,
    zones,
    feeds,
    jumpers,
    segments,
    network,
    factored: factorNetwork(network),
    supplyVolts: supply.volts,
  };
}

export const isFed = (panel: PanelNetwork, led: number): boolean =>
  panel.zones[panel.leds[led]!.zone]!.feeds.length > 0;

export const roomForVolts = ({ network, leds }: PanelNetwork): PanelVolts => ({
  drawnAmps: new Float64Array(network.nodeCount),
  riseVolts: new Float64Array(network.nodeCount),
  ledVolts: new Float64Array(leds.length),
});

/** Volts for the amperes of each LED. LEDs that no feed reaches draw nothing, whatever `ledAmps` says. */
export function solvePanel(
  panel: PanelNetwork,
  ledAmps: ArrayLike<number>,
  into: PanelVolts = roomForVolts(panel),
): PanelVolts {
  const { drawnAmps, riseVolts, ledVolts } = into;
  for (const { firstLed, ledCount, feeds } of panel.zones) {
    if (feeds.length === 0) continue;
    for (let led = firstLed; led < firstLed + ledCount; led++) {
      drawnAmps[plusNode(led)] = ledAmps[led]!;
      drawnAmps[groundNode(led)] = -ledAmps[led]!;
    }
  }
  panel.factored.solve(drawnAmps, riseVolts);
  for (const { firstLed, ledCount, feeds } of panel.zones) {
    if (feeds.length === 0) continue;
    for (let led = firstLed; led < firstLed + ledCount; led++)
      ledVolts[led] = panel.supplyVolts + riseVolts[plusNode(led)]! - riseVolts[groundNode(led)]!;
  }
  return into;
}

/** Amperes along every link of the network; 0 where nothing is fed. */
export const linkCurrents = ({ network }: PanelNetwork, { riseVolts }: PanelVolts): Float64Array =>
  Float64Array.from(network.links, (link) => {
    const amps = linkAmps(network, link, riseVolts);
    return Number.isNaN(amps) ? 0 : amps;
  });

/** The LED with the lowest volts, the first of equals; undefined in a project without LEDs. */
export function lowestLed(
  ledVolts: ArrayLike<number>,
  from = 0,
  count = ledVolts.length,
): { readonly led: number; readonly volts: number } | undefined {
  let lowest: { led: number; volts: number } | undefined;
  for (let led = from; led < from + count; led++)
    if (lowest === undefined || ledVolts[led]! < lowest.volts) lowest = { led, volts: ledVolts[led]! };
  return lowest;
}
