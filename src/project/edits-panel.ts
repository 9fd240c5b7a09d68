// Edits of the project's name, the panel's own values, the board, its place and its pins, and the output stage. Each returns a recipe for
// history.ts. Not here: lists that lie on the panel (edits-keep-outs.ts, edits-guides.ts, edits-measures.ts), the builder's own sheets
// (edits-sheets.ts), a true scale that carries everything along (src/panel/true-scale.ts), whether a value makes sense (findings tell).
// Numbers are brought inside the schema's bounds.
import { sheets } from '../catalogue/index.ts';
import { changeWithinSchema } from './bounds.ts';
import { applyChange, byId, type Change, partOf } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { projectSchema } from './schema.ts';
import type { Project } from './types.ts';

type Panel = Project['panel'];
type Backing = NonNullable<Panel['backing']>;
type Line = Project['dataLines'][number];
const panelSchema = projectSchema.properties.panel;

/** A project always has a name: an empty one leaves the old. */
export const renameProject =
  (name: string): Edit =>
  (project) => {
    if (name !== '') project.name = name;
  };

/** @param savedOn a day or a moment in UTC, as the schema writes it */
export const setSavedOn =
  (savedOn: string): Edit =>
  (project) => {
    project.savedOn = savedOn;
  };

export const setPanelSize =
  (size: Change<Pick<Panel, 'widthMm' | 'heightMm'>>): Edit =>
  (project) =>
    applyChange(project, 'panel', changeWithinSchema<Panel>(panelSchema, size, project.panel));

export const setOpening =
  (opening: Panel['opening'] | undefined): Edit =>
  (project) =>
    applyChange(project, 'panel', changeWithinSchema<Panel>(panelSchema, { opening }, project.panel));

export const setAirGap =
  (airGapMm: number): Edit =>
  (project) =>
    applyChange(project, 'panel', changeWithinSchema<Panel>(panelSchema, { airGapMm }, project.panel));

export const setSheet =
  (sheet: string): Edit =>
  (project) => {
    byId([...(project.sheets ?? []), ...sheets], sheet, 'sheet');
    project.panel.sheet = sheet;
  };

export const setArtwork =
  (artwork: Panel['artwork'] | undefined): Edit =>
  (project) =>
    applyChange(project, 'panel', { artwork });

/** Where the print lets light through; undefined: everywhere, as the artwork does. */
export const setOpacity =
  (opacity: Panel['opacity'] | undefined): Edit =>
  (project) =>
    applyChange(project, 'panel', { opacity });

/** Thickness of the clear pane in front of the artwork; undefined: there is none. */
export const setGlass =
  (glassMm: number | undefined): Edit =>
  (project) =>
    applyChange(project, 'panel', changeWithinSchema<Panel>(panelSchema, { glassMm }, project.panel));

/**
 * Changes some of the backing's properties; undefined takes the backing away. A panel without one gets one with these properties, if its
 * thickness is among them.
 */
export const setBacking =
  (change: Change<Backing> | undefined): Edit =>
  (project) => {
    const { panel } = project;
    if (change === undefined) return applyChange(project, 'panel', { backing: undefined });
    const bounded = changeWithinSchema<Backing>(panelSchema.properties.backing, change, panel.backing);
    if (panel.backing) return applyChange(panel as { backing: Backing }, 'backing', bounded);
    const fresh = { backing: {} as Backing };
    applyChange(fresh, 'backing', bounded);
    if (fresh.backing.thicknessMm !== undefined) panel.backing = fresh.backing;
  };

export const setBoard =
  (id: Project['board']['id']): Edit =>
  (project) => {
    project.board.id = id;
  };

/** Where the board sits behind the panel; undefined: not known yet. */
export const setBoardPlace =
  (place: Project['board']['place'] | undefined): Edit =>
  (project) =>
    applyChange(
      project,
      'board',
      changeWithinSchema<Project['board']>(projectSchema.properties.board, { place }, project.board),
    );

/** What the board's pins give. */
export const setBoardOutput =
  (outputVolts: Project['board']['outputVolts']): Edit =>
  (project) =>
    applyChange(project, 'board', { outputVolts });

/** What stands between the board and a data line's first LED. */
export const setDataLineParts =
  (dataLine: number, change: Change<Pick<Line, 'resistorOhms' | 'hasShifter'>>): Edit =>
  (project) => {
    const line = partOf(project.dataLines, dataLine, 'data line');
    const { items } = projectSchema.properties.dataLines;
    applyChange(project.dataLines, dataLine, changeWithinSchema<Line>(items, change, line));
  };

/** Undefined: the line has no pin yet. */
export const setPin =
  (dataLine: number, pin: number | undefined): Edit =>
  (project) => {
    const line = partOf(project.dataLines, dataLine, 'data line');
    const { items } = projectSchema.properties.dataLines;
    applyChange(project.dataLines, dataLine, changeWithinSchema<Line>(items, { pin }, line));
  };

export const setOutput =
  (change: Change<Project['output']>): Edit =>
  (project) =>
    applyChange(
      project,
      'output',
      changeWithinSchema(projectSchema.properties.output, change, project.output),
    );
