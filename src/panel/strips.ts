// Which strip a run is cut from, and which sheet lies in front: the builder's own if the project has one with that id, else the catalogue's.
import { rowById, type Sheet, sheets, strips } from '../catalogue/index.ts';
import type { Project, Run, StripData } from '../project/index.ts';

/** The strip with this id. Throws if there is none: a project that was read has no such reference. */
export function stripById(project: Pick<Project, 'strips'>, id: string): StripData {
  const strip = rowById<StripData>(project.strips ?? [], id) ?? rowById<StripData>(strips, id);
  if (!strip) throw new Error(`no strip "${id}"; the project was not checked`);
  return strip;
}

/** Strip data of a run, its own colour order applied. */
export function stripOfRun(
  project: Pick<Project, 'strips'>,
  run: Pick<Run, 'strip' | 'colourOrder'>,
): StripData {
  const strip = stripById(project, run.strip);
  return run.colourOrder === undefined ? strip : { ...strip, colourOrder: run.colourOrder };
}

/** The strip that a new run is cut from: the one used last, else a common one. */
export const defaultStripOf = ({ runs }: Pick<Project, 'runs'>): string => runs.at(-1)?.strip ?? 'ws2812b-60';

/** What calculations need to know of a sheet; the builder's own and the catalogue's alike. */
export type SheetData = Omit<Sheet, 'label'>;

/** The panel's diffuser sheet. Throws if there is none with its id: a project that was read has no such reference. */
export function sheetOf({ panel, sheets: own }: Pick<Project, 'panel' | 'sheets'>): SheetData {
  const sheet = rowById<SheetData>(own ?? [], panel.sheet) ?? rowById<SheetData>(sheets, panel.sheet);
  if (!sheet) throw new Error(`no sheet "${panel.sheet}"; the project was not checked`);
  return sheet;
}
