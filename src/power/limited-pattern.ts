// The worst that the player's limiter lets happen to one LED: it holds the sum, not the place, so all that it allows may be lit where it hurts that LED
// most. Not here: white held down evenly (load-cases.ts).
import { darkAmps, whiteAmps, wireAmps } from './load-cases.ts';
import { groundNode, type PanelNetwork, plusNode } from './panel-network.ts';
import { roomForVolts, solvePanel } from './panel-solve.ts';

/**
 * Volts of an LED where LEDs on the wire draw `limitAmps` together, lit where an ampere takes the most from it. By reciprocity an ampere drawn at another LED
 * takes from this one as many volts as one drawn here takes from the other.
 */
export function lowestVoltsWithin(panel: PanelNetwork, led: number, limitAmps: number): number {
  const { leds, network, factored, isPowered } = panel;
  const unit = new Float64Array(network.nodeCount);
  unit[plusNode(led)] = 1;
  unit[groundNode(led)] = -1;
  // The terminals' own volts are the same with and without it, so only their difference counts.
  const resting = factored.solve(new Float64Array(network.nodeCount));
  const drawn = factored.solve(unit);
  const lostPerAmp = leds.map((_, i) =>
    isPowered[i] === 0
      ? 0
      : resting[plusNode(i)]! - drawn[plusNode(i)]! + drawn[groundNode(i)]! - resting[groundNode(i)]!,
  );
  const amps = darkAmps(panel);
  const white = whiteAmps(panel);
  let left = limitAmps - wireAmps(panel, amps);
  const byHarm = [...leds.keys()]
    .filter((i) => leds[i]!.isOnWire)
    .sort((a, b) => lostPerAmp[b]! - lostPerAmp[a]!);
  for (const i of byHarm) {
    if (left <= 0) break;
    const more = Math.min(left, white[i]! - amps[i]!);
    amps[i]! += more;
    left -= more;
  }
  return solvePanel(panel, amps, roomForVolts(panel)).ledVolts[led]!;
}
