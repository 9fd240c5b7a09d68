// A painted frame as a small picture, a pixel a cell, drawn anew only when its cells or colours change.
import { memo, useLayoutEffect, useRef } from 'react';
import type { PaintedEffect } from '../../../../project/index.ts';
import css from './paint.module.css';

export interface FramePictureProps {
  readonly columns: number;
  readonly rows: number;
  readonly palette: PaintedEffect['palette'];
  readonly cells: string;
}

/** The cells' colours as pixels, red, green, blue and alpha. */
export function pixelsOf(palette: readonly string[], cells: string): Uint8ClampedArray<ArrayBuffer> {
  const codes = palette.map((colour) => Number.parseInt(colour.slice(1), 16));
  const pixels = new Uint8ClampedArray(4 * cells.length);
  for (let cell = 0; cell < cells.length; cell++) {
    const code = codes[Number.parseInt(cells.charAt(cell), 16)] ?? 0;
    pixels.set([code >> 16, (code >> 8) & 255, code & 255, 255], 4 * cell);
  }
  return pixels;
}

export const FramePicture = memo(function FramePicture({ columns, rows, palette, cells }: FramePictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useLayoutEffect(() => {
    const element = canvas.current!;
    element.width = columns;
    element.height = rows;
    const image = new ImageData(pixelsOf(palette, cells), columns, rows);
    element.getContext('2d')!.putImageData(image, 0, 0);
  }, [columns, rows, palette, cells]);
  return <canvas ref={canvas} className={css['picture']} aria-hidden="true" />;
});
