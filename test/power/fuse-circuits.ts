// Slow reference of the fuse rule: the panel's conductors built from the document alone, every short tried on its own, and the ways of the current
// found one by one. Two finders: all ways that pass no node twice, walked; and a unit current, solved as a circuit.
import { plugs, rowById, wires } from '../../src/catalogue/index.ts';
import { factorNetwork, type Link, linkAmps, terminal } from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';

/** Named as "kind polarity place"; the two pieces of a wire on both sides of a short inside it bear the same name. */
export interface Piece {
  readonly a: string;
  readonly b: string;
  readonly names: readonly string[];
}
export interface ReferenceShort {
  readonly plus: string;
  readonly ground: string;
}
export interface Circuit {
  readonly plus: readonly Piece[];
  readonly ground: readonly Piece[];
  /** Amperes by name. */
  readonly ratings: ReadonlyMap<string, number>;
  readonly shorts: readonly ReferenceShort[];
  /** Node behind each feed's fuse, and of the ground that its current returns to. */
  readonly feeds: readonly { readonly fuse: string; readonly home: string }[];
}

const wireAmps = (id: string): number => rowById(wires, id)!.designAmps;

/** Documents of build-project.ts: strips of their own, nothing built otherwise than planned. */
export function circuitOf(project: Project): Circuit {
  const plus: Piece[] = [];
  const ground: Piece[] = [];
  const ratings = new Map<string, number>();
  const shorts: ReferenceShort[] = [];
  const { runs, dataLines, power } = project;
  const both = (a: string, b: string, name: (polarity: string) => string, amps: number, hasPlus: boolean) => {
    for (const [list, polarity, is] of [
      [plus, 'plus', hasPlus],
      [ground, 'ground', true],
    ] as const) {
      if (!is) continue;
      list.push({ a, b, names: [name(polarity)] });
      ratings.set(name(polarity), amps);
    }
  };
  for (const run of runs) {
    // 3 A for boards up to 10 mm, 5 A for wider ones: common practice, no source.
    const amps = project.strips!.find(({ id }) => id === run.strip)!.boardWidthMm <= 10 ? 3 : 5;
    for (let led = 0; led < run.ledCount; led++) {
      shorts.push({ plus: `${run.id}.${led}`, ground: `${run.id}.${led}` });
      if (led > 0)
        both(
          `${run.id}.${led - 1}`,
          `${run.id}.${led}`,
          (polarity) => `segment ${polarity} ${run.id}.${led - 1}`,
          amps,
          true,
        );
    }
  }
  for (const [line, { chain }] of dataLines.entries())
    for (const [place, { run, jumper }] of chain.entries()) {
      const amps = wireAmps(jumper?.wire ?? 'AWG 20');
      if (place === 0) {
        const name = `board-lead ground ${line}`;
        ground.push({ a: 'board', b: `${run}.0`, names: [name] });
        ratings.set(name, amps);
      } else {
        const before = chain[place - 1]!.run;
        const last = runs.find(({ id }) => id === before)!.ledCount - 1;
        both(
          `${before}.${last}`,
          `${run}.0`,
          (polarity) => `jumper ${polarity} ${line}.${place}`,
          amps,
          jumper?.power !== 'cut',
        );
      }
    }
  const homes = new Map<string | undefined, string>([[undefined, 'supply 0']]);
  for (const [i, { id, ground: bond }] of (power.moreSupplies ?? []).entries()) {
    homes.set(id, bond ? `supply ${i + 1}` : 'supply 0');
    if (!bond) continue;
    const name = `supply-ground ground ${i + 1}`;
    ground.push({ a: `supply ${i + 1}`, b: 'supply 0', names: [name] });
    ratings.set(name, wireAmps(bond.wire));
  }
  const { from = 'supply', wire = 'AWG 20' } = power.controller ?? {};
  if (dataLines.length > 0) {
    const isKnown = from === 'supply';
    ground.push({ a: 'board', b: 'supply 0', names: isKnown ? ['board-ground ground 0'] : [] });
    if (isKnown) ratings.set('board-ground ground 0', wireAmps(wire));
  }
  const feeds = power.feeds.map((feed, i) => {
    const home = homes.get(feed.supply)!;
    const led = `${feed.run}.${feed.led}`;
    for (const [list, polarity, far] of [
      [plus, 'plus', `fuse ${i}`],
      [ground, 'ground', home],
    ] as const) {
      const name = `feed ${polarity} ${i}`;
      ratings.set(name, wireAmps(feed.wire));
      const plugName = `plug ${polarity} ${i}`;
      if (feed.plug) ratings.set(plugName, rowById(plugs, feed.plug)!.amps);
      list.push({ a: far, b: `cable ${i}`, names: [name] });
      list.push({ a: `cable ${i}`, b: led, names: feed.plug ? [name, plugName] : [name] });
    }
    shorts.push({ plus: `cable ${i}`, ground: `cable ${i}` });
    return { fuse: `fuse ${i}`, home };
  });
  return { plus, ground, ratings, shorts, feeds };
}

/** Pieces that carry some of a current between two nodes, by place in the list; undefined where no way joins them. */
type Finder = (pieces: readonly Piece[], from: string, to: string) => ReadonlySet<number> | undefined;

/** Walks every way that passes no node twice. */
export const byWalking: Finder = (pieces, from, to) => {
  const at = new Map<string, { piece: number; next: string }[]>();
  const add = (a: string, piece: number, next: string) => at.set(a, [...(at.get(a) ?? []), { piece, next }]);
  for (const [piece, { a, b }] of pieces.entries()) {
    add(a, piece, b);
    add(b, piece, a);
  }
  const crossed = new Set<number>();
  const passed = new Set<string>([from]);
  const way: number[] = [];
  let arrived = false;
  const walk = (node: string): void => {
    if (node === to) {
      arrived = true;
      for (const piece of way) crossed.add(piece);
      return;
    }
    for (const { piece, next } of at.get(node) ?? []) {
      if (passed.has(next)) continue;
      passed.add(next);
      way.push(piece);
      walk(next);
      way.pop();
      passed.delete(next);
    }
  };
  walk(from);
  return arrived ? crossed : undefined;
};

/** Far above what rounding leaves of a current of 1 A, far below any share of it in nets this small. */
const nothingAmps = 1e-11;

/** Puts 1 A in at one node and takes it out at the other, through resistances without any pattern. */
export const bySolving: Finder = (pieces, from, to) => {
  if (from === to) return new Set();
  const nodes = new Map<string, number>();
  const end = (name: string): number => {
    if (name === to) return terminal(0);
    if (!nodes.has(name)) nodes.set(name, nodes.size);
    return nodes.get(name)!;
  };
  // Square roots of different whole numbers: no two ways of a bridge balance.
  const links = pieces.map(({ a, b }, i): Link => ({ from: end(a), to: end(b), ohms: Math.sqrt(2 + i) }));
  const source = end(from);
  const network = { nodeCount: nodes.size, terminalVolts: [0], links };
  const drawn = new Float64Array(nodes.size);
  drawn[source] = -1;
  const volts = factorNetwork(network).solve(drawn);
  if (Number.isNaN(volts[source]!)) return undefined;
  return new Set(
    links.flatMap((link, i) => (Math.abs(linkAmps(network, link, volts)) > nothingAmps ? [i] : [])),
  );
};

/** By name: for each short and each piece of that name, the feeds of the fuses whose current crosses it, where there are any. */
export function crossings(circuit: Circuit, find: Finder): Map<string, number[][]> {
  const crossedBy = new Map<string, number[][]>([...circuit.ratings.keys()].map((name) => [name, []]));
  for (const short of circuit.shorts) {
    const inThis = new Map<Piece, Set<number>>();
    for (const [feed, { fuse, home }] of circuit.feeds.entries()) {
      const supplied = find(circuit.plus, fuse, short.plus);
      if (!supplied) continue;
      for (const [pieces, crossed] of [
        [circuit.plus, supplied],
        [circuit.ground, find(circuit.ground, short.ground, home)!],
      ] as const)
        for (const piece of crossed)
          inThis.set(pieces[piece]!, (inThis.get(pieces[piece]!) ?? new Set()).add(feed));
    }
    for (const [{ names }, feeds] of inThis)
      for (const name of names) crossedBy.get(name)!.push([...feeds].sort((a, b) => a - b));
  }
  return crossedBy;
}
