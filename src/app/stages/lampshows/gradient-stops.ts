// Small sums about gradients: where a new stop goes, per cent against the document's shares, and who uses which.
import type { Rgb } from '../../../lampshow/index.ts';
import type { Gradient, Project } from '../../../project/index.ts';

export type Stop = Gradient['stops'][number];
export type Stops = readonly Stop[];

/** Tenths of a per cent: finer than the player's 64 colours can tell apart. */
export const shareOf = (percent: number): number =>
  Math.min(1, Math.max(0, Number(percent.toFixed(1)) / 100));
export const shownPercent = (share: number): number => Number((share * 100).toFixed(1));

export const hexOf = (colour: Rgb): string =>
  `#${colour.map((level) => Math.round(level).toString(16).padStart(2, '0')).join('')}`;

export const clipsWith = ({ lampshows }: Pick<Project, 'lampshows'>, id: string): number =>
  lampshows.reduce(
    (sum, { rows }) =>
      sum +
      rows.reduce((rowSum, row) => rowSum + row.clips.filter(({ gradient }) => gradient === id).length, 0),
    0,
  );

export const unusedGradients = (project: Pick<Project, 'lampshows' | 'gradients'>): Gradient[] =>
  project.gradients.filter(({ id }) => clipsWith(project, id) === 0);

/** The middle of the widest part of the bar without a stop. */
export function placeInWidestGap(stops: Stops): number {
  const places = [0, ...stops.map(({ at }) => at).sort((a, b) => a - b), 1];
  let widest = 0;
  let middle = 0.5;
  for (let i = 1; i < places.length; i++) {
    const width = places[i]! - places[i - 1]!;
    if (width <= widest) continue;
    widest = width;
    middle = (places[i]! + places[i - 1]!) / 2;
  }
  return shareOf(middle * 100);
}
