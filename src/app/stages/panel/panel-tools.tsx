// What the stage Panel adds to the tool bar: what a press on the panel does.
import { Segments } from '../../fields/index.ts';
import { useScreen, useWorkbench } from '../../workbench/context.ts';
import type { ToolId } from '../../workbench/workbench.ts';

const tools = [
  { id: 'select', label: 'Choose' },
  { id: 'true-scale', label: 'Measured distance' },
  { id: 'draw-keep-out', label: 'Keep-out' },
  { id: 'measure', label: 'Measure' },
] as const satisfies readonly { id: ToolId; label: string }[];

export function PanelTools() {
  const workbench = useWorkbench();
  const tool = useScreen((state) => state.tool);
  return (
    <Segments<ToolId>
      label="A press on the panel"
      value={tool}
      choices={tools}
      onChange={(id) => workbench.set({ tool: id })}
    />
  );
}
