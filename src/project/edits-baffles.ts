// Edits of baffles: the straight walls on the backing that keep the light of neighbours apart. Each returns a recipe for history.ts.
// Not here: what walls do to light (src/light/light-ways.ts), whether a wall stands on strip. What a limit forbids is left undone, and numbers are
// brought inside the schema's bounds.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, type Change, partOf, withoutEntry } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { panelSchema } from './schema-panel.ts';
import type { Baffles, Panel } from './types.ts';

export type Baffle = Baffles['walls'][number];

const bafflesSchema = panelSchema.properties.baffles;
const baffleSchema = bafflesSchema.properties.walls.items;

/** Common practice, no source: thin plywood or fibreboard. */
const usualThicknessMm = 3;

/** Changes what all walls share; undefined takes all walls away. Does nothing to a panel without walls. */
export const setBaffles =
  (change: Change<Omit<Baffles, 'walls'>> | undefined): Edit =>
  (project) => {
    const { panel } = project;
    if (change === undefined) return applyChange(project, 'panel', { baffles: undefined });
    if (!panel.baffles) return;
    const bounded = changeWithinSchema<Baffles>(bafflesSchema, change, panel.baffles);
    applyChange(panel as { baffles: Baffles }, 'baffles', bounded);
  };

/** As many of these walls as the limit leaves room for, behind the others; the first ones of a panel are 3 mm thick. */
export const addBaffles =
  (walls: readonly Baffle[]): Edit =>
  ({ panel }) => {
    const known = panel.baffles?.walls ?? [];
    const fresh = walls.flatMap((wall) => withinSchema(baffleSchema, wall) ?? []);
    const all = [...known, ...fresh].slice(0, limits.baffles);
    if (all.length === known.length) return;
    if (panel.baffles) panel.baffles.walls = all;
    else panel.baffles = { thicknessMm: usualThicknessMm, walls: all };
  };

/** Walls count from 0. */
export const changeBaffle =
  (index: number, change: Change<Baffle>): Edit =>
  ({ panel }) => {
    const walls = panel.baffles?.walls ?? [];
    const wall = partOf(walls, index, 'baffle');
    applyChange(walls, index, changeWithinSchema<Baffle>(baffleSchema, change, wall));
  };

/** Removing the last wall takes the others' finish and thickness along. */
export const removeBaffle =
  (index: number): Edit =>
  (project) => {
    const { panel } = project;
    partOf(panel.baffles?.walls ?? [], index, 'baffle');
    const walls = withoutEntry(panel.baffles!.walls, index);
    if (walls) panel.baffles!.walls = walls;
    else applyChange<{ panel: Panel }, 'panel'>(project, 'panel', { baffles: undefined });
  };
