// What is chosen on the screen. A selection is no part of the document: it is never saved, and undo doesn't bring it back. It names things
// by id or place, so it can outlive them; `liveSelection` says what is left of it.
import type { ClipPlace, Project } from '../../project/index.ts';

export type Selection =
  | { readonly kind: 'none' }
  | { readonly kind: 'run'; readonly id: string }
  /** Two runs or more. */
  | { readonly kind: 'runs'; readonly ids: readonly string[] }
  | { readonly kind: 'keep-out'; readonly id: string }
  | { readonly kind: 'guide'; readonly index: number }
  | { readonly kind: 'measure'; readonly index: number }
  | { readonly kind: 'area'; readonly id: string }
  | { readonly kind: 'feed'; readonly index: number }
  /** The jumper that leads to a run: its data line, and the run's place in the chain. */
  | { readonly kind: 'jumper'; readonly line: number; readonly place: number }
  | ({ readonly kind: 'clip' } & ClipPlace);

export type SelectionOf<K extends Selection['kind']> = Extract<Selection, { kind: K }>;

export const nothing: Selection = { kind: 'none' };

/** The runs that are chosen, one or several. */
export const chosenRunIds = (selection: Selection): readonly string[] =>
  selection.kind === 'run' ? [selection.id] : selection.kind === 'runs' ? selection.ids : [];

/** Chooses these runs: none, one or several. */
export const selectionOfRuns = (ids: readonly string[]): Selection =>
  ids.length === 0 ? nothing : ids.length === 1 ? { kind: 'run', id: ids[0]! } : { kind: 'runs', ids };

const exists: {
  readonly [K in Selection['kind']]: (project: Project, selection: SelectionOf<K>) => boolean;
} = {
  none: () => true,
  run: ({ runs }, { id }) => runs.some((run) => run.id === id),
  runs: ({ runs }, { ids }) => ids.every((id) => runs.some((run) => run.id === id)),
  'keep-out': ({ panel }, { id }) => panel.keepOuts?.some((one) => one.id === id) ?? false,
  guide: ({ panel }, { index }) => index < (panel.guides?.length ?? 0),
  measure: ({ panel }, { index }) => index < (panel.measures?.length ?? 0),
  area: ({ areas }, { id }) => areas.some((area) => area.id === id),
  feed: ({ power }, { index }) => index < power.feeds.length,
  jumper: ({ dataLines }, { line, place }) => place > 0 && place < (dataLines[line]?.chain.length ?? 0),
  clip: ({ lampshows }, { show, row, clip }) =>
    lampshows.find((one) => one.id === show)?.rows[row]?.clips[clip] !== undefined,
};

/** The selection, or nothing where what it names is gone. */
export function liveSelection(project: Project, selection: Selection): Selection {
  const alive = (exists[selection.kind] as (project: Project, selection: Selection) => boolean)(
    project,
    selection,
  );
  if (alive) return selection;
  // Of several runs, those that are left stay chosen.
  if (selection.kind !== 'runs') return nothing;
  return selectionOfRuns(selection.ids.filter((id) => project.runs.some((run) => run.id === id)));
}

export const sameSelection = (a: Selection, b: Selection): boolean =>
  a === b || JSON.stringify(a) === JSON.stringify(b);
