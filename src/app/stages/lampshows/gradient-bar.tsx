// A gradient as the player has it, 64 colours mixed in OKLab, with its stops below as handles: dragged by pointer, moved by arrow keys, taken away
// by Delete; pressing the bar twice adds one. The figures beside it do the same.
import { type KeyboardEvent, type PointerEvent, useMemo, useRef } from 'react';
import { gradientTable } from '../../../lampshow/index.ts';
import { useWorkbench } from '../../workbench/context.ts';
import { hexOf, type Stops, shareOf, shownPercent } from './gradient-stops.ts';
import css from './inspector.module.css';

export interface GradientBarProps {
  readonly stops: Stops;
  readonly chosen: number;
  readonly onChoose: (stop: number) => void;
  readonly onMove: (stop: number, at: number, gesture: string) => void;
  readonly onAdd: (at: number) => void;
  readonly onRemove: (stop: number) => void;
}

let dragCount = 0;

const arrows: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 };
const homes: Readonly<Record<string, number>> = { Home: 0, End: 100 };

export function GradientBar(props: GradientBarProps) {
  const { stops, chosen, onChoose, onMove, onAdd, onRemove } = props;
  const workbench = useWorkbench();
  const bar = useRef<HTMLDivElement>(null);
  const drag = useRef<{ readonly gesture: string; readonly from: number }>(undefined);
  const background = useMemo(
    () =>
      `linear-gradient(90deg, ${gradientTable({ stops: [...stops] as never })
        .map(hexOf)
        .join(', ')})`,
    [stops],
  );
  const shareAt = (clientX: number): number => {
    const { left, width } = bar.current!.getBoundingClientRect();
    return shareOf((100 * (clientX - left)) / width);
  };
  const onPointerDown = (event: PointerEvent<HTMLElement>, stop: number) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    onChoose(stop);
    drag.current = { gesture: `drag stop ${++dragCount}`, from: stops[stop]!.at };
  };
  const onPointerMove = (event: PointerEvent<HTMLElement>, stop: number) => {
    if (!drag.current) return;
    const at = shareAt(event.clientX);
    if (at !== stops[stop]!.at) onMove(stop, at, drag.current.gesture);
  };
  const onPointerUp = () => {
    if (drag.current) workbench.endGesture();
    drag.current = undefined;
  };
  const onKeyDown = (event: KeyboardEvent, stop: number) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const step = arrows[event.key];
    const home = homes[event.key];
    if (event.key === 'Escape' && drag.current) {
      workbench.cancelGesture(drag.current.gesture);
      drag.current = undefined;
    } else if (event.key === 'Delete' || event.key === 'Backspace') {
      onRemove(stop);
      // The keyboard goes on from the stop that took its place.
      const left = bar.current?.parentElement?.querySelectorAll<HTMLElement>('[role="slider"]');
      if (stops.length > 1) left?.[stop === stops.length - 1 ? stop - 1 : stop]?.focus();
    } else if (event.key === 'Enter' || event.key === ' ') onChoose(stop);
    else if (home !== undefined) onMove(stop, shareOf(home), `nudge stop ${stop}`);
    else if (step !== undefined) {
      onChoose(stop);
      const percent = shownPercent(stops[stop]!.at) + step * (event.shiftKey ? 10 : 1);
      onMove(stop, shareOf(percent), `nudge stop ${stop}`);
    } else return;
    // Keys that a stop uses are not for the clip.
    event.preventDefault();
  };
  return (
    <div className={css['gradient']}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: a short cut; "Add a stop" does the same from the keyboard */}
      <div
        ref={bar}
        className={css['bar']}
        style={{ background }}
        onDoubleClick={(event) => onAdd(shareAt(event.clientX))}
      />
      {stops.map(({ at, colour }, stop) => (
        <div
          // biome-ignore lint/suspicious/noArrayIndexKey: a stop is known by its place in the list
          key={stop}
          className={css['stop']}
          data-chosen={stop === chosen}
          role="slider"
          tabIndex={0}
          aria-label={`Stop ${stop + 1}`}
          aria-valuemin={0}
          aria-valuemax={100}
          aria-valuenow={shownPercent(at)}
          aria-valuetext={`${shownPercent(at)} %, ${colour}`}
          style={{ left: `${100 * at}%`, '--colour': colour } as React.CSSProperties}
          onPointerDown={(event) => onPointerDown(event, stop)}
          onPointerMove={(event) => onPointerMove(event, stop)}
          onPointerUp={onPointerUp}
          onPointerCancel={onPointerUp}
          onKeyDown={(event) => onKeyDown(event, stop)}
          onFocus={() => onChoose(stop)}
        />
      ))}
    </div>
  );
}
