// Plans chains on a thread of its own, so that the page goes on while a large panel is planned.
import { type PlanTask, planned } from './plan-task.ts';

addEventListener('message', ({ data }: MessageEvent<PlanTask>) => postMessage(planned(data)));
