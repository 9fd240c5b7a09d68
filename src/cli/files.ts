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
  realpathSync,
  renameSync,
  rmdirSync,
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

/** Runs work on the file system; an error of the system becomes a problem, any other is our own fault. */
function onDisk<T>(path: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof UnusableInput || codeOf(error) === '') throw error;
    return unusable(writeProblem(path, error));
  }
}

/** What a path really names: links followed, whether or not it exists yet. */
export function realTarget(path: string): string {
  const target = resolve(path);
  return existsSync(target) ? realpathSync(target) : target;
}

/** Removes a file or folder of ours if it is there; where it never could be (its parent is no folder), there is nothing to remove. */
function removeOwn(path: string): void {
  if (existsSync(path)) rmSync(path, { recursive: true, force: true });
}

/** Makes a folder and those above it. Node's own recursive mode never ends where the system denies having a folder (such as /proc). */
function makeFolders(folder: string): void {
  if (existsSync(folder)) return;
  if (dirname(folder) !== folder) makeFolders(dirname(folder));
  mkdirSync(folder);
}

function writeChunks(path: string, flags: 'wx' | 'w', chunks: Iterable<Uint8Array>): void {
  const file = openSync(path, flags);
  try {
    for (const chunk of chunks) writeFileSync(file, chunk);
    if (flags === 'wx') fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** A file to be written. */
export interface NewFile {
  readonly path: string;
  readonly chunks: Iterable<Uint8Array>;
}

/**
 * Writes chunks to files that appear, complete, at the end: all of them, or none if one can't be written. What is no ordinary file, such as a
 * pipe or a device, is written to as it is, last.
 */
export function writeFilesWhole(files: readonly NewFile[]): void {
  const staged: { readonly own: string; readonly target: string }[] = [];
  const streams: { readonly target: string; readonly chunks: Iterable<Uint8Array> }[] = [];
  try {
    for (const { path, chunks } of files)
      onDisk(path, () => {
        const target = realTarget(path);
        if (existsSync(target) && !statSync(target).isFile()) {
          streams.push({ target, chunks });
          return;
        }
        const own = besides(target, 'writing');
        staged.push({ own, target });
        writeChunks(own, 'wx', chunks);
      });
    for (const { target, chunks } of streams) onDisk(target, () => writeChunks(target, 'w', chunks));
    for (const { own, target } of staged) onDisk(target, () => renameSync(own, target));
  } finally {
    for (const { own } of staged) removeOwn(own);
  }
}

export const writeFileWhole = (path: string, chunks: Iterable<Uint8Array>): void =>
  writeFilesWhole([{ path, chunks }]);

/** All files below a folder, with forward slashes. */
export function filesBelow(folder: string, prefix = ''): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((item) => {
    const path = prefix === '' ? item.name : `${prefix}/${item.name}`;
    return item.isDirectory() ? filesBelow(join(folder, item.name), path) : [path];
  });
}

/** Removes these files and the folders that they leave empty. Anything else that is there stays, and the folder with it. */
function removeFiles(folder: string, files: readonly string[]): void {
  for (const file of files) rmSync(join(folder, file), { force: true });
  const folders = new Set(
    files.flatMap((file) => file.split('/').map((_, i, parts) => parts.slice(0, i).join('/'))),
  );
  for (const inner of [...folders].sort((a, b) => b.length - a.length)) {
    try {
      rmdirSync(join(folder, inner));
    } catch (error) {
      if (codeOf(error) !== 'ENOTEMPTY' && codeOf(error) !== 'ENOENT') throw error;
    }
  }
}

/**
 * Writes a folder beside the target and puts it in place by renaming: all of it or nothing.
 * `replaced` lists every file of the earlier export that stands there, if one does; nothing else is ever moved or removed. Killed between the two
 * renames there is no folder, and the next call brings the earlier one back (restoreLeftover).
 * @param target as realTarget gives it
 */
export function writeFolderWhole(
  target: string,
  files: ReadonlyMap<string, Uint8Array>,
  replaced: readonly string[] | undefined,
): void {
  onDisk(target, () => {
    const own = besides(target, 'writing');
    const aside = besides(target, 'replaced');
    try {
      for (const [name, bytes] of files) {
        makeFolders(dirname(join(own, name)));
        writeFileSync(join(own, name), bytes, { flush: true });
      }
      if (replaced) renameSync(target, aside);
      // Fails where anything but an empty folder has come to stand there meanwhile.
      renameSync(own, target);
      if (replaced) removeFiles(aside, replaced);
    } finally {
      removeOwn(own);
    }
  });
}

/** Puts back an earlier export that a killed call had moved aside, and clears what killed calls left half written. */
export function restoreLeftover(target: string): void {
  const parent = dirname(target);
  if (!existsSync(parent) || !statSync(parent).isDirectory()) return;
  const leftovers = readdirSync(parent).filter(
    (name) => name.startsWith(`.${basename(target)}.`) && isOrphan(name),
  );
  for (const name of leftovers) {
    const leftover = join(parent, name);
    // What was moved aside was looked through before, and is superseded if its successor stands.
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
