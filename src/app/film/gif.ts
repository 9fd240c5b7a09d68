// Films as GIF (GIF89a), each frame with up to 256 colours of its own. Brought in only when one is made.
import { applyPalette, GIFEncoder, quantize } from 'gifenc';
import type { FilmPacker } from './film-maker.ts';
import { gifDelay, type SizePx } from './film-plan.ts';

const mostColours = 256;

/** `pixels` gives the frame that was painted last, as RGBA in a buffer of its own: the encoder reads all of it. */
export function gifPacker(
  pixels: () => Uint8ClampedArray | Uint8Array,
  { widthPx, heightPx }: SizePx,
  perSecond: number,
): FilmPacker {
  const encoder = GIFEncoder();
  return {
    add: async (frame) => {
      const rgba = pixels();
      const palette = quantize(rgba, mostColours);
      encoder.writeFrame(applyPalette(rgba, palette), widthPx, heightPx, {
        palette,
        // In milliseconds; the file holds hundredths of a second.
        delay: 10 * gifDelay(frame, perSecond),
      });
    },
    finish: async () => {
      encoder.finish();
      return new Uint8Array(encoder.bytes());
    },
    cancel: async () => encoder.reset(),
  };
}
