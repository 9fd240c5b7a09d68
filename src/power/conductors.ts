// Currents and losses as a builder follows them: what passes each LED on + and on ground, what a feed loses. Not here: the solution itself.
import type { SolvedCase } from './assessment.ts';
import type { ConductorPair, PanelNetwork } from './panel-network.ts';
import { along } from './sizing.ts';

export interface AlongRails {
  /** From each LED to the next in the order of the wire, along + and ground, the way the data goes; 0 where nothing joins them. Amperes. */
  readonly plusAmps: Float64Array;
  readonly groundAmps: Float64Array;
}

/** Currents between neighbours along the wire; index i lies between LED i and LED i + 1. */
export function currentsAlong(panel: PanelNetwork, { linkAmps }: Pick<SolvedCase, 'linkAmps'>): AlongRails {
  const count = panel.leds.length;
  const plusAmps = new Float64Array(Math.max(0, count - 1));
  const groundAmps = new Float64Array(Math.max(0, count - 1));
  for (const { fromLed, toLed, plus, ground } of [...panel.segments, ...panel.jumpers]) {
    // A run that is laid the other way round counts against the wire.
    const [at, sign] = fromLed < toLed ? [fromLed, 1] : [toLed, -1];
    plusAmps[at] = sign * along(linkAmps, plus);
    groundAmps[at] = sign * along(linkAmps, ground);
  }
  return { plusAmps, groundAmps };
}

/** The larger of the currents on both sides of an LED, amperes. */
export function conductorsAt(
  panel: PanelNetwork,
  solved: Pick<SolvedCase, 'linkAmps'>,
  led: number,
): { readonly plusAmps: number; readonly groundAmps: number } {
  const { plusAmps, groundAmps } = currentsAlong(panel, solved);
  const most = (amps: Float64Array) => Math.max(Math.abs(amps[led - 1] ?? 0), Math.abs(amps[led] ?? 0));
  return { plusAmps: most(plusAmps), groundAmps: most(groundAmps) };
}

/** What both wires of a feed lose, volts: plug and, where the project names its kind, fuse included. */
export function feedLossVolts(
  { network }: PanelNetwork,
  { linkAmps }: Pick<SolvedCase, 'linkAmps'>,
  { plus, ground }: ConductorPair,
): number {
  const lossOf = (link: number | undefined): number =>
    link === undefined ? 0 : Math.abs(linkAmps[link]!) * network.links[link]!.ohms;
  return lossOf(plus) + lossOf(ground);
}
