// Builds native programs from the player's headers with g++ and runs them: plain, with sanitizers, or with checked integers.
// Not here: what they compute (native.cpp, the *_vectors.cpp). Programs are kept in the cache folder under a name that holds the hash of
// all sources and flags; they are built beside it and renamed into place, so that test files may build the same one at the same time.
import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { cacheFolder, isReadable, missingPackageError, runProgram, type ToolRun } from '../board/tools.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
export const playerFolder = fileURLToPath(new URL('../../firmware-templates/player/', import.meta.url));

const buildFlags = {
  plain: ['-O2'],
  sanitized: ['-O1', '-g', '-fsanitize=undefined,address', '-fno-sanitize-recover=all'],
  checked: ['-O2', '-DLAMPLOOM_CHECKED'],
} as const;
export type NativeBuild = keyof typeof buildFlags;
export const nativeBuilds = Object.keys(buildFlags) as NativeBuild[];

/** gcc does not see that preparing and running an effect choose by the same number; a vector program uses only part of a header. */
const quietFlags = ['-Wno-maybe-uninitialized', '-Wno-unused-function'];

const headersIn = (folder: string): string[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.h'))
    .sort()
    .map((name) => join(folder, name));

async function gxx(args: readonly string[]): Promise<ToolRun> {
  return runProgram('g++', args).catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'ENOENT' ? missingPackageError('g++', 'g++') : error;
  });
}

/** Path of a program of this folder. Warnings are errors unless the source is meant to be faulty. */
export async function nativeProgram(
  source: string,
  build: NativeBuild,
  options: { readonly warningsAllowed?: boolean } = {},
): Promise<string> {
  const sourcePath = join(here, source);
  const flags = [
    '-std=c++11',
    ...(options.warningsAllowed ? ['-w'] : ['-Wall', '-Wextra', '-Werror', ...quietFlags]),
    ...buildFlags[build],
  ];
  const hash = createHash('sha256').update(flags.join(' '));
  for (const file of [sourcePath, ...headersIn(playerFolder), ...headersIn(here)])
    hash.update(readFileSync(file)).update('\0');
  const name = `${basename(source, '.cpp')}-${build}-${hash.digest('hex').slice(0, 16)}`;
  const path = join(await cacheFolder(), name);
  if (await isReadable(path)) return path;
  const ownPath = `${path}.${process.pid}.${Math.random().toString(36).slice(2)}`;
  const run = await gxx([...flags, `-I${playerFolder}`, `-I${here}`, sourcePath, '-o', ownPath]);
  if (run.exitCode !== 0) {
    await rm(ownPath, { force: true });
    throw new Error(`${source} (${build}) does not compile:\n${run.stderr}`);
  }
  await rename(ownPath, path);
  return path;
}

/** Runs a program that takes no input; its output as bytes. */
export function nativeOutput(path: string): Promise<{ bytes: Uint8Array; stderr: string; exitCode: number }> {
  return new Promise((resolve, reject) => {
    const child = spawn(path, [], { stdio: ['ignore', 'pipe', 'pipe'], timeout: 60_000 });
    const out: Buffer[] = [];
    const errors: Buffer[] = [];
    child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => errors.push(chunk));
    child.on('error', reject);
    child.on('close', (code) =>
      resolve({
        bytes: new Uint8Array(Buffer.concat(out)),
        stderr: Buffer.concat(errors).toString('utf8'),
        exitCode: code ?? 1,
      }),
    );
  });
}

export interface NativeFrames {
  /** All frames one after the other. */
  readonly bytes: Uint8Array;
  /** Signed overflows that AVR would have had; always 0 unless the build is checked. */
  readonly overflows: number;
}

export interface NativeData {
  readonly bytes: Uint8Array;
}

export interface NativePerformance {
  /** The show at power-up. */
  readonly show: number;
  /** By frame. */
  readonly events: readonly { readonly frame: number; readonly event: number; readonly value?: number }[];
  readonly frames: readonly number[];
}

const kinds = { framesOfShows: 0, performance: 1, directorOnly: 2 } as const;
/** The value stays as it was. */
const keepsValue = 256;

const performanceWords = ({ show, events, frames }: NativePerformance): number[] => [
  show,
  events.length,
  ...events.flatMap(({ frame, event, value }) => [frame, event, value ?? keepsValue]),
  frames.length,
  ...frames,
];

type Child = ChildProcessByStdio<Writable, Readable, Readable>;

/** A running native.cpp. One process answers any number of requests, one after the other. */
export class NativePlayer {
  readonly #child: Child;
  readonly #ended: Promise<number>;
  #received = Buffer.alloc(0);
  #messages = '';
  #notify: () => void = () => {};
  #exitCode: number | undefined;

  private constructor(child: Child) {
    this.#child = child;
    child.stdout.on('data', (chunk: Buffer) => {
      this.#received = Buffer.concat([this.#received, chunk]);
      this.#notify();
    });
    child.stderr.on('data', (chunk: Buffer) => {
      this.#messages += chunk.toString('utf8');
    });
    // A process that died says why on close; the broken pipe itself tells nothing.
    child.stdin.on('error', () => {});
    this.#ended = new Promise((resolve) =>
      child.on('close', (code) => {
        this.#exitCode = code ?? 1;
        this.#notify();
        resolve(this.#exitCode);
      }),
    );
  }

  static async start(build: NativeBuild): Promise<NativePlayer> {
    const path = await nativeProgram('native.cpp', build);
    return new NativePlayer(spawn(path, [], { stdio: ['pipe', 'pipe', 'pipe'] }));
  }

  /** What it wrote about overflows and sanitizer findings. */
  get messages(): string {
    return this.#messages;
  }

  /** Frames of shows by number. Rejects if the process ends first, with what it wrote. */
  async frames(
    data: NativeData,
    wanted: readonly (readonly [show: number, frame: number])[],
  ): Promise<NativeFrames> {
    return this.#ask(data, [kinds.framesOfShows, wanted.length, ...wanted.flat()], wanted.length);
  }

  /** Frames, ascending, from power-up with a show on, and the events heard until then. */
  async performance(data: NativeData, asked: NativePerformance): Promise<NativeFrames> {
    return this.#ask(data, [kinds.performance, ...performanceWords(asked)], asked.frames.length);
  }

  /** The same, but what the director says: 14 bytes a frame, as native.cpp tells. */
  async director(data: NativeData, asked: NativePerformance): Promise<NativeFrames> {
    return this.#ask(data, [kinds.directorOnly, ...performanceWords(asked)], asked.frames.length);
  }

  /** Ends its input; the exit status. */
  async stop(): Promise<number> {
    this.#child.stdin.end();
    return this.#ended;
  }

  async #ask(data: NativeData, words: readonly number[], count: number): Promise<NativeFrames> {
    this.#child.stdin.write(new Uint8Array(Uint32Array.of(data.bytes.length).buffer));
    this.#child.stdin.write(data.bytes.slice());
    this.#child.stdin.write(new Uint8Array(Uint32Array.from(words).buffer));
    const head = await this.#take(8);
    const answer = await this.#take(head.readUInt32LE(4) * count);
    return { overflows: head.readUInt32LE(0), bytes: new Uint8Array(answer) };
  }

  async #take(count: number): Promise<Buffer> {
    while (this.#received.length < count) {
      if (this.#exitCode !== undefined)
        throw new Error(`the native player ended with status ${this.#exitCode}:\n${this.#messages}`);
      await new Promise<void>((resolve) => {
        this.#notify = resolve;
      });
    }
    const taken = this.#received.subarray(0, count);
    this.#received = this.#received.subarray(count);
    return taken;
  }
}
