// Everything that is computed of a panel's power before a lampshow is known: the network and its load cases, solved once,
// for findings and report alike. Pure; made anew after each edit.
import { copperFactor } from '../catalogue/index.ts';
import type { Layout } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { type Conditions, type Fault, usualConditions } from './conditions.ts';
import { type ControllerPower, controllerAmps, controllerPower } from './controller.ts';
import { type FuseRule, fuseRule } from './fuse-rule.ts';
import { limitedAmps, totalAmps, whiteAmps } from './load-cases.ts';
import { type PanelNetwork, panelNetwork } from './panel-network.ts';
import { linkCurrents, type PanelVolts, solvePanel } from './panel-solve.ts';
import { along, type FeedSize, feedSizes } from './sizing.ts';
import { solveStarved } from './starved.ts';

export interface SolvedCase {
  readonly ledAmps: Float64Array;
  readonly totalAmps: number;
  readonly ledVolts: Float64Array;
  /** By node of the network: how far it lies above the first supply's own terminal. */
  readonly riseVolts: Float64Array;
  /** By index in the network's list of links. */
  readonly linkAmps: Float64Array;
  /** What each supply gives to its feeds. */
  readonly supplyAmps: readonly number[];
  /** In the wire that joins each further supply's ground to the first one's, away from the first. */
  readonly bondAmps: Float64Array;
}

export interface PowerAssessment {
  readonly panel: PanelNetwork;
  /** Unlimited white, constant current, copper at 20 C. */
  readonly worst: SolvedCase;
  /** White as the player lets it happen: held to the limit, or the worst case where there is none. */
  readonly inUse: SolvedCase;
  /** Unlimited white in a hot backbox, with every feed's fuse in series, also where the project names no kind. */
  readonly hot: { readonly celsius: number; readonly worst: SolvedCase };
  /** The worst case with LEDs that starve; undefined where none lies below its floor. */
  readonly starved: SolvedCase | undefined;
  readonly feedSizes: readonly FeedSize[];
  readonly fuseRule: FuseRule;
  readonly controller: ControllerPower | undefined;
}

/** Copper in a closed backbox after hours of play, where the project says nothing (common practice, no source). */
export const usualHotCelsius = 50;

function solvedCase(panel: PanelNetwork, ledAmps: Float64Array, volts: PanelVolts): SolvedCase {
  const linkAmps = linkCurrents(panel, volts);
  return {
    ledAmps,
    totalAmps: totalAmps(ledAmps),
    ledVolts: volts.ledVolts,
    riseVolts: volts.riseVolts,
    linkAmps,
    supplyAmps: panel.supplies.map((_, supply) =>
      panel.feeds.reduce((sum, feed) => sum + (feed.supply === supply ? along(linkAmps, feed.plus) : 0), 0),
    ),
    bondAmps: volts.bondAmps,
  };
}

const solveCase = (panel: PanelNetwork, ledAmps: Float64Array): SolvedCase =>
  solvedCase(panel, ledAmps, solvePanel(panel, ledAmps));

const isAnyBelowFloor = ({ leds, isPowered }: PanelNetwork, { ledVolts }: SolvedCase): boolean =>
  leds.some(({ strip }, led) => isPowered[led] === 1 && ledVolts[led]! < strip.floorVolts);

type Fuses = Conditions['fuses'];

/**
 * The fuses of a sound panel, cold: the document's, or what suits the loads that plain wires give. A broken conductor doesn't change what was fitted.
 */
function fittedFuses(project: Project, layout: Layout): readonly (number | undefined)[] {
  const { feeds } = project.power;
  if (feeds.every(({ fuseAmps }) => fuseAmps !== undefined)) return feeds.map(({ fuseAmps }) => fuseAmps);
  const plain = panelNetwork(project, layout);
  return feedSizes(plain, solveCase(plain, whiteAmps(plain)).linkAmps).map(({ fuseAmps }) => fuseAmps);
}

/** @param faults what is broken; nothing where absent */
export function assessPower(
  project: Project,
  layout: Layout,
  faults: readonly Fault[] = usualConditions.faults,
): PowerAssessment {
  const fitted = fittedFuses(project, layout);
  const inSeries = (kindWhereUnsaid: 'blade' | undefined): Fuses =>
    project.power.feeds.map((feed, index) => {
      const kind = feed.fuseKind ?? kindWhereUnsaid;
      const amps = fitted[index];
      return kind === undefined || amps === undefined ? undefined : { kind, amps };
    });
  // Where nothing is said of the board, the cold case is of the strips alone; the hot one counts it all the same.
  const boardAmps = controllerAmps(project);
  const panel = panelNetwork(project, layout, {
    copperFactor: 1,
    faults,
    fuses: inSeries(undefined),
    boardAmps: project.power.controller ? boardAmps : 0,
  });
  const worst = solveCase(panel, whiteAmps(panel));
  const { limitAmps, hotCelsius = usualHotCelsius } = project.power;
  const hotPanel = panelNetwork(project, layout, {
    copperFactor: copperFactor(hotCelsius),
    faults,
    fuses: inSeries('blade'),
    boardAmps,
  });
  const hotWorst = solveCase(hotPanel, worst.ledAmps);
  const starved = isAnyBelowFloor(panel, worst) ? solveStarved(panel, worst.ledAmps) : undefined;
  const sizes = feedSizes(panel, worst.linkAmps, fitted, { panel: hotPanel, linkAmps: hotWorst.linkAmps });
  return {
    panel,
    worst,
    inUse: limitAmps === undefined ? worst : solveCase(panel, limitedAmps(panel, limitAmps)),
    hot: { celsius: hotCelsius, worst: hotWorst },
    // A solution that isn't one is worse than none.
    starved: starved?.isSettled ? solvedCase(panel, starved.ledAmps, starved) : undefined,
    feedSizes: sizes,
    fuseRule: fuseRule(project, layout, panel, sizes),
    controller: controllerPower(project, panel, worst.supplyAmps[0] ?? 0),
  };
}
