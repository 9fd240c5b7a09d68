// The firmware's templates and the WebAssembly player for tests, and shorthands that go from a project to what is compared.
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { examine, type FirmwareTemplates } from '../../src/board/index.ts';
import { sha256 } from '../../src/cli/earlier-export.ts';
import { readSheetWriter, readTemplates } from '../../src/cli/templates.ts';
import { Player } from '../../src/lampshow/index.ts';
import { type Project, problemLine, readProject } from '../../src/project/index.ts';
import { type ExportTools, planExport } from '../../src/workshop/index.ts';

export const root = resolve(import.meta.dirname, '../..');
export const templates: FirmwareTemplates = readTemplates(root);
export const exportTools: ExportTools = { sha256, writeSheet: await readSheetWriter(root) };
export const loadPlayer = (): Promise<Player> =>
  Player.load(readFileSync(`${root}/firmware-templates/prebuilt/player.wasm`));

export const samples = ['midnight-carnival', 'first-light', 'deep-sea'] as const;
export type Sample = (typeof samples)[number];

export const sampleText = (name: Sample): string =>
  readFileSync(`${root}/samples/${name}.lamploom.json`, 'utf8');

export function sample(name: Sample): Project {
  const result = readProject(sampleText(name));
  if (!result.ok) throw new Error(result.problems.map(problemLine).join('\n'));
  return result.value;
}

/** The files of an export as texts, by path. */
export function exportedTexts(project: Project, start?: string): Map<string, string> {
  const { files } = planExport(project, templates, exportTools, start === undefined ? {} : { start });
  return new Map([...files].map(([path, bytes]) => [path, new TextDecoder().decode(bytes)]));
}

/** The text of the only exported file with this ending. */
export function exportedText(project: Project, ending: string, start?: string): string {
  const found = [...exportedTexts(project, start)].filter(([path]) => path.endsWith(ending));
  if (found.length !== 1) throw new Error(`${found.length} exported files end in ${ending}`);
  return found[0]![1];
}

export { examine };
