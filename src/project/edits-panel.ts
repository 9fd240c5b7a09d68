// Edits of the project's name, the panel, the board and its pins, and the output stage. Each returns a recipe for history.ts.
// Not here: whether a value makes sense (fields of the app bound what can be typed; findings tell the rest).
import { rowById, sheets } from '../catalogue/index.ts';
import { applyChange, type Change, partOf } from './edits-parts.ts';
import type { Edit } from './history.ts';
import type { Project } from './types.ts';

type Panel = Project['panel'];

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
    applyChange(project, 'panel', size);

export const setOpening =
  (opening: Panel['opening'] | undefined): Edit =>
  (project) =>
    applyChange(project, 'panel', { opening });

export const setAirGap =
  (airGapMm: number): Edit =>
  (project) => {
    project.panel.airGapMm = airGapMm;
  };

export const setSheet =
  (sheet: string): Edit =>
  (project) => {
    if (!rowById(sheets, sheet)) throw new Error(`no sheet "${sheet}"`);
    project.panel.sheet = sheet;
  };

export const setArtwork =
  (artwork: Panel['artwork'] | undefined): Edit =>
  (project) =>
    applyChange(project, 'panel', { artwork });

export const setBoard =
  (id: Project['board']['id']): Edit =>
  (project) => {
    project.board.id = id;
  };

export const setPin =
  (dataLine: number, pin: number): Edit =>
  (project) => {
    partOf(project.dataLines, dataLine, 'data line').pin = pin;
  };

export const setOutput =
  (change: Change<Project['output']>): Edit =>
  (project) =>
    applyChange(project, 'output', change);
