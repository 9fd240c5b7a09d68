// SVG's basic shapes and paths as flattened outlines in their own units. Missing sizes are 0, as SVG says; a shape without size is none.
import svgpath from 'svgpath';
import { flattenArc, flattenCubic, flattenQuadratic, flattenSvgArc, type Point } from './curves.ts';
import { drawingLimits, tooMuch } from './limits.ts';
import { numbersOf, userLength, type ViewBox } from './svg-values.ts';
import type { Element } from './xml.ts';

export interface Outline {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

interface Surroundings {
  /** Where it stands, for a problem. */
  readonly at: string;
  /** What per cents are of. */
  readonly view: Pick<ViewBox, 'width' | 'height'>;
  readonly tolerance: number;
}

type Shape = (element: Element, surroundings: Surroundings) => Outline[];

const size = (element: Element, name: string, whole: number): number | undefined =>
  userLength(element.attributes.get(name), whole);

function ellipse(cx: number, cy: number, rx: number, ry: number, tolerance: number): Outline[] {
  if (!(rx > 0 && ry > 0)) return [];
  const arc = { centre: [cx, cy], first: [rx, 0], second: [0, ry], startRadians: 0 } as const;
  return [{ points: flattenArc({ ...arc, sweepRadians: 2 * Math.PI }, tolerance), closed: true }];
}

const rect: Shape = (element, { view, tolerance }) => {
  const x = size(element, 'x', view.width) ?? 0;
  const y = size(element, 'y', view.height) ?? 0;
  const width = size(element, 'width', view.width) ?? 0;
  const height = size(element, 'height', view.height) ?? 0;
  if (!(width > 0 && height > 0)) return [];
  const givenX = size(element, 'rx', view.width);
  const givenY = size(element, 'ry', view.height);
  const rx = Math.min(width / 2, Math.max(0, givenX ?? givenY ?? 0));
  const ry = Math.min(height / 2, Math.max(0, givenY ?? givenX ?? 0));
  if (rx === 0 || ry === 0)
    return [
      {
        points: [
          [x, y],
          [x + width, y],
          [x + width, y + height],
          [x, y + height],
        ],
        closed: true,
      },
    ];
  const corner = (cx: number, cy: number, quarter: number): Point[] => {
    const startRadians = (quarter * Math.PI) / 2;
    const arc = { centre: [cx, cy], first: [rx, 0], second: [0, ry], startRadians } as const;
    const start: Point = [cx + rx * Math.cos(startRadians), cy + ry * Math.sin(startRadians)];
    return [start, ...flattenArc({ ...arc, sweepRadians: Math.PI / 2 }, tolerance)];
  };
  const points = [
    ...corner(x + width - rx, y + ry, 3),
    ...corner(x + width - rx, y + height - ry, 0),
    ...corner(x + rx, y + height - ry, 1),
    ...corner(x + rx, y + ry, 2),
  ];
  return [{ points, closed: true }];
};

const pairsOf = (text: string | undefined): Point[] => {
  const numbers = numbersOf(text ?? '');
  return Array.from({ length: Math.floor(numbers.length / 2) }, (_, i) => [
    numbers[2 * i]!,
    numbers[2 * i + 1]!,
  ]);
};

/** What a path's command draws from where the pen stands to its last two numbers. */
type Stroke = (from: Point, n: readonly number[], tolerance: number) => Point[];
const pair = (n: readonly number[], i: number): Point => [n[i]!, n[i + 1]!];
const strokes: Readonly<Record<string, Stroke>> = {
  L: (_, n) => [pair(n, 0)],
  H: (from, n) => [[n[0]!, from[1]]],
  V: (from, n) => [[from[0], n[0]!]],
  C: (from, n, tolerance) => flattenCubic(from, pair(n, 0), pair(n, 2), pair(n, 4), tolerance),
  Q: (from, n, tolerance) => flattenQuadratic(from, pair(n, 0), pair(n, 2), tolerance),
  A: (from, n, tolerance) =>
    flattenSvgArc(from, pair(n, 0), n[2]!, n[3] !== 0, n[4] !== 0, pair(n, 5), tolerance),
};

/** A path's parts. As SVG says, what stands before an error in its data is drawn. */
const path: Shape = (element, { at: where, tolerance }) => {
  let count = 0;
  const parts: { points: Point[]; closed: boolean }[] = [];
  let isOpen = false;
  let at: Point = [0, 0];
  svgpath(element.attributes.get('d') ?? '')
    .abs()
    .unshort()
    .iterate((segment) => {
      const [command, ...numbers] = segment as [string, ...number[]];
      if (command === 'M') {
        at = pair(numbers, 0);
        isOpen = false;
      } else if (command === 'Z' || command === 'z') {
        const part = parts.at(-1);
        if (isOpen && part) {
          part.closed = true;
          at = part.points[0]!;
        }
        isOpen = false;
      } else {
        if (!isOpen) parts.push({ points: [at], closed: false });
        isOpen = true;
        const part = parts.at(-1)!;
        const held = part.points.length;
        for (const point of strokes[command]!(at, numbers, tolerance)) part.points.push(point);
        count += part.points.length - held;
        if (count > drawingLimits.points) tooMuch(where, drawingLimits.points, 'corners');
        at = part.points.at(-1)!;
      }
    });
  return parts;
};

const shapes: Readonly<Record<string, Shape>> = {
  path,
  rect,
  circle: (element, { view, tolerance }) => {
    const r = size(element, 'r', Math.hypot(view.width, view.height) / Math.SQRT2) ?? 0;
    return ellipse(
      size(element, 'cx', view.width) ?? 0,
      size(element, 'cy', view.height) ?? 0,
      r,
      r,
      tolerance,
    );
  },
  ellipse: (element, { view, tolerance }) =>
    ellipse(
      size(element, 'cx', view.width) ?? 0,
      size(element, 'cy', view.height) ?? 0,
      size(element, 'rx', view.width) ?? 0,
      size(element, 'ry', view.height) ?? 0,
      tolerance,
    ),
  line: (element, { view }) => {
    const end = (i: 1 | 2): Point => [
      size(element, `x${i}`, view.width) ?? 0,
      size(element, `y${i}`, view.height) ?? 0,
    ];
    return [{ points: [end(1), end(2)], closed: false }];
  },
  polyline: (element) => [{ points: pairsOf(element.attributes.get('points')), closed: false }],
  polygon: (element) => [{ points: pairsOf(element.attributes.get('points')), closed: true }],
};

/** By element name. A map, since a file's names are anyone's: an object would answer to `constructor`. */
export const svgShapes: ReadonlyMap<string, Shape> = new Map(Object.entries(shapes));
