// Plans beside the page: each new task calls the one before off.
import { useEffect, useState } from 'react';
import type { LinePlan, PlanTask } from './plan-task.ts';

export type Planning =
  | { readonly state: 'planning' }
  | { readonly state: 'planned'; readonly plans: readonly LinePlan[] }
  | { readonly state: 'failed' };

const planning: Planning = { state: 'planning' };

/** `task` must stay the same object as long as it means the same; undefined: nothing to plan. */
export function usePlan(task: PlanTask | undefined): Planning {
  const [answer, setAnswer] = useState<{ readonly to: PlanTask; readonly is: Planning }>();
  useEffect(() => {
    if (!task) return undefined;
    const worker = new Worker(new URL('./plan-worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = ({ data }: MessageEvent<LinePlan[]>) =>
      setAnswer({ to: task, is: { state: 'planned', plans: data } });
    worker.onerror = () => setAnswer({ to: task, is: { state: 'failed' } });
    worker.postMessage(task);
    return () => worker.terminate();
  }, [task]);
  return answer && answer.to === task ? answer.is : planning;
}
