// Edits of keep-outs: where screws, speakers and the like leave no room for strip. Each returns a recipe for history.ts.
// Not here: which runs lie in one (findings tell), and their outlines (src/panel/keep-outs.ts). What a limit forbids is left undone, and
// numbers are brought inside the schema's bounds.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, type Change, indexById, mustBeNew, withoutEntry } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { keepOutSchema } from './schema-panel.ts';
import type { KeepOut } from './types.ts';

export const addKeepOut =
  (keepOut: KeepOut): Edit =>
  ({ panel }) => {
    const keepOuts = panel.keepOuts ?? [];
    mustBeNew(keepOuts, keepOut.id);
    const bounded = withinSchema(keepOutSchema, keepOut);
    if (bounded && keepOuts.length < limits.keepOuts) panel.keepOuts = [...keepOuts, bounded];
  };

/** Changes some of a keep-out's properties but its id; a name given as undefined is deleted. */
export const changeKeepOut =
  (id: string, change: Change<Omit<KeepOut, 'id'>>): Edit =>
  ({ panel }) => {
    const keepOuts = panel.keepOuts ?? [];
    const index = indexById(keepOuts, id, 'keep-out');
    applyChange(keepOuts, index, changeWithinSchema<KeepOut>(keepOutSchema, change, keepOuts[index]));
  };

export const removeKeepOut =
  (id: string): Edit =>
  (project) => {
    const keepOuts = project.panel.keepOuts ?? [];
    const index = indexById(keepOuts, id, 'keep-out');
    applyChange(project, 'panel', { keepOuts: withoutEntry(keepOuts, index) });
  };
