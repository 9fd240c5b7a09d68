// Drawing on the cells of a painted frame: lines, brushes, filling, mirrored strokes, and the whole frame shifted, turned, mirrored or put on another
// grid. A frame's cells are its text, a digit a cell, row by row from the top left. Pure. Not here: edits of the document (edits-painted.ts).
import type { PaintedEffect } from './schema-painted.ts';

export interface Cell {
  readonly column: number;
  readonly row: number;
}

export type GridSize = Pick<PaintedEffect, 'columns' | 'rows'>;

export interface Mirroring {
  readonly leftRight: boolean;
  readonly upDown: boolean;
}

export const digitOf = (colour: number): string => colour.toString(16);

/** A frame of one colour. */
export const cellsOfOne = ({ columns, rows }: GridSize, colour = 0): string =>
  digitOf(colour).repeat(columns * rows);

const isInside = ({ columns, rows }: GridSize, { column, row }: Cell): boolean =>
  column >= 0 && column < columns && row >= 0 && row < rows;

/** The number of the colour that a cell has; undefined outside the grid. */
export const colourOfCell = (cells: string, grid: GridSize, cell: Cell): number | undefined =>
  isInside(grid, cell) ? Number.parseInt(cells.charAt(cell.row * grid.columns + cell.column), 16) : undefined;

/** The cells from one to another, both with them, each touching the next with a side or a corner (Bresenham's line). */
export function lineOfCells(from: Cell, to: Cell): Cell[] {
  const across = Math.abs(to.column - from.column);
  const down = Math.abs(to.row - from.row);
  const stepColumn = to.column > from.column ? 1 : -1;
  const stepRow = to.row > from.row ? 1 : -1;
  const line: Cell[] = [];
  let { column, row } = from;
  let error = across - down;
  for (let left = Math.max(across, down); ; left--) {
    line.push({ column, row });
    if (left === 0) return line;
    const twice = 2 * error;
    if (twice > -down) {
      error -= down;
      column += stepColumn;
    }
    if (twice < across) {
      error += across;
      row += stepRow;
    }
  }
}

/** A square of cells round one; an even side reaches a cell further to the right and down. */
export function cellsUnderBrush({ column, row }: Cell, side: number): Cell[] {
  const before = Math.floor((side - 1) / 2);
  return Array.from({ length: side * side }, (_, i) => ({
    column: column - before + (i % side),
    row: row - before + Math.floor(i / side),
  }));
}

/** The cells of one colour that hang together with this one by their sides. */
export function floodOfCells(cells: string, grid: GridSize, from: Cell): Cell[] {
  const colour = colourOfCell(cells, grid, from);
  if (colour === undefined) return [];
  const seen = new Set<number>();
  const open = [from];
  const flood: Cell[] = [];
  for (let cell = open.pop(); cell; cell = open.pop()) {
    const { column, row } = cell;
    const at = row * grid.columns + column;
    if (seen.has(at) || colourOfCell(cells, grid, cell) !== colour) continue;
    seen.add(at);
    flood.push(cell);
    open.push(
      { column: column - 1, row },
      { column: column + 1, row },
      { column, row: row - 1 },
      { column, row: row + 1 },
    );
  }
  return flood;
}

/** The cells and their mirror images about the grid's middle. */
export function withMirrorImages(
  cells: readonly Cell[],
  { columns, rows }: GridSize,
  { leftRight, upDown }: Mirroring,
): readonly Cell[] {
  const across = leftRight
    ? [...cells, ...cells.map(({ column, row }) => ({ column: columns - 1 - column, row }))]
    : cells;
  return upDown ? [...across, ...across.map(({ column, row }) => ({ column, row: rows - 1 - row }))] : across;
}

/** The frame with these cells in one colour; cells outside the grid are left out. */
export function paintedCells(
  cells: string,
  grid: GridSize,
  painted: readonly Cell[],
  colour: number,
): string {
  const digit = digitOf(colour);
  const digits = [...cells];
  for (const cell of painted) if (isInside(grid, cell)) digits[cell.row * grid.columns + cell.column] = digit;
  return digits.join('');
}

/** A frame of this size whose cells are taken from another by place. */
function taken({ columns, rows }: GridSize, from: (cell: Cell) => string): string {
  let cells = '';
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) cells += from({ column, row });
  return cells;
}

const wrapped = (value: number, count: number): number => ((value % count) + count) % count;

/** What leaves the grid on one side comes back on the other. */
export const shiftedCells = (cells: string, grid: GridSize, byColumns: number, byRows: number): string =>
  taken(grid, ({ column, row }) =>
    cells.charAt(wrapped(row - byRows, grid.rows) * grid.columns + wrapped(column - byColumns, grid.columns)),
  );

export const mirroredCells = (cells: string, grid: GridSize, way: 'left-right' | 'up-down'): string =>
  taken(grid, ({ column, row }) =>
    way === 'left-right'
      ? cells.charAt(row * grid.columns + grid.columns - 1 - column)
      : cells.charAt((grid.rows - 1 - row) * grid.columns + column),
  );

/** Which of `from` equal parts the middle of one of `to` equal parts falls in. */
const partUnder = (part: number, to: number, from: number): number =>
  Math.min(from - 1, Math.floor(((part + 0.5) * from) / to));

/** A quarter turn clockwise. A grid that isn't square keeps its shape, and the picture is stretched into it. */
export const turnedCells = (cells: string, grid: GridSize): string =>
  taken(grid, ({ column, row }) => {
    const fromColumn = partUnder(row, grid.rows, grid.columns);
    const fromRow = grid.rows - 1 - partUnder(column, grid.columns, grid.rows);
    return cells.charAt(fromRow * grid.columns + fromColumn);
  });

/** The same picture on another grid: it stays where it lies on the panel, and each cell takes the colour that its middle lies on. */
export const regriddedCells = (cells: string, from: GridSize, to: GridSize): string =>
  taken(to, ({ column, row }) =>
    cells.charAt(
      partUnder(row, to.rows, from.rows) * from.columns + partUnder(column, to.columns, from.columns),
    ),
  );

/** Where frames stand after `moveFrames`, in their order. */
export function movedFrames(count: number, frames: readonly number[], by: number): number[] {
  const chosen = [...new Set(frames)].sort((a, b) => a - b);
  if (chosen.length === 0 || !Number.isFinite(by)) return chosen;
  const within = Math.min(count - 1 - chosen.at(-1)!, Math.max(-chosen[0]!, Math.round(by)));
  return chosen.map((frame) => frame + within);
}
