// Everything that moves as a band: its shape in steps, 256 a turn, to the parameters of the player's bands, and the colours that it needs.
// Not here: which effects those are (effects.ts).
import type { ByteWriter } from './byte-writer.ts';
import { fixed, rate } from './fixed-point.ts';
import { type GradientUse, gradientEntries } from './gradients.ts';

export const easings = { none: 0, in: 1, out: 2, both: 3 } as const;
export type Easing = keyof typeof easings;
const travels = { forward: 0, backward: 1, 'there-and-back': 2 } as const;

/** A turn of a band is 256 steps. */
export const turnSteps = 256;
/** Narrower bands would vanish between two places. */
const leastBandSteps = 2.5;

export interface BandShape {
  readonly turnsPerSecond: number;
  readonly widthSteps: number;
  /** Steps from a band's reference to its beginning. */
  readonly offsetSteps: number;
  readonly softness: number;
  readonly tail: number;
  readonly travel: keyof typeof travels;
  readonly easing?: Easing | undefined;
  readonly lowFirst: boolean;
  readonly bands: number;
}

/** Steps an entry as a power of two: the whole band must fit the 64 entries. */
const entryShift = (widthSteps: number): number => (widthSteps <= 64 ? 0 : widthSteps <= 128 ? 1 : 2);
export const heldWidth = (widthSteps: number): number =>
  Math.min(turnSteps, Math.max(leastBandSteps, widthSteps));
const bandEntries = (widthSteps: number): number =>
  Math.min(gradientEntries, Math.ceil(heldWidth(widthSteps) / 2 ** entryShift(heldWidth(widthSteps))));

export const bandColours = (widthSteps: number): GradientUse => ({
  entries: bandEntries(widthSteps),
  endsInside: false,
  repeated: 1,
  from: 0,
  span: 1,
});

export function writeBands(to: ByteWriter, band: BandShape): void {
  const widthSteps = heldWidth(band.widthSteps);
  const shift = entryShift(widthSteps);
  const entries = widthSteps / 2 ** shift;
  /** Levels an entry; 0 where the edge is hard. */
  const gain = (edgeEntries: number): number =>
    edgeEntries <= 0 ? 0 : Math.max(1, fixed(255 / edgeEntries));
  const tailEntries = band.tail * entries;
  const edgeEntries = (band.softness * (entries - tailEntries)) / 2;
  to.u32(rate(band.turnsPerSecond));
  to.u16(fixed(widthSteps));
  // An entry stands for its 1, 2 or 4 steps, so it is looked at in their middle.
  to.u16(Math.round((band.offsetSteps + (2 ** shift - 1) / 2) * 256) & 0xffff);
  to.u16(gain(edgeEntries));
  to.u16(gain(band.tail > 0 ? tailEntries : edgeEntries));
  to.u8(travels[band.travel] + 4 * easings[band.easing ?? 'none'] + 16 * shift + (band.lowFirst ? 64 : 0));
  to.u8(band.bands);
}
