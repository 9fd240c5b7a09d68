// Edits of the builder's own diffuser sheets. Each returns a recipe for history.ts, and the panel always has a sheet.
// Not here: which sheet the panel has (edits-panel.ts). What a limit forbids is left undone, and numbers are brought inside the schema's bounds.
import { rowById, sheets } from '../catalogue/index.ts';
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, type Change, indexById, mustBeNew } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { projectSchema } from './schema.ts';
import { sheetSchema } from './schema-panel.ts';
import type { OwnSheet } from './types.ts';

const mostSheets = projectSchema.properties.sheets.maxItems;

/** An id equal to a catalogue sheet's takes its place. */
export const addSheet =
  (sheet: OwnSheet): Edit =>
  (project) => {
    const own = project.sheets ?? [];
    mustBeNew(own, sheet.id);
    const bounded = withinSchema(sheetSchema, sheet);
    if (bounded && own.length < mostSheets) project.sheets = [...own, bounded];
  };

/** Changes some of a sheet's properties but its id; an optional one given as undefined is deleted. */
export const changeSheet =
  (id: string, change: Change<Omit<OwnSheet, 'id'>>): Edit =>
  (project) => {
    const own = project.sheets ?? [];
    const index = indexById(own, id, 'sheet of the project');
    applyChange(own, index, changeWithinSchema<OwnSheet>(sheetSchema, change, own[index]));
  };

/** Takes a sheet out; the list stays, if need be empty. A panel that had it gets the catalogue's sheet with its id, or else the catalogue's first. */
export const removeSheet =
  (id: string): Edit =>
  (project) => {
    const own = project.sheets ?? [];
    own.splice(indexById(own, id, 'sheet of the project'), 1);
    if (project.panel.sheet === id && !rowById(sheets, id)) project.panel.sheet = sheets[0]!.id;
  };
