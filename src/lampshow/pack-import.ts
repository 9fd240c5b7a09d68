// Taking a show pack into a project: one edit that adds the shows, what they need, and nothing else. Ids are made free, gradients that are equal are
// shared, clips whose area has no counterpart are left out, and so is a show of which nothing is left. Everything is said before it is done.
// Not here: what it costs the board and the supply, which whoever asks works out from the edited project.
import type { Layout } from '../panel/index.ts';
import {
  type Area,
  type AreaOrder,
  addArea,
  addGameEvent,
  addGradient,
  addLampshow,
  type Edit,
  freeId,
  type Gradient,
  type Lampshow,
  limits,
  type Project,
} from '../project/index.ts';
import type { PackArea, ShowPack } from '../project/read-pack.ts';
import { packSchema } from '../project/schema-pack.ts';
import { text as textSchema } from '../project/schema-parts.ts';
import { type BoxMm, type Carrying, carriedEffect, carriedOrder } from './pack-places.ts';
import { type AreaChoice, areaBox, boxOf, packBox } from './show-pack.ts';

export interface ImportWishes {
  /** Ids of the pack's shows that are wanted. */
  readonly shows: readonly string[];
  /** By the pack's area id; an area that is not named is left out. */
  readonly choices: ReadonlyMap<string, AreaChoice>;
  /** Effects travel as they did in the pack, instead of as the areas here say: such areas are added. */
  readonly keepsOrders: boolean;
  readonly withEvents: boolean;
}

export interface LeftOut {
  /** The pack's area. */
  readonly area: string;
  readonly clipCount: number;
}

export interface PlannedImport {
  /** Undefined where a limit forbids it, or nothing is left to take in. */
  readonly edit: Edit | undefined;
  /** What a limit forbids, in words; empty where all fits. */
  readonly refusals: readonly string[];
  /** Ids here of the shows that come, in the pack's order. */
  readonly shows: readonly string[];
  /** Ids here of areas that are added. */
  readonly areas: readonly string[];
  readonly newGradientCount: number;
  readonly sharedGradientCount: number;
  readonly eventCount: number;
  readonly leftOut: readonly LeftOut[];
  /** Names of wanted shows of which no clip is left. */
  readonly emptyShows: readonly string[];
}

type Ids = readonly { readonly id: string }[];
const idsOf = (parts: Ids): string[] => parts.map(({ id }) => id);
const isEqual = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);
const mostEvents = packSchema.properties.gameEvents.maxItems;

/** A name with an ending, as long as the document can hold it. */
const named = (base: string, ending: string): string =>
  `${base.slice(0, textSchema.maxLength - ending.length)}${ending}`;

/** `Attract`, `Attract 2`: a name that no other show has, so that two can be told apart. */
function freeName(taken: readonly Pick<Lampshow, 'id' | 'name'>[], base: string): string {
  const names = new Set(taken.map(({ id, name }) => name ?? id));
  let name = base;
  for (let next = 2; names.has(name); next++) name = named(base, ` ${next}`);
  return name;
}

const stopsKey = ({ stops }: Pick<Gradient, 'stops'>): string =>
  stops.map(({ at, colour }) => `${at} ${colour.toLowerCase()}`).join(' ');

/** Where the LEDs lie that take the place of a pack's area. */
function targetBox(project: Project, layout: Layout, target: Area | undefined): BoxMm {
  const { widthMm, heightMm } = project.panel;
  const box = target ? areaBox(layout, target) : boxOf(layout.plannedLeds.filter((led) => !led.spare));
  return box ?? { xMm: 0, yMm: 0, widthMm, heightMm };
}

const travelsAlike = (a: AreaOrder, b: AreaOrder): boolean =>
  a.kind === b.kind && (a.reversed ?? false) === (b.reversed ?? false);

/** Whether effects travel otherwise on the area here than they did on the pack's. */
export const travelsOtherwise = (area: PackArea, target: Pick<Area, 'order'>): boolean =>
  !travelsAlike(area.order, target.order);

interface Settled {
  readonly id: string;
  readonly carrying: Carrying;
}

interface SettledAreas {
  readonly byPackId: ReadonlyMap<string, Settled>;
  readonly added: readonly Area[];
}

function settleAreas(pack: ShowPack, project: Project, layout: Layout, wishes: ImportWishes): SettledAreas {
  const added: Area[] = [];
  const byPackId = new Map<string, Settled>();
  const scale = project.panel.widthMm / pack.panelSize.widthMm;
  const settle = (area: PackArea, wanted: AreaChoice): Settled | undefined => {
    if (wanted.kind === 'none') return undefined;
    const target = wanted.kind === 'area' ? project.areas.find(({ id }) => id === wanted.id) : undefined;
    if (wanted.kind === 'area' && !target) return undefined;
    const carrying = { from: packBox(pack, area), to: targetBox(project, layout, target), scale };
    if (target && !(wishes.keepsOrders && travelsOtherwise(area, target))) return { id: target.id, carrying };
    const members: Area['members'] = target?.members ?? [{ kind: 'all' }];
    const order = carriedOrder(area.order, carrying);
    const known = [...project.areas, ...added].find(
      (one) => isEqual(one.members, members) && isEqual(one.order, order),
    );
    if (known) return { id: known.id, carrying };
    const id = freeId(idsOf([...project.areas, ...added]), area.id);
    const name = area.name ?? area.id;
    added.push({ id, name: named(name, target ? ', as in the pack' : ', whole panel'), members, order });
    return { id, carrying };
  };
  const used = new Set(
    pack.lampshows
      .filter(({ id }) => wishes.shows.includes(id))
      .flatMap(({ rows }) => rows.flatMap(({ clips }) => clips.map(({ area }) => area))),
  );
  for (const area of pack.areas) {
    if (!used.has(area.id)) continue;
    const settled = settle(area, wishes.choices.get(area.id) ?? { kind: 'none' });
    if (settled) byPackId.set(area.id, settled);
  }
  return { byPackId, added };
}

interface SettledGradients {
  readonly byPackId: ReadonlyMap<string, string>;
  readonly added: readonly Gradient[];
}

function settleGradients(pack: ShowPack, project: Project, used: ReadonlySet<string>): SettledGradients {
  const added: Gradient[] = [];
  const byPackId = new Map<string, string>();
  for (const gradient of pack.gradients) {
    if (!used.has(gradient.id)) continue;
    const equal = [...project.gradients, ...added].filter((one) => stopsKey(one) === stopsKey(gradient));
    const shared = equal.find(({ id }) => id === gradient.id) ?? equal[0];
    const id = shared?.id ?? freeId(idsOf([...project.gradients, ...added]), gradient.id);
    byPackId.set(gradient.id, id);
    if (!shared) added.push({ ...gradient, id });
  }
  return { byPackId, added };
}

/** The shows with their clips on the areas here; ids, names and gradients are still the pack's. */
function fittedShows(pack: ShowPack, wanted: readonly string[], areas: SettledAreas): Lampshow[] {
  return pack.lampshows
    .filter(({ id }) => wanted.includes(id))
    .map((show) => ({
      ...show,
      rows: show.rows.map((row) => ({
        ...row,
        clips: row.clips.flatMap((clip) => {
          const settled = areas.byPackId.get(clip.area);
          if (!settled) return [];
          return [{ ...clip, area: settled.id, effect: carriedEffect(clip.effect, settled.carrying) }];
        }),
      })),
    }));
}

const countOf = (shows: readonly Pick<Lampshow, 'rows'>[]): number =>
  shows.reduce((sum, { rows }) => sum + rows.reduce((inner, { clips }) => inner + clips.length, 0), 0);

function leftOutOf(pack: ShowPack, wanted: readonly string[], areas: SettledAreas): LeftOut[] {
  const counts = new Map<string, number>();
  for (const show of pack.lampshows)
    if (wanted.includes(show.id))
      for (const { clips } of show.rows)
        for (const { area } of clips)
          if (!areas.byPackId.has(area)) counts.set(area, (counts.get(area) ?? 0) + 1);
  return [...counts].map(([area, clipCount]) => ({ area, clipCount }));
}

/** Plans it. Nothing is changed; the edit is one step back. */
export function plannedImport(
  pack: ShowPack,
  project: Project,
  layout: Layout,
  wishes: ImportWishes,
): PlannedImport {
  const areas = settleAreas(pack, project, layout, wishes);
  const fitted = fittedShows(pack, wishes.shows, areas);
  const hadClips = new Set(pack.lampshows.filter((show) => countOf([show]) > 0).map(({ id }) => id));
  const isEmpty = (show: Lampshow): boolean => hadClips.has(show.id) && countOf([show]) === 0;
  const kept = fitted.filter((show) => !isEmpty(show));
  const clips = kept.flatMap(({ rows }) => rows.flatMap((row) => row.clips));
  const gradients = settleGradients(pack, project, new Set(clips.map(({ gradient }) => gradient)));

  const shows: Lampshow[] = [];
  const showIds = new Map<string, string>();
  for (const show of kept) {
    const taken = [...project.lampshows, ...shows];
    const id = freeId(idsOf(taken), show.id);
    showIds.set(show.id, id);
    const rows = show.rows.map((row) => ({
      ...row,
      clips: row.clips.map((clip) => ({ ...clip, gradient: gradients.byPackId.get(clip.gradient)! })),
    }));
    shows.push({ ...show, id, name: freeName(taken, show.name ?? show.id), rows } as Lampshow);
  }
  const known = idsOf(project.gameEvents ?? []);
  const events = (wishes.withEvents ? (pack.gameEvents ?? []) : [])
    .filter(({ lampshow }) => showIds.has(lampshow))
    .map((event) => {
      const id = freeId(known, event.id);
      known.push(id);
      return { ...event, id, lampshow: showIds.get(event.lampshow)! };
    });

  const refusals = (
    [
      [project.lampshows.length + shows.length, limits.lampshows, 'lampshows'],
      [project.gradients.length + gradients.added.length, limits.gradients, 'gradients'],
      [project.areas.length + areas.added.length, limits.areas, 'areas'],
      [countOf(project.lampshows) + countOf(shows), limits.clips, 'clips in all shows together'],
      [known.length, mostEvents, 'game events'],
    ] as const
  )
    .filter(([count, most]) => count > most)
    .map(([count, most, what]) => `A project holds ${most} ${what}; with these there would be ${count}.`);

  const edit: Edit = (draft) => {
    for (const area of areas.added) addArea(area)(draft);
    for (const gradient of gradients.added) addGradient(gradient)(draft);
    for (const show of shows) addLampshow(show)(draft);
    for (const event of events) addGameEvent(event)(draft);
  };
  return {
    edit: refusals.length === 0 && shows.length > 0 ? edit : undefined,
    refusals,
    shows: idsOf(shows),
    areas: idsOf(areas.added),
    newGradientCount: gradients.added.length,
    sharedGradientCount: gradients.byPackId.size - gradients.added.length,
    eventCount: events.length,
    leftOut: leftOutOf(pack, wishes.shows, areas),
    emptyShows: fitted.filter(isEmpty).map(({ id, name }) => name ?? id),
  };
}
