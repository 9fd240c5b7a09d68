// Drawings for tests: reading with a clear failure, files by another program's writer, and what outlines are held against.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { type Drawing, type DrawingShape, type PointMm, readDrawing } from '../../src/panel/index.ts';
import { type Problem, problemLine } from '../../src/project/index.ts';
import { temporaryFolder } from './command-line.ts';

/** Height of the panel that DXF's y is turned over in. */
export const panelHeightMm = 300;

const bytesOf = (content: string | Uint8Array): Uint8Array =>
  typeof content === 'string' ? new TextEncoder().encode(content) : content;

export function drawingOf(content: string | Uint8Array, fileName: string): Drawing {
  const result = readDrawing(bytesOf(content), fileName, panelHeightMm);
  if (!result.ok) throw new Error(result.problems.map(problemLine).join('\n'));
  return result.value;
}

/** The one problem of a drawing that is refused; its line names the file and how to mend it. */
export function refusal(content: string | Uint8Array, fileName: string): Problem {
  const result = readDrawing(bytesOf(content), fileName, panelHeightMm);
  if (result.ok) throw new Error(`${fileName} was read`);
  expect(result.problems).toHaveLength(1);
  const [problem] = result.problems;
  expect(problem!.at).toContain(fileName);
  for (const part of [problem!.expected, problem!.found, problem!.mend]) expect(part).not.toBe('');
  expect(problemLine(problem!).length).toBeLessThan(400);
  return problem!;
}

export const svg = (attributes: string, body: string): string =>
  `<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${attributes}>${body}</svg>`;

/** In millimetres: 600 x 300. */
export const sheet = (body: string): string =>
  svg('width="600mm" height="300mm" viewBox="0 0 600 300"', body);

export const onLayer = (drawing: Drawing, layer: string): DrawingShape[] =>
  drawing.shapes.filter((shape) => shape.layers.includes(layer));

export function only<T>(things: readonly T[]): T {
  expect(things).toHaveLength(1);
  return things[0]!;
}

/** Corners, and the middles of the lines between them, where a flattened curve is farthest off. */
export function samplesOf({ points, closed }: DrawingShape): PointMm[] {
  const legs = points.slice(0, closed ? points.length : -1);
  const middles = legs.map((a, i) => {
    const b = points[(i + 1) % points.length]!;
    return { xMm: (a.xMm + b.xMm) / 2, yMm: (a.yMm + b.yMm) / 2 };
  });
  return [...points, ...middles];
}

/** Every sample lies this near to a curve, given by the signed distance from it. */
export function expectOn(
  shape: DrawingShape,
  distanceOf: (point: PointMm) => number,
  toleranceMm = 0.01,
): void {
  expect(shape.points.length).toBeGreaterThan(1);
  for (const point of samplesOf(shape)) expect(Math.abs(distanceOf(point))).toBeLessThanOrEqual(toleranceMm);
}

/** Same corners in the same order, from whichever corner and whichever way round. */
export function expectCorners(shape: DrawingShape, corners: readonly (readonly [number, number])[]): void {
  expect(shape.closed).toBe(true);
  expect(shape.points).toHaveLength(corners.length);
  const off = (order: readonly PointMm[], start: number): number =>
    Math.max(
      ...corners.map(([x, y], i) => {
        const point = order[(start + i) % order.length]!;
        return Math.hypot(point.xMm - x, point.yMm - y);
      }),
    );
  const ways = [shape.points, shape.points.toReversed()].flatMap((order) =>
    order.map((_, start) => off(order, start)),
  );
  expect(Math.min(...ways)).toBeLessThanOrEqual(0.01);
}

/** Signed distance from a stadium: a line with everything within a radius of it. */
export function stadium(a: readonly [number, number], b: readonly [number, number], radiusMm: number) {
  return ({ xMm, yMm }: PointMm): number => {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const share = Math.min(1, Math.max(0, ((xMm - a[0]) * dx + (yMm - a[1]) * dy) / (dx * dx + dy * dy)));
    return Math.hypot(xMm - a[0] - dx * share, yMm - a[1] - dy * share) - radiusMm;
  };
}

/** Runs a script in Debian's Python with its DXF writer (package python3-ezdxf); it saves `name` in its working folder. */
export function ezdxf(script: string, name = 'drawing.dxf'): Uint8Array {
  const folder = temporaryFolder();
  execFileSync('/usr/bin/python3', ['-c', `import ezdxf, math\n${script}`], { cwd: folder, stdio: 'pipe' });
  return new Uint8Array(readFileSync(join(folder, name)));
}
