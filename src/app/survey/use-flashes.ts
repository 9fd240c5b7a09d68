// Looks for flashes beside the page, anew after every edit of what plays; and gives what was found to whoever shows it.
import { useEffect } from 'react';
import type { FlashFound } from '../../board/index.ts';
import { useScreen, useSettled, useWorkbench } from '../workbench/context.ts';
import { flashTask } from './flash-task.ts';
import { type FlashState, flashState } from './flashes.ts';

/** A burst of edits is looked at once, when it is over. */
const calmMs = 700;

/** Once on the page. */
export function useFlashSurveying(): void {
  const workbench = useWorkbench();
  const { showData, layout } = useSettled();
  const distanceMm = useScreen((state) => state.flashes.distanceMm);
  useEffect(() => {
    const answered = (found: readonly FlashFound[] | undefined) =>
      workbench.set({ flashes: { distanceMm, answer: { showData, layout, distanceMm, found } } });
    let worker: Worker | undefined;
    const timer = setTimeout(() => {
      const task = flashTask(workbench.state.settled, distanceMm);
      if (!task) return;
      worker = new Worker(new URL('./flash-worker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = ({ data }: MessageEvent<FlashFound[]>) => {
        worker?.terminate();
        answered(data);
      };
      worker.onerror = () => answered(undefined);
      worker.postMessage(task);
    }, calmMs);
    return () => {
      clearTimeout(timer);
      worker?.terminate();
    };
  }, [workbench, showData, layout, distanceMm]);
}

export function useFlashes(): FlashState {
  const settled = useSettled();
  const flashes = useScreen((state) => state.flashes);
  return flashState(settled, flashes);
}
