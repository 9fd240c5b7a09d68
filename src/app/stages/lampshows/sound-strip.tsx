// The sound's waveform above the rows, on the show's own time; only the part in view is drawn. And the guide that lets it be heard while the show plays.
import { useEffect, useLayoutEffect, useRef } from 'react';
import { useStore } from 'zustand';
import type { Lampshow } from '../../../project/index.ts';
import { frameInPass } from '../../playback/playback.ts';
import { loudspeaker } from '../../sound/loudspeaker.ts';
import { SoundGuide, type SoundTrack, soundTracks } from '../../sound/sound-track.ts';
import { envelope } from '../../sound/waveform.ts';
import { usePlaybackPart, useScreen, useSettled, useWorkbench } from '../../workbench/context.ts';
import css from './timeline.module.css';
import type { TimelineInView } from './use-timeline-view.ts';

const heightPx = 30;

export const useSoundTrack = (show: string): SoundTrack | undefined =>
  useStore(soundTracks, (tracks) => tracks[show]);

interface StripProps {
  readonly show: Lampshow;
  readonly extent: number;
  readonly inView: TimelineInView;
}

/** Nothing while the show has no sound. */
export function SoundStrip({ show, extent, inView }: StripProps) {
  const track = useSoundTrack(show.id);
  return track ? <Strip track={track} extent={extent} inView={inView} /> : null;
}

function Strip({ track, extent, inView }: Omit<StripProps, 'show'> & { readonly track: SoundTrack }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { trackPx, fromPx, toPx } = inView;
  // The colour is the mood's.
  const isLit = useScreen(({ roomLight }) => roomLight >= 0.5);
  const widthPx = Math.max(1, Math.min(toPx, trackPx) - fromPx);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the mood decides the colour that the style sheet gives
  useLayoutEffect(() => {
    const element = canvas.current!;
    const ratio = Math.min(2, devicePixelRatio);
    element.width = Math.round(widthPx * ratio);
    element.height = Math.round(heightPx * ratio);
    const context = element.getContext('2d');
    if (!context) return;
    const msPerColumn = extent / trackPx / ratio;
    const levels = envelope(
      track.sound,
      (fromPx * extent) / trackPx - track.startMs,
      msPerColumn,
      element.width,
    );
    context.fillStyle = getComputedStyle(element).color;
    const middle = element.height / 2;
    for (let column = 0; column < element.width; column++) {
      const [low, high] = [levels[2 * column]!, levels[2 * column + 1]!];
      const top = middle - high * middle;
      context.fillRect(column, top, 1, Math.max(1, middle - low * middle - top));
    }
  }, [track.sound, track.startMs, extent, trackPx, fromPx, widthPx, isLit]);
  return (
    <div className={css['marks-row']} data-sound>
      <div className={css['corner']}>
        <span className={css['corner-label']}>Sound</span>
      </div>
      <div className={css['sound-track']}>
        <canvas
          ref={canvas}
          role="img"
          aria-label={`Waveform of ${track.name}`}
          style={{ left: fromPx, width: widthPx, height: heightPx }}
        />
      </div>
    </div>
  );
}

/** Lets the chosen show's sound be heard while it plays. */
export function useSoundGuide(show: Lampshow): void {
  const { playback } = useWorkbench();
  const track = useSoundTrack(show.id);
  const { frameMs } = useSettled();
  // In a game other shows play, each at its own time.
  const inGame = usePlaybackPart('reached') !== undefined;
  const { lengthMs } = show;
  const hasTrack = track !== undefined;
  const latest = useRef(track);
  latest.current = track;
  useEffect(() => {
    if (!hasTrack || inGame) return undefined;
    const guide = new SoundGuide(loudspeaker(), () => performance.now());
    const follow = () => {
      const { frame, playing } = playback.current();
      guide.follow(latest.current, frameInPass(frame, frameMs, lengthMs) * frameMs, playing);
    };
    const stop = playback.subscribe(follow);
    follow();
    return () => {
      stop();
      guide.silence();
    };
  }, [playback, hasTrack, inGame, frameMs, lengthMs]);
}
