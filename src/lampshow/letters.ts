// Letters on an area: which LEDs make its rows and columns, what the player knows of each LED, and the text's columns (Letters in show_data.h).
// Not here: the drawings of the letters (font.ts).
import type { PointMm } from '../panel/index.ts';
import { type Finding, type LetterHeight, type LettersEffect, letterHeights } from '../project/index.ts';
import { ByteWriter } from './byte-writer.ts';
import { type FontRows, textColumns } from './font.ts';
import { overWholeArea } from './maps.ts';

export type LettersFault = Pick<Finding, 'severity' | 'code' | 'message' | 'mend'>;

/** Where letters lie on an area. */
export interface LettersFit {
  readonly fontRows: FontRows;
  /** Columns of the font that the area has room for. */
  readonly columnCount: number;
  /** For each LED, in the order given: its column, and its row of the font from the top; undefined outside the letters' rows. */
  readonly dots: readonly ({ readonly column: number; readonly row: number } | undefined)[];
}

const fontOfHeight: Readonly<
  Record<LetterHeight, { readonly fontRows: FontRows; readonly ledsADot: number }>
> = {
  5: { fontRows: 5, ledsADot: 1 },
  7: { fontRows: 7, ledsADot: 1 },
  10: { fontRows: 5, ledsADot: 2 },
  14: { fontRows: 7, ledsADot: 2 },
};
/** Rows are near-even where some distance is within 25 % of each of theirs: then the greatest is at most 1.25 / 0.75 of the least. */
const mostUneven = 1.25 / 0.75;
/** Places of runs laid from left and from right differ in their last digits. */
const lastDigits = 1e-6;
/** An LED's column is one byte. */
const mostColumns = 256;

type Row = readonly number[];

const middleOf = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)] ?? 0;

/** Median distance (mm) from an LED to the nearest other one; 0 where there is only one. */
function nearestMm(leds: readonly PointMm[]): number {
  const down = leds.map((_, i) => i).sort((a, b) => leds[a]!.yMm - leds[b]!.yMm);
  const nearest = down.map((led, place) => {
    let best = Number.POSITIVE_INFINITY;
    for (const step of [-1, 1])
      for (let other = place + step; other >= 0 && other < down.length; other += step) {
        const dyMm = Math.abs(leds[down[other]!]!.yMm - leds[led]!.yMm);
        if (dyMm >= best) break;
        best = Math.min(best, Math.hypot(dyMm, leds[down[other]!]!.xMm - leds[led]!.xMm));
      }
    return best;
  });
  const middle = middleOf(nearest);
  return Number.isFinite(middle) ? middle : 0;
}

/** Rows from the top, each its LEDs from the left. A row ends where the next LED lies lower than its first by over half the LEDs' distance. */
export function ledRows(leds: readonly PointMm[]): Row[] {
  const toleranceMm = nearestMm(leds) / 2;
  const rows: number[][] = [];
  let topMm = Number.NEGATIVE_INFINITY;
  for (const led of leds.map((_, i) => i).sort((a, b) => leds[a]!.yMm - leds[b]!.yMm)) {
    const { yMm } = leds[led]!;
    if (yMm - topMm > toleranceMm) {
      rows.push([]);
      topMm = yMm;
    }
    rows.at(-1)!.push(led);
  }
  for (const row of rows) row.sort((a, b) => leds[a]!.xMm - leds[b]!.xMm);
  return rows;
}

/** The most neighbouring rows with near-even distances; of equal many, the upper ones. */
function evenRows(rows: readonly Row[], leds: readonly PointMm[]): readonly Row[] {
  const heightMm = (row: Row) => row.reduce((sum, led) => sum + leds[led]!.yMm, 0) / row.length;
  const heights = rows.map(heightMm);
  let best: readonly Row[] = rows.slice(0, 1);
  for (let first = 0; first + best.length < rows.length; first++) {
    let least = Number.POSITIVE_INFINITY;
    let greatest = 0;
    for (let next = first + 1; next < rows.length; next++) {
      const distance = heights[next]! - heights[next - 1]!;
      least = Math.min(least, distance);
      greatest = Math.max(greatest, distance);
      if (greatest > least * mostUneven + lastDigits) break;
      if (next - first + 1 > best.length) best = rows.slice(first, next + 1);
    }
  }
  return best;
}

/** Median distance (mm) between neighbours in rows; 0 where no row has two LEDs at different places. */
export const columnPitchMm = (rows: readonly Row[], leds: readonly PointMm[]): number =>
  middleOf(
    rows
      .flatMap((row) => row.slice(1).map((led, i) => leds[led]!.xMm - leds[row[i]!]!.xMm))
      .filter((distance) => distance > lastDigits),
  );

/** LEDs of a row set off by half a column all take the right one, whatever the last digit of their places. */
const nearestColumn = (columns: number): number => Math.floor(columns + 0.5 + lastDigits);

const tooFewRows = (wanted: number, found: number): LettersFault => ({
  severity: 'error',
  code: 'letters-rows',
  message: `Letters of ${wanted} rows need an area with so many near-even rows of LEDs; this one has ${found}. Nothing is lit.`,
  mend: 'Choose an area with more rows at even distances, or another effect.',
});

/**
 * Lays letters on the LEDs of an area, in the middle of its near-even rows. Where no height is asked for they are as tall as the rows allow.
 * The result doesn't depend on the order of the LEDs.
 */
export function fitLetters(leds: readonly PointMm[], letterRows?: LetterHeight): FittedLetters {
  let fitted: FittedLetters | undefined;
  const dots = overWholeArea(leds, (all) => {
    fitted = fitWhole(all, letterRows);
    return fitted.fits ? fitted.value.dots : all.map(() => undefined);
  });
  return fitted?.fits ? { fits: true, value: { ...fitted.value, dots } } : fitted!;
}

type FittedLetters =
  | { readonly fits: true; readonly value: LettersFit }
  | { readonly fits: false; readonly fault: LettersFault };

function fitWhole(leds: readonly PointMm[], letterRows: LetterHeight | undefined): FittedLetters {
  const even = evenRows(ledRows(leds), leds);
  const pitchMm = columnPitchMm(even, leds);
  const rowCount = pitchMm > 0 ? even.length : 0;
  const height = letterHeights.findLast(
    (one) => one <= rowCount && (letterRows === undefined || one === letterRows),
  );
  if (height === undefined) return { fits: false, fault: tooFewRows(letterRows ?? 5, rowCount) };
  const { fontRows, ledsADot } = fontOfHeight[height];
  const above = Math.floor((rowCount - height) / 2);
  const rows = even.slice(above, above + height);
  const leftMm = Math.min(...rows.map((row) => leds[row[0]!]!.xMm));
  const dots: ({ column: number; row: number } | undefined)[] = leds.map(() => undefined);
  let columnCount = 0;
  for (const [r, row] of rows.entries())
    for (const led of row) {
      const column = Math.floor(nearestColumn((leds[led]!.xMm - leftMm) / pitchMm) / ledsADot);
      columnCount = Math.max(columnCount, column + 1);
      dots[led] = { column, row: Math.floor(r / ledsADot) };
    }
  if (columnCount > mostColumns)
    return {
      fits: false,
      fault: {
        severity: 'error',
        code: 'letters-columns',
        message: `The area's rows are ${columnCount} columns wide; the player counts ${mostColumns}. Nothing is lit.`,
        mend: 'Choose a narrower area.',
      },
    };
  return { fits: true, value: { fontRows, columnCount, dots } };
}

/** What is worth telling of letters on an area: that they can't be laid there, or that text which stays doesn't fit. */
export function lettersFault(effect: LettersEffect, leds: readonly PointMm[]): LettersFault | undefined {
  const fit = fitLetters(leds, effect.letterRows);
  if (!fit.fits) return fit.fault;
  const wide = textColumns(effect.text, fit.value.fontRows).length;
  if (effect.passSeconds !== undefined || wide <= fit.value.columnCount) return undefined;
  return {
    severity: 'warning',
    code: 'letters-cut',
    message: `The text is ${wide} columns wide, the area ${fit.value.columnCount}; its end is cut off.`,
    mend: 'Shorten the text, or let it travel.',
  };
}

/** Two bytes an LED in the order given: its column, and the bit of its row in a column's byte; dark (0, 0) outside the letters' rows. */
export function letterMap({ letterRows }: LettersEffect, leds: readonly PointMm[]): Uint8Array {
  const fit = fitLetters(leds, letterRows);
  const map = new Uint8Array(2 * leds.length);
  if (!fit.fits) return map;
  for (const [led, dot] of fit.value.dots.entries()) if (dot) map.set([dot.column, 1 << dot.row], 2 * led);
  return map;
}

/** Passes a millisecond, 8.24 fixed point; to the right they count down. */
const passRate = ({ passSeconds, travel }: LettersEffect): number =>
  passSeconds === undefined
    ? 0
    : Math.round(((travel === 'right' ? -1 : 1) * 2 ** 24) / (1000 * passSeconds)) >>> 0;

/**
 * Writes the parameters of letters and puts their columns into the show data. A pass begins with the text just outside the area and takes the
 * widths of both; text that stays lies in the middle, or begins at the left where it is too wide.
 * @param put appends bytes and tells their offset
 */
export function writeLetters(
  effect: LettersEffect,
  to: ByteWriter,
  leds: readonly PointMm[],
  put: (bytes: Uint8Array) => number,
): void {
  const fit = fitLetters(leds, effect.letterRows);
  const { fontRows, columnCount } = fit.fits ? fit.value : { fontRows: 5 as const, columnCount: 1 };
  const text = textColumns(effect.text, fontRows);
  const stays = Math.max(0, Math.floor((columnCount - text.length) / 2));
  // Blank columns as wide as the area on both sides, and one for the column that is mixed in, so that the player never looks past them.
  const blank = new Uint8Array(columnCount);
  const letters = new ByteWriter();
  letters.u16(2 * columnCount + text.length + 1);
  letters.append(blank);
  letters.append(text);
  letters.append(blank);
  letters.u8(0);
  to.u32(passRate(effect));
  to.u16(columnCount + text.length);
  to.u16(effect.passSeconds === undefined ? columnCount - stays : 0);
  to.u8(Math.floor(255 / Math.max(1, columnCount - 1)));
  to.offset(put(letters.bytes()));
}
