// What the live renderers need to know of a project: places, sizes and the sheet. It changes with edits, not with frames.
// Not here: the artwork's pixels, which each renderer takes in its own form.
import { type Layout, sheetOf } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import type { RectangleMm } from './grid.ts';
import { type LightWays, lightWays } from './light-ways.ts';
import { type LightSource, ledsOnWire, lightSources } from './sources.ts';
import { meanWhiteLight } from './viewing.ts';

export interface LightScene {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly opening: RectangleMm;
  readonly airGapMm: number;
  readonly spreadMm: number;
  readonly transmission: number;
  /** In the order of the wire. */
  readonly sources: readonly LightSource[];
  /** What walls and channel lips leave of each source's light; undefined where nothing is in its way. */
  readonly ways: LightWays | undefined;
  /** Mean light on the face over the opening with every LED white and nothing in the way; the exposure's reference, so walls cost light that is seen. */
  readonly whiteLight: number;
}

export const openingOf = ({ opening, widthMm, heightMm }: Project['panel']): RectangleMm =>
  opening ?? { xMm: 0, yMm: 0, widthMm, heightMm };

export function lightScene(project: Pick<Project, 'panel' | 'sheets'>, layout: Layout): LightScene {
  const { panel } = project;
  const { widthMm, heightMm, airGapMm } = panel;
  const sheet = sheetOf(project);
  const opening = openingOf(panel);
  const sources = lightSources(layout);
  return {
    widthMm,
    heightMm,
    opening,
    airGapMm,
    spreadMm: sheet.spreadMm,
    transmission: sheet.transmission,
    sources,
    ways: lightWays(panel, layout, ledsOnWire(layout)),
    whiteLight: meanWhiteLight(sources, opening, airGapMm),
  };
}
