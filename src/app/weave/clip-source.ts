// What a clip's weave is made from, and the clip as a show of its own that the player can play. Where the clip lies in time, on which row and how
// it mixes with the rows below are left out: they don't change its own picture, so moving a clip never remakes its weave.
import { compileShowData, type ShowData } from '../../lampshow/index.ts';
import type { Layout } from '../../panel/index.ts';
import type { Area, Clip, Gradient, Project } from '../../project/index.ts';

export interface ClipSource {
  /** Read for its output stage and the panel's size only. */
  readonly project: Project;
  readonly layout: Layout;
  readonly area: Area;
  readonly gradient: Gradient;
  readonly clip: Clip;
}

/** Undefined where the clip names something that isn't there. */
export function clipSource(project: Project, layout: Layout, clip: Clip): ClipSource | undefined {
  const area = project.areas.find(({ id }) => id === clip.area);
  const gradient = project.gradients.find(({ id }) => id === clip.gradient);
  return area && gradient && { project, layout, area, gradient, clip };
}

/** The parts that decide how the clip looks; documents never change in place, so they are compared by identity. */
const partsOf = ({ project, layout, area, gradient, clip }: ClipSource): readonly unknown[] => [
  layout,
  project.output,
  project.panel.widthMm,
  project.panel.heightMm,
  area.members,
  area.order,
  gradient.stops,
  clip.effect,
  clip.lengthMs,
  clip.fadeInMs ?? 0,
  clip.fadeOutMs ?? 0,
  clip.levelPercent ?? 100,
];

/** Whether two sources give the same picture. */
export function sameSource(a: ClipSource, b: ClipSource): boolean {
  if (a === b) return true;
  const others = partsOf(b);
  return partsOf(a).every((part, i) => part === others[i]);
}

/** The id of the only show in a clip's show data. */
export const loneShow = 'clip';

/** The clip as a show of its own: alone over black, without the current limit, one frame a millisecond, so that any moment can be asked for. */
export function clipShowData({ project, layout, area, gradient, clip }: ClipSource): ShowData | undefined {
  const { limitAmps: _, ...power } = project.power;
  const lone: Clip = { ...clip, startMs: 0, blend: 'over' };
  return compileShowData(
    {
      ...project,
      areas: [area],
      gradients: [gradient],
      lampshows: [{ id: loneShow, lengthMs: clip.lengthMs, rows: [{ id: loneShow, clips: [lone] }] }],
      attractMode: loneShow,
      gameEvents: [],
      power,
    },
    layout,
    { frameMs: 1 },
  );
}
