// What would make an area even enough: a wider air gap, rows nearer to each other, or a denser strip. Taken from endless rows like the area's. Pure.
// Source of the sums: src/light/evenness-ripple.ts.
import { strips } from '../../../catalogue/index.ts';
import { gapFor, pitchFor, type Ripple, ripple, rowsFor } from '../../../light/index.ts';
import { type AreaLed, type Layout, type Led, nearestShare, type PlacedRun } from '../../../panel/index.ts';

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

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')}, or ${words.at(-1)}`;

/** "To reach 0.90: air gap at least 21.3 mm, or rows at most 18.0 mm apart, or 96 LEDs per m." Rounded to the side that holds. */
export function adviceWords(aim: number, { now, ...advice }: Advice): string {
  if (now.minByMean >= aim)
    return `Endless rows like these reach ${now.minByMean.toFixed(2)}: it is darker at the ends, and where rows leave gaps.`;
  const ways = [
    advice.leastGapMm === undefined
      ? undefined
      : `air gap at least ${(Math.ceil(advice.leastGapMm * 10) / 10).toFixed(1)} mm`,
    advice.widestRowsMm === undefined
      ? undefined
      : `rows at most ${(Math.floor(advice.widestRowsMm * 10) / 10).toFixed(1)} mm apart`,
    advice.ledsPerMetre === undefined ? undefined : `${advice.ledsPerMetre} LEDs per m`,
  ].filter((way) => way !== undefined);
  if (ways.length === 0) return `No gap, row spacing or strip alone reaches ${aim.toFixed(2)} here.`;
  return `To reach ${aim.toFixed(2)} here: ${listed(ways)}.`;
}
