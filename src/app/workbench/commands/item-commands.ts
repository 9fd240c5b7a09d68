// What can be done with a chosen area, feed, jumper, keep-out, guide, measured distance or game event.
import {
  changeFeed,
  deleteArea,
  deleteGameEvent,
  removeFeed,
  removeGuide,
  removeKeepOut,
  removeMeasure,
  setJumper,
} from '../../../project/index.ts';
import { nothing, type Selection, type SelectionOf } from '../selection.ts';
import type { StageId, WorkbenchState } from '../workbench.ts';
import type { EditCommand, PlannedEdit } from './command.ts';

/** Where things of a kind are in view: keys act on nothing unseen. */
const stagesOf: Readonly<Partial<Record<Selection['kind'], readonly StageId[]>>> = {
  area: ['runs'],
  feed: ['runs', 'power'],
  jumper: ['runs', 'power'],
  'keep-out': ['panel', 'runs'],
  guide: ['panel', 'runs'],
  measure: ['panel'],
  'game-event': ['lampshows'],
};

function selectionCommand<K extends Selection['kind']>(
  kind: K,
  row: { readonly id: string; readonly label: string; readonly keys?: readonly string[] },
  plan: (selection: SelectionOf<K>, state: WorkbenchState) => PlannedEdit,
): EditCommand {
  return {
    ...row,
    when: ({ selection, stage }) => selection.kind === kind && (stagesOf[kind]?.includes(stage) ?? false),
    plan: (state) => plan(state.selection as SelectionOf<K>, state),
  };
}

const deleting = ['Delete', 'Backspace'];
const nothingLeft = { selection: nothing } as const;

export const itemCommands: readonly EditCommand[] = [
  selectionCommand(
    'keep-out',
    { id: 'keep-out-delete', label: 'Remove keep-out', keys: deleting },
    ({ id }) => ({ label: 'Remove keep-out', edit: removeKeepOut(id), ...nothingLeft }),
  ),
  selectionCommand('guide', { id: 'guide-delete', label: 'Remove guide', keys: deleting }, ({ index }) => ({
    label: 'Remove guide',
    edit: removeGuide(index),
    ...nothingLeft,
  })),
  selectionCommand(
    'measure',
    { id: 'measure-delete', label: 'Remove measured distance', keys: deleting },
    ({ index }) => ({ label: 'Remove measured distance', edit: removeMeasure(index), ...nothingLeft }),
  ),
  selectionCommand(
    'game-event',
    { id: 'game-event-delete', label: 'Delete game event', keys: deleting },
    ({ id }) => ({ label: 'Delete game event', edit: deleteGameEvent(id), ...nothingLeft }),
  ),
  selectionCommand('area', { id: 'area-delete', label: 'Delete area', keys: deleting }, ({ id }) => ({
    label: 'Delete area',
    edit: deleteArea(id),
  })),
  selectionCommand('feed', { id: 'feed-delete', label: 'Remove feed', keys: deleting }, ({ index }) => ({
    label: 'Remove feed',
    edit: removeFeed(index),
    selection: nothing,
  })),
  selectionCommand(
    'feed',
    { id: 'feed-keep', label: 'Keep feed, or let planning move it', keys: ['K'] },
    ({ index }, { history }) => {
      const isKept = history.project.power.feeds[index]!.isKept ?? false;
      return {
        label: isKept ? 'Let planning move this feed' : 'Keep this feed',
        edit: changeFeed(index, { isKept: isKept ? undefined : true }),
      };
    },
  ),
  selectionCommand(
    'jumper',
    { id: 'jumper-power', label: 'Cut or carry +5 V', keys: ['X'] },
    ({ line, place }, { history }) => {
      const jumper = history.project.dataLines[line]!.chain[place]!.jumper ?? {};
      const power = jumper.power === 'cut' ? ('carried' as const) : ('cut' as const);
      return {
        label: power === 'cut' ? 'Cut +5 V' : 'Carry +5 V',
        edit: setJumper(line, place, { ...jumper, power }),
      };
    },
  ),
];
