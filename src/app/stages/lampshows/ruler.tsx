// The ruler of time, the slider that scrubs through the show, and the buttons that zoom. A native range lies over the marks and does the work; the
// handle is drawn. Not here: the part that is repeated (ruler-loop.tsx).
import type { Lampshow } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { framesOfShow } from '../../playback/frames.ts';
import { frameInPass } from '../../playback/playback.ts';
import { rulerMarks, rulerMarksBetween } from '../../playback/ruler.ts';
import { useCommander, usePlaybackState, useSettled, useWorkbench } from '../../workbench/context.ts';
import { RulerLoop } from './ruler-loop.tsx';
import css from './timeline.module.css';
import { useScrubbing } from './use-scrubbing.ts';
import type { TimelineInView } from './use-timeline-view.ts';

interface RulerProps {
  readonly show: Lampshow;
  readonly extent: number;
}

function Scrubber({ show, extent }: RulerProps) {
  const { playback } = useWorkbench();
  const { frame } = usePlaybackState();
  const { frameMs } = useSettled();
  const frames = framesOfShow(show, frameMs);
  const place = frameInPass(frame, frameMs, show.lengthMs);
  const percentOf = (ms: number) => `${(100 * ms) / extent}%`;
  const scrubbing = useScrubbing();
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
        {...scrubbing}
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
