// From linear light at the eye to the screen's colours: a soft shoulder where a screen can't get brighter, and sRGB encoding.
// Not here: exposure and room (viewing.ts).
// The encoding itself is in src/panel/srgb.ts. The shoulder is ours: a screen clips where an eye would still see colour.

import { encodeSrgb } from '../panel/index.ts';

export { decodeSrgb, encodeSrgb, lightOfCode } from '../panel/index.ts';

/** Here the shoulder begins. By eye: lower dulls white print, higher burns holes into coloured light. */
export const shoulderFrom = 0.65;

/** Leaves light up to `shoulderFrom` as it is and bends the rest towards 1, the screen's white; slope 1 where it begins. */
export function shoulder(linear: number): number {
  if (linear <= shoulderFrom) return linear;
  const room = 1 - shoulderFrom;
  return 1 - room * Math.exp(-(linear - shoulderFrom) / room);
}

/** The shoulder is within a tenth of a code of white here. */
const mostInTable = 4;
/** Number of the table's last step, which stands for all stronger light too. */
export const brightestStep = 65_536;
/** One step is 0.2 of a code in the steep part near black. */
export const stepsPerLight: number = brightestStep / mostInTable;
/** The 8-bit code of light at the eye, by steps: light x `stepsPerLight`, rounded. */
export const codeOfStep: Uint8Array = Uint8Array.from({ length: brightestStep + 1 }, (_, step) =>
  Math.round(255 * encodeSrgb(shoulder(step / stepsPerLight))),
);

/** The 8-bit code of light at the eye; 1 is the screen's white, and stronger light is welcome. */
export const screenCode = (light: number): number =>
  codeOfStep[light >= mostInTable ? brightestStep : Math.round(light * stepsPerLight)]!;
