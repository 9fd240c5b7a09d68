// The inspector while cells are painted on the glass: tool, colours, frames with their price, whole frames, grid, pictures.
import { Button, Buttons, InspectorTitle } from '../../../fields/index.ts';
import { setPaintMode } from '../../../workbench/commands/paint-commands.ts';
import { useProject, useWorkbench } from '../../../workbench/context.ts';
import type { PaintedPlace } from '../../../workbench/painting.ts';
import { nameOf } from '../words.ts';
import { ColoursGroup } from './colours-group.tsx';
import { FramesGroup } from './frames-group.tsx';
import { PicturesGroup } from './pictures-group.tsx';
import { ToolsGroup } from './tools-group.tsx';
import { GridGroup, WholeFrameGroup } from './whole-frame-group.tsx';

export function PaintPane({ painted }: { readonly painted: PaintedPlace }) {
  const workbench = useWorkbench();
  const area = useProject(({ areas }) => areas.find(({ id }) => id === painted.clip.area));
  const { effect, frame } = painted;
  return (
    <>
      <InspectorTitle title={`Painting on ${area ? nameOf(area) : painted.clip.area}`}>
        {`Frame ${frame + 1} of ${effect.frames.length}, ${effect.columns} × ${effect.rows} cells`}
      </InspectorTitle>
      <Buttons>
        <Button tone="main" onPress={() => setPaintMode(workbench, false)}>
          Done
        </Button>
      </Buttons>
      <ToolsGroup />
      <ColoursGroup painted={painted} />
      <FramesGroup painted={painted} />
      <WholeFrameGroup painted={painted} />
      <GridGroup painted={painted} />
      <PicturesGroup painted={painted} />
    </>
  );
}
