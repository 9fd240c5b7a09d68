// Edits of several clips of one show at once, and of what a clip's time holds: cutting, trimming, stretching, repeating, crossfading. Each returns
// a recipe for history.ts. Where the clips stand afterwards, clip-spots.ts says. What a limit forbids is left undone.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { clipOf, clipSchema, roomForClips, rowOf, rowSchema, showOf, withinRules } from './clip-parts.ts';
import {
  type ClipSpot,
  type CopiedClip,
  canPlay,
  inOrder,
  isInside,
  overlapsOf,
  repeatsWithin,
  rowsForCopies,
  rowsWithin,
  spanOfClips,
} from './clip-spots.ts';
import { applyChange, type Change, freeId } from './edits-parts.ts';
import { changeClip } from './edits-shows.ts';
import { stretchedEffect } from './effect-times.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import type { Clip, Lampshow, Project } from './types.ts';

type Spots = readonly ClipSpot[];

/** The show's clips at these spots, each with where it stands; throws where one is missing. */
const clipsAt = (project: Project, show: string, spots: Spots) =>
  inOrder(spots).map((spot) => ({ spot, clip: clipOf(project, { show, ...spot }) }));

/** Changes one clip within the schema's bounds, without asking what it plays on. */
function changeTimes(project: Project, show: string, spot: ClipSpot, change: Change<Clip>): void {
  const { clips } = rowOf(project, { show, ...spot });
  applyChange(clips, spot.clip, changeWithinSchema(clipSchema, change, clips[spot.clip]));
}

export const changeClips =
  (show: string, spots: Spots, change: Change<Clip>): Edit =>
  (project) => {
    for (const spot of spots) changeClip({ show, ...spot }, change)(project);
  };

export const deleteClips =
  (show: string, spots: Spots): Edit =>
  (project) => {
    for (const { spot } of clipsAt(project, show, spots).toReversed())
      rowOf(project, { show, ...spot }).clips.splice(spot.clip, 1);
  };

/** Moves clips together in time and by rows; none leaves the time or the rows that there are. In another row they go behind the others. */
export const moveClips =
  (show: string, spots: Spots, byMs: number, byRows: number): Edit =>
  (project) => {
    const { rows } = showOf(project, show);
    const moved = clipsAt(project, show, spots);
    if (moved.length === 0) return;
    const starts = moved.map(({ clip }) => clip.startMs);
    const whole = Number.isFinite(byMs) ? Math.round(byMs) : 0;
    const by = Math.min(limits.showMs - Math.max(...starts), Math.max(-Math.min(...starts), whole));
    for (const { clip } of moved) clip.startMs += by;
    const within = rowsWithin(rows.length, spots, Number.isFinite(byRows) ? Math.round(byRows) : 0);
    if (within === 0) return;
    for (const { spot } of moved.toReversed()) rows[spot.row]!.clips.splice(spot.clip, 1);
    for (const { spot, clip } of moved) rows[spot.row + within]!.clips.push(clip);
  };

type Points = NonNullable<Clip['envelope']>;

/** Per cent of an envelope at a time: held before the first point and behind the last, straight between two. Where two points make a jump, what ends there. */
function percentAt(points: Points, atMs: number): number {
  const after = points.findIndex((point) => point.atMs >= atMs);
  if (after === -1) return points.at(-1)!.percent;
  const to = points[after]!;
  const from = points[after - 1];
  if (!from || to.atMs === from.atMs) return to.percent;
  return Math.round(
    from.percent + ((to.percent - from.percent) * (atMs - from.atMs)) / (to.atMs - from.atMs),
  );
}

/** The points from one time to another, counted from the first, with one at each end where the line goes on beyond it. */
function envelopeBetween(points: Points | undefined, fromMs: number, toMs: number): Points | undefined {
  if (!points) return undefined;
  const sorted = [...points].sort((a, b) => a.atMs - b.atMs);
  const inner = sorted.filter(({ atMs }) => atMs > fromMs && atMs < toMs);
  const begins = sorted.findLast(({ atMs }) => atMs === fromMs)?.percent ?? percentAt(sorted, fromMs);
  const first = sorted.some(({ atMs }) => atMs <= fromMs) ? [{ atMs: fromMs, percent: begins }] : [];
  const last = sorted.some(({ atMs }) => atMs >= toMs)
    ? [{ atMs: toMs, percent: percentAt(sorted, toMs) }]
    : [];
  return [...first, ...inner, ...last].map(({ atMs, percent }) => ({ atMs: atMs - fromMs, percent }));
}

/** What lies in the clip from one moment to another, both counted from its start: fades stay at the ends that stay. */
function partOfClip(clip: Clip, fromMs: number, toMs: number): Change<Clip> {
  const lengthMs = toMs - fromMs;
  const fade = (ms: number | undefined, stays: boolean) =>
    ms === undefined || !stays ? undefined : Math.min(ms, lengthMs);
  const envelope = envelopeBetween(clip.envelope, fromMs, toMs);
  return {
    startMs: clip.startMs + fromMs,
    lengthMs,
    fadeInMs: fade(clip.fadeInMs, fromMs <= 0),
    fadeOutMs: fade(clip.fadeOutMs, toMs >= clip.lengthMs),
    ...(clip.envelope && envelope ? { envelope: envelope.slice(0, limits.envelopePoints) } : {}),
  };
}

/** Without the properties that are undefined. */
const without = (clip: Record<string, unknown>): Clip =>
  Object.fromEntries(Object.entries(clip).filter(([, value]) => value !== undefined)) as Clip;

/** Cuts those of the clips that play at this moment of the show in two; the second part follows the first in the row's list. Its effect begins anew. */
export const splitClips =
  (show: string, spots: Spots, atMs: number): Edit =>
  (project) => {
    const at = Math.round(atMs);
    // No clip may start behind the longest show's end.
    if (at > limits.showMs) return;
    const cut = clipsAt(project, show, spots).filter(({ clip }) => isInside(clip, at));
    if (cut.length > roomForClips(project, showOf(project, show))) return;
    for (const { spot, clip } of cut.toReversed()) {
      const { clips } = rowOf(project, { show, ...spot });
      const { id: _, ...like } = clip;
      const second = { ...like, ...partOfClip(clip, at - clip.startMs, clip.lengthMs) };
      const first = partOfClip(clip, 0, at - clip.startMs);
      applyChange(clips, spot.clip, first);
      clips.splice(spot.clip + 1, 0, without(second));
    }
  };

/** Brings the start or the end of the clips to this moment of the show; those that don't play then stay. Brightness over time stays where it is. */
export const trimClips =
  (show: string, spots: Spots, end: 'start' | 'end', atMs: number): Edit =>
  (project) => {
    const at = Math.round(atMs);
    for (const { spot, clip } of clipsAt(project, show, spots)) {
      if (!isInside(clip, at)) continue;
      const part =
        end === 'start'
          ? partOfClip(clip, at - clip.startMs, clip.lengthMs)
          : partOfClip(clip, 0, at - clip.startMs);
      // The fade belongs to the end, wherever that is.
      const kept = { fadeInMs: clip.fadeInMs, fadeOutMs: clip.fadeOutMs };
      changeTimes(project, show, spot, { ...part, ...kept });
    }
  };

/**
 * Makes clips `factor` times as long, with the gaps between them, their fades, their brightness over time and the times of their effects. The start of
 * the first or the end of the last keeps its place.
 */
export const stretchClips =
  (show: string, spots: Spots, factor: number, keeps: 'start' | 'end'): Edit =>
  (project) => {
    if (!Number.isFinite(factor) || factor <= 0) return;
    const stretched = clipsAt(project, show, spots);
    const span = spanOfClips(stretched.map(({ clip }) => clip));
    const fixedMs = keeps === 'start' ? span.startMs : span.endMs;
    const moved = (ms: number) => Math.max(0, fixedMs + Math.round((ms - fixedMs) * factor));
    for (const { spot, clip } of stretched) {
      const startMs = moved(clip.startMs);
      const scaled = (ms: number) => Math.round(ms * factor);
      changeTimes(project, show, spot, {
        startMs,
        lengthMs: moved(clip.startMs + clip.lengthMs) - startMs,
        ...(clip.fadeInMs === undefined ? {} : { fadeInMs: scaled(clip.fadeInMs) }),
        ...(clip.fadeOutMs === undefined ? {} : { fadeOutMs: scaled(clip.fadeOutMs) }),
        ...(clip.envelope
          ? { envelope: clip.envelope.map(({ atMs, percent }) => ({ atMs: scaled(atMs), percent })) }
          : {}),
        ...(clip.cycle ? { cycle: { ...clip.cycle, seconds: clip.cycle.seconds * factor } } : {}),
        effect: withinRules(stretchedEffect(clip.effect, factor), clip.effect) ?? clip.effect,
      });
    }
  };

/** Rows for clips that go below the last one; at the most rows that a show holds they share the last. */
function makeRows(lampshow: Lampshow, count: number): void {
  while (lampshow.rows.length < Math.min(count, limits.rowsPerShow)) {
    const id = freeId(
      lampshow.rows.map((row) => row.id),
      'row-1',
    );
    lampshow.rows.push(withinSchema(rowSchema, { id, clips: [] })!);
  }
}

/**
 * Adds copied clips from a row and a moment on, each behind the others of its row; rows that are missing are made. Copies whose area or gradient the
 * project doesn't hold any more are left out; where there isn't room for the others, nothing is added.
 */
export const pasteClips =
  (show: string, row: number, atMs: number, copied: readonly CopiedClip[]): Edit =>
  (project) => {
    const lampshow = showOf(project, show);
    const held = copied.filter(({ clip }) => canPlay(project, clip));
    if (held.length > roomForClips(project, lampshow)) return;
    const toRows = rowsForCopies(held, row);
    makeRows(lampshow, Math.max(0, ...toRows.map((one) => one + 1)));
    for (const [i, { afterMs, clip }] of held.entries()) {
      const bounded = withinSchema(clipSchema, { ...clip, startMs: atMs + afterMs });
      if (bounded) lampshow.rows[toRows[i]!]!.clips.push(bounded);
    }
  };

/** Lets clips follow themselves, together, `times` times: one group begins where the one before ends. Stops at the show's end. */
export const repeatClips =
  (show: string, spots: Spots, times: number): Edit =>
  (project) => {
    const lampshow = showOf(project, show);
    const repeated = clipsAt(project, show, spots).map(({ spot, clip }) => ({ spot, clip: { ...clip } }));
    const clips = repeated.map(({ clip }) => clip);
    const { startMs, endMs } = spanOfClips(clips);
    const count = repeatsWithin(project, lampshow, clips, times);
    for (let round = 1; round <= count; round++)
      for (const { spot, clip } of repeated) {
        const { id: _, ...like } = clip;
        const copy = { ...like, startMs: clip.startMs + round * (endMs - startMs) };
        lampshow.rows[spot.row]!.clips.push(withinSchema(clipSchema, copy)!);
      }
  };

/** Of clips of one row that overlap, the earlier fades out and the later fades in for as long as both play. */
export const crossfadeClips =
  (show: string, spots: Spots): Edit =>
  (project) => {
    clipsAt(project, show, spots);
    for (const [first, second, overlapMs] of overlapsOf(showOf(project, show).rows, spots)) {
      changeTimes(project, show, first, { fadeOutMs: overlapMs });
      changeTimes(project, show, second, { fadeInMs: overlapMs });
    }
  };
