// Edits of a clip's painted frames: their cells, their times and order, the palette, the grid. Each returns a recipe for history.ts and leaves the
// frames within their rules (rules-painted.ts). What a limit forbids, or what fits neither grid nor palette, is left undone.
import { withinSchema } from './bounds.ts';
import { type ClipPlace, clipOf } from './clip-parts.ts';
import { applyChange, partOf } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { digitOf, movedFrames, regriddedCells } from './painted-cells.ts';
import { type PaintedEffect, type PaintedFrame, paintedEffect, paintedLimits } from './schema-painted.ts';
import type { Project } from './types.ts';

const { columns: sideSchema, frames: framesSchema } = paintedEffect.properties;
const frameSchema = framesSchema.items;

function paintingOf(project: Project, place: ClipPlace): PaintedEffect {
  const { effect } = clipOf(project, place);
  if (effect.kind !== 'painted') throw new Error('no painted frames to edit in this clip');
  return effect;
}

const isColour = (colour: string): boolean => /^#[0-9a-f]{6}$/i.test(colour);

function fits({ columns, rows, palette }: PaintedEffect, cells: string): boolean {
  const most = digitOf(palette.length - 1);
  return (
    cells.length === columns * rows && [...cells].every((digit) => /[0-9a-f]/.test(digit) && digit <= most)
  );
}

const withFadeInHold = (frame: PaintedFrame): PaintedFrame =>
  (frame.fadeMs ?? 0) > frame.holdMs ? { ...frame, fadeMs: frame.holdMs } : frame;

export interface FrameCells {
  readonly frame: number;
  readonly cells: string;
}

/** Gives frames other cells; those that don't fit stay as they were. */
export const setCells =
  (place: ClipPlace, changes: readonly FrameCells[]): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    for (const { frame: index, cells } of changes) {
      const frame = partOf(painting.frames, index, 'frame');
      if (fits(painting, cells) && frame.cells !== cells) frame.cells = cells;
    }
  };

/** Puts frames in before the one at place `at`, behind all where it is the count of frames. */
export const addFrames =
  (place: ClipPlace, at: number, frames: readonly PaintedFrame[]): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    const held = frames.flatMap((frame) => {
      const bounded = fits(painting, frame.cells) ? withinSchema(frameSchema, frame) : undefined;
      return bounded ? [withFadeInHold(bounded)] : [];
    });
    if (held.length < frames.length || painting.frames.length + held.length > paintedLimits.frames) return;
    painting.frames.splice(Math.min(painting.frames.length, Math.max(0, at)), 0, ...held);
  };

/** Deletes frames; one stays. */
export const deleteFrames =
  (place: ClipPlace, frames: readonly number[]): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    for (const frame of frames) partOf(painting.frames, frame, 'frame');
    const gone = new Set(frames);
    const [first, ...others] = painting.frames.filter((_, index) => !gone.has(index));
    if (first && gone.size > 0) painting.frames = [first, ...others];
  };

/** Moves frames together by so many places; none leaves the list. */
export const moveFrames =
  (place: ClipPlace, frames: readonly number[], by: number): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    for (const frame of frames) partOf(painting.frames, frame, 'frame');
    const moved = movedFrames(painting.frames.length, frames, by);
    const order = [...painting.frames];
    const rest = order.filter((_, index) => !frames.includes(index));
    const next: PaintedFrame[] = [];
    const chosen = [...new Set(frames)].sort((a, b) => a - b);
    for (let index = 0; index < order.length; index++) {
      const at = moved.indexOf(index);
      next.push(at >= 0 ? order[chosen[at]!]! : rest.shift()!);
    }
    if (next.some((frame, index) => frame !== order[index]))
      painting.frames = next as PaintedEffect['frames'];
  };

/** Changes how long frames are held and how long each turns into the next at the end of its hold; a fade of 0 is left out of the document. */
export const changeFrameTimes =
  (
    place: ClipPlace,
    frames: readonly number[],
    times: { readonly holdMs?: number; readonly fadeMs?: number },
  ): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    for (const index of frames) {
      const frame = partOf(painting.frames, index, 'frame');
      const { holdMs: holdSchema, fadeMs: fadeSchema } = frameSchema.properties;
      const wantedHold = times.holdMs ?? frame.holdMs;
      const holdMs = withinSchema(holdSchema, wantedHold, frame.holdMs) ?? frame.holdMs;
      const before = frame.fadeMs ?? 0;
      const wantedFade = times.fadeMs ?? before;
      const fadeMs = Math.min(holdMs, withinSchema(fadeSchema, wantedFade, before) ?? before);
      const isLeftOut = fadeMs === 0 && (times.fadeMs !== undefined || frame.fadeMs === undefined);
      applyChange(painting.frames, index, { holdMs, fadeMs: isLeftOut ? undefined : fadeMs });
    }
  };

// ---- palette ----

/** Adds a colour (`#rrggbb`) behind the others. */
export const addPaletteColour =
  (place: ClipPlace, colour: string): Edit =>
  (project) => {
    const { palette } = paintingOf(project, place);
    if (isColour(colour) && palette.length < paintedLimits.colours) palette.push(colour);
  };

export const changePaletteColour =
  (place: ClipPlace, index: number, colour: string): Edit =>
  (project) => {
    const { palette } = paintingOf(project, place);
    partOf(palette, index, 'colour');
    if (isColour(colour)) palette[index] = colour;
  };

/** Gives every cell of every frame another number, `numbers[old]`. */
function renumber(painting: PaintedEffect, numbers: readonly number[]): void {
  const digits = numbers.map(digitOf);
  for (const frame of painting.frames) {
    const cells = Array.from(frame.cells, (digit) => digits[Number.parseInt(digit, 16)]!).join('');
    if (cells !== frame.cells) frame.cells = cells;
  }
}

/** Takes a colour out of the palette; its cells take another one. The last colour stays. */
export const deletePaletteColour =
  (place: ClipPlace, index: number, instead: number): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    const { palette } = painting;
    partOf(palette, index, 'colour');
    partOf(palette, instead, 'colour');
    if (instead === index) return;
    const behind = (number: number) => (number > index ? number - 1 : number);
    renumber(
      painting,
      palette.map((_, number) => behind(number === index ? instead : number)),
    );
    palette.splice(index, 1);
  };

/** Moves a colour to another place of the palette; what is painted looks as before. */
export const movePaletteColour =
  (place: ClipPlace, from: number, to: number): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    const colour = partOf(painting.palette, from, 'colour');
    partOf(painting.palette, to, 'colour');
    if (from === to) return;
    const order = painting.palette.map((_, number) => number);
    order.splice(from, 1);
    order.splice(to, 0, from);
    renumber(
      painting,
      painting.palette.map((_, number) => order.indexOf(number)),
    );
    painting.palette.splice(from, 1);
    painting.palette.splice(to, 0, colour);
  };

// ---- grid ----

/** Puts all frames on another grid; the picture stays where it lies on the panel. */
export const setPaintedGrid =
  (place: ClipPlace, columns: number, rows: number): Edit =>
  (project) => {
    const painting = paintingOf(project, place);
    const to = {
      columns: withinSchema(sideSchema, columns, painting.columns) ?? painting.columns,
      rows: withinSchema(sideSchema, rows, painting.rows) ?? painting.rows,
    };
    const from = { columns: painting.columns, rows: painting.rows };
    if (to.columns === from.columns && to.rows === from.rows) return;
    for (const frame of painting.frames) frame.cells = regriddedCells(frame.cells, from, to);
    Object.assign(painting, to);
  };
