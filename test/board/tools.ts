// Finds and runs the system tools that the board tests need (compilers, emulators), and keeps their folders.
// Not here: what each tool is asked to do. A missing tool is an error that names the Debian package to install.
import { spawn } from 'node:child_process';
import { constants } from 'node:fs';
import { access, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Debian package of each tool. */
const PACKAGE_OF_TOOL = {
  'avr-g++': 'gcc-avr',
  'avr-objcopy': 'binutils-avr',
  'avr-size': 'binutils-avr',
  'arduino-builder': 'arduino-builder',
  'arduino-ctags': 'arduino-ctags',
  gcc: 'gcc',
} as const;
export type ToolName = keyof typeof PACKAGE_OF_TOOL;

export const missingPackageError = (what: string, debianPackage: string): Error =>
  new Error(`${what} was not found. Install it with: apt-get install ${debianPackage}`);

export async function isReadable(path: string): Promise<boolean> {
  return access(path, constants.R_OK).then(
    () => true,
    () => false,
  );
}

/** Full path of a tool on PATH. */
export async function findTool(name: ToolName): Promise<string> {
  for (const folder of (process.env['PATH'] ?? '').split(delimiter)) {
    const path = join(folder, name);
    if (folder !== '' && (await isReadable(path))) return path;
  }
  throw missingPackageError(name, PACKAGE_OF_TOOL[name]);
}

export interface ToolRun {
  readonly exitCode: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a program to its end, in English, so that its messages can be searched. */
export function runProgram(path: string, args: readonly string[], timeoutMs = 300_000): Promise<ToolRun> {
  return new Promise((resolve, reject) => {
    const child = spawn(path, args, {
      env: { ...process.env, LC_ALL: 'C' },
      stdio: ['ignore', 'pipe', 'pipe'],
      timeout: timeoutMs,
      killSignal: 'SIGKILL',
    });
    const stdout: Buffer[] = [];
    const stderr: Buffer[] = [];
    child.stdout.on('data', (chunk: Buffer) => stdout.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => stderr.push(chunk));
    child.on('error', reject);
    child.on('close', (exitCode, signal) => {
      if (signal !== null) {
        reject(new Error(`${path} was ended by ${signal} (limit ${timeoutMs} ms)`));
        return;
      }
      const text = (chunks: Buffer[]) => Buffer.concat(chunks).toString('utf8');
      resolve({ exitCode: exitCode ?? 1, stdout: text(stdout), stderr: text(stderr) });
    });
  });
}

export async function runTool(name: ToolName, args: readonly string[]): Promise<ToolRun> {
  return runProgram(await findTool(name), args);
}

/** Folder that outlives the run: the compiled pin probe and the compiled Arduino core. Shared by parallel test files. */
export async function cacheFolder(): Promise<string> {
  const folder = fileURLToPath(new URL('../../.cache/test/', import.meta.url));
  await mkdir(folder, { recursive: true });
  return folder;
}

/** Gives the work an empty folder of its own and removes it afterwards. */
export async function withTemporaryFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'lamploom-board-'));
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
