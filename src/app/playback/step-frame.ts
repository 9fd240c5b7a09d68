import type { Playback } from './playback.ts';

/** Steps from a standing picture: who looks frame by frame doesn't want it to run on. */
export function stepFrame(playback: Playback, frames: number): void {
  playback.setPlaying(false);
  playback.scrubTo(Math.max(0, playback.current().frame + frames));
}
