// What would make an area even enough: another air gap, as the area's own curve has it; rows nearer to each other, or a denser strip, as endless rows
// like the area's have it. Pure.
// Source of the sums: src/light/evenness-ripple.ts.
import { strips } from '../../../catalogue/index.ts';
import { gapFor, pitchFor, type Ripple, ripple, rowsFor } from '../../../light/index.ts';
import { type AreaLed, type Layout, type Led, nearestShare, type PlacedRun } from '../../../panel/index.ts';
import type { AtGap } from './area-evenness.ts';

/** An area as endless rows. */
export interface Rows {
  readonly strip: PlacedRun['strip'];
  readonly alongMm: number;
  /** From row to row; undefined where there is but one. */
  readonly acrossMm: number | undefined;
}

/** Rows whose arrows differ by less are rows of one grid, one way or the other. */
const parallelDeg = 3;
/** Runs in one line are one row. */
const leastAcrossMm = 1;

const isParallel = (a: PlacedRun, b: PlacedRun): boolean => {
  const turned = (((a.run.arrowDeg - b.run.arrowDeg) % 180) + 180) % 180;
  return Math.min(turned, 180 - turned) < parallelDeg;
};

/** From one row to the LEDs of another across it, undefined where none of them lies beside it. */
function acrossMm(row: PlacedRun, other: readonly Led[]): number | undefined {
  const [a, b] = [row.dinEnd, row.doutEnd];
  const length = Math.hypot(b.xMm - a.xMm, b.yMm - a.yMm);
  const beside = other.filter((led) => {
    const share = nearestShare(a, b, led);
    return share > 0 && share < 1;
  });
  if (beside.length === 0 || length === 0) return undefined;
  const distances = beside.map(
    (led) => Math.abs((b.xMm - a.xMm) * (led.yMm - a.yMm) - (b.yMm - a.yMm) * (led.xMm - a.xMm)) / length,
  );
  return Math.min(...distances);
}

const median = (values: readonly number[]): number | undefined =>
  [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)];

/** The rows that an area is most like: the strip of its longest run, and the usual distance from each of its runs to the next one beside it. */
export function rowsOf(layout: Layout, area: readonly AreaLed[]): Rows | undefined {
  const byRun = new Map<string, Led[]>();
  for (const { wire } of area) {
    const led = layout.wireLeds[wire]!;
    byRun.set(led.run, [...(byRun.get(led.run) ?? []), led]);
  }
  const runs = layout.runs
    .filter(({ run }) => byRun.has(run.id))
    .sort((a, b) => byRun.get(b.run.id)!.length - byRun.get(a.run.id)!.length);
  const [longest] = runs;
  if (!longest) return undefined;
  const straight = runs.filter(({ run }) => !run.ring);
  const nearest = straight.flatMap((row) => {
    const others = straight.flatMap((other) => {
      if (other === row || !isParallel(row, other)) return [];
      const mm = acrossMm(row, byRun.get(other.run.id)!);
      return mm !== undefined && mm >= leastAcrossMm ? [mm] : [];
    });
    return others.length > 0 ? [Math.min(...others)] : [];
  });
  return { strip: longest.strip, alongMm: longest.pitchMm, acrossMm: median(nearest) };
}

export interface Advice {
  /** What endless rows like these come to at the present gap. */
  readonly now: Ripple;
  /** Each of them alone reaches the aim; undefined where nothing of its kind does. */
  readonly leastGapMm: number | undefined;
  readonly widestRowsMm: number | undefined;
  readonly ledsPerMetre: number | undefined;
}

export function adviceFor(aim: number, { strip, alongMm, acrossMm }: Rows, airGapMm: number): Advice {
  const denser = pitchFor(aim, airGapMm, strips, acrossMm).sparsest?.ledsPerMetre;
  return {
    now: ripple(alongMm, acrossMm, airGapMm),
    leastGapMm: gapFor(aim, alongMm, acrossMm),
    widestRowsMm: acrossMm === undefined ? undefined : rowsFor(aim, airGapMm, strip),
    ledsPerMetre: denser !== undefined && denser > strip.ledsPerMetre ? denser : undefined,
  };
}

/** What decides where an area's darkest place is not one between endless rows. */
const decider = ({ acrossMm }: Rows, isDarkestAtEdge: boolean): string => {
  if (!isDarkestAtEdge) return 'it is darkest inside, where rows leave gaps. More rows there would help';
  return acrossMm === undefined
    ? 'it is darkest at its ends. Rows that go on beyond them would help'
    : 'it is darkest at its edge. More rows, or rows nearer its edge, would help';
};

/** What endless rows would need at the present gap. */
function rowWords({ widestRowsMm, ledsPerMetre }: Advice): string {
  const ways = [
    widestRowsMm === undefined
      ? undefined
      : `rows at most ${(Math.floor(widestRowsMm * 10) / 10).toFixed(1)} mm apart`,
    ledsPerMetre === undefined ? undefined : `${ledsPerMetre} LEDs per m`,
  ].filter((way) => way !== undefined);
  return ways.length === 0 ? '' : ` At this gap endless rows need ${ways.join(', or ')}.`;
}

/**
 * What would make an area reach the aim, checked against its own curve: "To reach 0.90 here: air gap of 24 mm." Where no gap of the curve does, what
 * decides: its edge, gaps between its rows, or that rows lie too far apart for any of these gaps.
 * @param curve not empty; the present gap is one of its points
 */
export function adviceWords(
  aim: number,
  { rows, ...advice }: Advice & { readonly rows: Rows },
  airGapMm: number,
  curve: readonly AtGap[],
): string {
  const target = aim.toFixed(2);
  const [reaching] = curve
    .filter(({ minByMean }) => minByMean >= aim)
    .sort((a, b) => Math.abs(a.airGapMm - airGapMm) - Math.abs(b.airGapMm - airGapMm));
  const areRowsEven = advice.now.minByMean >= aim;
  const forRows = areRowsEven ? '' : rowWords(advice);
  if (reaching) return `To reach ${target} here: air gap of ${reaching.airGapMm} mm.${forRows}`;
  const best = curve.reduce((most, at) => (at.minByMean > most.minByMean ? at : most));
  const most = `No air gap reaches ${target} here (${best.minByMean.toFixed(2)} at ${best.airGapMm} mm)`;
  // Even endless rows are uneven at the gap where this area is most even.
  if (ripple(rows.alongMm, rows.acrossMm, best.airGapMm).minByMean < aim && rows.acrossMm !== undefined)
    return `${most}. Its rows lie too far apart: more between them would help.${forRows}`;
  return `${most}: ${decider(rows, best.isDarkestAtEdge)}.`;
}
