// Runs that are proposed, not drawn: pieces of strip along lines become runs in the order and directions of a short chain, and one edit lays them.
import { addRun, deleteRun, type Edit, freeId, type Project, type Run } from '../project/index.ts';
import type { ChainRun, ChainStep } from './chain-plan.ts';
import { quickChain } from './chain-plan.ts';
import { type Along, outOfFrame } from './free-stretches.ts';
import { jumperLengthMm } from './jumper-route.ts';
import { layOut } from './layout.ts';
import type { PointMm } from './plane.ts';
import { tidy } from './run-places.ts';

/** A piece of strip along a line: where its cut edge begins in the line's frame, and how many LEDs it has. */
export interface Piece {
  readonly along: Along;
  readonly fromMm: number;
  readonly yMm: number;
  readonly ledCount: number;
  readonly pitchMm: number;
  /** From 0 where the piece begins. */
  readonly spareLeds?: readonly number[] | undefined;
}

/** A place on the piece so many pitches behind its beginning. */
const placeOn = ({ along, fromMm, yMm, pitchMm }: Piece, pitches: number): PointMm =>
  outOfFrame(along, { xMm: fromMm + pitches * pitchMm, yMm });

const pieceEnds = (piece: Piece): ChainRun => ({
  dinEnd: placeOn(piece, 0),
  doutEnd: placeOn(piece, piece.ledCount),
  mayTurn: true,
});

/** Corners of the piece's board, in the panel's axes. */
export function pieceOutline(piece: Piece, boardWidthMm: number): PointMm[] {
  const { along, fromMm, yMm, ledCount, pitchMm } = piece;
  const toMm = fromMm + ledCount * pitchMm;
  const [topMm, bottomMm] = [yMm - boardWidthMm / 2, yMm + boardWidthMm / 2];
  return [
    { xMm: fromMm, yMm: topMm },
    { xMm: toMm, yMm: topMm },
    { xMm: toMm, yMm: bottomMm },
    { xMm: fromMm, yMm: bottomMm },
  ].map((corner) => outOfFrame(along, corner));
}

/** Where a new run's chain goes on: behind the data line's last run, or at the board. */
function chainStart(project: Project, dataLine: number, isCleared: boolean): PointMm | undefined {
  const last = isCleared ? undefined : project.dataLines[dataLine]?.chain.at(-1)?.run;
  return layOut(project).runs.find(({ run }) => run.id === last)?.doutEnd ?? project.board.place;
}

function wireMm(
  runs: readonly ChainRun[],
  steps: readonly ChainStep[],
  start: PointMm | undefined,
  lengthMm: (a: PointMm, b: PointMm) => number,
): number {
  let from = start;
  return steps.reduce((sum, { run, reversed }) => {
    const { dinEnd, doutEnd } = runs[run]!;
    const wayMm = from ? lengthMm(from, reversed ? doutEnd : dinEnd) : 0;
    from = reversed ? dinEnd : doutEnd;
    return sum + wayMm;
  }, 0);
}

/** Longer detours than this are worth another order; below, the plain one is easier to follow, mm. */
const worthwhileMm = 1;

/** The pieces as a chain: in the plain order that is given, or in a better one if there is one. */
function chained(
  project: Project,
  pieces: readonly Piece[],
  plain: readonly ChainStep[],
  start: PointMm | undefined,
): readonly ChainStep[] {
  const runs = pieces.map(pieceEnds);
  const lengthMm = (a: PointMm, b: PointMm): number => jumperLengthMm(project.panel, a, b);
  const planned = quickChain({ runs, start, lengthMm });
  return wireMm(runs, planned, start, lengthMm) < wireMm(runs, plain, start, lengthMm) - worthwhileMm
    ? planned
    : plain;
}

function runOf(piece: Piece, reversed: boolean, strip: string, id: string): Run {
  const { along, ledCount, spareLeds } = piece;
  const first = placeOn(piece, reversed ? ledCount - 0.5 : 0.5);
  const deg = (Math.atan2(-along.yMm, along.xMm) * 180) / Math.PI + (reversed ? 180 : 0);
  const spare = reversed ? spareLeds?.map((led) => ledCount - 1 - led).reverse() : spareLeds;
  return {
    id,
    firstLed: { xMm: tidy(first.xMm), yMm: tidy(first.yMm) },
    arrowDeg: tidy((deg + 360) % 360),
    ledCount,
    strip,
    ...(spare && spare.length > 0 ? { spareLeds: [...spare] } : {}),
  };
}

export interface ProposalPlace {
  /** Data line whose chain goes on with the runs; the last one where absent. */
  readonly dataLine?: number | undefined;
  /** Whether all runs that lie on the panel go first. */
  readonly replace?: boolean | undefined;
}

const lineOf = (project: Project, { dataLine }: ProposalPlace): number =>
  dataLine ?? Math.max(0, project.dataLines.length - 1);

/** Runs for these pieces, in the order of their chain, with ids that nobody has. `plain` is the order that is taken where no other is better. */
export function proposedRuns(
  project: Project,
  place: ProposalPlace,
  pieces: readonly Piece[],
  plain: readonly ChainStep[],
  strip: string,
  stem: string,
): Run[] {
  const isCleared = place.replace ?? false;
  const taken = new Set(isCleared ? [] : project.runs.map(({ id }) => id));
  const start = chainStart(project, lineOf(project, place), isCleared);
  return chained(project, pieces, plain, start).map(({ run, reversed }) => {
    const id = freeId(taken, `${stem}-1`);
    taken.add(id);
    return runOf(pieces[run]!, reversed, strip, id);
  });
}

/**
 * Lays proposed runs at the end of a data line's chain, joined by plain jumpers; a line that doesn't exist is made, without a pin. Where they replace what
 * lies there, the line keeps its pin, areas that name runs hold none of them any more, and without runs to lay nothing happens.
 */
export const layProposed =
  (runs: readonly Run[], place: ProposalPlace): Edit =>
  (project) => {
    if (runs.length === 0) return;
    const index = lineOf(project, place);
    if (!place.replace) {
      for (const run of runs) addRun(structuredClone(run), index)(project);
      return;
    }
    const pin = project.dataLines[index]?.pin;
    for (const { id } of [...project.runs]) deleteRun(id)(project);
    for (const run of runs) addRun(structuredClone(run), 0)(project);
    const [line] = project.dataLines;
    if (line && pin !== undefined) project.dataLines = [{ pin, chain: line.chain }];
  };
