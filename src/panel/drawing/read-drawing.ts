// Reads a drawing file, SVG or DXF, into shapes in millimetres: x right, y down from the panel's top left. Whatever the file holds, the answer is a
// drawing or a problem; nothing in it is run or fetched.
import { failed, ok, type Result } from '../../project/index.ts';
import type { PointMm } from '../plane.ts';
import type { RawShape } from './collector.ts';
import { readDxf } from './dxf-read.ts';
import { joinLoose } from './join.ts';
import { drawingLimits, UnreadableDrawing, unreadable } from './limits.ts';
import { readSvg } from './svg-read.ts';

export interface DrawingShape {
  /** Names of the layers, groups or blocks that hold it, outermost first, and its own. */
  readonly layers: readonly string[];
  /** Curves flattened to within a thousandth of a mm. */
  readonly points: readonly PointMm[];
  /** The last point joins the first. */
  readonly closed: boolean;
}

export interface Drawing {
  /** Every layer that holds a shape. */
  readonly layers: readonly string[];
  readonly shapes: readonly DrawingShape[];
  /** The sheet's, where the file tells it. */
  readonly widthMm?: number | undefined;
  readonly heightMm?: number | undefined;
  /** What was taken for granted or left out. */
  readonly notes: readonly string[];
}

const mebibytes = (bytes: number): string => `${(bytes / 1024 / 1024).toFixed(1)} MiB`;

/** Refuses a file by its size, before it is loaded whole. Throws UnreadableDrawing. */
function checkSize(bytes: number, fileName: string): void {
  if (bytes > drawingLimits.bytes)
    unreadable(
      'drawing-too-large',
      fileName,
      `a drawing of at most ${mebibytes(drawingLimits.bytes)}`,
      mebibytes(bytes),
      'Save a drawing that holds little besides the channels.',
    );
}

const binaryStart = /^[\x20-\x7e]{0,20}Binary DXF/;

/** Text of a drawing. Older DXF programs wrote the letters of Western European Windows; in SVG anything but UTF-8 is refused. */
function textOf(bytes: Uint8Array, isDxf: boolean, fileName: string): string {
  if (isDxf && binaryStart.test(new TextDecoder('latin1').decode(bytes.subarray(0, 40))))
    unreadable(
      'drawing-binary',
      fileName,
      'a DXF saved as ASCII text',
      'a binary DXF',
      'Save it as ASCII DXF.',
    );
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    if (isDxf) return new TextDecoder('latin1').decode(bytes);
    return unreadable(
      'drawing-not-text',
      fileName,
      'UTF-8 text',
      'bytes that are not UTF-8',
      'Save it as plain SVG.',
    );
  }
}

const finished = ({ holders, ownNames, points, closed }: RawShape): DrawingShape => ({
  layers: [...new Set([...holders, ...ownNames])],
  points,
  closed,
});

function read(bytes: Uint8Array, fileName: string, panelHeightMm: number): Drawing {
  checkSize(bytes.length, fileName);
  const kind = /\.(svg|dxf)$/i.exec(fileName)?.[1]?.toLowerCase();
  if (!kind)
    unreadable(
      'drawing-kind',
      fileName,
      'a file whose name ends in .svg or .dxf',
      'another',
      'Save it as one.',
    );
  const isDxf = kind === 'dxf';
  const text = textOf(bytes, isDxf, fileName);
  const { shapes: raw, ...content } = isDxf
    ? readDxf(text, fileName, panelHeightMm)
    : readSvg(text, fileName);
  const shapes = joinLoose(raw).map(finished);
  return { ...content, shapes, layers: [...new Set(shapes.flatMap((shape) => shape.layers))] };
}

/** What a drawing's reader throws, as a Result. */
export function asResult<T>(work: () => T): Result<T> {
  try {
    return ok(work());
  } catch (error) {
    if (error instanceof UnreadableDrawing) return failed([error.problem]);
    throw error;
  }
}

/**
 * @param fileName ends in .svg or .dxf, and stands in problems
 * @param panelHeightMm a DXF's origin is the panel's bottom left; SVG doesn't need it
 */
export const readDrawing = (bytes: Uint8Array, fileName: string, panelHeightMm: number): Result<Drawing> =>
  asResult(() => read(bytes, fileName, panelHeightMm));

/** Problem of a file of this size, before it is loaded. */
export const drawingSizeProblem = (bytes: number, fileName: string) => {
  const result = asResult(() => checkSize(bytes, fileName));
  return result.ok ? undefined : result.problems[0];
};
