// Draws the artwork and its opacity layer into pixels, the whole panel's width and height, for the renderers of the glass.
// Not here: what ink does to light (src/light/ink.ts).
import { type Image, withOpacity } from '../../light/index.ts';

/** What is in front of the light; new objects mean a change. */
export interface Print {
  readonly artwork: HTMLImageElement | undefined;
  readonly opacity: HTMLImageElement | undefined;
}

export const isSamePrint = (one: Print, other: Print): boolean =>
  one.artwork === other.artwork && one.opacity === other.opacity;

export function artworkPixels(
  artwork: HTMLImageElement,
  widthPx: number,
  heightPx: number,
): CanvasRenderingContext2D {
  const canvas = document.createElement('canvas');
  canvas.width = widthPx;
  canvas.height = heightPx;
  // Kept off the graphics card: one reader copies it there, the other reads it here.
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error('this browser gives no 2D canvas');
  context.imageSmoothingQuality = 'high';
  context.drawImage(artwork, 0, 0, widthPx, heightPx);
  return context;
}

export function imageOf(artwork: HTMLImageElement, widthPx: number, heightPx: number): Image {
  const { data } = artworkPixels(artwork, widthPx, heightPx).getImageData(0, 0, widthPx, heightPx);
  return { widthPx, heightPx, rgba: data };
}

/** Artwork and opacity layer as one picture for a graphics card; undefined without either. */
export function printPixels(
  { artwork, opacity }: Print,
  widthPx: number,
  heightPx: number,
): HTMLCanvasElement | ImageData | undefined {
  if (!opacity) return artwork && artworkPixels(artwork, widthPx, heightPx).canvas;
  const image = withOpacity(
    artwork && imageOf(artwork, widthPx, heightPx),
    imageOf(opacity, widthPx, heightPx),
  );
  return new ImageData(Uint8ClampedArray.from(image.rgba), widthPx, heightPx);
}

/** No graphics card that draws floats takes less. */
const mostSide = 4096;

/** Whole pixels of about so many altogether, in the panel's proportions. */
export function pixelsWithin(
  widthMm: number,
  heightMm: number,
  pixels: number,
): { readonly widthPx: number; readonly heightPx: number } {
  const perMm = Math.min(Math.sqrt(pixels / (widthMm * heightMm)), mostSide / Math.max(widthMm, heightMm));
  return {
    widthPx: Math.max(1, Math.round(widthMm * perMm)),
    heightPx: Math.max(1, Math.round(heightMm * perMm)),
  };
}
