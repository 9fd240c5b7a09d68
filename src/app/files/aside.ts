// Projects put aside: what was open before, newest first, so that opening another one never loses anything. Kept as one text in the browser's store.
export interface AsideProject {
  readonly name: string;
  /** ISO 8601. */
  readonly on: string;
  readonly text: string;
}

/** Enough to go back an evening's work; each may hold an artwork of megabytes. */
const mostAside = 5;

const isAside = (value: unknown): value is AsideProject =>
  typeof value === 'object' &&
  value !== null &&
  (['name', 'on', 'text'] as const).every(
    (key) => typeof (value as Record<string, unknown>)[key] === 'string',
  );

/** A list that can't be read is an empty one: it is our own, and only a convenience. */
export function readAside(text: string | undefined): AsideProject[] {
  if (text === undefined) return [];
  try {
    const list: unknown = JSON.parse(text);
    return Array.isArray(list) ? list.filter(isAside) : [];
  } catch {
    return [];
  }
}

export const withAside = (list: readonly AsideProject[], one: AsideProject): AsideProject[] =>
  [one, ...list.filter(({ text }) => text !== one.text)].slice(0, mostAside);
