// Fuse ratings that shops carry, and what they add in series while cold.
// Blade: ISO 8820-3 colour series (a secondary page; 32 V d.c. from memory). Tube, 5 x 20 mm: the steps of IEC 60127 (read in the table of part 9; part 2
// from memory has the same). Cold resistance: blade from memory of one maker's table; tube: 100 mV at its rating, common practice, no source.

export type FuseKind = 'blade' | 'tube';

export const bladeFuseAmps = [2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30] as const;
export const tubeFuseAmps = [
  0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10,
] as const;
export const fuseRatings: Readonly<Record<FuseKind, readonly number[]>> = {
  blade: bladeFuseAmps,
  tube: tubeFuseAmps,
};

/** Volts across a blade fuse at its rating are about the same for all: 3 A have 31 milliohm, 10 A have 7.7. */
const bladeVoltsAtRating = 0.093;
const tubeVoltsAtRating = 0.1;

/** Cold resistance of a fuse, ohms; any rating, since a builder may hold one that no list has. */
export const fuseOhms = (kind: FuseKind, amps: number): number =>
  (kind === 'blade' ? bladeVoltsAtRating : tubeVoltsAtRating) / amps;

/** A fuse should carry at most 80 % of its rating (common practice, no source). */
export const fuseLoadShare = 0.8;

/** Smallest fuse for a steady load, or undefined above the largest. */
export const fuseFor = (loadAmps: number, kind: FuseKind = 'blade'): number | undefined =>
  fuseRatings[kind].find((rating) => rating * fuseLoadShare >= loadAmps);
