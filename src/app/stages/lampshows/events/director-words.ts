// What the director holds at a frame, in words. Everything of it comes from the player; here it only gets names and seconds. Pure.
import type { ComesBack, DirectorState } from '../../../../lampshow/index.ts';
import type { Project } from '../../../../project/index.ts';
import { nameOf } from '../words.ts';

export interface DirectorRow {
  readonly label: string;
  readonly text: string;
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(2)} s`;

const waysBack: Readonly<Record<ComesBack, string>> = {
  anew: 'comes back from its beginning',
  'where-it-was': 'goes on where it was',
  'as-if-it-played': 'comes back as if it had played on meanwhile',
};

/** One row for each thing that the director holds; always the same ones, so that nothing jumps while the game plays. */
export function directorRows(
  director: DirectorState,
  { lampshows, gameEvents = [] }: Pick<Project, 'lampshows' | 'gameEvents'>,
  frame: number,
  frameMs: number,
): DirectorRow[] {
  const named = (parts: readonly { readonly id: string; readonly name?: string }[], id: string): string =>
    nameOf(parts.find((part) => part.id === id) ?? { id });
  const show = (id: string): string => named(lampshows, id);
  const event = (id: string): string => named(gameEvents, id);
  const { lampshow, sinceFrame, fading, waiting, delayed, resumes, value } = director;
  const since = `${seconds(sinceFrame * frameMs)}, for ${seconds((frame - sinceFrame) * frameMs)}`;
  return [
    { label: 'Has the panel', text: show(lampshow) },
    { label: 'Since', text: since },
    {
      label: 'Started by',
      text: director.event === undefined ? 'power-up' : `the event ${event(director.event)}`,
    },
    {
      label: 'Fades out',
      text: fading
        ? `${show(fading.from)}; ${Math.round(fading.share * 100)} % of ${show(lampshow)} is there`
        : 'nothing',
    },
    { label: 'Waits', text: waiting.length > 0 ? waiting.map(event).join(', then ') : 'nothing' },
    {
      label: 'Delay runs',
      text:
        delayed.length > 0
          ? delayed
              .map((one) => `${event(one.event)}, in ${seconds((one.frame - frame) * frameMs)}`)
              .join('; ')
          : 'for nothing',
    },
    {
      label: 'Afterwards',
      text: resumes ? `${show(resumes.lampshow)} ${waysBack[resumes.how]}` : 'no other show',
    },
    ...(gameEvents.some(({ hasValue }) => hasValue) ? [{ label: 'Value', text: String(value) }] : []),
  ];
}

/** What of the director's concerns an event just now. */
export type EventState = 'plays' | 'waits' | 'delayed' | 'rests';

export function eventState({ event, waiting, delayed }: DirectorState, id: string): EventState {
  if (event === id) return 'plays';
  if (delayed.some((one) => one.event === id)) return 'delayed';
  return waiting.includes(id) ? 'waits' : 'rests';
}
