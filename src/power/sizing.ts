// Sizing: the fuse of each feed, what the supply must be able to give, and how much may enter a strip at one point.
// Not here: the wording (findings.ts), and where feeds should go. All loads are those of the worst case, unlimited white:
// the limiter is a program and no protection. Rules: common practice, no source, where not said otherwise beside them.
import { fuseFor, supplyLoadShare, type Wire, wires } from '../catalogue/index.ts';
import type { Project } from '../project/index.ts';
import { controllerAmps } from './controller.ts';
import type { FeedConductors, PanelNetwork } from './panel-network.ts';
import { railAmps } from './rail-ratings.ts';

/** Rounded to nine digits behind the point: a nanoampere of arithmetic must not choose the next larger fuse. */
export const settled = (value: number): number => Number(value.toFixed(9));

export interface FeedSize {
  readonly conductors: FeedConductors;
  /** Worst-case amperes in the + wire, which the fuse protects. */
  readonly loadAmps: number;
  /** In the ground wire; differs from the + wire where a + jumper is cut and its ground is not. Below 0 where it runs towards the strip. */
  readonly groundAmps: number;
  /** The most that either wire carries, cold or hot, whichever way. */
  readonly mostAmps: number;
  /** The most in the + wire, cold or hot. */
  readonly mostFusedAmps: number;
  /** The document's fuse, else the smallest blade fuse that carries the load at 80 %; undefined where none is large enough. */
  readonly fuseAmps: number | undefined;
}

/** Amperes along a link; none where a fault took it away. */
export const along = (linkAmps: ArrayLike<number>, link: number | undefined): number =>
  link === undefined ? 0 : linkAmps[link]!;

/** Amperes in both wires of each feed in other conditions, such as a hot backbox. */
export interface OtherLoad {
  readonly panel: PanelNetwork;
  readonly linkAmps: ArrayLike<number>;
}

/**
 * @param fuses by feed: the fuse that was chosen for it already; chosen from the load here where absent
 * @param hot the same panel when hot, whose feeds share their load a little otherwise
 */
export const feedSizes = (
  panel: PanelNetwork,
  worstLinkAmps: ArrayLike<number>,
  fuses?: readonly (number | undefined)[],
  hot?: OtherLoad,
): FeedSize[] =>
  panel.feeds.map((conductors, index): FeedSize => {
    const loadAmps = settled(along(worstLinkAmps, conductors.plus));
    const groundAmps = settled(along(worstLinkAmps, conductors.ground));
    const warm = hot?.panel.feeds[index];
    const warmAmps = (link: number | undefined) => (hot ? settled(Math.abs(along(hot.linkAmps, link))) : 0);
    const mostFusedAmps = Math.max(Math.abs(loadAmps), warmAmps(warm?.plus));
    return {
      conductors,
      loadAmps,
      groundAmps,
      mostFusedAmps,
      mostAmps: Math.max(mostFusedAmps, Math.abs(groundAmps), warmAmps(warm?.ground)),
      fuseAmps: fuses
        ? fuses[index]
        : (conductors.feed.fuseAmps ?? fuseFor(loadAmps, conductors.feed.fuseKind)),
    };
  });

export interface InjectionPoint {
  /** Index of the LED in the list of LEDs. */
  readonly atLed: number;
  readonly feeds: readonly FeedSize[];
  /** On + or on ground, whichever is more. */
  readonly amps: number;
  /** Twice as much inside a run, where the current leaves both ways. */
  readonly limitAmps: number;
}

/** The feeds, those at the same LED together. */
export function injectionPoints(panel: PanelNetwork, sizes: readonly FeedSize[]): InjectionPoint[] {
  const byLed = new Map<number, FeedSize[]>();
  for (const size of sizes) {
    const { atLed } = size.conductors;
    byLed.set(atLed, [...(byLed.get(atLed) ?? []), size]);
  }
  return [...byLed].map(([atLed, feeds]) => {
    const { run, strip } = panel.leds[atLed]!;
    const isAtEnd = panel.leds[atLed - 1]?.run !== run || panel.leds[atLed + 1]?.run !== run;
    const oneWay = railAmps(strip);
    return {
      atLed,
      feeds,
      amps: settled(
        Math.max(
          Math.abs(feeds.reduce((sum, feed) => sum + feed.loadAmps, 0)),
          Math.abs(feeds.reduce((sum, feed) => sum + feed.groundAmps, 0)),
        ),
      ),
      limitAmps: isAtEnd ? oneWay : 2 * oneWay,
    };
  });
}

/** What a supply gives beside the white of its LEDs, and what the limiter can't hold down. Amperes, 0 where absent. */
export interface SupplyDraw {
  /** LEDs on the wire, dark: a limit below that is not kept. */
  readonly quiescentAmps?: number;
  /** LEDs that take no data, dark: the limiter doesn't count them. */
  readonly offWireAmps?: number;
  /** LEDs on the wire that hang on other supplies, dark: the limiter counts them too. */
  readonly elsewhereAmps?: number;
  /** The board; what the project says where absent. */
  readonly boardAmps?: number;
}

/**
 * The most that a supply gives in normal use, amperes: the lesser of its LEDs' white and what the limiter lets through, and the board.
 * @param worstAmps its LEDs, all white, without limiter
 */
export function supplyDrawAmps(
  { power }: Pick<Project, 'power'>,
  worstAmps: number,
  draw: SupplyDraw = {},
): number {
  const { quiescentAmps = 0, offWireAmps = 0, elsewhereAmps = 0 } = draw;
  const { limitAmps = Number.POSITIVE_INFINITY } = power;
  const limitedAmps = Math.max(quiescentAmps, limitAmps - elsewhereAmps) + offWireAmps;
  return settled(Math.min(worstAmps, limitedAmps) + (draw.boardAmps ?? controllerAmps({ power })));
}

/** What a supply should be rated for, amperes: what it gives in normal use is 80 % of that. */
export const supplyNeedAmps = (
  project: Pick<Project, 'power'>,
  worstAmps: number,
  draw: SupplyDraw = {},
): number => settled(supplyDrawAmps(project, worstAmps, draw) / supplyLoadShare);

/** The thinnest wire of the same system (gauge or mm2) that may carry this much, if there is one. */
export function wireFor(amps: number, like: Wire): Wire | undefined {
  const isGauge = (wire: Wire) => wire.id.startsWith('AWG');
  return wires
    .filter((wire) => isGauge(wire) === isGauge(like) && wire.designAmps >= amps)
    .sort((a, b) => b.ohmPerKm - a.ohmPerKm)[0];
}
