// Standing in front of the panel: going there, looking at glass, LEDs or wiring, and leaving. Of all other commands only playing works there, a show or
// a game, since nothing else is on the screen.
import type { Viewer, Workbench } from '../workbench.ts';
import type { ActCommand } from './command.ts';

export const lookRows: readonly {
  readonly id: Viewer['look'];
  readonly label: string;
  readonly key: string;
}[] = [
  { id: 'glass', label: 'Glass', key: 'G' },
  { id: 'bare', label: 'Bare LEDs', key: 'B' },
  { id: 'wiring', label: 'Wiring', key: 'W' },
];

export const setViewer = (workbench: Workbench, change: Partial<Viewer>): void =>
  workbench.set({ viewer: { ...workbench.state.viewer, ...change } });

/** Whether a command works while one stands in front of the panel. */
export const worksInRoom = (id: string): boolean => /^(room-|play$|frame-|show-\d$|event-|game-)/.test(id);

export const roomCommands: readonly ActCommand[] = [
  {
    id: 'view-stand',
    label: 'Stand in front of the panel',
    keys: ['E'],
    run: ({ workbench }) => setViewer(workbench, { isStanding: true }),
  },
  {
    id: 'room-leave',
    label: 'Step back to the drawing',
    keys: ['Escape', 'E'],
    when: ({ viewer }) => viewer.isStanding,
    run: ({ workbench }) => setViewer(workbench, { isStanding: false }),
  },
  ...lookRows.map(
    ({ id, label, key }): ActCommand => ({
      id: `room-${id}`,
      label: `In front of the panel: ${label.toLowerCase().replace('leds', 'LEDs')}`,
      keys: [key],
      when: ({ viewer }) => viewer.isStanding,
      run: ({ workbench }) => setViewer(workbench, { look: id }),
    }),
  ),
];
