// The flash analysis for the command line: everything that the project can play, seen from the usual distance. It takes seconds, and a script asks for the
// same project again and again, so the answer is kept beside the command line's own bundle, under a name made from all that it follows from.
import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Examination, type FlashFound, flashesOf, flashFindings } from '../board/index.ts';
import type { Finding, Project } from '../project/index.ts';
import { sha256 } from './earlier-export.ts';
import { playerFor } from './shared.ts';
import { readPlayerWasm } from './templates.ts';

/** Findings about flashes; undefined where the shows are too large to be played. */
export async function findFlashes(
  project: Project,
  examination: Examination,
  root: string,
): Promise<Finding[] | undefined> {
  const player = await playerFor(examination, root);
  if (!player) return undefined;
  const compiled = { project, ...examination };
  const kept = join(root, '.cache', 'flashes', `${nameFor(project, readPlayerWasm(root))}.json`);
  const known = readKept(kept);
  if (known) return flashFindings(compiled, known);
  const work = flashesOf(compiled, player);
  for (;;) {
    const step = work.next();
    if (!step.done) continue;
    keep(kept, step.value);
    return flashFindings(compiled, step.value);
  }
}

/** The bundle's own place names the state of all sources but the player's. */
const nameFor = (project: Project, wasm: Uint8Array): string =>
  sha256(new TextEncoder().encode(import.meta.url + sha256(wasm) + JSON.stringify(project))).slice(0, 32);

const isFound = (value: unknown): value is FlashFound =>
  typeof value === 'object' &&
  value !== null &&
  typeof (value as Partial<FlashFound>).play?.title === 'string' &&
  Array.isArray((value as Partial<FlashFound>).spans);

function readKept(path: string): FlashFound[] | undefined {
  try {
    const value: unknown = JSON.parse(readFileSync(path, 'utf8'));
    return Array.isArray(value) && value.every(isFound) ? value : undefined;
  } catch {
    return undefined;
  }
}

/** Whole or not at all; where nothing can be written, nothing is kept. */
function keep(path: string, found: readonly FlashFound[]): void {
  const own = `${path}-${randomBytes(6).toString('hex')}`;
  try {
    mkdirSync(join(path, '..'), { recursive: true });
    writeFileSync(own, JSON.stringify(found));
    renameSync(own, path);
  } catch {
    return;
  }
}
