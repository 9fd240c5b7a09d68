// Drags of what lies on the panel: keep-outs, guides, measured distances; and the measuring tool, which leaves the document alone.
// A whole drag is one step of the history. No React, no elements.
import { distanceMm, type PointMm } from '../../panel/index.ts';
import {
  addGuide,
  addKeepOut,
  addMeasure,
  changeKeepOut,
  changeMeasure,
  freeId,
  type KeepOut,
  limits,
  moveGuide,
  removeGuide,
} from '../../project/index.ts';
import { type Drag, type DragStart, remaking, snapped, wayOf } from './drags.ts';

/** A circle from the middle outwards; a rectangle while Shift is held. */
export function drawKeepOut({ workbench, from, gesture }: DragStart): Drag {
  const id = freeId(
    (workbench.project.panel.keepOuts ?? []).map((one) => one.id),
    'keep-out',
  );
  const remake = remaking(workbench, 'Draw keep-out', gesture);
  return ({ to, isFree, isStraight }) => {
    const shape: KeepOut['shape'] = isStraight
      ? {
          kind: 'rectangle',
          xMm: snapped(Math.min(from.xMm, to.xMm), isFree),
          yMm: snapped(Math.min(from.yMm, to.yMm), isFree),
          widthMm: snapped(Math.abs(to.xMm - from.xMm), isFree),
          heightMm: snapped(Math.abs(to.yMm - from.yMm), isFree),
        }
      : {
          kind: 'circle',
          centre: { xMm: snapped(from.xMm, isFree), yMm: snapped(from.yMm, isFree) },
          diameterMm: snapped(2 * distanceMm(from, to), isFree),
        };
    const isFlat =
      shape.kind === 'circle' ? shape.diameterMm <= 0 : shape.widthMm <= 0 || shape.heightMm <= 0;
    if (isFlat) return;
    remake(addKeepOut({ id, purpose: 'other', shape }));
    workbench.select({ kind: 'keep-out', id });
  };
}

export function dragKeepOut({ workbench, from, gesture }: DragStart, { id, shape }: KeepOut): Drag {
  return (move) => {
    const { dx, dy } = wayOf(from, move);
    const at = (mm: number, by: number): number => (by === 0 ? mm : snapped(mm + by, move.isFree));
    const moved: KeepOut['shape'] =
      shape.kind === 'circle'
        ? { ...shape, centre: { xMm: at(shape.centre.xMm, dx), yMm: at(shape.centre.yMm, dy) } }
        : { ...shape, xMm: at(shape.xMm, dx), yMm: at(shape.yMm, dy) };
    workbench.edit('Move keep-out', changeKeepOut(id, { shape: moved }), gesture);
  };
}

type Axis = 'x' | 'y';
const alongAxis = (axis: Axis, { xMm, yMm }: PointMm): number => (axis === 'x' ? xMm : yMm);

/** Pulls a new guide out of a ruler. */
export function drawGuide({ workbench, gesture }: DragStart, axis: Axis): Drag {
  const remake = remaking(workbench, 'Add guide', gesture);
  const index = workbench.project.panel.guides?.length ?? 0;
  return ({ to, isFree }) => {
    if (index >= limits.guides) return;
    remake(addGuide(axis, snapped(alongAxis(axis, to), isFree)));
    workbench.select({ kind: 'guide', index });
  };
}

/** Moves a guide; one that is pulled off the panel goes. */
export function dragGuide({ workbench, gesture }: DragStart, index: number): Drag {
  const { panel } = workbench.project;
  const { axis } = panel.guides![index]!;
  const lengthMm = axis === 'x' ? panel.widthMm : panel.heightMm;
  const remake = remaking(workbench, 'Move guide', gesture);
  return ({ to, isFree }) => {
    const atMm = snapped(alongAxis(axis, to), isFree);
    const isOff = atMm < 0 || atMm > lengthMm;
    remake(isOff ? removeGuide(index) : moveGuide(index, atMm));
    if (!isOff) workbench.select({ kind: 'guide', index });
  };
}

/** Tells a distance; nothing of it is kept. */
export function measure({ workbench, from }: DragStart): Drag {
  return (move) => {
    const { dx, dy } = wayOf(from, move);
    workbench.set({ measured: { from, to: { xMm: from.xMm + dx, yMm: from.yMm + dy } } });
  };
}

/** Draws a distance that was measured on the real artwork; what was measured is typed beside it afterwards. */
export function drawMeasure({ workbench, from, gesture }: DragStart): Drag {
  const index = workbench.project.panel.measures?.length ?? 0;
  const remake = remaking(workbench, 'Draw a measured distance', gesture);
  return ({ to }) => {
    const drawnMm = distanceMm(from, to);
    if (index >= limits.measures || drawnMm < 1) return;
    const at = ({ xMm, yMm }: PointMm): PointMm => ({ xMm: snapped(xMm, true), yMm: snapped(yMm, true) });
    remake(addMeasure({ from: at(from), to: at(to), measuredMm: Math.round(drawnMm * 10) / 10 }));
    workbench.select({ kind: 'measure', index });
  };
}

/** Moves one end of a measured distance. */
export function dragMeasureEnd({ workbench, gesture }: DragStart, index: number, end: 'from' | 'to'): Drag {
  return ({ to }) =>
    workbench.edit(
      'Move the end of a measured distance',
      changeMeasure(index, { [end]: { xMm: snapped(to.xMm, true), yMm: snapped(to.yMm, true) } }),
      gesture,
    );
}
