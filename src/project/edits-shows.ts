// Edits of lampshows, rows, clips and gradients. Each returns a recipe for history.ts, and keeps references whole.
// Times stay whole milliseconds, and all numbers inside the schema's bounds, so a drag can't leave them. What a limit forbids is left undone.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import {
  type ClipPlace,
  clipOf,
  clipSchema,
  countClips,
  hasRoomForClips,
  mustHoldWhatItPlays,
  type RowPlace,
  rowOf,
  rowSchema,
  showOf,
  withinRules,
} from './clip-parts.ts';
import { applyChange, byId, type Change, indexById, mustBeNew, setName } from './edits-parts.ts';
import { dropFromPressLogs } from './edits-press-logs.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { gradientSchema, lampshowSchema } from './schema-shows.ts';
import type { Clip, Effect, Gradient, Lampshow, ShowRow } from './types.ts';

export type { ClipPlace, RowPlace };

// ---- lampshows ----

export const addLampshow =
  (show: Lampshow): Edit =>
  (project) => {
    mustBeNew(project.lampshows, show.id);
    for (const row of show.rows) for (const clip of row.clips) mustHoldWhatItPlays(project, clip);
    const bounded = withinSchema(lampshowSchema, show);
    const hasRoom =
      project.lampshows.length < limits.lampshows && hasRoomForClips(project, undefined, countClips(show));
    if (bounded && hasRoom) project.lampshows.push(bounded);
  };

/**
 * Deletes a lampshow, the game events that start it, and what recorded presses say of both. The attract mode passes to the first that is left; the last
 * one stays.
 */
export const deleteLampshow =
  (id: string): Edit =>
  (project) => {
    showOf(project, id);
    const [first, ...others] = project.lampshows.filter((show) => show.id !== id);
    if (!first) return;
    project.lampshows = [first, ...others];
    if (project.attractMode === id) project.attractMode = first.id;
    const started = (project.gameEvents ?? []).filter((event) => event.lampshow === id);
    dropFromPressLogs(
      project,
      started.map((event) => event.id),
      id,
    );
    if (started.length > 0) project.gameEvents = project.gameEvents!.filter((event) => event.lampshow !== id);
  };

export const renameLampshow =
  (id: string, name: string): Edit =>
  (project) =>
    setName(project.lampshows, indexById(project.lampshows, id, 'lampshow'), name);

/** Clips stay as they are, even behind the new end. */
export const setLampshowLength =
  (id: string, lengthMs: number): Edit =>
  (project) => {
    const show = showOf(project, id);
    const { lengthMs: schema } = lampshowSchema.properties;
    show.lengthMs = withinSchema(schema, lengthMs, show.lengthMs) ?? show.lengthMs;
  };

export const setAttractMode =
  (id: string): Edit =>
  (project) => {
    project.attractMode = showOf(project, id).id;
  };

// ---- rows ----

/** Adds a row before the one at place `at`; behind all others where absent. */
export const addRow =
  (show: string, row: ShowRow, at?: number): Edit =>
  (project) => {
    const lampshow = showOf(project, show);
    mustBeNew(lampshow.rows, row.id);
    for (const clip of row.clips) mustHoldWhatItPlays(project, clip);
    if (lampshow.rows.length >= limits.rowsPerShow) return;
    if (!hasRoomForClips(project, lampshow, row.clips.length)) return;
    const bounded = withinSchema(rowSchema, row);
    if (bounded) lampshow.rows.splice(at ?? lampshow.rows.length, 0, bounded);
  };

export const deleteRow =
  (show: string, index: number): Edit =>
  (project) => {
    rowOf(project, { show, row: index });
    showOf(project, show).rows.splice(index, 1);
  };

export const moveRow =
  (show: string, from: number, to: number): Edit =>
  (project) => {
    const row = rowOf(project, { show, row: from });
    const { rows } = showOf(project, show);
    rows.splice(from, 1);
    rows.splice(to, 0, row);
  };

export const renameRow =
  (show: string, index: number, name: string): Edit =>
  (project) => {
    rowOf(project, { show, row: index });
    setName(showOf(project, show).rows, index, name);
  };

/** A muted row plays nowhere until it is turned on again. */
export const muteRow =
  (show: string, index: number, muted: boolean): Edit =>
  (project) => {
    rowOf(project, { show, row: index });
    applyChange(showOf(project, show).rows, index, { muted: muted ? true : undefined });
  };

// ---- clips ----

export const addClip =
  (place: RowPlace, clip: Clip): Edit =>
  (project) => {
    const { clips } = rowOf(project, place);
    mustHoldWhatItPlays(project, clip);
    const bounded = withinSchema(clipSchema, clip);
    const effect = bounded && withinRules(bounded.effect);
    if (!effect || !hasRoomForClips(project, showOf(project, place.show), 1)) return;
    clips.push(effect === bounded.effect ? bounded : { ...bounded, effect });
  };

export const deleteClip =
  (place: ClipPlace): Edit =>
  (project) => {
    clipOf(project, place);
    rowOf(project, place).clips.splice(place.clip, 1);
  };

/** Changes some of a clip's properties; an optional one given as undefined is deleted. */
export const changeClip =
  (place: ClipPlace, change: Change<Clip>): Edit =>
  (project) => {
    const clip = clipOf(project, place);
    mustHoldWhatItPlays(project, { area: clip.area, gradient: clip.gradient, ...change });
    const bounded = changeWithinSchema(clipSchema, change, clip);
    const { effect, ...others } = bounded;
    const held = effect && withinRules(effect, clip.effect);
    applyChange(rowOf(project, place).clips, place.clip, held ? { ...bounded, effect: held } : others);
  };

/** Moves a clip in time and, if it is another, to the end of the list of another row of its show. */
export const moveClip =
  (place: ClipPlace, toRow: number, startMs: number): Edit =>
  (project) => {
    const clip = clipOf(project, place);
    const to = rowOf(project, { show: place.show, row: toRow });
    clip.startMs = withinSchema(clipSchema.properties.startMs, startMs, clip.startMs) ?? clip.startMs;
    if (toRow === place.row) return;
    rowOf(project, place).clips.splice(place.clip, 1);
    to.clips.push(clip);
  };

export const setEffect =
  (place: ClipPlace, effect: Effect): Edit =>
  (project) => {
    const clip = clipOf(project, place);
    clip.effect = withinRules(effect, clip.effect) ?? clip.effect;
  };

// ---- gradients ----

export const addGradient =
  (gradient: Gradient): Edit =>
  (project) => {
    mustBeNew(project.gradients, gradient.id);
    const bounded = withinSchema(gradientSchema, gradient);
    if (bounded && project.gradients.length < limits.gradients) project.gradients.push(bounded);
  };

/** Deletes a gradient that no clip plays through; any other stays. */
export const deleteGradient =
  (id: string): Edit =>
  (project) => {
    byId(project.gradients, id, 'gradient');
    const isPlayed = project.lampshows.some((show) =>
      show.rows.some((row) => row.clips.some((clip) => clip.gradient === id)),
    );
    if (!isPlayed) project.gradients = project.gradients.filter((gradient) => gradient.id !== id);
  };

/** Sets a gradient's stops; one without any, or with more than the limit, is left undone. */
export const setGradientStops =
  (id: string, stops: readonly Gradient['stops'][number][]): Edit =>
  (project) => {
    const gradient = byId(project.gradients, id, 'gradient');
    if (stops.length === 0 || stops.length > limits.stopsPerGradient) return;
    const wanted = [...stops] as Gradient['stops'];
    gradient.stops = withinSchema(gradientSchema.properties.stops, wanted, gradient.stops) ?? gradient.stops;
  };

export const renameGradient =
  (id: string, name: string): Edit =>
  (project) =>
    setName(project.gradients, indexById(project.gradients, id, 'gradient'), name);
