// Which conductors of a net lie on some way from a node to a target that passes no node twice: only these can carry current between the two.
// Such a way crosses a conductor just where the conductor's block lies between them. A block is a largest part of the net that stays in one piece
// without any one of its nodes; blocks hang together in a tree (source: the depth-first search for biconnected components, Hopcroft and Tarjan 1973).

export interface Ends {
  readonly a: number;
  readonly b: number;
}

export interface Blocks {
  readonly count: number;
  /** By conductor: its block; -1 where no way leads to the target. */
  readonly ofConductor: Int32Array;
  /** By node: the first block on its way to the target; -1 for the target itself and what no way joins to it. */
  readonly above: Int32Array;
  /** By block: its node that is nearest to the target. */
  readonly topOf: readonly number[];
}

/** The blocks of a net, each knowing the next one towards the target. Parallel conductors are a loop like any other. */
export function blocksTowards(nodeCount: number, conductors: readonly Ends[], target: number): Blocks {
  const at: number[][] = Array.from({ length: nodeCount }, () => []);
  for (const [conductor, { a, b }] of conductors.entries()) {
    at[a]!.push(conductor);
    if (a !== b) at[b]!.push(conductor);
  }
  const ofConductor = new Int32Array(conductors.length).fill(-1);
  const above = new Int32Array(nodeCount).fill(-1);
  const topOf: number[] = [];
  const order = new Int32Array(nodeCount).fill(-1);
  /** By node: the earliest node that it or any node behind it touches. */
  const earliest = new Int32Array(nodeCount);
  const tried = new Int32Array(nodeCount);
  const cameBy = new Int32Array(nodeCount).fill(-1);
  const open: number[] = [];
  let visited = 0;
  const visit = (node: number): void => {
    order[node] = visited;
    earliest[node] = visited++;
  };
  const close = (top: number, lastConductor: number): void => {
    const block = topOf.push(top) - 1;
    for (let conductor = open.pop(); conductor !== undefined; conductor = open.pop()) {
      ofConductor[conductor] = block;
      const { a, b } = conductors[conductor]!;
      for (const node of [a, b]) if (node !== top && cameBy[node] === conductor) above[node] = block;
      if (conductor === lastConductor) break;
    }
  };

  visit(target);
  const path = [target];
  while (path.length > 0) {
    const node = path.at(-1)!;
    const conductor = at[node]![tried[node]!++];
    if (conductor === undefined) {
      path.pop();
      const before = path.at(-1);
      if (before === undefined) break;
      earliest[before] = Math.min(earliest[before]!, earliest[node]!);
      if (earliest[node]! >= order[before]!) close(before, cameBy[node]!);
      continue;
    }
    const { a, b } = conductors[conductor]!;
    const next = a === node ? b : a;
    if (next === node || conductor === cameBy[node]) continue;
    if (order[next] === -1) {
      open.push(conductor);
      cameBy[next] = conductor;
      visit(next);
      path.push(next);
    } else if (order[next]! < order[node]!) {
      open.push(conductor);
      earliest[node] = Math.min(earliest[node]!, order[next]!);
    }
  }
  return { count: topOf.length, ofConductor, above, topOf };
}
