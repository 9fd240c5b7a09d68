// Edits of a show's beats and markers: moments that clips snap to and that the board knows nothing of.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { showOf } from './clip-parts.ts';
import { applyChange, type Change, indexById, partOf, withoutEntry } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { lampshowSchema } from './schema-shows.ts';
import type { Lampshow, Marker, Project } from './types.ts';

const { beatsMs: beatsSchema, markers: markersSchema } = lampshowSchema.properties;

function changeShow(project: Project, id: string, change: Change<Lampshow>): void {
  applyChange(project.lampshows, indexById(project.lampshows, id, 'lampshow'), change);
}

/** Sets all beats, in order and each once; none takes the list away. Beyond the limit the last ones are left out. */
export const setBeats =
  (show: string, beatsMs: readonly number[]): Edit =>
  (project) => {
    showOf(project, show);
    const sound = beatsMs.filter(Number.isFinite);
    const bounded = withinSchema(beatsSchema, sound)!;
    const sorted = [...new Set(bounded)].sort((a, b) => a - b).slice(0, limits.beatsPerShow);
    changeShow(project, show, { beatsMs: sorted.length > 0 ? sorted : undefined });
  };

export const addBeat =
  (show: string, atMs: number): Edit =>
  (project) =>
    setBeats(show, [...(showOf(project, show).beatsMs ?? []), atMs])(project);

/** Adds a marker behind the others of the list. */
export const addMarker =
  (show: string, marker: Marker): Edit =>
  (project) => {
    const { markers = [] } = showOf(project, show);
    const bounded = withinSchema(markersSchema.items, marker);
    if (bounded && markers.length < limits.markersPerShow)
      changeShow(project, show, { markers: [...markers, bounded] });
  };

/** Changes a marker; an empty name is taken away. */
export const changeMarker =
  (show: string, index: number, change: Change<Marker>): Edit =>
  (project) => {
    const { markers = [] } = showOf(project, show);
    const before = partOf(markers, index, 'marker');
    const bounded = changeWithinSchema(markersSchema.items, change, before);
    applyChange(markers, index, bounded.name === '' ? { ...bounded, name: undefined } : bounded);
  };

export const deleteMarker =
  (show: string, index: number): Edit =>
  (project) => {
    const { markers = [] } = showOf(project, show);
    partOf(markers, index, 'marker');
    changeShow(project, show, { markers: withoutEntry(markers, index) });
  };
