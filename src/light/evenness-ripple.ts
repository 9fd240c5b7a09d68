// The ripple of endless rows and grids of LEDs on the diffuser, and the advice that follows from it: which air gap, row spacing or strip
// makes the light even enough.
// Not here: the panel as it is, with its edges and gaps between runs (evenness-map.ts).
// Source of the sums: the light of one LED (diffuser.ts) summed over a row in closed form: sum over n of 1 / ((x - n)^2 + a^2) is
// (pi / a) sinh(2 pi a) / (cosh(2 pi a) - cos(2 pi x)); its derivative by a gives the squares.
import { pitchMm, type Strip } from '../catalogue/index.ts';

export interface Ripple {
  /** 1 is perfectly even. */
  readonly minByMean: number;
  readonly minByMax: number;
  /** (greatest - least) / (greatest + least); 0 is perfectly even. */
  readonly michelson: number;
}

/** Sum over all whole n of 1 / ((x - n)^2 + a^2)^2; exact. Written with q = e^(-2 pi a), so that nothing overflows. */
function rowSum(x: number, a: number): number {
  const q = Math.exp(-2 * Math.PI * a);
  const cosine = Math.cos(2 * Math.PI * x);
  const over = 1 - q * q;
  const under = 1 + q * q - 2 * q * cosine;
  const slope = (4 * Math.PI * q * (q * under + (q - cosine) * over)) / (under * under);
  return (Math.PI / (2 * a * a)) * (over / (a * under) - slope);
}

/** Rows are summed one by one as far as this many air gaps; from there on they are as good as an even sheet. */
const gapsSummed = 40;
const leastRowsSummed = 12;

/**
 * Light by mean at a place of an endless grid, counted in pitches from an LED. The rows far away are taken as an integral from half way between
 * two rows on, which for so smooth a tail is right to a millionth.
 */
function gridLight(
  along: number,
  across: number,
  alongMm: number,
  acrossMm: number,
  airGapMm: number,
): number {
  const rows = Math.max(leastRowsSummed, Math.ceil((gapsSummed * airGapMm) / acrossMm));
  const gapMm2 = airGapMm * airGapMm;
  // One unit of flux an LED, in units of pi per mm2: the mean is pi / (along x across).
  const factor = (gapMm2 * acrossMm) / (Math.PI * alongMm ** 3);
  let sum = 0;
  for (let row = -rows; row <= rows; row++) {
    const downMm = (row - across) * acrossMm;
    sum += rowSum(along, Math.sqrt(downMm * downMm + gapMm2) / alongMm);
  }
  const beyondMm = [rows + 0.5 - across, rows + 0.5 + across].map((edge) => edge * acrossMm);
  const beyond = beyondMm.reduce((total, mm) => total + 0.5 * (1 - mm / Math.sqrt(mm * mm + gapMm2)), 0);
  return factor * sum + beyond;
}

/** Light by mean on the axis of a single endless row. */
function rowLight(along: number, alongMm: number, airGapMm: number): number {
  const a = airGapMm / alongMm;
  // The mean of the sum over one pitch is pi / (2 a^3).
  return rowSum(along, a) / (Math.PI / (2 * a ** 3));
}

/**
 * The ripple of an endless grid of rows `acrossMm` apart with an LED every `alongMm`; without `acrossMm` that of a single row seen along its axis.
 * It is brightest over an LED and darkest in the middle between all that are nearest.
 */
export function ripple(alongMm: number, acrossMm: number | undefined, airGapMm: number): Ripple {
  const light = (share: number): number =>
    acrossMm === undefined
      ? rowLight(share, alongMm, airGapMm)
      : gridLight(share, share, alongMm, acrossMm, airGapMm);
  const greatest = light(0);
  const least = light(0.5);
  return {
    minByMean: least,
    minByMax: least / greatest,
    michelson: (greatest - least) / (greatest + least),
  };
}

/** As even as light boxes are usually asked to be (common practice, no source). */
export const usualEvenness = 0.9;

/** A hundredth of a millimetre is finer than any spacer. */
const stepMm = 0.01;

/** The boundary between a length that `holds` and one that doesn't, on the side that holds, to a hundredth of a millimetre. */
function boundary(holdsMm: number, failsMm: number, holds: (lengthMm: number) => boolean): number {
  let [good, bad] = [holdsMm, failsMm];
  while (Math.abs(good - bad) > stepMm) {
    const middle = (good + bad) / 2;
    if (holds(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** The document holds no wider gap. */
const widestGapMm = 500;

/**
 * The least air gap (mm) at which least by mean reaches the target at these pitches; undefined where none that can be built does.
 * @param target above 0, below 1
 */
export function gapFor(target: number, alongMm: number, acrossMm: number | undefined): number | undefined {
  const holds = (gapMm: number): boolean => ripple(alongMm, acrossMm, gapMm).minByMean >= target;
  if (holds(stepMm)) return stepMm;
  return holds(widestGapMm) ? boundary(widestGapMm, stepMm, holds) : undefined;
}

/** As wide as a panel can be. */
const widestRowsMm = 3000;

/** The widest row spacing (mm) at which a strip reaches the target at this air gap; undefined where not even rows side by side do: they can't lie closer than the strip is wide. */
export function rowsFor(
  target: number,
  airGapMm: number,
  strip: Pick<Strip, 'ledsPerMetre' | 'boardWidthMm'>,
): number | undefined {
  const holds = (acrossMm: number): boolean => ripple(pitchMm(strip), acrossMm, airGapMm).minByMean >= target;
  if (!holds(strip.boardWidthMm)) return undefined;
  return holds(widestRowsMm) ? widestRowsMm : boundary(strip.boardWidthMm, widestRowsMm, holds);
}

export interface PitchAdvice<S> {
  /** The strip with the fewest LEDs a metre that reaches the target with its rows where they are; undefined where none does. */
  readonly sparsest: S | undefined;
  /** The widest row spacing of each strip that reaches the target at some spacing. */
  readonly rows: readonly { readonly strip: S; readonly widestRowsMm: number }[];
}

/**
 * What reaches the target at this air gap.
 * @param acrossMm the rows' spacing as it is; undefined for single rows, seen along their axis
 */
export function pitchFor<S extends Pick<Strip, 'ledsPerMetre' | 'boardWidthMm'>>(
  target: number,
  airGapMm: number,
  strips: readonly S[],
  acrossMm?: number,
): PitchAdvice<S> {
  const reaching = strips.filter((strip) => ripple(pitchMm(strip), acrossMm, airGapMm).minByMean >= target);
  return {
    sparsest: [...reaching].sort((a, b) => a.ledsPerMetre - b.ledsPerMetre)[0],
    rows: strips.flatMap((strip) => {
      const rowsMm = rowsFor(target, airGapMm, strip);
      return rowsMm === undefined ? [] : [{ strip, widestRowsMm: rowsMm }];
    }),
  };
}
