// The cut list: which pieces to cut from which strip, in the order of the wire, and what each strip needs altogether.
// Not here: how to lay the pieces on reels with least waste.
import { rowById, strips } from '../catalogue/index.ts';
import type { Layout } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { channels, numberedRuns } from './channels.ts';
import { type Cell, csv, tenths } from './csv.ts';

export interface CutPiece {
  readonly number: number;
  /** Data line, from 1; null outside every chain. */
  readonly line: number | null;
  readonly run: string;
  readonly name: string;
  readonly strip: string;
  readonly ledCount: number;
  /** From cut edge to cut edge: LEDs x distance between LEDs. */
  readonly cutLengthMm: number;
  readonly channelLengthMm: number;
  readonly channelWidthMm: number;
}

export interface StripTotal {
  readonly strip: string;
  readonly label: string;
  readonly pieceCount: number;
  readonly ledCount: number;
  readonly lengthMm: number;
}

export interface CutList {
  readonly pieces: readonly CutPiece[];
  /** By strip, in the order in which the pieces name them. */
  readonly totals: readonly StripTotal[];
}

const labelOf = (project: Project, strip: string): string =>
  rowById(project.strips ?? [], strip)?.label ?? rowById(strips, strip)?.label ?? strip;

export function cutList(project: Project, layout: Layout): CutList {
  const grooves = new Map(channels(layout).map((channel) => [channel.run, channel]));
  // A ring board is bought round: nothing of it is cut from a reel.
  const cut = numberedRuns(layout).filter(({ placed }) => !placed.run.ring);
  const pieces = cut.map(
    ({ number, line, placed }): CutPiece => ({
      number,
      line,
      run: placed.run.id,
      name: placed.run.name ?? '',
      strip: placed.strip.id,
      ledCount: placed.run.ledCount,
      cutLengthMm: placed.cutLengthMm,
      channelLengthMm: grooves.get(placed.run.id)!.lengthMm,
      channelWidthMm: grooves.get(placed.run.id)!.widthMm,
    }),
  );
  const totals = [...new Set(pieces.map((piece) => piece.strip))].map((strip): StripTotal => {
    const ofStrip = pieces.filter((piece) => piece.strip === strip);
    return {
      strip,
      label: labelOf(project, strip),
      pieceCount: ofStrip.length,
      ledCount: ofStrip.reduce((sum, piece) => sum + piece.ledCount, 0),
      lengthMm: ofStrip.reduce((sum, piece) => sum + piece.cutLengthMm, 0),
    };
  });
  return { pieces, totals };
}

const header = [
  'Number',
  'Data line',
  'Run',
  'Name',
  'Strip',
  'LEDs',
  'Cut length (mm)',
  'Channel length (mm)',
  'Channel width (mm)',
];

/** Pieces, then one line a strip with what it needs altogether. */
export function cutListCsv(list: CutList): string {
  const pieces = list.pieces.map((piece): Cell[] => [
    piece.number,
    piece.line,
    piece.run,
    piece.name,
    piece.strip,
    piece.ledCount,
    tenths(piece.cutLengthMm),
    tenths(piece.channelLengthMm),
    tenths(piece.channelWidthMm),
  ]);
  const totals = list.totals.map((total): Cell[] => [
    null,
    null,
    'altogether',
    `${total.pieceCount} ${total.pieceCount === 1 ? 'piece' : 'pieces'}`,
    total.strip,
    total.ledCount,
    tenths(total.lengthMm),
    null,
    null,
  ]);
  return csv([header, ...pieces, ...totals]);
}
