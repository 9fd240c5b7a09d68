// Plans feeds on a thread of its own, so that the page goes on while a large panel is planned.
import { type FeedPlanTask, feedsPlanned } from './feed-plan-task.ts';

addEventListener('message', ({ data }: MessageEvent<FeedPlanTask>) =>
  postMessage({ answer: feedsPlanned(data) }),
);
