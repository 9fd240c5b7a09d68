// The project that "New" begins with: a panel of a common size, a board, a supply, and an attract mode that waits for its first clip.
import type { Project } from '../../project/index.ts';

/** `savedOn` as the document has it. */
export const newProject = (savedOn: string): Project => ({
  format: 'lamploom',
  version: 1,
  name: 'New panel',
  savedOn,
  panel: { widthMm: 600, heightMm: 400, airGapMm: 25, sheet: 'opal-pmma' },
  runs: [],
  dataLines: [],
  areas: [{ id: 'whole', name: 'Whole panel', members: [{ kind: 'all' }], order: { kind: 'across' } }],
  gradients: [
    {
      id: 'ember',
      name: 'Ember',
      stops: [
        { at: 0, colour: '#3a0a04' },
        { at: 0.5, colour: '#d8501c' },
        { at: 1, colour: '#ffe2a8' },
      ],
    },
  ],
  lampshows: [{ id: 'attract', name: 'Attract', lengthMs: 10_000, rows: [{ id: 'row-1', clips: [] }] }],
  attractMode: 'attract',
  power: { supply: { volts: 5, amps: 10 }, feeds: [] },
  output: {
    gamma: { red: 2.2, green: 2.2, blue: 2.2 },
    whiteBalance: { red: 1, green: 0.86, blue: 0.72 },
    brightnessPercent: 100,
  },
  board: { id: 'atmega328p-old' },
});
