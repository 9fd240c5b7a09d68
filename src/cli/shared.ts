// What several commands share: their surroundings, the player, and exit statuses that follow from a project's findings.
// Not here: options (options.ts), files (files.ts).
import { type Examination, hasErrors } from '../board/index.ts';
import { Player } from '../lampshow/index.ts';
import { findingLine } from '../project/index.ts';
import { type Console, type ExitStatus, exitStatus } from './console.ts';
import { readPlayerWasm } from './templates.ts';

export interface Context {
  readonly console: Console;
  /** Folder that holds firmware-templates. */
  readonly root: string;
}

export const statusOf = (examination: Examination): ExitStatus =>
  hasErrors(examination.findings) ? exitStatus.projectHasErrors : exitStatus.done;

/** The player with the project's shows, or undefined where they are too large for any player; then nothing can be rendered. */
export async function playerFor(examination: Examination, root: string): Promise<Player | undefined> {
  if (!examination.showData) return undefined;
  const player = await Player.load(new Uint8Array(readPlayerWasm(root)));
  player.setShowData(examination.showData);
  return player;
}

/** The last frame whose time the player can count: 32-bit milliseconds. */
export const lastFrameOf = (frameMs: number): number => Math.floor((2 ** 32 - 1) / frameMs);

/** Tells why nothing can be rendered. */
export function tooLarge({ console }: Context, examination: Examination): ExitStatus {
  for (const finding of examination.findings)
    if (finding.severity === 'error') console.complain(findingLine(finding));
  return exitStatus.projectHasErrors;
}
