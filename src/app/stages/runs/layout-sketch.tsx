// A small picture of a layout that is only proposed: panel, opening, keep-outs, runs that stay, runs that come, and the way of the data.
import { memo } from 'react';
import { keepOutOutline, outline, type PointMm } from '../../../panel/index.ts';
import css from './dialog.module.css';
import type { Outlook } from './lay-out-tasks.ts';

const corners = (points: readonly PointMm[]): string =>
  points.map(({ xMm, yMm }) => `${xMm.toFixed(2)},${yMm.toFixed(2)}`).join(' ');

export const LayoutSketch = memo(function LayoutSketch({
  outlook: { project, layout },
  fresh,
}: {
  readonly outlook: Outlook;
  readonly fresh: ReadonlySet<string>;
}) {
  const { widthMm, heightMm, opening, keepOuts = [] } = project.panel;
  const jumpers = layout.lines.flatMap((line) => line.jumpers);
  return (
    <svg
      className={css['sketch']}
      viewBox={`0 0 ${widthMm} ${heightMm}`}
      role="img"
      aria-label="The layout as it would be"
    >
      {opening && (
        <rect
          className={css['opening']}
          x={opening.xMm}
          y={opening.yMm}
          width={opening.widthMm}
          height={opening.heightMm}
        />
      )}
      {keepOuts.map((one) => (
        <polygon key={one.id} className={css['keep-out']} points={corners(keepOutOutline(one))} />
      ))}
      {project.channels?.map(({ id, points }) => (
        <polygon key={id} className={css['channel']} points={corners(points)} />
      ))}
      {layout.runs.map((placed) => (
        <polygon
          key={placed.run.id}
          className={css[fresh.has(placed.run.id) ? 'fresh' : 'old']}
          points={corners(outline(placed))}
        />
      ))}
      {jumpers.map(({ from, to }) => (
        <polyline key={to.run.id} className={css['way']} points={corners([from.doutEnd, to.dinEnd])} />
      ))}
    </svg>
  );
});
