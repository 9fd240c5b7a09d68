// What happens to runs between pressing the pointer on the canvas and letting it go: one row for each kind of drag. A row gets the places in
// millimetres and edits the document through the workbench; a whole drag is one step of the history. No React, no elements.
// Not here: drags of areas (drags-areas.ts) and of what lies on the panel (drags-panel.ts).
import {
  boundsOf,
  distanceMm,
  inSequence,
  type Layout,
  type Lightness,
  nearerSnap,
  outline,
  type PlacedRun,
  type PointMm,
  ringCentre,
  type Snap,
  type SnapLines,
  type SnapTargets,
  snapOf,
  snapPoints,
  snapTargets,
  straightEdges,
  tidy,
  turnRunAboutMiddle,
} from '../../panel/index.ts';
import {
  addRun,
  type Edit,
  freeId,
  lengthenRun,
  limits,
  moveRun,
  type Panel,
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
  /** How near a line must be to cling to it; follows the zoom. */
  readonly toleranceMm: number;
}

export type Drag = (move: DragMove) => void;

const snapMm = 0.5;
/** LEDs and cut edges of other runs are clung to from no farther away. */
const mostColumnMm = 1.2;
const snapDeg = 15;
const freeDigitsMm = 100;

export const snapped = (mm: number, isFree: boolean): number =>
  isFree ? Math.round(mm * freeDigitsMm) / freeDigitsMm : snapTo(mm, snapMm);

/** The way from the press to here; along one axis only where it is to be straight. */
export function wayOf(
  from: PointMm,
  { to, isStraight }: DragMove,
): { readonly dx: number; readonly dy: number } {
  const dx = to.xMm - from.xMm;
  const dy = to.yMm - from.yMm;
  if (!isStraight) return { dx, dy };
  return Math.abs(dx) > Math.abs(dy) ? { dx, dy: 0 } : { dx: 0, dy };
}

/** The artwork's straight edges along the stretch that the moving runs cover. */
function withEdges(
  targets: SnapTargets,
  lightness: Lightness,
  panel: Panel,
  moving: readonly PlacedRun[],
): SnapTargets {
  const box = boundsOf(moving.flatMap(outline));
  const added = (lines: SnapLines, axis: 'x' | 'y'): SnapLines => {
    const edges = straightEdges(lightness, panel, axis, box);
    // A busy print has many: they are clung to from near only.
    const merged = (list: readonly number[]) => [...list, ...edges].sort((a, b) => a - b);
    return { ...lines, ledsMm: merged(lines.ledsMm), endsMm: merged(lines.endsMm) };
  };
  return { x: added(targets.x, 'x'), y: added(targets.y, 'y') };
}

/** Moves the chosen runs together; they cling to what is near with their LEDs and ends, and keep to half millimetres elsewhere. */
export function dragRuns(
  { workbench, layout, from, gesture }: DragStart,
  ids: readonly string[],
  lightness?: Lightness,
): Drag {
  const moving = layout.runs.filter(({ run }) => ids.includes(run.id));
  const points = moving.map(snapPoints);
  const leds = points.flatMap((one) => one.leds);
  const ends = points.flatMap((one) => one.ends);
  const near = snapTargets(workbench.project, layout, new Set(ids));
  const targets = lightness ? withEdges(near, lightness, workbench.project.panel, moving) : near;
  const lead = moving[0]!.run.firstLed;
  const label = ids.length === 1 ? 'Move run' : 'Move runs';
  return (move) => {
    const { dx, dy } = wayOf(from, move);
    const { isFree, toleranceMm } = move;
    const onto = (key: keyof PointMm, by: number, lines: SnapLines) => {
      if (isFree || by === 0) return undefined;
      const at = (list: readonly PointMm[]) => list.map((p) => p[key] + by);
      // Columns of LEDs lie everywhere: from afar they would catch whatever is moved.
      const nearMm = Math.min(toleranceMm, mostColumnMm);
      return nearerSnap(
        snapOf([...at(leds), ...at(ends)], lines.linesMm, toleranceMm),
        nearerSnap(snapOf(at(leds), lines.ledsMm, nearMm), snapOf(at(ends), lines.endsMm, nearMm)),
      );
    };
    const x = onto('xMm', dx, targets.x);
    const y = onto('yMm', dy, targets.y);
    const along = (snap: Snap | undefined, by: number, fromMm: number): number =>
      by === 0 ? 0 : snap ? by + snap.byMm : snapped(fromMm + by, isFree) - fromMm;
    const byX = along(x, dx, lead.xMm);
    const byY = along(y, dy, lead.yMm);
    const edits = moving.map(({ run: { id, firstLed } }) =>
      moveRun(id, tidy(firstLed.xMm + byX), tidy(firstLed.yMm + byY)),
    );
    workbench.edit(label, inSequence(edits), gesture);
    workbench.set({ snapLines: { xMm: x?.atMm, yMm: y?.atMm } });
  };
}

export function dragTurn({ workbench, gesture }: DragStart, { run }: PlacedRun): Drag {
  const pivot = ringCentre(run) ?? run.firstLed;
  return ({ to, isFree }) => {
    const degrees = angleDeg(pivot, to) + (run.ring ? (run.ring.clockwise ? -90 : 90) : 0);
    const turned = isFree ? Math.round(degrees * 10) / 10 : snapTo(degrees, snapDeg);
    const arrowDeg = (turned + 360) % 360;
    // A strip turns about its first LED, a ring board about its middle.
    const edit = run.ring ? turnRunAboutMiddle(run.id, arrowDeg) : turnRun(run.id, arrowDeg);
    workbench.edit('Turn run', edit, gesture);
  };
}

export function dragLength({ workbench, gesture }: DragStart, placed: PlacedRun): Drag {
  const every = placed.strip.cutEveryLeds ?? 1;
  return ({ to, isFree }) => {
    const leds = Math.round(alongRun(placed, to).pitches + 0.5);
    // To the strip's cut marks, but for who holds Alt.
    const whole = isFree ? leds : Math.max(every, Math.round(leds / every) * every);
    const ledCount = Math.min(limits.ledsPerRun, Math.max(1, whole));
    workbench.edit('Change the length of a run', lengthenRun(placed.run.id, ledCount), gesture);
  };
}

/** An edit that first takes back what the same drag made before, so that the latest of its versions stands. */
export const remaking = (workbench: Workbench, label: string, gesture: string) => (edit: Edit) => {
  workbench.cancelGesture(gesture);
  workbench.edit(label, edit, gesture);
};

/** Draws a new run: it starts where the pointer was pressed and goes towards where it is, as many LEDs as fit. */
export function drawRun(
  { workbench, layout, from, gesture }: DragStart,
  strip: string,
  pitchMm: number,
  toleranceMm: number,
): Drag {
  const { project } = workbench;
  const id = freeId(
    project.runs.map((run) => run.id),
    'run',
  );
  const remake = remaking(workbench, 'Draw run', gesture);
  const targets = snapTargets(project, layout, new Set());
  const startAt = (mm: number, { linesMm, ledsMm }: SnapLines): number => {
    const snap = nearerSnap(
      snapOf([mm], linesMm, toleranceMm),
      snapOf([mm], ledsMm, Math.min(toleranceMm, mostColumnMm)),
    );
    return snap ? tidy(snap.atMm) : snapped(mm, false);
  };
  const firstLed = { xMm: startAt(from.xMm, targets.x), yMm: startAt(from.yMm, targets.y) };
  const line = Math.max(0, project.dataLines.length - 1);
  return ({ to, isFree }) => {
    const ledCount = Math.floor(distanceMm(firstLed, to) / pitchMm) + 1;
    const degrees = angleDeg(firstLed, to);
    const arrowDeg = (isFree ? Math.round(degrees * 10) / 10 : snapTo(degrees, snapDeg)) % 360;
    const run: Run = { id, firstLed, arrowDeg, ledCount: Math.min(limits.ledsPerRun, ledCount), strip };
    remake(addRun(run, line));
    workbench.select({ kind: 'run', id });
  };
}
