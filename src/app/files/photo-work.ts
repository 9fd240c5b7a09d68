// Pictures brought to what the panel needs, in a worker of their own; and what the project keeps of them.
// Not here: the work itself (photo-worker.ts), reading files (artwork.ts).
import { type Corners, straightenedSize } from '../../panel/index.ts';
import { failed, limits, ok, type PanelImage, type Result } from '../../project/index.ts';
import { imageOf } from '../glass/artwork-pixels.ts';
import { base64Of, type Picture } from './artwork.ts';
import type { EncodedPicture, FromPhotoWorker, PhotoJob, ToPhotoWorker } from './photo-jobs.ts';

export interface SizeMm {
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface KeptPicture {
  readonly image: PanelImage;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly sizeBytes: number;
}

/** Finer photos are drawn smaller before they are worked on: four bytes a pixel have to be held twice. */
const mostWorkedPixels = 24e6;

/** How much smaller a picture of this size is worked on; 1 as it is. */
export const workedScale = (widthPx: number, heightPx: number): number =>
  Math.min(1, Math.sqrt(mostWorkedPixels / (widthPx * heightPx)));

interface Waiting {
  readonly answer: (answer: FromPhotoWorker | undefined) => void;
  readonly fail: (error: Error) => void;
}

/** A worker with one photo. Of jobs that come while one is being done only the last is done; the others are answered with undefined. */
export class PhotoWork {
  private readonly worker = new Worker(new URL('./photo-worker.ts', import.meta.url), { type: 'module' });
  private current: Waiting | undefined;
  private next: { readonly job: PhotoJob; readonly waiting: Waiting } | undefined;
  /** Pixels that are worked on for one of the photo. */
  private readonly scale: number;

  constructor(photo: HTMLImageElement) {
    const { naturalWidth, naturalHeight } = photo;
    this.scale = workedScale(naturalWidth, naturalHeight);
    const image = imageOf(
      photo,
      Math.max(1, Math.round(naturalWidth * this.scale)),
      Math.max(1, Math.round(naturalHeight * this.scale)),
    );
    this.worker.addEventListener('message', ({ data }: MessageEvent<FromPhotoWorker>) => {
      const { current, next } = this;
      this.current = undefined;
      this.next = undefined;
      if (next) this.begin(next.job, next.waiting);
      current?.answer(data);
    });
    this.worker.addEventListener('error', ({ message }) =>
      this.current?.fail(new Error(`the photo's worker broke down: ${message}`)),
    );
    this.post({ image }, [image.rgba.buffer as ArrayBuffer]);
  }

  /** @param corners in pixels of the photo */
  straighten(corners: Corners, sizeMm: SizeMm): Promise<FromPhotoWorker | undefined> {
    const { scale } = this;
    const [a, b, c, d] = corners.map(({ x, y }) => ({ x: x * scale, y: y * scale }));
    const worked: Corners = [a!, b!, c!, d!];
    return this.do({ kind: 'straighten', corners: worked, ...straightenedSize(worked, sizeMm) });
  }

  resample({ widthMm, heightMm }: SizeMm): Promise<FromPhotoWorker | undefined> {
    return this.do({ kind: 'resample', widthMm, heightMm });
  }

  end(): void {
    this.worker.terminate();
    this.current?.answer(undefined);
    this.next?.waiting.answer(undefined);
  }

  private do(job: PhotoJob): Promise<FromPhotoWorker | undefined> {
    return new Promise((answer, fail) => {
      const waiting = { answer, fail };
      if (!this.current) return this.begin(job, waiting);
      this.next?.waiting.answer(undefined);
      this.next = { job, waiting };
    });
  }

  private begin(job: PhotoJob, waiting: Waiting): void {
    this.current = waiting;
    this.post({ job });
  }

  private post(message: ToPhotoWorker, transfer: Transferable[] = []): void {
    this.worker.postMessage(message, transfer);
  }
}

/** As the document holds it; a problem where even so it takes more than the document can hold. */
export function keptOf({ bytes, mediaType, widthPx, heightPx }: EncodedPicture): Result<KeptPicture> {
  const mebibytes = (count: number): string => `${(count / 2 ** 20).toFixed(1)} MiB`;
  if (bytes.length > limits.imageBytes)
    return failed([
      {
        code: 'artwork-too-large',
        at: '/panel/artwork',
        expected: `at most ${mebibytes(limits.imageBytes)}`,
        found: `${mebibytes(bytes.length)} at the size that the panel needs`,
        mend: 'Save it as a JPEG, or without what is transparent.',
      },
    ]);
  return ok({
    image: { mediaType, base64: base64Of(bytes) },
    widthPx,
    heightPx,
    sizeBytes: bytes.length,
  });
}

/** The whole of a picture, clockwise from its top left corner. */
export const wholeOf = (widthPx: number, heightPx: number): Corners => [
  { x: 0, y: 0 },
  { x: widthPx, y: 0 },
  { x: widthPx, y: heightPx },
  { x: 0, y: heightPx },
];

/** Whether a picture can be kept as it is: no larger than the panel needs, and than the document can hold. */
export function isKeptAsItIs(
  { mediaType, bytes }: Pick<Picture, 'mediaType' | 'bytes'>,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  sizeMm: SizeMm,
): boolean {
  if (mediaType === 'image/svg+xml') return true;
  const needed = straightenedSize(wholeOf(widthPx, heightPx), sizeMm);
  return bytes.length <= limits.imageBytes && needed.widthPx === widthPx && needed.heightPx === heightPx;
}

/** What the project keeps of a picture that is stretched over a panel of this size. */
export async function keptPicture(picture: Picture, sizeMm: SizeMm): Promise<Result<KeptPicture>> {
  const { bytes, mediaType, image } = picture;
  const { naturalWidth: widthPx, naturalHeight: heightPx } = image;
  if (isKeptAsItIs(picture, { widthPx, heightPx }, sizeMm))
    return keptOf({ bytes, mediaType, widthPx, heightPx });
  const work = new PhotoWork(image);
  try {
    const encoded = await work.resample(sizeMm);
    if (!encoded) throw new Error('a job that nobody called off has no answer');
    return encoded.ok ? keptOf(encoded.value) : encoded;
  } finally {
    work.end();
  }
}
