// The stage Workshop: the backing's drawing as the tool gets it, what to cut from the reel, and the files.
import type { StageParts } from '../stage-parts.ts';
import { CutDock } from './cut-dock.tsx';
import { Drawing } from './drawing.tsx';
import { WorkshopInspector } from './workshop-inspector.tsx';

export const workshopStage: StageParts = { Main: Drawing, Dock: CutDock, Inspector: WorkshopInspector };
