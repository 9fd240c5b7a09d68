// What both readers hand their shapes to: flattened points in the file's own units come in, shapes in millimetres go out. It counts what a drawing
// holds, and refuses places that are none.
import type { PointMm } from '../plane.ts';
import { type Affine, stretchOf } from './affine.ts';
import type { Point } from './curves.ts';
import { chordErrorMm, drawingLimits, tooMuch, touchMm, unreadable } from './limits.ts';

/** A shape as it was drawn, before loose ends are joined. */
export interface RawShape {
  /** Names of the layers or groups that hold it. */
  readonly holders: readonly string[];
  /** Names of its own, by which it may be meant too. */
  readonly ownNames: readonly string[];
  readonly points: readonly PointMm[];
  readonly closed: boolean;
}

export class Collector {
  readonly shapes: RawShape[] = [];
  private readonly told = new Map<string, number>();
  private elements = 0;
  private points = 0;

  /** Counts one more element, or one more copy of it. */
  countElement(at: string): void {
    if (++this.elements > drawingLimits.elements) tooMuch(at, drawingLimits.elements, 'elements');
  }

  note(text: string): void {
    this.told.set(text, (this.told.get(text) ?? 0) + 1);
  }

  get notes(): string[] {
    return [...this.told].map(([text, count]) => (count === 1 ? text : `${text} (${count} times)`));
  }

  /** How far a chord may be off in the units of what is drawn through this map. */
  toleranceThrough(map: Affine): number {
    const stretch = stretchOf(map);
    return stretch > 0 ? chordErrorMm / stretch : Number.MAX_VALUE;
  }

  /** Takes a shape in; what has shrunk to a point is left out. @param at where it stands, for a problem */
  add(
    at: string,
    map: Affine,
    drawn: readonly Point[],
    isClosed: boolean,
    names: Pick<RawShape, 'holders' | 'ownNames'>,
  ): void {
    this.points += drawn.length;
    if (this.points > drawingLimits.points) tooMuch(at, drawingLimits.points, 'corners');
    const points: PointMm[] = [];
    for (const [x, y] of drawn) {
      const xMm = map.a * x + map.c * y + map.e;
      const yMm = map.b * x + map.d * y + map.f;
      if (!(Math.max(Math.abs(xMm), Math.abs(yMm)) <= drawingLimits.coordinateMm))
        unreadable(
          'drawing-coordinate',
          at,
          `places within ${drawingLimits.coordinateMm / 1000} m`,
          `${Number(x.toPrecision(6))}, ${Number(y.toPrecision(6))}`,
          'Draw at true scale, near the origin.',
        );
      const last = points.at(-1);
      if (!last || last.xMm !== xMm || last.yMm !== yMm) points.push({ xMm, yMm });
    }
    const isRing = points.length > 2 && near(points[0]!, points.at(-1)!);
    if (isRing) points.pop();
    if (points.length < 2) return;
    this.shapes.push({ ...names, points, closed: (isClosed || isRing) && points.length > 2 });
  }
}

export const near = (a: PointMm, b: PointMm): boolean =>
  Math.abs(a.xMm - b.xMm) <= touchMm && Math.abs(a.yMm - b.yMm) <= touchMm;
