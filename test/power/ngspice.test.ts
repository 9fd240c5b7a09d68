// Random networks against ngspice, a circuit simulator of long standing (Debian's package ngspice, on PATH).
// Its `op` analysis adds a conductance of 1e-12 S at most from each node to ground, far below the tolerance.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { factorNetwork } from '../../src/power/index.ts';
import { type RandomNetwork, randomNetwork } from './random-networks.ts';

const seed = 20_250_101;
const networks = fc.sample(randomNetwork, { seed, numRuns: 20 });

/** The network in ngspice's own words: nodes n0, n1..., terminals t0, t1...; a current source draws from its first node. */
function netlist({ network, drawnAmps }: RandomNetwork): string {
  const end = (place: number) => (place < 0 ? `t${-1 - place}` : `n${place}`);
  return [
    'random network',
    ...Array.from(network.terminalVolts, (volts, t) => `V${t} t${t} 0 DC ${volts}`),
    ...network.links
      .filter(({ from, to }) => from !== to)
      .map(({ from, to, ohms }, k) => `R${k} ${end(from)} ${end(to)} ${ohms}`),
    ...Array.from(drawnAmps, (amps, node) => `I${node} n${node} 0 DC ${amps}`),
    '.control',
    'set numdgt=12',
    'op',
    ...Array.from(drawnAmps, (_, node) => `print v(n${node})`),
    'quit 0',
    '.endc',
    '.end',
    '',
  ].join('\n');
}

function spiceVolts(random: RandomNetwork): Map<number, number> {
  const folder = mkdtempSync(join(tmpdir(), 'lamploom-ngspice-'));
  try {
    const file = join(folder, 'network.cir');
    writeFileSync(file, netlist(random));
    const printed = execFileSync('ngspice', ['-b', file], {
      encoding: 'utf8',
      timeout: 60_000,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    return new Map(
      [...printed.matchAll(/^v\(n(\d+)\) = (\S+)$/gm)].map(([, node, volts]) => [
        Number(node),
        Number(volts),
      ]),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

test(`20 random networks (seed ${seed}) have ngspice's potentials within 1 mV and 0.1 %`, () => {
  for (const random of networks) {
    const volts = factorNetwork(random.network).solve(random.drawnAmps);
    const spice = spiceVolts(random);
    expect(spice.size).toBe(random.network.nodeCount);
    for (const [node, expected] of spice) {
      const error = Math.abs(volts[node]! - expected);
      expect(error, `node ${node}: ${expected} V`).toBeLessThanOrEqual(
        Math.min(0.001, Math.max(1e-6, 0.001 * Math.abs(expected))),
      );
    }
  }
});
