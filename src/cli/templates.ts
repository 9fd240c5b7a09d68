// Reads the firmware's parts from the project's own folder.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FirmwareTemplates, PrebuiltProgram } from '../board/index.ts';

/** `root` is the folder that holds firmware-templates. */
export function readTemplates(root: string): FirmwareTemplates {
  const text = (...path: string[]) => readFileSync(join(root, 'firmware-templates', ...path), 'utf8');
  const manifest = JSON.parse(text('prebuilt', 'manifest.json')) as {
    readonly programs: readonly PrebuiltProgram[];
  };
  const headers = readdirSync(join(root, 'firmware-templates', 'player'))
    .filter((name) => name.endsWith('.h'))
    .sort();
  return {
    headers: new Map(headers.map((name) => [name, text('player', name)])),
    sketch: text('sketch', 'sketch.ino'),
    ownCode: text('sketch', 'own-code.h'),
    programs: manifest.programs,
    hexTexts: new Map(manifest.programs.map(({ file }) => [file, text('prebuilt', file)])),
  };
}

export const readPlayerWasm = (root: string): Buffer =>
  readFileSync(join(root, 'firmware-templates', 'prebuilt', 'player.wasm'));
