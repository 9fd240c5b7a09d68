// What a show loses by a current limit: how many of its frames the player's limiter would hold down, and how far. Frame by frame by the player's own
// rule (O-7 and O-8 of the player's rules), in its whole units, from frames that were played without limit and at full brightness.
import { bytesPerLed, channelLevels } from '../catalogue/index.ts';
import type { LimiterFigures } from '../lampshow/index.ts';

/** From here on the player divides what is wanted first, so that 32 bits suffice. */
const largeBudget = 2 ** 24;

/** What a frame wants of the budget: levels x units of current. `bytes`: on the wire, before any scale. */
export function wantedUnits({ segments }: LimiterFigures, bytes: Uint8Array): number {
  let wanted = 0;
  let at = 0;
  for (const { ledCount, strip, channelUnits, whiteUnits } of segments) {
    const size = bytesPerLed(strip.colourOrder);
    for (let led = 0; led < ledCount; led++, at += size) {
      const [a, b, c, white] = channelLevels(strip.colourOrder, bytes, at);
      wanted +=
        channelUnits * (strip.currentModel === 'largest' ? Math.max(a, b, c) : a + b + c) +
        whiteUnits * white;
    }
  }
  if (at !== bytes.length) throw new Error(`a frame of ${at} bytes has ${bytes.length}`);
  return wanted;
}

/** The scale that the limiter gives a frame: a byte a goes out as a x (scale + 1) / 256, rounded down. */
export function limitedScale({ budget, roomScale }: LimiterFigures, wanted: number): number {
  if (wanted <= budget) return roomScale;
  const steps =
    budget < largeBudget
      ? Math.floor((budget * 256) / wanted)
      : Math.floor(budget / (Math.floor(wanted / 256) + 1));
  return Math.min(roomScale, Math.max(0, steps - 1));
}

export interface LimiterLoss {
  readonly frameCount: number;
  /** Frames that the limiter makes darker than the brightness alone would. */
  readonly heldFrames: number;
  /** Of all frames, 0 to 1. */
  readonly heldShare: number;
  /** How much light the worst frame loses against the brightness alone, percent. */
  readonly deepestPercent: number;
  /** The first frame that loses so much; undefined where none is held. */
  readonly deepestFrame: number | undefined;
}

/** Share of the light that scale `to` leaves of what `from` gives; scale 0 is dark. */
const left = (to: number, from: number): number => (to === 0 ? 0 : (to + 1) / (from + 1));

/**
 * What a show loses by the limit that the figures hold.
 * @param frames each frame's bytes on the wire, without limit and at full brightness; the project's brightness is in the figures
 */
export function limiterLoss(figures: LimiterFigures, frames: Iterable<Uint8Array>): LimiterLoss {
  let [frameCount, heldFrames, deepestPercent] = [0, 0, 0];
  let deepestFrame: number | undefined;
  for (const bytes of frames) {
    const scale = limitedScale(figures, wantedUnits(figures, bytes));
    if (scale < figures.roomScale) {
      heldFrames++;
      const lost = 100 * (1 - left(scale, figures.roomScale));
      if (deepestFrame === undefined || lost > deepestPercent)
        [deepestPercent, deepestFrame] = [lost, frameCount];
    }
    frameCount++;
  }
  return {
    frameCount,
    heldFrames,
    heldShare: frameCount === 0 ? 0 : heldFrames / frameCount,
    deepestPercent,
    deepestFrame,
  };
}
