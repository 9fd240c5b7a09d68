// Thinner wires for a plan: each feed gets the thinnest with which the whole plan still keeps every rule. All feeds go down step by step together, so that
// none eats up the volts of the others. Not here: which wires there are (plan-feeds.ts).
import { type CheckedPlan, checkPlan, roomForPlan } from './plan-check.ts';
import type { PlanModel, PlanPlace } from './plan-problem.ts';

/** What a place's wire may be, the plan's own first, then thinner ones. */
export type WireChoice = Pick<PlanPlace, 'wireOhms' | 'ratingAmps'>;

export interface ThinnedPlan {
  readonly plan: CheckedPlan;
  /** By place: index of its wire among its choices; 0 for places without a feed. */
  readonly choices: readonly number[];
}

const withWires = (
  model: PlanModel,
  wires: readonly (readonly WireChoice[])[],
  choices: readonly number[],
): PlanModel => ({
  ...model,
  problem: {
    ...model.problem,
    places: model.problem.places.map((place, index) => ({ ...place, ...wires[index]![choices[index]!]! })),
  },
});

/**
 * @param model what other paths rely on stands in it: what fuses may come to as boardAmps, what wires must bear as crossingAmps
 * @param wires by place, at least the plan's own; kept feeds have no other
 */
export function thinWires(
  model: PlanModel,
  plan: CheckedPlan,
  wires: readonly (readonly WireChoice[])[],
): ThinnedPlan {
  const choices = model.problem.places.map(() => 0);
  const fed = plan.zones.flatMap((zone) => zone.places);
  const room = roomForPlan(model);
  let best = plan;
  /** Whether the plan holds with another wire there; takes it over if so. */
  const take = (place: number, choice: number): boolean => {
    if (wires[place]![choice] === undefined) return false;
    const before = choices[place]!;
    choices[place] = choice;
    const thinner = checkPlan(withWires(model, wires, choices), plan.zones, room);
    if (thinner) best = thinner;
    else choices[place] = before;
    return thinner !== undefined;
  };
  let open = fed;
  while (open.length > 0) open = open.filter((place) => take(place, choices[place]! + 1));
  // A thinner wire takes less of the load, so a step may fail and a longer one hold, or hold once another feed's wire is thinner.
  let isOpen = true;
  while (isOpen) {
    isOpen = false;
    for (const place of fed)
      for (let choice = wires[place]!.length - 1; choice > choices[place]!; choice--)
        if (take(place, choice)) isOpen = true;
  }
  return { plan: best, choices };
}
