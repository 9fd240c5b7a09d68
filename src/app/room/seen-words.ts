// How large the panel seems from where the viewer stands, in words. Pure; the sums are in src/light/eye.ts.
import { angleDeg, resolvedMm } from '../../light/index.ts';

export const seenWords = (widthMm: number, heightMm: number, metres: number): string =>
  `${angleDeg(widthMm, metres).toFixed(1)}° × ${angleDeg(heightMm, metres).toFixed(1)}°, details from ${resolvedMm(metres).toFixed(1)} mm on`;
