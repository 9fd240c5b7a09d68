// Straight edges of the artwork that strip can be laid along: a counter, a roof line, a mast. Found where the print's lightness steps along most of a
// stretch at once. Pure; the pixels come from outside, a millimetre each or so, stretched over the panel.
import type { BoundsMm } from './plane.ts';

/** Lightness of the artwork, 0 to 1, row by row. */
export interface Lightness {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly values: Float32Array;
}

/** Rec. 709 luma of 8-bit sRGB codes: weights of IEC 61966-2-1's primaries, good enough to find steps. */
export function lightnessOf(image: {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rgba: ArrayLike<number>;
}): Lightness {
  const { widthPx, heightPx, rgba } = image;
  const values = new Float32Array(widthPx * heightPx);
  for (let i = 0; i < values.length; i++)
    values[i] = (0.2126 * rgba[4 * i]! + 0.7152 * rgba[4 * i + 1]! + 0.0722 * rgba[4 * i + 2]!) / 255;
  return { widthPx, heightPx, values };
}

/** The strongest ones; more would make everything cling to something. */
const mostEdges = 10;
/** Edges nearer to each other than this are one. */
const apartMm = 3;
/** An edge steps by at least this much on average along the stretch. */
const leastStep = 0.08;

/**
 * Places (mm, rising) of straight edges across an axis: for `x` upright edges within the box's height, for `y` lying ones within its width.
 * The box says along which stretch an edge must run; it is cut to the panel.
 */
export function straightEdges(
  { widthPx, heightPx, values }: Lightness,
  panel: { readonly widthMm: number; readonly heightMm: number },
  axis: 'x' | 'y',
  box: BoundsMm,
): number[] {
  const isX = axis === 'x';
  const count = isX ? widthPx : heightPx;
  const perMm = count / (isX ? panel.widthMm : panel.heightMm);
  const across = isX ? heightPx / panel.heightMm : widthPx / panel.widthMm;
  const limit = isX ? heightPx : widthPx;
  const first = Math.max(0, Math.floor((isX ? box.topMm : box.leftMm) * across));
  const last = Math.min(limit - 1, Math.ceil((isX ? box.bottomMm : box.rightMm) * across));
  if (last < first) return [];
  const at = (along: number, beside: number): number =>
    isX ? values[beside * widthPx + along]! : values[along * widthPx + beside]!;
  const steps = new Float64Array(count);
  for (let along = 1; along < count; along++) {
    let sum = 0;
    for (let beside = first; beside <= last; beside++)
      sum += Math.abs(at(along, beside) - at(along - 1, beside));
    steps[along] = sum / (last - first + 1);
  }
  const peaks = [...steps.keys()].filter(
    (i) => steps[i]! >= leastStep && steps[i]! >= (steps[i - 1] ?? 0) && steps[i]! > (steps[i + 1] ?? 0),
  );
  peaks.sort((a, b) => steps[b]! - steps[a]!);
  const kept: number[] = [];
  for (const peak of peaks) {
    const mm = peak / perMm;
    if (kept.length < mostEdges && kept.every((other) => Math.abs(other - mm) >= apartMm)) kept.push(mm);
  }
  return kept.sort((a, b) => a - b);
}
