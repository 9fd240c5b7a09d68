// The moment of the show at which playing stands.
import type { Project } from '../../project/index.ts';
import { frameInPass, type Playback } from './playback.ts';

export interface Playhead {
  readonly show: string;
  /** The moment of the frame that is shown, from the show's start. */
  readonly atMs: number;
}

export function playheadOf(playback: Playback, project: Project, frameMs: number): Playhead {
  const { show, frame } = playback.current();
  const lengthMs = project.lampshows.find(({ id }) => id === show)?.lengthMs;
  return { show, atMs: lengthMs === undefined ? 0 : frameInPass(frame, frameMs, lengthMs) * frameMs };
}
