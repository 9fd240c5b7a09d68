// What can be done with the clip that is chosen, or with several at once; copying them, and pasting what was copied.
import {
  addedSpots,
  type Clip,
  type ClipSpot,
  canPlay,
  clipAtSpot,
  copiedClips,
  crossfadeClips,
  deleteClips,
  type Edit,
  isInside,
  type Lampshow,
  moveClips,
  movedSpots,
  muteRow,
  overlapsOf,
  pasteClips,
  repeatClips,
  roomForClips,
  rowsForCopies,
  splitClips,
  splitSpots,
  trimClips,
} from '../../../project/index.ts';
import type { Playhead } from '../../playback/playhead.ts';
import { chosenClips, nothing, selectionOfClips } from '../selection.ts';
import type { WorkbenchState } from '../workbench.ts';
import type { ActCommand, Command, EditCommand, PlannedEdit } from './command.ts';

export interface ChosenClips {
  readonly show: Lampshow;
  readonly spots: readonly ClipSpot[];
  readonly clips: readonly Clip[];
}

/** The chosen clips with their show, in the order of rows and places; undefined where none is chosen. */
export function clipsOf({
  selection,
  history,
}: Pick<WorkbenchState, 'selection' | 'history'>): ChosenClips | undefined {
  const chosen = chosenClips(selection);
  const show = history.project.lampshows.find(({ id }) => id === chosen?.show);
  if (!chosen || !show) return undefined;
  const { spots } = chosen;
  return { show, spots, clips: spots.flatMap((spot) => clipAtSpot(show.rows, spot) ?? []) };
}

const named = ({ spots }: ChosenClips, one: string): string => (spots.length === 1 ? one : `${one}s`);

interface Row {
  readonly id: string;
  readonly label: string;
  readonly keys: readonly string[];
}

function clipsCommand(
  row: Row,
  plan: (chosen: ChosenClips, state: WorkbenchState, playhead: Playhead) => PlannedEdit,
  fits: (chosen: ChosenClips, state: WorkbenchState) => boolean = () => true,
): EditCommand {
  return {
    ...row,
    when: (state) => {
      // Clips that were chosen here must not move unseen.
      if (state.stage !== 'lampshows') return false;
      const chosen = clipsOf(state);
      return chosen !== undefined && fits(chosen, state);
    },
    plan: (state, playhead) => plan(clipsOf(state)!, state, playhead),
  };
}

const gestureOf = (what: string, { show, spots }: ChosenClips): string =>
  `${what} ${show.id} ${spots.map(({ row, clip }) => `${row}.${clip}`).join(' ')}`;

/** Steps in time: so many frames, or milliseconds. */
const steps: readonly (Row & { readonly frames?: number; readonly byMs?: number })[] = [
  { id: 'clip-frame-earlier', label: 'Move clip one frame earlier', keys: ['ArrowLeft'], frames: -1 },
  { id: 'clip-frame-later', label: 'Move clip one frame later', keys: ['ArrowRight'], frames: 1 },
  { id: 'clip-frames-earlier', label: 'Move clip 10 frames earlier', keys: ['Shift+ArrowLeft'], frames: -10 },
  { id: 'clip-frames-later', label: 'Move clip 10 frames later', keys: ['Shift+ArrowRight'], frames: 10 },
  { id: 'clip-earlier', label: 'Move clip 0.1 s earlier', keys: ['Alt+ArrowLeft'], byMs: -100 },
  { id: 'clip-later', label: 'Move clip 0.1 s later', keys: ['Alt+ArrowRight'], byMs: 100 },
];

const rowSteps: readonly (Row & { readonly byRows: number })[] = [
  { id: 'clip-row-up', label: 'Move clip to the row above', keys: ['ArrowUp'], byRows: -1 },
  { id: 'clip-row-down', label: 'Move clip to the row below', keys: ['ArrowDown'], byRows: 1 },
];

const trims = [
  { id: 'clip-trim-start', label: 'Trim clip’s start to the playhead', keys: ['['], end: 'start' },
  { id: 'clip-trim-end', label: 'Trim clip’s end to the playhead', keys: [']'], end: 'end' },
] as const;

const canMoveRows = ({ show, spots }: ChosenClips, byRows: number): boolean =>
  spots.every(({ row }) => show.rows[row + byRows] !== undefined);

/** Mutes all rows of the clips, or turns them on again where all are mute. */
const muteRows = ({ show, spots }: ChosenClips): PlannedEdit => {
  const rows = [...new Set(spots.map(({ row }) => row))];
  const muted = !rows.every((row) => show.rows[row]!.muted);
  const edits = rows.map((row) => muteRow(show.id, row, muted));
  return {
    label: muted ? 'Mute rows' : 'Turn rows on',
    edit: (draft) => {
      for (const edit of edits) edit(draft);
    },
  };
};

/** Copies of the chosen clips behind them. */
const duplicated = (chosen: ChosenClips): PlannedEdit => {
  const { show, spots } = chosen;
  return {
    label: `Repeat ${named(chosen, 'clip')}`,
    edit: repeatClips(show.id, spots, 1),
    selection: selectionOfClips(
      show.id,
      addedSpots(
        show.rows,
        spots.map(({ row }) => row),
      ),
    ),
  };
};

/** The row that copies go into: that of the first chosen clip in this show, else the first. */
export function rowForPaste(state: WorkbenchState, show: string): number {
  const chosen = chosenClips(state.selection);
  return chosen?.show === show ? chosen.spots[0]!.row : 0;
}

/** Pastes at the playhead; undefined where nothing of what was copied can be played here, or there is no room. */
export function plannedPaste(state: WorkbenchState, { show: id, atMs }: Playhead): PlannedEdit | undefined {
  const { project } = state.history;
  const show = project.lampshows.find((one) => one.id === id);
  const copied = state.copiedClips.filter(({ clip }) => canPlay(project, clip));
  if (!show || copied.length === 0 || copied.length > roomForClips(project, show)) return undefined;
  const row = rowForPaste(state, id);
  return {
    label: copied.length === 1 ? 'Paste clip' : 'Paste clips',
    edit: pasteClips(id, row, atMs, copied),
    selection: selectionOfClips(id, addedSpots(show.rows, rowsForCopies(copied, row))),
  };
}

const nothingDone: Edit = () => {};

const canRepeat = ({ show, spots }: ChosenClips, { history }: WorkbenchState): boolean =>
  roomForClips(history.project, show) >= spots.length;

const editing: readonly EditCommand[] = [
  clipsCommand({ id: 'clip-delete', label: 'Delete clip', keys: ['Delete', 'Backspace'] }, (chosen) => ({
    label: `Delete ${named(chosen, 'clip')}`,
    edit: deleteClips(chosen.show.id, chosen.spots),
    selection: nothing,
  })),
  ...steps.map(({ frames, byMs, ...row }) =>
    clipsCommand(row, (chosen, { settled }) => ({
      label: `Move ${named(chosen, 'clip')}`,
      edit: moveClips(chosen.show.id, chosen.spots, byMs ?? frames! * settled.frameMs, 0),
      gesture: gestureOf('nudge', chosen),
    })),
  ),
  ...rowSteps.map(({ byRows, ...row }) =>
    clipsCommand(
      row,
      (chosen) => ({
        label: `Move ${named(chosen, 'clip')}`,
        edit: moveClips(chosen.show.id, chosen.spots, 0, byRows),
        selection: selectionOfClips(chosen.show.id, movedSpots(chosen.show.rows, chosen.spots, byRows)),
      }),
      (chosen) => canMoveRows(chosen, byRows),
    ),
  ),
  clipsCommand(
    { id: 'clip-split', label: 'Split clip at the playhead', keys: ['S'] },
    (chosen, state, at) => {
      const { show, spots, clips } = chosen;
      const isHere = at.show === show.id && clips.some((clip) => isInside(clip, at.atMs));
      const hasRoom = roomForClips(state.history.project, show) >= spots.length;
      if (!isHere)
        return { label: 'Split clip', edit: nothingDone, told: 'Put the playhead inside the clip first.' };
      if (!hasRoom)
        return {
          label: 'Split clip',
          edit: nothingDone,
          told: 'The show, or the project, holds no more clips.',
        };
      const isCut = (spot: ClipSpot) => isInside(clipAtSpot(show.rows, spot)!, at.atMs);
      return {
        label: `Split ${named(chosen, 'clip')}`,
        edit: splitClips(show.id, spots, at.atMs),
        selection: selectionOfClips(show.id, splitSpots(spots, isCut)),
      };
    },
  ),
  ...trims.map(({ end, ...row }) =>
    clipsCommand(row, (chosen, _, at) => {
      const label = `Trim ${named(chosen, 'clip')}`;
      const isHere = at.show === chosen.show.id && chosen.clips.some((clip) => isInside(clip, at.atMs));
      return isHere
        ? { label, edit: trimClips(at.show, chosen.spots, end, at.atMs) }
        : { label, edit: nothingDone, told: 'Put the playhead inside the clip first.' };
    }),
  ),
  clipsCommand(
    { id: 'clip-crossfade', label: 'Crossfade clips that overlap', keys: ['X'] },
    ({ show, spots }) => ({ label: 'Crossfade clips', edit: crossfadeClips(show.id, spots) }),
    ({ show, spots }) => overlapsOf(show.rows, spots).length > 0,
  ),
  clipsCommand({ id: 'clip-repeat', label: 'Repeat clip once', keys: ['Mod+D'] }, duplicated, canRepeat),
  clipsCommand({ id: 'clip-mute', label: 'Mute the rows of the clips', keys: ['Shift+M'] }, muteRows),
  {
    id: 'clip-paste',
    label: 'Paste clips at the playhead',
    keys: ['Mod+V'],
    when: ({ stage, game, copiedClips: copied }) => stage === 'lampshows' && !game.isOn && copied.length > 0,
    plan: (state, playhead) => plannedPaste(state, playhead) ?? { label: 'Paste clips', edit: nothingDone },
  },
];

const copying = ({ selection, history }: WorkbenchState) => {
  const chosen = clipsOf({ selection, history })!;
  return { chosen, copied: copiedClips(chosen.show.rows, chosen.spots) };
};

const isChosenHere = (state: WorkbenchState): boolean =>
  state.stage === 'lampshows' && clipsOf(state) !== undefined;

const acting: readonly ActCommand[] = [
  {
    id: 'clip-copy',
    label: 'Copy clip',
    keys: ['Mod+C'],
    when: isChosenHere,
    run: ({ workbench }) => workbench.set({ copiedClips: copying(workbench.state).copied }),
  },
  {
    id: 'clip-cut',
    label: 'Cut clip',
    keys: ['Mod+X'],
    when: isChosenHere,
    run: ({ workbench }) => {
      const { chosen, copied } = copying(workbench.state);
      workbench.set({ copiedClips: copied });
      workbench.edit(`Cut ${named(chosen, 'clip')}`, deleteClips(chosen.show.id, chosen.spots));
      workbench.select(nothing);
    },
  },
  {
    id: 'clip-all',
    label: 'Choose all clips of the show',
    keys: ['Mod+A'],
    when: ({ stage, game }) => stage === 'lampshows' && !game.isOn,
    run: ({ workbench }) => {
      const { show: id } = workbench.playback.current();
      const rows = workbench.project.lampshows.find((show) => show.id === id)?.rows ?? [];
      const spots = rows.flatMap(({ clips }, row) => clips.map((_, clip) => ({ row, clip })));
      workbench.select(selectionOfClips(id, spots));
    },
  },
];

export const clipCommands: readonly Command[] = [...editing, ...acting];
