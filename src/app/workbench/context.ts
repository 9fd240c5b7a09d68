// Ties the workbench to React: one context, and a hook for each part of it, so that a component is drawn again only for what it reads.
import { createContext, useContext, useSyncExternalStore } from 'react';
import { useStore } from 'zustand';
import type { CompiledProject } from '../../board/index.ts';
import type { PowerAssessment, SolvedCase } from '../../power/index.ts';
import type { Edit, Project } from '../../project/index.ts';
import type { PlaybackState } from '../playback/playback.ts';
import type { Commander } from './commander.ts';
import type { Figures } from './figures.ts';
import { brokenAssessment, type PowerView, shownCase } from './power-view.ts';
import type { Selection, SelectionOf } from './selection.ts';
import type { Workbench, WorkbenchState } from './workbench.ts';

export interface Tools {
  readonly workbench: Workbench;
  readonly commander: Commander;
}

export const ToolsContext = createContext<Tools | undefined>(undefined);

function useTools(): Tools {
  const tools = useContext(ToolsContext);
  if (!tools) throw new Error('no workbench around this component');
  return tools;
}

export const useWorkbench = (): Workbench => useTools().workbench;
export const useCommander = (): Commander => useTools().commander;

/** `pick` must give the same object for the same state. */
export const useScreen = <T>(pick: (state: WorkbenchState) => T): T => useStore(useWorkbench().store, pick);
export const useProject = <T>(pick: (project: Project) => T): T =>
  useScreen(({ history }) => pick(history.project));
export const useCompiled = (): CompiledProject => useScreen(({ compiled }) => compiled);
/** All of one piece, with the show data that the player plays; may lag the document while something is dragged. */
export const useSettled = (): CompiledProject => useScreen(({ settled }) => settled);
/** May lag the document by a tenth of a second. */
export const useFigures = (): Figures => useScreen(({ figures }) => figures);
/** What the view Volts shows: the plan's power, or with what is broken in the what-ifs, and the load case that is looked at. */
export function useShownPower(): {
  readonly assessment: PowerAssessment;
  readonly shown: SolvedCase;
  readonly view: PowerView;
} {
  const { assessment: plan, compiled } = useFigures();
  const view = useScreen(({ powerView }) => powerView);
  const assessment = brokenAssessment(plan, compiled, view.faults);
  return { assessment, shown: shownCase(assessment, view.loadCase), view };
}

export const useSelection = (): Selection => useScreen(({ selection }) => selection);

/** The selection if it is of this kind. */
export function useSelected<K extends Selection['kind']>(kind: K): SelectionOf<K> | undefined {
  const selection = useSelection();
  return selection.kind === kind ? (selection as SelectionOf<K>) : undefined;
}

/** Edits the document; see Workbench.edit. */
export function useEdit(): (label: string, edit: Edit, gesture?: string) => void {
  const workbench = useWorkbench();
  return (label, edit, gesture) => workbench.edit(label, edit, gesture);
}

export function usePlaybackPart<K extends keyof PlaybackState>(key: K): PlaybackState[K] {
  const { playback } = useWorkbench();
  return useSyncExternalStore(playback.subscribe, () => playback.current()[key]);
}

export function usePlaybackState(): PlaybackState {
  const { playback } = useWorkbench();
  return useSyncExternalStore(playback.subscribe, playback.current);
}
