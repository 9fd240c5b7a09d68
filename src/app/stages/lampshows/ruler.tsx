// The ruler of time, and the slider that scrubs through the show. A native range lies over the marks and does the work; the handle is drawn.
import { type KeyboardEvent, useRef } from 'react';
import type { Lampshow } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { framesOfShow } from '../../playback/frames.ts';
import { frameInPass } from '../../playback/playback.ts';
import { rulerMarks } from '../../playback/ruler.ts';
import { stepFrame } from '../../playback/step-frame.ts';
import { usePlaybackState, useSettled, useWorkbench } from '../../workbench/context.ts';
import css from './timeline.module.css';

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

export function Ruler({ show, extent }: RulerProps) {
  return (
    <div className={css['ruler']}>
      <div className={css['marks']}>
        <div aria-hidden="true">
          {rulerMarks(extent).map((ms) => (
            <span key={ms} data-last={ms === extent} style={{ left: `${(100 * ms) / extent}%` }}>
              {ms / 1000}
              {ms === 0 && ' s'}
            </span>
          ))}
        </div>
        <Scrubber show={show} extent={extent} />
      </div>
    </div>
  );
}
