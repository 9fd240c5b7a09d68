// Dragging a column of the chain table to another place, by mouse, pen or finger. Where it would come to stand shows while it is dragged; Escape calls it off.
// The buttons over the table do the same by keyboard.
import { type PointerEvent as ReactPointerEvent, type RefObject, useEffect, useRef, useState } from 'react';
import type { Drop } from './chain-columns.ts';

export interface ColumnDrag {
  readonly run: string;
  readonly drop: Drop | undefined;
}

/** A press that moves less is a press. */
const leastPx = 5;
/** Near its ends a table that holds more than it shows moves on: so near, and so far with each move. The rows' names stand on its left. */
const atEnds = { leftPx: 110, rightPx: 30, byPx: 14 } as const;

function scrollAtEnds(table: HTMLElement, x: number): void {
  const { left, right } = table.getBoundingClientRect();
  if (x < left + atEnds.leftPx) table.scrollLeft -= atEnds.byPx;
  else if (x > right - atEnds.rightPx) table.scrollLeft += atEnds.byPx;
}

function dropAt(table: HTMLElement, x: number): Drop | undefined {
  const heads = [...table.querySelectorAll<HTMLElement>('th[data-column]')];
  const nearest = heads
    .map((head) => ({ head, box: head.getBoundingClientRect() }))
    .map(({ head, box }) => ({ head, box, offPx: Math.abs(x - (box.left + box.right) / 2) }))
    .sort((a, b) => a.offPx - b.offPx)[0];
  const target = nearest?.head.dataset['column'];
  if (!nearest || target === undefined) return undefined;
  return { target, side: x < (nearest.box.left + nearest.box.right) / 2 ? 'before' : 'behind' };
}

export function useColumnDrag(
  table: RefObject<HTMLElement | null>,
  onDrop: (run: string, drop: Drop) => void,
): {
  readonly drag: ColumnDrag | undefined;
  readonly onPointerDown: (run: string, event: ReactPointerEvent) => void;
  /** Whether the press that just ended was a drag, so that it chooses nothing. */
  readonly wasDrag: () => boolean;
} {
  const [drag, setDrag] = useState<ColumnDrag>();
  const moved = useRef(false);
  const end = useRef<() => void>(() => undefined);
  useEffect(() => () => end.current(), []);

  const onPointerDown = (run: string, { button, pointerId, clientX, clientY }: ReactPointerEvent) => {
    end.current();
    moved.current = false;
    if (button !== 0) return;
    let drop: Drop | undefined;
    const onMove = (event: PointerEvent) => {
      if (event.pointerId !== pointerId || !table.current) return;
      if (!moved.current && Math.hypot(event.clientX - clientX, event.clientY - clientY) < leastPx) return;
      moved.current = true;
      scrollAtEnds(table.current, event.clientX);
      drop = dropAt(table.current, event.clientX);
      setDrag({ run, drop });
    };
    const stop = () => {
      removeEventListener('pointermove', onMove);
      removeEventListener('pointerup', onUp);
      removeEventListener('pointercancel', stop);
      removeEventListener('keydown', onKey, { capture: true });
      end.current = () => undefined;
      setDrag(undefined);
    };
    const onUp = (event: PointerEvent) => {
      if (event.pointerId !== pointerId) return;
      const dropped = moved.current ? drop : undefined;
      stop();
      if (dropped) onDrop(run, dropped);
    };
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      event.stopPropagation();
      stop();
    };
    addEventListener('pointermove', onMove);
    addEventListener('pointerup', onUp);
    addEventListener('pointercancel', stop);
    addEventListener('keydown', onKey, { capture: true });
    end.current = stop;
  };
  return { drag, onPointerDown, wasDrag: () => moved.current };
}
