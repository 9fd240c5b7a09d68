// Runs the command line as its own process, the way scripts outside the project do.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { root } from './lamploom.ts';

export interface Outcome {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

const launcher = 'src/cli/launch.mjs';

/** Runs a call from a folder, so that a call that goes wrong has only that folder to spoil. */
export function lamploomIn(folder: string, ...args: readonly string[]): Outcome {
  const { status, stdout, stderr } = spawnSync('node', [join(root, launcher), ...args], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    timeout: 60_000,
  });
  return { status, stdout, stderr };
}

export const lamploom = (...args: readonly string[]): Outcome => lamploomIn(root, ...args);

/** Starts a call in any checkout and hands out the process, so that it can be killed or run beside others. */
export function startLamploom(checkout: string, ...args: readonly string[]) {
  const child = spawn('node', [launcher, ...args], { cwd: checkout, stdio: ['ignore', 'pipe', 'pipe'] });
  let stdout = '';
  let stderr = '';
  child.stdout.on('data', (chunk) => {
    stdout += chunk;
  });
  child.stderr.on('data', (chunk) => {
    stderr += chunk;
  });
  const ended = new Promise<Outcome>((resolve) => {
    child.on('close', (status) => resolve({ status, stdout, stderr }));
  });
  return { child, ended };
}

/** A folder that is gone after the test. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'lamploom-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Writes text to a file in a temporary folder and returns its path. */
export function temporaryFile(text: string | Uint8Array, name = 'project.lamploom.json'): string {
  const path = join(temporaryFolder(), name);
  writeFileSync(path, text);
  return path;
}
