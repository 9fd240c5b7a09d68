// Random panels for comparison with a circuit simulator: several data lines and supplies, cut jumpers, grounds that are broken, joints gone bad. The
// circuit is built here from the document alone, by what its parts are said to be, not by the code under test.
import fc from 'fast-check';
import { plugs, type Wire, wires } from '../../src/catalogue/index.ts';
import type { Fault } from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { type BuiltPanel, buildPanel, type PanelPlan } from './build-project.ts';
import type { Circuit } from './ngspice.ts';

export interface RandomPanel extends BuiltPanel {
  readonly faults: readonly Fault[];
}

const wireIds = ['AWG 18', 'AWG 22', 'AWG 26', '0.75 mm2', '2.5 mm2'] as const;
const wire = fc.constantFrom(...wireIds);
const nat = fc.nat({ max: 10_000 });

const feedPlan = fc.record({
  run: nat,
  led: nat,
  wire,
  lengthMm: fc.integer({ min: 1, max: 3000 }),
  fuse: fc.constantFrom(undefined, 'blade', 'tube'),
  plug: fc.constantFrom(undefined, 'sm-2.5', 'screw-5.08'),
  supply: nat,
});
const supplyPlan = fc.record({
  volts: fc.double({ min: 4.8, max: 5.3, noNaN: true }),
  outputMilliohms: fc.constantFrom(0, 5, 40),
  ground: fc.option(fc.record({ wire, lengthMm: fc.integer({ min: 50, max: 2000 }) }), { nil: undefined }),
});
const runPlan = fc.record({
  leds: fc.integer({ min: 1, max: 12 }),
  power: fc.constantFrom('carried', 'carried', 'cut'),
  wire,
  lengthMm: fc.integer({ min: 5, max: 500 }),
});

/** Seldom broken: of ten places about one. */
const faultKind = fc.constantFrom(...Array.from({ length: 18 }, () => undefined), 'cut', 'bad-joint');

export const randomPanel: fc.Arbitrary<RandomPanel> = fc
  .record({
    lines: fc.array(fc.array(runPlan, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 3 }),
    feeds: fc.array(feedPlan, { minLength: 1, maxLength: 6 }),
    supplies: fc.array(supplyPlan, { minLength: 1, maxLength: 3 }),
    railOhmPerMetre: fc.double({ min: 0.02, max: 1, noNaN: true }),
    channelMilliamps: fc.double({ min: 1, max: 20, noNaN: true }),
    faults: fc.array(faultKind, { minLength: 40, maxLength: 40 }),
  })
  .map(({ lines, feeds, supplies, railOhmPerMetre, channelMilliamps, faults }): RandomPanel => {
    const counts = lines.flat().map(({ leds }) => leds);
    const plan: PanelPlan = {
      reel: { railOhmPerMetre, channelMilliamps, quiescentMilliamps: 0.7 },
      lines: lines.map((line) =>
        line.map(({ leds, power, wire, lengthMm }) => ({ leds, jumper: { power, wire, lengthMm } })),
      ),
      supply: { volts: supplies[0]!.volts, outputMilliohms: supplies[0]!.outputMilliohms },
      moreSupplies: supplies.slice(1).map(({ volts, outputMilliohms, ground }, i) => ({
        id: `more-${i}`,
        volts,
        amps: 50,
        outputMilliohms,
        ...(ground && { ground }),
      })),
      feeds: feeds.map(({ run, led, wire, lengthMm, fuse, plug, supply }) => {
        const at = run % counts.length;
        const from = supply % supplies.length;
        return {
          run: `r${at}`,
          led: led % counts[at]!,
          wire,
          lengthMm,
          fuseAmps: 3,
          ...(fuse && { fuseKind: fuse }),
          ...(plug && { plug }),
          ...(from > 0 && { supply: `more-${from - 1}` }),
        };
      }),
    };
    const built = buildPanel(plan);
    let next = 0;
    const maybe = (at: Fault['at']): Fault[] => {
      const what = faults[next++ % faults.length];
      return what ? [{ at, what }] : [];
    };
    return {
      ...built,
      faults: [
        ...built.project.power.feeds.flatMap((_, feed) => [
          ...maybe({ kind: 'feed', feed, rail: 'ground' }),
          ...maybe({ kind: 'feed', feed, rail: 'plus' }),
        ]),
        ...built.project.dataLines.flatMap(({ chain }, line) =>
          chain.slice(1).flatMap((_, i) => maybe({ kind: 'jumper', line, place: i + 1, rail: 'ground' })),
        ),
        ...built.project.runs
          .filter(({ ledCount }) => ledCount > 1)
          .flatMap(({ id }) => maybe({ kind: 'segment', run: id, led: 0, rail: 'ground' })),
      ],
    };
  });

const wireOf = (id: string): Wire => wires.find((one) => one.id === id)!;
const nodeOf = (rail: 'plus' | 'ground', run: string, led: number) =>
  `${rail === 'plus' ? 'p' : 'g'}${run}n${led}`;
export const plusName = (run: string, led: number) => nodeOf('plus', run, led);
export const groundName = (run: string, led: number) => nodeOf('ground', run, led);

interface Resistor {
  readonly a: string;
  readonly b: string;
  readonly ohms: number;
}

/** Every resistor of the panel. Supplies stand between s<k>p and s<k>m; s0m is the reference. */
function resistorsOf({ project, faults }: RandomPanel): Resistor[] {
  const { railOhmPerMetre, ledsPerMetre } = project.strips![0]!;
  const pitchOhms = railOhmPerMetre / ledsPerMetre;
  const resistors: Resistor[] = [];
  const same = (a: Fault['at'], b: Fault['at']) => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));
  const add = (a: string, b: string, ohms: number, at: Fault['at']) => {
    const what = faults.find((fault) => same(fault.at, at))?.what;
    if (what !== 'cut') resistors.push({ a, b, ohms: ohms + (what === 'bad-joint' ? 0.5 : 0) });
  };
  for (const { id, ledCount } of project.runs)
    for (let led = 1; led < ledCount; led++)
      for (const rail of ['plus', 'ground'] as const)
        add(nodeOf(rail, id, led - 1), nodeOf(rail, id, led), pitchOhms, {
          kind: 'segment',
          run: id,
          led: led - 1,
          rail,
        });
  for (const [line, { chain }] of project.dataLines.entries())
    for (const [place, { run, jumper }] of chain.entries()) {
      if (place === 0) continue;
      const before = chain[place - 1]!.run;
      const last = project.runs.find(({ id }) => id === before)!.ledCount - 1;
      const ohms = (wireOf(jumper!.wire!).ohmPerKm * jumper!.lengthMm!) / 1e6 + pitchOhms;
      for (const rail of ['plus', 'ground'] as const)
        if (rail === 'ground' || jumper!.power !== 'cut')
          add(nodeOf(rail, before, last), nodeOf(rail, run, 0), ohms, { kind: 'jumper', line, place, rail });
    }
  for (const [feed, one] of project.power.feeds.entries()) {
    const supply = one.supply === undefined ? 0 : Number(one.supply.slice(5)) + 1;
    const plug = plugs.find(({ id }) => id === one.plug)?.contactMilliohms ?? 0;
    const ohms = (wireOf(one.wire).ohmPerKm * one.lengthMm) / 1e6 + plug / 1000;
    // 93 mV at its rating for a blade fuse, 100 mV for a tube.
    const fuse = one.fuseKind ? (one.fuseKind === 'blade' ? 0.093 : 0.1) / one.fuseAmps! : 0;
    add(`s${supply}b`, nodeOf('plus', one.run, one.led), ohms + fuse, { kind: 'feed', feed, rail: 'plus' });
    add(nodeOf('ground', one.run, one.led), `s${supply}m`, ohms, { kind: 'feed', feed, rail: 'ground' });
  }
  // With a ground broken, current also returns through the board: along each lead's ground, and its own of 0.5 m AWG 20 (as said where nothing is).
  if (faults.some(({ at }) => at.rail === 'ground')) {
    for (const { chain } of project.dataLines) {
      const { wire, lengthMm } = chain[0]!.jumper!;
      const ohms = (wireOf(wire!).ohmPerKm * lengthMm!) / 1e6 + pitchOhms / 2;
      resistors.push({ a: nodeOf('ground', chain[0]!.run, 0), b: 'board', ohms });
    }
    resistors.push({ a: 'board', b: 's0m', ohms: (wireOf('AWG 20').ohmPerKm * 500) / 1e6 });
  }
  return resistors;
}

const sorted = (value: object) => Object.fromEntries(Object.entries(value).sort());

/** LEDs both of whose rails have a way to a supply, as "run led". */
function poweredLeds(panel: RandomPanel, resistors: readonly Resistor[]): Set<string> {
  const group = new Map<string, string>();
  const rootOf = (node: string): string => {
    const up = group.get(node) ?? node;
    return up === node ? node : rootOf(up);
  };
  const supplies = 1 + (panel.project.power.moreSupplies?.length ?? 0);
  for (let s = 0; s < supplies; s++)
    for (const end of ['b', 'm']) group.set(rootOf(`s${s}${end}`), rootOf('s0m'));
  for (const { a, b } of resistors) group.set(rootOf(a), rootOf(b));
  const isTied = (node: string) => rootOf(node) === rootOf('s0m');
  const powered = new Set<string>();
  for (const { id, ledCount } of panel.project.runs)
    for (let led = 0; led < ledCount; led++)
      if (isTied(nodeOf('plus', id, led)) && isTied(nodeOf('ground', id, led))) powered.add(`${id} ${led}`);
  return powered;
}

/** LED currents: constant, or falling in a line from the floor's volts to nothing at `offVolts`. */
export type LedModel = 'constant' | { readonly floorVolts: number; readonly offVolts: number };

export function circuitOf(
  panel: RandomPanel,
  ledAmps: number,
  model: LedModel,
): { readonly circuit: Circuit; readonly powered: ReadonlySet<string> } {
  const { power, runs }: Project = panel.project;
  const resistors = resistorsOf(panel);
  const powered = poweredLeds(panel, resistors);
  const supplies = [power.supply, ...(power.moreSupplies ?? [])];
  const name = (node: string) => (node === 's0m' ? '0' : `~${node}`);
  const lines = [
    ...supplies.flatMap(({ volts, outputMilliohms = 0 }, s) => [
      `V~s${s} ${name(`s${s}p`)} ${name(`s${s}m`)} DC ${volts}`,
      // No resistance is written as one too small to matter.
      `R~o${s} ${name(`s${s}p`)} ${name(`s${s}b`)} ${Math.max(1e-9, outputMilliohms / 1000)}`,
    ]),
    ...(power.moreSupplies ?? []).map(
      ({ ground }, i) =>
        `R~j${i} ${name(`s${i + 1}m`)} 0 ${ground ? (wireOf(ground.wire).ohmPerKm * ground.lengthMm) / 1e6 : 1e-9}`,
    ),
    ...resistors.map(({ a, b, ohms }, i) => `R~r${i} ${name(a)} ${name(b)} ${ohms}`),
    ...[...powered].map((key, i) => {
      const [run, led] = key.split(' ') as [string, string];
      const [plus, ground] = [name(plusName(run, Number(led))), name(groundName(run, Number(led)))];
      if (model === 'constant') return `I~l${i} ${plus} ${ground} DC ${ledAmps}`;
      const { floorVolts, offVolts } = model;
      return `B~l${i} ${plus} ${ground} I=${ledAmps}*max(0,min(1,(v(${plus},${ground})-${offVolts})/${floorVolts - offVolts}))`;
    }),
  ];
  const nodes = runs.flatMap(({ id, ledCount }) =>
    Array.from({ length: ledCount }, (_, led) => led)
      .filter((led) => powered.has(`${id} ${led}`))
      .flatMap((led) => [plusName(id, led), groundName(id, led)]),
  );
  return { circuit: { lines, nodes }, powered };
}
