// What a clip becomes when it is to show painted frames: one dark frame on a grid that suits its area, in black and colours of its gradient.
import { firstPainting } from '../../../../lampshow/index.ts';
import type { Layout } from '../../../../panel/index.ts';
import type { Clip, PaintedEffect, Project } from '../../../../project/index.ts';
import { ledsOfArea } from '../../../canvas/drags-paint.ts';

/** @throws if the clip names an area or a gradient that the project lacks */
export function paintingFor(project: Project, layout: Layout, clip: Clip): PaintedEffect {
  const area = project.areas.find(({ id }) => id === clip.area);
  const gradient = project.gradients.find(({ id }) => id === clip.gradient);
  if (!area || !gradient) throw new Error('a clip without its area or gradient; the project was not checked');
  return firstPainting(gradient, ledsOfArea(layout, area));
}
