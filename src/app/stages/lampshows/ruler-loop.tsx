// The part of the show that playing repeats, on a strip along the top of the ruler: dragging on the strip makes one, its ends can be dragged. The show
// pane has the number fields; the keys are in timeline-commands.ts.
import { type PointerEvent, useEffect, useRef } from 'react';
import type { Lampshow } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import type { LoopRange } from '../../playback/playback.ts';
import { setLoop } from '../../workbench/commands/timeline-commands.ts';
import { usePlaybackPart, useWorkbench } from '../../workbench/context.ts';
import { attractingMs, draggedMoment } from './clip-times.ts';
import { followPointer } from './pointer-follow.ts';
import css from './timeline.module.css';

const snapPx = 6;
const thresholdPx = 3;

export function RulerLoop({ show, extent }: { readonly show: Lampshow; readonly extent: number }) {
  const workbench = useWorkbench();
  const loop = usePlaybackPart('loop');
  const strip = useRef<HTMLDivElement>(null);
  const stop = useRef<() => void>(undefined);
  useEffect(() => () => stop.current?.(), []);

  const onPointerDown = (event: PointerEvent) => {
    if (event.button !== 0) return;
    const { left, width } = strip.current!.getBoundingClientRect();
    const msPerPx = extent / width;
    const { frameMs } = workbench.state.settled;
    const attractMs = attractingMs(show, []);
    const end = (event.target as HTMLElement).dataset['end'];
    const before = loop;
    const momentAt = (x: number, isFree: boolean) =>
      draggedMoment(
        Math.min(show.lengthMs, Math.max(0, (x - left) * msPerPx)),
        isFree
          ? { stepMs: 1, attractMs: [], withinMs: 0 }
          : { stepMs: frameMs, attractMs, withinMs: snapPx * msPerPx },
      );
    const fixedMs =
      before && end === 'from'
        ? before.toMs
        : before && end === 'to'
          ? before.fromMs
          : momentAt(event.clientX, event.altKey);
    let moved = false;
    const onMove = ({ clientX, altKey }: globalThis.PointerEvent) => {
      moved ||= Math.abs(clientX - event.clientX) >= thresholdPx;
      if (!moved) return;
      const at = momentAt(clientX, altKey);
      const range: LoopRange = { fromMs: Math.min(at, fixedMs), toMs: Math.max(at, fixedMs) };
      setLoop(workbench, range);
    };
    stop.current?.();
    stop.current = followPointer({
      move: onMove,
      letGo: () => undefined,
      callOff: () => setLoop(workbench, before),
    });
  };
  const percentOf = (ms: number) => `${(100 * ms) / extent}%`;
  return (
    <div
      ref={strip}
      className={css['loop-strip']}
      data-loop={loop ? `${loop.fromMs} ${loop.toMs}` : ''}
      title={
        loop
          ? `Repeats ${seconds(loop.fromMs)} to ${seconds(loop.toMs)} s (U ends it)`
          : 'Drag along here to repeat a part of the show'
      }
      onPointerDown={onPointerDown}
    >
      {loop && (
        <span
          className={css['loop']}
          style={{ left: percentOf(loop.fromMs), width: percentOf(loop.toMs - loop.fromMs) }}
        >
          <span data-end="from" />
          <span data-end="to" />
        </span>
      )}
    </div>
  );
}
