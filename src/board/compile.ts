// What follows from the document at once, with every edit: places, speed, memory, and the show data that the player plays. Parts whose
// sources didn't change are taken over from the step before, so that dragging a clip doesn't lay out the panel again.
// Not here: findings and power (check.ts), which may come a moment later.
import { compileShowData, predictSpeed, type ShowData, type SpeedPrediction } from '../lampshow/index.ts';
import { type Layout, layOut } from '../panel/index.ts';
import { limits, type Project } from '../project/index.ts';
import { type Budget, boardOf, budgetOf, isQuiet } from './budget.ts';
import { type FirmwareTemplates, type PrebuiltProgram, programFor } from './templates.ts';

export interface Compiled {
  readonly layout: Layout;
  readonly speed: SpeedPrediction;
  readonly frameMs: number;
  /** Undefined where the tables would be over 64 KB. */
  readonly showData: ShowData | undefined;
  readonly program: PrebuiltProgram;
  readonly budget: Budget | undefined;
}

export interface CompiledProject extends Compiled {
  readonly project: Project;
}

const layoutSources = ['runs', 'dataLines', 'strips', 'asBuilt'] as const;
/** What jumpers are measured through and round. */
const panelLayoutSources = ['backing', 'keepOuts'] as const;
/** Everything that the show data are made from, beside the layout. */
const showSources = [
  'areas',
  'gradients',
  'lampshows',
  'attractMode',
  'output',
  'board',
  'power',
  'gameEvents',
  'inputs',
  'name',
  'savedOn',
] as const;

const unchanged = (before: Project, after: Project, keys: readonly (keyof Project)[]): boolean =>
  keys.every((key) => before[key] === after[key]);

/** `start` is the show that plays after power-up; the attract mode where absent. */
export function compileProject(
  project: Project,
  templates: FirmwareTemplates,
  start?: string,
  layout: Layout = layOut(project),
): CompiledProject {
  const speed = predictSpeed(project, layout);
  const board = boardOf(project);
  const program = programFor(templates, board.mcu);
  // A show that is too slow is an error; its data still have to hold some frame time for the preview.
  const frameMs = Math.min(speed.frameMs, limits.frameMs);
  const showData = compileShowData(project, layout, { frameMs, ...(start === undefined ? {} : { start }) });
  return {
    project,
    layout,
    speed,
    frameMs,
    showData,
    program,
    budget: showData && budgetOf(board, program, showData, isQuiet(project)),
  };
}

const samePlaces = (before: Project, after: Project): boolean =>
  unchanged(before, after, layoutSources) &&
  panelLayoutSources.every((key) => before.panel[key] === after.panel[key]);

/**
 * The project with its LEDs where they are now, everything else as it was: enough to draw by while a hand drags, when there is no time to compile.
 * What it says of shows, speed and memory belongs to the project before.
 */
export const relaidProject = (before: CompiledProject, project: Project): CompiledProject => ({
  ...before,
  project,
  layout: samePlaces(before.project, project) ? before.layout : layOut(project),
});

/** The same as `compileProject(project, templates)`, in less time where the edit since `before` was small. */
export function recompileProject(
  before: CompiledProject,
  project: Project,
  templates: FirmwareTemplates,
): CompiledProject {
  const layout = samePlaces(before.project, project) ? before.layout : layOut(project);
  if (layout === before.layout && unchanged(before.project, project, showSources))
    return { ...before, project };
  return compileProject(project, templates, undefined, layout);
}
