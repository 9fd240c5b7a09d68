// Drawing on cells: expected pictures are drawn by hand in the text, a letter or digit a cell, from what each tool is said to do.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Cell,
  cellsUnderBrush,
  colourOfCell,
  floodOfCells,
  lineOfCells,
  mirroredCells,
  movedFrames,
  paintedCells,
  regriddedCells,
  shiftedCells,
  turnedCells,
  withMirrorImages,
} from '../../src/project/index.ts';

/** Rows of digits as a frame's text. */
const cellsOf = (...rows: readonly string[]): string => rows.join('');
const gridOf = (...rows: readonly string[]) => ({ columns: rows[0]!.length, rows: rows.length });
const at = (column: number, row: number): Cell => ({ column, row });
const painted = (grid: { columns: number; rows: number }, cells: readonly Cell[]): string[] => {
  const text = paintedCells('0'.repeat(grid.columns * grid.rows), grid, cells, 1);
  return Array.from({ length: grid.rows }, (_, row) =>
    text.slice(row * grid.columns, (row + 1) * grid.columns),
  );
};

describe('[PAINT1] a line', () => {
  const grid = { columns: 7, rows: 4 };

  test('runs as drawn by hand: level, upright, in the diagonal, and shallow', () => {
    expect(painted(grid, lineOfCells(at(1, 2), at(5, 2)))[2]).toBe('0111110');
    expect(painted(grid, lineOfCells(at(3, 0), at(3, 3)))).toEqual([
      '0001000',
      '0001000',
      '0001000',
      '0001000',
    ]);
    expect(painted(grid, lineOfCells(at(0, 0), at(3, 3)))).toEqual([
      '1000000',
      '0100000',
      '0010000',
      '0001000',
    ]);
    // Falls 2 rows over 6 columns: the true line passes y = 1/3, 2/3, 1, 4/3, 5/3 at columns 1 to 5; the nearest rows are 0, 1, 1, 1, 2.
    expect(painted(grid, lineOfCells(at(0, 0), at(6, 2)))).toEqual([
      '1100000',
      '0011100',
      '0000011',
      '0000000',
    ]);
  });

  test('has both ends, a cell a step of its longer way, never a gap, and lies within half a cell of the true line', () => {
    const cell = fc.record({ column: fc.integer({ min: 0, max: 63 }), row: fc.integer({ min: 0, max: 63 }) });
    fc.assert(
      fc.property(cell, cell, (from, to) => {
        const line = lineOfCells(from, to);
        const [dx, dy] = [to.column - from.column, to.row - from.row];
        const long = Math.max(Math.abs(dx), Math.abs(dy));
        expect(line).toHaveLength(long + 1);
        expect([line[0], line.at(-1)]).toEqual([from, to]);
        for (const [i, { column, row }] of line.entries()) {
          if (i > 0) {
            expect(Math.abs(column - line[i - 1]!.column)).toBeLessThanOrEqual(1);
            expect(Math.abs(row - line[i - 1]!.row)).toBeLessThanOrEqual(1);
          }
          // Distance along the shorter axis.
          const off = Math.abs((column - from.column) * dy - (row - from.row) * dx) / Math.max(1, long);
          expect(off).toBeLessThanOrEqual(0.5 + 1e-9);
        }
      }),
    );
  });
});

describe('[PAINT2] a brush', () => {
  test('covers a square round its cell; an even side reaches further right and down; outside the grid nothing is painted', () => {
    const grid = { columns: 5, rows: 4 };
    expect(painted(grid, cellsUnderBrush(at(2, 1), 1))).toEqual(['00000', '00100', '00000', '00000']);
    expect(painted(grid, cellsUnderBrush(at(2, 1), 2))).toEqual(['00000', '00110', '00110', '00000']);
    expect(painted(grid, cellsUnderBrush(at(2, 1), 3))).toEqual(['01110', '01110', '01110', '00000']);
    expect(painted(grid, cellsUnderBrush(at(0, 0), 3))).toEqual(['11000', '11000', '00000', '00000']);
    expect(painted(grid, cellsUnderBrush(at(4, 3), 3))).toEqual(['00000', '00000', '00011', '00011']);
  });
});

describe('[PAINT3] filling', () => {
  const rows = ['00100', '00100', '11100', '00011'];
  const cells = cellsOf(...rows);
  const grid = gridOf(...rows);

  test('takes the cells of one colour that hang together by their sides, and no others', () => {
    const filled = (from: Cell) => paintedCells(cells, grid, floodOfCells(cells, grid, from), 7);
    expect(filled(at(0, 0))).toBe(cellsOf('77100', '77100', '11100', '00011'));
    expect(filled(at(4, 0))).toBe(cellsOf('00177', '00177', '11177', '00011'));
    // A corner alone doesn't join: the lower right pair touches the rest of its colour nowhere.
    expect(filled(at(4, 3))).toBe(cellsOf('00100', '00100', '11100', '00077'));
    expect(filled(at(2, 1))).toBe(cellsOf('00700', '00700', '77700', '00011'));
  });

  test('outside the grid takes nothing; of one colour takes all of the largest grid', () => {
    expect(floodOfCells(cells, grid, at(5, 0))).toEqual([]);
    expect(floodOfCells('0'.repeat(4096), { columns: 64, rows: 64 }, at(9, 50))).toHaveLength(4096);
  });
});

describe('[PAINT4] mirrored strokes', () => {
  const grid = { columns: 5, rows: 4 };
  const stroke = [at(0, 0), at(1, 1)];

  test('appear on the other side as well, about the middle of the grid', () => {
    const mirrored = (leftRight: boolean, upDown: boolean) =>
      painted(grid, withMirrorImages(stroke, grid, { leftRight, upDown }));
    expect(mirrored(false, false)).toEqual(['10000', '01000', '00000', '00000']);
    expect(mirrored(true, false)).toEqual(['10001', '01010', '00000', '00000']);
    expect(mirrored(false, true)).toEqual(['10000', '01000', '01000', '10000']);
    expect(mirrored(true, true)).toEqual(['10001', '01010', '01010', '10001']);
  });
});

describe('[PAINT5] whole frames', () => {
  const rows = ['1200', '3000', '0004'];
  const cells = cellsOf(...rows);
  const grid = gridOf(...rows);

  test('are shifted, and what leaves on one side comes back on the other', () => {
    expect(shiftedCells(cells, grid, 1, 0)).toBe(cellsOf('0120', '0300', '4000'));
    expect(shiftedCells(cells, grid, -1, 0)).toBe(cellsOf('2001', '0003', '0040'));
    expect(shiftedCells(cells, grid, 0, 1)).toBe(cellsOf('0004', '1200', '3000'));
    expect(shiftedCells(cells, grid, 0, -4)).toBe(cellsOf('3000', '0004', '1200'));
  });

  test('are mirrored', () => {
    expect(mirroredCells(cells, grid, 'left-right')).toBe(cellsOf('0021', '0003', '4000'));
    expect(mirroredCells(cells, grid, 'up-down')).toBe(cellsOf('0004', '3000', '1200'));
  });

  test('are turned a quarter clockwise: the upper left corner goes to the upper right; four turns of a square are none', () => {
    const square = cellsOf('120', '300', '004');
    const three = { columns: 3, rows: 3 };
    expect(turnedCells(square, three)).toBe(cellsOf('031', '002', '400'));
    const turn = (text: string) => turnedCells(text, three);
    expect(turn(turn(turn(turn(square))))).toBe(square);
    // One row of two: the left one comes to lie above the right one, and each is stretched over the row; the middle of the row lies on the lower.
    expect(turnedCells('12', { columns: 2, rows: 1 })).toBe('22');
  });

  test('go to another grid with each cell in the colour that its middle lies on', () => {
    expect(regriddedCells(cells, grid, { columns: 8, rows: 3 })).toBe(
      cellsOf('11220000', '33000000', '00000044'),
    );
    expect(regriddedCells('123456', { columns: 6, rows: 1 }, { columns: 3, rows: 1 })).toBe('246');
    expect(regriddedCells('123456', { columns: 6, rows: 1 }, { columns: 2, rows: 2 })).toBe(
      cellsOf('25', '25'),
    );
    expect(regriddedCells(cells, grid, grid)).toBe(cells);
  });
});

test('[PAINT6] a cell outside the grid has no colour', () => {
  const grid = { columns: 2, rows: 2 };
  expect(colourOfCell('01af', grid, at(1, 1))).toBe(15);
  for (const outside of [at(-1, 0), at(2, 0), at(0, -1), at(0, 2)])
    expect(colourOfCell('01af', grid, outside)).toBeUndefined();
});

test('[PAINT7] frames that move together stop at the first and the last place', () => {
  expect(movedFrames(6, [1, 3], 1)).toEqual([2, 4]);
  expect(movedFrames(6, [1, 3], 9)).toEqual([3, 5]);
  expect(movedFrames(6, [3, 1], -9)).toEqual([0, 2]);
  expect(movedFrames(6, [2], Number.NaN)).toEqual([2]);
});
