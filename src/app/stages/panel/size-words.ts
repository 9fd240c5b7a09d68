// Sizes of pictures in words.
import { figure } from '../../format.ts';

/** "412 kB": thousands of bytes, as files are listed. */
export const kilobytes = (bytes: number): string => figure(Math.max(1, Math.round(bytes / 1000)));

export const pixels = (widthPx: number, heightPx: number): string =>
  `${figure(widthPx)} × ${figure(heightPx)} px`;
