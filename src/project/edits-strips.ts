// Edits of the builder's own reels. Each returns a recipe for history.ts, and every run keeps a strip.
// Not here: which strip a run is cut from (edits-runs.ts). What a limit forbids is left undone, and numbers are brought inside the schema's bounds.
import { bytesPerLed, rowById, strips } from '../catalogue/index.ts';
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, type Change, indexById, mustBeNew } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { projectSchema } from './schema.ts';
import { stripSchema } from './schema-runs.ts';
import type { OwnStrip, Project } from './types.ts';

const mostStrips = projectSchema.properties.strips.maxItems;

/** An id equal to a catalogue strip's takes its place. */
export const addStrip =
  (strip: OwnStrip): Edit =>
  (project) => {
    const own = project.strips ?? [];
    mustBeNew(own, strip.id);
    const bounded = withinSchema(stripSchema, strip);
    if (bounded && own.length < mostStrips) project.strips = [...own, bounded];
  };

/** Changes some of a reel's properties but its id; an optional one given as undefined is deleted. */
export const changeStrip =
  (id: string, change: Change<Omit<OwnStrip, 'id'>>): Edit =>
  (project) => {
    const own = project.strips ?? [];
    const index = indexById(own, id, 'reel of the project');
    applyChange(own, index, changeWithinSchema<OwnStrip>(stripSchema, change, own[index]));
  };

/** The catalogue's strip that is most like a reel: as many bytes an LED, the same supply, then the nearest density. */
function mostLike(reel: OwnStrip): string {
  const unlike = (strip: (typeof strips)[number]): number =>
    (bytesPerLed(strip.colourOrder) === bytesPerLed(reel.colourOrder) ? 0 : 1e6) +
    (strip.supplyVolts === reel.supplyVolts ? 0 : 1e4) +
    Math.abs(strip.ledsPerMetre - reel.ledsPerMetre);
  return strips.reduce((best, strip) => (unlike(strip) < unlike(best) ? strip : best)).id;
}

/** Every place that names a strip gets another one. */
function rename(project: Project, from: string, to: string): void {
  for (const run of project.runs) if (run.strip === from) run.strip = to;
  for (const built of project.asBuilt?.runs ?? []) if (built.strip === from) built.strip = to;
  const { grid } = project.panel;
  if (grid?.strip === from) grid.strip = to;
}

/**
 * Takes a reel out; the list stays, if need be empty. What was cut from it is the catalogue's strip with its id from now on, or else the one that is
 * most like it.
 */
export const removeStrip =
  (id: string): Edit =>
  (project) => {
    const own = project.strips ?? [];
    const [reel] = own.splice(indexById(own, id, 'reel of the project'), 1);
    if (!rowById(strips, id)) rename(project, id, mostLike(reel!));
  };
