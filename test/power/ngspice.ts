// ngspice, a circuit simulator of long standing (Debian's package ngspice, on PATH), as a reference: many circuits in one run, side by side.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface Circuit {
  /** Lines of a netlist; "~" before a node's or a part's name is replaced by what keeps this circuit's names apart. */
  readonly lines: readonly string[];
  /** Nodes whose potentials are wanted, without "~". */
  readonly nodes: readonly string[];
}

/**
 * Potentials of the wanted nodes, volts, for each circuit.
 * Its `op` analysis adds a conductance of 1e-12 S at most from each node to ground, far below any tolerance here.
 */
export function spiceVolts(circuits: readonly Circuit[]): Map<string, number>[] {
  const folder = mkdtempSync(join(tmpdir(), 'lamploom-ngspice-'));
  try {
    const file = join(folder, 'circuits.cir');
    const netlist = [
      'circuits side by side',
      ...circuits.flatMap(({ lines }, c) => lines.map((line) => line.replaceAll('~', `c${c}x`))),
      '.options rshunt=1e12 reltol=1e-9 abstol=1e-14 vntol=1e-12 itl1=2000',
      '.control',
      'set numdgt=12',
      'op',
      ...circuits.flatMap(({ nodes }, c) => nodes.map((node) => `print v(c${c}x${node})`)),
      'quit 0',
      '.endc',
      '.end',
      '',
    ].join('\n');
    writeFileSync(file, netlist);
    const printed = execFileSync('ngspice', ['-b', file], {
      encoding: 'utf8',
      timeout: 120_000,
      maxBuffer: 64 * 1024 * 1024,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const found = circuits.map(() => new Map<string, number>());
    for (const [, c, node, volts] of printed.matchAll(/^v\(c(\d+)x(\w+)\) = (\S+)$/gm))
      found[Number(c)]!.set(node!, Number(volts));
    return found;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Circuits in groups, since one netlist of all would be slow to solve. */
export const inGroups = <T>(items: readonly T[], size: number): T[][] =>
  Array.from({ length: Math.ceil(items.length / size) }, (_, i) => items.slice(i * size, (i + 1) * size));
