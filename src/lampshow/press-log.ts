// Recorded presses, played again: when the director hears them, which shows have the panel then, and what of that is not as it was expected.
// Pure but for the player that is passed in. Not here: recording, and edits of logs (src/project/edits-press-logs.ts).
import type { PressLog, Project } from '../project/index.ts';
import type { HeardEvent, Player } from './player.ts';

/** What has the panel from a moment on. */
export interface PlayedShow {
  /** Milliseconds since frame 0. */
  readonly atMs: number;
  readonly lampshow: string;
}

/** The show from which a log is played: its own, else the attract mode. */
export const pressLogStart = (
  { lampshow }: Pick<PressLog, 'lampshow'>,
  { attractMode }: Pick<Project, 'attractMode'>,
): string => lampshow ?? attractMode;

/** Frames that begin within a log's length. */
export const pressLogFrames = ({ lengthMs }: Pick<PressLog, 'lengthMs'>, frameMs: number): number =>
  Math.ceil(lengthMs / frameMs);

/** The presses as the director hears them: each at the first frame at or after its moment, those of one frame in the order of their moments. */
export const heardPresses = ({ presses }: Pick<PressLog, 'presses'>, frameMs: number): HeardEvent[] =>
  [...presses]
    .sort((a, b) => a.atMs - b.atMs)
    .map(({ atMs, event, value }) => ({ frame: Math.ceil(atMs / frameMs), event, value }));

/**
 * Which show has the panel over a log's length, from `start` at power-up on: an entry whenever it is another one than before. `player` holds the show
 * data of the project, compiled for `frameMs`. Throws for shows and events that they don't hold.
 */
export function playedShows(player: Player, log: PressLog, start: string, frameMs: number): PlayedShow[] {
  const { directorAt } = player.perform(start, heardPresses(log, frameMs));
  const played: PlayedShow[] = [];
  for (let frame = 0; frame < pressLogFrames(log, frameMs); frame++) {
    const { lampshow } = directorAt(frame);
    if (lampshow !== played.at(-1)?.lampshow) played.push({ atMs: frame * frameMs, lampshow });
  }
  return played;
}

/** Frame times differ from one state of a project to another, so a moment may move by a frame or two; and a tenth of a second nobody calls another show. */
const toleranceMs = (frameMs: number): number => Math.max(100, 2 * frameMs);

interface Difference {
  readonly fromMs: number;
  readonly toMs: number;
  readonly expected: string;
  readonly played: string;
}

const showAt = (shows: readonly PlayedShow[], ms: number): string =>
  shows.findLast(({ atMs }) => atMs <= ms)!.lampshow;

/** Stretches without a gap, in which one show was expected and another one has the panel. */
function differences(
  expected: readonly PlayedShow[],
  played: readonly PlayedShow[],
  endMs: number,
): Difference[][] {
  const first = expected[0]!.atMs;
  const moments = [...expected, ...played].map(({ atMs }) => atMs).filter((ms) => ms >= first && ms < endMs);
  const borders = [...new Set(moments)].sort((a, b) => a - b);
  const stretches: Difference[][] = [];
  for (const [i, fromMs] of borders.entries()) {
    const one = {
      fromMs,
      toMs: borders[i + 1] ?? endMs,
      expected: showAt(expected, fromMs),
      played: showAt(played, fromMs),
    };
    if (one.expected === one.played) continue;
    const stretch = stretches.at(-1);
    if (stretch?.at(-1)?.toMs === fromMs) stretch.push(one);
    else stretches.push([one]);
  }
  return stretches;
}

/** What of a stretch is worth telling: its parts that are not let pass by themselves; all, where every one is short. */
function toldOf(stretch: readonly Difference[], letPassMs: number): readonly Difference[] {
  const long = stretch.filter(({ fromMs, toMs }) => toMs - fromMs > letPassMs);
  return long.length > 0 ? long : stretch;
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(2)} s`;

/**
 * What is not as a log expects it, a sentence each; none where all is, or nothing is expected. Asked from the first moment of which anything is
 * expected to the log's end. What lasts two frames or a tenth of a second at most, whichever is longer, is let pass.
 * @param played as playedShows gives it for this log and frame time
 * @param named what a lampshow is called in the sentences
 */
export function expectedDiffers(
  log: PressLog,
  played: readonly PlayedShow[],
  frameMs: number,
  named: (lampshow: string) => string = (id) => id,
): string[] {
  const expected = [...(log.expected ?? [])].sort((a, b) => a.atMs - b.atMs);
  if (expected.length === 0) return [];
  const letPassMs = toleranceMs(frameMs);
  return differences(expected, played, log.lengthMs)
    .filter((stretch) => stretch.at(-1)!.toMs - stretch[0]!.fromMs > letPassMs)
    .flatMap((stretch) => toldOf(stretch, letPassMs))
    .map(
      (one) =>
        `From ${seconds(one.fromMs)} to ${seconds(one.toMs)} "${named(one.expected)}" was expected; "${named(one.played)}" has the panel.`,
    );
}
