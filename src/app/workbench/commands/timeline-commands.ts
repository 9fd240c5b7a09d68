// What concerns a show's time: markers and beats at the playhead, the part that is repeated, and how much of the time is in view.
import { addBeat, addMarker } from '../../../project/index.ts';
import { type LoopRange, loopFrames } from '../../playback/playback.ts';
import { playheadOf } from '../../playback/playhead.ts';
import { timelineView } from '../../playback/timeline-view.ts';
import type { Workbench, WorkbenchState } from '../workbench.ts';
import { clipsOf } from './clip-commands.ts';
import type { ActCommand, Command, EditCommand } from './command.ts';

const isHere = ({ stage, game }: WorkbenchState): boolean => stage === 'lampshows' && !game.isOn;

const marking: readonly EditCommand[] = [
  {
    id: 'marker-add',
    label: 'Add a marker at the playhead',
    keys: ['M'],
    when: isHere,
    plan: (_, { show, atMs }) => ({ label: 'Add marker', edit: addMarker(show, { atMs }) }),
  },
  {
    id: 'beat-tap',
    label: 'Tap a beat',
    keys: ['B'],
    when: isHere,
    plan: (_, { show, atMs }) => ({ label: 'Tap beat', edit: addBeat(show, atMs) }),
  },
];

/** What is repeated now, or the whole show. */
function rangeOf({ playback, project }: Workbench): LoopRange {
  const { show, loop } = playback.current();
  return loop ?? { fromMs: 0, toMs: project.lampshows.find(({ id }) => id === show)!.lengthMs };
}

/** Sets both ends of what is repeated, a frame apart at least; the whole show is no part. */
export function setLoop(workbench: Workbench, range: LoopRange | undefined): void {
  const { playback, project, state } = workbench;
  const { show, frame } = playback.current();
  const lengthMs = project.lampshows.find(({ id }) => id === show)!.lengthMs;
  const { frameMs } = state.settled;
  if (!range || (range.fromMs <= 0 && range.toMs >= lengthMs)) {
    playback.setLoop(undefined);
    return;
  }
  const fromMs = Math.max(0, Math.min(Math.round(range.fromMs), lengthMs - frameMs));
  const toMs = Math.min(lengthMs, Math.max(Math.round(range.toMs), fromMs + frameMs));
  playback.setLoop({ fromMs, toMs });
  // Playing that has run on into a later pass would leave the range by leaps.
  const { to } = loopFrames({ fromMs, toMs }, frameMs);
  if (frame >= to) playback.scrubTo(Math.ceil(playheadOf(playback, project, frameMs).atMs / frameMs));
}

const playheadMs = ({ playback, project, state }: Workbench): number =>
  playheadOf(playback, project, state.settled.frameMs).atMs;

const looping: readonly ActCommand[] = [
  {
    id: 'loop-from',
    label: 'Repeat from the playhead',
    keys: ['I'],
    when: isHere,
    run: ({ workbench }) => setLoop(workbench, { ...rangeOf(workbench), fromMs: playheadMs(workbench) }),
  },
  {
    id: 'loop-to',
    label: 'Repeat up to the playhead',
    keys: ['O'],
    when: isHere,
    run: ({ workbench }) =>
      setLoop(workbench, {
        ...rangeOf(workbench),
        // The frame that is seen belongs to it.
        toMs: playheadMs(workbench) + workbench.state.settled.frameMs,
      }),
  },
  {
    id: 'loop-chosen',
    label: 'Repeat the chosen clips',
    keys: ['P'],
    when: (state) => isHere(state) && clipsOf(state) !== undefined,
    run: ({ workbench }) => {
      const { clips } = clipsOf(workbench.state)!;
      setLoop(workbench, {
        fromMs: Math.min(...clips.map(({ startMs }) => startMs)),
        toMs: Math.max(...clips.map(({ startMs, lengthMs }) => startMs + lengthMs)),
      });
    },
  },
  {
    id: 'loop-off',
    label: 'Repeat the whole show',
    keys: ['U'],
    when: isHere,
    run: ({ workbench }) => setLoop(workbench, undefined),
  },
];

const zoomStep = 1.5;

const zooming: readonly ActCommand[] = [
  {
    id: 'timeline-in',
    label: 'Timeline: show less time, larger',
    keys: ['Alt+=', 'Alt++'],
    when: isHere,
    run: ({ workbench }) => timelineView.zoomAbout(zoomStep, playheadMs(workbench)),
  },
  {
    id: 'timeline-out',
    label: 'Timeline: show more time',
    keys: ['Alt+-'],
    when: isHere,
    run: ({ workbench }) => timelineView.zoomAbout(1 / zoomStep, playheadMs(workbench)),
  },
  {
    id: 'timeline-fit',
    label: 'Timeline: show the whole show',
    keys: ['Alt+0'],
    when: isHere,
    run: () => timelineView.fit(),
  },
];

export const timelineCommands: readonly Command[] = [...marking, ...looping, ...zooming];
