// Fuse ratings that shops carry. Sources: blade: ISO 8820-3 colour series (a secondary page; 32 V d.c. from memory);
// glass 5 x 20 mm: rating steps of IEC 60127.

export const bladeFuseAmps = [2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30] as const;
export const glassFuseAmps = [
  0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10,
] as const;

/** A fuse should carry at most 80 % of its rating (common practice, no source). */
export const fuseLoadShare = 0.8;

/** Smallest blade fuse for a steady load, or undefined above the largest. */
export const bladeFuseFor = (loadAmps: number): number | undefined =>
  bladeFuseAmps.find((rating) => rating * fuseLoadShare >= loadAmps);
