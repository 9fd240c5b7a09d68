// The stage Runs: laying strip over the artwork, chaining it, and gathering LEDs into areas.
import { useScreen, useSelection } from '../../workbench/context.ts';
import type { StageParts } from '../stage-parts.ts';
import { AreaInspector } from './area-inspector.tsx';
import { RunsDock } from './dock.tsx';
import { JumperInspector } from './jumper-inspector.tsx';
import { PanelOverview } from './panel-overview.tsx';
import { RunInspector } from './run-inspector.tsx';
import { RunTools } from './run-tools.tsx';
import { SeveralInspector } from './several-inspector.tsx';
import { SpotsInspector } from './spots-group.tsx';

/** What is typed belongs to one thing: another one gets fields of its own. */
function RunsInspector() {
  const selection = useSelection();
  const isMarking = useScreen(({ tool }) => tool === 'mark-spots');
  if (isMarking) return <SpotsInspector />;
  if (selection.kind === 'run') return <RunInspector key={selection.id} id={selection.id} />;
  if (selection.kind === 'runs')
    return <SeveralInspector key={selection.ids.join(' ')} ids={selection.ids} />;
  if (selection.kind === 'area') return <AreaInspector key={selection.id} id={selection.id} />;
  if (selection.kind === 'jumper') {
    const { line, place } = selection;
    return <JumperInspector key={`${line} ${place}`} line={line} place={place} />;
  }
  return <PanelOverview />;
}

export const runsStage: StageParts = { Tools: RunTools, Dock: RunsDock, Inspector: RunsInspector };
