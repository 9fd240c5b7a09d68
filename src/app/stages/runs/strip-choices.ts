// The strips that a run can be cut from: the builder's own reels first, then the catalogue's, each id once. Pure.
import { strips } from '../../../catalogue/index.ts';
import type { Project } from '../../../project/index.ts';

interface OwnReels {
  readonly strips?: Project['strips'] | undefined;
}

export function stripChoices({ strips: own = [] }: OwnReels) {
  return [
    ...own.map(({ id, label }) => ({ id, label: label ?? id })),
    ...strips.filter(({ id }) => !own.some((one) => one.id === id)).map(({ id, label }) => ({ id, label })),
  ];
}
