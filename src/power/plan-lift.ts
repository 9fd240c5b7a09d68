// Plans where a data line hangs on several supplies whose grounds are joined by a wire. What the line's ground rails carry from one supply's LEDs to the other
// comes back by that wire, and lifts the other supply's terminals by a few millivolts. Planning takes all grounds as one, so such a plan is solved once
// more as a whole, and what LEDs lack then is asked for on top. Not here: that solution (panel-solve.ts), the lift itself (supply-grounds.ts).
import { plugAmps } from '../catalogue/index.ts';
import { layOut } from '../panel/index.ts';
import { applyFeedPlan, type FeedPlanEdit, type Project } from '../project/index.ts';
import { assessPower, type PowerAssessment } from './assessment.ts';
import type { ProjectPath } from './plan-paths.ts';
import type { PlanProblem } from './plan-problem.ts';
import { railAmps } from './rail-ratings.ts';
import { along, injectionPoints, settled } from './sizing.ts';

/** Whether a path joins grounds that a wire joins as well. */
export const isLifted = ({ supplies }: ProjectPath): boolean =>
  new Set(supplies.map(({ id }) => id)).size > 1 && supplies.some(({ groundOhms }) => groundOhms > 0);

/** No plan has fewer feeds, whatever its volts: one for each part between + joints that are cut, and all kept ones. */
export function surelyNeeded({ joints, places }: Pick<PlanProblem, 'joints' | 'places'>): number {
  const kept = places.filter(({ isKept }) => isKept).map(({ led }) => led);
  let needed = 0;
  let first = 0;
  for (let led = 0; led <= joints.length; led++) {
    if (led < joints.length && joints[led]!.plus !== 'cut') continue;
    const [from, to] = [first, led];
    needed += Math.max(1, kept.filter((one) => one >= from && one <= to).length);
    first = led + 1;
  }
  return needed;
}

/** Whether ground carries what it then does: wires, plugs, rails, jumpers, and the LEDs where feeds enter. */
function groundHolds({ panel, worst, feedSizes }: PowerAssessment): boolean {
  const amps = (link: number | undefined): number => settled(Math.abs(along(worst.linkAmps, link)));
  return (
    feedSizes.every(
      ({ mostAmps, conductors: { wire, plug } }) => mostAmps <= Math.min(wire.designAmps, plugAmps(plug)),
    ) &&
    injectionPoints(panel, feedSizes).every((point) => point.amps <= point.limitAmps) &&
    panel.segments.every(({ ground, fromLed }) => amps(ground) <= railAmps(panel.leds[fromLed]!.strip)) &&
    panel.jumpers.every(({ ground, wire }) => amps(ground) <= wire.designAmps)
  );
}

export interface LiftedPath {
  readonly lowestVolts: number;
  /** The most that an LED lacks; 0 or below where none does. */
  readonly missingVolts: number;
}

/** By path, what its LEDs get once the plan is done, cold or hot; undefined where ground carries too much. */
export function solvedPaths(
  project: Project,
  paths: readonly ProjectPath[],
  plan: FeedPlanEdit,
): readonly LiftedPath[] | undefined {
  const planned = structuredClone(project);
  applyFeedPlan(plan)(planned);
  const assessment = assessPower(planned, layOut(planned));
  if (!groundHolds(assessment)) return undefined;
  const { panel, worst, hot } = assessment;
  const indexOf = new Map(panel.leds.map(({ run, led }, index) => [`${led} ${run}`, index]));
  return paths.map(({ leds, problem }) => {
    const volts = leds.map(({ run, led }) => {
      const index = indexOf.get(`${led} ${run}`)!;
      return Math.min(worst.ledVolts[index]!, hot.worst.ledVolts[index]!);
    });
    return {
      lowestVolts: Math.min(...volts),
      missingVolts: Math.max(...volts.map((one, led) => problem.leastVolts[led]! - one)),
    };
  });
}
