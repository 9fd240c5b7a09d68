// What each lampshow of a project loses by a current limit: how often the limiter would act, and how far. Every show is played without limit, and the
// limiter's rule looks at each frame. Not here: the rule (src/power/limiter-loss.ts), which limit a supply carries (src/power/owned-supply.ts).
import { compileShowData, limiterFigures, type Player, predictSpeed, roomSteps } from '../lampshow/index.ts';
import { type LimiterLoss, limiterLoss } from '../power/index.ts';
import { limits, type Project } from '../project/index.ts';
import type { CompiledProject } from './compile.ts';

export interface ShowLoss extends LimiterLoss {
  readonly lampshow: string;
  /** Time between two frames, with the limiter's own work counted, ms. */
  readonly frameMs: number;
}

/** The project as it plays with nothing taken away from its levels behind gamma and white balance. */
function atFullLevel(project: Project): Project {
  const { limitAmps: _, ...power } = project.power;
  const { inputs } = project;
  return {
    ...project,
    power,
    output: { ...project.output, brightnessPercent: 100 },
    ...(inputs ? { inputs: { ...inputs, roomPercents: [100, 100, 100] } } : {}),
  };
}

/**
 * A show at each step, in the project's order; at the project's brightness and the brightest room step. Puts show data of its own into the player: whoever
 * plays with it afterwards sets theirs again, and nobody else may use it until the end. No step where the show data would be too large.
 * @param limitAmps > 0; the document's own limit doesn't matter
 */
export function* limiterLossesOf(
  { project, layout }: Pick<CompiledProject, 'project' | 'layout'>,
  player: Player,
  limitAmps: number,
): Generator<ShowLoss, void, undefined> {
  const limited: Project = { ...project, power: { ...project.power, limitAmps } };
  const frameMs = Math.min(predictSpeed(limited, layout).frameMs, limits.frameMs);
  const full = atFullLevel(project);
  const showData = compileShowData(full, layout, { frameMs });
  if (!showData) return;
  player.setShowData(showData);
  const figures = limiterFigures(limited, layout, roomSteps(project));
  for (const { id, lengthMs } of project.lampshows) {
    const frames = function* (): Generator<Uint8Array> {
      for (let frame = 0; frame * frameMs < lengthMs; frame++) yield player.frame(id, frame);
    };
    yield { lampshow: id, frameMs, ...limiterLoss(figures, frames()) };
  }
}
