// What the rails of a strip may carry. Not here: where current enters (sizing.ts), and which fuses reach a rail (fuse-rule.ts).
import type { StripData } from '../project/index.ts';

/** Solder joints and glue carry less than bare copper (common practice, no source). */
const upTo10MmAmps = 3;
const widerAmps = 5;
const narrowMm = 10;

/** Amperes in one rail, + or ground, in one direction. */
export const railAmps = ({ boardWidthMm }: Pick<StripData, 'boardWidthMm'>): number =>
  boardWidthMm <= narrowMm ? upTo10MmAmps : widerAmps;
