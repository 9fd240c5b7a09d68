// What fields make of what is typed. Expected values: decimal comma and decimal point mean the same, as both are written in Europe; a figure that
// isn't one in plain digits is not taken.
import { describe, expect, test } from 'vitest';
import {
  parseFigure,
  rangeInWords,
  refusalInWords,
  roundedTo,
  takenFigure,
} from '../../src/app/fields/parse-figure.ts';

describe('figures as they are typed', () => {
  test.each([
    ['1.5', 1.5],
    ['1,5', 1.5],
    ['-5', -5],
    ['\u22125,25', -5.25],
    ['+5', 5],
    ['.5', 0.5],
    [',5', 0.5],
    ['5.', 5],
    ['007', 7],
    ['  12  ', 12],
    ['12 mm', 12],
    ['12mm', 12],
    ['12,5 MM ', 12.5],
    ['1 000', 1000],
    ['1\u00a0000\u00a0000,5', 1_000_000.5],
    ['-0', 0],
  ])('"%s" is %d', (text, value) => {
    expect(parseFigure(text, 'mm')).toBe(value);
  });

  test.each([
    '',
    ' ',
    '-',
    '.',
    ',',
    'abc',
    '1e2',
    '0x10',
    'Infinity',
    'NaN',
    '1.2.3',
    '1.234,5',
    '1 00',
    '12 cm',
    'mm',
    '--5',
    '5-',
    '3 + 4',
  ])('"%s" is none', (text) => {
    expect(parseFigure(text, 'mm')).toBeUndefined();
  });

  test('a field without a unit takes none', () => {
    expect(parseFigure('12 mm')).toBeUndefined();
  });
});

describe('figures that a field takes', () => {
  const gap = { unit: 'mm', digits: 1, least: 0.1, most: 500 };

  test('both ends of the range count, beyond them nothing is taken', () => {
    expect(['0,1', '500', '0', '500,1', '-20'].map((text) => takenFigure(text, gap))).toEqual([
      0.1,
      500,
      undefined,
      undefined,
      undefined,
    ]);
  });

  test('digits that the field doesn’t show are rounded off', () => {
    expect(takenFigure('12,34', gap)).toBe(12.3);
    expect(takenFigure('2.6', { digits: 0 })).toBe(3);
    expect(Object.is(roundedTo(-0.04, 1), 0)).toBe(true);
  });

  test('a figure is refused exactly where it isn’t taken, and the words say what is wanted', () => {
    const refused = 'Not taken: a number from 0.1 to 500 mm is wanted';
    expect(['', 'abc', '0', '500.1'].map((text) => refusalInWords(text, gap))).toEqual([
      refused,
      refused,
      refused,
      refused,
    ]);
    expect(['0.1', '500', '12,34 mm'].map((text) => refusalInWords(text, gap))).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
  });

  test('the range is told in words', () => {
    expect(rangeInWords(gap)).toBe('a number from 0.1 to 500 mm');
    expect(rangeInWords({ digits: 0, least: 1 })).toBe('a whole number from 1 up');
    expect(rangeInWords({ digits: 0 })).toBe('a whole number');
  });
});
