// Choosing supplies: what each supply of the document carries, how the usual sizes would do, and how zones are spread over several smaller ones.
// Several supplies have their grounds joined and their + never: no zone hangs on two. Ratings are amperes above 0, which the document's schema sees to.
// Not here: what a supply should be rated for (sizing.ts), what a supply that is owned already can carry (owned-supply.ts).
import { supplyAmps, supplyKind } from '../catalogue/index.ts';
import { type FurtherSupply, freeId, limits, type Project } from '../project/index.ts';
import { packLeast } from './bin-packing.ts';
import { controllerAmps } from './controller.ts';
import { darkAmps, whiteAmps } from './load-cases.ts';
import type { PanelNetwork } from './panel-network.ts';
import { type SupplyDraw, settled, supplyDrawAmps, supplyNeedAmps } from './sizing.ts';
import type { Supply } from './supplies.ts';

/** `enough`: a fifth of the rating stays free; `tight`: within the rating, but not by a fifth; `too-small`: beyond the rating. */
export type SupplyVerdict = 'enough' | 'tight' | 'too-small';

const verdictOf = (ratedAmps: number, drawAmps: number, needAmps: number): SupplyVerdict =>
  ratedAmps >= needAmps ? 'enough' : ratedAmps >= drawAmps ? 'tight' : 'too-small';

/** Amperes of each zone. */
interface ZoneAmps {
  readonly white: number;
  /** Dark, the LEDs that take data and those that don't. */
  readonly quiescentOnWire: number;
  readonly quiescentOffWire: number;
}

function zoneAmps(panel: PanelNetwork): ZoneAmps[] {
  const [white, dark] = [whiteAmps(panel), darkAmps(panel)];
  return panel.zones.map(({ firstLed, ledCount }) => {
    const sums = { white: 0, quiescentOnWire: 0, quiescentOffWire: 0 };
    for (let led = firstLed; led < firstLed + ledCount; led++) {
      sums.white += white[led]!;
      sums[panel.leds[led]!.isOnWire ? 'quiescentOnWire' : 'quiescentOffWire'] += dark[led]!;
    }
    return sums;
  });
}

const sumOf = (zones: readonly ZoneAmps[], key: keyof ZoneAmps): number =>
  zones.reduce((sum, zone) => sum + zone[key], 0);

/** What the limiter leaves of some zones' white, on a supply that the board hangs on or not. */
const drawOf = (all: readonly ZoneAmps[], own: readonly ZoneAmps[], boardAmps: number): SupplyDraw => ({
  quiescentAmps: sumOf(own, 'quiescentOnWire'),
  offWireAmps: sumOf(own, 'quiescentOffWire'),
  elsewhereAmps: sumOf(all, 'quiescentOnWire') - sumOf(own, 'quiescentOnWire'),
  boardAmps,
});

/**
 * Indices of the supplies that a zone is fed from: one in a sound panel, the first where no feed is there yet. A zone wrongly fed from two counts
 * whole for each of them.
 */
const suppliesOfZone = ({ zones, feeds }: PanelNetwork, zone: number): number[] => {
  const own = zones[zone]!.feeds;
  return own.length === 0 ? [0] : [...new Set(own.map((feed) => feeds[feed]!.supply))];
};

export interface SupplyLoad {
  readonly supply: Supply;
  /** Indices in the network's list of zones. */
  readonly zones: readonly number[];
  readonly ledCount: number;
  /** Its LEDs all white, without limiter and board. */
  readonly worstAmps: number;
  /** The most in normal use: held by the limiter, with the board on the first supply. */
  readonly drawAmps: number;
  /** What it should be rated for. */
  readonly needAmps: number;
  /** drawAmps as a share of its rating; above 1 it gives way. */
  readonly loadShare: number;
  readonly verdict: SupplyVerdict;
}

/**
 * What each supply of the document carries, in their order. Of several, each must stand what the limiter lets through if only its own LEDs are lit: the
 * limit holds for all together.
 */
export function supplyLoads(project: Pick<Project, 'power'>, panel: PanelNetwork): SupplyLoad[] {
  const all = zoneAmps(panel);
  return panel.supplies.map((supply, index): SupplyLoad => {
    const zones = [...panel.zones.keys()].filter((zone) => suppliesOfZone(panel, zone).includes(index));
    const own = zones.map((zone) => all[zone]!);
    const draw = drawOf(all, own, index === 0 ? controllerAmps(project) : 0);
    const worstAmps = settled(sumOf(own, 'white'));
    const drawAmps = supplyDrawAmps(project, worstAmps, draw);
    const needAmps = supplyNeedAmps(project, worstAmps, draw);
    return {
      supply,
      zones,
      ledCount: zones.reduce((sum, zone) => sum + panel.zones[zone]!.ledCount, 0),
      worstAmps,
      drawAmps,
      needAmps,
      loadShare: drawAmps / supply.amps,
      verdict: verdictOf(supply.amps, drawAmps, needAmps),
    };
  });
}

export interface SupplySize {
  readonly amps: number;
  /** At the supply's volts. */
  readonly watts: number;
  readonly loadShare: number;
  readonly verdict: SupplyVerdict;
  /** Whether it is the rating that the document has now. */
  readonly isOwn: boolean;
}

/** The usual sizes for what a supply carries, and its own rating, ascending. */
export function supplySizes({ supply, drawAmps, needAmps }: SupplyLoad): SupplySize[] {
  const usual = supplyAmps[supplyKind(supply.volts)];
  return [...new Set([...usual, supply.amps])]
    .sort((a, b) => a - b)
    .map((amps) => ({
      amps,
      watts: amps * supply.volts,
      loadShare: drawAmps / amps,
      verdict: verdictOf(amps, drawAmps, needAmps),
      isOwn: amps === supply.amps,
    }));
}

/** The zones over several supplies of one size. */
export interface SupplySplit {
  /** Rating of each. */
  readonly sizeAmps: number;
  /** The first one carries the board. */
  readonly supplies: readonly {
    /** Undefined: the document's first supply. */
    readonly id: string | undefined;
    readonly zones: readonly number[];
    /** White of its zones, and the board. */
    readonly loadAmps: number;
  }[];
  readonly isProvedLeast: boolean;
  /** For the document: the further supplies, those of another voltage as they were. */
  readonly moreSupplies: readonly FurtherSupply[];
  /** For the document: each feed's supply, by the feed's index; undefined is the first one. */
  readonly feedSupplies: readonly (string | undefined)[];
}

/** Why zones can't be spread over supplies of that size. */
export type NoSplit =
  | { readonly reason: 'zone-too-large'; readonly zones: readonly number[] }
  | { readonly reason: 'too-many-supplies'; readonly supplyCount: number };

/** To say beside every split. */
export const splitCaution =
  'Join the grounds of all supplies, never their +: every + jumper between two supplies’ LEDs stays cut.';

/** Bins are filled in whole microamperes, loads rounded up, so that rounding never overfills one. */
const microamps = (amps: number): number => Math.ceil(settled(amps) * 1e6 - 1e-3);

/**
 * The least number of supplies of `sizeAmps` > 0 that carry all zones' white at 80 %, each zone on one of them. White without the limiter: a show may light
 * the LEDs of one supply alone, and the limit is one for all. Zones on supplies of the other voltage than the first one's stay where they are.
 */
export function splitOverSupplies(
  project: Pick<Project, 'power'>,
  panel: PanelNetwork,
  sizeAmps: number,
): SupplySplit | NoSplit {
  const { volts } = project.power.supply;
  const kind = supplyKind(volts);
  const isMoved = (zone: number): boolean =>
    suppliesOfZone(panel, zone).every((supply) => supplyKind(panel.supplies[supply]!.volts) === kind);
  const moved = [...panel.zones.keys()].filter(isMoved);
  const white = zoneAmps(panel).map((zone) => zone.white);
  // No limit: white is what counts, and the board is one more load.
  const { limitAmps: _, ...power } = project.power;
  const needOf = (amps: number, boardAmps: number): number =>
    microamps(supplyNeedAmps({ power }, amps, { boardAmps }));
  const boardAmps = controllerAmps(project);
  const loads = [needOf(0, boardAmps), ...moved.map((zone) => needOf(white[zone]!, 0))];
  const room = Math.floor(sizeAmps * 1e6 + 1e-3);
  const tooLarge = moved.filter((_, i) => loads[i + 1]! > room);
  if (tooLarge.length > 0 || loads[0]! > room) return { reason: 'zone-too-large', zones: tooLarge };

  const { bins, isProvedLeast } = packLeast(loads, room);
  const withBoardFirst = [...bins].sort((a, b) => Number(b.includes(0)) - Number(a.includes(0)));
  const further = project.power.moreSupplies ?? [];
  const kept = further.filter(
    (one) => supplyKind(one.volts) !== kind && project.power.feeds.some((feed) => feed.supply === one.id),
  );
  if (withBoardFirst.length + kept.length > limits.moreSupplies + 1)
    return { reason: 'too-many-supplies', supplyCount: withBoardFirst.length + kept.length };

  // Supplies that are there already keep their ids and places.
  const reused = further.filter((one) => supplyKind(one.volts) === kind);
  const taken = further.map(({ id }) => id);
  const added = withBoardFirst.slice(1).map((_, i): FurtherSupply => {
    const before = reused[i];
    // Trimmed alike: a zone must not sag because it moved.
    if (before) return { ...before, volts, amps: sizeAmps };
    const id = freeId(taken, 'supply-2');
    taken.push(id);
    return { id, volts, amps: sizeAmps };
  });
  const supplies = withBoardFirst.map((bin, i) => {
    const zones = bin.filter((load) => load > 0).map((load) => moved[load - 1]!);
    const loadAmps = zones.reduce((sum, zone) => sum + white[zone]!, i === 0 ? boardAmps : 0);
    return {
      id: i === 0 ? undefined : added[i - 1]!.id,
      zones: zones.sort((a, b) => a - b),
      loadAmps: settled(loadAmps),
    };
  });
  const feedSupplies = project.power.feeds.map((feed) => feed.supply);
  for (const { id, zones } of supplies)
    for (const zone of zones) for (const feed of panel.zones[zone]!.feeds) feedSupplies[feed] = id;
  return {
    sizeAmps,
    supplies,
    isProvedLeast,
    moreSupplies: [...kept, ...added],
    feedSupplies,
  };
}
