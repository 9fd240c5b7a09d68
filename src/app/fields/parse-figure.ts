// What a builder types into a field as a number. Comma and point both stand before the decimals; blanks may set thousands apart, and the field's
// own unit may follow. Anything else is no number: guessing would put a wrong figure into the document.

/** Thousands are set apart in threes; a lone group of any length is a number too. */
const figurePattern = /^([+-]?)(\d{1,3}(?:\s\d{3})+|\d*)(?:[.,](\d*))?$/;

/** Undefined where it can't be read; powers of ten (`1e2`) are not read. */
export function parseFigure(text: string, unit?: string): number | undefined {
  let bare = text.trim().replaceAll('\u2212', '-');
  if (unit !== undefined && bare.toLowerCase().endsWith(unit.toLowerCase()))
    bare = bare.slice(0, -unit.length).trimEnd();
  const [, sign, whole = '', decimals = ''] = figurePattern.exec(bare) ?? [];
  if (sign === undefined || whole + decimals === '') return undefined;
  const size = Number(`${whole.replaceAll(/\s/g, '') || '0'}.${decimals || '0'}`);
  return sign === '-' && size !== 0 ? -size : size;
}

/** What of a typed figure a field takes: rounded to the digits that it shows, inside its range; undefined where it can't be taken. */
export function takenFigure(text: string, { unit, digits, least, most }: FigureRange): number | undefined {
  const typed = parseFigure(text, unit);
  if (typed === undefined) return undefined;
  const rounded = roundedTo(typed, digits);
  return rounded >= (least ?? -Infinity) && rounded <= (most ?? Infinity) ? rounded : undefined;
}

export interface FigureRange {
  readonly unit?: string | undefined;
  /** Digits behind the point. */
  readonly digits: number;
  readonly least?: number | undefined;
  readonly most?: number | undefined;
}

/** Why a field doesn't take a figure as it is typed; undefined where it takes it. */
export const refusalInWords = (text: string, range: FigureRange): string | undefined =>
  takenFigure(text, range) === undefined ? `Not taken: ${rangeInWords(range)} is wanted` : undefined;

/** + 0, since nobody wants to read -0. */
export const roundedTo = (value: number, digits: number): number => Number(value.toFixed(digits)) + 0;

/** "a number from 1 to 500 mm" */
export function rangeInWords({ unit, digits, least, most }: FigureRange): string {
  const what = digits === 0 ? 'a whole number' : 'a number';
  const withUnit = (value: number) => (unit === undefined ? String(value) : `${value} ${unit}`);
  if (least !== undefined && most !== undefined) return `${what} from ${least} to ${withUnit(most)}`;
  if (least !== undefined) return `${what} from ${withUnit(least)} up`;
  return most === undefined ? what : `${what} up to ${withUnit(most)}`;
}
