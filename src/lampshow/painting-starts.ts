// What painting begins with: letters turned into frames to paint over, a dark first frame, and palettes out of gradients.
// Not here: how the player shows letters themselves (letters.ts).
import type { PointMm } from '../panel/index.ts';
import {
  cellsOfOne,
  type Gradient,
  type LettersEffect,
  type PaintedEffect,
  type PaintedFrame,
  paintedCells,
  paintedLimits,
} from '../project/index.ts';
import { cellsOf } from './cells.ts';
import { textColumns } from './font.ts';
import { gradientColour } from './gradients.ts';
import { fitLetters } from './letters.ts';
import { gridFor } from './paint-grid.ts';
import { hexColour, oklabOfColour } from './palette.ts';

const black = '#000000';
/** Held for so long where the text stays. */
const stillMs = 1000;
const holdLimits = { leastMs: 20, mostMs: 60_000 } as const;

const hexOf = (levels: readonly number[]): string =>
  hexColour(levels.reduce((code, level) => code * 256 + Math.round(level), 0));

/** Black, and so many colours of the gradient from its beginning to its end; fewer where some are equal. */
function paletteOfGradient(gradient: Pick<Gradient, 'stops'>, most: number) {
  const places = Array.from({ length: most }, (_, i) => (most === 1 ? 0 : i / (most - 1)));
  const colours = places.map((place) => hexOf(gradientColour(gradient, place)));
  const palette: [string, ...string[]] = [black];
  for (const colour of colours) if (!palette.includes(colour)) palette.push(colour);
  return { palette, numbers: colours.map((colour) => palette.indexOf(colour)) };
}

/**
 * Painted frames that show what these letters show, on a grid that suits the area: one where the text stays, else one for each column that the text
 * moves on (or every second, third..., where they would be too many), each turning into the next for as long as it is held. Undefined where letters
 * can't be laid on the area.
 */
export function lettersAsFrames(
  effect: LettersEffect,
  gradient: Pick<Gradient, 'stops'>,
  leds: readonly PointMm[],
): PaintedEffect | undefined {
  const fit = fitLetters(leds, effect.letterRows);
  if (!fit.fits) return undefined;
  const { columnCount, dots, fontRows } = fit.value;
  const text = textColumns(effect.text, fontRows);
  const grid = gridFor(leds);
  const cells = cellsOf(leds, grid);
  const { palette, numbers } = paletteOfGradient(gradient, paintedLimits.colours - 1);
  const colourOf = (column: number): number =>
    numbers[Math.round(((numbers.length - 1) * column) / Math.max(1, columnCount - 1))]!;
  /** With the text's first column at this column of the area. */
  const frameAt = (first: number): string => {
    let frame = cellsOfOne(grid);
    for (let colour = 1; colour < palette.length; colour++) {
      const lit = dots.flatMap((dot, led) => {
        if (!dot || colourOf(dot.column) !== colour) return [];
        const isLit = ((text[dot.column - first] ?? 0) >> dot.row) & 1;
        const cell = cells[led]!;
        return isLit ? [{ column: cell % grid.columns, row: Math.floor(cell / grid.columns) }] : [];
      });
      frame = paintedCells(frame, grid, lit, colour);
    }
    return frame;
  };
  const made = (frames: readonly PaintedFrame[]): PaintedEffect => ({
    kind: 'painted',
    ...grid,
    palette,
    frames: frames as PaintedEffect['frames'],
  });
  if (effect.passSeconds === undefined) {
    const first = Math.max(0, Math.floor((columnCount - text.length) / 2));
    return made([{ holdMs: stillMs, cells: frameAt(first) }]);
  }
  const steps = columnCount + text.length;
  const each = Math.ceil(steps / paintedLimits.frames);
  const count = Math.ceil(steps / each);
  const holdMs = Math.min(
    holdLimits.mostMs,
    Math.max(holdLimits.leastMs, Math.round((1000 * effect.passSeconds * each) / steps)),
  );
  // A pass begins with the text just outside the area, on the side that it comes from.
  const gone = (frame: number) => (effect.travel === 'right' ? steps - frame * each : frame * each);
  const places = Array.from({ length: count }, (_, frame) => columnCount - gone(frame));
  return made(places.map((first) => ({ holdMs, fadeMs: holdMs, cells: frameAt(first) })));
}

/** Colours that a clip's painting begins with: black, and three of its gradient, the brightest first; 2 bits an LED hold them. */
export function firstPalette(gradient: Pick<Gradient, 'stops'>): [string, ...string[]] {
  const [dark, ...colours] = paletteOfGradient(gradient, 3).palette;
  return [dark, ...colours.sort((a, b) => lightnessOf(b) - lightnessOf(a))];
}

const lightnessOf = (colour: string): number => oklabOfColour(Number.parseInt(colour.slice(1), 16))[0];

/** So many colours of a gradient, from its beginning to its end. */
export const coloursOfGradient = (gradient: Pick<Gradient, 'stops'>, count: number): string[] =>
  paletteOfGradient(gradient, count).palette.slice(1);

/** What a clip begins with that is to be painted: one dark frame on a grid near the area's own rows and columns. */
export function firstPainting(gradient: Pick<Gradient, 'stops'>, leds: readonly PointMm[]): PaintedEffect {
  const grid = gridFor(leds);
  return {
    kind: 'painted',
    ...grid,
    palette: firstPalette(gradient),
    frames: [{ holdMs: 500, cells: cellsOfOne(grid) }],
  };
}

/** The number of the palette's darkest colour, which erases. */
export function darkestOf(palette: readonly string[]): number {
  const lights = palette.map(lightnessOf);
  return lights.indexOf(Math.min(...lights));
}
