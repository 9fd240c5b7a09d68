// Edits that this stage makes of several of the project's named ones, and what new parts begin with. Each is a pure recipe; where the new part
// comes to stand is known beforehand, so that it can be chosen.
import {
  addClip,
  addGradient,
  addLampshow,
  addRow,
  type Clip,
  type ClipPlace,
  changeClip,
  type Edit,
  type Effect,
  freeId,
  type Gradient,
  idFrom,
  type Lampshow,
  limits,
  type Project,
  type ShowRow,
} from '../../../project/index.ts';
import { nameOf } from './words.ts';

const idsOf = (parts: readonly { readonly id: string }[]): string[] => parts.map(({ id }) => id);

/** A name with a number that no other part has: `New show`, `New show 2`. */
function freeName(parts: readonly { readonly id: string; readonly name?: string }[], base: string): string {
  const taken = new Set(parts.map(nameOf));
  let name = base;
  for (let next = 2; taken.has(name); next++) name = `${base} ${next}`;
  return name;
}

const firstGradient: Omit<Gradient, 'id'> = {
  name: 'Lamplight',
  stops: [
    { at: 0, colour: '#5a1e06' },
    { at: 0.6, colour: '#e88a2c' },
    { at: 1, colour: '#ffe6b4' },
  ],
};

const newEffect: Effect = {
  kind: 'band',
  passSeconds: 2,
  width: 0.4,
  bands: 1,
  travel: 'forward',
  softness: 0.7,
};
const newClipMs = 3000;
const newFadeMs = 200;
const shortestNewMs = 100;

export interface Planned<P> {
  readonly edit: Edit;
  readonly place: P;
}

const newRow = (rows: readonly ShowRow[]): ShowRow => ({
  id: freeId(idsOf(rows), 'row-1'),
  name: freeName(rows, 'New row'),
  clips: [],
});

/**
 * A clip on a row from a time on, for 3 s or to the show's end, or the first clip of a show over all of it; it plays where and in the colours in which the row's last one does. Undefined
 * where the project has no area to play on, or the show has no room for another clip.
 */
export function plannedClip(
  project: Project,
  show: Lampshow,
  rowIndex: number,
  startMs: number,
): Planned<ClipPlace> | undefined {
  const row = show.rows[rowIndex];
  const like = row?.clips.at(-1);
  const area = like?.area ?? project.areas[0]?.id;
  const clipCount = show.rows.reduce((sum, { clips }) => sum + clips.length, 0);
  const allClips = project.lampshows.reduce(
    (sum, { rows }) => sum + rows.reduce((rowSum, { clips }) => rowSum + clips.length, 0),
    0,
  );
  if (area === undefined || clipCount >= limits.clipsPerShow || allClips >= limits.clips) return undefined;
  const gradient = like?.gradient ?? project.gradients[0]?.id ?? idFrom(firstGradient.name!);
  const latestMs = Math.max(0, show.lengthMs - shortestNewMs);
  // The first clip of an empty show fills it: whoever begins sees light at once, and all the time.
  const isFirst = clipCount === 0;
  const start = isFirst ? 0 : Math.min(latestMs, Math.max(0, Math.round(startMs / 10) * 10));
  const lengthMs = isFirst ? show.lengthMs : Math.min(newClipMs, show.lengthMs - start);
  const fadeMs = Math.min(newFadeMs, Math.floor(lengthMs / 4));
  const clip: Clip = {
    startMs: start,
    lengthMs,
    fadeInMs: fadeMs,
    fadeOutMs: fadeMs,
    area,
    gradient,
    blend: 'over',
    effect: newEffect,
  };
  const place = { show: show.id, row: row ? rowIndex : 0, clip: row ? row.clips.length : 0 };
  return {
    place,
    edit: (draft) => {
      if (draft.gradients.length === 0) addGradient({ id: gradient, ...firstGradient })(draft);
      if (!row) addRow(show.id, newRow([]))(draft);
      addClip(place, clip)(draft);
    },
  };
}

/** Behind all others, so over them. */
export function plannedRow(show: Lampshow): Planned<string> {
  const row = newRow(show.rows);
  return { edit: addRow(show.id, row), place: row.id };
}

const newShowMs = 5000;

export function plannedShow(project: Project): Planned<string> {
  const name = freeName(project.lampshows, 'New show');
  const id = freeId(idsOf(project.lampshows), idFrom(name));
  return {
    edit: addLampshow({ id, name, lengthMs: newShowMs, rows: [newRow([])] }),
    place: id,
  };
}

export function plannedCopy(project: Project, show: Lampshow): Planned<string> {
  const id = freeId(idsOf(project.lampshows), show.id);
  return {
    edit: addLampshow({ ...show, id, name: freeName(project.lampshows, `${nameOf(show)}, copy`) }),
    place: id,
  };
}

/** A gradient of the clip's own, beginning as the one it has now. */
export function plannedGradient(
  project: Project,
  place: ClipPlace,
  from: Pick<Gradient, 'stops'>,
  base = 'New gradient',
): Planned<string> {
  const name = freeName(project.gradients, base);
  const id = freeId(idsOf(project.gradients), idFrom(name));
  return {
    edit: (draft) => {
      if (draft.gradients.length >= limits.gradients) return;
      addGradient({ id, name, stops: from.stops })(draft);
      changeClip(place, { gradient: id })(draft);
    },
    place: id,
  };
}
