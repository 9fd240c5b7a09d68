// Volts and amperes of a panel for what each LED draws. Not here: the network (panel-network.ts), and what LEDs draw (load-cases.ts).
import { linkAmps } from './network.ts';
import { groundNode, type PanelNetwork, plusNode } from './panel-network.ts';

/** Room for one load case: what each node draws, how far it lies above the first supply's own terminal, volts across LEDs. */
export interface PanelVolts {
  readonly drawnAmps: Float64Array;
  /** Negative on + rails, positive on ground rails; NaN where no way leads to a supply. */
  readonly riseVolts: Float64Array;
  /** As the network's terminals: where joining wires leave the grounds of further supplies. */
  readonly terminalVolts: Float64Array;
  /** + minus ground of each LED as computed, also below 0; 0 where no feed reaches it. */
  readonly ledVolts: Float64Array;
  /** By index of the supply: amperes in the wire that joins its ground to the first one's, away from the first. */
  bondAmps: Float64Array;
}

export const roomForVolts = ({ network, leds, supplies }: PanelNetwork): PanelVolts => ({
  drawnAmps: new Float64Array(network.nodeCount),
  riseVolts: new Float64Array(network.nodeCount),
  terminalVolts: new Float64Array(network.terminalVolts.length),
  ledVolts: new Float64Array(leds.length),
  bondAmps: new Float64Array(supplies.length),
});

/** What the board draws, which is the same in every load case. */
export function drawBoard({ board }: PanelNetwork, drawnAmps: Float64Array): void {
  if (board) drawnAmps[board.node] = board.amps;
}

/** Volts for the amperes of each LED. LEDs that no feed reaches draw nothing, whatever `ledAmps` says. */
export function solvePanel(
  panel: PanelNetwork,
  ledAmps: ArrayLike<number>,
  into: PanelVolts = roomForVolts(panel),
): PanelVolts {
  const { drawnAmps, riseVolts, terminalVolts, ledVolts } = into;
  const { isPowered } = panel;
  drawBoard(panel, drawnAmps);
  for (let led = 0; led < panel.leds.length; led++) {
    if (isPowered[led] === 0) continue;
    drawnAmps[plusNode(led)] = ledAmps[led]!;
    drawnAmps[groundNode(led)] = -ledAmps[led]!;
  }
  terminalVolts.set(panel.network.terminalVolts);
  panel.factored.solve(drawnAmps, riseVolts);
  into.bondAmps = panel.bonds.lift(riseVolts, terminalVolts);
  for (let led = 0; led < panel.leds.length; led++)
    ledVolts[led] =
      isPowered[led] === 0 ? 0 : panel.supplyVolts + riseVolts[plusNode(led)]! - riseVolts[groundNode(led)]!;
  return into;
}

/** Amperes along every link of the network; 0 where nothing is fed. */
export const linkCurrents = (
  { network }: PanelNetwork,
  { riseVolts, terminalVolts }: PanelVolts,
): Float64Array => {
  const now = { ...network, terminalVolts };
  return Float64Array.from(network.links, (link) => {
    const amps = linkAmps(now, link, riseVolts);
    return Number.isNaN(amps) ? 0 : amps;
  });
};

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
