// Rules of painted frames that a schema can't say: as many cells as the grid has, only colours that the palette has, fades within the hold.
import { type Problem, pointer } from './problems.ts';
import type { PaintedEffect, PaintedFrame } from './schema-painted.ts';

const isPainted = (effect: { readonly kind: string }): effect is PaintedEffect => effect.kind === 'painted';

function frameProblems(effect: PaintedEffect, frame: PaintedFrame, at: string): Problem[] {
  const problems: Problem[] = [];
  const { columns, rows, palette } = effect;
  if (frame.cells.length !== columns * rows)
    problems.push({
      code: 'painted-cells',
      at: `${at}/cells`,
      expected: `${columns * rows} digits, one for each cell of ${rows} rows of ${columns}`,
      found: `${frame.cells.length}`,
      mend: 'Write every row, from the top left.',
    });
  const foreign = [...frame.cells].find((digit) => Number.parseInt(digit, 16) >= palette.length);
  if (foreign !== undefined)
    problems.push({
      code: 'painted-colour',
      at: `${at}/cells`,
      expected: `digits from 0 to ${(palette.length - 1).toString(16)}, as the palette has ${palette.length} colours`,
      found: `"${foreign}"`,
      mend: 'Add the colour to the palette, or take another one.',
    });
  if ((frame.fadeMs ?? 0) > frame.holdMs)
    problems.push({
      code: 'painted-fade',
      at: `${at}/fadeMs`,
      expected: `at most the frame's hold, ${frame.holdMs} ms`,
      found: `${frame.fadeMs}`,
      mend: 'Shorten the fade, or hold the frame longer.',
    });
  return problems;
}

/** The broken rules of an effect; none where it isn't painted. `at` points to the effect. */
export const paintedProblems = (effect: { readonly kind: string }, at: string): Problem[] =>
  isPainted(effect)
    ? effect.frames.flatMap((frame, f) => frameProblems(effect, frame, `${at}${pointer('frames', f)}`))
    : [];

/**
 * An effect as the document can hold it: fades longer than their frame's hold become as long as it. Undefined where cells don't fit the grid or the
 * palette, for which there is no nearest right value. Any other effect is returned as it is.
 */
export function withinPaintedRules<E extends { readonly kind: string }>(effect: E): E | undefined {
  if (!isPainted(effect)) return effect;
  const fits = effect.frames.every(({ holdMs, fadeMs = 0 }) => fadeMs <= holdMs);
  const frames = effect.frames.map((frame) =>
    frame.fadeMs === undefined ? frame : { ...frame, fadeMs: Math.min(frame.fadeMs, frame.holdMs) },
  );
  const held = fits ? effect : { ...effect, frames };
  return paintedProblems(held, '').length === 0 ? held : undefined;
}
