// Turns a picture or an animated GIF into painted frames beside the page, which would stand still for seconds. The browser decodes all but GIFs.
import { gifPictures } from '../../../../lampshow/gif.ts';
import {
  type CellGrid,
  cellLight,
  paintedFrom,
  type SampledFrame,
  stillHoldMs,
} from '../../../../lampshow/index.ts';
import { paintedLimits } from '../../../../project/index.ts';
import type { PictureAnswer, PictureTask } from './picture-task.ts';

/** As the command line has it: a camera's largest pictures have fewer. */
const mostPixels = 64e6;

const isGif = (bytes: Uint8Array): boolean => [0x47, 0x49, 0x46, 0x38].every((byte, i) => bytes[i] === byte);

async function stillLight(bytes: Uint8Array<ArrayBuffer>, grid: CellGrid): Promise<SampledFrame> {
  const bitmap = await createImageBitmap(new Blob([bytes]));
  const { width: widthPx, height: heightPx } = bitmap;
  if (widthPx * heightPx > mostPixels) throw new Error(`more than ${mostPixels / 1e6} million pixels`);
  const context = new OffscreenCanvas(widthPx, heightPx).getContext('2d', { willReadFrequently: true })!;
  context.drawImage(bitmap, 0, 0);
  const { data } = context.getImageData(0, 0, widthPx, heightPx);
  return { light: cellLight({ widthPx, heightPx, rgba: data }, grid), holdMs: stillHoldMs };
}

async function answer({ bytes, grid, colours }: PictureTask): Promise<PictureAnswer> {
  try {
    const sampled = isGif(bytes)
      ? Array.from(gifPictures(bytes), ({ picture, holdMs }) => ({ light: cellLight(picture, grid), holdMs }))
      : [await stillLight(bytes, grid)];
    const painted = paintedFrom(sampled, grid, colours);
    if (painted) return { effect: painted.effect, meanError: painted.meanError };
    return {
      fault: `It has more than ${paintedLimits.frames} frames that differ, of ${sampled.length}. Take a shorter one, fewer cells or fewer colours.`,
    };
  } catch (error) {
    const reason = error instanceof DOMException ? 'no PNG, JPEG or GIF' : (error as Error).message;
    return { fault: `It can’t be unpacked: ${reason}.` };
  }
}

addEventListener('message', ({ data }: MessageEvent<PictureTask>) => {
  void answer(data).then((result) => postMessage(result));
});
