// What the builder takes away: the planned export, single files of it, or all of it as one zip. Same project, same bytes.
import { zipSync } from 'fflate';
import type { FirmwareTemplates } from '../../board/index.ts';
import type { Finding, Project } from '../../project/index.ts';
import type { WriteSheet } from '../../workshop/build-sheet-pdf.ts';
import { type ExportPlan, planExport } from '../../workshop/index.ts';

async function sha256(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new Uint8Array(bytes));
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * The browser hashes only in its own time, and the plan wants hashes at once: so it is made twice, first to learn what to hash. The sheet is written
 * once, the same for both.
 */
export async function exportPlan(
  project: Project,
  templates: FirmwareTemplates,
  writeSheet: WriteSheet,
  flashes?: readonly Finding[],
): Promise<ExportPlan> {
  const inputs: Uint8Array[] = [];
  const options = flashes ? { flashes } : {};
  let sheet: Uint8Array | undefined;
  const writeOnce: WriteSheet = (content) => {
    sheet ??= writeSheet(content);
    return sheet;
  };
  const note = (bytes: Uint8Array) => {
    inputs.push(bytes);
    return '';
  };
  planExport(project, templates, { sha256: note, writeSheet: writeOnce }, options);
  const hashes = await Promise.all(inputs.map(sha256));
  let next = 0;
  const hashOfNext = () => hashes[next++]!;
  return planExport(project, templates, { sha256: hashOfNext, writeSheet: writeOnce }, options);
}

/** Zip keeps local time: noon of its first day is that day in every time zone. */
const zipTime = new Date(1980, 0, 1, 12);

export const zipOf = (files: ReadonlyMap<string, Uint8Array>): Uint8Array<ArrayBuffer> =>
  new Uint8Array(zipSync(Object.fromEntries(files), { mtime: zipTime, level: 9 }));

export const mediaTypes: Readonly<Record<string, string>> = {
  svg: 'image/svg+xml',
  csv: 'text/csv',
  json: 'application/json',
  pdf: 'application/pdf',
  hex: 'text/plain',
  ino: 'text/plain',
  h: 'text/plain',
  zip: 'application/zip',
};

export const endingOf = (path: string): string => path.slice(path.lastIndexOf('.') + 1);
export const baseName = (path: string): string => path.slice(path.lastIndexOf('/') + 1);
