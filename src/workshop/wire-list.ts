// The wire list: every link from the board, every jumper between pieces of strip, every feed from the supply, with wire and length.
// Not here: whether they suffice (src/power). Fuses are those of the power report.
import { builtLines, defaultJumperWire, type Layout } from '../panel/index.ts';
import { powerReport } from '../power/index.ts';
import type { Project } from '../project/index.ts';
import { numberedRuns } from './channels.ts';
import { type Cell, csv } from './csv.ts';

interface RunEnd {
  readonly run: string;
  readonly number: number;
}

export interface BoardLink {
  /** Data line, from 1. */
  readonly line: number;
  readonly pin: number | null;
  readonly to: RunEnd;
  readonly wire: string;
  /** Null where the builder hasn't said: only they know where the board sits. */
  readonly lengthMm: number | null;
}

export interface JumperWire {
  readonly line: number;
  /** From this run's DOUT. */
  readonly from: RunEnd;
  /** To this run's DIN. */
  readonly to: RunEnd;
  /** Whether +5 V goes along with data and ground. */
  readonly power: 'carried' | 'cut';
  readonly wire: string;
  readonly lengthMm: number;
}

export interface FeedWires {
  readonly to: RunEnd;
  /** From 0 at DIN. */
  readonly led: number;
  readonly wire: string;
  /** One way; + and ground are cut alike. */
  readonly lengthMm: number;
  /** Null where no blade fuse is large enough. */
  readonly fuseAmps: number | null;
}

export interface WireList {
  readonly boardLinks: readonly BoardLink[];
  readonly jumpers: readonly JumperWire[];
  readonly feeds: readonly FeedWires[];
}

/** Wire is cut to whole steps, never shorter than needed. */
const stepMm = 5;
/** Far below what anyone can cut: keeps a length of exactly 40 from becoming 45 by the last digit. */
const roundingMm = 1e-6;
/** What to cut for a wire of this length. */
export const wireCutMm = (mm: number): number => Math.ceil((mm - roundingMm) / stepMm) * stepMm;

export function wireList(project: Project, layout: Layout): WireList {
  const numbers = new Map(numberedRuns(layout).map(({ placed, number }) => [placed.run.id, number]));
  const built = builtLines(project);
  const end = (run: string): RunEnd => ({ run, number: numbers.get(run)! });
  return {
    boardLinks: layout.lines.map(({ index, pin }) => {
      const { run, jumper } = built[index]!.chain[0]!;
      return {
        line: index + 1,
        pin: pin ?? null,
        to: end(run),
        wire: jumper?.wire ?? defaultJumperWire,
        lengthMm: jumper?.lengthMm === undefined ? null : wireCutMm(jumper.lengthMm),
      };
    }),
    jumpers: layout.lines.flatMap((line) =>
      line.jumpers.map(({ from, to, power, wire, lengthMm }) => ({
        line: line.index + 1,
        from: end(from.run.id),
        to: end(to.run.id),
        power,
        wire,
        lengthMm: wireCutMm(lengthMm),
      })),
    ),
    feeds: powerReport(project, layout).feeds.map(({ run, led, wire, lengthMm, fuseAmps }) => ({
      to: end(run),
      led,
      wire,
      lengthMm: wireCutMm(lengthMm),
      fuseAmps,
    })),
  };
}

const header = ['Kind', 'Data line', 'From', 'To', 'Conductors', 'Wire', 'Length one way (mm)', 'Fuse (A)'];
const named = ({ number, run }: RunEnd): string => `${number} ${run}`;

export function wireListCsv(list: WireList): string {
  const boardLinks = list.boardLinks.map((link): Cell[] => [
    'board link',
    link.line,
    link.pin === null ? 'board, no pin yet' : `board, pin ${link.pin}`,
    `${named(link.to)}, DIN`,
    'data, ground',
    link.wire,
    link.lengthMm,
    null,
  ]);
  const jumpers = list.jumpers.map((jumper): Cell[] => [
    'jumper',
    jumper.line,
    `${named(jumper.from)}, DOUT`,
    `${named(jumper.to)}, DIN`,
    jumper.power === 'carried' ? 'data, ground, supply carried' : 'data, ground, supply cut',
    jumper.wire,
    jumper.lengthMm,
    null,
  ]);
  const feeds = list.feeds.map((feed): Cell[] => [
    'feed',
    null,
    'supply',
    `${named(feed.to)}, LED ${feed.led}`,
    'supply, ground',
    feed.wire,
    feed.lengthMm,
    feed.fuseAmps ?? 'none fits',
  ]);
  return csv([header, ...boardLinks, ...jumpers, ...feeds]);
}
