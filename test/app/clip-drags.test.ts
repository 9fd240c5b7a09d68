// What dragging makes of clips, by where they are held, and which clips are chosen afterwards. Expected spans follow from how far the hand went.
import { describe, expect, test } from 'vitest';
import { dragOf, plannedDrag, showAsIn } from '../../src/app/stages/lampshows/clip-drags.ts';
import type { Snapping } from '../../src/app/stages/lampshows/clip-times.ts';
import {
  chosenClips,
  followedClips,
  liveSelection,
  type Selection,
  selectionOfClips,
  withClipToggled,
} from '../../src/app/workbench/selection.ts';
import {
  type Clip,
  type ClipSpot,
  deleteClips,
  type Edit,
  edited,
  endGesture,
  moveClips,
  type Project,
  startHistory,
  undone,
  writeProject,
} from '../../src/project/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { benchFor, textOf } from './bench.ts';

const clip = (startMs: number, lengthMs: number, more: Partial<Clip> = {}): Clip => ({
  startMs,
  lengthMs,
  area: 'everything',
  gradient: 'ember',
  blend: 'over',
  effect: { kind: 'band', passSeconds: 2, width: 0.3, bands: 1, travel: 'forward', softness: 1 },
  ...more,
});
const project: Project = projectOf({
  runs: rowsOfStrip(30),
  lampshows: [
    {
      id: 'attract',
      lengthMs: 20_000,
      rows: [
        { id: 'a', clips: [clip(0, 1000), clip(2000, 2000, { fadeInMs: 300 })] },
        { id: 'b', clips: [clip(3000, 2000)] },
      ],
    },
  ],
});
const [show] = project.lampshows as [Project['lampshows'][number]];
const free: Snapping = { stepMs: 1, attractMs: [], withinMs: 0 };
const second: ClipSpot = { row: 0, clip: 1 };
const lower: ClipSpot = { row: 1, clip: 0 };

function dragged(
  spots: readonly ClipSpot[],
  part: Record<string, string> | undefined,
  byMs: number,
  { byRows = 0, stretches = false, snapping = free } = {},
) {
  const drag = dragOf({
    show,
    spot: second,
    clip: show.rows[0]!.clips[1]!,
    spots,
    part,
    stretches,
    extent: 20_000,
  });
  const planned = plannedDrag(drag, byMs, byRows, snapping);
  const after = edited(startHistory(project), planned.label, planned.edit).project;
  const { rows } = after.lampshows[0]!;
  return { after, rows, spots: planned.spots, clip: rows[0]!.clips[1]! };
}

describe('dragging clips', () => {
  test('held in the middle, all that are chosen move; the one that is held snaps', () => {
    const snapping = { stepMs: 20, attractMs: [2513], withinMs: 30 };
    const { rows } = dragged([second, lower], undefined, 490, { snapping });
    expect(rows[0]!.clips[1]!.startMs).toBe(2513);
    expect(rows[1]!.clips[0]!.startMs).toBe(3513);
    expect(rows[0]!.clips[0]!.startMs).toBe(0);
  });

  test('none is pushed beyond the end of what is in view', () => {
    const { rows } = dragged([second, lower], undefined, 90_000);
    // The later one ends at 5 s: 15 s are left.
    expect([rows[0]!.clips[1]!.startMs, rows[1]!.clips[0]!.startMs]).toEqual([17_000, 18_000]);
  });

  test('taken to another row, it is found and chosen there', () => {
    const { rows, spots } = dragged([second], undefined, 0, { byRows: 1 });
    expect(rows[0]!.clips).toHaveLength(1);
    expect(spots).toEqual([{ row: 1, clip: 1 }]);
    expect(rows[1]!.clips[1]).toEqual(show.rows[0]!.clips[1]);
  });

  test('held by an end, it alone is trimmed; with Shift, all that are chosen stretch', () => {
    const trimmed = dragged([second, lower], { edge: 'end' }, -500);
    expect(trimmed.clip).toMatchObject({ startMs: 2000, lengthMs: 1500 });
    expect(trimmed.rows[1]!.clips[0]!.lengthMs).toBe(2000);
    // From 2 to 5 s: 1.5 s more are half as long again.
    const stretched = dragged([second, lower], { edge: 'end' }, 1500, { stretches: true });
    expect(stretched.clip).toMatchObject({ startMs: 2000, lengthMs: 3000, fadeInMs: 450 });
    expect(stretched.clip.effect).toMatchObject({ passSeconds: 3 });
    expect(stretched.rows[1]!.clips[0]).toMatchObject({ startMs: 3500, lengthMs: 3000 });
    const fromStart = dragged([second], { edge: 'start' }, 1000, { stretches: true });
    expect(fromStart.clip).toMatchObject({ startMs: 3000, lengthMs: 1000, fadeInMs: 150 });
  });

  test('held by an upper corner, its fade follows, from nothing to the whole clip', () => {
    expect(dragged([second], { fade: 'in' }, 200).clip.fadeInMs).toBe(500);
    // Its end clings to what is near, 513 ms after the clip's start, and to frames elsewhere.
    const snapping = { stepMs: 20, attractMs: [2513], withinMs: 30 };
    expect(dragged([second], { fade: 'in' }, 200, { snapping }).clip.fadeInMs).toBe(513);
    expect(dragged([second], { fade: 'in' }, 411, { snapping }).clip.fadeInMs).toBe(720);
    expect(dragged([second], { fade: 'in' }, -900).clip).not.toHaveProperty('fadeInMs');
    expect(dragged([second], { fade: 'out' }, -700).clip.fadeOutMs).toBe(700);
    expect(dragged([second], { fade: 'out' }, -9000).clip.fadeOutMs).toBe(2000);
  });

  test('there and back again leaves no step, and anywhere else one', async () => {
    const { workbench } = await benchFor(project);
    const follow = (byMs: number, byRows: number) => {
      const { after } = dragged([second], undefined, byMs, { byRows });
      workbench.edit('Move clip', showAsIn(after, 'attract'), 'drag');
    };
    for (const [byMs, byRows] of [
      [100, 0],
      [400, 1],
      [800, 1],
      [0, 0],
    ] as const)
      follow(byMs, byRows);
    expect(workbench.state.history.past).toHaveLength(0);
    expect(textOf(workbench)).toBe(writeProject(project));
    for (const [byMs, byRows] of [
      [100, 0],
      [400, 1],
    ] as const)
      follow(byMs, byRows);
    expect(workbench.state.history.past).toHaveLength(1);
    expect(writeProject(undone(endGesture(workbench.state.history)).project)).toBe(writeProject(project));
  });
});

describe('several chosen clips', () => {
  const both: Selection = { kind: 'clips', show: 'attract', spots: [second, lower] };
  const having = (edit: Edit) => edited(startHistory(project), 'edit', edit).project;

  test('one is chosen beside others and let go of again', () => {
    const one = withClipToggled({ kind: 'none' }, 'attract', lower);
    expect(one).toEqual({ kind: 'clip', show: 'attract', ...lower });
    expect(withClipToggled(one, 'attract', second)).toEqual(both);
    expect(withClipToggled(both, 'attract', second)).toEqual(one);
    // Clips of another show are let go of.
    expect(chosenClips(withClipToggled(both, 'other', second))!.spots).toEqual([second]);
    expect(selectionOfClips('attract', [])).toEqual({ kind: 'none' });
  });

  test('they are followed to where they stand once one before them is gone', () => {
    const next = having(deleteClips('attract', [{ row: 0, clip: 0 }]));
    const followed = followedClips(project, next, both);
    expect(chosenClips(followed)!.spots).toEqual([{ row: 0, clip: 0 }, lower]);
    expect(liveSelection(next, followed)).toBe(followed);
  });

  test('changed where they stand they stay chosen; those that are gone are let go of', () => {
    expect(followedClips(project, having(moveClips('attract', [second], 50, 0)), both)).toEqual(both);
    const gone = having(deleteClips('attract', [lower]));
    expect(followedClips(project, gone, both)).toEqual({ kind: 'clip', show: 'attract', ...second });
  });

  test('of a selection that names what isn’t there, what is there is left', () => {
    const wrong: Selection = { kind: 'clips', show: 'attract', spots: [second, { row: 1, clip: 9 }] };
    expect(liveSelection(project, wrong)).toEqual({ kind: 'clip', show: 'attract', ...second });
    expect(liveSelection(project, { ...wrong, show: 'gone' })).toEqual({ kind: 'none' });
  });

  test('copied in one show and pasted in another at the playhead, they are chosen there; cutting takes them away', async () => {
    const two: Project = { ...project, lampshows: [show, { id: 'second', lengthMs: 9000, rows: [] }] };
    const { workbench, commander } = await benchFor(two);
    const { frameMs } = workbench.state.settled;
    workbench.select(both);
    commander.run('clip-cut');
    expect(workbench.project.lampshows[0]!.rows.map(({ clips }) => clips.length)).toEqual([1, 0]);
    workbench.playback.choose('second');
    workbench.playback.scrubTo(10);
    commander.run('clip-paste');
    const { rows } = workbench.project.lampshows[1]!;
    expect(rows.map(({ clips }) => clips)).toEqual([
      [{ ...show.rows[0]!.clips[1], startMs: 10 * frameMs }],
      [{ ...show.rows[1]!.clips[0], startMs: 10 * frameMs + 1000 }],
    ]);
    expect(workbench.state.selection).toEqual({
      kind: 'clips',
      show: 'second',
      spots: [
        { row: 0, clip: 0 },
        { row: 1, clip: 0 },
      ],
    });
    commander.run('undo');
    commander.run('undo');
    expect(textOf(workbench)).toBe(writeProject(two));
  });

  test('all of them are chosen, muted, moved and deleted at once, each one step', async () => {
    const { workbench, commander } = await benchFor(project);
    commander.run('clip-all');
    expect(chosenClips(workbench.state.selection)!.spots).toHaveLength(3);
    commander.run('clip-mute');
    expect(workbench.project.lampshows[0]!.rows.map(({ muted }) => muted)).toEqual([true, true]);
    commander.run('clip-mute');
    expect(workbench.project.lampshows[0]!.rows.map(({ muted }) => muted)).toEqual([undefined, undefined]);
    commander.run('clip-later');
    expect(workbench.project.lampshows[0]!.rows[1]!.clips[0]!.startMs).toBe(3100);
    commander.run('clip-delete');
    expect(workbench.state.history.past).toHaveLength(4);
    for (let i = 0; i < 4; i++) commander.run('undo');
    expect(textOf(workbench)).toBe(writeProject(project));
  });
});
