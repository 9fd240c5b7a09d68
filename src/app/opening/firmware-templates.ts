// The firmware's parts as the bundle carries them; the command line reads the same files from disk.

import manifest from '../../../firmware-templates/prebuilt/manifest.json';
import ownCode from '../../../firmware-templates/sketch/own-code.h?raw';
import sketch from '../../../firmware-templates/sketch/sketch.ino?raw';
import type { FirmwareTemplates, PrebuiltProgram } from '../../board/index.ts';

const headers = import.meta.glob<string>('../../../firmware-templates/player/*.h', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const programs = import.meta.glob<string>('../../../firmware-templates/prebuilt/*.hex', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** By file name, in order of name. */
const byName = (files: Readonly<Record<string, string>>): Map<string, string> =>
  new Map(
    Object.entries(files)
      .map(([path, text]) => [path.slice(path.lastIndexOf('/') + 1), text] as const)
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );

export const firmwareTemplates: FirmwareTemplates = {
  headers: byName(headers),
  sketch,
  ownCode,
  programs: manifest.programs satisfies readonly PrebuiltProgram[],
  hexTexts: byName(programs),
};
