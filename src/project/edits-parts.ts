// What the named edits share: finding the part that is to be edited, setting and deleting properties, free ids.
// Not an edit itself. A part that isn't there throws: the caller named something that the document it shows doesn't hold, a fault of ours.
import { rowById, strips, wires } from '../catalogue/index.ts';
import { mm } from './schema-parts.ts';
import type { Area, AreaMembers, Project, Run } from './types.ts';

type OptionalKeys<T> = { [K in keyof T]-?: object extends Pick<T, K> ? K : never }[keyof T];
/** Some of a part's properties; an optional one given as undefined is deleted. */
export type Change<T> = {
  readonly [K in keyof T]?: K extends OptionalKeys<T> ? T[K] | undefined : T[K];
};

/**
 * Changes some properties of the part that its holder keeps under this key. Where one goes, the whole part is replaced: undo would else bring it back
 * behind the others, and the file would not be the same to the byte.
 */
export function applyChange<H extends object, K extends keyof H>(
  holder: H,
  key: K,
  change: Change<NonNullable<H[K]>>,
): void {
  const part = holder[key] as Record<string, unknown>;
  const next = { ...part, ...change };
  const gone = Object.keys(next).filter((name) => next[name] === undefined);
  for (const name of gone) delete next[name];
  if (gone.some((name) => name in part)) holder[key] = next as H[K];
  else Object.assign(part, next);
}

export function partOf<T>(parts: readonly T[], index: number, what: string): T {
  const part = parts[index];
  if (part === undefined) throw new Error(`no ${what} ${index} to edit`);
  return part;
}

/** A list without one of its entries; undefined where that was the last, so that the list goes too. */
export function withoutEntry<T>(parts: readonly T[], index: number): T[] | undefined {
  const others = parts.filter((_, i) => i !== index);
  return others.length > 0 ? others : undefined;
}

export function indexById(parts: readonly { readonly id: string }[], id: string, what: string): number {
  const index = parts.findIndex((part) => part.id === id);
  if (index < 0) throw new Error(`no ${what} "${id}" to edit`);
  return index;
}

/** Sets a name that may be absent: an empty one is deleted, and the id shows in its place. */
export function setName<T extends { name?: string }>(parts: T[], index: number, name: string): void {
  const change: Change<{ name?: string }> = { name: name === '' ? undefined : name };
  applyChange(parts as { name?: string }[], index, change);
}

export function byId<T extends { readonly id: string }>(parts: readonly T[], id: string, what: string): T {
  const part = rowById(parts, id);
  if (!part) throw new Error(`no ${what} "${id}" to edit`);
  return part;
}

/** All that means a single LED as a place for supply wires, to be changed along with its run. */
export const feedPlaces = ({ power }: Project): { run: string; led: number }[] => [
  ...power.feeds,
  ...(power.planning?.forbidden ?? []),
];

/** Throws if the new part's id is taken already. */
export function mustBeNew(parts: readonly { readonly id: string }[], id: string): void {
  if (rowById(parts, id)) throw new Error(`the id "${id}" is taken`);
}

export const runOf = (project: Project, id: string): Run => byId(project.runs, id, 'run');

export function mustHoldLed(run: Run, led: number): void {
  if (!Number.isInteger(led) || led < 0 || led >= run.ledCount)
    throw new Error(`no LED ${led} in run "${run.id}"`);
}

export const mustBeWire = (id: string | undefined): void => {
  if (id !== undefined) byId(wires, id, 'wire');
};

export function mustBeStrip(project: Project, id: string): void {
  byId([...(project.strips ?? []), ...strips], id, 'strip');
}

export function mustHoldMembers(project: Project, members: readonly AreaMembers[]): void {
  for (const one of members) {
    if (one.kind === 'runs') for (const id of one.runs) runOf(project, id);
    if (one.kind === 'leds') for (const led of [one.from, one.to]) mustHoldLed(runOf(project, one.run), led);
  }
}

/** An area has at least one entry; without any LEDs it is a list of no runs. */
export const membersOrNone = (members: AreaMembers[]): Area['members'] =>
  (members.length > 0 ? members : [{ kind: 'runs', runs: [] }]) as Area['members'];

/** Whether a place lies where the document can hold it. */
export const isPlace = (place: { readonly xMm: number; readonly yMm: number }): boolean =>
  Math.max(Math.abs(place.xMm), Math.abs(place.yMm)) <= mm.maximum;

/** An arrow's direction as the document can hold it; + 0, since no file holds a -0. */
export const arrowWithinBounds = (arrowDeg: number): number =>
  (Math.abs(arrowDeg) <= 360 ? arrowDeg : arrowDeg % 360) + 0;

const longestId = 40;

/** `Sky, top` gives `sky-top`: an id made of a name's letters and digits. */
export function idFrom(name: string): string {
  const slug = name
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+/, '');
  const lettered = slug === '' ? 'unnamed' : /^[0-9]/.test(slug) ? `n-${slug}` : slug;
  return lettered.slice(0, longestId).replace(/-+$/, '');
}

/** `base` and an ending, the base cut so that it stays an id. */
export const idWithEnding = (base: string, ending: string): string =>
  `${base.slice(0, longestId - ending.length - 1).replace(/-+$/, '')}-${ending}`;

/** `base` if nobody has it, else the next free number behind it: `row-3` gives `row-4`, `sky` gives `sky-2`. */
export function freeId(taken: Iterable<string>, base: string): string {
  const all = new Set(taken);
  if (!all.has(base)) return base;
  const [, stem, number] = /^(.+)-(\d{1,6})$/.exec(base) ?? [undefined, base, '1'];
  for (let next = Number(number) + 1; ; next++) {
    const id = idWithEnding(stem!, String(next));
    if (!all.has(id)) return id;
  }
}
