// The show at a glance, and the slider that scrubs through it: time runs across, the LEDs run down in the order of the wire, each dot the
// colour that the LED has then. A native range lies over the picture and does the work; the playhead is drawn.
import { type KeyboardEvent, useLayoutEffect, useRef } from 'react';
import { seconds } from '../format.ts';
import { framesOfShow, type OpenedProject } from '../opening/open-project.ts';
import type { ShowSurvey } from '../survey/show-survey.ts';
import { stepFrame } from './keys.ts';
import { frameInPass, type Playback } from './playback.ts';
import { rulerMarks } from './ruler.ts';
import css from './timeline.module.css';
import { usePlaybackPart, usePlaybackState } from './use-playback.ts';

function Weave({ survey }: { readonly survey: ShowSurvey | undefined }) {
  const ref = useRef<HTMLCanvasElement>(null);
  useLayoutEffect(() => {
    const canvas = ref.current!;
    const { columns, rows, pixels } = survey?.weave ?? { columns: 1, rows: 1, pixels: undefined };
    canvas.width = columns;
    canvas.height = Math.max(1, rows);
    if (pixels && rows > 0) canvas.getContext('2d')?.putImageData(new ImageData(pixels, columns, rows), 0, 0);
  }, [survey]);
  return (
    <canvas
      ref={ref}
      className={css['weave']}
      role="img"
      aria-label="Weave: the colour of every LED over the length of the show"
    />
  );
}

function Ruler({ lengthMs }: { readonly lengthMs: number }) {
  return (
    <div className={css['ruler']} aria-hidden="true">
      {rulerMarks(lengthMs).map((ms) => (
        <span key={ms} style={{ left: `${(100 * ms) / lengthMs}%` }}>
          {ms / 1000}
          {ms === 0 && ' s'}
        </span>
      ))}
    </div>
  );
}

const arrows: Readonly<Record<string, number>> = {
  ArrowLeft: -1,
  ArrowDown: -1,
  ArrowRight: 1,
  ArrowUp: 1,
};

function Scrubber({ opened, playback }: { readonly opened: OpenedProject; readonly playback: Playback }) {
  const { show: id, frame } = usePlaybackState(playback);
  const { frameMs } = opened.examination;
  const show = opened.project.lampshows.find((one) => one.id === id)!;
  const frames = framesOfShow(show, frameMs);
  const place = frameInPass(frame, frameMs, show.lengthMs);
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
      <div className={css['playhead']} style={{ left: `${(100 * place) / Math.max(1, frames - 1)}%` }} />
      <input
        type="range"
        className={css['slider']}
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

export function Timeline(props: {
  readonly opened: OpenedProject;
  readonly playback: Playback;
  readonly survey: ShowSurvey | undefined;
}) {
  const { opened, playback, survey } = props;
  const id = usePlaybackPart(playback, 'show');
  const show = opened.project.lampshows.find((one) => one.id === id)!;
  return (
    <div className={css['timeline']}>
      <Ruler lengthMs={show.lengthMs} />
      <div className={css['track']}>
        <Weave survey={survey} />
        <Scrubber opened={opened} playback={playback} />
      </div>
    </div>
  );
}
