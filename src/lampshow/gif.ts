// Animated GIF to whole pictures, one after the other: gifuct-js unpacks each frame's own piece, and here the pieces are laid over each other as the
// format says (GIF89a, sections 20 and 23). Bounds are checked before anything is unpacked, since the decoder takes every size for true.
import { decompressFrame, type ParsedGif, parseGIF } from 'gifuct-js';
import type { Picture } from './sampling.ts';

export interface TimedPicture {
  readonly picture: Picture;
  readonly holdMs: number;
}

/** One picture takes 64 MB then. */
const mostPixels = 16e6;
/** More would be a film; each is unpacked by itself. */
const mostFrames = 5000;
/** Pixels of all frames together: about a minute of work. */
const mostPixelsInAll = 2e9;
/** Delays under 20 ms are shown as 100 ms (common practice of browsers, no source). */
const shortestDelayMs = 20;
const usualDelayMs = 100;
/** Disposal methods (GIF89a, section 23). */
const toBackground = 2;
const toPrevious = 3;

type Part = ParsedGif['frames'][number];
type Piece = Extract<Part, { image: unknown }>;
const hasImage = (part: Part): part is Piece => 'image' in part;

function checkBounds({ lsd }: ParsedGif, pieces: readonly Piece[]): void {
  const pixels = lsd.width * lsd.height;
  if (!(pixels > 0)) throw new Error('a picture without pixels');
  if (pixels > mostPixels) throw new Error(`more than ${mostPixels / 1e6} million pixels`);
  if (pieces.length === 0) throw new Error('no frame');
  if (pieces.length > mostFrames) throw new Error(`more than ${mostFrames} frames`);
  if (pieces.length * pixels > mostPixelsInAll)
    throw new Error(`more than ${mostPixelsInAll / 1e9} thousand million pixels in all frames`);
  for (const { image } of pieces) {
    const { left, top, width, height } = image.descriptor;
    if (!(left + width <= lsd.width && top + height <= lsd.height))
      throw new Error('a frame larger than the picture');
    // GIF89a, appendix F: 2 to 8 bits a pixel.
    if (!(image.data.minCodeSize >= 2 && image.data.minCodeSize <= 8))
      throw new Error('a frame with an impossible code size');
    if (image.data.blocks.length === 0) throw new Error('a frame without data');
  }
}

/** Copies a rectangle of lines, at its place, from one canvas to another of the same size. */
function copyRectangle(
  from: Uint8Array,
  to: Uint8Array,
  widthPx: number,
  { left, top, width, height }: Piece['image']['descriptor'],
): void {
  for (let line = top; line < top + height; line++) {
    const start = 4 * (line * widthPx + left);
    to.set(from.subarray(start, start + 4 * width), start);
  }
}

/** Lays a frame's piece over the canvas; its transparent pixels leave what is there. */
function layOver(gif: ParsedGif, piece: Piece, canvas: Uint8Array): void {
  const { patch, dims } = decompressFrame(piece, gif.gct, true);
  for (let line = 0; line < dims.height; line++)
    for (let column = 0; column < dims.width; column++) {
      const from = 4 * (line * dims.width + column);
      if (patch[from + 3] === 0) continue;
      const to = 4 * ((dims.top + line) * gif.lsd.width + dims.left + column);
      for (let channel = 0; channel < 4; channel++) canvas[to + channel] = patch[from + channel]!;
    }
}

/** The trailer is the last byte (GIF89a, section 27), or zeros follow it. The decoder takes a file that is cut off for a whole one. */
const isWhole = (bytes: Uint8Array): boolean => bytes[bytes.findLastIndex((byte) => byte !== 0)] === 0x3b;

/**
 * The whole pictures of a GIF in their order. Each is only good until the next one is asked for, which is drawn on the same canvas.
 * @throws if the bytes are no GIF, are cut off, or go beyond the bounds above
 */
export function* gifPictures(bytes: Uint8Array): Generator<TimedPicture> {
  if (!isWhole(bytes)) throw new Error('a file that is cut off');
  const gif = parseGIF(Uint8Array.from(bytes).buffer);
  const pieces = gif.frames.filter(hasImage);
  checkBounds(gif, pieces);
  const { width: widthPx, height: heightPx } = gif.lsd;
  const canvas = new Uint8Array(widthPx * heightPx * 4);
  const blank = new Uint8Array(canvas.length);
  const before = new Uint8Array(canvas.length);
  for (const piece of pieces) {
    const { descriptor } = piece.image;
    const disposal = piece.gce?.extras.disposal;
    if (disposal === toPrevious) copyRectangle(canvas, before, widthPx, descriptor);
    layOver(gif, piece, canvas);
    const delayMs = 10 * (piece.gce?.delay ?? 0);
    yield {
      picture: { widthPx, heightPx, rgba: canvas },
      holdMs: delayMs < shortestDelayMs ? usualDelayMs : delayMs,
    };
    if (disposal === toBackground) copyRectangle(blank, canvas, widthPx, descriptor);
    if (disposal === toPrevious) copyRectangle(before, canvas, widthPx, descriptor);
  }
}
