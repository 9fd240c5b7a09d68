// Runs that took each other's place on the wire, as one run's inspector shows and edits it. Pure.
import { inSequence } from '../../../panel/index.ts';
import { type Edit, type Project, removeBuiltSwap, swapBuiltRuns } from '../../../project/index.ts';

/** The last exchange that the run takes part in, and with whom. */
export function exchangeOf(
  { asBuilt }: Pick<Project, 'asBuilt'>,
  id: string,
): { index: number; other: string } | undefined {
  const index = (asBuilt?.swaps ?? []).findLastIndex(({ first, second }) => first === id || second === id);
  const swap = asBuilt?.swaps[index];
  return swap && { index, other: swap.first === id ? swap.second : swap.first };
}

/** Exchanges the run with another one, or with none, in place of whom it was exchanged with. */
export function exchangeEdit(project: Project, id: string, other: string | undefined): Edit {
  const before = exchangeOf(project, id);
  return inSequence([
    ...(before ? [removeBuiltSwap(before.index)] : []),
    ...(other === undefined ? [] : [swapBuiltRuns(id, other)]),
  ]);
}
