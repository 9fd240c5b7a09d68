// What crosses to the worker that looks for flashes, and what comes back. Pure.
import { type CompiledProject, type FlashFound, flashesOf } from '../../board/index.ts';
import type { Player, ShowData } from '../../lampshow/index.ts';

export interface FlashTask {
  /** The parts that the analysis reads, without the artwork. */
  readonly compiled: Pick<CompiledProject, 'project' | 'layout' | 'frameMs'>;
  readonly showData: ShowData;
  readonly distanceMm: number;
}

export function flashTask(
  { project, layout, frameMs, showData }: CompiledProject,
  distanceMm: number,
): FlashTask | undefined {
  if (!showData) return undefined;
  // Megabytes of pictures that no flash depends on.
  const { artwork: _, opacity: __, ...panel } = project.panel;
  return { compiled: { project: { ...project, panel }, layout, frameMs }, showData, distanceMm };
}

/** Runs a task to its end. */
export function flashesFound({ compiled, showData, distanceMm }: FlashTask, player: Player): FlashFound[] {
  player.setShowData(showData);
  const work = flashesOf(compiled, player, distanceMm);
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}
