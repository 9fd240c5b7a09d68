// The six stages in the order of the job.
import { CircuitBoard, Hammer, Image, Layers, Rows3, Zap } from 'lucide-react';
import { stageRows } from '../workbench/commands/screen-commands.ts';
import { useScreen, useWorkbench } from '../workbench/context.ts';
import type { StageId } from '../workbench/workbench.ts';
import css from './stages.module.css';

const icons: Readonly<Record<StageId, typeof Image>> = {
  panel: Image,
  runs: Rows3,
  lampshows: Layers,
  power: Zap,
  workshop: Hammer,
  board: CircuitBoard,
};

export function Stages() {
  const workbench = useWorkbench();
  const stage = useScreen((state) => state.stage);
  return (
    <nav className={css['stages']} aria-label="Stages" data-bar="stages">
      {stageRows.map(({ id, label }, index) => {
        const Icon = icons[id];
        return (
          <button
            key={id}
            type="button"
            className={css['stage']}
            aria-current={id === stage ? 'step' : undefined}
            aria-keyshortcuts={`Alt+${index + 1}`}
            onClick={() => workbench.enter(id)}
          >
            <Icon size={20} strokeWidth={1.5} aria-hidden="true" />
            {label}
          </button>
        );
      })}
    </nav>
  );
}
