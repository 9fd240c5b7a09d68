// LEDs that starve: below its strip's floor an LED's current falls, in a straight line to nothing where not even its red die conducts. Real rails
// sag less than constant currents say, and never below 0 V; the worse of both figures is the one that a panel is judged by.
// Method: Newton's. Each LED is taken as the straight line of the stretch of its curve that it is on, the network is solved, and the step towards that
// solution goes as far as the network's co-content falls (Millar, "Some general theorems for non-linear systems possessing resistance", 1951: it is
// convex where no current falls with its voltage, so its least point is the solution). Not here: constant currents (panel-solve.ts).
import { factorNetwork, type Link } from './network.ts';
import { groundNode, type PanelNetwork, plusNode } from './panel-network.ts';
import { drawBoard, type PanelVolts, roomForVolts } from './panel-solve.ts';
import { groundBonds } from './supply-grounds.ts';

/** Forward voltage of a red die at least, volts (WS2812B data sheet: 2.0 to 2.2 V). */
const redVolts = 2.0;
/** Dies in series on strip of 12 V: three. */
const diesInSeries = (supplyVolts: number): number => (supplyVolts > 8 ? 3 : 1);

/** Below this an LED of a strip draws nothing. */
export const offVolts = (strip: { readonly supplyVolts: number; readonly floorVolts: number }): number =>
  Math.min(redVolts * diesInSeries(strip.supplyVolts), strip.floorVolts / 2);

/** What share of its full current an LED draws, 0 to 1. */
export function starvedShare(
  strip: { readonly supplyVolts: number; readonly floorVolts: number },
  volts: number,
): number {
  const off = offVolts(strip);
  return Math.min(1, Math.max(0, (volts - off) / (strip.floorVolts - off)));
}

export interface StarvedVolts extends PanelVolts {
  readonly ledAmps: Float64Array;
  /** Whether every LED came to rest on one stretch of its curve. */
  readonly isSettled: boolean;
}

const mostRounds = 200;
/** Far below what any figure shows. */
const settledAmps = 1e-9;

/** What an LED draws at these volts, and by how much more for a volt more. */
function drawnAt(
  strip: { readonly supplyVolts: number; readonly floorVolts: number },
  fullAmps: number,
  volts: number,
): { readonly amps: number; readonly siemens: number } {
  const share = starvedShare(strip, volts);
  const isFalling = share > 0 && share < 1;
  return {
    amps: fullAmps * share,
    siemens: isFalling ? fullAmps / (strip.floorVolts - offVolts(strip)) : 0,
  };
}

/** The network with every LED as a straight line: volts of all LEDs, and everything else into `room`. */
function solveLinear(
  panel: PanelNetwork,
  siemens: ArrayLike<number>,
  ampsAtZero: ArrayLike<number>,
  room: PanelVolts,
): void {
  const { leds, network, isPowered, supplyVolts, supplies } = panel;
  const { drawnAmps, riseVolts, terminalVolts, ledVolts } = room;
  const falling: Link[] = [];
  drawBoard(panel, drawnAmps);
  for (const led of leds.keys()) {
    const powered = isPowered[led] === 1;
    if (powered && siemens[led]! > 0)
      falling.push({ from: plusNode(led), to: groundNode(led), ohms: 1 / siemens[led]! });
    // Between its nodes lie the supply's volts and their rises, and the link carries what the rises make.
    const amps = powered ? ampsAtZero[led]! + siemens[led]! * supplyVolts : 0;
    drawnAmps[plusNode(led)] = amps;
    drawnAmps[groundNode(led)] = -amps;
  }
  terminalVolts.set(network.terminalVolts);
  const bent = falling.length === 0 ? network : { ...network, links: [...network.links, ...falling] };
  const factored = falling.length === 0 ? panel.factored : factorNetwork(bent);
  factored.solve(drawnAmps, riseVolts);
  room.bondAmps = (falling.length === 0 ? panel.bonds : groundBonds(bent, factored, supplies)).lift(
    riseVolts,
    terminalVolts,
  );
  for (const led of leds.keys())
    ledVolts[led] =
      isPowered[led] === 0 ? 0 : supplyVolts + riseVolts[plusNode(led)]! - riseVolts[groundNode(led)]!;
}

/** Volts where LEDs below their floor draw less than `ledAmps`, which is what they draw at their floor and above. */
export function solveStarved(panel: PanelNetwork, ledAmps: ArrayLike<number>): StarvedVolts {
  const { leds, isPowered } = panel;
  const count = leds.length;
  const room = roomForVolts(panel);
  const full = Float64Array.from({ length: count }, (_, led) => (isPowered[led] === 1 ? ledAmps[led]! : 0));
  const none = new Float64Array(count);
  const siemens = new Float64Array(count);
  const ampsAtZero = new Float64Array(count);
  // The network's volts for these amperes; LEDs' own curves agree with them once it is solved.
  const amps = full.slice();
  solveLinear(panel, none, amps, room);
  const volts = room.ledVolts.slice();
  const step = new Float64Array(count);
  const nextAmps = new Float64Array(count);
  const curve = (led: number, at: number) => drawnAt(leds[led]!.strip, full[led]!, at);
  /** How the co-content changes with the share of the step that is taken; rises with it. */
  const slopeAt = (share: number): number => {
    let slope = 0;
    for (let led = 0; led < count; led++) {
      const held = amps[led]! + share * (nextAmps[led]! - amps[led]!);
      slope += (curve(led, volts[led]! + share * step[led]!).amps - held) * step[led]!;
    }
    return slope;
  };
  let isSettled = false;
  for (let round = 0; round < mostRounds && !isSettled; round++) {
    for (let led = 0; led < count; led++) {
      const now = curve(led, volts[led]!);
      siemens[led] = now.siemens;
      ampsAtZero[led] = now.amps - now.siemens * volts[led]!;
    }
    solveLinear(panel, siemens, ampsAtZero, room);
    for (let led = 0; led < count; led++) {
      step[led] = room.ledVolts[led]! - volts[led]!;
      nextAmps[led] = ampsAtZero[led]! + siemens[led]! * room.ledVolts[led]!;
    }
    let share = 1;
    if (slopeAt(1) > 0) {
      let [low, high] = [0, 1];
      for (let halving = 0; halving < 40; halving++) {
        share = (low + high) / 2;
        if (slopeAt(share) > 0) high = share;
        else low = share;
      }
    }
    isSettled = true;
    for (let led = 0; led < count; led++) {
      amps[led]! += share * (nextAmps[led]! - amps[led]!);
      volts[led]! += share * step[led]!;
      if (Math.abs(curve(led, volts[led]!).amps - amps[led]!) > settledAmps) isSettled = false;
    }
  }
  // All of the network for what the LEDs draw.
  solveLinear(panel, none, amps, room);
  return { ...room, ledAmps: amps, isSettled };
}
