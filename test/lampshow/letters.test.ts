// Letters: the drawings, where they lie on an area, the bytes, and what the player's rule makes of them.
// The player's rule, as show_data.h and effects.h tell it: an LED is lit where the text's column (the LED's own + first + columns passed, modulo
// 65,536) has the bit of the LED's row; behind the text's last column all is dark.
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ByteWriter } from '../../src/lampshow/byte-writer.ts';
import { type FontRows, fontSheets, fonts, textColumns } from '../../src/lampshow/font.ts';
import { fitLetters, letterMap, lettersFault, writeLetters } from '../../src/lampshow/letters.ts';
import { layOut, type PointMm } from '../../src/panel/index.ts';
import type { LetterHeight, LettersEffect } from '../../src/project/index.ts';
import { lettersEffect } from '../../src/project/schema-painted.ts';
import { root } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const fontRows: readonly FontRows[] = [5, 7];
const letters = (parts: Partial<LettersEffect>): LettersEffect => ({ kind: 'letters', text: 'I', ...parts });

/** Rows at these heights, all LEDs 10 mm apart. */
const gridOf = (heightsMm: readonly number[], columns: number): PointMm[] =>
  heightsMm.flatMap((yMm) => Array.from({ length: columns }, (_, c) => ({ xMm: 5 + 10 * c, yMm })));
const even = (rows: number, distanceMm = 20): number[] =>
  Array.from({ length: rows }, (_, r) => distanceMm * r);

function fitted(leds: readonly PointMm[], letterRows?: LetterHeight) {
  const fit = fitLetters(leds, letterRows);
  if (!fit.fits) throw new Error(fit.fault.message);
  return fit.value;
}
const faultOf = (leds: readonly PointMm[], letterRows?: LetterHeight) => {
  const fit = fitLetters(leds, letterRows);
  return fit.fits ? undefined : fit.fault;
};

/** The text's columns as rows of '#' and '.'. */
const drawn = (columns: Uint8Array, rows: number): string[] =>
  Array.from({ length: rows }, (_, row) =>
    Array.from(columns, (column) => ((column >> row) & 1 ? '#' : '.')).join(''),
  );

/** The parameters and letters that are written, read as effects.h names them. */
function written(effect: LettersEffect, leds: readonly PointMm[]) {
  const to = new ByteWriter();
  let put = new Uint8Array();
  writeLetters(effect, to, leds, (bytes) => {
    put = Uint8Array.from(bytes);
    return 0x1234;
  });
  const view = new DataView(to.bytes().buffer);
  return {
    rate: view.getInt32(0, true),
    passColumns: view.getUint16(4, true),
    first: view.getUint16(6, true),
    bandGain: view.getUint8(8),
    offset: view.getUint16(9, true),
    length: to.length,
    columnCount: new DataView(put.buffer).getUint16(0, true),
    columns: put.subarray(2),
  };
}

/** Which LEDs are lit once so many whole columns have passed, by the player's rule. */
function lit(effect: LettersEffect, leds: readonly PointMm[], passed: number): boolean[] {
  const { first, columns } = written(effect, leds);
  const map = letterMap(effect, leds);
  return leds.map((_, led) => {
    const column = (map[2 * led]! + first + passed) & 0xffff;
    return ((columns[column] ?? 0) & map[2 * led + 1]!) !== 0;
  });
}

/** LEDs of a grid made by gridOf as rows of '#' and '.'. */
const shown = (states: readonly boolean[], columns: number): string[] =>
  Array.from({ length: states.length / columns }, (_, row) =>
    states
      .slice(row * columns, (row + 1) * columns)
      .map((state) => (state ? '#' : '.'))
      .join(''),
  );

describe('[LET1] the drawings', () => {
  test.each(fontRows)(
    'of %i rows are whole: as many rows as told, of one width, lit and dark alone',
    (rows) => {
      for (const sheet of fontSheets[rows]) {
        expect(sheet.rows).toHaveLength(rows);
        const drawings = sheet.rows.map((row) => row.split(' '));
        for (const [c, character] of [...sheet.characters].entries()) {
          const widths = new Set(drawings.map((row) => row[c]!.length));
          expect([character, widths.size]).toEqual([character, 1]);
          for (const row of drawings) expect(row[c]).toMatch(/^[#.]+$/);
        }
        for (const row of drawings) expect(row).toHaveLength(sheet.characters.length);
      }
    },
  );

  test.each(fontRows)('of %i rows have no dark first or last column, and no two are equal', (rows) => {
    const known = new Map<string, string>();
    for (const [character, columns] of fonts[rows]) {
      if (character === ' ') continue;
      expect([character, columns[0] !== 0, columns.at(-1) !== 0]).toEqual([character, true, true]);
      const key = columns.join();
      expect([character, known.get(key)]).toEqual([character, undefined]);
      known.set(key, character);
    }
    // 26 letters, 10 figures, 16 marks.
    expect(known.size).toBe(52);
  });

  test('fit the height: some letter reaches the lowest row, none goes beyond it', () => {
    for (const rows of fontRows) {
      const all = [...fonts[rows].values()].flat().reduce((bits, column) => bits | column, 0);
      expect(all).toBe(2 ** rows - 1);
    }
  });

  test('are there for every character that the schema allows, and for no other', () => {
    const allowed = new RegExp(lettersEffect.properties.text.pattern);
    for (const rows of fontRows)
      for (let code = 0; code < 0x250; code++) {
        const character = String.fromCharCode(code);
        const isDrawn = fonts[rows].has(character.toUpperCase()) && character.toUpperCase().length === 1;
        expect([character, allowed.test(character)]).toEqual([character, isDrawn && code < 128]);
      }
  });

  test('[L-5] stand in a text with one dark column between them; small letters are capitals', () => {
    expect(drawn(textColumns('Li!', 5), 5)).toEqual([
      '#...###.#',
      '#....#..#',
      '#....#..#',
      '#....#...',
      '###.###.#',
    ]);
    expect(textColumns('jackpot', 7)).toEqual(textColumns('JACKPOT', 7));
    // The schema allows no such letter, so meeting one is a fault of ours.
    expect(() => textColumns('~', 5)).toThrow('no letter');
  });

  test('part words by more than they part letters', () => {
    for (const rows of fontRows) {
      const apart = textColumns('I I', rows).length - textColumns('II', rows).length;
      expect(apart).toBeGreaterThanOrEqual(3);
    }
  });
});

describe('[LET2] rows and columns of an area', () => {
  const heights: readonly [rows: number, font: FontRows, dotLeds: number, above: number][] = [
    [5, 5, 1, 0],
    [6, 5, 1, 0],
    [7, 7, 1, 0],
    [9, 7, 1, 1],
    [10, 5, 2, 0],
    [12, 5, 2, 1],
    [13, 5, 2, 1],
    [14, 7, 2, 0],
    [17, 7, 2, 1],
  ];
  test.each(heights)(
    '%i rows take the font of %i, %i LEDs a dot, %i rows left above',
    (rows, font, dotLeds, above) => {
      const { fontRows: taken, dots, columnCount } = fitted(gridOf(even(rows), 12));
      expect([taken, columnCount]).toEqual([font, 12 / dotLeds]);
      for (let row = 0; row < rows; row++)
        for (let column = 0; column < 12; column++) {
          const inside = row >= above && row < above + font * dotLeds;
          expect(dots[row * 12 + column]).toEqual(
            inside
              ? { row: Math.floor((row - above) / dotLeds), column: Math.floor(column / dotLeds) }
              : undefined,
          );
        }
    },
  );

  test('[L-3] a height that is asked for is taken, and refused where there are too few rows', () => {
    const twelve = gridOf(even(12), 8);
    expect(fitted(twelve, 5)).toMatchObject({ fontRows: 5, columnCount: 8 });
    expect(fitted(twelve, 7)).toMatchObject({ fontRows: 7, columnCount: 8 });
    expect(faultOf(twelve, 14)).toMatchObject({ severity: 'error', code: 'letters-rows' });
    expect(faultOf(twelve, 14)?.message).toContain('14 rows');
  });

  test('[L-3] four rows are refused', () => {
    expect(faultOf(gridOf(even(4), 8))).toMatchObject({ severity: 'error', code: 'letters-rows' });
    expect(faultOf([])).toMatchObject({ code: 'letters-rows' });
  });

  test('[L-2] distances within 25 % of one are near-even, others are not', () => {
    // All within 25 % of 20 mm: from 15 to 25.
    const near = [0, 15, 40, 55, 80];
    expect(fitted(gridOf(near, 8)).fontRows).toBe(5);
    // 25.2 is more than 25 % over any distance of which 15 is at most 25 % under.
    expect(faultOf(gridOf([0, 15, 40.2, 55.2, 80.4], 8))).toMatchObject({ code: 'letters-rows' });
  });

  test('a row far away is left out, and the text lies in the middle of the others', () => {
    const { dots } = fitted(gridOf([0, ...even(6).map((y) => y + 100)], 8));
    const rows = dots.map((dot) => dot?.row);
    expect(rows.slice(0, 8)).toEqual(Array(8).fill(undefined));
    expect(rows.slice(8, 16)).toEqual(Array(8).fill(0));
    expect(rows.slice(48)).toEqual(Array(8).fill(undefined));
  });

  test('[L-1] a row that leans is still one row', () => {
    // 12 LEDs 10 mm apart lean by 4 mm from end to end: under half of their distance.
    const leaning = even(5).flatMap((yMm) =>
      Array.from({ length: 12 }, (_, c) => ({ xMm: 10 * c, yMm: yMm + (4 * c) / 11 })),
    );
    expect(fitted(leaning).dots.map((dot) => dot?.row)).toEqual(
      Array.from({ length: 60 }, (_, led) => Math.floor(led / 12)),
    );
  });

  test('[L-1] rows nearer to each other than their LEDs are told apart', () => {
    const wide = even(5, 12).flatMap((yMm) =>
      Array.from({ length: 6 }, (_, c) => ({ xMm: (c * 1000) / 30, yMm })),
    );
    expect(fitted(wide).columnCount).toBe(6);
  });

  test('rows that are set off by half a column are told apart too', () => {
    const staggered = even(5, 12).flatMap((yMm, row) =>
      Array.from({ length: 6 }, (_, c) => ({ xMm: ((c + (row % 2) / 2) * 1000) / 30, yMm })),
    );
    const { dots, columnCount } = fitted(staggered);
    // The half is rounded up, so such a row begins a column later.
    expect(columnCount).toBe(7);
    expect(dots.map((dot) => [dot?.row, dot?.column])).toEqual(
      Array.from({ length: 30 }, (_, led) => [Math.floor(led / 6), (led % 6) + (Math.floor(led / 6) % 2)]),
    );
  });

  test('[L-4] a gap in a row moves no column, and rows may begin at different places', () => {
    const leds = gridOf(even(5), 10).filter(({ xMm, yMm }) => !(yMm === 40 && xMm < 60) && xMm !== 75);
    const { dots } = fitted(leds);
    expect(dots.map((dot) => dot?.column)).toEqual(leds.map(({ xMm }) => (xMm - 5) / 10));
  });

  test('one LED a row, or more columns than the player counts, is refused', () => {
    expect(faultOf(gridOf(even(5), 1))).toMatchObject({ code: 'letters-rows' });
    expect(fitted(gridOf(even(5), 256)).columnCount).toBe(256);
    expect(faultOf(gridOf(even(5), 257))).toMatchObject({ severity: 'error', code: 'letters-columns' });
    expect(fitted(gridOf(even(10), 400)).columnCount).toBe(200);
  });

  test('do not depend on the order of the LEDs', () => {
    const leds = gridOf([0, 18, 40, 61, 80, 99, 120], 9);
    const straight = fitted(leds).dots;
    fc.assert(
      fc.property(fc.shuffledSubarray([...leds.keys()], { minLength: leds.length }), (order) => {
        const shuffled = fitted(order.map((led) => leds[led]!)).dots;
        expect(shuffled).toEqual(order.map((led) => straight[led]));
      }),
      { numRuns: 30 },
    );
  });

  test('are found in rows of strip that go back and forth', () => {
    const { wireLeds } = layOut(projectOf({ runs: rowsOfStrip(210) }));
    const { dots, columnCount, fontRows: font } = fitted(wireLeds);
    expect([font, columnCount]).toEqual([7, 30]);
    for (let led = 0; led < 210; led++) {
      const row = Math.floor(led / 30);
      expect(dots[led]).toEqual({ row, column: row % 2 === 0 ? led % 30 : 29 - (led % 30) });
    }
  });
});

describe('[LET3] the bytes', () => {
  test('are as long as effects.h reads, and name what was put', () => {
    const player = readFileSync(`${root}/firmware-templates/player/effects.h`, 'utf8');
    expect(player).toContain(
      'letters: u32 passes/ms (8.24), u16 columns of a pass, u16 first column, u8 band gain, u16 offset of the letters',
    );
    const bytes = written(letters({ text: 'TILT', passSeconds: 2 }), gridOf(even(7), 16));
    expect([bytes.length, bytes.offset]).toEqual([11, 0x1234]);
    expect(bytes.columnCount).toBe(bytes.columns.length);
    // Dark columns as wide as the area on both sides, and one more to look into.
    const dark = Array.from({ length: 16 }, () => 0);
    expect([...bytes.columns]).toEqual([...dark, ...textColumns('TILT', 7), ...dark, 0]);
    // 2^24 / 2,000 ms; the text's columns and the area's 16; 15 columns take 255 of the 256 steps, 17 each.
    expect(bytes).toMatchObject({
      rate: 8389,
      passColumns: 16 + textColumns('TILT', 7).length,
      first: 0,
      bandGain: 17,
    });
    expect(written(letters({ passSeconds: 2, travel: 'right' }), gridOf(even(7), 16)).rate).toBe(-8389);
    expect(written(letters({}), gridOf(even(7), 16)).rate).toBe(0);
  });

  test('of a map are the column and the bit of the row, both 0 outside', () => {
    const map = letterMap(letters({}), gridOf(even(6), 3));
    expect([...map]).toEqual([
      ...[0, 1, 1, 1, 2, 1],
      ...[0, 2, 1, 2, 2, 2],
      ...[0, 4, 1, 4, 2, 4],
      ...[0, 8, 1, 8, 2, 8],
      ...[0, 16, 1, 16, 2, 16],
      ...[0, 0, 0, 0, 0, 0],
    ]);
  });

  test('light nothing where letters can not be laid', () => {
    const leds = gridOf(even(3), 8);
    expect([...letterMap(letters({ text: 'ABC' }), leds)]).toEqual(Array(48).fill(0));
    // As if the area were one column wide: a dark column on either side, and one to look into.
    expect(written(letters({ text: 'ABC' }), leds).columnCount).toBe(textColumns('ABC', 5).length + 3);
  });

  test('colour the whole width of an area, in 16 steps', () => {
    // Player's rule: colour = column x gain / 16, at most 15.
    for (const columns of [2, 3, 8, 16, 30, 36, 100]) {
      const { bandGain } = written(letters({}), gridOf(even(5), columns));
      const colour = (column: number) => Math.min(15, Math.floor((column * bandGain) / 16));
      expect(colour(0)).toBe(0);
      expect(colour(columns - 1)).toBeGreaterThanOrEqual(columns === 2 ? 8 : columns === 3 ? 10 : 12);
    }
  });
});

describe('[LET4] what is lit', () => {
  test('text that stays lies in the middle', () => {
    const leds = gridOf(even(7), 13);
    expect(shown(lit(letters({ text: 'Hi', letterRows: 5 }), leds, 0), 13)).toEqual([
      '.............',
      '...#.#.###...',
      '...#.#..#....',
      '...###..#....',
      '...#.#..#....',
      '...#.#.###...',
      '.............',
    ]);
  });

  test('and begins at the left where it is too wide, which is told', () => {
    const leds = gridOf(even(5), 6);
    const wide = letters({ text: 'LLL' });
    expect(shown(lit(wide, leds, 0), 6)[4]).toBe('###.##');
    expect(lettersFault(wide, leds)).toMatchObject({ severity: 'warning', code: 'letters-cut' });
    expect(lettersFault(letters({ text: 'LI' }), gridOf(even(5), 7))).toBeUndefined();
    expect(lettersFault(letters({ text: 'LLL', passSeconds: 3 }), leds)).toBeUndefined();
    expect(lettersFault(wide, gridOf(even(4), 6))).toMatchObject({ severity: 'error', code: 'letters-rows' });
  });

  test('twice as large, every dot is four LEDs', () => {
    const leds = gridOf(even(10), 6);
    expect(shown(lit(letters({ text: 'T' }), leds, 0), 6)).toEqual([
      ...Array(2).fill('######'),
      ...Array(8).fill('..##..'),
    ]);
  });

  test('[L-6] a pass begins and ends dark, and shows every column of the text at every column of the area', () => {
    fc.assert(
      fc.property(
        fc.stringMatching(new RegExp(lettersEffect.properties.text.pattern)),
        fc.integer({ min: 2, max: 40 }),
        fc.constantFrom<FontRows>(5, 7),
        (text, columns, rows) => {
          const leds = gridOf(even(rows), columns);
          const effect = letters({ text, passSeconds: 4, letterRows: rows });
          const { passColumns } = written(effect, leds);
          const picture = textColumns(text, rows);
          for (const passed of [0, 1, 2, Math.floor(passColumns / 2), passColumns - 1, passColumns]) {
            const states = lit(effect, leds, passed);
            for (let row = 0; row < rows; row++)
              for (let column = 0; column < columns; column++) {
                // The text's first column stands at column (area's width - passed).
                const wanted = ((picture[column - (columns - passed)] ?? 0) >> row) & 1;
                expect(states[row * columns + column]).toBe(wanted === 1);
              }
          }
          expect(lit(effect, leds, passColumns)).not.toContain(true);
          expect(lit(effect, leds, 0)).not.toContain(true);
        },
      ),
      { numRuns: 60 },
    );
  });
});
