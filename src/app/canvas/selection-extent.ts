// How far the selection reaches along both rulers. Pure.
import { type Layout, outline, type PointMm } from '../../panel/index.ts';
import { chosenRunIds, type Selection } from '../workbench/selection.ts';
import type { Extent } from './rulers.tsx';

export function selectionExtent(
  layout: Layout,
  selection: Selection,
): { readonly x: Extent; readonly y: Extent } | undefined {
  const ids = chosenRunIds(selection);
  const corners = layout.runs.filter(({ run }) => ids.includes(run.id)).flatMap(outline);
  if (corners.length === 0) return undefined;
  const extent = (key: keyof PointMm): Extent => ({
    fromMm: Math.min(...corners.map((corner) => corner[key])),
    toMm: Math.max(...corners.map((corner) => corner[key])),
  });
  return { x: extent('xMm'), y: extent('yMm') };
}
