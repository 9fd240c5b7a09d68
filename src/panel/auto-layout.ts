// Automatic layout: fills a closed outline, or the visible opening, with runs in rows, in columns or along the edge. Boards lie wholly inside, clear of
// keep-outs and of each other; pieces end at cut marks; an LED budget makes the rows stand farther apart. Proposals are pure: nothing is laid
// before the edit. Not here: lighting single spots (light-spots.ts).
import { pitchMm } from '../catalogue/index.ts';
import { type Edit, limits, type Project, type Run } from '../project/index.ts';
import type { ChainStep } from './chain-plan.ts';
import {
  type Along,
  boardsApartMm,
  freeStretches,
  type Ground,
  groundInFrame,
  groundOf,
  heightsFor,
  intoFrame,
  keepOutClearanceMm,
  openingOutline,
  type Stretch,
} from './free-stretches.ts';
import { distanceMm, edgesOf, type PointMm } from './plane.ts';
import { layProposed, type Piece, type ProposalPlace, pieceOutline, proposedRuns } from './proposed-runs.ts';
import { stripById } from './strips.ts';

/** Soldering six pads for fewer LEDs is seldom worth it: our own choice. */
export const shortestPieceLeds = 3;

export interface AutoLayoutTask extends ProposalPlace {
  readonly pattern: 'rows' | 'columns' | 'edge';
  readonly strip: string;
  /** Closed outline to fill; the visible opening where absent, or the whole panel. */
  readonly outline?: readonly PointMm[] | undefined;
  /** From the middle of one row to the next; as far as the air gap still makes even, where absent. */
  readonly spacingMm?: number | undefined;
  /** From the outline to the boards, 0 where absent. */
  readonly marginMm?: number | undefined;
  /** From keep-outs to the boards; 2 mm where absent. */
  readonly clearanceMm?: number | undefined;
  /** LED budget. */
  readonly mostLeds?: number | undefined;
  /** Shorter pieces are left out; `shortestPieceLeds` where absent. */
  readonly leastLeds?: number | undefined;
}

export interface AutoLayout {
  /** In the order of their chain. */
  readonly runs: readonly Run[];
  readonly ledCount: number;
  /** Between rows, as laid; undefined along the edge. */
  readonly spacingMm: number | undefined;
  /** The budget, or a limit, made rows stand farther apart than was asked for. */
  readonly isSpacingGrown: boolean;
  /** Pieces too short to be worth soldering, and LEDs that the budget or a limit took off pieces. */
  readonly leftOut: { readonly shortPieces: number; readonly ledsOverBudget: number };
}

/**
 * Rows at most as far apart as the air gap: from z = 1.0 p on a large array's least light is 95 % of its most (u K1(u) series of a square array, u = 2 pi z / p).
 * But no nearer than two channels can be.
 */
export function evenSpacingMm(panel: Project['panel'], boardWidthMm: number): number {
  return Math.max(panel.airGapMm / 1.0, boardWidthMm + boardsApartMm(panel));
}

interface Cutter {
  readonly pitchMm: number;
  readonly boardWidthMm: number;
  readonly cutEveryLeds: number;
  readonly leastLeds: number;
}

/** A piece, and the stretch that it may be anywhere in. */
interface Fitted {
  readonly piece: Piece;
  readonly stretch: Stretch;
  /** Which row it lies in, or which side of the outline. */
  readonly row: number;
}

interface Filled {
  readonly fitted: readonly Fitted[];
  readonly shortPieces: number;
}

const ledsOf = (fitted: readonly Fitted[]): number =>
  fitted.reduce((sum, { piece }) => sum + piece.ledCount, 0);

/** A piece of so many LEDs in the middle of its stretch. */
function centred(
  along: Along,
  yMm: number,
  stretch: Stretch,
  ledCount: number,
  pitch: number,
  row: number,
): Fitted {
  const fromMm = (stretch.fromMm + stretch.toMm - ledCount * pitch) / 2;
  return { piece: { along, fromMm, yMm, ledCount, pitchMm: pitch }, stretch, row };
}

/** As many LEDs as a stretch takes between cut marks, in several pieces where one run can't hold them. */
function cutInto(along: Along, yMm: number, stretch: Stretch, cutter: Cutter, row: number): Filled {
  const unitMm = cutter.pitchMm * cutter.cutEveryLeds;
  const mostUnits = Math.floor(limits.ledsPerRun / cutter.cutEveryLeds);
  // A hair more, so that a stretch that is exactly so many pitches long isn't robbed of one by rounding.
  const units = Math.floor((stretch.toMm - stretch.fromMm + 1e-6) / unitMm);
  if (units * cutter.cutEveryLeds < cutter.leastLeds) return { fitted: [], shortPieces: 1 };
  const parts = Math.ceil(units / mostUnits);
  const fitted = Array.from({ length: parts }, (_, i): Fitted => {
    const share = (stretch.toMm - stretch.fromMm) / parts;
    const part = { fromMm: stretch.fromMm + i * share, toMm: stretch.fromMm + (i + 1) * share };
    const inPart = parts === 1 ? units : Math.floor((share + 1e-6) / unitMm);
    return centred(along, yMm, part, inPart * cutter.cutEveryLeds, cutter.pitchMm, row);
  });
  return { fitted, shortPieces: 0 };
}

function joined(parts: readonly Filled[]): Filled {
  return {
    fitted: parts.flatMap(({ fitted }) => fitted),
    shortPieces: parts.reduce((sum, { shortPieces }) => sum + shortPieces, 0),
  };
}

/** Heights of so many rows, as far from the first edge as from the last. */
function rowHeights({ fromMm, toMm }: Stretch, count: number, spacingMm: number): number[] {
  const firstMm = (fromMm + toMm - (count - 1) * spacingMm) / 2;
  return Array.from({ length: count }, (_, row) => firstMm + row * spacingMm);
}

interface Budget {
  readonly leds: number;
  readonly runs: number;
}
const fits = ({ fitted }: Filled, budget: Budget): boolean =>
  fitted.length <= budget.runs && ledsOf(fitted) <= budget.leds;

interface Rows extends Filled {
  readonly spacingMm: number;
  readonly isSpacingGrown: boolean;
}

/** Fills a ground, in the frame of its rows. Rows are taken out, and the rest spread, until the budget is kept; one row is always left. */
function fillRows(ground: Ground, along: Along, spacingMm: number, cutter: Cutter, budget: Budget): Rows {
  const heights = heightsFor(ground, cutter.boardWidthMm);
  const roomMm = heights.toMm - heights.fromMm;
  const asked = roomMm < -1e-6 ? 0 : Math.floor((Math.max(0, roomMm) + 1e-6) / spacingMm) + 1;
  const wholeMm = roomMm + cutter.boardWidthMm;
  let rows: Rows = { fitted: [], shortPieces: 0, spacingMm, isSpacingGrown: false };
  for (let count = asked; count > 0; count--) {
    // Rows that are spread stand in the middle of equal bands, as far as the room between the first and the last allows.
    const spreadMm = count > 1 ? Math.min(wholeMm / count, roomMm / (count - 1)) : wholeMm;
    const isSpacingGrown = count < asked;
    const nowMm = isSpacingGrown ? Math.max(spacingMm, spreadMm) : spacingMm;
    const parts = rowHeights(heights, count, nowMm).flatMap((yMm, row) =>
      freeStretches(ground, yMm, cutter.boardWidthMm).map((stretch) =>
        cutInto(along, yMm, stretch, cutter, row),
      ),
    );
    rows = { ...joined(parts), spacingMm: nowMm, isSpacingGrown };
    if (fits(rows, budget)) break;
  }
  return rows;
}

/** A closed outline with its inside on the right of every edge, y down. */
function clockwise(outline: readonly PointMm[]): readonly PointMm[] {
  const twiceArea = edgesOf(outline).reduce((sum, [a, b]) => sum + a.xMm * b.yMm - b.xMm * a.yMm, 0);
  return twiceArea < 0 ? outline.toReversed() : outline;
}

/** One run along each straight side, the earlier sides having the corners. */
function fillEdge(
  ground: Ground,
  outline: readonly PointMm[],
  marginMm: number,
  awayMm: number,
  cutter: Cutter,
): Filled {
  const laid: Fitted[] = [];
  let shortPieces = 0;
  for (const [side, [a, b]] of edgesOf(clockwise(outline)).entries()) {
    const lengthMm = distanceMm(a, b);
    if (lengthMm === 0) continue;
    const along = { xMm: (b.xMm - a.xMm) / lengthMm, yMm: (b.yMm - a.yMm) / lengthMm };
    const boards = laid.map(({ piece }) => ({ points: pieceOutline(piece, cutter.boardWidthMm), awayMm }));
    const turned = groundInFrame({ ...ground, obstacles: [...ground.obstacles, ...boards] }, along);
    const start = intoFrame(along, a);
    const yMm = start.yMm + marginMm + cutter.boardWidthMm / 2;
    const parts = freeStretches(turned, yMm, cutter.boardWidthMm)
      .map(({ fromMm, toMm }) => ({
        fromMm: Math.max(fromMm, start.xMm),
        toMm: Math.min(toMm, start.xMm + lengthMm),
      }))
      .filter(({ fromMm, toMm }) => toMm > fromMm)
      .map((stretch) => cutInto(along, yMm, stretch, cutter, side));
    const filled = joined(parts);
    laid.push(...filled.fitted);
    // A side that is no longer than the shortest piece is a corner, and misses none.
    if (lengthMm >= cutter.leastLeds * cutter.pitchMm) shortPieces += filled.shortPieces;
  }
  return { fitted: laid, shortPieces };
}

/** Takes LEDs off the longest pieces, and pieces off that get too short, until the budget is kept. */
function withinBudget(all: readonly Fitted[], cutter: Cutter, budget: Budget): readonly Fitted[] {
  const fitted = [...all].sort((a, b) => b.piece.ledCount - a.piece.ledCount).slice(0, budget.runs);
  let over = ledsOf(fitted) - budget.leds;
  while (over > 0 && fitted.length > 0) {
    const longest = fitted.reduce(
      (best, one, i) => (one.piece.ledCount > fitted[best]!.piece.ledCount ? i : best),
      0,
    );
    const { piece, stretch, row } = fitted[longest]!;
    const ledCount = piece.ledCount - cutter.cutEveryLeds;
    over -= cutter.cutEveryLeds;
    if (ledCount >= Math.max(1, cutter.leastLeds))
      fitted[longest] = centred(piece.along, piece.yMm, stretch, ledCount, piece.pitchMm, row);
    else {
      over -= Math.max(0, ledCount);
      fitted.splice(longest, 1);
    }
  }
  return all.flatMap((one) => fitted.filter((kept) => kept.row === one.row && kept.stretch === one.stretch));
}

/** Row after row, every second one backwards; along an edge, side after side. */
function plainOrder(fitted: readonly Fitted[], isEdge: boolean): ChainStep[] {
  const rows = [...new Set(fitted.map(({ row }) => row))];
  return rows.flatMap((row, r) => {
    const reversed = !isEdge && r % 2 === 1;
    const inRow = fitted.flatMap((one, run) => (one.row === row ? [{ run, reversed }] : []));
    return reversed ? inRow.reverse() : inRow;
  });
}

/** Proposes runs for an outline. The project stays as it is. Throws if the strip is unknown. */
export function autoLayout(project: Project, task: AutoLayoutTask): AutoLayout {
  const strip = stripById(project, task.strip);
  const cutter: Cutter = {
    pitchMm: pitchMm(strip),
    boardWidthMm: strip.boardWidthMm,
    cutEveryLeds: strip.cutEveryLeds ?? 1,
    leastLeds: task.leastLeds ?? shortestPieceLeds,
  };
  const marginMm = task.marginMm ?? 0;
  const outline = task.outline ?? openingOutline(project.panel);
  const kept = task.replace ? [] : project.runs;
  const budget: Budget = {
    leds: Math.max(
      0,
      Math.min(task.mostLeds ?? limits.leds, limits.leds - kept.reduce((sum, run) => sum + run.ledCount, 0)),
    ),
    runs: limits.runs - kept.length,
  };
  const ground = groundOf(
    project,
    { points: outline, marginMm },
    task.clearanceMm ?? keepOutClearanceMm,
    task.replace ?? false,
  );
  const isEdge = task.pattern === 'edge';
  const along = task.pattern === 'columns' ? { xMm: 0, yMm: -1 } : { xMm: 1, yMm: 0 };
  const askedMm = Math.max(
    task.spacingMm ?? evenSpacingMm(project.panel, strip.boardWidthMm),
    strip.boardWidthMm,
  );
  const filled: Filled & Partial<Rows> = isEdge
    ? fillEdge(ground, outline, marginMm, boardsApartMm(project.panel), cutter)
    : fillRows(groundInFrame(ground, along), along, askedMm, cutter, budget);
  const fitted = fits(filled, budget) ? filled.fitted : withinBudget(filled.fitted, cutter, budget);
  const ledCount = ledsOf(fitted);
  return {
    runs: proposedRuns(
      project,
      task,
      fitted.map(({ piece }) => piece),
      plainOrder(fitted, isEdge),
      task.strip,
      { rows: 'row', columns: 'column', edge: 'edge' }[task.pattern],
    ),
    ledCount,
    spacingMm: filled.spacingMm,
    isSpacingGrown: filled.isSpacingGrown ?? false,
    leftOut: { shortPieces: filled.shortPieces, ledsOverBudget: ledsOf(filled.fitted) - ledCount },
  };
}

/** The proposal, and the one edit that lays it. */
export function autoLayoutEdit(
  project: Project,
  task: AutoLayoutTask,
): { readonly edit: Edit; readonly layout: AutoLayout } {
  const layout = autoLayout(project, task);
  return { layout, edit: layProposed(layout.runs, task) };
}
