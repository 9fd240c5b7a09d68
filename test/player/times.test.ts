// When clips play and how far each is faded: document times against what the player shows at frame numbers, in floating point.
// Fades are linear; the show repeats after its length; times go far beyond 65,535 ms. Not here: what the effects do with time.
import { beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Clip } from '../../src/project/index.ts';
import { projectOfScene, rowAt, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const steady = { kind: 'glow', gradientPlace: 0, gradientSpan: 0 } as const;
const runs = [rowAt('one', 0, 1)];
/** White over black: the level is the clip's fade. */
const fadeOf = (clip: Partial<Clip>, lengthMs: number) => {
  const stage = stageOf(player, { runs, lengthMs, clips: [{ effect: steady, ...clip }] });
  return (timeMs: number) => stage.reds(timeMs)[0]!;
};

interface Timing {
  readonly startMs: number;
  readonly lengthMs: number;
  readonly fadeInMs?: number;
  readonly fadeOutMs?: number;
  readonly levelPercent?: number;
}
/** Linear up over the fade in, linear down over the fade out, the lesser of both, times the level. */
function expectedFade(timing: Timing, showMs: number, timeMs: number): number {
  const inside = (timeMs % showMs) - timing.startMs;
  if (inside < 0 || inside >= timing.lengthMs) return 0;
  const rising = timing.fadeInMs ? Math.min(1, inside / timing.fadeInMs) : 1;
  const falling = timing.fadeOutMs ? Math.min(1, (timing.lengthMs - inside) / timing.fadeOutMs) : 1;
  return (255 * Math.min(rising, falling) * (timing.levelPercent ?? 100)) / 100;
}
/** Cut off in the fade, in the level, and by over. */
const levelsOff = 3;

const hourMs = 3_600_000;

describe('a clip', () => {
  test.each<[Timing, number]>([
    [{ startMs: 0, lengthMs: 1000 }, 2000],
    [{ startMs: 500, lengthMs: 1000, fadeInMs: 300 }, 2000],
    [{ startMs: 500, lengthMs: 1000, fadeOutMs: 400 }, 2000],
    [{ startMs: 100, lengthMs: 1000, fadeInMs: 700, fadeOutMs: 700 }, 1500],
    [{ startMs: 1, lengthMs: 3, fadeInMs: 1, fadeOutMs: 1 }, 20],
    [{ startMs: 300, lengthMs: 900, fadeInMs: 900, levelPercent: 40 }, 1200],
    [{ startMs: 65_000, lengthMs: 70_000, fadeInMs: 60_000 }, hourMs],
    [{ startMs: 0, lengthMs: 200_000, fadeOutMs: 60_000 }, 200_000],
    [{ startMs: 3_000_000, lengthMs: 590_000, fadeInMs: 1000, fadeOutMs: 30_000, levelPercent: 70 }, hourMs],
  ])('%j in a show of %i ms is faded linearly', (timing, showMs) => {
    const level = fadeOf(timing, showMs);
    const edges = [
      timing.startMs,
      timing.startMs + (timing.fadeInMs ?? 0),
      timing.startMs + timing.lengthMs - (timing.fadeOutMs ?? 0),
      timing.startMs + timing.lengthMs,
    ];
    const times = [
      ...edges.flatMap((edge) => [edge - 1, edge, edge + 1]),
      ...Array.from({ length: 60 }, (_, i) =>
        Math.round(timing.startMs - 20 + ((timing.lengthMs + 40) * i) / 60),
      ),
    ].filter((timeMs) => timeMs >= 0);
    for (const timeMs of times) {
      const expected = expectedFade(timing, showMs, timeMs);
      expect(Math.abs(level(timeMs) - expected), `${timeMs} ms`).toBeLessThanOrEqual(
        expected === 0 ? 0 : levelsOff,
      );
    }
  });

  test('plays from its first millisecond to its last, and not one more', () => {
    const level = fadeOf({ startMs: 70_000, lengthMs: 66_000 }, hourMs);
    expect([69_999, 70_000, 135_999, 136_000].map(level)).toEqual([0, 255, 255, 0]);
  });

  test('that reaches over the show’s end is cut off there', () => {
    const level = fadeOf({ startMs: 800, lengthMs: 5000 }, 1000);
    expect([799, 800, 999, 1000, 1799, 1800].map(level)).toEqual([0, 255, 255, 0, 0, 255]);
  });
});

test('a show repeats: each frame equals the one a length earlier, also beyond 65,535 frames', () => {
  const effect = { kind: 'stars', lifeSeconds: 0.7, density: 0.7, seed: 9 } as const;
  const stage = stageOf(player, { runs: [rowAt('row', 0, 60)], lengthMs: 7919, clips: [{ effect }] });
  const pictures = new Set<string>();
  for (const timeMs of [0, 150, 1234, 5555, 7918]) {
    const once = stage.levels(timeMs);
    pictures.add(once.join());
    for (const repeats of [1, 2, 9, 1000, 400_000])
      expect(stage.levels(timeMs + repeats * 7919), `${repeats} times later`).toEqual(once);
  }
  expect(pictures.size).toBe(5);
});

test.each([1, 7, 16, 33, 120])('with frames of %i ms, frame n shows the moment n x that', (frameMs) => {
  const project = projectOfScene({
    runs,
    lengthMs: hourMs,
    clips: [{ effect: steady, startMs: 0, lengthMs: hourMs, fadeInMs: 60_000 }],
  });
  player.setShowData(compileShowData(project, layOut(project), { frameMs })!);
  for (let number = 0; number * frameMs < 59_000; number += 97) {
    const level = player.frame('attract', number)[0]!;
    expect(Math.abs(level - (255 * number * frameMs) / 60_000)).toBeLessThanOrEqual(levelsOff);
  }
});

test('rows are drawn from the first to the last', () => {
  const gradients = [
    { id: 'red', stops: [{ at: 0, colour: '#ff0000' }] },
    { id: 'blue', stops: [{ at: 0, colour: '#0000ff' }] },
  ];
  const first = { effect: steady, gradient: 'red' };
  const second = { effect: steady, gradient: 'blue' };
  expect([...stageOf(player, { runs, gradients, clips: [first, second] }).levels(0)]).toEqual([0, 0, 255]);
  expect([...stageOf(player, { runs, gradients, clips: [second, first] }).levels(0)]).toEqual([255, 0, 0]);
});
