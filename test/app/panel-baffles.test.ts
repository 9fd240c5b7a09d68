// Walls that the Panel stage offers, from the sizes by hand.
import { describe, expect, test } from 'vitest';
import { freshWall, wallsBetweenRows } from '../../src/app/stages/panel/baffle-facts.ts';

const mm = (xMm: number, yMm: number) => ({ xMm, yMm });
const panel = { widthMm: 400, heightMm: 130 };

describe('walls that are offered', () => {
  test('a fresh one stands across the middle of what is seen', () => {
    expect(freshWall(panel)).toEqual({ from: mm(0, 65), to: mm(400, 65) });
    const opening = { xMm: 10, yMm: 20, widthMm: 300, heightMm: 80 };
    expect(freshWall({ ...panel, opening })).toEqual({ from: mm(10, 60), to: mm(310, 60) });
  });

  test('between every two rows of the grid there is one, half way, and none beside what is seen', () => {
    // Rows at 15, 45, 75, 105: between them 30, 60, 90; beyond the last one 120, before the first one 0, which lies on the edge.
    const grid = { origin: mm(5, 15), rowMm: 30 };
    expect(wallsBetweenRows({ ...panel, grid }).map(({ from }) => from.yMm)).toEqual([30, 60, 90, 120]);
    const opening = { xMm: 10, yMm: 20, widthMm: 300, heightMm: 80 };
    expect(wallsBetweenRows({ ...panel, opening, grid })).toEqual([
      { from: mm(10, 30), to: mm(310, 30) },
      { from: mm(10, 60), to: mm(310, 60) },
      { from: mm(10, 90), to: mm(310, 90) },
    ]);
    expect(wallsBetweenRows(panel)).toEqual([]);
  });
});
