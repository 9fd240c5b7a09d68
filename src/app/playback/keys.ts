// Keys that work anywhere on the page, as rows of data: which key, and what it does. Controls that use a key themselves keep it.
import type { Playback } from './playback.ts';

export interface KeyTarget {
  readonly playback: Playback;
  readonly shows: readonly string[];
}

export interface KeyRow {
  readonly key: string;
  /** Kinds of control that use this key themselves. */
  readonly keptBy: string;
  readonly run: (target: KeyTarget) => void;
}

/** Steps from a standing picture: who looks frame by frame doesn't want it to run on. */
export function stepFrame(playback: Playback, frames: number): void {
  playback.setPlaying(false);
  playback.scrubTo(Math.max(0, playback.current().frame + frames));
}

const arrowKeepers = 'input:not([data-time]), [role="dialog"]';
const digits = Array.from(
  { length: 9 },
  (_, index): KeyRow => ({
    key: String(index + 1),
    keptBy: 'input[type="text"], input[type="number"]',
    run: ({ playback, shows }) => {
      const show = shows[index];
      if (show !== undefined) playback.choose(show);
    },
  }),
);

export const keyRows: readonly KeyRow[] = [
  { key: ' ', keptBy: 'button, a, summary', run: ({ playback }) => playback.toggle() },
  { key: 'ArrowLeft', keptBy: arrowKeepers, run: ({ playback }) => stepFrame(playback, -1) },
  { key: 'ArrowRight', keptBy: arrowKeepers, run: ({ playback }) => stepFrame(playback, 1) },
  ...digits,
];

/** Whether the key was used. */
export function runKey(event: KeyboardEvent, target: KeyTarget): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  const row = keyRows.find((one) => one.key === event.key);
  if (!row || (event.target instanceof Element && event.target.closest(row.keptBy))) return false;
  row.run(target);
  return true;
}
