// The pointer on the canvas, be it mouse, pen or finger: hands presses to what they begin, moves to the drag under way, and pans and zooms. Moves
// are taken at most once a picture, so that a fast mouse costs no more than a slow one. Two fingers move and zoom the view together.
import { type PointerEvent, type RefObject, useEffect, useRef, useState, type WheelEvent } from 'react';
import type { Lightness, PlacedRun, PointMm } from '../../panel/index.ts';
import { useCommander, useCompiled, useScreen, useWorkbench } from '../workbench/context.ts';
import { chosenRunIds, nothing, selectionOfRuns } from '../workbench/selection.ts';
import type { ColourAt } from './colour-area.ts';
import type { DragStart } from './drags.ts';
import { alongRun, type PointPx, type Sight, toPanel } from './geometry.ts';
import { type Begun, beginGuide, beginPress, runsInBox } from './presses.ts';

/** Below this a press is a press, not a drag; a finger trembles more. */
const dragFromPx = { mouse: 3, pen: 4, touch: 8 } as const;
const wheelPerPx = 0.0016;
const mainButton = 0;
const middleButton = 1;
/** A line this near is clung to, but never from farther away than the hand means. */
const clingPx = 5;
const mostClingMm = 4;

interface Held {
  readonly pointer: number;
  readonly kind: keyof typeof dragFromPx;
  readonly start: PointPx;
  /** Undefined while a finger's press waits: a second finger may make it a pinch. */
  begun: Begun;
  waits: (() => Begun) | undefined;
  readonly gesture: string;
  last: PointPx;
  moved: boolean;
}

export interface BoxMm {
  readonly from: PointMm;
  readonly to: PointMm;
}

/** Tools that stay taken up after a drag: one rarely draws one line only. */
const lasting: ReadonlySet<string> = new Set(['measure', 'mark-spots', 'brush-area', 'pick-colour', 'paint']);

let drags = 0;

const middleOf = ([a, b]: readonly [PointPx, PointPx]): PointPx => ({
  x: (a.x + b.x) / 2,
  y: (a.y + b.y) / 2,
});
const apart = ([a, b]: readonly [PointPx, PointPx]): number => Math.max(8, Math.hypot(a.x - b.x, a.y - b.y));

export function usePointer(
  sight: Sight,
  surface: RefObject<HTMLElement | null>,
  artwork: { readonly colourAt: () => ColourAt | undefined; readonly lightness: () => Lightness | undefined },
) {
  const workbench = useWorkbench();
  const { viewport } = useCommander();
  const { layout } = useCompiled();
  const tool = useScreen((state) => state.tool);
  const held = useRef<Held>(undefined);
  const waiting = useRef<{ request: number; move: () => void }>(undefined);
  const fingers = useRef(new Map<number, PointPx>());
  const [isDragging, setDragging] = useState(false);
  const [cutBefore, setCutBefore] = useState<number>();
  const [box, setBox] = useState<BoxMm>();
  const toleranceMm = Math.min(mostClingMm, clingPx / sight.view.pxPerMm);

  const chosenRun = (): PlacedRun | undefined => {
    const { selection } = workbench.state;
    return selection.kind === 'run' ? layout.runs.find(({ run }) => run.id === selection.id) : undefined;
  };

  const localPoint = (event: PointerEvent | WheelEvent): PointPx => {
    const rect = surface.current!.getBoundingClientRect();
    return { x: event.clientX - rect.left, y: event.clientY - rect.top };
  };

  const hold = (event: PointerEvent, start: PointPx, begin: () => Begun, gesture: string) => {
    const kind = event.pointerType === 'touch' || event.pointerType === 'pen' ? event.pointerType : 'mouse';
    // What a mouse or a pen presses acts at once; a finger may be the first of two.
    const isFinger = kind === 'touch';
    const begun = isFinger ? undefined : begin();
    const waits = isFinger ? begin : undefined;
    // Handles go with the press, not with the first move: that one is short enough as it is.
    if (typeof begun === 'function') setDragging(true);
    held.current = {
      pointer: event.pointerId,
      kind,
      start,
      begun,
      waits,
      gesture,
      last: start,
      moved: false,
    };
    // A pointer that was made up by a test, or has just left, can't be captured; the drag works without.
    if (event.isTrusted) surface.current?.setPointerCapture(event.pointerId);
  };

  const started = (start: PointPx): DragStart => ({
    workbench,
    layout,
    from: toPanel(sight, start),
    gesture: `canvas drag ${++drags}`,
  });

  const beginWaiting = (one: Held) => {
    if (one.waits) one.begun = one.waits();
    one.waits = undefined;
  };

  /** Whatever the one finger had begun is called off: the hand zooms. */
  const callOff = () => {
    const { current } = held;
    if (!current) return;
    workbench.cancelGesture(current.gesture);
    finish();
  };

  const finish = () => {
    held.current = undefined;
    setDragging(false);
    setBox(undefined);
    workbench.set({ snapLines: {} });
    workbench.endDrag();
  };

  const onPointerDown = (event: PointerEvent<HTMLElement>) => {
    const start = localPoint(event);
    if (event.pointerType === 'touch') {
      fingers.current.set(event.pointerId, start);
      if (fingers.current.size >= 2) return callOff();
    }
    if (held.current || (event.button !== mainButton && event.button !== middleButton)) return;
    // What was typed belongs to what was chosen until now.
    (document.activeElement as HTMLElement | null)?.blur();
    const from = started(start);
    const target = event.target as Element;
    const isShift = event.shiftKey;
    const isFree = event.altKey;
    const begin = (): Begun =>
      event.button === middleButton
        ? 'pan'
        : beginPress({ ...from, target, isShift, isFree, toleranceMm, cutBefore, ...artwork });
    hold(event, start, begin, from.gesture);
  };

  /** Pulls a guide out of a ruler. */
  const pullGuide = (axis: 'x' | 'y') => (event: PointerEvent) => {
    if (held.current || event.button !== mainButton) return;
    const start = localPoint(event);
    const from = started(start);
    hold(event, start, () => beginGuide(from, axis), from.gesture);
  };

  const move = (at: PointPx, isFree: boolean, isStraight: boolean) => {
    const { current } = held;
    if (!current) return;
    const way = Math.hypot(at.x - current.start.x, at.y - current.start.y);
    if (!current.moved && way < dragFromPx[current.kind]) return;
    beginWaiting(current);
    if (!current.begun) return;
    if (!current.moved) {
      setDragging(true);
      workbench.beginDrag();
    }
    current.moved = true;
    if (current.begun === 'pan') viewport.panBy(at.x - current.last.x, at.y - current.last.y);
    else if (current.begun === 'box') setBox({ from: toPanel(sight, current.start), to: toPanel(sight, at) });
    else current.begun({ to: toPanel(sight, at), isFree, isStraight, toleranceMm });
    current.last = at;
  };

  const pinch = (id: number, at: PointPx) => {
    const both = () => [...fingers.current.values()].slice(0, 2) as [PointPx, PointPx];
    const before = both();
    fingers.current.set(id, at);
    const after = both();
    const [from, to] = [middleOf(before), middleOf(after)];
    viewport.panBy(to.x - from.x, to.y - from.y);
    viewport.zoomBy(apart(after) / apart(before), to);
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
    if (fingers.current.size >= 2 && fingers.current.has(event.pointerId)) return pinch(event.pointerId, at);
    if (fingers.current.has(event.pointerId)) fingers.current.set(event.pointerId, at);
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
    fingers.current.delete(event.pointerId);
    const { current } = held;
    if (!current || current.pointer !== event.pointerId) return;
    flush();
    // What the system takes away was not meant.
    if (event.type === 'pointercancel') return callOff();
    beginWaiting(current);
    const { begun, moved, start, last } = current;
    if (begun === 'box' && moved) {
      const inside = runsInBox(
        { workbench, layout, from: toPanel(sight, start), gesture: '' },
        toPanel(sight, start),
        toPanel(sight, last),
      );
      workbench.select(
        selectionOfRuns([...new Set([...chosenRunIds(workbench.state.selection), ...inside])]),
      );
    }
    // A press with the pen for runs sets a single lamp.
    const setsLamp = tool === 'draw-run' && !moved && event.type === 'pointerup';
    if (setsLamp && typeof begun === 'function')
      begun({ to: toPanel(sight, start), isFree: false, isStraight: false, toleranceMm });
    finish();
    if (typeof begun === 'function' && (moved || setsLamp)) {
      workbench.endGesture();
      workbench.settleFigures();
      if (tool !== 'select' && !lasting.has(tool)) workbench.set({ tool: 'select' });
    }
    if (begun === 'pan' && !moved && event.type === 'pointerup' && event.button === mainButton)
      workbench.select(nothing);
  };

  // Escape in the middle of a drag puts everything back.
  // biome-ignore lint/correctness/useExhaustiveDependencies: what it calls off is held in references
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const { current } = held;
      if (event.key !== 'Escape' || !current) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      workbench.cancelGesture(current.gesture);
      finish();
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
    box,
    pullGuide,
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
function cutUnder(placed: PlacedRun | undefined, place: PointMm): number | undefined {
  if (!placed || placed.run.ledCount < 2 || placed.run.ring) return undefined;
  const { pitches, besideMm } = alongRun(placed, place);
  const reach = placed.strip.boardWidthMm / 2 + 16;
  if (Math.abs(besideMm) > reach || pitches < 0 || pitches > placed.run.ledCount - 1) return undefined;
  return Math.min(placed.run.ledCount - 1, Math.max(1, Math.round(pitches + 0.5)));
}
