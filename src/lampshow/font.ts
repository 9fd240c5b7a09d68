// The letters that lit text is set in, drawn for this project as art of '#' (lit) and '.' (dark): one height of five rows, one of seven.
// Capitals, figures and marks; small letters are shown as capitals. Widths are each letter's own.
// Not here: where letters lie on an area (letters.ts).

export type FontRows = 5 | 7;

/** A column of dots: bit 0 is the top row. */
type Column = number;

interface Sheet {
  /** One character for each drawing of the sheet. */
  readonly characters: string;
  /** Rows from the top; drawings stand side by side with a blank between them. */
  readonly rows: readonly string[];
}

const fiveRows: readonly Sheet[] = [
  {
    characters: 'ABCDEFGHIJ',
    rows: [
      '.#. ##. .## ##. ### ### .### #.# ### ..#',
      '#.# #.# #.. #.# #.. #.. #... #.# .#. ..#',
      '### ##. #.. #.# ##. ##. #.## ### .#. ..#',
      '#.# #.# #.. #.# #.. #.. #..# #.# .#. #.#',
      '#.# ##. .## ##. ### #.. .### #.# ### .#.',
    ],
  },
  {
    characters: 'KLMNOPQRS',
    rows: [
      '#..# #.. #...# #..# .##. ##. .##. ##. .##',
      '#.#. #.. ##.## ##.# #..# #.# #..# #.# #..',
      '##.. #.. #.#.# #.## #..# ##. #..# ##. .#.',
      '#.#. #.. #...# #..# #..# #.. #.#. #.# ..#',
      '#..# ### #...# #..# .##. #.. .#.# #.# ##.',
    ],
  },
  {
    characters: 'TUVWXYZ',
    rows: [
      '### #.# #.# #...# #.# #.# ###',
      '.#. #.# #.# #...# #.# #.# ..#',
      '.#. #.# #.# #.#.# .#. .#. .#.',
      '.#. #.# #.# ##.## #.# .#. #..',
      '.#. ### .#. #...# #.# .#. ###',
    ],
  },
  {
    characters: '0123456789',
    rows: [
      '### .#. ##. ##. #.# ### .## ### ### ###',
      '#.# ##. ..# ..# #.# #.. #.. ..# #.# #.#',
      '#.# .#. .#. .#. ### ##. ### ..# ### ###',
      '#.# .#. #.. ..# ..# ..# #.# .#. #.# ..#',
      '### ### ### ##. ..# ##. ### .#. ### ##.',
    ],
  },
  {
    characters: '.,!?-:\'"+/',
    rows: [
      '. .. # ##. ... . # #.# ... ..#',
      '. .. # ..# ... # # #.# .#. ..#',
      '. .. # .#. ### . . ... ### .#.',
      '. .# . ... ... # . ... .#. #..',
      '# #. # .#. ... . . ... ... #..',
    ],
  },
  {
    characters: '&%#*()',
    rows: [
      '.##.. #.# .#.#. ... .# #.',
      '#..#. ..# ##### #.# #. .#',
      '.##.. .#. .#.#. .#. #. .#',
      '#..## #.. ##### #.# #. .#',
      '.##.# #.# .#.#. ... .# #.',
    ],
  },
];

const sevenRows: readonly Sheet[] = [
  {
    characters: 'ABCDEFGHIJ',
    rows: [
      '.###. ####. .###. ####. ##### ##### .###. #...# ### ...#',
      '#...# #...# #...# #...# #.... #.... #...# #...# .#. ...#',
      '#...# #...# #.... #...# #.... #.... #.... #...# .#. ...#',
      '##### ####. #.... #...# ####. ####. #.### ##### .#. ...#',
      '#...# #...# #.... #...# #.... #.... #...# #...# .#. ...#',
      '#...# #...# #...# #...# #.... #.... #...# #...# .#. #..#',
      '#...# ####. .###. ####. ##### #.... .###. #...# ### .##.',
    ],
  },
  {
    characters: 'KLMNOPQRS',
    rows: [
      '#...# #... #...# #...# .###. ####. .###. ####. .####',
      '#..#. #... ##.## ##..# #...# #...# #...# #...# #....',
      '#.#.. #... #.#.# ##..# #...# #...# #...# #...# #....',
      '##... #... #.#.# #.#.# #...# ####. #...# ####. .###.',
      '#.#.. #... #...# #..## #...# #.... #.#.# #.#.. ....#',
      '#..#. #... #...# #..## #...# #.... #..#. #..#. ....#',
      '#...# #### #...# #...# .###. #.... .##.# #...# ####.',
    ],
  },
  {
    characters: 'TUVWXYZ',
    rows: [
      '##### #...# #...# #...# #...# #...# #####',
      '..#.. #...# #...# #...# #...# #...# ....#',
      '..#.. #...# #...# #...# .#.#. .#.#. ...#.',
      '..#.. #...# #...# #.#.# ..#.. ..#.. ..#..',
      '..#.. #...# .#.#. #.#.# .#.#. ..#.. .#...',
      '..#.. #...# .#.#. ##.## #...# ..#.. #....',
      '..#.. .###. ..#.. #...# #...# ..#.. #####',
    ],
  },
  {
    characters: '0123456789',
    rows: [
      '.##. .#. .##. ###. ...# #### .##. #### .##. .##.',
      '#..# ##. #..# ...# ..## #... #... ...# #..# #..#',
      '#..# .#. ...# ...# .#.# ###. #... ...# #..# #..#',
      '#..# .#. ..#. .##. #..# ...# ###. ..#. .##. .###',
      '#..# .#. .#.. ...# #### ...# #..# ..#. #..# ...#',
      '#..# .#. #... ...# ...# #..# #..# .#.. #..# ...#',
      '.##. ### #### ###. ...# .##. .##. .#.. .##. .##.',
    ],
  },
  {
    characters: '.,!?-:\'"+/',
    rows: [
      '. .. # .##. ... . # #.# ..... ....#',
      '. .. # #..# ... . # #.# ..#.. ...#.',
      '. .. # ...# ... # . ... ..#.. ...#.',
      '. .. # ..#. ### . . ... ##### ..#..',
      '. .. # .#.. ... # . ... ..#.. .#...',
      '. .# . .... ... . . ... ..#.. .#...',
      '# #. # .#.. ... . . ... ..... #....',
    ],
  },
  {
    characters: '&%#*()',
    rows: [
      '.##.. ##..# .#.#. ..... ..# #..',
      '#..#. ##..# .#.#. ..#.. .#. .#.',
      '#..#. ...#. ##### #.#.# #.. ..#',
      '.##.. ..#.. .#.#. .###. #.. ..#',
      '#..#. .#... ##### #.#.# #.. ..#',
      '#..## #..## .#.#. ..#.. .#. .#.',
      '.##.# #..## .#.#. ..... ..# #..',
    ],
  },
];

/** Dark columns of a space, beside the dark column on each side of it. */
const spaceColumns: Readonly<Record<FontRows, number>> = { 5: 2, 7: 3 };

function columnsOf(drawing: readonly string[]): Column[] {
  return Array.from({ length: drawing[0]!.length }, (_, column) =>
    drawing.reduce((bits, row, r) => bits | (row.charAt(column) === '#' ? 1 << r : 0), 0),
  );
}

function fontOf(sheets: readonly Sheet[]): Map<string, readonly Column[]> {
  const font = new Map<string, readonly Column[]>();
  for (const { characters, rows } of sheets) {
    const drawings = rows.map((row) => row.split(' '));
    for (const [c, character] of [...characters].entries())
      font.set(character, columnsOf(drawings.map((row) => row[c]!)));
  }
  return font;
}

/** The drawings as they stand above, for looking at them one by one. */
export const fontSheets: Readonly<Record<FontRows, readonly Sheet[]>> = { 5: fiveRows, 7: sevenRows };

/** Each character's columns from the left. */
export const fonts: Readonly<Record<FontRows, ReadonlyMap<string, readonly Column[]>>> = {
  5: fontOf(fiveRows).set(
    ' ',
    Array.from({ length: spaceColumns[5] }, () => 0),
  ),
  7: fontOf(sevenRows).set(
    ' ',
    Array.from({ length: spaceColumns[7] }, () => 0),
  ),
};

/**
 * Text as columns of dots from the left, one dark column between letters.
 * @throws if the text has a character that is not drawn; the project's schema allows none
 */
export function textColumns(text: string, rows: FontRows): Uint8Array {
  const font = fonts[rows];
  const columns: Column[] = [];
  for (const character of text.toUpperCase()) {
    const drawing = font.get(character);
    if (!drawing) throw new Error(`no letter is drawn for ${JSON.stringify(character)}`);
    if (columns.length > 0) columns.push(0);
    columns.push(...drawing);
  }
  return Uint8Array.from(columns);
}
