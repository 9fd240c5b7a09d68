// LEDs that starve: below its strip's floor an LED's current falls, in a straight line to nothing where not even its red die conducts. Real rails
// sag less than constant currents say, and never below 0 V; the worse of both figures is the one that a panel is judged by.
// Method: each LED is in one of three straight stretches of its curve. The network is solved with every LED as the straight line of its stretch, until
// none leaves it; the load is raised in steps, so that few change at once. Not here: constant currents (panel-solve.ts).
import { factorNetwork, type Link } from './network.ts';
import { groundNode, type PanelNetwork, plusNode } from './panel-network.ts';
import { type PanelVolts, roomForVolts } from './panel-solve.ts';
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

type Stretch = 'full' | 'falling' | 'off';
const stretchOf = (share: number): Stretch => (share >= 1 ? 'full' : share <= 0 ? 'off' : 'falling');

const loadSteps = 8;
const mostRounds = 40;

/** Volts where LEDs below their floor draw less than `ledAmps`, which is what they draw at their floor and above. */
export function solveStarved(panel: PanelNetwork, ledAmps: ArrayLike<number>): StarvedVolts {
  const { leds, network, isPowered, supplyVolts } = panel;
  const stretches = leds.map((): Stretch => 'full');
  const room = roomForVolts(panel);
  const amps = new Float64Array(leds.length);

  function solveOnce(loadShare: number): void {
    const falling: Link[] = [];
    for (const [led, { strip }] of leds.entries()) {
      amps[led] = 0;
      if (isPowered[led] === 0 || stretches[led] === 'off') continue;
      const full = ledAmps[led]! * loadShare;
      if (stretches[led] === 'full' || full === 0) {
        amps[led] = full;
        continue;
      }
      const off = offVolts(strip);
      const siemens = full / (strip.floorVolts - off);
      falling.push({ from: plusNode(led), to: groundNode(led), ohms: 1 / siemens });
      amps[led] = siemens * (supplyVolts - off);
    }
    const { drawnAmps, riseVolts, terminalVolts } = room;
    for (let led = 0; led < leds.length; led++) {
      drawnAmps[plusNode(led)] = amps[led]!;
      drawnAmps[groundNode(led)] = -amps[led]!;
    }
    terminalVolts.set(network.terminalVolts);
    const withFalling = { ...network, links: [...network.links, ...falling] };
    const factored = factorNetwork(withFalling);
    factored.solve(drawnAmps, riseVolts);
    room.bondAmps = groundBonds(withFalling, factored, panel.supplies).lift(riseVolts, terminalVolts);
    for (const [led, { strip }] of leds.entries()) {
      const volts = supplyVolts + riseVolts[plusNode(led)]! - riseVolts[groundNode(led)]!;
      room.ledVolts[led] = isPowered[led] === 0 ? 0 : volts;
      if (stretches[led] === 'falling' && ledAmps[led]! > 0)
        amps[led] =
          (ledAmps[led]! * loadShare * (volts - offVolts(strip))) / (strip.floorVolts - offVolts(strip));
    }
  }

  let isSettled = true;
  for (let step = 1; step <= loadSteps; step++) {
    isSettled = false;
    for (let round = 0; round < mostRounds && !isSettled; round++) {
      solveOnce(step / loadSteps);
      isSettled = true;
      for (const [led, { strip }] of leds.entries()) {
        if (isPowered[led] === 0) continue;
        const next = stretchOf(starvedShare(strip, room.ledVolts[led]!));
        if (next === stretches[led]) continue;
        stretches[led] = next;
        isSettled = false;
      }
    }
  }
  return { ...room, ledAmps: amps, isSettled };
}
