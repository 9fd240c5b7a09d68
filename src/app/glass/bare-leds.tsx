// The LEDs without a sheet before them: a canvas that fills its parent, which stands for exactly the panel's rectangle. Each is drawn at its place and as
// large as it is, in the colour that it gives.
import { useLayoutEffect, useRef } from 'react';
import {
  bareLedCodes,
  bareLedMm,
  channelCount,
  frameByteCount,
  type LightScene,
  ledFlux,
} from '../../light/index.ts';
import { useSize } from '../frame/use-size.ts';
import css from './glass.module.css';

const mostPixelRatio = 2;

export function BareLeds({
  scene,
  wireBytes,
  frameKey,
  exposureStops,
  label,
}: {
  readonly scene: LightScene;
  readonly wireBytes: Uint8Array;
  /** Names the frame: bytes may change in place. */
  readonly frameKey: string;
  readonly exposureStops: number;
  readonly label: string;
}) {
  const box = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const { width, height } = useSize(box);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says when the bytes are others
  useLayoutEffect(() => {
    const { sources, widthMm, heightMm } = scene;
    if (width === 0 || wireBytes.length !== frameByteCount(sources)) return;
    const ratio = Math.min(mostPixelRatio, devicePixelRatio);
    const [widthPx, heightPx] = [Math.round(width * ratio), Math.round(height * ratio)];
    const element = canvas.current!;
    if (element.width !== widthPx || element.height !== heightPx) {
      element.width = widthPx;
      element.height = heightPx;
    }
    const context = element.getContext('2d', { alpha: false })!;
    const flux = ledFlux(sources, wireBytes, new Float32Array(sources.length * channelCount));
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.fillStyle = getComputedStyle(element).color;
    context.fillRect(0, 0, widthPx, heightPx);
    context.setTransform(widthPx / widthMm, 0, 0, heightPx / heightMm, 0, 0);
    const { body, lit } = bareLedMm;
    context.fillStyle = getComputedStyle(element).borderColor;
    for (const { xMm, yMm } of sources) context.fillRect(xMm - body / 2, yMm - body / 2, body, body);
    for (const [led, { xMm, yMm }] of sources.entries()) {
      const codes = bareLedCodes(flux, led, exposureStops);
      if (codes[0] + codes[1] + codes[2] === 0) continue;
      context.fillStyle = `rgb(${codes.join(' ')})`;
      context.beginPath();
      context.arc(xMm, yMm, lit / 2, 0, 2 * Math.PI);
      context.fill();
    }
  }, [scene, wireBytes, frameKey, exposureStops, width, height]);
  return (
    <div ref={box} className={css['bare']}>
      <canvas ref={canvas} className={css['glass']} role="img" aria-label={label} data-bare />
    </div>
  );
}
