// The fuse rule: for every single short and every conductor, the ratings of the fuses whose current crosses it sum to at most its rating. A fuse
// that hangs on a thinner conductor somewhere protects the thick part of the way only. Not here: the wording (fuse-findings.ts).
// Shorts: + to ground at any LED, or anywhere inside a feed's cable. Read strictly, without regard to how the current splits:
// - On +, each fuse's current comes from its feed to the short. A zone's + is a chain with feeds hanging on it, so a rail or a + jumper is crossed
//   by the fuses on its far side. A feed's wire and plug carry its own fuse's current; with the short in its own cable, the other fuses of the zone
//   come back through them from the strip's end.
// - On ground, the current of all fuses of the shorted zone goes from the short's ground back to the supplies. It crosses every conductor on any
//   way there that passes no node twice (ways.ts): rails with a ground wire beyond them; every ground wire of that ground net, also of other zones,
//   since grounds are never cut at jumpers; and the leads between board and strips, which join the grounds of all data lines at the board.
// Several supplies: a fuse limits what comes from its own supply, and that returns to that supply. Two supplies' fuses in one zone need no sorting:
// their ground wires and the joined grounds make a loop, so all that lies on the way to one lies on the way to the other.
// A short inside a feed's cable adds nothing on ground to one at the feed's LED.
import type { Layout } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import {
  type Conductor,
  type FuseConductors,
  fuseConductors,
  type RatedConductor,
} from './fuse-conductors.ts';
import type { PanelNetwork } from './panel-network.ts';
import { type FeedSize, settled } from './sizing.ts';
import { blocksTowards } from './ways.ts';

/** Where + meets ground. */
export interface Short {
  /** Index of the LED; of the one at the feed's end where it lies inside a cable. */
  readonly led: number;
  /** Index of the feed whose cable it lies in. */
  readonly feed: number | undefined;
}

export interface ConductorCheck extends RatedConductor {
  readonly conductor: Conductor;
  /** Of the worst short: the known ratings of the fuses whose current crosses; infinite where a feed's own fuse is not known. */
  readonly fusesAmps: number;
  /** Indices of their feeds. */
  readonly fuses: readonly number[];
  /** Undefined where no short sends current through it. */
  readonly short: Short | undefined;
}

export interface FuseRule {
  /** Every conductor, with the short that is worst for it. */
  readonly checks: readonly ConductorCheck[];
  /** Those whose rating is less than the fuses', the worst first: most amperes for each of the rating. */
  readonly violations: readonly ConductorCheck[];
  /** At every LED and in every feed's cable. */
  readonly shortsChecked: number;
}

type Crossing = Omit<ConductorCheck, keyof RatedConductor>;
type Fuses = Pick<Crossing, 'fuses' | 'fusesAmps'>;
type FusesOf = (feeds: readonly number[]) => Fuses;
const nothing: Crossing = { fusesAmps: 0, fuses: [], short: undefined };

const worseOf = (one: Crossing, other: Crossing): Crossing => (other.fusesAmps > one.fusesAmps ? other : one);

/** LEDs whose + is joined: the first and the last one, and the feeds on them in the order of their LEDs. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly feeds: readonly number[];
}

/** The panel's zones; more than those where a fault has cut a rail. */
function piecesOf({ plusAfter, plusOfFeed }: FuseConductors, { feeds }: PanelNetwork): Piece[] {
  const feedsAt = new Map<number, number[]>();
  for (const [feed, { atLed }] of feeds.entries())
    if (plusOfFeed[feed]) feedsAt.set(atLed, [...(feedsAt.get(atLed) ?? []), feed]);
  const pieces: Piece[] = [];
  let from = 0;
  let onPiece: number[] = [];
  for (const [led, after] of plusAfter.entries()) {
    onPiece.push(...(feedsAt.get(led) ?? []));
    if (after >= 0) continue;
    pieces.push({ from, to: led, feeds: onPiece });
    from = led + 1;
    onPiece = [];
  }
  return pieces;
}

function checkPlus(
  { plusAfter, plusOfFeed }: FuseConductors,
  panel: PanelNetwork,
  pieces: readonly Piece[],
  fusesOf: FusesOf,
  worst: Crossing[],
): void {
  for (const { from, to, feeds } of pieces) {
    if (feeds.length === 0) continue;
    let passed = 0;
    let [near, far] = [fusesOf([]), fusesOf(feeds)];
    for (let led = from; led < to; led++) {
      const before = passed;
      while (passed < feeds.length && panel.feeds[feeds[passed]!]!.atLed <= led) passed++;
      if (passed > before) [near, far] = [fusesOf(feeds.slice(0, passed)), fusesOf(feeds.slice(passed))];
      worst[plusAfter[led]!] = worseOf(
        { ...near, short: { led: led + 1, feed: undefined } },
        { ...far, short: { led, feed: undefined } },
      );
    }
    for (const feed of feeds) {
      const { atLed: led } = panel.feeds[feed]!;
      const crossing = worseOf(
        { ...fusesOf([feed]), short: { led, feed: undefined } },
        { ...fusesOf(feeds.filter((other) => other !== feed)), short: { led, feed } },
      );
      for (const part of plusOfFeed[feed]!) worst[part] = crossing;
    }
  }
}

function checkGrounds(
  { grounds, groundNodeCount, supplyNodes }: FuseConductors,
  panel: PanelNetwork,
  pieces: readonly Piece[],
  fusesOf: FusesOf,
  worst: Crossing[],
): void {
  const fed = pieces.map(({ from, to, feeds }) => ({
    from,
    to,
    fuses: fusesOf(feeds),
    targets: new Set(feeds.map((feed) => supplyNodes[panel.feeds[feed]!.supply]!)),
  }));
  for (const target of new Set(supplyNodes)) {
    const blocks = blocksTowards(groundNodeCount, grounds, target);
    const worstOf: Crossing[] = Array(blocks.count).fill(nothing);
    const lastPiece = new Int32Array(blocks.count).fill(-1);
    for (const [index, { from, to, fuses, targets }] of fed.entries()) {
      if (!targets.has(target)) continue;
      for (let led = from; led <= to; led++) {
        let block = blocks.above[led]!;
        while (block >= 0 && lastPiece[block] !== index) {
          lastPiece[block] = index;
          worstOf[block] = worseOf(worstOf[block]!, { ...fuses, short: { led, feed: undefined } });
          block = blocks.above[blocks.topOf[block]!]!;
        }
      }
    }
    for (const [ground, { rated }] of grounds.entries()) {
      const block = blocks.ofConductor[ground]!;
      if (block >= 0) for (const part of rated) worst[part] = worseOf(worst[part]!, worstOf[block]!);
    }
  }
}

/**
 * Checks every conductor against every short. A feed whose fuse is not known, since none is large enough, is a violation of its own + wire; in sums
 * over other conductors it counts as nothing.
 * @param sizes by index of the feed
 */
export function fuseRule(
  project: Project,
  layout: Layout,
  panel: PanelNetwork,
  sizes: readonly Pick<FeedSize, 'fuseAmps'>[],
): FuseRule {
  const conductors = fuseConductors(project, layout, panel);
  const pieces = piecesOf(conductors, panel);
  const fusesOf: FusesOf = (fuses) => ({
    fuses,
    fusesAmps: settled(fuses.reduce((sum, feed) => sum + (sizes[feed]!.fuseAmps ?? 0), 0)),
  });
  const worst: Crossing[] = Array(conductors.rated.length).fill(nothing);
  checkPlus(conductors, panel, pieces, fusesOf, worst);
  checkGrounds(conductors, panel, pieces, fusesOf, worst);
  for (const [feed, parts] of conductors.plusOfFeed.entries())
    if (parts && sizes[feed]!.fuseAmps === undefined)
      worst[parts[0]!] = {
        fusesAmps: Number.POSITIVE_INFINITY,
        fuses: [feed],
        short: { led: panel.feeds[feed]!.atLed, feed: undefined },
      };
  const checks = conductors.rated.map((rated, index): ConductorCheck => ({ ...rated, ...worst[index]! }));
  const load = ({ fusesAmps, ratingAmps }: ConductorCheck): number => fusesAmps / ratingAmps;
  return {
    checks,
    violations: checks
      .filter(({ fusesAmps, ratingAmps }) => fusesAmps > ratingAmps)
      .sort((one, other) => (load(one) === load(other) ? 0 : load(other) - load(one))),
    shortsChecked: panel.leds.length + panel.feeds.length,
  };
}
