// Works on a photo beside the page, which would stand still for seconds: straightens or resamples it, and encodes the result as the smaller of a PNG
// and a JPEG. One job after the other; each is answered by one message.
import { type Image, mostPxPerMm, resampled, straighten } from '../../panel/index.ts';
import { ok, type Result } from '../../project/index.ts';
import type { EncodedPicture, FromPhotoWorker, PhotoJob, ToPhotoWorker } from './photo-jobs.ts';

/** Common practice, no source: from here on the eye finds no difference in a print. */
const jpegQuality = 0.9;

let photo: Image | undefined;

function done(image: Image, job: PhotoJob): Result<Image> {
  if (job.kind === 'straighten') return straighten(image, job.corners, job.widthPx, job.heightPx);
  return ok(resampled(image, mostPxPerMm, job));
}

/** A JPEG has no alpha. */
function isOpaque({ rgba }: Image): boolean {
  for (let at = 3; at < rgba.length; at += 4) if (rgba[at] !== 255) return false;
  return true;
}

async function encoded(image: Image): Promise<EncodedPicture> {
  const { widthPx, heightPx, rgba } = image;
  const canvas = new OffscreenCanvas(widthPx, heightPx);
  canvas.getContext('2d')!.putImageData(new ImageData(new Uint8ClampedArray(rgba), widthPx, heightPx), 0, 0);
  const blobs = [await canvas.convertToBlob({ type: 'image/png' })];
  if (isOpaque(image)) blobs.push(await canvas.convertToBlob({ type: 'image/jpeg', quality: jpegQuality }));
  const smallest = blobs.reduce((best, blob) => (blob.size < best.size ? blob : best));
  return {
    mediaType: smallest.type === 'image/jpeg' ? 'image/jpeg' : 'image/png',
    bytes: new Uint8Array(await smallest.arrayBuffer()),
    widthPx,
    heightPx,
  };
}

async function answer(job: PhotoJob): Promise<FromPhotoWorker> {
  if (!photo) throw new Error('a job without a photo');
  const image = done(photo, job);
  return image.ok ? ok(await encoded(image.value)) : image;
}

addEventListener('message', ({ data }: MessageEvent<ToPhotoWorker>) => {
  if ('image' in data) photo = data.image;
  else
    answer(data.job).then(
      (result) => postMessage(result),
      // A rejected promise would stay in here; of an error that is thrown the page hears.
      (error: unknown) =>
        setTimeout(() => {
          throw error;
        }),
    );
});
