// Which clips of a show are meant, and where they stand after an edit of several (edits-clips.ts): a clip is known by its row and its place in
// the row's list, and edits that move clips between rows number them anew. Nothing here changes anything.
import { type ClipPlace, roomForClips } from './clip-parts.ts';
import { limits } from './limits.ts';
import type { Clip, Lampshow, Project, ShowRow } from './types.ts';

/** A clip of a show: its row, and its place in the row's list. */
export type ClipSpot = Pick<ClipPlace, 'row' | 'clip'>;

type Rows = readonly Pick<ShowRow, 'clips'>[];

/** By row, then by place. */
export const inOrder = (spots: readonly ClipSpot[]): ClipSpot[] =>
  [...spots].sort((a, b) => a.row - b.row || a.clip - b.clip);

export const clipAtSpot = (rows: Rows, { row, clip }: ClipSpot): Clip | undefined => rows[row]?.clips[clip];

/** From the earliest start to the latest end; zeros for no clips. */
export function spanOfClips(clips: readonly Pick<Clip, 'startMs' | 'lengthMs'>[]): {
  readonly startMs: number;
  readonly endMs: number;
} {
  if (clips.length === 0) return { startMs: 0, endMs: 0 };
  return {
    startMs: Math.min(...clips.map(({ startMs }) => startMs)),
    endMs: Math.max(...clips.map(({ startMs, lengthMs }) => startMs + lengthMs)),
  };
}

/** By how many rows clips can be moved when `byRows` is asked for: none leaves the show. */
export function rowsWithin(rowCount: number, spots: readonly ClipSpot[], byRows: number): number {
  const rows = spots.map(({ row }) => row);
  return Math.min(rowCount - 1 - Math.max(...rows), Math.max(-Math.min(...rows), byRows)) + 0;
}

/** Where clips stand after moving them by so many rows: behind those that stay. In the order of `inOrder`. */
export function movedSpots(rows: Rows, spots: readonly ClipSpot[], byRows: number): ClipSpot[] {
  const within = rowsWithin(rows.length, spots, byRows);
  const ordered = inOrder(spots);
  if (within === 0) return ordered;
  const leaving = (row: number) => ordered.filter((spot) => spot.row === row).length;
  const arrived = new Map<number, number>();
  return ordered.map(({ row }) => {
    const to = row + within;
    const before = arrived.get(to) ?? 0;
    arrived.set(to, before + 1);
    return { row: to, clip: rows[to]!.clips.length - leaving(to) + before };
  });
}

/** Where both parts of clips stand after cutting those of these spots that `isCut` says; each second part follows its first. */
export function splitSpots(spots: readonly ClipSpot[], isCut: (spot: ClipSpot) => boolean): ClipSpot[] {
  const added = new Map<number, number>();
  return inOrder(spots).flatMap((spot) => {
    const before = added.get(spot.row) ?? 0;
    const first = { row: spot.row, clip: spot.clip + before };
    if (!isCut(spot)) return [first];
    added.set(spot.row, before + 1);
    return [first, { row: spot.row, clip: first.clip + 1 }];
  });
}

/** Clips taken along, with where they lay to each other. */
export interface CopiedClip {
  /** Rows below the uppermost one. */
  readonly rowsDown: number;
  /** After the earliest one's start. */
  readonly afterMs: number;
  readonly clip: Clip;
}

/** Copies have no ids: those belong to one clip each. */
export function copiedClips(rows: Rows, spots: readonly ClipSpot[]): CopiedClip[] {
  const ordered = inOrder(spots).filter((spot) => clipAtSpot(rows, spot) !== undefined);
  const clips = ordered.map((spot) => clipAtSpot(rows, spot)!);
  const { startMs } = spanOfClips(clips);
  return clips.map(({ id: _, ...clip }, i) => ({
    rowsDown: ordered[i]!.row - ordered[0]!.row,
    afterMs: clip.startMs - startMs,
    clip,
  }));
}

/** Where clips stand when they are added one after the other, each behind the others of its row. */
export function addedSpots(rows: Rows, toRows: readonly number[]): ClipSpot[] {
  const added = new Map<number, number>();
  return toRows.map((row) => {
    const before = added.get(row) ?? 0;
    added.set(row, before + 1);
    return { row, clip: (rows[row]?.clips.length ?? 0) + before };
  });
}

/** Whether a moment of the show lies inside a clip, neither at its start nor at its end. */
export const isInside = ({ startMs, lengthMs }: Pick<Clip, 'startMs' | 'lengthMs'>, atMs: number): boolean =>
  atMs > startMs && atMs < startMs + lengthMs;

/** Into which row each of the copied clips goes when the uppermost goes into `row`. */
export const rowsForCopies = (copied: readonly CopiedClip[], row: number): number[] =>
  copied.map(({ rowsDown }) => Math.min(row + rowsDown, limits.rowsPerShow - 1));

/** Whether the project holds what a clip plays on and through. */
export const canPlay = (project: Project, clip: Pick<Clip, 'area' | 'gradient'>): boolean =>
  project.areas.some(({ id }) => id === clip.area) &&
  project.gradients.some(({ id }) => id === clip.gradient);

/** How often clips can be repeated: each copy begins before the show's end, and all of them have room. */
export function repeatsWithin(
  project: Project,
  lampshow: Lampshow,
  clips: readonly Clip[],
  times: number,
): number {
  const { startMs, endMs } = spanOfClips(clips);
  if (clips.length === 0 || !Number.isFinite(times)) return 0;
  const before = Math.ceil((lampshow.lengthMs - startMs) / (endMs - startMs)) - 1;
  const room = Math.floor(roomForClips(project, lampshow) / clips.length);
  return Math.max(0, Math.min(Math.round(times), before, room));
}

/** Pairs of clips of a row, the earlier first, of which the second begins while the first plays and ends after it. */
export function overlapsOf(rows: Rows, spots: readonly ClipSpot[]): [ClipSpot, ClipSpot, number][] {
  const byTime = (a: ClipSpot, b: ClipSpot) =>
    a.row - b.row || rows[a.row]!.clips[a.clip]!.startMs - rows[b.row]!.clips[b.clip]!.startMs;
  const ordered = [...spots].sort(byTime);
  return ordered.flatMap((second, i): [ClipSpot, ClipSpot, number][] => {
    const first = ordered[i - 1];
    if (!first || first.row !== second.row) return [];
    const a = rows[first.row]!.clips[first.clip]!;
    const b = rows[second.row]!.clips[second.clip]!;
    const overlapMs = a.startMs + a.lengthMs - b.startMs;
    const goesOn = b.startMs + b.lengthMs > a.startMs + a.lengthMs && b.startMs > a.startMs;
    return overlapMs > 0 && goesOn ? [[first, second, overlapMs]] : [];
  });
}
