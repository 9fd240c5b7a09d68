// What concerns the project as a file: new, open, the samples, save.
import { sampleRows } from '../../files/samples.ts';
import type { ActCommand } from './command.ts';

export const fileCommands: readonly ActCommand[] = [
  {
    id: 'new',
    label: 'New project',
    run: ({ files }) => files.startNew(),
  },
  { id: 'open', label: 'Open...', keys: ['Mod+O'], run: ({ files }) => files.open() },
  { id: 'save', label: 'Save', keys: ['Mod+S'], run: ({ files }) => files.save() },
  { id: 'save-as', label: 'Save as...', keys: ['Mod+Shift+S'], run: ({ files }) => files.saveAs() },
  { id: 'bring-back', label: 'Bring back the project before', run: ({ files }) => files.bringBack() },
  { id: 'artwork', label: 'Place artwork...', run: ({ files }) => files.pickArtwork() },
  ...sampleRows.map(
    ({ id, label, url }): ActCommand => ({
      id: `sample-${id}`,
      label: `Sample: ${label}`,
      run: ({ files }) => files.openUrl(url),
    }),
  ),
];
