// How this stage says things: names of effects, of the ways effects travel, of blends. No logic of the show's.
import type { Area, AreaOrder, Blend, Clip, EffectKind, Project, ShowRow } from '../../../project/index.ts';
import type { Choice } from '../../fields/index.ts';

export const effectLabels: Readonly<Record<EffectKind, string>> = {
  glow: 'Glow',
  band: 'Moving band',
  chase: 'Chase',
  stream: 'Travelling gradient',
  spokes: 'Spokes',
  rings: 'Rings',
  column: 'Column',
  stars: 'Stars',
  glints: 'Glints',
  cloud: 'Drifting cloud',
  fire: 'Licking fire',
  lightning: 'Lightning',
  bursts: 'Flash bursts',
  painted: 'Painted frames',
  letters: 'Letters',
};

/** Where there is room for one word only. */
export const shortEffectLabels: Readonly<Record<EffectKind, string>> = {
  ...effectLabels,
  band: 'Band',
  stream: 'Gradient',
  cloud: 'Cloud',
  fire: 'Fire',
  bursts: 'Bursts',
  painted: 'Painted',
};

export const effectChoices = Object.entries(effectLabels).map(([id, label]) => ({
  id: id as EffectKind,
  label,
}));

export const blendChoices: readonly Choice<Blend>[] = [
  { id: 'over', label: 'Over' },
  { id: 'add', label: 'Add' },
  { id: 'brighter-wins', label: 'Brighter wins' },
  { id: 'tint', label: 'Tint' },
];

/** Forward and reversed. */
const ways: Readonly<Record<AreaOrder['kind'], readonly [string, string]>> = {
  across: ['from left to right', 'from right to left'],
  up: ['up', 'down'],
  outward: ['outward', 'inward'],
  around: ['clockwise', 'anticlockwise'],
  wiring: ['along the wiring', 'against the wiring'],
  path: ['along its path', 'back along its path'],
};

export const wayOf = ({ kind, reversed }: AreaOrder): string => ways[kind][reversed ? 1 : 0];

interface Named {
  readonly id: string;
  readonly name?: string | undefined;
}

export const nameOf = ({ name, id }: Named): string => name ?? id;

export const namedChoices = (parts: readonly Named[]): Choice<string>[] =>
  parts.map((part) => ({ id: part.id, label: nameOf(part) }));

export const rowName = (row: Pick<ShowRow, 'id' | 'name'>): string => nameOf(row);

export const clipTitle = (clip: Clip, areas: Project['areas']): string => {
  const area: Area | undefined = areas.find(({ id }) => id === clip.area);
  return `${effectLabels[clip.effect.kind]} on ${area ? nameOf(area) : clip.area}`;
};
