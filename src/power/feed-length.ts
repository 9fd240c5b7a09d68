// How much wire a feed takes: from its supply, behind the backing, to its LED. Not here: where feeds should enter (plan-feeds.ts).
import { jumperClearanceMm, jumperRoute, type Layout, type PointMm, routeLengthMm } from '../panel/index.ts';
import type { Project } from '../project/index.ts';

/** Bends, both ends and a way that is never quite straight (common practice, no source). */
const slackShare = 0.1;
const slackMm = 100;
/** Nobody cuts wire more exactly. */
const stepMm = 10;

/** Where a supply sits: as the document says, else below the middle of the panel, where most cabinets have room. */
export function supplyPlace(
  { panel, power }: Pick<Project, 'panel' | 'power'>,
  supply: string | undefined,
): PointMm {
  const known = supply === undefined ? power.supply : power.moreSupplies?.find(({ id }) => id === supply);
  return known?.place ?? { xMm: panel.widthMm / 2, yMm: panel.heightMm };
}

/**
 * One way, mm, in steps of 10: the shortest way, round the keep-outs where the panel has a backing, with slack.
 * @param supply id of a further supply; undefined: the first one
 */
export function feedLengthMm(
  project: Pick<Project, 'panel' | 'power'>,
  layout: Layout,
  place: { readonly run: string; readonly led: number },
  supply?: string,
): number {
  const from = supplyPlace(project, supply);
  const led = layout.runs.find(({ run }) => run.id === place.run)?.leds[place.led];
  if (!led) throw new Error(`no LED ${place.led} of run "${place.run}"`);
  const { backing, keepOuts = [] } = project.panel;
  const wayMm = routeLengthMm(jumperRoute(from, led, backing ? keepOuts : [], jumperClearanceMm));
  return stepMm * Math.ceil((wayMm * (1 + slackShare) + slackMm) / stepMm);
}
