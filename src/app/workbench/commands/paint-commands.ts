// Painting the chosen clip's frames by keys: the cell cursor, what is painted there, tools, colours, and which frame is painted. They come before
// all others where cells are painted, since they take keys that mean something else elsewhere: Delete must not take the clip away.

import { addFrames, setCells } from '../../../project/index.ts';
import {
  changePainting,
  choosePaintedFrames,
  eraseAtCursor,
  moveCursor,
  paintAtCursor,
  showPaintedFrame,
} from '../../canvas/drags-paint.ts';
import { isPainting, type PaintTool, paintedPlaceOf, roomForFrames } from '../painting.ts';
import type { Workbench, WorkbenchState } from '../workbench.ts';
import type { ActCommand } from './command.ts';

/** Takes the brush up, stands still at the frame that is painted, and looks at the lit panel; or lays it down. */
export function setPaintMode(workbench: Workbench, isOn: boolean): void {
  workbench.set(isOn ? { tool: 'paint', view: 'lit' } : { tool: 'select' });
  changePainting(workbench, { lineFrom: undefined });
  if (isOn) showPaintedFrame(workbench);
}

const command = (
  id: string,
  label: string,
  keys: readonly string[],
  run: (workbench: Workbench) => void,
  when: (state: WorkbenchState) => boolean = () => true,
): ActCommand => ({
  id: `paint-${id}`,
  label,
  keys,
  when: (state) => isPainting(state) && when(state),
  run: ({ workbench }) => run(workbench),
});

const ways = [
  { name: 'left', key: 'ArrowLeft', columns: -1, rows: 0 },
  { name: 'right', key: 'ArrowRight', columns: 1, rows: 0 },
  { name: 'up', key: 'ArrowUp', columns: 0, rows: -1 },
  { name: 'down', key: 'ArrowDown', columns: 0, rows: 1 },
] as const;

const moving = ways.flatMap(({ name, key, columns, rows }) => [
  command(`move-${name}`, `Cell cursor ${name}`, [key], (workbench) => moveCursor(workbench, columns, rows)),
  command(`stroke-${name}`, `Paint on ${name}wards`, [`Shift+${key}`], (workbench) => {
    moveCursor(workbench, columns, rows);
    // Letting go of the key ends the stroke.
    paintAtCursor(workbench, 'stroke of keys');
  }),
]);

const tools: readonly { readonly id: PaintTool; readonly label: string; readonly key: string }[] = [
  { id: 'brush', label: 'Brush', key: 'B' },
  { id: 'line', label: 'Line: press where it begins and where it ends', key: 'L' },
  { id: 'fill', label: 'Fill cells of one colour that hang together', key: 'F' },
  { id: 'erase', label: 'Erase: paint in the darkest colour', key: 'E' },
  { id: 'pick', label: 'Pick the colour of a cell', key: 'C' },
];

const choosing = tools.map(({ id, label, key }) =>
  command(`tool-${id}`, label, [key], (workbench) =>
    changePainting(workbench, { tool: id, lineFrom: undefined }),
  ),
);

/** Goes round: behind the last comes the first. */
const stepped = (from: number, by: number, count: number): number => (from + by + count) % count;

const stepColour = (by: number) => (workbench: Workbench) => {
  const { colour, effect } = paintedPlaceOf(workbench.state)!;
  changePainting(workbench, { colour: stepped(colour, by, effect.palette.length) });
};

const stepFrame = (by: number) => (workbench: Workbench) => {
  const { frame, effect } = paintedPlaceOf(workbench.state)!;
  choosePaintedFrames(workbench, stepped(frame, by, effect.frames.length));
};

/** A copy behind the frame that is painted, to go on from. */
export function copyFrameOn(workbench: Workbench): void {
  const { place, effect, frame } = paintedPlaceOf(workbench.state)!;
  workbench.edit('Copy frame', addFrames(place, frame + 1, [effect.frames[frame]!]));
  choosePaintedFrames(workbench, frame + 1);
}

export function copyCells(workbench: Workbench): void {
  const { effect, frame } = paintedPlaceOf(workbench.state)!;
  const { columns, rows, frames } = effect;
  changePainting(workbench, { copied: { columns, rows, cells: frames[frame]!.cells } });
}

/** Whether what was copied fits the grid and the palette of the clip at hand. */
export function canPasteCells(state: WorkbenchState): boolean {
  const { copied } = state.painting;
  const effect = paintedPlaceOf(state)?.effect;
  if (!copied || !effect) return false;
  const most = Math.max(...Array.from(copied.cells, (digit) => Number.parseInt(digit, 16)));
  return copied.columns === effect.columns && copied.rows === effect.rows && most < effect.palette.length;
}

/** Into all chosen frames. */
export function pasteCells(workbench: Workbench): void {
  const { place, frames } = paintedPlaceOf(workbench.state)!;
  const { cells } = workbench.state.painting.copied!;
  workbench.edit(
    'Paste cells',
    setCells(
      place,
      frames.map((frame) => ({ frame, cells })),
    ),
  );
}

export const hasRoomForFrame = (state: WorkbenchState): boolean =>
  roomForFrames(paintedPlaceOf(state)!.effect) > 0;

const digits = Array.from({ length: 9 }, (_, index) =>
  command(
    `colour-${index + 1}`,
    `Colour ${index + 1}`,
    [String(index + 1)],
    (workbench) => changePainting(workbench, { colour: index }),
    (state) => index < paintedPlaceOf(state)!.effect.palette.length,
  ),
);

export const paintCommands: readonly ActCommand[] = [
  {
    id: 'paint-mode',
    label: 'Paint on the glass, or stop painting',
    keys: ['T'],
    when: (state) => state.stage === 'lampshows' && paintedPlaceOf(state) !== undefined,
    run: ({ workbench }) => setPaintMode(workbench, workbench.state.tool !== 'paint'),
  },
  command(
    'line-off',
    'Forget where the line begins',
    ['Escape'],
    (workbench) => changePainting(workbench, { lineFrom: undefined }),
    ({ painting }) => painting.lineFrom !== undefined,
  ),
  ...moving,
  command('cell', 'Paint at the cell cursor', ['Space', 'Enter'], (workbench) => paintAtCursor(workbench)),
  command('cell-off', 'Erase at the cell cursor', ['Delete', 'Backspace'], eraseAtCursor),
  ...choosing,
  command('colour-before', 'Colour before', ['['], stepColour(-1)),
  command('colour-next', 'Next colour', [']'], stepColour(1)),
  ...digits,
  command('frame-before', 'Painted frame before', ['PageUp'], stepFrame(-1)),
  command('frame-next', 'Next painted frame', ['PageDown'], stepFrame(1)),
  command('frame-copy', 'Copy the frame behind itself', ['Mod+D'], copyFrameOn, hasRoomForFrame),
  command('copy', 'Copy the frame’s cells', ['Mod+C'], copyCells),
  command('paste', 'Paste cells into the frame', ['Mod+V'], pasteCells, canPasteCells),
];
