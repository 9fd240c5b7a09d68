// Edits of measures: distances taken on the real artwork, each beside the place where it lies on the panel. Each returns a recipe for history.ts.
// Not here: bringing the panel to the scale that one gives (src/panel/true-scale.ts), and whether they agree (src/panel/measures.ts).
// What a limit forbids is left undone, and numbers are brought inside the schema's bounds.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, type Change, partOf, withoutEntry } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { panelSchema } from './schema-panel.ts';
import type { Measure } from './types.ts';

const measureSchema = panelSchema.properties.measures.items;

/** The panel keeps its size, also where this is the first. */
export const addMeasure =
  (measure: Measure): Edit =>
  ({ panel }) => {
    const measures = panel.measures ?? [];
    const bounded = withinSchema(measureSchema, measure);
    if (bounded && measures.length < limits.measures) panel.measures = [...measures, bounded];
  };

/** Measures count from 0. */
export const changeMeasure =
  (index: number, change: Change<Measure>): Edit =>
  ({ panel }) => {
    const measures = panel.measures ?? [];
    const measure = partOf(measures, index, 'measure');
    applyChange(measures, index, changeWithinSchema<Measure>(measureSchema, change, measure));
  };

export const removeMeasure =
  (index: number): Edit =>
  (project) => {
    const measures = project.panel.measures ?? [];
    partOf(measures, index, 'measure');
    applyChange(project, 'panel', { measures: withoutEntry(measures, index) });
  };
