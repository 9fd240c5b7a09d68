// A painted clip in the inspector while it is not painted: what it holds, and the way to its cells.
import type { PaintedEffect } from '../../../../project/index.ts';
import { Button, Buttons, Derived, Group } from '../../../fields/index.ts';
import { figure, seconds } from '../../../format.ts';
import { useCommander } from '../../../workbench/context.ts';

export function PaintedGroup({ effect }: { readonly effect: PaintedEffect }) {
  const commander = useCommander();
  const { frames, palette, columns, rows } = effect;
  return (
    <Group title="Painted frames">
      <Derived label="Frames">{figure(frames.length)}</Derived>
      <Derived label="All take" unit="s">
        {seconds(frames.reduce((sum, { holdMs }) => sum + holdMs, 0))}
      </Derived>
      <Derived label="Cells">{`${columns} × ${rows}`}</Derived>
      <Derived label="Colours">{figure(palette.length)}</Derived>
      <Buttons>
        <Button tone="main" label="Paint on the glass" onPress={() => commander.run('paint-mode')}>
          Paint on the glass
        </Button>
      </Buttons>
    </Group>
  );
}
