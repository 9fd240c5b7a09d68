// A strip as a bare network, for tests of the solver alone: node 2k is LED k's +, node 2k + 1 its ground; both rails alike.
import { factorNetwork, type Link, type Network, terminal } from '../../src/power/index.ts';

export interface StripFeed {
  readonly led: number;
  readonly ohms: number;
  readonly rail?: 'plus' | 'ground';
}

/** Terminal 0 is + 5 V, terminal 1 ground. Each feed has the same resistance on both wires unless it names one rail. */
export function stripNetwork(
  ledCount: number,
  loopOhmsPerPitch: number,
  feeds: readonly StripFeed[],
): Network {
  const ohms = loopOhmsPerPitch / 2;
  const links: Link[] = [];
  for (let led = 1; led < ledCount; led++)
    links.push({ from: 2 * led - 2, to: 2 * led, ohms }, { from: 2 * led - 1, to: 2 * led + 1, ohms });
  for (const feed of feeds) {
    if (feed.rail !== 'ground') links.push({ from: terminal(0), to: 2 * feed.led, ohms: feed.ohms });
    if (feed.rail !== 'plus') links.push({ from: 2 * feed.led + 1, to: terminal(1), ohms: feed.ohms });
  }
  return { nodeCount: 2 * ledCount, terminalVolts: [5, 0], links };
}

export function stripDraw(ledCount: number, ampsPerLed: number): Float64Array {
  return Float64Array.from({ length: 2 * ledCount }, (_, node) =>
    node % 2 === 0 ? ampsPerLed : -ampsPerLed,
  );
}

/** Volts lost at each LED, all drawing alike. */
export function stripDrops(
  ledCount: number,
  ampsPerLed: number,
  loopOhmsPerPitch: number,
  feeds: readonly StripFeed[],
): number[] {
  const volts = factorNetwork(stripNetwork(ledCount, loopOhmsPerPitch, feeds)).solve(
    stripDraw(ledCount, ampsPerLed),
  );
  return Array.from({ length: ledCount }, (_, led) => 5 - (volts[2 * led]! - volts[2 * led + 1]!));
}
