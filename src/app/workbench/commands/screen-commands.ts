// What changes the screen and leaves the document alone: stages, views, zoom, playing, selection. And undo and redo.
import { boundsOf, outline } from '../../../panel/index.ts';
import { stepFrame } from '../../playback/step-frame.ts';
import { chosenRunIds, nothing, selectionOfRuns } from '../selection.ts';
import type { StageId, ToolId, ViewId } from '../workbench.ts';
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
    // In a game the digits press events.
    when: ({ history, game }) => !game.isOn && index < history.project.lampshows.length,
    run: ({ workbench }) => workbench.playback.choose(workbench.project.lampshows[index]!.id),
  }),
);

const frames = [
  { id: 'frame-back', label: 'One frame back', keys: [',', 'ArrowLeft'], by: -1 },
  { id: 'frame-on', label: 'One frame on', keys: ['.', 'ArrowRight'], by: 1 },
].map(
  ({ by, ...row }): ActCommand => ({ ...row, run: ({ workbench }) => stepFrame(workbench.playback, by) }),
);

const panStepPx = 80;
const pans = [
  { name: 'left', key: 'ArrowLeft', x: 1, y: 0 },
  { name: 'right', key: 'ArrowRight', x: -1, y: 0 },
  { name: 'up', key: 'ArrowUp', x: 0, y: 1 },
  { name: 'down', key: 'ArrowDown', x: 0, y: -1 },
].map(
  ({ name, key, x, y }): ActCommand => ({
    id: `look-${name}`,
    label: `Look further ${name}`,
    keys: [`Mod+${key}`],
    run: ({ viewport }) => viewport.panBy(x * panStepPx, y * panStepPx),
  }),
);

/** Tools by key, in the stages where they are on the bar. */
const toolRows: readonly {
  readonly id: ToolId;
  readonly label: string;
  readonly key: string;
  readonly stages: readonly StageId[];
}[] = [
  { id: 'draw-run', label: 'Draw a run', key: 'D', stages: ['runs'] },
  { id: 'draw-area', label: 'Draw a rectangle for an area', key: 'G', stages: ['runs'] },
  { id: 'lasso-area', label: 'Draw a line round LEDs for an area', key: 'O', stages: ['runs'] },
  { id: 'brush-area', label: 'Brush LEDs into an area', key: 'B', stages: ['runs'] },
  { id: 'pick-colour', label: 'Pick LEDs by the colour of the artwork', key: 'C', stages: ['runs'] },
  { id: 'mark-spots', label: 'Mark what is to be lit', key: 'S', stages: ['runs'] },
  { id: 'measure', label: 'Measure', key: 'M', stages: ['panel', 'runs'] },
  { id: 'draw-keep-out', label: 'Draw a keep-out', key: 'N', stages: ['panel'] },
  { id: 'true-scale', label: 'Draw a measured distance', key: 'Y', stages: ['panel'] },
  { id: 'add-feed', label: 'Add a feed', key: 'I', stages: ['power'] },
];

const tools = toolRows.map(
  ({ id, label, key, stages }): ActCommand => ({
    id: `tool-${id}`,
    label,
    keys: [key],
    when: ({ stage }) => stages.includes(stage),
    run: ({ workbench }) =>
      workbench.set({ tool: workbench.state.tool === id ? 'select' : id, measured: undefined }),
  }),
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
      workbench.set({ message: undefined, measured: undefined, tool: 'select' });
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
  {
    id: 'fit-chosen',
    label: 'Fit the chosen runs',
    keys: ['Z'],
    when: ({ selection }) => chosenRunIds(selection).length > 0,
    run: ({ viewport, workbench }) => {
      const { compiled, selection, side } = workbench.state;
      const ids = chosenRunIds(selection);
      const corners = compiled.layout.runs.filter(({ run }) => ids.includes(run.id)).flatMap(outline);
      viewport.showBox(boundsOf(corners), side === 'rear');
    },
  },
  ...pans,
  {
    id: 'all-runs',
    label: 'Choose all runs',
    keys: ['Mod+A'],
    when: ({ stage }) => stage === 'runs',
    run: ({ workbench }) => workbench.select(selectionOfRuns(workbench.project.runs.map(({ id }) => id))),
  },
  ...tools,
  ...views,
  ...stages,
  ...shows,
];
