// The solver alone: against the closed forms for strips, a dense solver, Kirchhoff's rule, and at its edges.
import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { factorNetwork, linkAmps, type Network, terminal } from '../../src/power/index.ts';
import { betweenFeeds, diagonal, fedAtFirst, fedOnePitchBefore } from './closed-forms.ts';
import { expectClose } from './expect-volts.ts';
import { type RandomNetwork, randomNetwork } from './random-networks.ts';
import { stripDrops } from './strip-network.ts';

/** A feed so short that it is the LED's own pad. */
const padOhms = 1e-13;

const strip = fc.record({
  N: fc.integer({ min: 2, max: 720 }),
  i: fc.double({ min: 0.0005, max: 0.1, noNaN: true }),
  r: fc.double({ min: 0.0001, max: 0.01, noNaN: true }),
});

describe('closed forms of a strip (textbook formulae; derived)', () => {
  test('fed at the first LED, the last one loses i r N (N - 1) / 2', () => {
    fc.assert(
      fc.property(strip, ({ N, i, r }) => {
        expectClose(stripDrops(N, i, r, [{ led: 0, ohms: padOhms }])[N - 1]!, fedAtFirst(N, i, r));
      }),
    );
  });

  test('fed one pitch before the first LED, the last one loses i r N (N + 1) / 2', () => {
    fc.assert(
      fc.property(strip, ({ N, i, r }) => {
        expectClose(stripDrops(N, i, r, [{ led: 0, ohms: r / 2 }])[N - 1]!, fedOnePitchBefore(N, i, r));
      }),
    );
  });

  test('between two feeds M pitches apart, the middle loses i r M^2 / 8, or i r (M^2 - 1) / 8 where M is odd', () => {
    fc.assert(
      fc.property(strip, ({ N, i, r }) => {
        const M = N - 1;
        const feeds = [0, M].map((led) => ({ led, ohms: padOhms }));
        expectClose(stripDrops(N, i, r, feeds)[Math.floor(M / 2)]!, betweenFeeds(M, i, r));
      }),
    );
  });

  test('with + at one end and ground at the other, every LED loses what the two rails lose', () => {
    fc.assert(
      fc.property(strip, fc.nat(), ({ N, i, r }, pick) => {
        const drops = stripDrops(N, i, r, [
          { led: 0, ohms: padOhms, rail: 'plus' },
          { led: N - 1, ohms: padOhms, rail: 'ground' },
        ]);
        for (const k of [0, pick % N, Math.floor(N / 2), N - 1]) expectClose(drops[k]!, diagonal(N, i, r, k));
      }),
    );
  });
});

describe('continuous forms, 1,000 LEDs, within 0.2 % (textbook formulae)', () => {
  const N = 1000;
  const i = 0.001;
  const r = 0.2 / 60;
  const IR = N * i * (r * N);
  const worst = (feeds: Parameters<typeof stripDrops>[3]) => Math.max(...stripDrops(N, i, r, feeds));
  const atCut = r / 4;
  const at = (...leds: number[]) => leds.map((led) => ({ led, ohms: padOhms }));
  /** A feed between two LEDs: both of them half a pitch away from an ideal point. */
  const between = (...places: number[]) =>
    places.flatMap((place) => [
      { led: place - 1, ohms: atCut },
      { led: place, ohms: atCut },
    ]);
  const cases = [
    { name: 'one end: I R / 2', found: worst(at(0)), expected: IR / 2 },
    {
      name: 'both ends: I R / 8',
      found: worst([0, N - 1].map((led) => ({ led, ohms: atCut }))),
      expected: IR / 8,
    },
    { name: 'middle only: I R / 8', found: worst(between(N / 2)), expected: IR / 8 },
    {
      name: '5 feeds, both ends included: I R / (8 x 16)',
      found: worst([{ led: 0, ohms: atCut }, ...between(250, 500, 750), { led: N - 1, ohms: atCut }]),
      expected: IR / (8 * 16),
    },
    {
      name: '5 feeds at the best places: I R / (8 x 25)',
      found: worst(between(100, 300, 500, 700, 900)),
      expected: IR / (8 * 25),
    },
    {
      name: 'diagonal, middle: 3 I R / 8',
      found: worst([
        { led: 0, ohms: atCut, rail: 'plus' },
        { led: N - 1, ohms: atCut, rail: 'ground' },
      ]),
      expected: (3 * IR) / 8,
    },
  ];
  test.each(cases)('$name', ({ found, expected }) => {
    expect(Math.abs(found / expected - 1)).toBeLessThan(0.002);
  });
});

/** Potentials by a dense solver, from the links alone: the sum of (own - other) / ohms is minus what is drawn. */
function denseVolts({ network, drawnAmps }: RandomNetwork): number[] {
  const matrix = Matrix.zeros(network.nodeCount, network.nodeCount);
  const right = Array.from(drawnAmps, (amps) => -amps);
  for (const { from, to, ohms } of network.links)
    for (const [own, other] of [
      [from, to],
      [to, from],
    ] as const) {
      if (own < 0) continue;
      matrix.set(own, own, matrix.get(own, own) + 1 / ohms);
      if (other < 0) right[own]! += network.terminalVolts[-1 - other]! / ohms;
      else matrix.set(own, other, matrix.get(own, other) - 1 / ohms);
    }
  return solve(matrix, Matrix.columnVector(right)).to1DArray();
}

/** What flows out of each node along its links, amperes. */
function outflow(network: Network, volts: Float64Array): Float64Array {
  const sum = new Float64Array(network.nodeCount);
  for (const link of network.links) {
    const amps = linkAmps(network, link, volts);
    if (link.from >= 0) sum[link.from]! += amps;
    if (link.to >= 0) sum[link.to]! -= amps;
  }
  return sum;
}

describe('random networks with loops and branches', () => {
  test('potentials equal those of a dense solver', () => {
    fc.assert(
      fc.property(randomNetwork, (random) => {
        const volts = factorNetwork(random.network).solve(random.drawnAmps);
        for (const [node, expected] of denseVolts(random).entries())
          expectClose(volts[node]!, expected, `node ${node}`);
      }),
      { numRuns: 300 },
    );
  });

  test('at every node the current in equals the current out', () => {
    fc.assert(
      fc.property(randomNetwork, ({ network, drawnAmps }) => {
        const out = outflow(network, factorNetwork(network).solve(drawnAmps));
        for (const [node, amps] of drawnAmps.entries()) expectClose(out[node]! + amps, 0, `node ${node}`);
      }),
      { numRuns: 300 },
    );
  });

  test('one factored network solves many cases, each as if alone', () => {
    fc.assert(
      fc.property(randomNetwork, ({ network, drawnAmps }) => {
        const factored = factorNetwork(network);
        const first = factored.solve(drawnAmps);
        factored.solve(drawnAmps.map((amps) => 3 * amps - 1));
        expect(factored.solve(drawnAmps)).toEqual(first);
      }),
    );
  });
});

describe('edges', () => {
  test('nodes without a path to a terminal are listed and have no potential; the others are solved', () => {
    const network: Network = {
      nodeCount: 5,
      terminalVolts: [5],
      links: [
        { from: terminal(0), to: 1, ohms: 2 },
        { from: 0, to: 3, ohms: 1 },
        { from: 1, to: 4, ohms: 1 },
      ],
    };
    const { floating, solve: solveFor } = factorNetwork(network);
    expect(floating).toEqual([0, 2, 3]);
    // Ohm's law: 0.5 A through 2 ohm, then through 1 ohm.
    expect([...solveFor([9, 0, 9, 9, 0.5])]).toEqual([Number.NaN, 4, Number.NaN, Number.NaN, 3.5]);
  });

  test('a network without nodes, or without links, is solved', () => {
    expect([...factorNetwork({ nodeCount: 0, terminalVolts: [5], links: [] }).solve([])]).toEqual([]);
    expect(factorNetwork({ nodeCount: 2, terminalVolts: [5], links: [] }).floating).toEqual([0, 1]);
  });

  test('parallel links share the current; links from a node or terminal to its like change nothing', () => {
    const network: Network = {
      nodeCount: 1,
      terminalVolts: [12, 0],
      links: [
        { from: terminal(0), to: 0, ohms: 3 },
        { from: 0, to: terminal(0), ohms: 6 },
        { from: 0, to: 0, ohms: 1 },
        { from: terminal(0), to: terminal(1), ohms: 4 },
      ],
    };
    const volts = factorNetwork(network).solve([1]);
    // 3 ohm beside 6 ohm are 2 ohm; Ohm's law.
    expectClose(volts[0]!, 10);
    expectClose(linkAmps(network, network.links[0]!, volts), 2 / 3);
    expectClose(linkAmps(network, network.links[1]!, volts), -1 / 3);
    expectClose(linkAmps(network, network.links[3]!, volts), 3);
  });

  test('links that differ by 15 powers of ten lose no digits', () => {
    const links = Array.from({ length: 100 }, (_, node) => ({
      from: node === 0 ? terminal(0) : node - 1,
      to: node,
      ohms: node % 2 === 0 ? 1e-12 : 1e3,
    }));
    const volts = factorNetwork({ nodeCount: 100, terminalVolts: [5], links }).solve(
      new Float64Array(100).fill(1e-6),
    );
    // Ohm's law along the chain: link k carries what the 100 - k nodes behind it draw.
    const drop = links.reduce((sum, { ohms }, k) => sum + ohms * (100 - k) * 1e-6, 0);
    expectClose(volts[99]!, 5 - drop);
  });

  test('a hub with 1,000 chains is solved, each chain as if it were alone', () => {
    const chains = 1000;
    const links = Array.from({ length: chains }, (_, chain) => [
      { from: 0, to: 1 + 2 * chain, ohms: 1 },
      { from: 1 + 2 * chain, to: 2 + 2 * chain, ohms: 1 },
    ]).flat();
    const volts = factorNetwork({
      nodeCount: 1 + 2 * chains,
      terminalVolts: [5],
      links: [{ from: terminal(0), to: 0, ohms: 0.001 }, ...links],
    }).solve(new Float64Array(1 + 2 * chains).fill(0.001));
    // Ohm's law: 2.001 A through 1 mohm; then 2 mA and 1 mA through 1 ohm each.
    expectClose(volts[0]!, 5 - 0.002001);
    expectClose(volts[1999]! - volts[0]!, -0.002);
    expectClose(volts[2000]! - volts[1999]!, -0.001);
  });

  test.each([
    ['an unknown node', { from: 0, to: 1, ohms: 1 }],
    ['an unknown terminal', { from: 0, to: terminal(1), ohms: 1 }],
    ['no resistance', { from: 0, to: terminal(0), ohms: 0 }],
    ['a negative resistance', { from: 0, to: terminal(0), ohms: -1 }],
    ['no number', { from: 0, to: terminal(0), ohms: Number.NaN }],
  ])('a link with %s is our own fault and throws', (_, link) => {
    expect(() => factorNetwork({ nodeCount: 1, terminalVolts: [5], links: [link] })).toThrow('a link');
  });

  test('a load case for another number of nodes throws', () => {
    const factored = factorNetwork({ nodeCount: 1, terminalVolts: [5], links: [] });
    expect(() => factored.solve([1, 2])).toThrow('1 nodes');
  });
});
