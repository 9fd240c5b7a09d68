// What stands where an export should go: nothing, an earlier export, or something that must not be touched.
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { ownCodeName, reportPath } from '../board/index.ts';
import { unusable } from './console.ts';
import { filesBelow, restoreLeftover } from './files.ts';

export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

interface ListedFile {
  readonly path: string;
  readonly sha256: string;
}

/** The files that an earlier report lists, or undefined if there is no such report. */
function listedFiles(folder: string): ListedFile[] | undefined {
  try {
    const report = JSON.parse(readFileSync(join(folder, reportPath), 'utf8')) as {
      readonly files?: unknown;
      readonly board?: unknown;
    };
    return Array.isArray(report.files) && typeof report.board === 'string'
      ? (report.files as ListedFile[])
      : undefined;
  } catch {
    return undefined;
  }
}

const refuse = (at: string, found: string, mend: string): never =>
  unusable({
    code: 'not-an-export',
    at,
    expected: 'no folder, an empty one, or an earlier export',
    found,
    mend,
  });

export interface EarlierExport {
  /** Every file that stands there. */
  readonly files: readonly string[];
  /** The builder's own code, if it is there. */
  readonly ownCode: Uint8Array | undefined;
}

/**
 * Looks at the target (as realTarget gives it). Returns the earlier export that stands there, or undefined where there is nothing. Ends with a problem
 * if anything else is there, or if a file that Lamploom wrote was changed: it would be lost.
 */
export function inspectTarget(folder: string): EarlierExport | undefined {
  restoreLeftover(folder);
  if (!existsSync(folder)) return undefined;
  if (!statSync(folder).isDirectory())
    return refuse(folder, 'something that is no folder', 'Choose another folder.');
  if (readdirSync(folder).length === 0) return undefined;
  // Before anything else is looked at: the folder may be anything, even the root of all.
  const listed = listedFiles(folder);
  if (!listed) return refuse(folder, 'files that no export wrote', 'Choose another folder.');
  const files = filesBelow(folder);
  const hashes = new Map(listed.map((file) => [file.path, file.sha256]));
  let ownCode: Uint8Array | undefined;
  for (const path of files) {
    const bytes = readFileSync(join(folder, path));
    if (path.startsWith('sketch/') && path.endsWith(ownCodeName)) ownCode = bytes;
    else if (path !== reportPath && hashes.get(path) !== sha256(bytes)) {
      const what = hashes.has(path)
        ? `"${path}", changed since the export`
        : `"${path}", which no export wrote`;
      return refuse(
        folder,
        what,
        'Move that file away (own code belongs into own-code.h), or choose another folder.',
      );
    }
  }
  return { files, ownCode };
}
