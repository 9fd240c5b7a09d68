// A show pack of a project: chosen lampshows with the gradients and areas that their clips name. And which area of another panel each of its areas
// means there: by role, then by id. Not here: the file (src/project/read-pack.ts), taking it in (pack-import.ts).
import { areaLeds, type Layout, plannedLeds } from '../panel/index.ts';
import type { Area, Lampshow, Project } from '../project/index.ts';
import type { PackArea, ShowPack } from '../project/read-pack.ts';
import { packFormat, packVersion } from '../project/schema-pack.ts';
import type { BoxMm } from './pack-places.ts';

/** What an area is on any panel. */
export const roleOf = ({ role, id }: Pick<Area, 'role' | 'id'>): string => role ?? id;

/** The rectangle round all planned LEDs of an area, the dark ones too; undefined where it has none. */
export function areaBox(layout: Layout, area: Area): BoxMm | undefined {
  const { all } = plannedLeds(areaLeds(layout, area));
  return boxOf(all);
}

export function boxOf(places: readonly { readonly xMm: number; readonly yMm: number }[]): BoxMm | undefined {
  if (places.length === 0) return undefined;
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { xMm, yMm } of places) {
    left = Math.min(left, xMm);
    top = Math.min(top, yMm);
    right = Math.max(right, xMm);
    bottom = Math.max(bottom, yMm);
  }
  return { xMm: left, yMm: top, widthMm: right - left, heightMm: bottom - top };
}

/** Places are kept to a millionth of a panel, which is 3 thousandths of a millimetre on the largest. */
const share = (mm: number, ofMm: number): number => Math.round((1e6 * mm) / ofMm) / 1e6 + 0;

const clipsOf = (show: Lampshow) => show.rows.flatMap((row) => row.clips);

function packArea(project: Project, layout: Layout, area: Area): PackArea {
  const { widthMm, heightMm } = project.panel;
  const box = areaBox(layout, area) ?? { xMm: 0, yMm: 0, widthMm, heightMm };
  return {
    id: area.id,
    ...(area.name === undefined ? {} : { name: area.name }),
    role: roleOf(area),
    order: area.order,
    box: {
      x: share(box.xMm, widthMm),
      y: share(box.yMm, heightMm),
      width: share(box.widthMm, widthMm),
      height: share(box.heightMm, heightMm),
    },
  };
}

/** Throws for a show that the project doesn't hold, and for none at all. Shows keep the project's order. */
export function packOf(
  project: Project,
  layout: Layout,
  shows: readonly string[],
  withEvents: boolean,
): ShowPack {
  for (const id of shows)
    if (!project.lampshows.some((show) => show.id === id)) throw new Error(`no lampshow "${id}" to pack`);
  const lampshows = project.lampshows.filter(({ id }) => shows.includes(id));
  if (lampshows.length === 0) throw new Error('a pack holds at least one show');
  const clips = lampshows.flatMap(clipsOf);
  const areas = new Set(clips.map(({ area }) => area));
  const gradients = new Set(clips.map(({ gradient }) => gradient));
  const events = (project.gameEvents ?? []).filter(({ lampshow }) => shows.includes(lampshow));
  const { name, panel } = project;
  return {
    format: packFormat,
    version: packVersion,
    name,
    panelSize: { widthMm: panel.widthMm, heightMm: panel.heightMm },
    areas: project.areas.filter(({ id }) => areas.has(id)).map((area) => packArea(project, layout, area)),
    gradients: project.gradients.filter(({ id }) => gradients.has(id)),
    lampshows: lampshows as unknown as ShowPack['lampshows'],
    ...(withEvents && events.length > 0 ? { gameEvents: events.map(({ pin: _, ...event }) => event) } : {}),
  };
}

/** The box of a pack's area, in mm of the panel that it comes from. */
export function packBox({ panelSize }: Pick<ShowPack, 'panelSize'>, { box }: Pick<PackArea, 'box'>): BoxMm {
  const { widthMm, heightMm } = panelSize;
  return {
    xMm: box.x * widthMm,
    yMm: box.y * heightMm,
    widthMm: box.width * widthMm,
    heightMm: box.height * heightMm,
  };
}

/** What takes the place of a pack's area: an area of this panel, all its LEDs, or nothing. */
export type AreaChoice =
  | { readonly kind: 'area'; readonly id: string }
  | { readonly kind: 'whole' }
  | { readonly kind: 'none' };

export interface AreaMatch {
  readonly area: PackArea;
  /** How its counterpart was found. */
  readonly by: 'role' | 'id' | 'none';
  readonly choice: AreaChoice;
}

/** The counterpart of each of the pack's areas, in its order. Of several with one role that with the same id, else the first. */
export function matchAreas(pack: ShowPack, project: Pick<Project, 'areas'>): AreaMatch[] {
  return pack.areas.map((area): AreaMatch => {
    const sameId = project.areas.find(({ id }) => id === area.id);
    const sameRole = project.areas.filter((one) => roleOf(one) === roleOf(area));
    const byRole = sameRole.find((one) => one === sameId) ?? sameRole[0];
    if (byRole) return { area, by: 'role', choice: { kind: 'area', id: byRole.id } };
    if (sameId) return { area, by: 'id', choice: { kind: 'area', id: sameId.id } };
    return { area, by: 'none', choice: { kind: 'none' } };
  });
}
