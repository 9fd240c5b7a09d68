// Painting cells on the canvas: what a press and a drag do with the tool at hand, and what keys do at the cell cursor. A stroke is one step of the
// history, and edits the cells of one frame alone. No React, no elements. Not here: what is drawn over the glass (paint-marks.tsx).
import { cellAtPlace, cellBoxOf, darkestOf, mappedLeds } from '../../lampshow/index.ts';
import { areaLeds, type BoundsMm, type Layout, type PointMm } from '../../panel/index.ts';
import {
  type Area,
  addPaletteColour,
  type Cell,
  cellsUnderBrush,
  colourOfCell,
  floodOfCells,
  lineOfCells,
  paintedCells,
  paintedLimits,
  setCells,
  withMirrorImages,
} from '../../project/index.ts';
import {
  type PaintedPlace,
  type Painting,
  type PaintTool,
  paintedPlaceOf,
  playerFrameOf,
} from '../workbench/painting.ts';
import type { Workbench } from '../workbench/workbench.ts';
import type { DragStart } from './drags.ts';
import type { Begun, Press } from './presses.ts';

export const ledsOfArea = (layout: Layout, area: Area) => mappedLeds(areaLeds(layout, area));

/** The box that the chosen clip's cells fill; undefined where its area has no LEDs. */
function boxOf({ workbench, layout }: DragStart, { clip, effect }: PaintedPlace): BoundsMm | undefined {
  const area = workbench.project.areas.find(({ id }) => id === clip.area);
  return area && cellBoxOf(ledsOfArea(layout, area), effect);
}

export const changePainting = (workbench: Workbench, change: Partial<Painting>): void =>
  workbench.set({ painting: { ...workbench.state.painting, ...change } });

/** Stands still and shows the frame that is painted, where the clip shows it at all. */
export function showPaintedFrame(workbench: Workbench): void {
  const { state, playback } = workbench;
  const painted = paintedPlaceOf(state);
  if (!painted) return;
  const { clip, show, frame } = painted;
  playback.setPlaying(false);
  const number = playerFrameOf(clip, frame, show.lengthMs, state.settled.frameMs);
  if (number !== undefined) playback.scrubTo(number);
}

/** Chooses frames, and shows the one that is painted. */
export function choosePaintedFrames(workbench: Workbench, frame: number, frames = [frame]): void {
  changePainting(workbench, { frame, frames });
  showPaintedFrame(workbench);
}

const labels: Readonly<Partial<Record<PaintTool, string>>> = {
  line: 'Paint line',
  fill: 'Fill cells',
  erase: 'Erase cells',
};

/** Paints these cells and their mirror images over a frame as it was, in one colour; gives the frame as it is then. */
function paint(
  workbench: Workbench,
  { place, effect, frame }: PaintedPlace,
  before: string,
  painted: readonly Cell[],
  colour: number,
  gesture?: string,
): string {
  const { mirroring, tool } = workbench.state.painting;
  const cells = paintedCells(before, effect, withMirrorImages(painted, effect, mirroring), colour);
  workbench.edit(labels[tool] ?? 'Paint cells', setCells(place, [{ frame, cells }]), gesture);
  return cells;
}

const colourToPaint = (tool: PaintTool, { effect, colour }: PaintedPlace): number =>
  tool === 'erase' ? darkestOf(effect.palette) : colour;

const broad = (line: readonly Cell[], side: number): readonly Cell[] =>
  side === 1 ? line : line.flatMap((cell) => cellsUnderBrush(cell, side));

function pickCell(workbench: Workbench, { effect, frame }: PaintedPlace, cell: Cell): void {
  const colour = colourOfCell(effect.frames[frame]!.cells, effect, cell);
  if (colour !== undefined) changePainting(workbench, { colour });
}

function fill(workbench: Workbench, painted: PaintedPlace, cell: Cell): void {
  const { effect, frame, colour } = painted;
  const { cells } = effect.frames[frame]!;
  const seeds = withMirrorImages([cell], effect, workbench.state.painting.mirroring);
  paint(
    workbench,
    painted,
    cells,
    seeds.flatMap((seed) => floodOfCells(cells, effect, seed)),
    colour,
  );
}

const hexOf = (levels: readonly number[]): string =>
  `#${levels.map((level) => Math.round(level).toString(16).padStart(2, '0')).join('')}`;

/** Takes the artwork's colour under the pointer into the palette, or chooses it where it is there already. */
function pickArtwork({ workbench, from, colourAt: reader }: Press, { place, effect }: PaintedPlace): void {
  const tell = (title: string, line: string) => workbench.set({ message: { title, lines: [line] } });
  const colourAt = reader();
  if (!colourAt) {
    tell('No artwork to take colours from', 'Load one on the stage Panel, then pick again.');
    return;
  }
  const colour = hexOf(colourAt(from));
  const known = effect.palette.indexOf(colour);
  if (known < 0 && effect.palette.length >= paintedLimits.colours) {
    tell('The palette is full', `It holds ${paintedLimits.colours} colours. Remove one, then pick again.`);
    return;
  }
  if (known < 0) workbench.edit('Add colour of the artwork', addPaletteColour(place, colour));
  changePainting(workbench, { colour: known < 0 ? effect.palette.length : known, tool: 'brush' });
}

/** Along one axis only where the line is to be straight. */
const endOfLine = (from: Cell, to: Cell, isStraight: boolean): Cell => {
  if (!isStraight) return to;
  const isAcross = Math.abs(to.column - from.column) >= Math.abs(to.row - from.row);
  return isAcross ? { column: to.column, row: from.row } : { column: from.column, row: to.row };
};

/** A press outside the cells moves the view; so does every other where no painted clip is chosen. */
export function paintPress(press: Press): Begun {
  const { workbench, gesture } = press;
  const painted = paintedPlaceOf(workbench.state);
  const box = painted && boxOf(press, painted);
  if (!painted || !box) return 'pan';
  const { painting } = workbench.state;
  const tool = press.isFree ? 'pick' : painting.tool;
  if (tool === 'artwork') {
    pickArtwork(press, painted);
    return undefined;
  }
  const { effect, frame } = painted;
  const cellAt = (at: PointMm): Cell => cellAtPlace(box, effect, at);
  const first = cellAt(press.from);
  const before = effect.frames[frame]!.cells;
  if (colourOfCell(before, effect, first) === undefined) return 'pan';
  changePainting(workbench, { cursor: first, lineFrom: undefined });
  if (tool === 'pick') {
    pickCell(workbench, painted, first);
    return undefined;
  }
  showPaintedFrame(workbench);
  if (tool === 'fill') {
    fill(workbench, painted, first);
    return undefined;
  }
  // The press paints already, and show data may wait until the hand rests; letting go ends it, moved or not.
  workbench.beginDrag();
  const colour = colourToPaint(tool, painted);
  const stroke = (cells: string, line: readonly Cell[]): string =>
    paint(workbench, painted, cells, broad(line, painting.brushCells), colour, gesture);
  let cells = stroke(before, [first]);
  if (tool === 'line')
    return ({ to, isStraight }) => {
      stroke(before, lineOfCells(first, endOfLine(first, cellAt(to), isStraight)));
    };
  let last = first;
  return ({ to }) => {
    const next = cellAt(to);
    if (next.column === last.column && next.row === last.row) return;
    // A fast hand skips cells: those between are painted too.
    cells = stroke(cells, lineOfCells(last, next).slice(1));
    last = next;
  };
}

/** What the tool at hand does at the cell cursor; strokes of held keys are one step with one `gesture`. */
export function paintAtCursor(workbench: Workbench, gesture?: string): void {
  const painted = paintedPlaceOf(workbench.state);
  if (!painted) return;
  const { effect, frame, cursor } = painted;
  const { tool, brushCells, lineFrom } = workbench.state.painting;
  if (tool === 'pick') {
    pickCell(workbench, painted, cursor);
    return;
  }
  showPaintedFrame(workbench);
  if (tool === 'fill') {
    fill(workbench, painted, cursor);
    return;
  }
  if (tool === 'line' && !lineFrom) {
    changePainting(workbench, { lineFrom: cursor });
    return;
  }
  const line = tool === 'line' && lineFrom ? lineOfCells(lineFrom, cursor) : [cursor];
  const colour = colourToPaint(tool, painted);
  paint(workbench, painted, effect.frames[frame]!.cells, broad(line, brushCells), colour, gesture);
  if (tool === 'line') changePainting(workbench, { lineFrom: undefined });
}

/** Paints the cell under the cursor in the darkest colour, whatever the tool. */
export function eraseAtCursor(workbench: Workbench): void {
  const painted = paintedPlaceOf(workbench.state);
  if (!painted) return;
  const { effect, frame, cursor } = painted;
  showPaintedFrame(workbench);
  paint(workbench, painted, effect.frames[frame]!.cells, [cursor], darkestOf(effect.palette));
}

/** Moves the cell cursor; it stays on the grid. */
export function moveCursor(workbench: Workbench, byColumns: number, byRows: number): void {
  const painted = paintedPlaceOf(workbench.state);
  if (!painted) return;
  const { effect, cursor } = painted;
  const within = (value: number, count: number) => Math.min(count - 1, Math.max(0, value));
  changePainting(workbench, {
    cursor: {
      column: within(cursor.column + byColumns, effect.columns),
      row: within(cursor.row + byRows, effect.rows),
    },
  });
}
