// The glass off screen, one pixel for each of the picture's: as the one on screen it takes the graphics card where there is a real one and the processor
// otherwise. Not here: which frames, and what becomes of them.
import { type LightScene, livePicture, printTransmission, type Viewing } from '../../light/index.ts';
import { imageOf, type Print } from '../glass/artwork-pixels.ts';
import { gpuPainter } from '../glass/painters.ts';
import type { SizePx } from './film-plan.ts';

export interface FilmCanvas extends SizePx {
  /** Holds the frame that was painted last. */
  readonly canvas: HTMLCanvasElement;
  /** One frame as it goes out, of the scene's LEDs. */
  readonly paint: (wireBytes: Uint8Array) => void;
  readonly pixels: () => Uint8ClampedArray;
  readonly dispose: () => void;
}

/** Up to here the print is read at twice the picture's fineness, as on screen; beyond it memory would be short before any eye could tell. */
const mostFinePixels = 2e6;

function processorPainter(scene: LightScene, print: Print, { widthPx, heightPx }: SizePx) {
  const fineness = widthPx * heightPx <= mostFinePixels ? 2 : 1;
  const [artwork, opacity] = [print.artwork, print.opacity].map(
    (image) => image && imageOf(image, fineness * widthPx, fineness * heightPx),
  );
  const ink = printTransmission(artwork, opacity, widthPx, heightPx, fineness);
  return livePicture(scene, widthPx, heightPx, ink);
}

export function filmCanvas(scene: LightScene, print: Print, viewing: Viewing, size: SizePx): FilmCanvas {
  const { widthPx, heightPx } = size;
  const canvas = document.createElement('canvas');
  canvas.width = widthPx;
  canvas.height = heightPx;
  const context = canvas.getContext('2d', { alpha: false, willReadFrequently: true });
  if (!context) throw new Error('this browser gives no 2D canvas');
  const pixels = () => context.getImageData(0, 0, widthPx, heightPx).data;
  const onCard = document.createElement('canvas');
  const card = gpuPainter(onCard, false);
  if (card) {
    card.setScene(scene, print);
    card.resize(widthPx, heightPx);
    return {
      ...size,
      canvas,
      pixels,
      paint: (wireBytes) => {
        card.paint(wireBytes, viewing);
        context.drawImage(onCard, 0, 0);
      },
      dispose: card.dispose,
    };
  }
  const picture = processorPainter(scene, print, size);
  const image = context.createImageData(widthPx, heightPx);
  return {
    ...size,
    canvas,
    pixels,
    paint: (wireBytes) => {
      picture.paint(wireBytes, viewing, image.data);
      context.putImageData(image, 0, 0);
    },
    dispose: () => undefined,
  };
}
