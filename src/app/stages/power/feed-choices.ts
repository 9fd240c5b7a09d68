// What a feed's fuse, plug and supply can be, as choices of the inspector; an empty id is what the document says nothing of. Pure.
import { type FuseKind, fuseRatings, plugs } from '../../../catalogue/index.ts';
import type { Feed, Project } from '../../../project/index.ts';
import type { Choice } from '../../fields/index.ts';

export const fuseKindChoices: readonly Choice<FuseKind>[] = [
  { id: 'blade', label: 'Blade' },
  { id: 'tube', label: 'Tube, 5 x 20 mm' },
];

export const plugChoices: readonly Choice<string>[] = [
  { id: '', label: 'Soldered' },
  ...plugs.map(({ id, label, amps }) => ({ id, label: `${label}, ${amps} A` })),
];

/** Ratings of the feed's kind, and its own where no list has it. */
export function fuseChoices({ fuseAmps, fuseKind = 'blade' }: Pick<Feed, 'fuseAmps' | 'fuseKind'>) {
  const listed = fuseRatings[fuseKind];
  const all = fuseAmps === undefined || listed.includes(fuseAmps) ? listed : [...listed, fuseAmps];
  return [
    { id: '', label: 'By the load' },
    ...all.toSorted((a, b) => a - b).map((amps) => ({ id: String(amps), label: `${amps} A` })),
  ];
}

/** Supplies by their number: the first, then the further ones in the document's order. */
export const supplyName = (index: number): string => `Supply ${index + 1}`;

export const supplyChoices = ({ power }: Pick<Project, 'power'>): readonly Choice<string>[] => [
  { id: '', label: supplyName(0) },
  ...(power.moreSupplies ?? []).map(({ id }, index) => ({ id, label: supplyName(index + 1) })),
];
