// How large a PNG or JPEG is, read from its first bytes without decoding it, so that a huge one is refused before it takes the memory.
// Not here: decoding, and SVG, which has no pixels.
// Sources: PNG specification, 5.2 (signature) and 11.2.2 (IHDR); ITU-T T.81, B.1.1 (markers) and B.2.2 (frame header); Exif 2.3, 4.5.4 (APP1) and
// 4.6.4 (tag 274, orientation), over TIFF 6.0, section 2 (directories).
import type { Problem } from '../project/index.ts';

export interface ImageSize {
  readonly format: 'png' | 'jpeg';
  /** As seen upright, which is how browsers draw it. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** How a JPEG's rows lie in the file: 1 upright, 3 upside down, 6 and 8 on a side, the others mirrored. 1 for a PNG. */
  readonly orientation: number;
}

const pngSignature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const begins = (bytes: Uint8Array, at: number, with_: readonly number[]): boolean =>
  with_.every((byte, i) => bytes[at + i] === byte);
const codesOf = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));

/** Undefined where the bytes are neither, or end before they tell. */
export function imageSize(bytes: Uint8Array): ImageSize | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const found = begins(bytes, 0, pngSignature) ? pngSize(bytes, view) : jpegSize(bytes, view);
  return found && found.widthPx > 0 && found.heightPx > 0 ? found : undefined;
}

function pngSize(bytes: Uint8Array, view: DataView): ImageSize | undefined {
  if (bytes.length < 24 || !begins(bytes, 12, codesOf('IHDR'))) return undefined;
  return { format: 'png', widthPx: view.getUint32(16), heightPx: view.getUint32(20), orientation: 1 };
}

/** Start of frame is C0 to CF but for C4 (Huffman tables), C8 (kept for extensions) and CC (arithmetic conditioning). */
const isFrameHeader = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
/** TEM and the restart markers stand alone, without a length. */
const standsAlone = (marker: number): boolean => marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7);
/** From the start of scan, or at the end of the image, no header comes any more. */
const endsHeaders = (marker: number): boolean => marker === 0xda || marker === 0xd9;

function jpegSize(bytes: Uint8Array, view: DataView): ImageSize | undefined {
  if (!begins(bytes, 0, [0xff, 0xd8])) return undefined;
  let orientation = 1;
  let at = 2;
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) return undefined;
    const marker = bytes[at + 1]!;
    // Any marker may have more FF before it.
    if (marker === 0xff) at += 1;
    else if (standsAlone(marker)) at += 2;
    else if (endsHeaders(marker)) return undefined;
    else {
      const length = view.getUint16(at + 2);
      if (length < 2) return undefined;
      if (isFrameHeader(marker)) {
        if (at + 9 > bytes.length) return undefined;
        const heightPx = view.getUint16(at + 5);
        const widthPx = view.getUint16(at + 7);
        const isOnSide = orientation >= 5;
        return {
          format: 'jpeg',
          widthPx: isOnSide ? heightPx : widthPx,
          heightPx: isOnSide ? widthPx : heightPx,
          orientation,
        };
      }
      if (marker === 0xe1)
        orientation = exifOrientation(bytes.subarray(at + 4, at + 2 + length)) ?? orientation;
      at += 2 + length;
    }
  }
  return undefined;
}

const orientationTag = 274;
const shortType = 3;

/** The orientation in the data of an APP1 segment; undefined where it tells none. */
function exifOrientation(data: Uint8Array): number | undefined {
  if (!begins(data, 0, [...codesOf('Exif'), 0, 0])) return undefined;
  const tiff = data.subarray(6);
  const isLittle = begins(tiff, 0, codesOf('II'));
  if (tiff.length < 8 || !(isLittle || begins(tiff, 0, codesOf('MM')))) return undefined;
  const view = new DataView(tiff.buffer, tiff.byteOffset, tiff.byteLength);
  const directory = view.getUint32(4, isLittle);
  if (view.getUint16(2, isLittle) !== 42 || directory + 2 > tiff.length) return undefined;
  const entries = view.getUint16(directory, isLittle);
  for (let entry = 0; entry < entries; entry++) {
    const at = directory + 2 + 12 * entry;
    if (at + 12 > tiff.length) return undefined;
    if (view.getUint16(at, isLittle) !== orientationTag) continue;
    const value = view.getUint16(at + 8, isLittle);
    return view.getUint16(at + 2, isLittle) === shortType && value >= 1 && value <= 8 ? value : undefined;
  }
  return undefined;
}

/** Decoded images beyond this would take more than 400 MB. */
export const mostImagePixels = 100e6;
/** Cameras' files are smaller; a photo is straightened and resampled before it goes into the project. */
export const mostPhotoBytes = 64 * 2 ** 20;

/**
 * Why a picture's file is too large to be looked at any further: undefined where it isn't, or where its first bytes don't tell.
 * @param mostBytes `limits.imageBytes` for what goes into the project as it is, `mostPhotoBytes` for a photo that is worked on first
 */
export function imageTooLarge(bytes: Uint8Array, mostBytes: number): Problem | undefined {
  const at = '/panel/artwork';
  const mebibytes = (count: number): string => `${(count / 2 ** 20).toFixed(1).replace(/\.0$/, '')} MiB`;
  if (bytes.length > mostBytes)
    return {
      code: 'artwork-too-large',
      at,
      expected: `at most ${mebibytes(mostBytes)}`,
      found: mebibytes(bytes.length),
      mend: 'Save it smaller: 300 dots per inch are plenty.',
    };
  const size = imageSize(bytes);
  if (!size || size.widthPx * size.heightPx <= mostImagePixels) return undefined;
  return {
    code: 'artwork-too-large',
    at,
    expected: `at most ${mostImagePixels / 1e6} million pixels`,
    found: `${size.widthPx} x ${size.heightPx}`,
    mend: 'Save it with fewer pixels: 300 dots per inch are plenty.',
  };
}
