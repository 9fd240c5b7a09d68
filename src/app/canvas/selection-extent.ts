// How far the selection reaches along both rulers. Pure.
import { type Layout, outline, type PointMm } from '../../panel/index.ts';
import type { Selection } from '../workbench/selection.ts';
import type { Extent } from './rulers.tsx';

export function selectionExtent(
  layout: Layout,
  selection: Selection,
): { readonly x: Extent; readonly y: Extent } | undefined {
  if (selection.kind !== 'run') return undefined;
  const placed = layout.runs.find(({ run }) => run.id === selection.id);
  if (!placed) return undefined;
  const corners = outline(placed);
  const extent = (key: keyof PointMm): Extent => ({
    fromMm: Math.min(...corners.map((corner) => corner[key])),
    toMm: Math.max(...corners.map((corner) => corner[key])),
  });
  return { x: extent('xMm'), y: extent('yMm') };
}
