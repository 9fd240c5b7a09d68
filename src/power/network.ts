// A network of resistors: nodes joined by conductors, some tied to terminals of fixed potential, currents drawn from the nodes.
// Factored once, then solved for as many load cases as wanted. Not here: LEDs, strips, feeds (see panel-network.ts).
// Method: nodes are eliminated one by one by the star-mesh transformation, fewest neighbours first. Only positive numbers are
// added, multiplied and divided, so nothing cancels, however short a wire is; a tree, and a strip is one, gets no new conductor.

/** A conductor. An end of 0 or more is a node; a terminal's end is written `terminal(index)`. */
export interface Link {
  readonly from: number;
  readonly to: number;
  /** Above 0: an ideal connection is one node, not a link. */
  readonly ohms: number;
}

export interface Network {
  readonly nodeCount: number;
  /** Fixed potentials, volts. */
  readonly terminalVolts: ArrayLike<number>;
  readonly links: readonly Link[];
}

export interface FactoredNetwork {
  /** Nodes without a path to any terminal, in rising order. Their potential is NaN and what is drawn from them is ignored. */
  readonly floating: readonly number[];
  /**
   * Potentials of all nodes, volts, for the amperes drawn from each (negative: put in). Written to `into` where given.
   * @param terminalVolts other potentials of the terminals than the network's own
   */
  solve(drawnAmps: ArrayLike<number>, into?: Float64Array, terminalVolts?: ArrayLike<number>): Float64Array;
}

/** The link end that means the terminal with this index. */
export const terminal = (index: number): number => -1 - index;

/** Potential of a link's end. */
export const endVolts = (network: Network, end: number, nodeVolts: ArrayLike<number>): number =>
  (end < 0 ? network.terminalVolts[-1 - end] : nodeVolts[end]) ?? Number.NaN;

/** Current along a link, positive from `from` to `to`; NaN where it floats. */
export const linkAmps = (network: Network, link: Link, nodeVolts: ArrayLike<number>): number =>
  (endVolts(network, link.from, nodeVolts) - endVolts(network, link.to, nodeVolts)) / link.ohms;

interface Tied {
  /** Siemens from each node to each of its neighbours. */
  readonly neighbours: readonly Map<number, number>[];
  /** Siemens from each node to all terminals together. */
  readonly tieSiemens: Float64Array;
  /** Every tie by itself. */
  readonly ties: readonly { readonly node: number; readonly terminal: number; readonly siemens: number }[];
}

function checkEnd(network: Network, end: number): void {
  const known = end < 0 ? -1 - end < network.terminalVolts.length : end < network.nodeCount;
  if (!Number.isInteger(end) || !known) throw new Error(`a link ends at ${end}, which is not in the network`);
}

const join = (neighbours: readonly Map<number, number>[], a: number, b: number, siemens: number): void => {
  neighbours[a]!.set(b, (neighbours[a]!.get(b) ?? 0) + siemens);
  neighbours[b]!.set(a, (neighbours[b]!.get(a) ?? 0) + siemens);
};

/** Parallel links add up; a link from a node to itself, or between two terminals, moves no potential and is left out. */
function tie(network: Network): Tied {
  const neighbours = Array.from({ length: network.nodeCount }, () => new Map<number, number>());
  const tieSiemens = new Float64Array(network.nodeCount);
  const ties: Tied['ties'][number][] = [];
  for (const { from, to, ohms } of network.links) {
    checkEnd(network, from);
    checkEnd(network, to);
    if (!(ohms > 0 && ohms < Number.POSITIVE_INFINITY)) throw new Error(`a link has ${ohms} ohm`);
    if (from === to || (from < 0 && to < 0)) continue;
    if (from >= 0 && to >= 0) join(neighbours, from, to, 1 / ohms);
    else {
      const node = Math.max(from, to);
      tieSiemens[node]! += 1 / ohms;
      ties.push({ node, terminal: -1 - Math.min(from, to), siemens: 1 / ohms });
    }
  }
  return { neighbours, tieSiemens, ties };
}

/** 1 for each node that some path of links joins to a terminal. */
function reachedFromTerminals({ neighbours, tieSiemens }: Tied): Uint8Array {
  const reached = new Uint8Array(neighbours.length);
  const waiting: number[] = [];
  const reach = (node: number) => {
    if (reached[node] === 1) return;
    reached[node] = 1;
    waiting.push(node);
  };
  for (const [node, siemens] of tieSiemens.entries()) if (siemens > 0) reach(node);
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop())
    for (const neighbour of neighbours[node]!.keys()) reach(neighbour);
  return reached;
}

/** Nodes by number of neighbours; a node is filed anew whenever that number changes, and old entries are skipped. */
class FewestNeighbours {
  readonly #byCount: number[][] = [];
  readonly #countOf = new Map<number, number>();
  #least = 0;

  file(node: number, count: number): void {
    if (this.#countOf.get(node) === count) return;
    this.#countOf.set(node, count);
    while (this.#byCount.length <= count) this.#byCount.push([]);
    this.#byCount[count]!.push(node);
    this.#least = Math.min(this.#least, count);
  }

  take(): number | undefined {
    for (; this.#least < this.#byCount.length; this.#least++) {
      const nodes = this.#byCount[this.#least]!;
      for (let node = nodes.pop(); node !== undefined; node = nodes.pop())
        if (this.#countOf.get(node) === this.#least) {
          this.#countOf.delete(node);
          return node;
        }
    }
    return undefined;
  }
}

interface Elimination {
  /** Nodes in the order of elimination. */
  readonly order: Int32Array;
  /** Siemens from each eliminated node, by place in the order, to all that was left and to the terminals. */
  readonly siemens: Float64Array;
  /** Where each place's entries begin in the two lists below; one more than there are places. */
  readonly starts: Int32Array;
  readonly heirs: Int32Array;
  /** Share of the eliminated node's siemens that led to each heir. */
  readonly shares: Float64Array;
}

/** Eliminates all nodes that are reached; `tied` is used up. */
function eliminate({ neighbours, tieSiemens }: Tied, reached: Uint8Array): Elimination {
  const queue = new FewestNeighbours();
  for (const [node, isReached] of reached.entries())
    if (isReached === 1) queue.file(node, neighbours[node]!.size);
  const order: number[] = [];
  const siemens: number[] = [];
  const starts = [0];
  const heirs: number[] = [];
  const shares: number[] = [];
  for (let node = queue.take(); node !== undefined; node = queue.take()) {
    const arms = [...neighbours[node]!];
    const tied = tieSiemens[node]!;
    const all = arms.reduce((sum, [, arm]) => sum + arm, tied);
    for (const [heir, arm] of arms) {
      neighbours[heir]!.delete(node);
      tieSiemens[heir]! += (arm / all) * tied;
      heirs.push(heir);
      shares.push(arm / all);
    }
    for (let a = 1; a < arms.length; a++)
      for (let b = 0; b < a; b++)
        join(neighbours, arms[a]![0], arms[b]![0], (arms[a]![1] / all) * arms[b]![1]);
    for (const [heir] of arms) queue.file(heir, neighbours[heir]!.size);
    order.push(node);
    siemens.push(all);
    starts.push(heirs.length);
  }
  return {
    order: Int32Array.from(order),
    siemens: Float64Array.from(siemens),
    starts: Int32Array.from(starts),
    heirs: Int32Array.from(heirs),
    shares: Float64Array.from(shares),
  };
}

/** Turns amperes into each node (in place) into its potential: down the order to the last node, and back. */
function substitute({ order, siemens, starts, heirs, shares }: Elimination, values: Float64Array): void {
  for (let place = 0; place < order.length; place++) {
    const amps = values[order[place]!]!;
    for (let entry = starts[place]!; entry < starts[place + 1]!; entry++)
      values[heirs[entry]!]! += shares[entry]! * amps;
  }
  for (let place = order.length - 1; place >= 0; place--) {
    const node = order[place]!;
    let volts = values[node]! / siemens[place]!;
    for (let entry = starts[place]!; entry < starts[place + 1]!; entry++)
      volts += shares[entry]! * values[heirs[entry]!]!;
    values[node] = volts;
  }
}

/** Prepares a network for solving. Throws only where a link is not one (our own fault): an unknown end, or ohms not above 0. */
export function factorNetwork(network: Network): FactoredNetwork {
  const tied = tie(network);
  const reached = reachedFromTerminals(tied);
  const floating: number[] = [];
  for (const [node, isReached] of reached.entries()) if (isReached === 0) floating.push(node);
  const elimination = eliminate(tied, reached);
  return {
    floating,
    solve(drawnAmps, into = new Float64Array(network.nodeCount), terminalVolts = network.terminalVolts) {
      if (drawnAmps.length !== network.nodeCount || into.length !== network.nodeCount)
        throw new Error(`the network has ${network.nodeCount} nodes`);
      for (let node = 0; node < network.nodeCount; node++) into[node] = -drawnAmps[node]!;
      for (const { node, terminal, siemens } of tied.ties) into[node]! += siemens * terminalVolts[terminal]!;
      substitute(elimination, into);
      for (const node of floating) into[node] = Number.NaN;
      return into;
    },
  };
}
