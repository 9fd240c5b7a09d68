// The stage Runs: laying strip over the artwork, chaining it, and gathering LEDs into areas.
import { useSelection } from '../../workbench/context.ts';
import type { StageParts } from '../stage-parts.ts';
import { AreaInspector } from './area-inspector.tsx';
import { ChainDock } from './chain-dock.tsx';
import { JumperInspector } from './jumper-inspector.tsx';
import { PanelOverview } from './panel-overview.tsx';
import { RunInspector } from './run-inspector.tsx';
import { RunTools } from './run-tools.tsx';

function RunsInspector() {
  const selection = useSelection();
  if (selection.kind === 'run') return <RunInspector id={selection.id} />;
  if (selection.kind === 'area') return <AreaInspector id={selection.id} />;
  if (selection.kind === 'jumper') return <JumperInspector {...selection} />;
  return <PanelOverview />;
}

export const runsStage: StageParts = { Tools: RunTools, Dock: ChainDock, Inspector: RunsInspector };
