// What stands where an export should go: nothing, an earlier export, or something that must not be touched.
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, statSync } from 'node:fs';
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

/**
 * Looks at the target. Returns the builder's own code of an earlier export, if there is one. Ends with a problem if anything else is there,
 * or if a file that Lamploom wrote was changed: it would be lost.
 */
export function inspectTarget(folder: string): Uint8Array | undefined {
  restoreLeftover(folder);
  if (!existsSync(folder)) return undefined;
  if (!statSync(folder).isDirectory()) return refuse(folder, 'a file', 'Choose another folder.');
  const present = filesBelow(folder);
  if (present.length === 0) return undefined;
  const listed = listedFiles(folder);
  if (!listed)
    return refuse(folder, `${present.length} files that no export wrote`, 'Choose another folder.');
  const hashes = new Map(listed.map((file) => [file.path, file.sha256]));
  let ownCode: Uint8Array | undefined;
  for (const path of present) {
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
  return ownCode;
}
