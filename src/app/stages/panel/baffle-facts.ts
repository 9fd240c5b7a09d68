// Walls that the inspector offers to stand up. Pure.
import { gridLines } from '../../../panel/index.ts';
import type { Baffle, Panel } from '../../../project/index.ts';

type Sizes = Pick<Panel, 'widthMm' | 'heightMm' | 'opening' | 'grid'>;

const seen = ({ opening, widthMm, heightMm }: Sizes) => opening ?? { xMm: 0, yMm: 0, widthMm, heightMm };

/** One across the middle of what is seen. */
export function freshWall(panel: Sizes): Baffle {
  const { xMm, yMm, widthMm, heightMm } = seen(panel);
  const middle = Math.round(yMm + heightMm / 2);
  return { from: { xMm, yMm: middle }, to: { xMm: xMm + widthMm, yMm: middle } };
}

/** One in the middle between every two rows of the grid, across what is seen; none without a grid. */
export function wallsBetweenRows(panel: Sizes): Baffle[] {
  const { grid } = panel;
  if (!grid) return [];
  const { xMm, yMm, widthMm, heightMm } = seen(panel);
  return gridLines(grid.origin.yMm + grid.rowMm / 2, grid.rowMm, panel.heightMm)
    .filter((y) => y > yMm && y < yMm + heightMm)
    .map((y) => ({ from: { xMm, yMm: y }, to: { xMm: xMm + widthMm, yMm: y } }));
}
