// What "Lay out for me" asks, and what comes of the answers: the task for the automatic layout, and the figures of a proposal before it is laid. Pure.
import { boardOf, type CompiledProject, isQuiet, sramReserveBytes } from '../../../board/index.ts';
import {
  type AutoLayoutTask,
  areaLeds,
  type Layout,
  layOut,
  type PointMm,
  rectangleOutline,
  shortestPieceLeds,
} from '../../../panel/index.ts';
import { panelNetwork, totalAmps, whiteAmps } from '../../../power/index.ts';
import { type Area, type Edit, edited, limits, type Project, startHistory } from '../../../project/index.ts';

export interface LayOutChoices {
  readonly pattern: AutoLayoutTask['pattern'];
  readonly strip: string;
  /** `opening`, or the id of an area behind `area `. */
  readonly where: string;
  /** As the air gap suggests where absent. */
  readonly spacingMm?: number | undefined;
  readonly marginMm: number;
  readonly mostLeds: number;
  readonly replace: boolean;
}

/** The closed line that an area was drawn with; none for areas that are lists of runs, or brushed. */
export function outlineOfArea({ members }: Area): readonly PointMm[] | undefined {
  for (const one of members) {
    if (one.kind === 'outline') return one.points;
    if (one.kind === 'rectangle') return rectangleOutline(one.xMm, one.yMm, one.widthMm, one.heightMm);
  }
  return undefined;
}

export const placeOfArea = (id: string): string => `area ${id}`;

export function placesToFill({ areas, panel }: Pick<Project, 'areas' | 'panel'>) {
  return [
    { id: 'opening', label: panel.opening ? 'The visible opening' : 'The whole panel' },
    ...areas
      .filter((area) => outlineOfArea(area))
      .map(({ id, name }) => ({ id: placeOfArea(id), label: name ?? id })),
  ];
}

export function taskOf(project: Project, choices: LayOutChoices): AutoLayoutTask {
  const { where, ...others } = choices;
  const area = project.areas.find(({ id }) => placeOfArea(id) === where);
  return { ...others, outline: area && outlineOfArea(area) };
}

/** How many LEDs the board has memory for beside what it holds now, those that go included; as many as a project holds where it isn't known. */
export function roomForLeds({ project, layout, budget }: CompiledProject, replace: boolean): number {
  const freed = replace ? layout.wireLeds.length : 0;
  const held = replace ? 0 : project.runs.reduce((sum, run) => sum + run.ledCount, 0);
  const most = Math.max(0, limits.leds - held);
  if (!budget) return most;
  const spareBytes = budget.sram.freeBytes - sramReserveBytes(boardOf(project), isQuiet(project));
  return Math.max(0, Math.min(most, Math.floor(spareBytes / 3) + freed));
}

export interface Outlook {
  readonly project: Project;
  readonly layout: Layout;
  /** All runs white, the old ones that stay included. */
  readonly amps: number;
}

/** The project as it would be, and what it would draw at most. */
export function outlookOf(project: Project, edit: Edit): Outlook {
  const after = edited(startHistory(project), 'proposal', edit).project;
  const layout = layOut(after);
  return { project: after, layout, amps: totalAmps(whiteAmps(panelNetwork(after, layout))) };
}

/** Names of the areas that have LEDs now and would have none afterwards: shows on them would be dark. */
export function areasEmptied({ project, layout }: CompiledProject, after: Outlook): string[] {
  return project.areas
    .filter((area) => {
      const then = after.project.areas.find(({ id }) => id === area.id);
      return areaLeds(layout, area).length > 0 && (!then || areaLeds(after.layout, then).length === 0);
    })
    .map(({ id, name }) => name ?? id);
}

/** Why nothing is proposed: the LEDs allowed, where those are fewer than the shortest piece has, or else the room on the panel. */
export function whyEmpty(mostLeds: number): string {
  return mostLeds < shortestPieceLeds
    ? `No run fits: a piece has at least ${shortestPieceLeds} LEDs, and ${mostLeds} ${mostLeds === 1 ? 'is' : 'are'} allowed. Allow more, take runs away first, or choose a board with more memory.`
    : 'No run fits: what is to be filled leaves no room for this strip.';
}

export const inWords = (count: number, one: string, several = `${one}s`): string =>
  `${count} ${count === 1 ? one : several}`;
