// Draws a picture into a canvas of the page, as sharp as the screen is.

/** @param scale pixels of the screen (CSS) for one of the picture */
export function drawPhoto(canvas: HTMLCanvasElement | null, image: HTMLImageElement, scale: number): void {
  if (!canvas || scale <= 0) return;
  const width = image.naturalWidth * scale;
  const height = image.naturalHeight * scale;
  canvas.width = Math.max(1, Math.round(width * devicePixelRatio));
  canvas.height = Math.max(1, Math.round(height * devicePixelRatio));
  canvas.style.width = `${width}px`;
  canvas.style.height = `${height}px`;
  const context = canvas.getContext('2d')!;
  context.imageSmoothingQuality = 'high';
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
}

/** What lies round a place of the picture, larger than on the screen; the place itself is in the middle. */
export function drawLoupe(
  canvas: HTMLCanvasElement | null,
  image: HTMLImageElement,
  at: { readonly x: number; readonly y: number },
  zoom: number,
): void {
  if (!canvas) return;
  const context = canvas.getContext('2d')!;
  const { width, height } = canvas;
  context.imageSmoothingEnabled = zoom < 3;
  context.clearRect(0, 0, width, height);
  const left = width / 2 - at.x * zoom;
  const top = height / 2 - at.y * zoom;
  context.drawImage(image, left, top, image.naturalWidth * zoom, image.naturalHeight * zoom);
}
