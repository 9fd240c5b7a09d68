// Which row of a show is chosen while no clip is: new clips go there. No part of the document, and gone with the page.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { Lampshow } from '../../../project/index.ts';
import { useSelected } from '../../workbench/context.ts';

interface RowChoice {
  readonly show: string;
  /** The row's id, so that it stays chosen when rows change places. */
  readonly row: string;
}

const choice = createStore<{ readonly chosen: RowChoice | undefined }>(() => ({ chosen: undefined }));

export const chooseRow = (show: string, row: string): void => choice.setState({ chosen: { show, row } });

/** Index of the chosen row: that of the chosen clip, else the one that was pressed last; -1 where there is none. */
export function useChosenRow(show: Lampshow): number {
  const clip = useSelected('clip');
  const chosen = useStore(choice, (state) => state.chosen);
  if (clip?.show === show.id) return clip.row;
  return chosen?.show === show.id ? show.rows.findIndex(({ id }) => id === chosen.row) : -1;
}
