// What the stage Runs adds to the tool bar: drawing runs and areas by mouse.
import { Segments } from '../../fields/index.ts';
import { useScreen, useWorkbench } from '../../workbench/context.ts';
import type { ToolId } from '../../workbench/workbench.ts';

const tools = [
  { id: 'select', label: 'Choose' },
  { id: 'draw-run', label: 'Draw a run' },
  { id: 'draw-area', label: 'Draw an area' },
] as const satisfies readonly { id: ToolId; label: string }[];

export function RunTools() {
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
