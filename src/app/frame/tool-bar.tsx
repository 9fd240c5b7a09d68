// The bar over the canvas: how the panel is seen, what the stage at hand can do, and where the pointer is.
import type { ReactNode } from 'react';
import { Button, Segments } from '../fields/index.ts';
import { viewRows } from '../workbench/commands/screen-commands.ts';
import { useCommander, useScreen, useWorkbench } from '../workbench/context.ts';
import { PointerPlace } from './pointer-place.tsx';
import css from './tool-bar.module.css';

const sides = [
  { id: 'front', label: 'Front' },
  { id: 'rear', label: 'Rear' },
] as const;

export function ToolBar({ children }: { readonly children?: ReactNode }) {
  const workbench = useWorkbench();
  const commander = useCommander();
  const view = useScreen((state) => state.view);
  const side = useScreen((state) => state.side);
  return (
    <div className={css['bar']} data-bar="tools">
      <Segments label="View" value={view} choices={viewRows} onChange={(id) => workbench.set({ view: id })} />
      <Segments label="Side" value={side} choices={sides} onChange={(id) => workbench.set({ side: id })} />
      <div className={css['rest']}>
        {children}
        <PointerPlace />
        <Button onPress={() => commander.run('fit')}>Fit</Button>
      </div>
    </div>
  );
}
