// The pointer on the canvas: finds what was pressed, starts the drag that belongs to it, pans, zooms. Moves are taken at most once a picture,
// so that a fast mouse costs no more than a slow one.
import { type PointerEvent, useEffect, useRef, useState, type WheelEvent } from 'react';
import { pitchMm, rowById, strips } from '../../catalogue/index.ts';
import { defaultStripOf, type PlacedRun, reverseRun, splitRun } from '../../panel/index.ts';
import { addFeed } from '../../project/index.ts';
import { useCommander, useCompiled, useScreen, useWorkbench } from '../workbench/context.ts';
import { nothing } from '../workbench/selection.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { type Drag, type DragStart, dragLength, dragRun, dragTurn, drawArea, drawRun } from './drags.ts';
import { alongRun, type PointPx, type Sight, toPanel } from './geometry.ts';

/** Below this a press is a press, not a drag. */
const dragFromPx = 3;
const wheelPerPx = 0.0016;
const mainButton = 0;
const middleButton = 1;

interface Held {
  readonly start: PointPx;
  readonly drag: Drag | 'pan' | undefined;
  readonly gesture: string;
  last: PointPx;
  moved: boolean;
}

let drags = 0;

/** What a press means that ends at once. */
const clicks: Readonly<
  Record<string, (workbench: Workbench, placed: PlacedRun, cut: number | undefined) => void>
> = {
  reverse: (workbench, { run }) => workbench.edit('Turn the arrow round', reverseRun(run.id)),
  cut: (workbench, { run }, cut) => {
    if (cut !== undefined) workbench.edit('Split run', splitRun(run.id, cut));
  },
};

export function usePointer(sight: Sight) {
  const workbench = useWorkbench();
  const { viewport } = useCommander();
  const { layout } = useCompiled();
  const tool = useScreen((state) => state.tool);
  const held = useRef<Held>(undefined);
  const waiting = useRef<{ request: number; move: () => void }>(undefined);
  const [isDragging, setDragging] = useState(false);
  const [cutBefore, setCutBefore] = useState<number>();

  const placedOf = (id: string | undefined) => layout.runs.find(({ run }) => run.id === id);
  const chosenRun = (): PlacedRun | undefined => {
    const { selection } = workbench.state;
    return selection.kind === 'run' ? placedOf(selection.id) : undefined;
  };

  const localPoint = (event: PointerEvent | WheelEvent): PointPx => {
    const box = event.currentTarget.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };

  const dragOf = (target: Element, start: DragStart): Drag | 'pan' | undefined => {
    if (tool === 'draw-run') {
      const strip = defaultStripOf(workbench.project);
      const pitch = pitchMm(
        rowById(workbench.project.strips ?? [], strip) ?? rowById(strips, strip) ?? { ledsPerMetre: 60 },
      );
      return drawRun(start, strip, pitch);
    }
    if (tool === 'draw-area') return drawArea(start);
    const handle = target.closest('[data-handle]')?.getAttribute('data-handle');
    const chosen = chosenRun();
    if (handle && chosen) {
      if (handle === 'length') return dragLength(start, chosen);
      if (handle === 'turn') return dragTurn(start, chosen);
      clicks[handle]?.(workbench, chosen, cutBefore);
      return undefined;
    }
    const feed = target.closest('[data-feed]')?.getAttribute('data-feed');
    if (feed) {
      workbench.select({ kind: 'feed', index: Number(feed) });
      return undefined;
    }
    const placed = placedOf(target.closest('[data-run]')?.getAttribute('data-run') ?? undefined);
    if (placed && tool === 'add-feed') {
      const led = Math.round(alongRun(placed, start.from).pitches);
      const index = workbench.project.power.feeds.length;
      workbench.edit(
        'Add feed',
        addFeed({
          run: placed.run.id,
          led: Math.min(placed.run.ledCount - 1, Math.max(0, led)),
          wire: 'AWG 18',
          lengthMm: 600,
        }),
      );
      workbench.select({ kind: 'feed', index });
      workbench.set({ tool: 'select' });
      return undefined;
    }
    if (placed) {
      workbench.select({ kind: 'run', id: placed.run.id });
      return dragRun(start, placed);
    }
    const jumper = target.closest('[data-jumper]')?.getAttribute('data-jumper')?.split(' ').map(Number);
    if (jumper) {
      workbench.select({ kind: 'jumper', line: jumper[0]!, place: jumper[1]! });
      return undefined;
    }
    return 'pan';
  };

  const onPointerDown = (event: PointerEvent<HTMLElement>) => {
    if (held.current || (event.button !== mainButton && event.button !== middleButton)) return;
    // What was typed belongs to what was chosen until now.
    (document.activeElement as HTMLElement | null)?.blur();
    const start = localPoint(event);
    const target = event.target as Element;
    const gesture = `canvas drag ${++drags}`;
    const drag =
      event.button === middleButton
        ? 'pan'
        : dragOf(target, { workbench, layout, from: toPanel(sight, start), gesture });
    held.current = { start, drag, gesture, last: start, moved: false };
    event.currentTarget.setPointerCapture(event.pointerId);
  };

  const move = (at: PointPx, isFree: boolean, isStraight: boolean) => {
    const hold = held.current;
    if (!hold?.drag) return;
    if (!hold.moved && Math.hypot(at.x - hold.start.x, at.y - hold.start.y) < dragFromPx) return;
    if (!hold.moved) setDragging(true);
    hold.moved = true;
    if (hold.drag === 'pan') viewport.panBy(at.x - hold.last.x, at.y - hold.last.y);
    else hold.drag({ to: toPanel(sight, at), isFree, isStraight });
    hold.last = at;
  };

  const flush = () => {
    const { current } = waiting;
    if (!current) return;
    cancelAnimationFrame(current.request);
    waiting.current = undefined;
    current.move();
  };

  const onPointerMove = (event: PointerEvent<HTMLElement>) => {
    const at = localPoint(event);
    const place = toPanel(sight, at);
    const { altKey, shiftKey } = event;
    if (waiting.current) cancelAnimationFrame(waiting.current.request);
    const step = () => {
      waiting.current = undefined;
      viewport.pointer.set(place);
      if (held.current) move(at, altKey, shiftKey);
      else setCutBefore(cutUnder(chosenRun(), place));
    };
    waiting.current = { request: requestAnimationFrame(step), move: step };
  };

  const end = (event: PointerEvent<HTMLElement>) => {
    const hold = held.current;
    if (!hold) return;
    flush();
    held.current = undefined;
    setDragging(false);
    if (typeof hold.drag === 'function' && hold.moved) {
      workbench.endGesture();
      workbench.settleFigures();
      if (tool !== 'select') workbench.set({ tool: 'select' });
    }
    if (hold.drag === 'pan' && !hold.moved && event.type === 'pointerup' && event.button === mainButton)
      workbench.select(nothing);
  };

  // Escape in the middle of a drag puts everything back.
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const hold = held.current;
      if (event.key !== 'Escape' || !hold) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      workbench.cancelGesture(hold.gesture);
      held.current = undefined;
      setDragging(false);
    };
    addEventListener('keydown', onKey, { capture: true });
    return () => removeEventListener('keydown', onKey, { capture: true });
  }, [workbench]);

  const onWheel = (event: WheelEvent<HTMLElement>) => {
    const perLine = event.deltaMode === 1 ? 16 : 1;
    if (event.shiftKey) viewport.panBy(-(event.deltaX || event.deltaY) * perLine, 0);
    else viewport.zoomBy(Math.exp(-event.deltaY * perLine * wheelPerPx), localPoint(event));
  };

  return {
    isDragging,
    cutBefore: isDragging ? undefined : cutBefore,
    handlers: {
      onPointerDown,
      onPointerMove,
      onPointerUp: end,
      onPointerCancel: end,
      onPointerLeave: () => viewport.pointer.set(undefined),
      onWheel,
    },
  };
}

/** The LED before which the chosen run would be split, if the pointer is over it or over the mark beside it. */
function cutUnder(placed: PlacedRun | undefined, place: { xMm: number; yMm: number }): number | undefined {
  if (!placed || placed.run.ledCount < 2) return undefined;
  const { pitches, besideMm } = alongRun(placed, place);
  const reach = placed.strip.boardWidthMm / 2 + 16;
  if (Math.abs(besideMm) > reach || pitches < 0 || pitches > placed.run.ledCount - 1) return undefined;
  return Math.min(placed.run.ledCount - 1, Math.max(1, Math.round(pitches + 0.5)));
}
