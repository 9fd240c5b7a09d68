// Levels on a data line: what a chip's input needs, what a pin or a buffer gives, and how slow resistor and wire make it.
// Not here: which line of a project has which (data-line.ts).
import type { Board } from '../catalogue/index.ts';
import type { StripData } from '../project/index.ts';

/** A high level is at least this share of the chip's own volts, a low one at most the other (WS2812B data sheet; the others' are no stricter). */
const highShare = 0.7;
const lowShare = 0.3;
/** Chips of 12 V strip run from 5 V of their own, made inside (data sheets' 0.7 of 12 V would be an obvious misprint). */
const innerVolts = 5;

/** What the chip of an LED runs from, for the volts across the LED. */
export const chipVolts = ({ supplyVolts }: Pick<StripData, 'supplyVolts'>, ledVolts: number): number =>
  supplyVolts > innerVolts ? innerVolts : ledVolts;

/** Least volts that a chip's input takes for high, above the chip's own ground. */
export const highLevelVolts = (atChip: number): number => highShare * atChip;
/** Most volts that it takes for low. */
export const lowLevelVolts = (atChip: number): number => lowShare * atChip;
/** Volts of a chip up to which an output is high enough for it: 4.714 V for one of 3.3 V. */
export const mostChipVolts = (outputVolts: number): number => outputVolts / highShare;

export interface OutputLevel {
  /** Into an LED's input, which takes microamperes. */
  readonly volts: number;
  /** At the load that the data sheet guarantees it for. */
  readonly loadedVolts: number;
}

/** A 74HCT125 on 5 V less 10 %: 4.4 V at 20 uA, 4.13 V at 6 mA and 85 C (a maker's data sheet). */
export const shifterLevel: OutputLevel = { volts: 4.4, loadedVolts: 4.13 };

const ratedVolts = 5;
/** A pin's high level, as a share of what its chip runs from; one of 3.3 V is taken to lose the same share under load. */
export const pinLevel = (
  { outputHighVolts }: Pick<Board, 'outputHighVolts'>,
  pinVolts: number,
): OutputLevel => ({
  volts: pinVolts,
  loadedVolts: (outputHighVolts / ratedVolts) * pinVolts,
});

/** Input of one LED (WS2812B data sheet). */
const inputPicofarads = 15;
/** Data wire beside its ground (from memory: 50 to 100 of thin wires). */
const wirePicofaradsPerMetre = 100;

/** What a resistor at the beginning of a line has to charge: the wire and the first LED's input. */
export const linePicofarads = (lengthMm: number): number =>
  inputPicofarads + (wirePicofaradsPerMetre * lengthMm) / 1000;

/** Time constant. */
export const rcNanoseconds = (ohms: number, picofarads: number): number => (ohms * picofarads) / 1000;
