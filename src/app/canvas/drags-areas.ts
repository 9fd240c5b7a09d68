// Drawing areas on the canvas: a rectangle, a closed line round LEDs, or a broad stroke over them. Where an area is chosen, what is drawn is added
// to it; otherwise it becomes an area of its own. A whole drag is one step of the history. No React, no elements.
import { distanceMm, distanceToLineMm, type PointMm } from '../../panel/index.ts';
import {
  type AreaMembers,
  addArea,
  type Edit,
  freeId,
  limits,
  type Project,
  setAreaMembers,
} from '../../project/index.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { type Drag, type DragStart, remaking, snapped } from './drags.ts';

/** Half the width of a stroke: an LED of 5 mm under the pointer and its neighbour beside it. */
export const brushRadiusMm = 12;
/** A hand's tremble below this says nothing. */
const leastStepMm = 1.5;

/** The edit that puts members into the chosen area, or into a new one, and which area that is. */
export function intoArea(
  project: Project,
  chosen: string | undefined,
  members: readonly AreaMembers[],
): { readonly edit: Edit; readonly id: string; readonly label: string } {
  const known = project.areas.find((area) => area.id === chosen);
  if (known)
    return {
      id: known.id,
      label: 'Add to area',
      edit: setAreaMembers(known.id, [...known.members.filter(holdsSomething), ...members]),
    };
  const id = freeId(
    project.areas.map((area) => area.id),
    'area',
  );
  const all = members as [AreaMembers, ...AreaMembers[]];
  return { id, label: 'Draw area', edit: addArea({ id, members: all, order: { kind: 'across' } }) };
}

/** An area without LEDs is a list of no runs. */
const holdsSomething = (members: AreaMembers): boolean => members.kind !== 'runs' || members.runs.length > 0;

export const chosenArea = ({ state }: Workbench): string | undefined =>
  state.selection.kind === 'area' ? state.selection.id : undefined;

/** A drag that remakes one entry of an area at every move. */
function drawing(
  { workbench, gesture }: DragStart,
  entryOf: (move: Parameters<Drag>[0]) => AreaMembers | undefined,
): Drag {
  const { project } = workbench;
  const chosen = chosenArea(workbench);
  return (move) => {
    const entry = entryOf(move);
    if (!entry) return;
    const { edit, id, label } = intoArea(project, chosen, [entry]);
    remaking(workbench, label, gesture)(edit);
    workbench.select({ kind: 'area', id });
  };
}

export function drawRectangle(start: DragStart): Drag {
  const { from } = start;
  return drawing(start, ({ to, isFree }) => {
    const corner = (key: keyof PointMm, pick: (...values: number[]) => number) =>
      snapped(pick(from[key], to[key]), isFree);
    const xMm = corner('xMm', Math.min);
    const yMm = corner('yMm', Math.min);
    const widthMm = corner('xMm', Math.max) - xMm;
    const heightMm = corner('yMm', Math.max) - yMm;
    return widthMm > 0 && heightMm > 0 ? { kind: 'rectangle', xMm, yMm, widthMm, heightMm } : undefined;
  });
}

/** Leaves out points that lie within the tolerance of the line between their neighbours that stay (Ramer, Douglas and Peucker). */
export function thinned(points: readonly PointMm[], toleranceMm: number): PointMm[] {
  if (points.length < 3) return [...points];
  const [a, b] = [points[0]!, points.at(-1)!];
  let farthest = 0;
  let mostMm = toleranceMm;
  for (let i = 1; i + 1 < points.length; i++) {
    const offMm = distanceToLineMm(a, b, points[i]!);
    if (offMm > mostMm) {
      mostMm = offMm;
      farthest = i;
    }
  }
  if (farthest === 0) return [a, b];
  return [
    ...thinned(points.slice(0, farthest + 1), toleranceMm).slice(0, -1),
    ...thinned(points.slice(farthest), toleranceMm),
  ];
}

/** Thinned until the document has room for it. */
function drawnLine(points: readonly PointMm[]): PointMm[] {
  let toleranceMm = 0.5;
  let line = thinned(points, toleranceMm);
  while (line.length > limits.outlinePoints) {
    toleranceMm *= 2;
    line = thinned(points, toleranceMm);
  }
  return line.map(({ xMm, yMm }) => ({ xMm: snapped(xMm, true), yMm: snapped(yMm, true) }));
}

/** Collects where the pointer has been. */
function trail(from: PointMm): (to: PointMm) => readonly PointMm[] {
  const points = [from];
  return (to) => {
    if (distanceMm(points.at(-1)!, to) >= leastStepMm) points.push(to);
    return points;
  };
}

/** A closed line round LEDs. */
export function drawLasso(start: DragStart): Drag {
  const follow = trail(start.from);
  return drawing(start, ({ to }) => {
    const points = drawnLine(follow(to));
    return points.length < 3 ? undefined : { kind: 'outline', points: points as [PointMm, PointMm, PointMm] };
  });
}

/** A stroke over LEDs. */
export function drawStroke(start: DragStart): Drag {
  const follow = trail(start.from);
  return drawing(start, ({ to }) => ({
    kind: 'stroke',
    points: drawnLine(follow(to)) as [PointMm],
    radiusMm: brushRadiusMm,
  }));
}
