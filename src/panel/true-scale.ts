// Bringing the panel to its true size, by a distance measured on the real artwork or by a typed width, with everything that lies on the artwork
// carried along. Each edit returns a recipe for the history.
// What lies on the artwork keeps its place on it: opening, guides, grid, baffles, measures, areas, the points that effects spread from, the board. What is
// a thing of its own keeps its size and only moves with the artwork: keep-outs by their centres, runs by their middles. Engraved channels
// are real already and stay, and so do lengths that shows travel in. What would leave the document's bounds is left undone.
// Not here: setting the size alone (setPanelSize), whether measures agree (measures.ts).
import { type Edit, limits, type Measure, type Project } from '../project/index.ts';
import { distanceMm, type PointMm } from './plane.ts';
import { middleOf, tidy } from './run-places.ts';

/** How much wider and higher the artwork becomes. */
interface Growth {
  readonly x: number;
  readonly y: number;
}

/** A number of the document that becomes another one, and the bounds that the document has for it. */
interface Move {
  readonly write: (value: number) => void;
  readonly value: number;
  readonly isAllowed: (value: number) => boolean;
}

/** As the schema holds places and sizes. */
const isPlaceMm = (value: number): boolean => Math.abs(value) <= 10_000;
const isSizeMm = (value: number): boolean => value > 0 && value <= limits.panelMm;
const isAnySizeMm = (value: number): boolean => value > 0 && Number.isFinite(value);

const move = <K extends string>(
  holder: Record<K, number>,
  key: K,
  value: number,
  isAllowed: (value: number) => boolean,
): Move => ({
  write: (tidied) => {
    holder[key] = tidied as Record<K, number>[K];
  },
  value: tidy(value),
  isAllowed,
});

type Point = { xMm: number; yMm: number };
type Rectangle = Point & { widthMm: number; heightMm: number };

const movePoint = (point: Point, by: Growth): Move[] => [
  move(point, 'xMm', point.xMm * by.x, isPlaceMm),
  move(point, 'yMm', point.yMm * by.y, isPlaceMm),
];

const growRectangle = (rectangle: Rectangle, by: Growth): Move[] => [
  ...movePoint(rectangle, by),
  move(rectangle, 'widthMm', rectangle.widthMm * by.x, isAnySizeMm),
  move(rectangle, 'heightMm', rectangle.heightMm * by.y, isAnySizeMm),
];

/** A thing of its own size, moved as far as the place `middle` on the artwork moves. */
const moveBy = (point: Point, middle: PointMm, by: Growth): Move[] => [
  move(point, 'xMm', point.xMm + middle.xMm * (by.x - 1), isPlaceMm),
  move(point, 'yMm', point.yMm + middle.yMm * (by.y - 1), isPlaceMm),
];

function movesOfPanel({ panel, board }: Project, by: Growth): Move[] {
  const keepOuts = (panel.keepOuts ?? []).flatMap(({ shape }) => {
    if (shape.kind === 'circle') return movePoint(shape.centre, by);
    const middle = { xMm: shape.xMm + shape.widthMm / 2, yMm: shape.yMm + shape.heightMm / 2 };
    return moveBy(shape, middle, by);
  });
  return [
    move(panel, 'widthMm', panel.widthMm * by.x, isSizeMm),
    move(panel, 'heightMm', panel.heightMm * by.y, isSizeMm),
    ...(panel.opening ? growRectangle(panel.opening, by) : []),
    ...(panel.measures ?? []).flatMap(({ from, to }) => [...movePoint(from, by), ...movePoint(to, by)]),
    ...(panel.grid ? movePoint(panel.grid.origin, by) : []),
    ...(panel.guides ?? []).map((guide) => move(guide, 'atMm', guide.atMm * by[guide.axis], isPlaceMm)),
    ...(panel.baffles?.walls ?? []).flatMap(({ from, to }) => [...movePoint(from, by), ...movePoint(to, by)]),
    ...keepOuts,
    ...(board.place ? movePoint(board.place, by) : []),
  ];
}

function movesOfAreas({ areas, lampshows }: Project, by: Growth): Move[] {
  const moves: Move[] = [];
  // A drawn line's width follows both ways alike.
  const meanGrowth = Math.sqrt(by.x * by.y);
  for (const { members, order } of areas) {
    for (const one of members) {
      if (one.kind === 'rectangle') moves.push(...growRectangle(one, by));
      if (one.kind === 'outline' || one.kind === 'stroke')
        moves.push(...one.points.flatMap((point) => movePoint(point, by)));
      if (one.kind === 'stroke') moves.push(move(one, 'radiusMm', one.radiusMm * meanGrowth, isSizeMm));
    }
    if (order.kind === 'outward' || order.kind === 'around') moves.push(...movePoint(order.centre, by));
    if (order.kind === 'path') moves.push(...order.points.flatMap((point) => movePoint(point, by)));
  }
  for (const { effect } of lampshows.flatMap(({ rows }) => rows.flatMap((row) => row.clips)))
    if ('centre' in effect) moves.push(...movePoint(effect.centre, by));
  return moves;
}

/** Makes the artwork so much larger, with all that belongs to it; false, and nothing done, where that leaves the bounds. */
function grow(project: Project, by: Growth): boolean {
  const moves = [
    ...movesOfPanel(project, by),
    ...movesOfAreas(project, by),
    ...project.runs.flatMap((run) => moveBy(run.firstLed, middleOf(project, run), by)),
  ];
  if (!moves.every(({ value, isAllowed }) => isAllowed(value))) return false;
  for (const { write, value } of moves) write(value);
  return true;
}

/**
 * Makes the panel as large as it is in truth: the places `from` and `to`, as drawn now, are `measuredMm` apart on the real artwork. They become the
 * first measure, in the place of an earlier first one; further measures stay as checks. Two places that are one are left undone.
 */
export const setTrueScale =
  (from: PointMm, to: PointMm, measuredMm: number): Edit =>
  (project) => {
    const { panel } = project;
    const growth = measuredMm / distanceMm(from, to);
    const scaled = (point: PointMm): PointMm => ({
      xMm: tidy(point.xMm * growth),
      yMm: tidy(point.yMm * growth),
    });
    const measure: Measure = { from: scaled(from), to: scaled(to), measuredMm };
    const places = [measure.from, measure.to].flatMap(({ xMm, yMm }) => [xMm, yMm]);
    if (!isSizeMm(measuredMm) || !places.every(isPlaceMm)) return;
    if (!grow(project, { x: growth, y: growth })) return;
    panel.measures = [measure, ...(panel.measures?.slice(1) ?? [])];
  };

/**
 * Sets the panel's width and lets the height follow.
 * @param aspect width by height of the artwork; the panel's own where none is given
 */
export const setPanelWidthKeepingShape =
  (widthMm: number, aspect?: number): Edit =>
  (project) => {
    const { panel } = project;
    const heightMm = widthMm / (aspect ?? panel.widthMm / panel.heightMm);
    grow(project, { x: widthMm / panel.widthMm, y: heightMm / panel.heightMm });
  };
