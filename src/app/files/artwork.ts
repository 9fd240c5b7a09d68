// A picture that the builder picked: checked, an SVG cleaned, decoded. And pictures as the document holds them: type and base64.
// Not here: bringing a picture to the size that the panel needs (photo-work.ts). Browsers draw a JPEG upright, whichever way its rows lie.
import { cleanSvg, imageSize, imageTooLarge, mostPhotoBytes } from '../../panel/index.ts';
import { failed, limits, ok, type PanelImage, type Problem, type Result } from '../../project/index.ts';
import type { PickedFile } from './ports.ts';

type MediaType = PanelImage['mediaType'];

/** What of a file can be drawn. */
export interface CheckedFile {
  readonly mediaType: MediaType;
  /** Of an SVG what is left of it. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** What was taken out of an SVG. */
  readonly removed: readonly string[];
}

export interface Picture extends CheckedFile {
  readonly name: string;
  readonly image: HTMLImageElement;
}

const svgExtension = '.svg';
export const artworkExtensions: readonly string[] = [svgExtension, '.png', '.jpg', '.jpeg'];
export const artworkTypes: readonly MediaType[] = ['image/svg+xml', 'image/png', 'image/jpeg'];
const typeOf = { png: 'image/png', jpeg: 'image/jpeg' } as const satisfies Record<string, MediaType>;

const problem = (code: string, expected: string, found: string, mend: string): Result<never> =>
  failed([{ code, at: '/panel/artwork', expected, found, mend } satisfies Problem]);

const mebibytes = (bytes: number): string => `${(bytes / 2 ** 20).toFixed(1).replace(/\.0$/, '')} MiB`;

/** A picture's file that wasn't even read. */
export const tooLarge = (sizeBytes: number): Result<never> =>
  problem(
    'artwork-too-large',
    `at most ${mebibytes(mostPhotoBytes)}`,
    mebibytes(sizeBytes),
    'Save it smaller: 300 dots per inch are plenty.',
  );

export function base64Of(bytes: Uint8Array): string {
  let text = '';
  // In pieces: a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

export function bytesOfBase64(base64: string): Uint8Array<ArrayBuffer> | undefined {
  try {
    return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
  } catch {
    return undefined;
  }
}

/** How many bytes a base64 text stands for. */
export const bytesInBase64 = (base64: string): number =>
  (base64.length / 4) * 3 - (base64.endsWith('==') ? 2 : base64.endsWith('=') ? 1 : 0);

/** The picture, decoded; undefined where the bytes are none. */
async function decodeImage(
  bytes: Uint8Array<ArrayBuffer>,
  mediaType: string,
): Promise<HTMLImageElement | undefined> {
  const url = URL.createObjectURL(new Blob([bytes], { type: mediaType }));
  const image = new Image();
  image.src = url;
  try {
    await image.decode();
    return image.naturalWidth > 0 && image.naturalHeight > 0 ? image : undefined;
  } catch {
    return undefined;
  } finally {
    URL.revokeObjectURL(url);
  }
}

const unreadable = (what: string): Result<never> =>
  problem(
    'artwork-unreadable',
    `${what} with a size`,
    'data that no picture can be made from',
    'Open it in a drawing program and save it again.',
  );

/** What a file is, by its name and its first bytes; what could run or fetch something is taken out. Nothing is decoded. */
export function checkedFile({ name, bytes }: Pick<PickedFile, 'name' | 'bytes'>): Result<CheckedFile> {
  const ending = artworkExtensions.find((end) => name.toLowerCase().endsWith(end));
  if (ending === undefined)
    return problem(
      'artwork-type',
      `a name ending in ${artworkExtensions.join(', ')}`,
      name,
      'Save it as one.',
    );
  const isSvg = ending === svgExtension;
  const large = imageTooLarge(bytes, isSvg ? limits.imageBytes : mostPhotoBytes);
  if (large) return failed([large]);
  if (!isSvg) {
    const size = imageSize(bytes);
    return size ? ok({ mediaType: typeOf[size.format], bytes, removed: [] }) : unreadable('a PNG or JPEG');
  }
  const clean = cleanSvg(new TextDecoder().decode(bytes));
  if (!clean.ok) return clean;
  const { text, removed } = clean.value;
  return ok({ mediaType: 'image/svg+xml', bytes: new Uint8Array(new TextEncoder().encode(text)), removed });
}

export async function pictureFrom(file: Pick<PickedFile, 'name' | 'bytes'>): Promise<Result<Picture>> {
  const checked = checkedFile(file);
  if (!checked.ok) return checked;
  const { bytes, mediaType } = checked.value;
  const image = await decodeImage(bytes, mediaType);
  return image ? ok({ ...checked.value, name: file.name, image }) : unreadable('a picture');
}

/** The document doesn't hold the names of files: they are known as long as the page is open. */
const names = new WeakMap<PanelImage, string>();

export const nameArtwork = (artwork: PanelImage, name: string): void => {
  names.set(artwork, name);
};

export const artworkName = (artwork: PanelImage): string | undefined => names.get(artwork);
