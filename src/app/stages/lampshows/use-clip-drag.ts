// Dragging clips with the pointer: along time, to other rows, or one of their ends. The document changes with the hand, as one step back; Escape
// puts everything where it was. Times come from clip-times.ts. Listens on the window, because a clip that changes rows is another element.
import { type PointerEvent, type RefObject, useEffect, useRef } from 'react';
import { type Clip, type ClipPlace, changeClip, moveClip } from '../../../project/index.ts';
import { frameInPass } from '../../playback/playback.ts';
import { useWorkbench } from '../../workbench/context.ts';
import type { Workbench } from '../../workbench/workbench.ts';
import { attractingMs, type DragEdge, draggedSpan, extentMs } from './clip-times.ts';

/** A press that moves less is a press. */
const thresholdPx = 3;
const snapPx = 6;
const stepMs = 10;

let dragCount = 0;

interface Drag {
  readonly workbench: Workbench;
  readonly from: ClipPlace;
  readonly clip: Clip;
  readonly edge: DragEdge;
  readonly fromPx: { readonly x: number; readonly y: number };
  readonly msPerPx: number;
  readonly extentMs: number;
  readonly attractMs: readonly number[];
  /** Lower ends of the rows as they were at the beginning: rows that grow under the hand must not throw the clip about. */
  readonly rowEndsPx: readonly number[];
  readonly gesture: string;
}

function beginDrag(workbench: Workbench, rows: HTMLElement, event: PointerEvent): Drag | undefined {
  const target = event.target as Element;
  const box = target.closest<HTMLElement>('[data-clip]');
  const rowElement = box?.closest<HTMLElement>('[data-row]');
  if (!box || !rowElement || event.button !== 0) return undefined;
  const show = workbench.project.lampshows.find(({ id }) => id === workbench.playback.current().show);
  const from = {
    show: show?.id ?? '',
    row: Number(rowElement.dataset['row']),
    clip: Number(box.dataset['clip']),
  };
  const clip = show?.rows[from.row]?.clips[from.clip];
  if (!show || !clip) return undefined;
  const edge = target.closest<HTMLElement>('[data-edge]')?.dataset['edge'];
  const extent = extentMs(show);
  return {
    workbench,
    from,
    clip,
    edge: edge === 'start' || edge === 'end' ? edge : 'both',
    fromPx: { x: event.clientX, y: event.clientY },
    msPerPx: extent / box.parentElement!.getBoundingClientRect().width,
    extentMs: extent,
    attractMs: attractingMs(show, clip),
    rowEndsPx: [...rows.children].map((row) => row.getBoundingClientRect().bottom),
    gesture: `drag clip ${++dragCount}`,
  };
}

/** The row under the pointer; beyond the ends, the first or the last. */
function rowAt({ rowEndsPx }: Drag, yPx: number): number {
  const row = rowEndsPx.findIndex((endPx) => yPx < endPx);
  return row === -1 ? rowEndsPx.length - 1 : row;
}

function playheadMs({ playback, state, project }: Workbench): number {
  const { show, frame } = playback.current();
  const { frameMs } = state.compiled;
  return frameInPass(frame, frameMs, project.lampshows.find(({ id }) => id === show)!.lengthMs) * frameMs;
}

/** Brings the clip to where the pointer wants it; returns its place afterwards. */
function follow(drag: Drag, place: ClipPlace, pointer: { x: number; y: number; altKey: boolean }): ClipPlace {
  const { workbench, clip, edge, fromPx, msPerPx, gesture } = drag;
  const span = draggedSpan(
    clip,
    edge,
    (pointer.x - fromPx.x) * msPerPx,
    pointer.altKey
      ? { stepMs: 1, attractMs: [], withinMs: 0 }
      : { stepMs, attractMs: [...drag.attractMs, playheadMs(workbench)], withinMs: snapPx * msPerPx },
    drag.extentMs,
  );
  if (edge !== 'both') {
    workbench.edit('Trim clip', changeClip(place, span), gesture);
    return place;
  }
  const toRow = rowAt(drag, pointer.y);
  workbench.edit('Move clip', moveClip(place, toRow, span.startMs), gesture);
  if (toRow === place.row) return place;
  const row = workbench.project.lampshows.find(({ id }) => id === place.show)!.rows[toRow]!;
  const moved = { show: place.show, row: toRow, clip: row.clips.length - 1 };
  workbench.select({ kind: 'clip', ...moved });
  return moved;
}

/** Returns what to call when a pointer goes down somewhere in the rows. */
export function useClipDrag(rows: RefObject<HTMLElement | null>): (event: PointerEvent) => void {
  const workbench = useWorkbench();
  const stop = useRef<() => void>(undefined);
  useEffect(() => () => stop.current?.(), []);
  return (event) => {
    const drag = rows.current && beginDrag(workbench, rows.current, event);
    if (!drag) return;
    stop.current?.();
    // What was typed into a field goes to the clip that it was typed for.
    (document.activeElement as HTMLElement | null)?.blur();
    workbench.select({ kind: 'clip', ...drag.from });
    let place = drag.from;
    let moved = false;
    const onMove = ({ clientX: x, clientY: y, altKey }: globalThis.PointerEvent) => {
      moved ||= Math.hypot(x - drag.fromPx.x, y - drag.fromPx.y) >= thresholdPx;
      if (moved) place = follow(drag, place, { x, y, altKey });
    };
    const end = () => {
      stop.current?.();
      workbench.endGesture();
      // A clip that changed rows is another button; the keyboard goes on from it.
      if (place.row !== drag.from.row)
        requestAnimationFrame(() =>
          rows.current
            ?.querySelector<HTMLElement>(`[data-row="${place.row}"] [data-clip="${place.clip}"]`)
            ?.focus({ preventScroll: true }),
        );
    };
    const onKey = (key: KeyboardEvent) => {
      if (key.key !== 'Escape') return;
      key.preventDefault();
      key.stopPropagation();
      stop.current?.();
      workbench.cancelGesture(drag.gesture);
      workbench.select({ kind: 'clip', ...drag.from });
    };
    addEventListener('pointermove', onMove);
    addEventListener('pointerup', end);
    addEventListener('pointercancel', end);
    addEventListener('keydown', onKey, true);
    stop.current = () => {
      removeEventListener('pointermove', onMove);
      removeEventListener('pointerup', end);
      removeEventListener('pointercancel', end);
      removeEventListener('keydown', onKey, true);
      stop.current = undefined;
    };
  };
}
