// A photo with a handle on each of four corners and the outline between them. Each handle can be dragged, or moved by the arrow keys; Escape during a
// drag puts that corner back and leaves all else.
import { type KeyboardEvent, type PointerEvent, useEffect, useRef } from 'react';
import type { Corners, PointPx } from '../../../panel/index.ts';
import { useSize } from '../../frame/use-size.ts';
import css from './dialogs.module.css';
import { drawPhoto } from './draw-photo.ts';
import { cornerNames, fitScale, keyStep } from './straighten-geometry.ts';

export function CornerHandles({
  image,
  corners,
  chosen,
  onMove,
  onChoose,
}: {
  readonly image: HTMLImageElement;
  /** In pixels of the photo. */
  readonly corners: Corners;
  readonly chosen: number;
  readonly onMove: (corner: number, to: PointPx) => void;
  readonly onChoose: (corner: number) => void;
}) {
  const box = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  /** From the pointer to the corner that it holds, so that taking hold moves nothing. */
  const held = useRef<PointPx>(undefined);
  /** Ends the drag that is going on. */
  const stop = useRef<() => void>(undefined);
  useEffect(() => () => stop.current?.(), []);
  const size = useSize(box);
  const { naturalWidth: width, naturalHeight: height } = image;
  const scale = fitScale({ width, height }, size);
  useEffect(() => drawPhoto(canvas.current, image, scale), [image, scale]);

  const onPointerDown = (event: PointerEvent<HTMLButtonElement>, index: number) => {
    event.currentTarget.setPointerCapture(event.pointerId);
    stop.current?.();
    const { x, y } = corners[index]!;
    held.current = { x: x - event.clientX / scale, y: y - event.clientY / scale };
    // Before the dialog hears of it, which would close.
    const onEscape = (key: globalThis.KeyboardEvent) => {
      if (key.key !== 'Escape') return;
      key.preventDefault();
      key.stopPropagation();
      stop.current?.();
      onMove(index, { x, y });
    };
    addEventListener('keydown', onEscape, { capture: true });
    stop.current = () => {
      removeEventListener('keydown', onEscape, { capture: true });
      held.current = undefined;
      stop.current = undefined;
    };
    onChoose(index);
  };
  const onPointerMove = (event: PointerEvent<HTMLButtonElement>, index: number) => {
    if (!held.current || !event.currentTarget.hasPointerCapture(event.pointerId)) return;
    onMove(index, {
      x: held.current.x + event.clientX / scale,
      y: held.current.y + event.clientY / scale,
    });
  };
  const onKeyDown = (event: KeyboardEvent, index: number) => {
    const step = keyStep(event.key, event.shiftKey);
    if (!step) return;
    event.preventDefault();
    const { x, y } = corners[index]!;
    onMove(index, { x: x + step.x, y: y + step.y });
  };
  const outline = corners.map(({ x, y }) => `${x * scale},${y * scale}`).join(' ');
  return (
    <div ref={box} className={css['photo']}>
      <div className={css['photo-area']} style={{ width: width * scale, height: height * scale }}>
        <canvas ref={canvas} aria-hidden="true" />
        <svg width={width * scale} height={height * scale} aria-hidden="true">
          <polygon className={css['halo']} points={outline} />
          <polygon points={outline} />
        </svg>
        {corners.map(({ x, y }, index) => (
          <button
            key={cornerNames[index]}
            type="button"
            className={css['corner']}
            aria-label={`${cornerNames[index]} corner, at ${x.toFixed(0)}, ${y.toFixed(0)} px`}
            data-corner={index}
            data-chosen={index === chosen}
            style={{ left: x * scale, top: y * scale }}
            onFocus={() => onChoose(index)}
            onPointerDown={(event) => onPointerDown(event, index)}
            onPointerMove={(event) => onPointerMove(event, index)}
            onPointerUp={() => stop.current?.()}
            onPointerCancel={() => stop.current?.()}
            onKeyDown={(event) => onKeyDown(event, index)}
          />
        ))}
      </div>
    </div>
  );
}
