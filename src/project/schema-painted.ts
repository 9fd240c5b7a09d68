// Schema of the two effects that are drawn instead of worked out: painted frames and letters.
// What a schema can't say of them (cells that fit the grid, colours that the palette has) stands in rules-painted.ts.
import type { FromSchema } from 'json-schema-to-ts';
import { arrayOf, object } from './schema-parts.ts';

export const paintedLimits = {
  /** Columns, and rows: finer than the LEDs of a panel lie, but for one or two rows. */
  cells: 64,
  /** At 4 bits an LED, 250 frames of 100 LEDs fill half of a small board's flash. */
  frames: 250,
  /** A cell names its colour with one digit, which is 4 bits in the show data. */
  colours: 16,
  /** 60 wide letters are 360 columns: half a minute at a speed that can be read. */
  text: 60,
} as const;

const side = { type: 'integer', minimum: 1, maximum: paintedLimits.cells } as const;

const frame = object(
  {
    holdMs: { type: 'integer', minimum: 20, maximum: 60_000, description: 'How long it is shown' },
    fadeMs: {
      type: 'integer',
      minimum: 0,
      maximum: 60_000,
      description: 'At its end it turns into the next frame for so long, within its hold; 0 where absent',
    },
    cells: {
      type: 'string',
      pattern: `^[0-9a-f]{1,${paintedLimits.cells ** 2}}$`,
      description: 'A digit a cell, row by row from the top left: its colour in the palette, 0 to f',
    },
  },
  ['holdMs', 'cells'],
);

export const paintedEffect = object(
  {
    kind: { const: 'painted' },
    columns: side,
    rows: side,
    palette: {
      ...arrayOf({ type: 'string', pattern: '^#[0-9a-fA-F]{6}$' } as const, paintedLimits.colours),
      minItems: 1,
    },
    frames: {
      ...arrayOf(frame, paintedLimits.frames),
      minItems: 1,
      description: 'One after the other; behind the last comes the first again',
    },
  },
  ['kind', 'columns', 'rows', 'palette', 'frames'],
  'Painted frames: a grid of colours stretched over the LEDs of the area',
);

/** How tall letters can be, in rows of LEDs: two drawn heights, each also twice as large. */
export const letterHeights = [5, 7, 10, 14] as const;

export const lettersEffect = object(
  {
    kind: { const: 'letters' },
    text: {
      type: 'string',
      pattern: `^[A-Za-z0-9 .,!?:'"+/&%#*()-]{1,${paintedLimits.text}}$`,
      description: 'Small letters are shown as capitals',
    },
    passSeconds: {
      type: 'number',
      minimum: 0.2,
      maximum: 600,
      description: 'From the first letter coming in to the last one going out; the text stays where absent',
    },
    travel: { enum: ['left', 'right'], description: 'Where the text goes; left where absent' },
    letterRows: {
      enum: letterHeights,
      description: 'Rows of LEDs that a letter is tall; as many as the area has room for where absent',
    },
  },
  ['kind', 'text'],
  'Letters on an area of at least five near-even rows; the gradient lies across the area',
);

export type PaintedEffect = FromSchema<typeof paintedEffect>;
export type PaintedFrame = PaintedEffect['frames'][number];
export type LettersEffect = FromSchema<typeof lettersEffect>;
export type LetterHeight = (typeof letterHeights)[number];
