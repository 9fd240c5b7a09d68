// Files of the command line: reading a project, and writing a file or a whole folder so that it is there complete or not at all.
import { randomBytes } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { type Problem, type Project, readProject, sizeProblem } from '../project/index.ts';
import { UnusableInput, unusable } from './console.ts';

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : '';

function fileProblem(path: string, error: unknown): Problem {
  const code = codeOf(error);
  const found =
    code === 'ENOENT'
      ? 'no such file'
      : code === 'EISDIR'
        ? 'a folder'
        : `a file that can't be read (${code})`;
  return {
    code: 'unreadable-file',
    at: path,
    expected: 'a readable project file',
    found,
    mend: 'Check the path.',
  };
}

/** Reads a project, or ends with every problem in it. */
export function loadProject(path: string): Project {
  let text: string;
  try {
    const stats = statSync(path);
    const tooLarge = stats.isFile() ? sizeProblem(stats.size) : undefined;
    if (tooLarge) return unusable(tooLarge);
    text = new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path));
  } catch (error) {
    if (error instanceof UnusableInput) throw error;
    if (error instanceof TypeError)
      return unusable({
        code: 'not-utf8',
        at: path,
        expected: 'UTF-8 text',
        found: 'bytes that are not UTF-8',
        mend: 'Open a .lamploom.json file.',
      });
    return unusable(fileProblem(path, error));
  }
  const result = readProject(text);
  if (!result.ok) throw new UnusableInput(result.problems);
  return result.value;
}

/** A name beside the target that no other call uses. */
const besides = (target: string, what: string): string =>
  join(dirname(target), `.${basename(target)}.${what}-${process.pid}-${randomBytes(4).toString('hex')}`);

function writeProblem(path: string, error: unknown): Problem {
  return {
    code: 'unwritable',
    at: path,
    expected: 'a place that can be written to',
    found: `an error (${codeOf(error)})`,
    mend: 'Choose another place.',
  };
}

/** Makes a folder and those above it. Node's own recursive mode never ends where the system denies having a folder (such as /proc). */
function makeFolders(folder: string): void {
  if (existsSync(folder)) return;
  if (dirname(folder) !== folder) makeFolders(dirname(folder));
  mkdirSync(folder);
}

/** Writes chunks to a file that appears, complete, at the end. */
export function writeFileWhole(path: string, chunks: Iterable<Uint8Array>): void {
  const target = resolve(path);
  const own = besides(target, 'writing');
  try {
    const file = openSync(own, 'wx');
    try {
      for (const chunk of chunks) writeFileSync(file, chunk);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(own, target);
  } catch (error) {
    if (codeOf(error) === '') throw error;
    unusable(writeProblem(path, error));
  } finally {
    rmSync(own, { force: true });
  }
}

/** All files below a folder, with forward slashes. */
export function filesBelow(folder: string, prefix = ''): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((item) => {
    const path = prefix === '' ? item.name : `${prefix}/${item.name}`;
    return item.isDirectory() ? filesBelow(join(folder, item.name), path) : [path];
  });
}

/**
 * Writes a folder beside the target and puts it in place by renaming. Killed before the rename, the target is what it was; an earlier folder
 * is moved aside first, so that killed between the two renames there is none, and the next call brings it back (see restoreLeftover).
 */
export function writeFolderWhole(path: string, files: ReadonlyMap<string, Uint8Array>): void {
  const target = resolve(path);
  const own = besides(target, 'writing');
  const aside = besides(target, 'replaced');
  try {
    for (const [name, bytes] of files) {
      makeFolders(dirname(join(own, name)));
      writeFileSync(join(own, name), bytes, { flush: true });
    }
    if (existsSync(target) && readdirSync(target).length > 0) renameSync(target, aside);
    renameSync(own, target);
    rmSync(aside, { recursive: true, force: true });
  } catch (error) {
    if (codeOf(error) === '') throw error;
    unusable(writeProblem(path, error));
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
}

/** Puts back an earlier export that a killed call had moved aside, and clears what killed calls left half written. */
export function restoreLeftover(path: string): void {
  const target = resolve(path);
  const parent = dirname(target);
  if (!existsSync(parent)) return;
  const leftovers = readdirSync(parent).filter(
    (name) => name.startsWith(`.${basename(target)}.`) && isOrphan(name),
  );
  for (const name of leftovers) {
    const leftover = join(parent, name);
    if (name.includes('.replaced-') && !existsSync(target)) renameSync(leftover, target);
    else rmSync(leftover, { recursive: true, force: true });
  }
}

/** Whether the call that made this name is gone. */
function isOrphan(name: string): boolean {
  const owner = /\.(?:writing|replaced)-(\d+)-[0-9a-f]{8}$/.exec(name)?.[1];
  if (owner === undefined) return false;
  try {
    process.kill(Number(owner), 0);
    return false;
  } catch (error) {
    return codeOf(error) === 'ESRCH';
  }
}
