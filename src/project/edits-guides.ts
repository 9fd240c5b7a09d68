// Edits of what drawing snaps to: the grid and the guides. Each returns a recipe for history.ts.
// Not here: snapping itself. What a limit forbids is left undone, and numbers are brought inside the schema's bounds.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, mustBeStrip, partOf, withoutEntry } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { panelSchema } from './schema-panel.ts';
import type { Panel } from './types.ts';

type Grid = NonNullable<Panel['grid']>;
type Guide = NonNullable<Panel['guides']>[number];
const guideSchema = panelSchema.properties.guides.items;

/** Undefined: the panel has no grid. */
export const setGrid =
  (grid: Grid | undefined): Edit =>
  (project) => {
    if (grid?.strip !== undefined) mustBeStrip(project, grid.strip);
    applyChange(project, 'panel', changeWithinSchema<Panel>(panelSchema, { grid }, project.panel));
  };

/** A guide at right angles to an axis: `x` stands upright at so many mm from the left, `y` lies at so many mm from the top. */
export const addGuide =
  (axis: Guide['axis'], atMm: number): Edit =>
  ({ panel }) => {
    const guides = panel.guides ?? [];
    const bounded = withinSchema(guideSchema, { axis, atMm });
    if (bounded && guides.length < limits.guides) panel.guides = [...guides, bounded];
  };

/** Guides count from 0. */
export const moveGuide =
  (index: number, atMm: number): Edit =>
  ({ panel }) => {
    const guide = partOf(panel.guides ?? [], index, 'guide');
    guide.atMm = withinSchema(guideSchema.properties.atMm, atMm, guide.atMm) ?? guide.atMm;
  };

export const removeGuide =
  (index: number): Edit =>
  (project) => {
    const guides = project.panel.guides ?? [];
    partOf(guides, index, 'guide');
    applyChange(project, 'panel', { guides: withoutEntry(guides, index) });
  };
