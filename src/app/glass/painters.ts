// The two ways to paint the glass behind one interface: the graphics card, and few pixels worked out here, which the browser stretches.
// Both take the artwork as an image; what they agree on is in src/light.
import {
  inkTransmission,
  type LightScene,
  type LivePicture,
  livePicture,
  type Viewing,
} from '../../light/index.ts';
import { createGlassRenderer } from '../../light/webgl-renderer.ts';
import { artworkPixels, pixelsWithin } from './artwork-pixels.ts';

export interface GlassPainter {
  readonly setScene: (scene: LightScene, artwork: HTMLImageElement | undefined) => void;
  /** Pixels that the canvas covers on the screen. */
  readonly resize: (widthPx: number, heightPx: number) => void;
  readonly paint: (wireBytes: Uint8Array, viewing: Viewing) => void;
  readonly dispose: () => void;
}

/** More can't be seen, and a card with little memory can still hold it with its smaller copies. */
const artworkPixelsOnCard = 4e6;
/** What the processor paints in about 8 ms with 284 LEDs (5 ms for 130,000 pixels, measured on one core of a small server). */
const mostPixelsHere = 300_000;

export function gpuPainter(canvas: HTMLCanvasElement, forced: boolean): GlassPainter | undefined {
  const renderer = createGlassRenderer(canvas, forced);
  if (!renderer) return undefined;
  let known: HTMLImageElement | undefined;
  return {
    ...renderer,
    setScene: (scene, artwork) => {
      renderer.setScene(scene);
      if (artwork === known) return;
      known = artwork;
      const { widthPx, heightPx } = pixelsWithin(scene.widthMm, scene.heightMm, artworkPixelsOnCard);
      renderer.setArtwork(
        artwork && { source: artworkPixels(artwork, widthPx, heightPx).canvas, widthPx, heightPx },
      );
    },
  };
}

export function cpuPainter(canvas: HTMLCanvasElement): GlassPainter {
  const context = canvas.getContext('2d', { alpha: false });
  if (!context) throw new Error('this browser gives no 2D canvas');
  let scene: LightScene | undefined;
  let artwork: HTMLImageElement | undefined;
  let screen = { widthPx: 0, heightPx: 0 };
  let ink: Float32Array | undefined;
  let inkOf: HTMLImageElement | undefined;
  let picture: LivePicture | undefined;
  let pixels: ImageData | undefined;

  const prepare = (): void => {
    if (!scene || screen.widthPx === 0) return;
    const { widthPx, heightPx } = pixelsWithin(
      scene.widthMm,
      scene.heightMm,
      Math.min(mostPixelsHere, screen.widthPx * screen.heightPx),
    );
    const resized = pixels?.width !== widthPx || pixels.height !== heightPx;
    if (resized) {
      canvas.width = widthPx;
      canvas.height = heightPx;
      pixels = context.createImageData(widthPx, heightPx);
    }
    if (resized || inkOf !== artwork) {
      inkOf = artwork;
      ink = artwork && inkTransmission(imageOf(artwork, 2 * widthPx, 2 * heightPx), widthPx, heightPx);
    }
    picture = livePicture(scene, widthPx, heightPx, ink, picture);
  };

  return {
    setScene: (nextScene, nextArtwork) => {
      scene = nextScene;
      artwork = nextArtwork;
      prepare();
    },
    resize: (widthPx, heightPx) => {
      screen = { widthPx, heightPx };
      prepare();
    },
    paint: (wireBytes, viewing) => {
      if (!picture || !pixels) return;
      picture.paint(wireBytes, viewing, pixels.data);
      context.putImageData(pixels, 0, 0);
    },
    dispose: () => {
      picture = undefined;
    },
  };
}

function imageOf(artwork: HTMLImageElement, widthPx: number, heightPx: number) {
  const { data } = artworkPixels(artwork, widthPx, heightPx).getImageData(0, 0, widthPx, heightPx);
  return { widthPx, heightPx, rgba: data };
}
