// Recorded presses played again: frames of presses, shows that have the panel, and what is told where those are not the expected ones. Expected
// moments follow from the director's rules (D-4, D-5, D-9, D-17 of SPEC.md), which stand beside them.
import { beforeAll, describe, expect, test } from 'vitest';
import {
  compileShowData,
  expectedDiffers,
  heardPresses,
  type Player,
  playedShows,
  pressLogFrames,
  pressLogStart,
} from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { PressLog, Project } from '../../src/project/index.ts';
import { loadPlayer } from '../player/varied-project.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const show = (id: string, lengthMs: number) => ({ id, lengthMs, rows: [] });
const project: Project = projectOf({
  runs: rowsOfStrip(2),
  lampshows: [show('attract', 1000), show('win', 300), show('mood', 700)],
  gameEvents: [
    { id: 'win', lampshow: 'win', delayMs: 45 },
    { id: 'mood', lampshow: 'mood', priority: 200 },
  ],
});
const log = (parts: Partial<PressLog>): PressLog => ({ id: 'game', lengthMs: 2000, presses: [], ...parts });

let player: Player;
const played = (one: PressLog, frameMs: number, start = 'attract') => {
  player.setShowData(compileShowData(project, layOut(project), { frameMs })!);
  return playedShows(player, one, start, frameMs);
};
beforeAll(async () => {
  player = await loadPlayer();
});

describe('presses', () => {
  test('are heard at the first frame at or after their moment', () => {
    const presses = [0, 1, 20, 21].map((atMs) => ({ atMs, event: 'win' }));
    expect(heardPresses({ presses }, 20).map(({ frame }) => frame)).toEqual([0, 1, 1, 2]);
  });

  test('come by their moments, also those of one frame, and keep their values', () => {
    const presses = [
      { atMs: 59, event: 'win' },
      { atMs: 41, event: 'mood', value: 9 },
    ];
    expect(heardPresses({ presses }, 20)).toEqual([
      { frame: 3, event: 'mood', value: 9 },
      { frame: 3, event: 'win', value: undefined },
    ]);
  });

  test('a log plays for the frames that begin within it, from its own show on or the attract mode', () => {
    expect([2000, 2001, 20].map((lengthMs) => pressLogFrames({ lengthMs }, 20))).toEqual([100, 101, 1]);
    expect(pressLogStart({}, project)).toBe('attract');
    expect(pressLogStart({ lampshow: 'mood' }, project)).toBe('mood');
  });
});

describe('the shows that have the panel', () => {
  test('without a press: the one of power-up', () => {
    expect(played(log({}), 10)).toEqual([{ atMs: 0, lampshow: 'attract' }]);
    expect(played(log({}), 10, 'mood')).toEqual([{ atMs: 0, lampshow: 'mood' }]);
  });

  test('a press, its delay, an interruption, and back', () => {
    const presses = [
      { atMs: 95, event: 'win' },
      { atMs: 200, event: 'mood' },
    ];
    // Heard at 100; 45 ms are five frames: 150. The second takes over at 200 and ends at 900; the first begins anew for 300 ms.
    expect(played(log({ presses }), 10)).toEqual([
      { atMs: 0, lampshow: 'attract' },
      { atMs: 150, lampshow: 'win' },
      { atMs: 200, lampshow: 'mood' },
      { atMs: 900, lampshow: 'win' },
      { atMs: 1200, lampshow: 'attract' },
    ]);
  });

  test('one that begins anew is no other show, and what comes behind the end is not told', () => {
    const presses = [
      { atMs: 0, event: 'mood' },
      { atMs: 500, event: 'mood' },
    ];
    expect(played(log({ presses, lengthMs: 1200 }), 10)).toEqual([{ atMs: 0, lampshow: 'mood' }]);
    expect(played(log({ presses, lengthMs: 1201 }), 10)).toEqual([
      { atMs: 0, lampshow: 'mood' },
      { atMs: 1200, lampshow: 'attract' },
    ]);
  });
});

describe('what differs from what was expected', () => {
  const at = (atMs: number, lampshow: string) => ({ atMs, lampshow });
  const differs = (
    expected: NonNullable<PressLog['expected']> | undefined,
    seen: ReturnType<typeof played>,
    frameMs = 10,
  ) => expectedDiffers(log(expected ? { expected } : {}), seen, frameMs);

  test('is nothing where all is as it was, or nothing was expected', () => {
    const presses = [{ atMs: 95, event: 'win' }];
    const seen = played(log({ presses }), 10);
    expect(differs(seen, seen)).toEqual([]);
    expect(differs(undefined, seen)).toEqual([]);
    expect(differs([], seen)).toEqual([]);
  });

  test('is told from when to when, to the log’s end', () => {
    expect(differs([at(0, 'attract'), at(500, 'win'), at(800, 'attract')], [at(0, 'attract')])).toEqual([
      'From 0.50 s to 0.80 s "win" was expected; "attract" has the panel.',
    ]);
    expect(differs([at(0, 'attract')], [at(0, 'attract'), at(700, 'mood'), at(1400, 'win')])).toEqual([
      'From 0.70 s to 1.40 s "attract" was expected; "mood" has the panel.',
      'From 1.40 s to 2.00 s "attract" was expected; "win" has the panel.',
    ]);
  });

  test('a short part of a longer stretch is not told for itself', () => {
    expect(differs([at(0, 'attract'), at(500, 'win')], [at(0, 'attract'), at(520, 'mood')])).toEqual([
      'From 0.52 s to 2.00 s "win" was expected; "mood" has the panel.',
    ]);
  });

  test('is not asked before the first moment of which something is expected', () => {
    expect(differs([at(900, 'attract')], [at(0, 'mood'), at(900, 'attract')])).toEqual([]);
    expect(differs([at(700, 'attract')], [at(0, 'mood'), at(900, 'attract')])).toEqual([
      'From 0.70 s to 0.90 s "attract" was expected; "mood" has the panel.',
    ]);
  });

  test.each([
    [10, 100],
    [60, 120],
  ])('at %d ms a frame is let pass up to %d ms, however it is made up', (frameMs, passes) => {
    const late = (ms: number) => [at(0, 'attract'), at(500 + ms, 'win')];
    expect(differs([at(0, 'attract'), at(500, 'win')], late(passes), frameMs)).toEqual([]);
    expect(differs([at(0, 'attract'), at(500, 'win')], late(passes + 1), frameMs)).toHaveLength(1);
    const inTwo = (ms: number) => [
      at(0, 'attract'),
      at(500, 'mood'),
      at(550, 'attract'),
      at(500 + ms, 'win'),
    ];
    expect(differs([at(0, 'attract'), at(500, 'win')], inTwo(passes), frameMs)).toEqual([]);
    expect(differs([at(0, 'attract'), at(500, 'win')], inTwo(passes + 1), frameMs)).toHaveLength(2);
  });
});
