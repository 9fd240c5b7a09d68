// What is chosen on the screen. A selection is no part of the document: it is never saved, and undo doesn't bring it back. It names things
// by id or place, so it can outlive them; `liveSelection` says what is left of it.
import { type ClipPlace, type ClipSpot, clipAtSpot, inOrder, type Project } from '../../project/index.ts';

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
  | ({ readonly kind: 'clip' } & ClipPlace)
  /** Two clips of one show or more. */
  | { readonly kind: 'clips'; readonly show: string; readonly spots: readonly ClipSpot[] }
  | { readonly kind: 'game-event'; readonly id: string }
  /** How the board hears of game events. */
  | { readonly kind: 'inputs' };

export type SelectionOf<K extends Selection['kind']> = Extract<Selection, { kind: K }>;

export const nothing: Selection = { kind: 'none' };

/** The runs that are chosen, one or several. */
export const chosenRunIds = (selection: Selection): readonly string[] =>
  selection.kind === 'run' ? [selection.id] : selection.kind === 'runs' ? selection.ids : [];

/** Chooses these runs: none, one or several. */
export const selectionOfRuns = (ids: readonly string[]): Selection =>
  ids.length === 0 ? nothing : ids.length === 1 ? { kind: 'run', id: ids[0]! } : { kind: 'runs', ids };

/** The clips that are chosen, one or several, all of one show. */
export function chosenClips(
  selection: Selection,
): { readonly show: string; readonly spots: readonly ClipSpot[] } | undefined {
  if (selection.kind === 'clips') return selection;
  if (selection.kind !== 'clip') return undefined;
  return { show: selection.show, spots: [{ row: selection.row, clip: selection.clip }] };
}

/** Chooses these clips of a show: none, one or several. */
export function selectionOfClips(show: string, spots: readonly ClipSpot[]): Selection {
  const [first, ...more] = inOrder(spots);
  if (!first) return nothing;
  return more.length === 0
    ? { kind: 'clip', show, ...first }
    : { kind: 'clips', show, spots: [first, ...more] };
}

export const sameSpot = (a: ClipSpot, b: ClipSpot): boolean => a.row === b.row && a.clip === b.clip;

/** Chooses a clip beside those of its show that are chosen, or lets go of it. */
export function withClipToggled(selection: Selection, show: string, spot: ClipSpot): Selection {
  const chosen = chosenClips(selection);
  const spots = chosen?.show === show ? chosen.spots : [];
  const isChosen = spots.some((one) => sameSpot(one, spot));
  return selectionOfClips(show, isChosen ? spots.filter((one) => !sameSpot(one, spot)) : [...spots, spot]);
}

/**
 * The chosen clips where they stand after an edit, since a place in a list means another clip once one before it is gone: the same clip elsewhere, or
 * one that was changed where it stands. Clips that are gone are let go of.
 */
export function followedClips(before: Project, after: Project, selection: Selection): Selection {
  const chosen = chosenClips(selection);
  if (!chosen || before.lampshows === after.lampshows) return selection;
  const rowsBefore = before.lampshows.find(({ id }) => id === chosen.show)?.rows;
  const rows = after.lampshows.find(({ id }) => id === chosen.show)?.rows;
  if (!rowsBefore || !rows) return nothing;
  const found = chosen.spots.flatMap((spot): ClipSpot[] => {
    const clip = clipAtSpot(rowsBefore, spot);
    if (!clip || clipAtSpot(rows, spot) === clip) return [spot];
    for (const [row, { clips }] of rows.entries()) {
      const at = clips.indexOf(clip);
      if (at >= 0) return [{ row, clip: at }];
    }
    const isInPlace = rows[spot.row]?.clips.length === rowsBefore[spot.row]!.clips.length;
    return isInPlace ? [spot] : [];
  });
  return selectionOfClips(chosen.show, found);
}

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
  clips: ({ lampshows }, { show, spots }) => {
    const rows = lampshows.find((one) => one.id === show)?.rows;
    return rows !== undefined && spots.every((spot) => clipAtSpot(rows, spot) !== undefined);
  },
  'game-event': ({ gameEvents }, { id }) => gameEvents?.some((event) => event.id === id) ?? false,
  inputs: () => true,
};

/** The selection, or nothing where what it names is gone. */
export function liveSelection(project: Project, selection: Selection): Selection {
  const alive = (exists[selection.kind] as (project: Project, selection: Selection) => boolean)(
    project,
    selection,
  );
  if (alive) return selection;
  // Of several, those that are left stay chosen.
  if (selection.kind === 'clips') {
    const rows = project.lampshows.find(({ id }) => id === selection.show)?.rows ?? [];
    return selectionOfClips(
      selection.show,
      selection.spots.filter((spot) => clipAtSpot(rows, spot) !== undefined),
    );
  }
  if (selection.kind !== 'runs') return nothing;
  return selectionOfRuns(selection.ids.filter((id) => project.runs.some((run) => run.id === id)));
}

export const sameSelection = (a: Selection, b: Selection): boolean =>
  a === b || JSON.stringify(a) === JSON.stringify(b);
