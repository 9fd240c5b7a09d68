// Supplies whose grounds are joined by a wire: such a supply's two terminals float together, a little above or below the first one's.
// How far is found from the one condition that what leaves its + comes back into its ground. By superposition: the network answers a volt on
// both terminals of each such supply once, and every load case then needs a handful of sums. Not here: the network itself.
import {
  type FactoredNetwork,
  factorNetwork,
  type Link,
  linkAmps,
  type Network,
  terminal,
} from './network.ts';
import type { Supply } from './supplies.ts';

export interface GroundBonds {
  /**
   * Lifts `riseVolts` and `terminalVolts` (in place) from all grounds at 0 to where the joining wires leave them.
   * Amperes in each joining wire, from the first supply's ground to the other's, by index of the supply; 0 where there is no wire.
   */
  lift(riseVolts: Float64Array, terminalVolts: Float64Array): Float64Array;
}

interface TerminalLink {
  readonly link: number;
  /** +1 where current along the link leaves the terminal. */
  readonly sign: 1 | -1;
}

/** Links at a terminal. */
const linksAt = ({ links }: Network, at: number): TerminalLink[] =>
  links.flatMap(({ from, to }, link): TerminalLink[] =>
    from === at ? [{ link, sign: 1 }] : to === at ? [{ link, sign: -1 }] : [],
  );

export function groundBonds(
  network: Network,
  factored: FactoredNetwork,
  supplies: readonly Supply[],
): GroundBonds {
  const lifted = supplies.flatMap(({ groundOhms }, supply) =>
    groundOhms > 0
      ? [
          {
            supply,
            groundOhms,
            links: [...linksAt(network, terminal(2 * supply)), ...linksAt(network, terminal(2 * supply + 1))],
          },
        ]
      : [],
  );
  const none = new Float64Array(supplies.length);
  if (lifted.length === 0) return { lift: () => none };

  /** What leaves both terminals of a supply into the network, more than comes back to them. */
  const excessAmps = (
    links: readonly TerminalLink[],
    nodeVolts: Float64Array,
    terminalVolts: Float64Array,
  ) => {
    const now = { ...network, terminalVolts };
    return links.reduce((sum, { link, sign }) => {
      const amps = linkAmps(now, network.links[link]!, nodeVolts);
      return sum + (Number.isNaN(amps) ? 0 : sign * amps);
    }, 0);
  };
  const noDraw = new Float64Array(network.nodeCount);
  const answers = lifted.map(({ supply }) => {
    const terminalVolts = new Float64Array(network.terminalVolts.length);
    terminalVolts[2 * supply] = 1;
    terminalVolts[2 * supply + 1] = 1;
    return { terminalVolts, nodeVolts: factored.solve(noDraw, undefined, terminalVolts) };
  });
  // Seen from these terminals alone, the panel is a network of few nodes: between two supplies as many siemens as one answers to the other's
  // volt, and to the first supply what is left of its own and the joining wire.
  const answerAmps = lifted.map(({ links }) =>
    answers.map(({ nodeVolts, terminalVolts }) => excessAmps(links, nodeVolts, terminalVolts)),
  );
  const seen: Link[] = lifted.flatMap(({ groundOhms }, row) => {
    const own = answerAmps[row]!.reduce((sum, amps) => sum + amps, 0);
    const others = answerAmps[row]!.flatMap((amps, column) =>
      column > row && amps < 0 ? [{ from: row, to: column, ohms: -1 / amps }] : [],
    );
    return [{ from: row, to: terminal(0), ohms: 1 / (1 / groundOhms + Math.max(0, own)) }, ...others];
  });
  const few = factorNetwork({ nodeCount: lifted.length, terminalVolts: [0], links: seen });
  return {
    lift(riseVolts, terminalVolts) {
      const rises = few.solve(lifted.map(({ links }) => excessAmps(links, riseVolts, terminalVolts)));
      const bondAmps = new Float64Array(supplies.length);
      for (const [i, { supply, groundOhms }] of lifted.entries()) {
        const rise = rises[i]!;
        bondAmps[supply] = -rise / groundOhms;
        const answer = answers[i]!;
        for (let node = 0; node < riseVolts.length; node++)
          riseVolts[node]! += rise * answer.nodeVolts[node]!;
        for (let t = 0; t < terminalVolts.length; t++) terminalVolts[t]! += rise * answer.terminalVolts[t]!;
      }
      return bondAmps;
    },
  };
}
