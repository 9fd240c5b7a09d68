// Draws the artwork into pixels, the whole panel's width and height, for the renderers of the glass.
// Not here: what ink does to light (src/light/ink.ts).

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
