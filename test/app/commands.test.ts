// Every command through one helper: the right result, undone to the same bytes, redone, saved and read back equal. Expected values are what the
// command's own label says, worked out from the sample's figures by hand.
import { describe, expect, test } from 'vitest';
import { playheadOf } from '../../src/app/playback/playhead.ts';
import { commands, isEdit } from '../../src/app/workbench/commands/index.ts';
import type { Selection } from '../../src/app/workbench/selection.ts';
import type { StageId } from '../../src/app/workbench/workbench.ts';
import { compileProject } from '../../src/board/index.ts';
import { splitRun } from '../../src/panel/index.ts';
import {
  type CopiedClip,
  edited,
  type Project,
  startHistory,
  writeProject,
} from '../../src/project/index.ts';
import { holdsLaws, withValues } from '../support/edit-laws.ts';
import { sample, templates } from '../support/lamploom.ts';
import { benchFor, textOf } from './bench.ts';

const carnival = sample('midnight-carnival');
/** The sample's fourth run: 12 LEDs downwards from (560, 77), pitch 1000 / 60 mm; its place in the list is 3. */
const towerIndex = 3;
const tower = carnival.runs[towerIndex]!;
const chosenRun: Selection = { kind: 'run', id: tower.id };
const at = (index: number, part: string) => `/runs/${index}/${part}`;
const moved = (dx: number, dy: number) => () => ({
  [at(towerIndex, 'firstLed')]: { xMm: tower.firstLed.xMm + dx, yMm: tower.firstLed.yMm + dy },
});
const attract = carnival.lampshows[0]!;
const chosenClip: Selection = { kind: 'clip', show: attract.id, row: 0, clip: 1 };
const clip = attract.rows[0]!.clips[1]!;
const clipStart = '/lampshows/0/rows/0/clips/1/startMs';

const bothClips: Selection = {
  kind: 'clips',
  show: attract.id,
  spots: [
    { row: 0, clip: 0 },
    { row: 0, clip: 1 },
  ],
};
/** Of the sample, predicted from its slowest frame. */
const { frameMs } = compileProject(carnival, templates);
const movedClip = (byMs: number) => () => ({ [clipStart]: clip.startMs + byMs });
/** The number of a frame in the middle of the clip. */
const clipMiddle = Math.round((clip.startMs + clip.lengthMs / 2) / frameMs);

const cutTower = edited(startHistory(carnival), 'Split', splitRun(tower.id, 6)).project;
const withThings: Project = {
  ...carnival,
  panel: {
    ...carnival.panel,
    keepOuts: [
      {
        id: 'screw',
        purpose: 'screw',
        shape: { kind: 'circle', centre: { xMm: 5, yMm: 5 }, diameterMm: 4 },
      },
    ],
    guides: [
      { axis: 'x', atMm: 10 },
      { axis: 'y', atMm: 20 },
    ],
    measures: [{ from: { xMm: 0, yMm: 0 }, to: { xMm: 100, yMm: 0 }, measuredMm: 101 }],
  },
};

interface EditCase {
  readonly selection: Selection;
  /** The sample where absent. */
  readonly on?: Project;
  readonly stage?: StageId;
  /** Where the attract show stands; at its first frame where absent. */
  readonly frame?: number;
  readonly copied?: readonly CopiedClip[];
  /** All that differs in the document afterwards; or what to look at, where many places differ. */
  readonly leaves?: (before: Project) => Readonly<Record<string, unknown>>;
  readonly looksAt?: (after: Project) => void;
}

const tiltId = carnival.gameEvents!.at(-1)!.id;
const cutAt = { kind: 'jumper', line: 0, place: 2 } as const;

const editCases: Readonly<Record<string, EditCase>> = {
  'game-event-delete': {
    selection: { kind: 'game-event', id: tiltId },
    stage: 'lampshows',
    leaves: () => ({ '/gameEvents': carnival.gameEvents!.slice(0, -1) }),
  },
  'run-left-1': { selection: chosenRun, leaves: moved(-1, 0) },
  'run-right-1': { selection: chosenRun, leaves: moved(1, 0) },
  'run-up-1': { selection: chosenRun, leaves: moved(0, -1) },
  'run-down-1': { selection: chosenRun, leaves: moved(0, 1) },
  'run-left-10': { selection: chosenRun, leaves: moved(-10, 0) },
  'run-right-10': { selection: chosenRun, leaves: moved(10, 0) },
  'run-up-10': { selection: chosenRun, leaves: moved(0, -10) },
  'run-down-10': { selection: chosenRun, leaves: moved(0, 10) },
  'run-quarter': {
    selection: chosenRun,
    // Downwards before, to the right afterwards, about its middle: 5.5 pitches below the first LED.
    looksAt: ({ runs }) => {
      const half = (5.5 * 1000) / 60;
      const { arrowDeg, firstLed } = runs[towerIndex]!;
      expect(arrowDeg).toBe(0);
      expect(firstLed.xMm).toBeCloseTo(tower.firstLed.xMm - half, 5);
      expect(firstLed.yMm).toBeCloseTo(tower.firstLed.yMm + half, 5);
    },
  },
  'run-longer': {
    selection: chosenRun,
    leaves: () => ({ [at(towerIndex, 'ledCount')]: tower.ledCount + 1 }),
  },
  'run-shorter': {
    selection: chosenRun,
    looksAt: ({ runs }) => expect(runs[towerIndex]!.ledCount).toBe(tower.ledCount - 1),
  },
  'run-reverse': {
    selection: chosenRun,
    looksAt: ({ runs }) => {
      const run = runs[towerIndex]!;
      // Down before, up afterwards: the first LED is 11 pitches further down.
      expect(run.arrowDeg).toBe((tower.arrowDeg + 180) % 360);
      expect(run.firstLed.xMm).toBeCloseTo(tower.firstLed.xMm, 6);
      expect(run.firstLed.yMm).toBeCloseTo(tower.firstLed.yMm + (11 * 1000) / 60, 5);
    },
  },
  'run-split': {
    selection: chosenRun,
    looksAt: ({ runs }) => {
      expect(runs).toHaveLength(carnival.runs.length + 1);
      expect(runs.slice(towerIndex, towerIndex + 2).map(({ ledCount }) => ledCount)).toEqual([6, 6]);
    },
  },
  'run-duplicate': {
    selection: chosenRun,
    looksAt: ({ runs, dataLines }) => {
      const copy = runs[towerIndex + 1]!;
      expect(copy.firstLed).toEqual({ xMm: tower.firstLed.xMm, yMm: tower.firstLed.yMm + 20 });
      expect(copy.ledCount).toBe(tower.ledCount);
      expect(dataLines[0]!.chain.map(({ run }) => run).slice(3, 5)).toEqual([tower.id, copy.id]);
    },
  },
  'run-delete': {
    selection: chosenRun,
    looksAt: ({ runs, power }) => {
      expect(runs.map(({ id }) => id)).not.toContain(tower.id);
      expect(power.feeds).toHaveLength(carnival.power.feeds.length - 1);
    },
  },
  'run-mirror-across': {
    selection: { kind: 'runs', ids: [carnival.runs[0]!.id, tower.id] },
    // Mirrored, right is left; upright arrows stay upright.
    looksAt: ({ runs }) => {
      expect(runs[0]!.arrowDeg).toBe((540 - carnival.runs[0]!.arrowDeg) % 360);
      expect(runs[towerIndex]!.arrowDeg).toBe((540 - tower.arrowDeg) % 360);
    },
  },
  'run-mirror-down': {
    selection: chosenRun,
    looksAt: ({ runs }) => {
      expect(runs[towerIndex]!.arrowDeg).toBe((360 - tower.arrowDeg) % 360);
      expect(runs[towerIndex]!.firstLed.xMm).toBeCloseTo(tower.firstLed.xMm, 6);
    },
  },
  'run-join': {
    on: cutTower,
    selection: { kind: 'runs', ids: [`${tower.id}-b`, tower.id] },
    looksAt: ({ runs }) => expect(runs).toEqual(carnival.runs),
  },
  'keep-out-delete': {
    on: withThings,
    stage: 'panel',
    selection: { kind: 'keep-out', id: 'screw' },
    leaves: () => ({ '/panel/keepOuts': undefined }),
  },
  'guide-delete': {
    on: withThings,
    stage: 'panel',
    selection: { kind: 'guide', index: 1 },
    leaves: () => ({ '/panel/guides': [{ axis: 'x', atMm: 10 }] }),
  },
  'measure-delete': {
    on: withThings,
    stage: 'panel',
    selection: { kind: 'measure', index: 0 },
    leaves: () => ({ '/panel/measures': undefined }),
  },
  'clip-delete': {
    selection: chosenClip,
    leaves: ({ lampshows }) => ({
      '/lampshows/0/rows/0/clips': lampshows[0]!.rows[0]!.clips.filter((_, index) => index !== 1),
    }),
  },
  'clip-frame-earlier': { selection: chosenClip, leaves: movedClip(-frameMs) },
  'clip-frame-later': { selection: chosenClip, leaves: movedClip(frameMs) },
  'clip-frames-earlier': { selection: chosenClip, leaves: movedClip(-10 * frameMs) },
  'clip-frames-later': { selection: chosenClip, leaves: movedClip(10 * frameMs) },
  'clip-row-down': {
    selection: chosenClip,
    leaves: ({ lampshows }) => ({
      '/lampshows/0/rows/0/clips': lampshows[0]!.rows[0]!.clips.filter((_, index) => index !== 1),
      '/lampshows/0/rows/1/clips': [...lampshows[0]!.rows[1]!.clips, clip],
    }),
  },
  'clip-row-up': {
    selection: { kind: 'clip', show: attract.id, row: 1, clip: 0 },
    leaves: ({ lampshows }) => ({
      '/lampshows/0/rows/0/clips': [...lampshows[0]!.rows[0]!.clips, lampshows[0]!.rows[1]!.clips[0]],
      '/lampshows/0/rows/1/clips': lampshows[0]!.rows[1]!.clips.slice(1),
    }),
  },
  'clip-split': {
    selection: chosenClip,
    frame: clipMiddle,
    looksAt: ({ lampshows }) => {
      const [first, second] = lampshows[0]!.rows[0]!.clips.slice(1, 3);
      expect([first!.startMs, second!.startMs]).toEqual([clip.startMs, clipMiddle * frameMs]);
      expect(first!.lengthMs + second!.lengthMs).toBe(clip.lengthMs);
      expect(lampshows[0]!.rows[0]!.clips).toHaveLength(attract.rows[0]!.clips.length + 1);
    },
  },
  'clip-trim-start': {
    selection: chosenClip,
    frame: clipMiddle,
    leaves: () => ({
      [clipStart]: clipMiddle * frameMs,
      '/lampshows/0/rows/0/clips/1/lengthMs': clip.startMs + clip.lengthMs - clipMiddle * frameMs,
    }),
  },
  'clip-trim-end': {
    selection: chosenClip,
    frame: clipMiddle,
    leaves: () => ({ '/lampshows/0/rows/0/clips/1/lengthMs': clipMiddle * frameMs - clip.startMs }),
  },
  'clip-crossfade': {
    on: withValues(carnival, {
      '/lampshows/0/rows/0/clips': [
        { ...clip, startMs: 0, lengthMs: 3000 },
        { ...clip, startMs: 2400, lengthMs: 3000 },
      ],
    }),
    selection: bothClips,
    leaves: () => ({
      '/lampshows/0/rows/0/clips/0/fadeOutMs': 600,
      '/lampshows/0/rows/0/clips/1/fadeInMs': 600,
    }),
  },
  'clip-repeat': {
    on: withValues(carnival, { '/lampshows/0/rows/0/clips': [{ ...clip, startMs: 100, lengthMs: 1000 }] }),
    selection: { kind: 'clip', show: attract.id, row: 0, clip: 0 },
    leaves: () => ({ '/lampshows/0/rows/0/clips/1': { ...clip, startMs: 1100, lengthMs: 1000 } }),
  },
  'clip-mute': { selection: chosenClip, leaves: () => ({ '/lampshows/0/rows/0/muted': true }) },
  'clip-paste': {
    stage: 'lampshows',
    selection: { kind: 'none' },
    copied: [{ rowsDown: 0, afterMs: 0, clip }],
    frame: 3,
    looksAt: ({ lampshows }) =>
      expect(lampshows[0]!.rows[0]!.clips.at(-1)).toEqual({ ...clip, startMs: 3 * frameMs }),
  },
  'marker-add': {
    stage: 'lampshows',
    selection: { kind: 'none' },
    frame: 5,
    looksAt: ({ lampshows }) => expect(lampshows[0]!.markers).toEqual([{ atMs: 5 * frameMs }]),
  },
  'beat-tap': {
    stage: 'lampshows',
    selection: { kind: 'none' },
    frame: 7,
    looksAt: ({ lampshows }) => expect(lampshows[0]!.beatsMs).toEqual([7 * frameMs]),
  },
  'clip-earlier': { selection: chosenClip, leaves: () => ({ [clipStart]: clip.startMs - 100 }) },
  'clip-later': { selection: chosenClip, leaves: () => ({ [clipStart]: clip.startMs + 100 }) },
  'area-delete': {
    selection: { kind: 'area', id: 'moon' },
    looksAt: ({ areas, lampshows }) => {
      expect(areas.map(({ id }) => id)).not.toContain('moon');
      expect(
        lampshows.flatMap(({ rows }) => rows.flatMap(({ clips }) => clips)).map(({ area }) => area),
      ).not.toContain('moon');
    },
  },
  'feed-keep': {
    selection: { kind: 'feed', index: 1 },
    stage: 'power',
    leaves: () => ({ '/power/feeds/1/isKept': true }),
  },
  'feed-delete': {
    selection: { kind: 'feed', index: 2 },
    leaves: ({ power }) => ({ '/power/feeds': power.feeds.filter((_, index) => index !== 2) }),
  },
  'jumper-power': {
    selection: cutAt,
    looksAt: ({ dataLines }) => expect(dataLines[0]!.chain[2]!.jumper?.power).toBe('carried'),
  },
};

describe('commands that edit', () => {
  const editing = commands.filter(isEdit);

  test.each(editing.map((command) => [command.id, command] as const))(
    '%s does what its label says, and keeps the laws',
    async (id, command) => {
      const wanted = editCases[id];
      expect(wanted, `a case for ${id}`).toBeDefined();
      const { on = carnival, selection, stage, frame = 0, copied = [] } = wanted!;
      const { workbench, commander } = await benchFor(on);
      workbench.set({ copiedClips: copied });
      workbench.playback.scrubTo(frame);
      workbench.enter(stage ?? (selection.kind.startsWith('clip') ? 'lampshows' : 'runs'));
      workbench.select(wanted!.selection);
      expect(command.when?.(workbench.state), 'makes sense here').toBe(true);
      holdsLaws(
        on,
        id,
        command.plan(workbench.state, playheadOf(workbench.playback, on, frameMs)).edit,
        (before, after) => {
          if (wanted!.leaves) expect(after).toEqual(withValues(before, wanted!.leaves(before)));
          wanted!.looksAt?.(after);
          expect(after, 'changes something').not.toEqual(before);
        },
      );
      commander.run(id);
      const done = textOf(workbench);
      expect(done).not.toBe(writeProject(on));
      commander.run('undo');
      expect(textOf(workbench)).toBe(writeProject(on));
      commander.run('redo');
      expect(textOf(workbench)).toBe(done);
    },
  );

  test('every case is of a command', () => {
    expect(new Set(Object.keys(editCases))).toEqual(new Set(editing.map(({ id }) => id)));
  });

  /** These act on the show's time, not on what is chosen. */
  const needNothing = ['marker-add', 'beat-tap'];

  test('with nothing chosen none of them makes sense, and running one changes nothing', async () => {
    const { workbench, commander } = await benchFor(carnival);
    for (const { id } of editing) if (!needNothing.includes(id)) commander.run(id);
    expect(workbench.project).toBe(carnival);
  });

  test('where the playhead is outside the clip, cutting and trimming change nothing and say why', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.enter('lampshows');
    workbench.select(chosenClip);
    const before = workbench.project;
    workbench.playback.scrubTo(Math.ceil((clip.startMs + clip.lengthMs) / frameMs) + 5);
    for (const id of ['clip-split', 'clip-trim-start', 'clip-trim-end']) {
      workbench.set({ message: undefined });
      commander.run(id);
      expect(workbench.project, id).toBe(before);
      expect(workbench.state.message?.lines, id).toEqual(['Put the playhead inside the clip first.']);
    }
  });

  test('a run of one LED is neither shortened nor split', async () => {
    const { workbench, commander } = await benchFor(
      withValues(carnival, {
        '/runs/17/ledCount': 1,
        '/areas': [],
        '/lampshows/0/rows': [],
        '/lampshows': carnival.lampshows.map((show) => ({ ...show, rows: [] })),
        '/power/feeds': [],
      }),
    );
    workbench.select({ kind: 'run', id: carnival.runs[17]!.id });
    const before = workbench.project;
    commander.run('run-shorter');
    commander.run('run-split');
    expect(workbench.project).toBe(before);
  });
});

describe('commands that act', () => {
  const stages: readonly StageId[] = ['panel', 'runs', 'lampshows', 'power', 'workshop', 'board'];

  test.each(stages)('stage-%s enters that stage', async (stage) => {
    const { workbench, commander } = await benchFor(carnival);
    commander.run(`stage-${stage}`);
    expect(workbench.state.stage).toBe(stage);
  });

  test.each(['artwork', 'wiring', 'lit', 'volts'])('view-%s shows that view', async (view) => {
    const { workbench, commander } = await benchFor(carnival);
    commander.run(`view-${view}`);
    expect(workbench.state.view).toBe(view);
  });

  test('other-side turns the panel over and back', async () => {
    const { workbench, commander } = await benchFor(carnival);
    commander.run('other-side');
    expect(workbench.state.side).toBe('rear');
    commander.run('other-side');
    expect(workbench.state.side).toBe('front');
  });

  test('the digits play the shows in the order of the document, and none beyond the last', async () => {
    const { workbench, commander } = await benchFor(carnival);
    for (const [index, { id }] of carnival.lampshows.entries()) {
      commander.run(`show-${index + 1}`);
      expect(workbench.playback.current()).toMatchObject({ show: id, frame: 0 });
    }
    const last = workbench.playback.current();
    commander.run('show-9');
    expect(workbench.playback.current()).toEqual(last);
  });

  test('frames step from a standing picture and stop at the first', async () => {
    const { workbench, commander } = await benchFor(carnival);
    commander.run('play');
    commander.run('frame-on');
    expect(workbench.playback.current()).toMatchObject({ playing: false, frame: 1 });
    commander.run('frame-back');
    commander.run('frame-back');
    expect(workbench.playback.current().frame).toBe(0);
  });

  test('zooming keeps the middle in place, and fitting brings the whole panel back', async () => {
    const { viewport, commander } = await benchFor(carnival);
    viewport.setSizes({ width: 800, height: 500 }, { width: 600, height: 300 });
    const fitted = viewport.current();
    const middleMm = () => (400 - viewport.current().xPx) / viewport.current().pxPerMm;
    const before = middleMm();
    commander.run('zoom-in');
    expect(viewport.current().pxPerMm).toBeCloseTo(1.25 * fitted.pxPerMm, 9);
    expect(middleMm()).toBeCloseTo(before, 9);
    commander.run('zoom-out');
    expect(viewport.current().pxPerMm).toBeCloseTo(fitted.pxPerMm, 9);
    commander.run('zoom-in');
    commander.run('fit');
    expect(viewport.current()).toEqual(fitted);
  });

  test('in front of the panel its own keys and those of playing work, and nothing else', async () => {
    const { workbench, commander } = await benchFor(carnival);
    const press = (key: string) =>
      commander.onKey({
        key,
        ctrlKey: false,
        metaKey: false,
        altKey: false,
        shiftKey: false,
        isWithin: () => false,
      });
    workbench.select(chosenRun);
    expect(press('e')).toBe(true);
    expect(workbench.state.viewer).toMatchObject({ isStanding: true, look: 'glass' });
    for (const [key, look] of [
      ['b', 'bare'],
      ['w', 'wiring'],
      ['g', 'glass'],
    ] as const) {
      press(key);
      expect(workbench.state.viewer.look).toBe(look);
    }
    const { playing } = workbench.playback.current();
    press(' ');
    expect(workbench.playback.current().playing).toBe(!playing);
    expect(press('Delete')).toBe(false);
    expect(press('v')).toBe(false);
    expect(workbench.project).toBe(carnival);
    press('Escape');
    expect(workbench.state.viewer.isStanding).toBe(false);
    expect(workbench.state.selection).toEqual(chosenRun);
    commander.run('view-stand');
    commander.run('room-bare');
    commander.run('room-leave');
    expect(workbench.state.viewer).toMatchObject({ isStanding: false, look: 'bare' });
  });

  test('the question mark lists all keys', async () => {
    const { workbench, commander } = await benchFor(carnival);
    commander.run('keys');
    expect(workbench.state.listsKeys).toBe(true);
  });

  test('Escape lays a tool down first, and then the selection', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.select(chosenRun);
    workbench.set({ tool: 'draw-run' });
    commander.run('deselect');
    expect(workbench.state).toMatchObject({ tool: 'select', selection: chosenRun });
    commander.run('deselect');
    expect(workbench.state.selection).toEqual({ kind: 'none' });
  });
});

describe('keys', () => {
  const press = (
    key: string,
    modifiers: Partial<Record<'ctrlKey' | 'altKey' | 'shiftKey', boolean>> = {},
    within = '',
  ) => ({
    key,
    ctrlKey: false,
    metaKey: false,
    altKey: false,
    shiftKey: false,
    ...modifiers,
    // One of the selectors that a list names.
    isWithin: (selectors: string) => selectors.split(/,\s*/).includes(within),
  });

  test('an arrow moves the chosen run; with nothing chosen it steps the show', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.enter('runs');
    workbench.select(chosenRun);
    expect(commander.onKey(press('ArrowRight'))).toBe(true);
    expect(workbench.project.runs[towerIndex]!.firstLed.xMm).toBe(tower.firstLed.xMm + 1);
    commander.run('deselect');
    commander.onKey(press('ArrowRight'));
    expect(workbench.project.runs[towerIndex]!.firstLed.xMm).toBe(tower.firstLed.xMm + 1);
    expect(workbench.playback.current().frame).toBe(1);
  });

  test('a held arrow is one step back, and letting go begins another', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.enter('runs');
    workbench.select(chosenRun);
    for (let i = 0; i < 5; i++) commander.onKey(press('ArrowDown'));
    workbench.endGesture();
    commander.onKey(press('ArrowDown'));
    expect(workbench.state.history.past).toHaveLength(2);
    commander.run('undo');
    expect(workbench.project.runs[towerIndex]!.firstLed.yMm).toBe(tower.firstLed.yMm + 5);
    commander.run('undo');
    expect(textOf(workbench)).toBe(writeProject(carnival));
  });

  test('a text field keeps letters, Delete and its own undo, but not saving', async () => {
    const { workbench, commander, files } = await benchFor(carnival);
    workbench.enter('runs');
    workbench.select(chosenRun);
    for (const key of ['r', 'Delete', 'ArrowLeft', ' '])
      expect(commander.onKey(press(key, {}, 'textarea')), key).toBe(false);
    expect(commander.onKey(press('z', { ctrlKey: true }, 'textarea'))).toBe(false);
    expect(workbench.project).toBe(carnival);
    expect(commander.onKey(press('s', { ctrlKey: true }, 'textarea'))).toBe(true);
    await expect.poll(() => files.written.length).toBe(1);
  });

  test('a run that was chosen elsewhere is not moved, turned or deleted where it can’t be seen', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.enter('runs');
    workbench.select(chosenRun);
    workbench.enter('lampshows');
    for (const key of ['ArrowRight', 'r', 'Delete', 't']) commander.onKey(press(key));
    expect(workbench.project).toBe(carnival);
    expect(workbench.playback.current().frame).toBe(1);
  });

  test('seen from the rear, the right arrow still moves a run to the right of the screen', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.enter('runs');
    workbench.set({ side: 'rear' });
    workbench.select(chosenRun);
    commander.onKey(press('ArrowRight'));
    expect(workbench.project.runs[towerIndex]!.firstLed.xMm).toBe(tower.firstLed.xMm - 1);
  });

  test('while the pointer holds something, keys do nothing', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.enter('runs');
    workbench.select(chosenRun);
    workbench.isPointerHeld = true;
    for (const key of ['Delete', 'ArrowLeft']) expect(commander.onKey(press(key))).toBe(true);
    expect(workbench.project).toBe(carnival);
  });

  test('a button keeps Space, a slider the arrows', async () => {
    const { workbench, commander } = await benchFor(carnival);
    expect(commander.onKey(press(' ', {}, 'button'))).toBe(false);
    expect(commander.onKey(press(' ', {}, 'input[type="checkbox"]'))).toBe(false);
    expect(commander.onKey(press(' ', {}, 'input[type="radio"]'))).toBe(false);
    expect(commander.onKey(press('ArrowLeft', {}, 'input[type="range"]'))).toBe(false);
    expect(commander.onKey(press(' '))).toBe(true);
    expect(workbench.playback.current().playing).toBe(true);
  });

  test('no key means two things for one selection', () => {
    const kinds = [
      'room-',
      'paint-',
      'run-',
      'clip-',
      'area-',
      'feed-',
      'jumper-',
      'keep-out-',
      'guide-',
      'measure-',
      'game-event-',
      'game-',
      'event-',
    ];
    // What concerns a show's time acts in the stage Lampshows, where no tool does.
    const inTime = /^(marker|beat|loop|timeline)-/;
    const kindOf = (id: string) =>
      kinds.find((kind) => id.startsWith(kind)) ?? (inTime.test(id) ? 'time' : 'screen');
    const seen = new Map<string, string>();
    for (const { id, keys = [] } of commands)
      for (const key of keys) {
        const place = `${kindOf(id)} ${key}`;
        expect(seen.get(place), `${place} of ${id}`).toBeUndefined();
        seen.set(place, id);
      }
    const keysOf = (isOf: (id: string) => boolean) =>
      commands.filter(({ id }) => isOf(id)).flatMap(({ keys = [] }) => keys);
    // In Lampshows those of clips, of time and of the screen hold together; but for arrows, which step frames where no clip is chosen.
    const ofTime = keysOf((id) => inTime.test(id));
    const ofClips = keysOf((id) => id.startsWith('clip-'));
    const ofScreen = keysOf((id) => kindOf(id) === 'screen' && !/^(tool-|all-runs|fit-chosen)/.test(id));
    for (const key of ofTime) expect([...ofClips, ...ofScreen], key).not.toContain(key);
    for (const key of ofClips) if (!key.startsWith('Arrow')) expect(ofScreen, key).not.toContain(key);
    // While a game is played its own hold together with those of the screen, but for the digits, which then play no show; and in front of the panel
    // with those of the room.
    const ofGame = keysOf((id) => /^(event-|game-(play|again|keep))/.test(id));
    const ofRoom = keysOf((id) => id.startsWith('room-'));
    const ofScreenThen = keysOf(
      (id) => kindOf(id) === 'screen' && !/^(tool-|all-runs|fit-chosen|show-)/.test(id),
    );
    expect(new Set(ofGame).size).toBe(ofGame.length);
    for (const key of ofGame) expect(ofScreenThen, key).not.toContain(key);
    for (const key of keysOf((id) => id.startsWith('event-'))) expect(ofRoom, key).not.toContain(key);
  });
});
