// Draws a weave to fill its box. Along time the browser may smooth; from LED to LED the edges stay, because LEDs are dots.
import { useLayoutEffect, useRef } from 'react';
import { mostRows, type Weave } from './weave.ts';

export function WeaveCanvas({
  weave,
  className,
}: {
  readonly weave: Weave | undefined;
  readonly className: string;
}) {
  const ref = useRef<HTMLCanvasElement>(null);
  useLayoutEffect(() => {
    const canvas = ref.current!;
    const isBlank = !weave || weave.columns === 0 || weave.rows === 0;
    const lines = isBlank ? 1 : Math.max(1, Math.round(mostRows / weave.rows));
    canvas.width = isBlank ? 1 : weave.columns;
    canvas.height = isBlank ? 1 : weave.rows * lines;
    const context = canvas.getContext('2d');
    if (isBlank || !context) return;
    context.imageSmoothingEnabled = false;
    context.putImageData(new ImageData(weave.pixels, weave.columns, weave.rows), 0, 0);
    // Stretched down onto itself from the last line up, so that no line is overwritten before it is read.
    for (let row = weave.rows - 1; row >= 0 && lines > 1; row--)
      context.drawImage(canvas, 0, row, weave.columns, 1, 0, row * lines, weave.columns, lines);
  }, [weave]);
  return <canvas ref={ref} className={className} />;
}
