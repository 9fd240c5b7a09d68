// Which run lies in which engraved channel, one to one, and how far a run's board leaves its groove.
import { pitchMm } from '../catalogue/index.ts';
import type { Channel, Project, Run } from '../project/index.ts';
import { runAsBuilt } from './as-built.ts';
import { drawnToMm, type Groove, grooveOf } from './groove.ts';
import { arrowVector } from './layout.ts';
import type { PointMm } from './plane.ts';
import { defaultStripOf, stripById } from './strips.ts';

/** A run and a channel whose axes differ by more were never meant for each other. */
const sameAxisDeg = 5;

/** Grooves by channel and board width, each worked out once. */
export class Grooves {
  private readonly known = new Map<Channel, Map<number, Groove | undefined>>();

  of(channel: Channel, boardWidthMm: number): Groove | undefined {
    const byWidth = this.known.get(channel) ?? new Map<number, Groove | undefined>();
    this.known.set(channel, byWidth);
    if (!byWidth.has(boardWidthMm)) byWidth.set(boardWidthMm, grooveOf(channel, boardWidthMm));
    return byWidth.get(boardWidthMm);
  }
}

export interface CutPiece {
  readonly dinEnd: PointMm;
  readonly doutEnd: PointMm;
  readonly boardWidthMm: number;
}

/** The run's piece of strip, from cut edge to cut edge. */
export function cutPieceOf(project: Pick<Project, 'strips' | 'asBuilt'>, run: Run): CutPiece {
  const strip = stripById(project, runAsBuilt(project, run).strip);
  const pitch = pitchMm(strip);
  const arrow = arrowVector(run.arrowDeg);
  const at = (steps: number): PointMm => ({
    xMm: run.firstLed.xMm + arrow.x * pitch * steps,
    yMm: run.firstLed.yMm + arrow.y * pitch * steps,
  });
  return { dinEnd: at(-0.5), doutEnd: at(run.ledCount - 0.5), boardWidthMm: strip.boardWidthMm };
}

/** A place as a groove sees it: how far along from its `from` end, and how far off its middle line. */
function seenFrom({ from, along }: Groove, { xMm, yMm }: PointMm): { alongMm: number; offMm: number } {
  const [dx, dy] = [xMm - from.xMm, yMm - from.yMm];
  return { alongMm: dx * along.x + dy * along.y, offMm: dy * along.x - dx * along.y };
}

/** How much of the board lies over the groove, mm2; 0 where they run different ways or lie beside each other. */
function overlapMm2(groove: Groove, piece: CutPiece): number {
  const [a, b] = [piece.dinEnd, piece.doutEnd].map((end) => seenFrom(groove, end)) as [
    ReturnType<typeof seenFrom>,
    ReturnType<typeof seenFrom>,
  ];
  const turnDeg = (Math.atan2(Math.abs(b.offMm - a.offMm), Math.abs(b.alongMm - a.alongMm)) * 180) / Math.PI;
  if (turnDeg > sameAxisDeg) return 0;
  const start = Math.max(0, Math.min(a.alongMm, b.alongMm));
  const end = Math.min(groove.lengthMm, Math.max(a.alongMm, b.alongMm));
  if (end <= start) return 0;
  const share = ((start + end) / 2 - a.alongMm) / (b.alongMm - a.alongMm);
  const offMm = Math.abs(a.offMm + (b.offMm - a.offMm) * share);
  const width = groove.widthMm ?? piece.boardWidthMm;
  const across = Math.min(piece.boardWidthMm, width, (piece.boardWidthMm + width) / 2 - offMm);
  // Boards that only reach into a groove from beside lie in the next one.
  return offMm > Math.max(piece.boardWidthMm, width) / 2 ? 0 : (end - start) * Math.max(0, across);
}

export interface ChannelRuns {
  /** By channel: the run that lies in it most, each run in one channel alone. */
  readonly runOf: ReadonlyMap<Channel, Run>;
  /** Runs that lie in a channel which another run has taken: the run and the channel. */
  readonly besides: readonly { readonly run: Run; readonly channel: Channel }[];
}

/** Matches the runs with the channels that they overlap most. Ring boards lie in no channel. */
export function matchRuns(
  project: Pick<Project, 'strips' | 'runs'>,
  channels: readonly Channel[],
  grooves: Grooves,
): ChannelRuns {
  const straight = project.runs.filter((run) => !run.ring);
  const pairs = straight.flatMap((run) => {
    const piece = cutPieceOf(project, run);
    return channels.flatMap((channel) => {
      const groove = grooves.of(channel, piece.boardWidthMm);
      const overlap = groove ? overlapMm2(groove, piece) : 0;
      return overlap > 0 ? [{ run, channel, overlap }] : [];
    });
  });
  const runOf = new Map<Channel, Run>();
  const placed = new Set<Run>();
  // Among equals the earlier run and channel, since sorting keeps their order.
  for (const { run, channel } of pairs.toSorted((a, b) => b.overlap - a.overlap)) {
    if (runOf.has(channel) || placed.has(run)) continue;
    runOf.set(channel, run);
    placed.add(run);
  }
  const besides = pairs.filter(({ run }) => !placed.has(run)).map(({ run, channel }) => ({ run, channel }));
  return { runOf, besides };
}

/** How far the board sticks out of its groove at its worst corner, mm; 0 where it lies inside. A middle line stands for a groove as wide as the board. */
export function outsideMm(groove: Groove, piece: CutPiece): number {
  const half = piece.boardWidthMm / 2;
  const room = (groove.widthMm ?? piece.boardWidthMm) / 2;
  const ends = [piece.dinEnd, piece.doutEnd].map((end) => seenFrom(groove, end));
  return Math.max(
    0,
    ...ends.map(({ alongMm, offMm }) =>
      Math.max(-alongMm, alongMm - groove.lengthMm, Math.abs(offMm) + half - Math.max(half, room)),
    ),
  );
}

/** The most LEDs of a strip that fit into a length, whole cut pieces only. */
export function mostLeds(
  {
    ledsPerMetre,
    cutEveryLeds = 1,
  }: { readonly ledsPerMetre: number; readonly cutEveryLeds?: number | undefined },
  lengthMm: number,
): number {
  const unitMm = pitchMm({ ledsPerMetre }) * cutEveryLeds;
  return Math.floor((lengthMm + drawnToMm) / unitMm) * cutEveryLeds;
}

/** The strip of the run in a channel, or the one that a new run there is cut from. */
export const stripIdFor = (project: Pick<Project, 'runs'>, run: Run | undefined): string =>
  run?.strip ?? defaultStripOf(project);
