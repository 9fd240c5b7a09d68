import type { Lampshow } from '../../project/index.ts';

/** Frames of one pass of a show; as many as the command line writes. */
export const framesOfShow = (show: Pick<Lampshow, 'lengthMs'>, frameMs: number): number =>
  Math.ceil(show.lengthMs / frameMs);

export const showName = (show: Pick<Lampshow, 'id' | 'name'>): string => show.name ?? show.id;
