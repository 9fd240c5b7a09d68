// A line over the canvas that says what the tool at hand does with the next press, and to what; nothing while things are only chosen.
import type { Project } from '../../project/index.ts';
import { useProject, useScreen, useSelection } from '../workbench/context.ts';
import type { Selection } from '../workbench/selection.ts';
import type { ToolId } from '../workbench/workbench.ts';
import css from './canvas.module.css';

/** Where what is gathered goes: into the chosen area, or into a new one. */
function intoWhich(project: Project, selection: Selection): string {
  const area = selection.kind === 'area' && project.areas.find(({ id }) => id === selection.id);
  return area
    ? `adds to “${area.name ?? area.id}”; choose nothing first for a new area`
    : 'makes a new area; choose an area first to add to it';
}

const hints: Readonly<Partial<Record<ToolId, (project: Project, selection: Selection) => string>>> = {
  'draw-run': () => 'Drag to draw a run; a press alone sets a single lamp',
  'draw-area': (...now) => `A rectangle ${intoWhich(...now)}`,
  'lasso-area': (...now) => `A line round LEDs ${intoWhich(...now)}`,
  'brush-area': (...now) => `A stroke over LEDs ${intoWhich(...now)}`,
  'pick-colour': (...now) => `A press on a colour ${intoWhich(...now)}`,
  'mark-spots': () => 'Press on what is to be lit; press a mark again to take it away',
  measure: () => 'Drag from one place to another; Shift keeps to one axis',
  'draw-keep-out': () => 'Drag from the middle of a round keep-out; Shift draws a rectangle',
  'true-scale': () => 'Drag along a distance that you measured on the real artwork',
  paint: () => 'Press or drag over cells; Alt picks a colour; arrows and Space paint by keys, Escape stops',
  'add-feed': () => 'Press on a run where the feed is soldered',
};

export function ToolHint() {
  const tool = useScreen((state) => state.tool);
  const selection = useSelection();
  const project = useProject((one) => one);
  const text = hints[tool]?.(project, selection);
  return text === undefined ? null : (
    <p className={css['hint']} role="status">
      {text}
    </p>
  );
}
