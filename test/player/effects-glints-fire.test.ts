// Glints and fire against the schema's descriptions (src/project/schema-shows.ts). Chance is a hash, so its counts are held against binomial bounds.
// Not here: stars, which share glints' dice (effects-stars.test.ts); clouds, which share fire's lattice (effects-rings-cloud.test.ts).
import { beforeAll, describe, expect, test } from 'vitest';
import type { Player } from '../../src/lampshow/index.ts';
import type { EffectOf, Gradient } from '../../src/project/index.ts';
import { densestPitchMm, gridOf, type Stage, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

describe('glints', () => {
  const [rows, columns] = [20, 60];
  const ledCount = rows * columns;
  const lifeMs = 1000;
  const lives = 60;
  const glints = (density: number, seed = 7): Stage =>
    stageOf(player, {
      runs: gridOf(rows, columns),
      clips: [{ effect: { kind: 'glints', lifeSeconds: lifeMs / 1000, density, seed }, blend: 'add' }],
    });
  /** Dying out as the square of what is left of a life, a glint is under 1 of 255 for its last sixteenth. */
  const visibleShare = 15 / 16;

  test.each([0.1, 0.4, 0.8])('of density %f glint in that share, over 60 lives of 1,200 LEDs', (density) => {
    const stage = glints(density);
    const shares = Array.from({ length: lives }, (_, life) => {
      const levels = stage.reds(Math.round((life + ((life * 0.618) % 1)) * lifeMs));
      return levels.filter((level) => level > 0).length / ledCount;
    });
    const expected = density * visibleShare;
    // Four standard deviations, and one LED in a hundred for the density's byte and a hash that is not quite even, as for stars.
    const bound = 4 * Math.sqrt((expected * (1 - expected)) / (ledCount * lives)) + 0.01;
    expect(Math.abs(shares.reduce((a, b) => a + b, 0) / lives - expected)).toBeLessThan(bound);
  });

  test('begin at their brightest and die out: a level rises from dark to near full at once, or else it falls', () => {
    const stage = glints(0.5);
    const everyMs = 4;
    const course = Array.from({ length: (4 * lifeMs) / everyMs }, (_, i) => stage.reds(20_000 + i * everyMs));
    let beginnings = 0;
    for (let led = 0; led < ledCount; led += 7)
      for (let i = 1; i < course.length; i++) {
        const [before, level] = [course[i - 1]![led]!, course[i]![led]!];
        if (level <= before) continue;
        beginnings++;
        // A life has 256 phases; 4 ms are just over one of them, and each takes two levels off at the beginning.
        expect(level, `LED ${led}`).toBeGreaterThan(245);
        expect(before, `LED ${led}`).toBeLessThanOrEqual(1);
      }
    // 172 LEDs, four lives, half of them lit.
    expect(Math.abs(beginnings - 172 * 4 * 0.5)).toBeLessThan(60);
  });

  test('take a life to die out', () => {
    const stage = glints(1);
    const levels = Array.from({ length: 2 * lifeMs }, (_, timeMs) => stage.reds(5000 + timeMs)[11]!);
    const begins = levels.flatMap((level, at) => (level > 240 && (levels[at - 1] ?? 255) < 16 ? [at] : []));
    expect(begins.length).toBeGreaterThan(0);
    const course = levels.slice(begins[0], begins[0]! + lifeMs);
    // The square of what is left.
    for (const share of [0.1, 0.25, 0.5, 0.7]) {
      const at = Math.round(share * lifeMs);
      if (at < course.length) expect(Math.abs(course[at]! / 255 - (1 - share) ** 2)).toBeLessThan(0.02);
    }
  });

  test('begin each at its own time', () => {
    const stage = glints(1);
    const bright = stage.reds(7777).filter((level) => level > 200).length / ledCount;
    // Over 200 of 255 is the first ninth of a life: 1 - sqrt(200 / 255).
    const expected = 1 - Math.sqrt(200 / 255);
    expect(Math.abs(bright - expected)).toBeLessThan(
      4 * Math.sqrt((expected * (1 - expected)) / ledCount) + 0.01,
    );
  });
});

describe('a fire', () => {
  const [rows, columns] = [40, 40];
  const runs = gridOf(rows, columns);
  /** Red rises along the gradient: it tells the heat, the gradient's end being the hottest. */
  const ramp: Gradient = {
    id: 'g',
    stops: Array.from({ length: 9 }, (_, i) => ({
      at: i / 8,
      colour: `#${Math.round((255 * i) / 8)
        .toString(16)
        .padStart(2, '0')}0000`,
    })),
  };
  const fire = (parts: Partial<EffectOf<'fire'>>): Stage =>
    stageOf(player, {
      runs,
      gradients: [ramp],
      clips: [{ effect: { kind: 'fire', patchMm: 60, riseMmPerSecond: 40, height: 0.6, seed: 3, ...parts } }],
    });
  /** For each row, from the foot up, all its levels at many moments and with many seeds. */
  function rowsOf(parts: Partial<EffectOf<'fire'>>): number[][] {
    const found: number[][] = Array.from({ length: rows }, () => []);
    for (const seed of [1, 2, 3, 4, 5, 6])
      for (let timeMs = 0; timeMs < 30_000; timeMs += 3000)
        for (const [i, level] of fire({ ...parts, seed })
          .reds(timeMs)
          .entries())
          found[rows - 1 - Math.floor(i / columns)]!.push(level);
    return found;
  }
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  const heightOf = (row: number) => row / (rows - 1);

  test.each([0.3, 0.6, 1])('of height %f reaches so far up the area, darker with height', (height) => {
    const found = rowsOf({ height });
    const means = found.map(mean);
    // Bright at its foot, in the upper half of the gradient.
    expect(means[0]).toBeGreaterThan(160);
    for (let row = 2; row < rows; row++) expect(means[row]).toBeLessThanOrEqual(means[row - 2]! + 6);
    for (const [row, levels] of found.entries()) {
      const share = heightOf(row) / height;
      // Half way up most of it burns; where its height is, flames of middling heat have died and only the hottest lick further, by a
      // third of it at most.
      if (share < 0.5)
        expect(levels.filter((level) => level > 40).length / levels.length).toBeGreaterThan(0.85);
      if (share > 1.02) expect(levels.filter((level) => level > 0).length / levels.length).toBeLessThan(0.55);
      if (share > 1.34) expect(Math.max(...levels)).toBe(0);
    }
  });

  test('shows the gradient’s end where it is hottest and its beginning where it dies', () => {
    const found = rowsOf({ height: 0.5 });
    expect(Math.max(...found[0]!)).toBe(255);
    expect(Math.max(...found.at(-1)!)).toBe(0);
  });

  test('rises: what burns now burned further down before', () => {
    const stage = fire({ height: 1, riseMmPerSecond: 5 * densestPitchMm });
    /** Differences from each row's own mean, since the fire is darker with height. */
    const picture = (timeMs: number) => {
      const levels = stage.reds(timeMs);
      return Array.from({ length: rows }, (_, row) => {
        const own = [...levels.subarray(row * columns, (row + 1) * columns)];
        return own.map((level) => level - mean(own));
      });
    };
    const likeness = (a: number[][], b: number[][], up: number): number => {
      let [ab, aa, bb] = [0, 0, 0];
      for (let row = Math.max(0, -up); row < Math.min(rows, rows - up); row++)
        for (let column = 0; column < columns; column++) {
          const [x, y] = [a[row + up]![column]!, b[row]![column]!];
          ab += x * y;
          aa += x * x;
          bb += y * y;
        }
      return ab / Math.sqrt(aa * bb);
    };
    for (const timeMs of [0, 4000, 31_000]) {
      const [before, after] = [picture(timeMs), picture(timeMs + 1000)];
      const ups = Array.from({ length: 21 }, (_, i) => i - 10);
      const best = ups.reduce((a, b) => (likeness(before, after, b) > likeness(before, after, a) ? b : a));
      // Five rows a second, a row either way.
      expect(Math.abs(best - 5)).toBeLessThanOrEqual(1);
      expect(likeness(before, after, best)).toBeGreaterThan(0.8);
    }
  });

  test('without rise stands still, and is another one with another seed', () => {
    const still = fire({ riseMmPerSecond: 0 });
    expect(still.reds(50_000)).toEqual(still.reds(0));
    expect(fire({ seed: 4 }).reds(0)).not.toEqual(fire({ seed: 5 }).reds(0));
  });
});
