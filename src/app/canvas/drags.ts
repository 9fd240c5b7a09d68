// What happens between pressing the pointer on the canvas and letting it go: one row for each kind of drag. A row gets the places in
// millimetres and edits the document through the workbench; a whole drag is one step of the history. No React, no elements.
import { distanceMm, type Layout, type PlacedRun, type PointMm } from '../../panel/index.ts';
import {
  addArea,
  addRun,
  type Edit,
  freeId,
  lengthenRun,
  limits,
  moveRun,
  type Run,
  turnRun,
} from '../../project/index.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { alongRun, angleDeg, snapTo } from './geometry.ts';

export interface DragStart {
  readonly workbench: Workbench;
  readonly layout: Layout;
  readonly from: PointMm;
  /** A name for the whole drag, unlike any other. */
  readonly gesture: string;
}

export interface DragMove {
  readonly to: PointMm;
  /** Alt: no snapping. */
  readonly isFree: boolean;
  /** Shift: keep to one axis. */
  readonly isStraight: boolean;
}

export type Drag = (move: DragMove) => void;

const snapMm = 0.5;
const snapDeg = 15;
const freeDigitsMm = 100;

const snapped = (mm: number, isFree: boolean): number =>
  isFree ? Math.round(mm * freeDigitsMm) / freeDigitsMm : snapTo(mm, snapMm);

export function dragRun({ workbench, from, gesture }: DragStart, { run }: PlacedRun): Drag {
  return ({ to, isFree, isStraight }) => {
    let dx = to.xMm - from.xMm;
    let dy = to.yMm - from.yMm;
    if (isStraight && Math.abs(dx) > Math.abs(dy)) dy = 0;
    else if (isStraight) dx = 0;
    const { xMm, yMm } = run.firstLed;
    workbench.edit(
      'Move run',
      moveRun(run.id, snapped(xMm + dx, isFree || dx === 0), snapped(yMm + dy, isFree || dy === 0)),
      gesture,
    );
  };
}

export function dragTurn({ workbench, gesture }: DragStart, { run }: PlacedRun): Drag {
  return ({ to, isFree }) => {
    const degrees = angleDeg(run.firstLed, to);
    const turned = isFree ? Math.round(degrees * 10) / 10 : snapTo(degrees, snapDeg);
    workbench.edit('Turn run', turnRun(run.id, turned % 360), gesture);
  };
}

export function dragLength({ workbench, gesture }: DragStart, placed: PlacedRun): Drag {
  return ({ to }) => {
    const leds = Math.round(alongRun(placed, to).pitches + 0.5);
    const ledCount = Math.min(limits.ledsPerRun, Math.max(1, leds));
    workbench.edit('Change the length of a run', lengthenRun(placed.run.id, ledCount), gesture);
  };
}

/** An edit that first takes back what the same drag made before, so that the latest of its versions stands. */
const remaking = (workbench: Workbench, label: string, gesture: string) => (edit: Edit) => {
  workbench.cancelGesture(gesture);
  workbench.edit(label, edit, gesture);
};

/** Draws a new run: it starts where the pointer was pressed and goes towards where it is, as many LEDs as fit. */
export function drawRun(
  { workbench, layout, from, gesture }: DragStart,
  strip: string,
  pitchMm: number,
): Drag {
  const { project } = workbench;
  const id = freeId(
    project.runs.map((run) => run.id),
    'run',
  );
  const remake = remaking(workbench, 'Draw run', gesture);
  const firstLed = { xMm: snapped(from.xMm, false), yMm: snapped(from.yMm, false) };
  const line = Math.max(0, layout.lines.length - 1);
  return ({ to, isFree }) => {
    const ledCount = Math.floor(distanceMm(firstLed, to) / pitchMm) + 1;
    const degrees = angleDeg(firstLed, to);
    const arrowDeg = (isFree ? Math.round(degrees * 10) / 10 : snapTo(degrees, snapDeg)) % 360;
    const run: Run = { id, firstLed, arrowDeg, ledCount: Math.min(limits.ledsPerRun, ledCount), strip };
    remake(addRun(run, line));
    workbench.select({ kind: 'run', id });
  };
}

/** Draws a rectangle that becomes an area. */
export function drawArea({ workbench, from, gesture }: DragStart): Drag {
  const id = freeId(
    workbench.project.areas.map((area) => area.id),
    'area',
  );
  const remake = remaking(workbench, 'Draw area', gesture);
  return ({ to, isFree }) => {
    const corner = (key: keyof PointMm, pick: (...values: number[]) => number) =>
      snapped(pick(from[key], to[key]), isFree);
    const xMm = corner('xMm', Math.min);
    const yMm = corner('yMm', Math.min);
    const widthMm = corner('xMm', Math.max) - xMm;
    const heightMm = corner('yMm', Math.max) - yMm;
    if (widthMm <= 0 || heightMm <= 0) return;
    remake(
      addArea({
        id,
        members: [{ kind: 'rectangle', xMm, yMm, widthMm, heightMm }],
        order: { kind: 'across' },
      }),
    );
    workbench.select({ kind: 'area', id });
  };
}
