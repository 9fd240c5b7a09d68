// What crosses to the worker that plays all shows for their power, and what comes back. Pure.
import {
  type CompiledProject,
  limiterLossesOf,
  type PowerPlays,
  powerPlaysOf,
  type ShowLoss,
} from '../../board/index.ts';
import type { Player, ShowData } from '../../lampshow/index.ts';
import { assessPower, showLoad, type TimedShowLoad } from '../../power/index.ts';
import { framesOfShow } from '../playback/frames.ts';
import type { WorkerWord } from './use-worker-answer.ts';

/** The parts that playing reads, without the artwork. */
type Played = Pick<CompiledProject, 'project' | 'layout' | 'frameMs'>;

export type PowerTask =
  /** What shows and events draw. */
  | { readonly kind: 'loads'; readonly compiled: Played; readonly showData: ShowData }
  /** What shows lose by a limit. */
  | { readonly kind: 'losses'; readonly compiled: Played; readonly limitAmps: number };

function withoutPictures({ project, layout, frameMs }: CompiledProject): Played {
  const { artwork: _, opacity: __, ...panel } = project.panel;
  return { project: { ...project, panel }, layout, frameMs };
}

/** Undefined where shows are too large for any player, or nothing can be lit. */
export const loadsTask = (compiled: CompiledProject): PowerTask | undefined =>
  compiled.showData && compiled.layout.wireLeds.length > 0
    ? { kind: 'loads', compiled: withoutPictures(compiled), showData: compiled.showData }
    : undefined;

/** The same. */
export const lossesTask = (compiled: CompiledProject, limitAmps: number): PowerTask | undefined =>
  compiled.showData && compiled.layout.wireLeds.length > 0
    ? { kind: 'losses', compiled: withoutPictures(compiled), limitAmps }
    : undefined;

export interface ShowFigures extends TimedShowLoad {
  readonly lampshow: string;
}

export interface LoadsAnswer {
  /** In the project's order; the same figures as the command line's `power --show`. */
  readonly shows: readonly ShowFigures[];
  /** The worst that events were found to make. */
  readonly plays: PowerPlays;
}

/** How much is played, 0 to 1; shows by themselves are taken as half of it. */
export type PowerProgress = number;

export function* loadsOf(
  { compiled, showData }: Extract<PowerTask, { kind: 'loads' }>,
  player: Player,
): Generator<PowerProgress, LoadsAnswer, undefined> {
  const { project, layout, frameMs } = compiled;
  player.setShowData(showData);
  const { panel } = assessPower(project, layout);
  const shows: ShowFigures[] = [];
  for (const show of project.lampshows) {
    const frames = function* (): Generator<Uint8Array> {
      const count = framesOfShow(show, frameMs);
      for (let frame = 0; frame < count; frame++) yield player.frame(show.id, frame);
    };
    const load = showLoad(panel, frames(), frameMs);
    if (load) shows.push({ lampshow: show.id, ...load });
    yield shows.length / project.lampshows.length / 2;
  }
  const work = powerPlaysOf(compiled, player);
  for (;;) {
    const step = work.next();
    if (step.done) return { shows, plays: step.value };
    const { doneCount, playCount } = step.value;
    yield 0.5 + doneCount / Math.max(1, playCount) / 2;
  }
}

/** Steps in which it is told how far the work is. */
const leastStep = 0.01;

/** @param tell hears what is to be posted */
export function runPowerTask(
  task: PowerTask,
  player: Player,
  tell: (word: WorkerWord<LoadsAnswer | readonly ShowLoss[], PowerProgress>) => void,
): void {
  if (task.kind === 'losses') {
    const losses: ShowLoss[] = [];
    for (const loss of limiterLossesOf(task.compiled, player, task.limitAmps)) {
      losses.push(loss);
      tell({ progress: losses.length / task.compiled.project.lampshows.length });
    }
    tell({ answer: losses });
    return;
  }
  const work = loadsOf(task, player);
  let told = 0;
  for (;;) {
    const step = work.next();
    if (step.done) {
      tell({ answer: step.value });
      return;
    }
    if (step.value < told + leastStep) continue;
    told = step.value;
    tell({ progress: told });
  }
}
