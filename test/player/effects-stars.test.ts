// Stars against what the schema's description says: single lights that wake and fade by chance; density is the share that is lit.
// Chance is a hash, so its counts are held against binomial bounds at a fixed seed. Nothing is taken from effects.h.
import { beforeAll, describe, expect, test } from 'vitest';
import type { Player } from '../../src/lampshow/index.ts';
import type { EffectOf } from '../../src/project/index.ts';
import { gridOf, type Stage, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

const rows = 20;
const columns = 60;
const ledCount = rows * columns;
const lifeSeconds = 1;
const lifeMs = 1000 * lifeSeconds;
const slots = 120;

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const stars = (density: number, seed = 7): EffectOf<'stars'> => ({
  kind: 'stars',
  lifeSeconds,
  density,
  seed,
});
/** Added to black, since over rounds level 1 to 0. */
const stageOfStars = (density: number, seed?: number): Stage =>
  stageOf(player, { runs: gridOf(rows, columns), clips: [{ effect: stars(density, seed), blend: 'add' }] });

/**
 * A life goes from dark to bright to dark, and its ends round to level 0: with the level rising at most as the square of time, it is
 * under 1 of 255 for the first and last 1/32 of a life.
 */
const visibleShare = 15 / 16;

/** Share of LEDs that are lit at a moment of each slot, a different part of it each time: LEDs have their own beginnings. */
const litShares = (stage: Stage): number[] =>
  Array.from({ length: slots }, (_, slot) => {
    const levels = stage.reds(Math.round((slot + ((slot * 0.618) % 1)) * lifeMs));
    return levels.filter((level) => level > 0).length / ledCount;
  });

describe('stars', () => {
  test.each([0.05, 0.2, 0.5, 0.8])(
    'of density %f are lit in that share, over 120 lives of 1,200 LEDs',
    (density) => {
      const shares = litShares(stageOfStars(density));
      const mean = shares.reduce((a, b) => a + b, 0) / slots;
      const expected = density * visibleShare;
      // Four standard deviations of the binomial distribution, and one LED in a hundred: for the density's byte (0.4 %) and because a
      // hash of bytes is not quite even. Nobody sees whether 5 or 6 of 100 LEDs are lit (common sense, no source).
      const bound = 4 * Math.sqrt((expected * (1 - expected)) / (ledCount * slots)) + 0.01;
      expect(Math.abs(mean - expected)).toBeLessThan(bound);
    },
  );

  test.each([0.05, 0.2, 0.5])(
    'of density %f are not all awake at once: each moment’s share is near the mean',
    (density) => {
      const expected = density * visibleShare;
      // Each moment has 1,200 throws; twice the binomial deviation is allowed for, four times over.
      const bound = 8 * Math.sqrt((expected * (1 - expected)) / ledCount);
      for (const share of litShares(stageOfStars(density)))
        expect(Math.abs(share - expected)).toBeLessThan(bound);
    },
  );

  test('of density 0 stay dark, of density 1 light nearly all', () => {
    expect(Math.max(...litShares(stageOfStars(0)))).toBe(0);
    expect(Math.min(...litShares(stageOfStars(1)))).toBeGreaterThan(visibleShare - 0.05);
  });

  test('wake and fade: each LED goes dark between two of its lives, and rises and falls in each', () => {
    const stage = stageOfStars(1);
    const course = Array.from({ length: 101 }, (_, i) => stage.reds(20_000 + i * 20));
    for (const led of [0, 1, 77, 500, 1199]) {
      const levels = course.map((frame) => frame[led]!);
      expect(Math.min(...levels)).toBeLessThanOrEqual(1);
      expect(Math.max(...levels)).toBeGreaterThan(240);
      // In two lives' time it turns from rising to falling and back at most five times.
      const signs = levels
        .slice(1)
        .map((level, i) => Math.sign(level - levels[i]!))
        .filter((sign) => sign !== 0);
      expect(signs.filter((sign, i) => i > 0 && sign !== signs[i - 1]).length).toBeLessThanOrEqual(5);
    }
  });

  /** For each LED its levels over the slots. */
  const histories = (stage: Stage): number[][] => {
    const frames = Array.from({ length: slots }, (_, slot) => stage.reds(Math.round((slot + 0.5) * lifeMs)));
    return Array.from({ length: ledCount }, (_, led) => frames.map((frame) => frame[led]!));
  };
  const agreement = (a: readonly number[], b: readonly number[]): number =>
    a.filter((level, slot) => level > 0 === b[slot]! > 0).length / slots;

  test('light independently: neighbours agree no more often than chance says', () => {
    const density = 0.5;
    const all = histories(stageOfStars(density));
    const lit = density * visibleShare;
    const byChance = lit * lit + (1 - lit) * (1 - lit);
    for (const step of [1, 2, columns, columns + 1]) {
      const pairs = all.slice(0, ledCount - step).map((history, led) => agreement(history, all[led + step]!));
      const mean = pairs.reduce((a, b) => a + b, 0) / pairs.length;
      expect(Math.abs(mean - byChance), `LEDs ${step} apart`).toBeLessThan(0.03);
    }
  });

  test('are single lights: few LEDs have a twin among the 60 of their row that does the same all the time', () => {
    const all = histories(stageOfStars(0.5));
    let twins = 0;
    for (let row = 0; row < rows; row++) {
      const keys = all.slice(row * columns, (row + 1) * columns).map((history) => history.join());
      twins += keys.filter((key, i) => keys.indexOf(key) !== i || keys.lastIndexOf(key) !== i).length;
    }
    expect(twins / ledCount).toBeLessThan(0.1);
  });

  test('of another seed wake elsewhere', () => {
    const [a, b] = [histories(stageOfStars(0.5, 7)), histories(stageOfStars(0.5, 8))];
    const mean = a.reduce((sum, history, led) => sum + agreement(history, b[led]!), 0) / ledCount;
    expect(mean).toBeLessThan(0.6);
  });
});
