// Dragging on the rows: clips along time and to other rows, their ends, their fades, and a box round clips to choose. Listens on the window, because
// a clip that changes rows is another element. Not here: what a drag makes of the clips (clip-drags.ts).
import { type PointerEvent, type RefObject, useEffect, useRef, useState } from 'react';
import { clipAtSpot, edited, startHistory } from '../../../project/index.ts';
import { playheadOf } from '../../playback/playhead.ts';
import { timelineView } from '../../playback/timeline-view.ts';
import { useWorkbench } from '../../workbench/context.ts';
import { chosenClips, sameSpot, selectionOfClips, withClipToggled } from '../../workbench/selection.ts';
import type { Workbench } from '../../workbench/workbench.ts';
import { type ClipDrag, dragOf, plannedDrag, showAsIn } from './clip-drags.ts';
import { attractingMs, extentMs, type Snapping } from './clip-times.ts';
import { followPointer } from './pointer-follow.ts';
import { headsPx } from './use-timeline-view.ts';

/** A press that moves less is a press. */
const thresholdPx = 3;
const snapPx = 6;

let dragCount = 0;

interface Point {
  readonly x: number;
  readonly y: number;
}

/** What a pointer that is held does; `move` is called from the threshold on. */
interface Held {
  readonly move: (pointer: Point & { readonly altKey: boolean }) => void;
  readonly letGo: (hasMoved: boolean) => void;
  readonly callOff: () => void;
}

/** Corners of the box that is drawn round clips, as on the screen. */
export interface ChoiceBox {
  readonly from: Point;
  readonly to: Point;
}

/** Undefined where the press is on no clip. */
function heldClip(workbench: Workbench, rows: HTMLElement, event: PointerEvent): Held | undefined {
  const target = event.target as Element;
  const box = target.closest<HTMLElement>('[data-clip]');
  const rowElement = box?.closest<HTMLElement>('[data-row]');
  const show = workbench.project.lampshows.find(({ id }) => id === workbench.playback.current().show);
  if (!box || !rowElement || !show) return undefined;
  const spot = { row: Number(rowElement.dataset['row']), clip: Number(box.dataset['clip']) };
  const clip = clipAtSpot(show.rows, spot);
  if (!clip) return undefined;
  const part = target.closest<HTMLElement>('[data-edge], [data-fade]')?.dataset;
  const before = workbench.state.selection;
  const chosenBefore = chosenClips(before);
  const wasChosen = chosenBefore?.show === show.id && chosenBefore.spots.some((one) => sameSpot(one, spot));
  if (event.shiftKey && !part) {
    workbench.select(withClipToggled(before, show.id, spot));
    if (wasChosen) return { move: () => {}, letGo: () => {}, callOff: () => {} };
  } else if (!wasChosen) workbench.select({ kind: 'clip', show: show.id, ...spot });
  const { spots } = chosenClips(workbench.state.selection)!;
  const project = workbench.project;
  const extent = extentMs(show);
  const drag: ClipDrag = dragOf({ show, spot, clip, spots, part, stretches: event.shiftKey, extent });
  const msPerPx = extent / box.parentElement!.getBoundingClientRect().width;
  const attractMs = attractingMs(show, drag.clips);
  // As they were at the beginning: rows that grow under the hand must not throw the clip about.
  const rowEndsPx = [...rows.children].map((row) => row.getBoundingClientRect().bottom);
  const rowAt = (yPx: number) => {
    const row = rowEndsPx.findIndex((endPx) => yPx < endPx);
    return row === -1 ? rowEndsPx.length - 1 : row;
  };
  const gesture = `drag clips ${++dragCount}`;
  const snapping = (isFree: boolean): Snapping => {
    if (isFree) return { stepMs: 1, attractMs: [], withinMs: 0 };
    const { frameMs } = workbench.state.settled;
    const { atMs } = playheadOf(workbench.playback, project, frameMs);
    return { stepMs: frameMs, attractMs: [...attractMs, atMs], withinMs: snapPx * msPerPx };
  };
  const fromScrollPx = timelineView.current().scrollPx;
  let isDragged = false;
  return {
    move: ({ x, y, altKey }) => {
      if (!isDragged) workbench.beginDrag();
      isDragged = true;
      const byMs = (x - event.clientX + timelineView.current().scrollPx - fromScrollPx) * msPerPx;
      const planned = plannedDrag(drag, byMs, rowAt(y) - spot.row, snapping(altKey));
      // From how it was at the beginning, so that clips come back to their places in the rows' lists.
      const next = edited(startHistory(project), planned.label, planned.edit).project;
      workbench.edit(planned.label, showAsIn(next, show.id), gesture);
      workbench.select(selectionOfClips(show.id, planned.spots));
    },
    letGo: (hasMoved) => {
      workbench.endGesture();
      if (isDragged) workbench.endDrag();
      if (hasMoved) return;
      if (event.shiftKey && part) workbench.select(withClipToggled(before, show.id, spot));
      else if (!event.shiftKey) workbench.select({ kind: 'clip', show: show.id, ...spot });
    },
    callOff: () => {
      workbench.cancelGesture(gesture);
      if (isDragged) workbench.endDrag();
      workbench.select(selectionOfClips(show.id, spots));
    },
  };
}

/** Chooses the clips that a box meets; with Shift, beside those that are chosen. */
function heldBox(
  workbench: Workbench,
  rows: HTMLElement,
  event: PointerEvent,
  onBox: (box: ChoiceBox | undefined) => void,
): Held {
  const { show } = workbench.playback.current();
  const before = event.shiftKey ? chosenClips(workbench.state.selection) : undefined;
  const kept = before?.show === show ? before.spots : [];
  const fromScrollPx = timelineView.current().scrollPx;
  /** Its first corner stays at its moment when the timeline scrolls. */
  const corner = (): Point => ({
    x: event.clientX - (timelineView.current().scrollPx - fromScrollPx),
    y: event.clientY,
  });
  const met = (from: Point, to: Point) =>
    [...rows.querySelectorAll<HTMLElement>('[data-clip]')].filter((box) => {
      const { left, right, top, bottom } = box.getBoundingClientRect();
      const across = left <= Math.max(from.x, to.x) && right >= Math.min(from.x, to.x);
      return across && top <= Math.max(from.y, to.y) && bottom >= Math.min(from.y, to.y);
    });
  return {
    move: (to) => {
      const from = corner();
      const spots = met(from, to).map((box) => ({
        row: Number(box.closest<HTMLElement>('[data-row]')!.dataset['row']),
        clip: Number(box.dataset['clip']),
      }));
      const others = spots.filter((spot) => !kept.some((one) => sameSpot(one, spot)));
      workbench.select(selectionOfClips(show, [...kept, ...others]));
      onBox({ from, to });
    },
    letGo: () => onBox(undefined),
    callOff: () => {
      onBox(undefined);
      workbench.select(selectionOfClips(show, kept));
    },
  };
}

const nearPx = 28;
const scrollStepPx = 10;

/** Scrolls the timeline where the pointer is near an end of what is in view, which begins at `leftPx` of the screen; whether it did. */
function scrollNear(x: number, leftPx: number): boolean {
  const { scrollPx, widthPx } = timelineView.current();
  const way = x < leftPx + nearPx ? -1 : x > leftPx + widthPx - nearPx ? 1 : 0;
  if (way !== 0) timelineView.scrollTo(scrollPx + way * scrollStepPx);
  return timelineView.current().scrollPx !== scrollPx;
}

export interface ClipDragging {
  /** To be called when a pointer goes down somewhere in the rows. */
  readonly onPointerDown: (event: PointerEvent) => void;
  readonly box: ChoiceBox | undefined;
}

export function useClipDrag(rows: RefObject<HTMLElement | null>): ClipDragging {
  const workbench = useWorkbench();
  const [box, setBox] = useState<ChoiceBox>();
  const stop = useRef<() => void>(undefined);
  useEffect(() => () => stop.current?.(), []);
  const onPointerDown = (event: PointerEvent) => {
    if (event.button !== 0 || !rows.current) return;
    const isOnTrack = (event.target as Element).matches('[data-track]');
    const held =
      heldClip(workbench, rows.current, event) ??
      (isOnTrack ? heldBox(workbench, rows.current, event, setBox) : undefined);
    if (!held) return;
    stop.current?.();
    // What was typed into a field goes to the clip that it was typed for.
    (document.activeElement as HTMLElement | null)?.blur();
    let moved = false;
    let last = { x: event.clientX, y: event.clientY, altKey: event.altKey };
    const onMove = ({ clientX: x, clientY: y, altKey }: globalThis.PointerEvent) => {
      moved ||= Math.hypot(x - event.clientX, y - event.clientY) >= thresholdPx;
      last = { x, y, altKey };
      if (moved) held.move(last);
    };
    const scroller = rows.current.closest('[data-timeline]')!;
    const leftPx = scroller.getBoundingClientRect().left + headsPx;
    // Held near an end of what is in view, the timeline scrolls along.
    const scrollAlong = () => {
      request = requestAnimationFrame(scrollAlong);
      if (moved && scrollNear(last.x, leftPx)) held.move(last);
    };
    let request = requestAnimationFrame(scrollAlong);
    const stopFollowing = followPointer({
      move: onMove,
      letGo: () => {
        stop.current?.();
        held.letGo(moved);
      },
      callOff: () => {
        stop.current?.();
        held.callOff();
      },
    });
    stop.current = () => {
      stopFollowing();
      cancelAnimationFrame(request);
      stop.current = undefined;
    };
  };
  return { onPointerDown, box };
}
