// Rings and cloud against what the schema's descriptions say, in floating point and in millimetres: src/project/schema-shows.ts.
// A distance is counted in 256ths of the rings' spacing, and a lit width has 64 colours, which set the tolerances. Nothing is taken from effects.h.
import { beforeAll, describe, expect, test } from 'vitest';
import type { Player } from '../../src/lampshow/index.ts';
import type { EffectOf } from '../../src/project/index.ts';
import { densestPitchMm, gridOf, rowAt, type Stage, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

const widthMm = 600;
const heightMm = 300;
/** The rounding of the time's rate, and of places in a cloud. */
const distanceShare = 0.01;
/** A ring is looked up in 256 steps, up to 4 of which share one of its 64 colours: half such a colour, and a step that is cut off. */
const ringSlackMm = (spacingMm: number): number => spacingMm / 128 + spacingMm / 256;

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const part = (x: number) => x - Math.floor(x);

describe('rings', () => {
  const runs = gridOf(40, 50);
  const centre = { xMm: 150, yMm: 100 };
  const rings = (parts: Partial<EffectOf<'rings'>>): EffectOf<'rings'> => ({
    kind: 'rings',
    centre,
    spacingMm: 160,
    ringSeconds: 2,
    width: 0.6,
    ...parts,
  });
  const distanceOf = ({ xMm, yMm }: { xMm: number; yMm: number }) =>
    Math.hypot(xMm - centre.xMm, yMm - centre.yMm);

  /** Level at a distance: a ring is lit over `width` of the spacing, brightest in its middle, and grows by a spacing in ringSeconds. */
  function ringLevel(distanceMm: number, timeMs: number, effect: EffectOf<'rings'>): number {
    const turns = timeMs / 1000 / effect.ringSeconds;
    const along = part(distanceMm / effect.spacingMm - (effect.inward ? -turns : turns));
    const across = along / effect.width;
    return across >= 1 ? 0 : 255 * (1 - Math.abs(2 * across - 1));
  }

  test.each([
    rings({}),
    rings({ inward: true }),
    rings({ width: 1, spacingMm: 300 }),
    rings({ width: 0.2, spacingMm: 90, ringSeconds: 0.7 }),
  ])(
    'of $width of $spacingMm mm every $ringSeconds s (inward: $inward) are where they have grown to',
    (effect) => {
      const stage = stageOf(player, { runs, widthMm, heightMm, clips: [{ effect }] });
      for (const timeMs of [0, 170, 333, 1000, 1999, 2600, 61_234]) {
        const levels = stage.reds(timeMs);
        for (const [i, led] of stage.leds.entries()) {
          const distanceMm = distanceOf(led);
          const slack = distanceShare * distanceMm + ringSlackMm(effect.spacingMm);
          const possible = Array.from({ length: 41 }, (_, n) =>
            ringLevel(distanceMm + (slack * (n - 20)) / 20, timeMs, effect),
          );
          const where = `${distanceMm.toFixed(1)} mm at ${timeMs} ms`;
          // The slope is 510 levels for a lit width, sampled 41 times.
          const step = ((2 * 255) / (effect.width * effect.spacingMm)) * (slack / 20) + 4;
          expect(levels[i]!, where).toBeGreaterThanOrEqual(Math.min(...possible) - step);
          expect(levels[i]!, where).toBeLessThanOrEqual(Math.max(...possible) + step);
        }
      }
    },
  );

  test('measure distances within 1 % and the rounding of a distance and of a colour', () => {
    // One ring, 2.2 diagonals wide: its first half rises by 510 levels a spacing, so that a level tells the distance.
    const spacingMm = 2.2 * 670;
    const effect = rings({ spacingMm, width: 1, ringSeconds: 3600 });
    const stage = stageOf(player, { runs, widthMm, heightMm, clips: [{ effect }] });
    const errors = [...stage.reds(0)].map(
      (level, i) => (level / 510) * spacingMm - distanceOf(stage.leds[i]!),
    );
    const tooFar = errors.filter(
      (error, i) => Math.abs(error) > distanceShare * distanceOf(stage.leds[i]!) + ringSlackMm(spacingMm),
    );
    expect(tooFar).toEqual([]);
  });

  test('grow by one spacing in ringSeconds: the picture repeats', () => {
    const stage = stageOf(player, { runs, widthMm, heightMm, clips: [{ effect: rings({}) }] });
    const differences = [...stage.reds(500)].map((level, i) => Math.abs(level - stage.reds(2500)[i]!));
    expect(Math.max(...differences)).toBeLessThanOrEqual(4);
    expect(
      Math.max(...[...stage.reds(1500)].map((level, i) => Math.abs(level - stage.reds(500)[i]!))),
    ).toBeGreaterThan(200);
  });
});

describe('a cloud', () => {
  /** Red rises along the gradient, so that red tells the value. */
  const ramp = {
    id: 'g',
    stops: Array.from({ length: 9 }, (_, i) => ({
      at: i / 8,
      colour: `#${Math.round((255 * i) / 8)
        .toString(16)
        .padStart(2, '0')}0000`,
    })),
  };
  const [rows, columns] = [25, 80];
  const runs = gridOf(rows, columns);
  const cloudStage = (parts: Partial<EffectOf<'cloud'>>): Stage =>
    stageOf(player, {
      runs,
      widthMm,
      heightMm,
      gradients: [ramp],
      clips: [
        { effect: { kind: 'cloud', patchMm: 120, driftMmPerSecond: 0, driftDeg: 0, seed: 3, ...parts } },
      ],
    });

  const correlation = (pairs: readonly (readonly [number, number])[]): number => {
    const mean = (pick: 0 | 1) => pairs.reduce((sum, pair) => sum + pair[pick], 0) / pairs.length;
    const [a, b] = [mean(0), mean(1)];
    let [ab, aa, bb] = [0, 0, 0];
    for (const [x, y] of pairs) {
      ab += (x - a) * (y - b);
      aa += (x - a) ** 2;
      bb += (y - b) ** 2;
    }
    return ab / Math.sqrt(aa * bb);
  };

  /** Shift in LEDs (right, down) that best lays the earlier picture over the later one. */
  function bestShift(
    earlier: Uint8Array,
    later: Uint8Array,
  ): { right: number; down: number; correlation: number } {
    let best = { right: 0, down: 0, correlation: -1 };
    for (let down = -12; down <= 12; down++)
      for (let right = -12; right <= 12; right++) {
        const pairs: [number, number][] = [];
        for (let y = Math.max(0, down); y < Math.min(rows, rows + down); y++)
          for (let x = Math.max(0, right); x < Math.min(columns, columns + right); x++)
            pairs.push([earlier[(y - down) * columns + x - right]!, later[y * columns + x]!]);
        const found = correlation(pairs);
        if (found > best.correlation) best = { right, down, correlation: found };
      }
    return best;
  }

  // Speeds of so many LED pitches a second; the pictures are taken 2 s apart. Degrees: 0 right, 90 up.
  test.each([
    [0, 4, 8, 0],
    [180, 4, -8, 0],
    [90, 3, 0, -6],
    [-90, 5, 0, 10],
    [45, 4 * Math.SQRT2, 8, -8],
    [210, 5, -8.66, 5],
  ])(
    'that drifts to %f degrees at %f pitches a second is moved by (%f, %f) pitches after 2 s',
    (driftDeg, pitches, right, down) => {
      for (const startMs of [0, 5000, 100_000]) {
        const stage = cloudStage({ driftDeg, driftMmPerSecond: pitches * densestPitchMm });
        const found = bestShift(stage.reds(startMs), stage.reds(startMs + 2000));
        expect(Math.abs(found.right - right)).toBeLessThanOrEqual(1);
        expect(Math.abs(found.down - down)).toBeLessThanOrEqual(1);
        expect(found.correlation).toBeGreaterThan(0.97);
      }
    },
  );

  test('without drift stands still', () => {
    const stage = cloudStage({});
    expect(stage.reds(50_000)).toEqual(stage.reds(0));
  });

  test('of another seed is another cloud', () => {
    const other = cloudStage({ seed: 4 }).reds(0);
    const pairs = [...cloudStage({ seed: 3 }).reds(0)].map((level, i) => [level, other[i]!] as const);
    expect(Math.abs(correlation(pairs))).toBeLessThan(0.6);
  });

  test('has no step between neighbouring LEDs, and over twelve seeds uses most of its gradient', () => {
    const pictures = Array.from({ length: 12 }, (_, seed) => [...cloudStage({ seed }).reds(0)]);
    for (const levels of pictures) {
      const steps = levels.flatMap((level, i) =>
        i % columns === 0 ? [] : [Math.abs(level - levels[i - 1]!)],
      );
      // From one corner to the next by at most all 255 levels. A patch of 120 mm is 17.3 pitches or 45.6 positions; neighbours may be 3
      // positions apart instead of 2.64, and one step of the 64 colours is 4 levels, which either may miss.
      expect(Math.max(...steps)).toBeLessThanOrEqual((255 * 3) / 45.6 + 2 * 4 + 2);
    }
    expect(Math.min(...pictures.flat())).toBeLessThan(40);
    expect(Math.max(...pictures.flat())).toBeGreaterThan(215);
  });

  test.each([120, 240])('of patches of %f mm has its ups and downs about that far apart', (patchMm) => {
    // Values are thrown at corners a patch apart, so neighbours half a patch away still agree and those two patches away don't.
    const long = [rowAt('long', 100, 80), rowAt('other', 250, 80)];
    const pairsAt = (shiftMm: number) =>
      Array.from({ length: 24 }, (_, seed) => {
        const levels = stageOf(player, {
          runs: long,
          widthMm,
          heightMm,
          gradients: [ramp],
          clips: [{ effect: { kind: 'cloud', patchMm, driftMmPerSecond: 0, driftDeg: 0, seed } }],
        }).reds(0);
        const shift = Math.round(shiftMm / densestPitchMm);
        return Array.from({ length: 80 - shift }, (_, i) => [levels[i]!, levels[i + shift]!] as const);
      }).flat();
    expect(correlation(pairsAt(patchMm / 4))).toBeGreaterThan(0.6);
    expect(Math.abs(correlation(pairsAt(2 * patchMm)))).toBeLessThan(0.35);
  });
});
