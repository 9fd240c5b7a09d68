// Fuse ratings that shops carry, blade form. Source: ISO 8820-3 colour series (a secondary page; 32 V d.c. from memory).

export const bladeFuseAmps = [2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30] as const;
/** A fuse should carry at most 80 % of its rating (common practice, no source). */
export const fuseLoadShare = 0.8;

/** Smallest blade fuse for a steady load, or undefined above the largest. */
export const bladeFuseFor = (loadAmps: number): number | undefined =>
  bladeFuseAmps.find((rating) => rating * fuseLoadShare >= loadAmps);
