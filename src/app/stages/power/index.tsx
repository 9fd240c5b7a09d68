// The stage Power: what the panel draws, which voltage reaches each LED, where feeds enter, which supply carries it.
import type { StageParts } from '../stage-parts.ts';
import { PowerDock } from './power-dock.tsx';
import { PowerInspector } from './power-inspector.tsx';
import { PowerTables } from './power-tables.tsx';
import { PowerTools } from './power-tools.tsx';

export const powerStage: StageParts = {
  Tools: PowerTools,
  Beside: PowerTables,
  Dock: PowerDock,
  Inspector: PowerInspector,
};
