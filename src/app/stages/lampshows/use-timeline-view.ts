// The timeline's scale and scroll for React, tied to the element that scrolls: its width, its scroll bar, the wheel. The style sheet hears of the
// scroll too, as --scroll.
import { type RefObject, useEffect, useLayoutEffect, useMemo, useSyncExternalStore } from 'react';
import { useSize } from '../../frame/use-size.ts';
import { timelineView } from '../../playback/timeline-view.ts';

/** Names of the rows on the left, and what is left free on the right; the style sheet has the same. */
export const headsPx = 156;
const edgePx = 24;

/** What is in view, in steps, so that a small scroll draws nothing anew. */
const stepPx = 128;

export interface TimelineInView {
  /** How long the tracks are; 0 until they are measured. */
  readonly trackPx: number;
  /** Of the tracks: what is in view lies between these. */
  readonly fromPx: number;
  readonly toPx: number;
  readonly isFitted: boolean;
}

const useScale = () => useSyncExternalStore(timelineView.subscribe, timelineView.current);

/** Another show is fitted anew. */
export function useTimelineInView(show: string, extentMs: number): TimelineInView {
  const { pxPerMs, scrollPx, widthPx } = useScale();
  useLayoutEffect(() => timelineView.setExtent(extentMs), [extentMs]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another show alone asks for it
  useLayoutEffect(() => timelineView.fit(), [show]);
  const trackPx = Math.max(0, pxPerMs === undefined ? widthPx : pxPerMs * extentMs);
  const fromPx = Math.floor(scrollPx / stepPx) * stepPx;
  const toPx = Math.ceil((scrollPx + widthPx) / stepPx) * stepPx;
  const isFitted = pxPerMs === undefined;
  return useMemo(() => ({ trackPx, fromPx, toPx, isFitted }), [trackPx, fromPx, toPx, isFitted]);
}

/** A wheel's notch is about 100: five of them make it three times as large. */
const wheelZoom = 0.0022;

/** Ties the view to the element that scrolls. */
export function useTimelineScroll(scroller: RefObject<HTMLElement | null>): void {
  const { width } = useSize(scroller);
  const { scrollPx, pxPerMs } = useScale();
  useLayoutEffect(() => timelineView.setWidth(Math.max(0, width - headsPx - edgePx)), [width]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: at another scale the same scroll is another place
  useLayoutEffect(() => {
    const element = scroller.current!;
    if (Math.abs(element.scrollLeft - scrollPx) > 1) element.scrollLeft = scrollPx;
    element.style.setProperty('--scroll', `${element.scrollLeft}px`);
  }, [scroller, scrollPx, pxPerMs]);
  useEffect(() => {
    const element = scroller.current!;
    const onScroll = () => timelineView.scrollTo(element.scrollLeft);
    const onWheel = (event: WheelEvent) => {
      const { ctrlKey, metaKey, shiftKey, deltaX, deltaY, clientX } = event;
      if (ctrlKey || metaKey) {
        event.preventDefault();
        const atPx = clientX - element.getBoundingClientRect().left - headsPx;
        timelineView.zoomBy(Math.exp(-deltaY * wheelZoom), Math.max(0, atPx));
        return;
      }
      // Where all rows are in view, a plain wheel goes along time.
      const goesAlong = !shiftKey && deltaX === 0 && element.scrollHeight <= element.clientHeight;
      if (!goesAlong || element.scrollWidth <= element.clientWidth) return;
      event.preventDefault();
      element.scrollLeft += deltaY;
    };
    element.addEventListener('scroll', onScroll);
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => {
      element.removeEventListener('scroll', onScroll);
      element.removeEventListener('wheel', onWheel);
    };
  }, [scroller]);
}
