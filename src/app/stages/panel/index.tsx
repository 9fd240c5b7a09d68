// The stage Panel: the artwork at true scale, the panel's sizes, and the sandwich of sheet and air gap that makes its light even.
import type { StageParts } from '../stage-parts.ts';
import { PanelDock } from './panel-dock.tsx';
import { PanelInspector } from './panel-inspector.tsx';
import { PanelTools } from './panel-tools.tsx';

export const panelStage: StageParts = { Tools: PanelTools, Dock: PanelDock, Inspector: PanelInspector };
