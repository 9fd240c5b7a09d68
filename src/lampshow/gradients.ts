// Gradients: stops in the document to the player's 64 colours, and those to a few straight pieces that take little flash.
// Colours between stops are mixed in OKLab by chroma-js, since equal steps there look equal to the eye.
import chroma from 'chroma-js';
import type { Gradient } from '../project/index.ts';

export const gradientEntries = 64;

/** How a gradient lies in the player's colour table. */
export interface GradientUse {
  readonly entries: number;
  /** Whether the last entry is the gradient's end, or an entry short of it because the light ends or the first colour follows there. */
  readonly endsInside: boolean;
  /** So many neighbouring entries have one colour. */
  readonly repeated: number;
  /** Where in the gradient the table begins, and how much of it lies in the table; behind its end its beginning follows. */
  readonly from: number;
  readonly span: number;
}
export const wholeTable: GradientUse = {
  entries: gradientEntries,
  endsInside: true,
  repeated: 1,
  from: 0,
  span: 1,
};
/** A piece may miss the true colour by this many levels of 255 before it is broken in two; less can't be seen. */
const worstPieceError = 0.75;

export type Rgb = readonly [red: number, green: number, blue: number];

export interface GradientPiece {
  /** How many of the 64 colours it fills. */
  readonly entries: number;
  /** Levels of its first colour, 8.8 fixed point, half a level added so that cutting off rounds. */
  readonly start: Rgb;
  /** What is added from one colour to the next, 8.8 fixed point, may be negative. */
  readonly step: Rgb;
}

/** Colour of a gradient at a place from 0 to 1, levels 0 to 255 (not rounded). */
export function gradientColour(gradient: Pick<Gradient, 'stops'>, place: number): Rgb {
  const stops = [...gradient.stops].sort((a, b) => a.at - b.at);
  const after = stops.findIndex((stop) => stop.at > place);
  const right = after === -1 ? stops.at(-1)! : stops[after]!;
  const left = after === 0 ? right : after === -1 ? right : stops[after - 1]!;
  const width = right.at - left.at;
  const share = width === 0 ? 0 : (place - left.at) / width;
  const [red, green, blue] = chroma.mix(left.colour, right.colour, share, 'oklab').rgb(false);
  const level = (value: number) => Math.min(255, Math.max(0, value));
  return [level(red), level(green), level(blue)];
}

/** The colours that the player's table should hold: the first at place 0. */
export function gradientTable(
  gradient: Pick<Gradient, 'stops'>,
  { entries, endsInside, repeated, from, span }: GradientUse = wholeTable,
): Rgb[] {
  const steps = Math.max(1, entries / repeated - (endsInside ? 1 : 0));
  return Array.from({ length: entries }, (_, i) => {
    const place = from + (span * Math.floor(i / repeated)) / steps;
    return gradientColour(gradient, place > 1 ? place - 1 : place);
  });
}

const fixed = (value: number): number => Math.round(value * 256);

function pieceBetween(table: readonly Rgb[], from: number, to: number): GradientPiece {
  const a = table[from]!;
  const b = table[to]!;
  const step = (i: 0 | 1 | 2) => (to === from ? 0 : fixed((b[i] - a[i]) / (to - from)));
  return {
    entries: to - from + 1,
    start: [fixed(a[0]) + 128, fixed(a[1]) + 128, fixed(a[2]) + 128],
    step: [step(0), step(1), step(2)],
  };
}

/** The player looks between two entries, so one step behind the last colour must still be a colour. */
const staysInside = (piece: GradientPiece): boolean =>
  ([0, 1, 2] as const).every((channel) => {
    const behind = piece.start[channel] + piece.entries * piece.step[channel];
    return behind >= 0 && behind <= 0xffff;
  });

function pieceFits(table: readonly Rgb[], from: number, piece: GradientPiece): boolean {
  if (!staysInside(piece)) return false;
  for (let i = 0; i < piece.entries; i++)
    for (const channel of [0, 1, 2] as const) {
      const level = (piece.start[channel] - 128 + i * piece.step[channel]) / 256;
      if (Math.abs(level - table[from + i]![channel]) > worstPieceError) return false;
    }
  return true;
}

/** Documents never change in place, so the same list of stops has the same pieces; mixing colours is most of a show's compilation. */
const knownPieces = new WeakMap<Gradient['stops'], Map<string, readonly GradientPiece[]>>();

const keyOfUse = ({ entries, endsInside, repeated, from, span }: GradientUse): string =>
  `${entries} ${endsInside} ${repeated} ${from} ${span}`;

/** Straight pieces through the table, each as long as it stays true to it. */
export function gradientPieces(
  { stops }: Pick<Gradient, 'stops'>,
  use: GradientUse = wholeTable,
): readonly GradientPiece[] {
  const ofStops = knownPieces.get(stops) ?? new Map<string, readonly GradientPiece[]>();
  knownPieces.set(stops, ofStops);
  const pieces = ofStops.get(keyOfUse(use)) ?? piecesThrough(gradientTable({ stops }, use));
  ofStops.set(keyOfUse(use), pieces);
  return pieces;
}

function piecesThrough(table: readonly Rgb[]): GradientPiece[] {
  const pieces: GradientPiece[] = [];
  for (let from = 0; from < table.length; ) {
    let best = pieceBetween(table, from, from);
    // A piece that would leave the colours behind its end may still fit when longer or shorter, so all ends are tried until the colours part.
    for (let to = from + 1; to < table.length; to++) {
      const longer = pieceBetween(table, from, to);
      if (pieceFits(table, from, longer)) best = longer;
      else if (staysInside(longer)) break;
    }
    pieces.push(best);
    from += best.entries;
  }
  return pieces;
}
