// The ruler of time, the slider that scrubs through the show, and the buttons that zoom. A native range lies over the marks and does the work; the
// handle is drawn. Not here: the part that is repeated (ruler-loop.tsx).
import { type KeyboardEvent, useRef } from 'react';
import type { Lampshow } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { framesOfShow } from '../../playback/frames.ts';
import { frameInPass } from '../../playback/playback.ts';
import { rulerMarks, rulerMarksBetween } from '../../playback/ruler.ts';
import { stepFrame } from '../../playback/step-frame.ts';
import { useCommander, usePlaybackState, useSettled, useWorkbench } from '../../workbench/context.ts';
import { RulerLoop } from './ruler-loop.tsx';
import css from './timeline.module.css';
import type { TimelineInView } from './use-timeline-view.ts';

interface RulerProps {
  readonly show: Lampshow;
  readonly extent: number;
}

const arrows: Readonly<Record<string, number>> = {
  ArrowLeft: -1,
  ArrowDown: -1,
  ArrowRight: 1,
  ArrowUp: 1,
};

function Scrubber({ show, extent }: RulerProps) {
  const { playback } = useWorkbench();
  const { frame } = usePlaybackState();
  const { frameMs } = useSettled();
  const frames = framesOfShow(show, frameMs);
  const place = frameInPass(frame, frameMs, show.lengthMs);
  const percentOf = (ms: number) => `${(100 * ms) / extent}%`;
  /** While the pointer holds the playhead, time stands still; whether it went on before is remembered here. */
  const held = useRef(false);
  const letGo = () => {
    if (held.current) playback.setPlaying(true);
    held.current = false;
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const step = arrows[event.key];
    if (step === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    stepFrame(playback, step);
  };
  return (
    <>
      <div className={css['handle']} style={{ left: percentOf(place * frameMs) }} aria-hidden="true" />
      <input
        type="range"
        className={css['slider']}
        // The last frame begins a frame's time before the show ends.
        style={{ width: percentOf((frames - 1) * frameMs) }}
        aria-label="Time"
        aria-valuetext={`${seconds(place * frameMs)} seconds, frame ${place} of ${frames}`}
        data-time
        min={0}
        max={frames - 1}
        step={1}
        value={place}
        onChange={(event) => playback.scrubTo(event.currentTarget.valueAsNumber)}
        onKeyDown={onKeyDown}
        onPointerDown={() => {
          held.current = playback.current().playing;
          playback.setPlaying(false);
        }}
        onPointerUp={letGo}
        onPointerCancel={letGo}
      />
    </>
  );
}

const zooms = [
  { command: 'timeline-out', label: 'Show more time', sign: '−', keys: 'Alt+-' },
  { command: 'timeline-in', label: 'Show less time, larger', sign: '+', keys: 'Alt+=' },
  { command: 'timeline-fit', label: 'Show the whole show', sign: 'Fit', keys: 'Alt+0' },
] as const;

function Zooms() {
  const commander = useCommander();
  return (
    <div className={css['corner']}>
      {zooms.map(({ command, label, sign, keys }) => (
        <button
          key={command}
          type="button"
          className={css['small-button']}
          aria-label={label}
          aria-keyshortcuts={keys}
          title={`${label} (${keys})`}
          onClick={() => commander.run(command)}
        >
          {sign}
        </button>
      ))}
    </div>
  );
}

export function Ruler({ show, extent, inView }: RulerProps & { readonly inView: TimelineInView }) {
  const { trackPx, fromPx, toPx, isFitted } = inView;
  const msPerPx = extent / Math.max(1, trackPx);
  const marks = isFitted
    ? rulerMarks(extent)
    : rulerMarksBetween(fromPx * msPerPx, Math.min(extent, toPx * msPerPx), 1 / msPerPx);
  return (
    <div className={css['ruler']}>
      <Zooms />
      <div className={css['marks']}>
        <div aria-hidden="true">
          {marks.map((ms) => (
            <span key={ms} data-last={ms === extent} style={{ left: `${(100 * ms) / extent}%` }}>
              {ms / 1000}
              {ms === 0 && ' s'}
            </span>
          ))}
        </div>
        <Scrubber show={show} extent={extent} />
        <RulerLoop show={show} extent={extent} />
      </div>
    </div>
  );
}
