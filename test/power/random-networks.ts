// Random connected networks with loops, branches, parallel links and several terminals, for comparison with other solvers.
import fc from 'fast-check';
import { type Link, type Network, terminal } from '../../src/power/index.ts';

export interface RandomNetwork {
  readonly network: Network;
  readonly drawnAmps: Float64Array;
}

const mostNodes = 30;
const terminalVolts = [5, 0, 12] as const;
const ohms = fc.double({ min: 0.01, max: 10, noNaN: true });
const anyNumber = fc.nat({ max: 100_000 });

/** Node 0 hangs on a terminal, each further node on an earlier one, which connects all; then links between any two ends. */
export const randomNetwork: fc.Arbitrary<RandomNetwork> = fc
  .record({
    tree: fc.array(fc.record({ parent: anyNumber, ohms }), { minLength: 2, maxLength: mostNodes }),
    loops: fc.array(fc.record({ a: anyNumber, b: anyNumber, ohms }), { maxLength: mostNodes }),
    drawn: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: mostNodes,
      maxLength: mostNodes,
    }),
  })
  .map(({ tree, loops, drawn }) => {
    const nodeCount = tree.length;
    const anyEnd = (pick: number) => {
      const end = pick % (nodeCount + terminalVolts.length);
      return end < nodeCount ? end : terminal(end - nodeCount);
    };
    const links: Link[] = [
      ...tree.map((branch, node) => ({
        from: node === 0 ? terminal(branch.parent % terminalVolts.length) : branch.parent % node,
        to: node,
        ohms: branch.ohms,
      })),
      ...loops.map((loop) => ({ from: anyEnd(loop.a), to: anyEnd(loop.b), ohms: loop.ohms })),
    ];
    return {
      network: { nodeCount, terminalVolts, links },
      drawnAmps: Float64Array.from(drawn.slice(0, nodeCount)),
    };
  });
