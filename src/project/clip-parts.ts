// What the edits of shows and clips share: finding rows and clips, room for more of them, effects within their rules. Not an edit itself.
import { withinSchema } from './bounds.ts';
import { byId, partOf } from './edits-parts.ts';
import { limits } from './limits.ts';
import { withinPaintedRules } from './rules-painted.ts';
import { lampshowSchema } from './schema-shows.ts';
import type { Clip, Effect, Lampshow, Project, ShowRow } from './types.ts';

export const rowSchema = lampshowSchema.properties.rows.items;
export const clipSchema = rowSchema.properties.clips.items;

export interface RowPlace {
  readonly show: string;
  readonly row: number;
}

export interface ClipPlace extends RowPlace {
  readonly clip: number;
}

export const showOf = (project: Project, id: string): Lampshow => byId(project.lampshows, id, 'lampshow');
export const rowOf = (project: Project, place: RowPlace): ShowRow =>
  partOf(showOf(project, place.show).rows, place.row, 'row');
export const clipOf = (project: Project, place: ClipPlace): Clip =>
  partOf(rowOf(project, place).clips, place.clip, 'clip');

/** Throws where the project lacks the area or the gradient. */
export function mustHoldWhatItPlays(project: Project, clip: Pick<Clip, 'area' | 'gradient'>): void {
  byId(project.areas, clip.area, 'area');
  byId(project.gradients, clip.gradient, 'gradient');
}

export const countClips = (show: Pick<Lampshow, 'rows'>): number =>
  show.rows.reduce((sum, row) => sum + row.clips.length, 0);

/** How many more clips the limits let into a show. */
export function roomForClips(project: Pick<Project, 'lampshows'>, show: Pick<Lampshow, 'rows'>): number {
  const all = project.lampshows.reduce((sum, one) => sum + countClips(one), 0);
  return Math.max(0, Math.min(limits.clips - all, limits.clipsPerShow - countClips(show)));
}

/** Whether the limits leave room for so many clips in a show; in a new one where none is given. */
export const hasRoomForClips = (
  project: Project,
  show: Pick<Lampshow, 'rows'> | undefined,
  added: number,
): boolean => added <= roomForClips(project, show ?? { rows: [] });

/** An effect with its numbers inside the schema's bounds and its frames inside their rules, or undefined. */
export function withinRules(effect: Effect, before?: Effect): Effect | undefined {
  const bounded = withinSchema(clipSchema.properties.effect, effect, before);
  return bounded && withinPaintedRules(bounded);
}
