// Which row of a show is chosen while no clip is: new clips go there. No part of the document, and gone with the page.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { Lampshow } from '../../../project/index.ts';
import { useSelection } from '../../workbench/context.ts';
import { chosenClips } from '../../workbench/selection.ts';

interface RowChoice {
  readonly show: string;
  /** The row's id, so that it stays chosen when rows change places. */
  readonly row: string;
}

const choice = createStore<{ readonly chosen: RowChoice | undefined }>(() => ({ chosen: undefined }));

export const chooseRow = (show: string, row: string): void => choice.setState({ chosen: { show, row } });

/** Index of the chosen row: that of the first chosen clip, else the one that was pressed last; -1 where there is none. */
export function useChosenRow(show: Lampshow): number {
  const clips = chosenClips(useSelection());
  const chosen = useStore(choice, (state) => state.chosen);
  if (clips?.show === show.id) return clips.spots[0]!.row;
  return chosen?.show === show.id ? show.rows.findIndex(({ id }) => id === chosen.row) : -1;
}
