// Which frames of a show a film has, and how large it is. A film runs at real speed: its frame numbers follow from its own clock as they do on the
// board. Pure; not here: painting (film-canvas.ts) and packing (video.ts, gif.ts).

/** Frames a second: a usual number, or one for each frame that the board shows. */
export type FilmRate = 'board' | '25' | '30' | '50' | '60';

/** Shorter delays than two hundredths of a second are shown as a tenth (common practice of browsers, no source). */
export const mostGifPerSecond = 50;

export const perSecondOf = (rate: FilmRate, frameMs: number, isGif: boolean): number => {
  const wanted = rate === 'board' ? 1000 / frameMs : Number(rate);
  return isGif ? Math.min(mostGifPerSecond, wanted) : wanted;
};

export interface FilmPlan {
  readonly perSecond: number;
  /** The player's frame number of each of the film's frames. */
  readonly frames: readonly number[];
}

/** Rounding of a quotient must not put a frame before its own moment. */
const slackFrames = 1e-6;

/** The film from one moment of a show to another; one frame at least. */
export function filmPlan(fromMs: number, toMs: number, perSecond: number, frameMs: number): FilmPlan {
  const count = Math.max(1, Math.round(((toMs - fromMs) * perSecond) / 1000));
  return {
    perSecond,
    frames: Array.from({ length: count }, (_, i) =>
      Math.floor((fromMs + (1000 * i) / perSecond) / frameMs + slackFrames),
    ),
  };
}

/** Hundredths of a second that the frame of a GIF stands; summed up they are never more than half a hundredth off. */
export const gifDelay = (frame: number, perSecond: number): number =>
  Math.round((100 * (frame + 1)) / perSecond) - Math.round((100 * frame) / perSecond);

export interface SizePx {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Films keep a colour for each two by two pixels, so both sides are even. */
export function filmSize(panel: { widthMm: number; heightMm: number }, widthPx: number): SizePx {
  const even = (px: number): number => 2 * Math.max(1, Math.round(px / 2));
  return { widthPx: even(widthPx), heightPx: even((widthPx * panel.heightMm) / panel.widthMm) };
}

export const pictureSize = (panel: { widthMm: number; heightMm: number }, widthPx: number): SizePx => ({
  widthPx: Math.max(1, Math.round(widthPx)),
  heightPx: Math.max(1, Math.round((widthPx * panel.heightMm) / panel.widthMm)),
});
