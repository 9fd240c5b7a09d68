// The strips that a run can be cut from: the builder's own reels first, then the catalogue's, each id once. Pure.
import { strips } from '../../../catalogue/index.ts';
import type { Project } from '../../../project/index.ts';

interface OwnReels {
  readonly strips?: Project['strips'] | undefined;
}

/**
 * Reels that a planned piece can really have been cut from: those with the plan's distance between LEDs, and what is told already. A reel of another
 * distance has other LEDs at other places, so that is a change of the plan.
 */
export function builtStripChoices(project: OwnReels & Pick<Project, 'asBuilt' | 'runs'>, run: string) {
  const planned = project.runs.find(({ id }) => id === run)?.strip;
  const told = project.asBuilt?.runs.find((one) => one.run === run)?.strip;
  const densityOf = (id: string | undefined): number | undefined =>
    (project.strips?.find((one) => one.id === id) ?? strips.find((one) => one.id === id))?.ledsPerMetre;
  return stripChoices(project).filter(({ id }) => id === told || densityOf(id) === densityOf(planned));
}

export function stripChoices({ strips: own = [] }: OwnReels) {
  return [
    ...own.map(({ id, label }) => ({ id, label: label ?? id })),
    ...strips.filter(({ id }) => !own.some((one) => one.id === id)).map(({ id, label }) => ({ id, label })),
  ];
}
