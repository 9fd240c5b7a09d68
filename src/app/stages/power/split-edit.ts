// Zones spread over several supplies, as one edit and in words. Pure. Not here: how they are spread (src/power/supply-choice.ts).
import { inSequence } from '../../../panel/index.ts';
import { ampsFigure, type NoSplit, type SupplySplit } from '../../../power/index.ts';
import {
  addSupply,
  changeFeed,
  changeFurtherSupply,
  type Edit,
  type Project,
  removeFurtherSupply,
  setSupply,
} from '../../../project/index.ts';

/** Supplies that are left over go, new ones come, and each feed gets its own. */
export function splitEdit({ power }: Project, split: SupplySplit): Edit {
  const before = power.moreSupplies ?? [];
  const isThere = (id: string) => before.some((one) => one.id === id);
  const stays = (id: string) => split.moreSupplies.some((one) => one.id === id);
  return inSequence([
    setSupply({ amps: split.sizeAmps }),
    ...before.filter(({ id }) => !stays(id)).map(({ id }) => removeFurtherSupply(id)),
    ...split.moreSupplies.map((one) =>
      isThere(one.id) ? changeFurtherSupply(one.id, { amps: one.amps }) : addSupply(one),
    ),
    ...split.feedSupplies.map((supply, feed) => changeFeed(feed, { supply })),
  ]);
}

/** "zones 1, 2 and 5", "zones 1 to 40". */
export function zonesInWords(zones: readonly number[]): string {
  if (zones.length === 0) return 'no zone';
  const stretches: [number, number][] = [];
  for (const zone of zones) {
    const last = stretches.at(-1);
    if (last && zone === last[1] + 1) last[1] = zone;
    else stretches.push([zone, zone]);
  }
  const parts = stretches.flatMap(([from, to]) => {
    if (to === from) return [`${from + 1}`];
    return to === from + 1 ? [`${from + 1}`, `${to + 1}`] : [`${from + 1} to ${to + 1}`];
  });
  const listed = parts.length === 1 ? parts[0] : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
  return `${zones.length === 1 ? 'zone' : 'zones'} ${listed}`;
}

/** Why no number of supplies of that size will do, and what would. */
export function whyNoSplit(none: NoSplit, sizeAmps: number): string {
  if (none.reason === 'too-many-supplies')
    return `${none.supplyCount} of ${sizeAmps} A are more than a project holds. Take a larger size.`;
  return none.zones.length === 0
    ? `${sizeAmps} A are too few for the board.`
    : `${sizeAmps} A are too few for ${zonesInWords(none.zones)}. Take a larger size, or divide by cut + jumpers.`;
}

/**
 * "Supply 1: zones 1 and 2 and the board, 5.20 A."
 * @param hasBoard whether the board hangs on the first supply
 */
export const splitInWords = ({ supplies }: SupplySplit, hasBoard: boolean): string[] =>
  supplies.map(
    ({ zones, loadAmps }, index) =>
      `Supply ${index + 1}: ${zonesInWords(zones)}${index === 0 && hasBoard ? ' and the board' : ''}, ${ampsFigure(loadAmps)} A.`,
  );
