// Keep-outs as the inspector tells them: sizes in words, screws in all four corners, how near the nearest strip lies. Pure.
import { boardPieces, keepOutOutline, type Layout, outlineGapMm } from '../../../panel/index.ts';
import { freeId, type KeepOut, type Panel } from '../../../project/index.ts';

export type Purpose = KeepOut['purpose'];

export const purposes: readonly { readonly id: Purpose; readonly label: string }[] = [
  { id: 'screw', label: 'Screw' },
  { id: 'speaker', label: 'Speaker' },
  { id: 'display', label: 'Display' },
  { id: 'cable', label: 'Cable hole' },
  { id: 'coil-wiring', label: 'Coil wiring' },
  { id: 'other', label: 'Something else' },
];

export const keepOutName = ({ name, purpose }: KeepOut): string =>
  name ?? purposes.find(({ id }) => id === purpose)!.label;

/** "44.0" of a circle, "30.0 × 20.0" of a rectangle. */
export const sizeOf = ({ shape }: KeepOut): string =>
  shape.kind === 'circle'
    ? shape.diameterMm.toFixed(1)
    : `${shape.widthMm.toFixed(1)} × ${shape.heightMm.toFixed(1)}`;

export const centreOf = ({ shape }: KeepOut): { readonly xMm: number; readonly yMm: number } =>
  shape.kind === 'circle'
    ? shape.centre
    : { xMm: shape.xMm + shape.widthMm / 2, yMm: shape.yMm + shape.heightMm / 2 };

/** The same place and about the same size in the other shape. */
export function inShape({ shape }: KeepOut, kind: KeepOut['shape']['kind']): KeepOut['shape'] {
  if (shape.kind === kind) return shape;
  if (shape.kind === 'rectangle')
    return {
      kind: 'circle',
      centre: { xMm: shape.xMm + shape.widthMm / 2, yMm: shape.yMm + shape.heightMm / 2 },
      diameterMm: Math.max(shape.widthMm, shape.heightMm),
    };
  const { centre, diameterMm } = shape;
  return {
    kind: 'rectangle',
    xMm: centre.xMm - diameterMm / 2,
    yMm: centre.yMm - diameterMm / 2,
    widthMm: diameterMm,
    heightMm: diameterMm,
  };
}

/** A washer of an M4 screw is 9 mm wide; with a millimetre and a half around it, and its middle as far from both edges (common practice, no source). */
const screw = { diameterMm: 12, fromEdgeMm: 10 } as const;

/** Screws in the four corners of the panel, clockwise from the top left. */
export function cornerScrews({ widthMm, heightMm, keepOuts = [] }: Panel): KeepOut[] {
  const taken = new Set(keepOuts.map(({ id }) => id));
  const right = widthMm - screw.fromEdgeMm;
  const bottom = heightMm - screw.fromEdgeMm;
  const left = screw.fromEdgeMm;
  return [
    { xMm: left, yMm: left },
    { xMm: right, yMm: left },
    { xMm: right, yMm: bottom },
    { xMm: left, yMm: bottom },
  ].map((centre) => {
    const id = freeId(taken, 'screw');
    taken.add(id);
    return { id, purpose: 'screw', shape: { kind: 'circle', centre, diameterMm: screw.diameterMm } };
  });
}

/** From the edge of a keep-out to the edge of the nearest strip, mm: 0 where they meet; undefined without strip. */
export function nearestStripMm(layout: Layout, keepOut: KeepOut): number | undefined {
  const outline = keepOutOutline(keepOut);
  const gaps = layout.runs.flatMap((placed) =>
    boardPieces(placed).map((piece) => outlineGapMm(outline, piece)),
  );
  return gaps.length === 0 ? undefined : Math.min(...gaps);
}
