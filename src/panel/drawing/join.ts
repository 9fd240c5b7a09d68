// Joins loose lines and arcs whose ends touch: a program that knows no outlines writes a slot as two lines and two arcs.
// Where more than two ends meet, nothing is joined: which belong together can't be told.
import type { PointMm } from '../plane.ts';
import { near, type RawShape } from './collector.ts';
import { touchMm } from './limits.ts';

interface Piece {
  readonly shape: RawShape;
  readonly ends: readonly [node: number, node: number];
}

/** Numbers places, those nearer than the tolerance alike: looked up in cells of that size and the eight around. */
class Places {
  private readonly cells = new Map<string, { readonly at: PointMm; readonly node: number }[]>();
  private count = 0;

  nodeOf(at: PointMm): number {
    const column = Math.floor(at.xMm / touchMm);
    const row = Math.floor(at.yMm / touchMm);
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++)
        for (const known of this.cells.get(`${column + dx} ${row + dy}`) ?? [])
          if (near(known.at, at)) return known.node;
    const cell = `${column} ${row}`;
    const node = this.count++;
    this.cells.set(cell, [...(this.cells.get(cell) ?? []), { at, node }]);
    return node;
  }
}

function joinedInLayer(shapes: readonly RawShape[]): RawShape[] {
  const places = new Places();
  const meeting = new Map<number, Piece[]>();
  const pieces: Piece[] = [];
  const lines = new Set<string>();
  for (const shape of shapes) {
    const piece: Piece = {
      shape,
      ends: [places.nodeOf(shape.points[0]!), places.nodeOf(shape.points.at(-1)!)],
    };
    // Lines drawn twice over are one.
    const between = piece.ends.toSorted((a, b) => a - b).join(' ');
    if (shape.points.length === 2 && lines.has(between)) continue;
    if (shape.points.length === 2) lines.add(between);
    pieces.push(piece);
    for (const node of piece.ends) {
      const met = meeting.get(node);
      if (met) met.push(piece);
      else meeting.set(node, [piece]);
    }
  }
  const used = new Set<Piece>();
  const nextAt = (node: number, from: Piece): Piece | undefined => {
    const met = meeting.get(node)!;
    return met.length === 2 ? met.find((piece) => piece !== from && !used.has(piece)) : undefined;
  };
  const chainFrom = (first: Piece, start: 0 | 1): RawShape => {
    const points: PointMm[] = [];
    const ownNames = new Set<string>();
    let piece: Piece | undefined = first;
    let node = first.ends[start];
    const startNode = node;
    while (piece) {
      used.add(piece);
      const isForward: boolean = piece.ends[0] === node;
      const ordered: readonly PointMm[] = isForward ? piece.shape.points : piece.shape.points.toReversed();
      for (const point of points.length === 0 ? ordered : ordered.slice(1)) points.push(point);
      for (const name of piece.shape.ownNames) ownNames.add(name);
      node = isForward ? piece.ends[1] : piece.ends[0];
      piece = nextAt(node, piece);
    }
    const closed = node === startNode && points.length > 3;
    if (closed) points.pop();
    return { holders: first.shape.holders, ownNames: [...ownNames], points, closed };
  };
  const isLoose = (node: number): boolean => meeting.get(node)!.length !== 2;
  const joined: RawShape[] = [];
  // Chains with an end first; what is left over then are rings.
  for (const side of [0, 1] as const)
    for (const piece of pieces)
      if (!used.has(piece) && isLoose(piece.ends[side])) joined.push(chainFrom(piece, side));
  for (const piece of pieces) if (!used.has(piece)) joined.push(chainFrom(piece, 0));
  return joined;
}

/** Closed shapes as they are; open ones of one layer joined. */
export function joinLoose(shapes: readonly RawShape[]): RawShape[] {
  const open = new Map<string, RawShape[]>();
  for (const shape of shapes) {
    if (shape.closed) continue;
    const layer = JSON.stringify(shape.holders);
    const held = open.get(layer);
    if (held) held.push(shape);
    else open.set(layer, [shape]);
  }
  return [...shapes.filter((shape) => shape.closed), ...[...open.values()].flatMap(joinedInLayer)];
}
