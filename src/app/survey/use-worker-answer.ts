// Asks a worker one question and listens until it has answered; each new question calls the one before off. What is asked and answered is the worker's
// own affair. Not here: workers whose answers outlive the part of the screen that asked (use-flashes.ts).
import { useEffect, useState } from 'react';

/** What a worker posts: how far it is, as often as it likes, then the answer. */
export type WorkerWord<Answer, Progress = never> =
  | { readonly progress: Progress }
  | { readonly answer: Answer };

export type WorkerAnswer<Answer, Progress = never> =
  | { readonly state: 'working'; readonly progress: Progress | undefined }
  | { readonly state: 'done'; readonly answer: Answer }
  | { readonly state: 'failed' };

const working = { state: 'working', progress: undefined } as const;

/**
 * @param task must stay the same object as long as it means the same; undefined: nothing to ask
 * @param start makes the worker; the same function at each call
 */
export function useWorkerAnswer<Answer, Progress = never>(
  task: object | undefined,
  start: () => Worker,
): WorkerAnswer<Answer, Progress> {
  const [heard, setHeard] = useState<{
    readonly to: object;
    readonly is: WorkerAnswer<Answer, Progress>;
  }>();
  useEffect(() => {
    if (!task) return undefined;
    const worker = start();
    const hear = (is: WorkerAnswer<Answer, Progress>) => setHeard({ to: task, is });
    worker.onmessage = ({ data }: MessageEvent<WorkerWord<Answer, Progress>>) => {
      if ('progress' in data) {
        hear({ state: 'working', progress: data.progress });
        return;
      }
      worker.terminate();
      hear({ state: 'done', answer: data.answer });
    };
    worker.onerror = () => hear({ state: 'failed' });
    worker.postMessage(task);
    return () => worker.terminate();
  }, [task, start]);
  return heard?.to === task && heard ? heard.is : working;
}
