// Random networks and random panels against ngspice: within 1 mV and 0.1 %.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { assessPower, factorNetwork, panelNetwork, solveStarved, whiteAmps } from '../../src/power/index.ts';
import { type Circuit, inGroups, spiceVolts } from './ngspice.ts';
import { type RandomNetwork, randomNetwork } from './random-networks.ts';
import { circuitOf, groundName, plusName, type RandomPanel, randomPanel } from './random-panels.ts';

const seed = 20_250_101;

const expectWithin = (volts: number, expected: number, where: string) =>
  expect(Math.abs(volts - expected), `${where}: ${volts} V, not ${expected} V`).toBeLessThanOrEqual(
    Math.min(0.001, Math.max(1e-6, 0.001 * Math.abs(expected))),
  );

/** Nodes n0, n1..., terminals t0, t1...; a current source draws from its first node. */
function networkCircuit({ network, drawnAmps }: RandomNetwork): Circuit {
  const end = (place: number) => (place < 0 ? `~t${-1 - place}` : `~n${place}`);
  return {
    lines: [
      ...Array.from(network.terminalVolts, (volts, t) => `V~${t} ~t${t} 0 DC ${volts}`),
      ...network.links
        .filter(({ from, to }) => from !== to)
        .map(({ from, to, ohms }, k) => `R~${k} ${end(from)} ${end(to)} ${ohms}`),
      ...Array.from(drawnAmps, (amps, node) => `I~${node} ~n${node} 0 DC ${amps}`),
    ],
    nodes: Array.from(drawnAmps, (_, node) => `n${node}`),
  };
}

test(`200 random networks with branches and loops (seed ${seed}) have ngspice's potentials`, () => {
  const networks = fc.sample(randomNetwork, { seed, numRuns: 200 });
  let compared = 0;
  for (const group of inGroups(networks, 20)) {
    const spice = spiceVolts(group.map(networkCircuit));
    for (const [i, random] of group.entries()) {
      const volts = factorNetwork(random.network).solve(random.drawnAmps);
      expect(spice[i]!.size).toBe(random.network.nodeCount);
      for (const [node, expected] of spice[i]!)
        expectWithin(volts[Number(node.slice(1))]!, expected, `network ${i}, ${node}`);
      compared++;
    }
  }
  expect(compared).toBe(200);
});

const panels = fc.sample(randomPanel, { seed, numRuns: 200 });

/** An LED's current in white: three channels and what its chip draws (build-project.ts). */
const whiteLedAmps = ({ project }: RandomPanel): number =>
  (3 * project.strips![0]!.channelMilliamps + project.strips![0]!.quiescentMilliamps) / 1000;

test('the random panels are of every kind', () => {
  const count = (is: (panel: RandomPanel) => boolean) => panels.filter(is).length;
  const isCut = ({ faults }: RandomPanel, kind: string) =>
    faults.some(({ at, what }) => what === 'cut' && at.kind === kind && at.rail === 'ground');
  expect(count(({ project }) => (project.power.moreSupplies ?? []).length > 0)).toBeGreaterThan(80);
  expect(
    count(({ project }) => (project.power.moreSupplies ?? []).some(({ ground }) => ground !== undefined)),
  ).toBeGreaterThan(40);
  expect(count((panel) => isCut(panel, 'jumper'))).toBeGreaterThan(10);
  expect(count((panel) => isCut(panel, 'feed'))).toBeGreaterThan(10);
  expect(
    count(({ project }) =>
      project.dataLines.some(({ chain }) => chain.slice(1).some(({ jumper }) => jumper?.power === 'cut')),
    ),
  ).toBeGreaterThan(80);
});

test(`200 random panels (seed ${seed}): several supplies, cut jumpers, broken grounds; constant currents`, () => {
  let ledCount = 0;
  let unpowered = 0;
  for (const group of inGroups(panels, 20)) {
    const circuits = group.map((panel) => circuitOf(panel, whiteLedAmps(panel), 'constant'));
    const spice = spiceVolts(circuits.map(({ circuit }) => circuit));
    for (const [i, { project, layout, faults }] of group.entries()) {
      const { panel, worst } = assessPower(project, layout, faults);
      const { powered } = circuits[i]!;
      for (const [index, { run, led }] of panel.leds.entries()) {
        const volts = worst.ledVolts[index]!;
        if (!powered.has(`${run} ${led}`)) {
          expect(volts, `panel ${i}, LED ${led} of ${run} has no way to a supply`).toBe(0);
          unpowered++;
          continue;
        }
        const expected = spice[i]!.get(plusName(run, led))! - spice[i]!.get(groundName(run, led))!;
        expectWithin(volts, expected, `panel ${i}, LED ${led} of ${run}`);
        ledCount++;
      }
    }
  }
  expect(ledCount).toBeGreaterThan(2000);
  expect(unpowered).toBeGreaterThan(100);
});

test(`the same panels with LEDs that starve below their floor`, () => {
  let starving = 0;
  for (const group of inGroups(panels.slice(0, 100), 10)) {
    // Four times the current, so that many starve.
    const amps = group.map((panel) => 4 * whiteLedAmps(panel));
    const circuits = group.map((panel, i) =>
      circuitOf(panel, amps[i]!, {
        // Full current from the floor up; nothing at 2.0 V, where a red die stops conducting (WS2812B data sheet).
        floorVolts: 4.5,
        offVolts: 2,
      }),
    );
    const spice = spiceVolts(circuits.map(({ circuit }) => circuit));
    for (const [i, { project, layout, faults }] of group.entries()) {
      const fuses = project.power.feeds.map(({ fuseKind, fuseAmps }) =>
        fuseKind ? { kind: fuseKind, amps: fuseAmps! } : undefined,
      );
      const panel = panelNetwork(project, layout, { copperFactor: 1, faults, fuses, boardAmps: 0 });
      const { ledVolts, isSettled } = solveStarved(
        panel,
        whiteAmps(panel).map((one) => 4 * one),
      );
      expect(isSettled, `panel ${i}`).toBe(true);
      for (const [index, { run, led }] of panel.leds.entries()) {
        if (!circuits[i]!.powered.has(`${run} ${led}`)) continue;
        const expected = spice[i]!.get(plusName(run, led))! - spice[i]!.get(groundName(run, led))!;
        expectWithin(ledVolts[index]!, expected, `panel ${i}, LED ${led} of ${run}`);
        if (expected < 4.5) starving++;
      }
    }
  }
  expect(starving).toBeGreaterThan(200);
});
