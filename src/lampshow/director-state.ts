// What the director holds at a frame, read from the numbers in which the player tells it. Not here: asking for it (player.ts), its rules
// (firmware-templates/player/SPEC.md).
import type { ShowData } from './show-data.ts';

/** How the show that was interrupted comes back: from its beginning, where it was, or as if it had played on meanwhile. */
export type ComesBack = 'anew' | 'where-it-was' | 'as-if-it-played';

/** What the director holds at a frame. Its rules are D-1 and so on of firmware-templates/player/SPEC.md. */
export interface DirectorState {
  /** What has the panel; during a crossfade, the arriving show. */
  readonly lampshow: string;
  /** The game event that started it; absent: it is the show of power-up. */
  readonly event?: string;
  /** Frame at which it took the panel, also where it came back. */
  readonly sinceFrame: number;
  /** The value that came last, 0 to 255. */
  readonly value: number;
  /** During a crossfade: the outgoing show, and how much of the arriving one is there, 0 to under 1. */
  readonly fading?: { readonly from: string; readonly share: number };
  /** Game events in the queue, the next one first. */
  readonly waiting: readonly string[];
  /** Game events that were heard and whose delay runs, with the frame from which each counts, the first in front. */
  readonly delayed: readonly { readonly event: string; readonly frame: number }[];
  /** What comes back when the queue is empty; absent while the show of power-up plays. */
  readonly resumes?: { readonly lampshow: string; readonly how: ComesBack };
}

/** host.cpp's Told: places of 32-bit numbers. */
const told = {
  show: 0,
  event: 1,
  sinceFrame: 2,
  value: 3,
  fadingFrom: 4,
  share: 5,
  backShow: 6,
  back: 7,
  waiting: 8,
  delayed: 12,
  delayedFrame: 16,
} as const;
/** director.h's noEvent. */
const none = 255;
/** All of a show. */
const all = 255;
/** host.cpp's Back, from 1 on. */
const comesBack: readonly ComesBack[] = ['anew', 'where-it-was', 'as-if-it-played'];
export const toldCount = 20;

/** `words` are host.cpp's, toldCount of them; `data` what it plays. */
export function directorState(
  words: Uint32Array,
  { showNumbers, eventNumbers }: Pick<ShowData, 'showNumbers' | 'eventNumbers'>,
): DirectorState {
  const shows = [...showNumbers.keys()];
  const events = [...eventNumbers.keys()];
  const show = (at: number): string => shows[words[at]!]!;
  const eventsFrom = (at: number, end: number): string[] =>
    [...words.subarray(at, end)].filter((number) => number !== none).map((number) => events[number]!);
  const [event] = eventsFrom(told.event, told.event + 1);
  const share = words[told.share]!;
  const how = comesBack[words[told.back]! - 1];
  return {
    lampshow: show(told.show),
    ...(event === undefined ? {} : { event }),
    sinceFrame: words[told.sinceFrame]!,
    value: words[told.value]!,
    ...(share === all ? {} : { fading: { from: show(told.fadingFrom), share: share / all } }),
    waiting: eventsFrom(told.waiting, told.delayed),
    delayed: eventsFrom(told.delayed, told.delayedFrame).map((delayed, i) => ({
      event: delayed,
      frame: words[told.delayedFrame + i]!,
    })),
    ...(how ? { resumes: { lampshow: show(told.backShow), how } } : {}),
  };
}
