// What shows draw and lose, in words. Pure.
import type { PowerPlay, ShowLoss } from '../../../board/index.ts';

/** A share as whole percent; never 0 where there is some, never 100 where some is left. */
export function percentOf(share: number): string {
  if (share <= 0) return '0 %';
  if (share >= 1) return '100 %';
  const percent = Math.round(share * 100);
  return percent === 0 ? '< 1 %' : `${Math.min(99, percent)} %`;
}

export const progressInWords = (done: number | undefined): string => percentOf(done ?? 0);

/** Which show is dimmed the most, and how much of it. */
export function lossInWords(losses: readonly ShowLoss[], nameOf: (id: string) => string): string {
  const held = losses.filter(({ heldFrames }) => heldFrames > 0);
  if (held.length === 0) return 'At this limit no show by itself is ever dimmed.';
  const worst = held.reduce((most, one) => (one.deepestPercent > most.deepestPercent ? one : most));
  const shows = held.length === 1 ? '1 show is' : `${held.length} shows are`;
  return (
    `${shows} dimmed in part. The deepest: ${nameOf(worst.lampshow)}, ` +
    `${percentOf(worst.heldShare)} of its frames, by ${Math.round(worst.deepestPercent)} % at most.`
  );
}

/** Since power-up. */
export const secondsIn = (frame: number, frameMs: number): string =>
  `${((frame * frameMs) / 1000).toFixed(1)} s`;

/** "Jackpot pressed at 3.2 s, Tilt at 4.0 s"; undefined where nothing is pressed. */
export function pressesInWords(
  { log }: Pick<PowerPlay, 'log'>,
  frameMs: number,
  nameOf: (event: string) => string,
): string | undefined {
  const most = 4;
  if (log.length === 0) return undefined;
  const told = log
    .slice(0, most)
    .map(
      ({ frame, event, value }) =>
        `${nameOf(event)}${value === undefined ? '' : ` = ${value}`} at ${secondsIn(frame, frameMs)}`,
    );
  return `${told.join(', ')}${log.length > most ? `, and ${log.length - most} more` : ''}`;
}
