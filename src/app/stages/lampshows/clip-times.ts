// Time on the timeline: how far it reaches, which clips of a row would cover each other, and where a dragged clip comes to lie. Whole
// milliseconds everywhere. Not here: pointers and pixels (use-clip-drag.ts), the document (edits).
import type { Clip, Lampshow, ShowRow } from '../../../project/index.ts';

export type ClipSpan = Pick<Clip, 'startMs' | 'lengthMs'>;

export const clipEndMs = ({ startMs, lengthMs }: ClipSpan): number => startMs + lengthMs;

/** What the timeline spans: the show, and clips that reach beyond its end, so that they can be seen and fetched back. */
export const extentMs = ({ lengthMs, rows }: Pick<Lampshow, 'lengthMs' | 'rows'>): number =>
  Math.max(lengthMs, ...rows.flatMap(({ clips }) => clips.map(clipEndMs)));

export interface Lanes {
  /** For each clip of the row, in the row's own order: its lane, from 0. */
  readonly laneOfClip: readonly number[];
  readonly laneCount: number;
}

/** Clips that play at the same time get lanes of their own, by start: each the first lane that is free. At least one lane. */
export function lanesOf({ clips }: Pick<ShowRow, 'clips'>): Lanes {
  const laneOfClip = clips.map(() => 0);
  const freeFromMs: number[] = [];
  const byStart = clips
    .map((clip, index) => ({ clip, index }))
    .sort((a, b) => a.clip.startMs - b.clip.startMs);
  for (const { clip, index } of byStart) {
    const free = freeFromMs.findIndex((ms) => ms <= clip.startMs);
    const lane = free === -1 ? freeFromMs.length : free;
    freeFromMs[lane] = clipEndMs(clip);
    laneOfClip[index] = lane;
  }
  return { laneOfClip, laneCount: Math.max(1, freeFromMs.length) };
}

export type DragEdge = 'start' | 'end' | 'both';

export interface Snapping {
  /** Times of whole steps where nothing else attracts. */
  readonly stepMs: number;
  /** Times that attract, and from how far. */
  readonly attractMs: readonly number[];
  readonly withinMs: number;
}

const shortestClipMs = 10;

/** How far to move so that one of these edges lies on a time that attracts; undefined where none is near. */
function attraction(edgesMs: readonly number[], { attractMs, withinMs }: Snapping): number | undefined {
  let nearest: number | undefined;
  for (const edge of edgesMs)
    for (const target of attractMs) {
      const way = target - edge;
      if (Math.abs(way) <= withinMs && (nearest === undefined || Math.abs(way) < Math.abs(nearest)))
        nearest = way;
    }
  return nearest;
}

/** Where a single moment comes to lie. */
export function draggedMoment(ms: number, snapping: Snapping): number {
  const way = attraction([ms], snapping);
  const { stepMs } = snapping;
  return Math.round(way === undefined ? Math.round(ms / stepMs) * stepMs : ms + way);
}

const between = (least: number, value: number, most: number): number =>
  Math.min(most, Math.max(least, value));

/** Where an edge of a clip, or the whole clip, comes to lie when it is dragged by `byMs`; it stays between 0 and `mostMs`. */
export function draggedSpan(
  { startMs, lengthMs }: ClipSpan,
  edge: DragEdge,
  byMs: number,
  snapping: Snapping,
  mostMs: number,
): ClipSpan {
  const endMs = startMs + lengthMs;
  /** The first edge decides where whole steps lie. */
  const landed = (...edges: readonly number[]): number => {
    const way = attraction(edges, snapping);
    return way === undefined ? draggedMoment(edges[0]!, snapping) : Math.round(edges[0]! + way);
  };
  if (edge === 'both') {
    const start = landed(startMs + byMs, endMs + byMs);
    return { startMs: between(0, start, Math.max(startMs, mostMs - lengthMs)), lengthMs };
  }
  if (edge === 'start') {
    const start = between(0, landed(startMs + byMs), Math.max(0, endMs - shortestClipMs));
    return { startMs: start, lengthMs: endMs - start };
  }
  const least = startMs + Math.min(shortestClipMs, lengthMs);
  return { startMs, lengthMs: between(least, landed(endMs + byMs), Math.max(endMs, mostMs)) - startMs };
}

/** Times that attract what is dragged: 0, the show's end, beats, markers, and both ends of every clip that isn't dragged along. */
export const attractingMs = (show: Lampshow, dragged: readonly Clip[]): number[] => [
  0,
  show.lengthMs,
  ...show.rows.flatMap(({ clips }) =>
    clips.filter((clip) => !dragged.includes(clip)).flatMap((clip) => [clip.startMs, clipEndMs(clip)]),
  ),
  ...(show.beatsMs ?? []),
  ...(show.markers ?? []).map(({ atMs }) => atMs),
];
