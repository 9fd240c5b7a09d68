// Reads the firmware's parts from the project's own folder, and the build sheet's fonts from the libraries'.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FirmwareTemplates, PrebuiltProgram } from '../board/index.ts';
import type { SheetFonts, WriteSheet } from '../workshop/build-sheet-pdf.ts';

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

/** `root` is the folder that holds node_modules. */
function readSheetFonts(root: string): SheetFonts {
  const font = (name: string) => readFileSync(join(root, 'node_modules', 'dejavu-fonts-ttf', 'ttf', name));
  return { regular: font('DejaVuSansCondensed.ttf'), bold: font('DejaVuSansCondensed-Bold.ttf') };
}

/** The library behind it is started here, by the one command that needs it. */
export async function readSheetWriter(root: string): Promise<WriteSheet> {
  const { sheetWriter } = await import('../workshop/build-sheet-pdf.ts');
  return sheetWriter(readSheetFonts(root));
}
