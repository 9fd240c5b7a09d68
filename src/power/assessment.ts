// Everything that is computed of a panel's power before a lampshow is known: the network and its load cases, solved once,
// for findings and report alike. Pure; made anew after each edit.
import type { Layout } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { limitedAmps, totalAmps, whiteAmps } from './load-cases.ts';
import { linkCurrents, type PanelNetwork, panelNetwork, solvePanel } from './panel-network.ts';
import { type FeedSize, feedSizes } from './sizing.ts';

export interface SolvedCase {
  readonly ledAmps: Float64Array;
  readonly totalAmps: number;
  readonly ledVolts: Float64Array;
  /** By index in the network's list of links. */
  readonly linkAmps: Float64Array;
}

export interface PowerAssessment {
  readonly panel: PanelNetwork;
  /** Unlimited white. */
  readonly worst: SolvedCase;
  /** White as the player lets it happen: held to the limit, or the worst case where there is none. */
  readonly inUse: SolvedCase;
  readonly feedSizes: readonly FeedSize[];
}

function solveCase(panel: PanelNetwork, ledAmps: Float64Array): SolvedCase {
  const volts = solvePanel(panel, ledAmps);
  return {
    ledAmps,
    totalAmps: totalAmps(ledAmps),
    ledVolts: volts.ledVolts,
    linkAmps: linkCurrents(panel, volts),
  };
}

export function assessPower(project: Project, layout: Layout): PowerAssessment {
  const panel = panelNetwork(project, layout);
  const worst = solveCase(panel, whiteAmps(panel));
  const { limitAmps } = project.power;
  return {
    panel,
    worst,
    inUse: limitAmps === undefined ? worst : solveCase(panel, limitedAmps(panel, limitAmps)),
    feedSizes: feedSizes(panel, worst.linkAmps),
  };
}
