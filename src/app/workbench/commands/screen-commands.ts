// What changes the screen and leaves the document alone: stages, views, zoom, playing, selection. And undo and redo.
import { stepFrame } from '../../playback/step-frame.ts';
import { nothing } from '../selection.ts';
import type { StageId, ViewId } from '../workbench.ts';
import type { ActCommand } from './command.ts';

export const stageRows: readonly { readonly id: StageId; readonly label: string }[] = [
  { id: 'panel', label: 'Panel' },
  { id: 'runs', label: 'Runs' },
  { id: 'lampshows', label: 'Lampshows' },
  { id: 'power', label: 'Power' },
  { id: 'workshop', label: 'Workshop' },
  { id: 'board', label: 'Board' },
];

export const viewRows: readonly { readonly id: ViewId; readonly label: string; readonly key: string }[] = [
  { id: 'artwork', label: 'Artwork', key: 'A' },
  { id: 'wiring', label: 'Wiring', key: 'W' },
  { id: 'lit', label: 'Lit', key: 'L' },
  { id: 'volts', label: 'Volts', key: 'V' },
];

const stages = stageRows.map(
  ({ id, label }, index): ActCommand => ({
    id: `stage-${id}`,
    label: `Go to ${label}`,
    keys: [`Alt+${index + 1}`],
    run: ({ workbench }) => workbench.enter(id),
  }),
);

const views = viewRows.map(
  ({ id, label, key }): ActCommand => ({
    id: `view-${id}`,
    label: `View: ${label}`,
    keys: [key],
    run: ({ workbench }) => workbench.set({ view: id }),
  }),
);

const shows = Array.from(
  { length: 9 },
  (_, index): ActCommand => ({
    id: `show-${index + 1}`,
    label: `Play show ${index + 1}`,
    keys: [String(index + 1)],
    when: ({ history }) => index < history.project.lampshows.length,
    run: ({ workbench }) => workbench.playback.choose(workbench.project.lampshows[index]!.id),
  }),
);

const frames = [
  { id: 'frame-back', label: 'One frame back', keys: [',', 'ArrowLeft'], by: -1 },
  { id: 'frame-on', label: 'One frame on', keys: ['.', 'ArrowRight'], by: 1 },
].map(
  ({ by, ...row }): ActCommand => ({ ...row, run: ({ workbench }) => stepFrame(workbench.playback, by) }),
);

export const screenCommands: readonly ActCommand[] = [
  {
    id: 'undo',
    label: 'Undo',
    keys: ['Mod+Z'],
    when: ({ history }) => history.past.length > 0,
    run: ({ workbench }) => workbench.undo(),
  },
  {
    id: 'redo',
    label: 'Redo',
    keys: ['Mod+Shift+Z', 'Mod+Y'],
    when: ({ history }) => history.future.length > 0,
    run: ({ workbench }) => workbench.redo(),
  },
  {
    id: 'deselect',
    label: 'Choose nothing',
    keys: ['Escape'],
    run: ({ workbench }) => {
      const busy = workbench.state.tool !== 'select';
      if (!busy) workbench.select(nothing);
      workbench.set({ message: undefined, tool: 'select' });
    },
  },
  {
    id: 'keys',
    label: 'All keys',
    keys: ['?'],
    run: ({ workbench }) => workbench.set({ listsKeys: true }),
  },
  {
    id: 'play',
    label: 'Play or pause',
    keys: ['Space'],
    run: ({ workbench }) => workbench.playback.toggle(),
  },
  ...frames,
  {
    id: 'other-side',
    label: 'Front or rear',
    keys: ['F'],
    run: ({ workbench }) => workbench.set({ side: workbench.state.side === 'front' ? 'rear' : 'front' }),
  },
  { id: 'zoom-in', label: 'Zoom in', keys: ['+', '='], run: ({ viewport }) => viewport.zoomBy(1.25) },
  { id: 'zoom-out', label: 'Zoom out', keys: ['-'], run: ({ viewport }) => viewport.zoomBy(0.8) },
  { id: 'fit', label: 'Fit the panel', keys: ['0'], run: ({ viewport }) => viewport.fit() },
  ...views,
  ...stages,
  ...shows,
];
