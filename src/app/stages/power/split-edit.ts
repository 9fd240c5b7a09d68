// Zones spread over several supplies, as one edit and in words. Pure. Not here: how they are spread (src/power/supply-choice.ts).
import { inSequence } from '../../../panel/index.ts';
import type { NoSplit, SupplySplit } from '../../../power/index.ts';
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

/** "zones 1, 2 and 5". */
export function zonesInWords(zones: readonly number[]): string {
  const numbers = zones.map((zone) => zone + 1);
  if (numbers.length === 0) return 'no zone';
  if (numbers.length === 1) return `zone ${numbers[0]}`;
  return `zones ${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`;
}

/** Why no number of supplies of that size will do. */
export const whyNoSplit = (none: NoSplit): string =>
  none.reason === 'too-many-supplies'
    ? `it would take ${none.supplyCount}`
    : none.zones.length === 0
      ? 'too small for the board'
      : `too small for ${zonesInWords(none.zones)}`;

/** "Supply 1: zones 1 and 2, and the board, 5.20 A". */
export const splitInWords = ({ supplies }: SupplySplit): string[] =>
  supplies.map(
    ({ zones, loadAmps }, index) =>
      `Supply ${index + 1}: ${zonesInWords(zones)}${index === 0 ? ' and the board' : ''}, ${loadAmps.toFixed(2)} A.`,
  );
