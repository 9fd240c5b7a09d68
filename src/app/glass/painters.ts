// The two ways to paint the glass behind one interface: the graphics card, and few pixels worked out here, which the browser stretches.
// Both take the artwork and its opacity layer as images; what they agree on is in src/light.
import {
  type LightScene,
  type LivePicture,
  livePicture,
  printTransmission,
  type Viewing,
} from '../../light/index.ts';
import { createGlassRenderer } from '../../light/webgl-renderer.ts';
import { imageOf, isSamePrint, type Print, pixelsWithin, printPixels } from './artwork-pixels.ts';

export interface GlassPainter {
  readonly setScene: (scene: LightScene, print: Print) => void;
  /** Pixels that the canvas covers on the screen. */
  readonly resize: (widthPx: number, heightPx: number) => void;
  readonly paint: (wireBytes: Uint8Array, viewing: Viewing) => void;
  readonly dispose: () => void;
}

/** More can't be seen, and a card with little memory can still hold it with its smaller copies. */
const artworkPixelsOnCard = 4e6;
/** What the processor paints in about 8 ms with 284 LEDs (5 ms for 130,000 pixels, measured on one core of a small server). */
const mostPixelsHere = 300_000;

const noPrint: Print = { artwork: undefined, opacity: undefined };

export function gpuPainter(canvas: HTMLCanvasElement, forced: boolean): GlassPainter | undefined {
  const renderer = createGlassRenderer(canvas, forced);
  if (!renderer) return undefined;
  let known = noPrint;
  return {
    ...renderer,
    setScene: (scene, print) => {
      renderer.setScene(scene);
      if (isSamePrint(print, known)) return;
      known = print;
      const { widthPx, heightPx } = pixelsWithin(scene.widthMm, scene.heightMm, artworkPixelsOnCard);
      const source = printPixels(print, widthPx, heightPx);
      renderer.setArtwork(source && { source, widthPx, heightPx });
    },
  };
}

export function cpuPainter(canvas: HTMLCanvasElement): GlassPainter {
  const context = canvas.getContext('2d', { alpha: false });
  if (!context) throw new Error('this browser gives no 2D canvas');
  let scene: LightScene | undefined;
  let print = noPrint;
  let screen = { widthPx: 0, heightPx: 0 };
  let ink: Float32Array | undefined;
  let inkOf = noPrint;
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
    if (resized || !isSamePrint(inkOf, print)) {
      inkOf = print;
      const [artwork, opacity] = [print.artwork, print.opacity].map(
        (image) => image && imageOf(image, 2 * widthPx, 2 * heightPx),
      );
      ink = printTransmission(artwork, opacity, widthPx, heightPx);
    }
    picture = livePicture(scene, widthPx, heightPx, ink, picture);
  };

  return {
    setScene: (nextScene, nextPrint) => {
      scene = nextScene;
      print = nextPrint;
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
