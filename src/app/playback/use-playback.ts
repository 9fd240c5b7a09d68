// Ties playback to React: one playback per opened project, driven by the screen's own refresh.
import { useEffect, useState, useSyncExternalStore } from 'react';
import { framesOfShow, type OpenedProject } from '../opening/open-project.ts';
import { Playback, type PlaybackState } from './playback.ts';

/** Where a still picture stands for someone who asked for less motion: far enough in for every row to have faded up. */
const stillShare = 1 / 3;

function startOf({ project, examination }: OpenedProject): PlaybackState {
  const show = project.lampshows.find((one) => one.id === project.attractMode)!;
  const playing = !matchMedia('(prefers-reduced-motion: reduce)').matches;
  const frame = playing ? 0 : Math.floor(framesOfShow(show, examination.frameMs) * stillShare);
  return { show: show.id, playing, frame };
}

export function usePlayback(opened: OpenedProject): Playback {
  const [playback] = useState(
    () => new Playback(startOf(opened), opened.examination.frameMs, () => performance.now()),
  );
  useEffect(() => {
    const step = () => {
      playback.tick();
      request = requestAnimationFrame(step);
    };
    let request = requestAnimationFrame(step);
    return () => cancelAnimationFrame(request);
  }, [playback]);
  return playback;
}

export const usePlaybackState = (playback: Playback): PlaybackState =>
  useSyncExternalStore(playback.subscribe, playback.current);

/** One part of the state, so that a component that needs no frame number isn't drawn again with every frame. */
export const usePlaybackPart = <K extends keyof PlaybackState>(
  playback: Playback,
  key: K,
): PlaybackState[K] => useSyncExternalStore(playback.subscribe, () => playback.current()[key]);
