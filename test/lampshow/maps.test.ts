// What an effect knows of each LED, against the comments of maps.ts and the schema's descriptions: places, distances, angles, turns, dice, lattices. And that
// none of it depends on how the LEDs are wired. Not here: rows and columns of letters (letters.test.ts), cells of painted frames (painted.test.ts).
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  angleMap,
  chanceMap,
  chanceOrderMap,
  chaseMap,
  compileShowData,
  distanceMap,
  effectMap,
  fireMap,
  gradientMap,
  latticeMap,
  leastPatchMm,
  type MappedLed,
  type Player,
  wayMap,
} from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Effect, Project } from '../../src/project/index.ts';
import { gridOf, projectOfScene } from '../player/stage.ts';
import { loadPlayer, seed } from '../player/varied-project.ts';
import { effect } from '../support/random-clips.ts';

/** A grid of LEDs, place running from left to right. */
const grid = (rows: number, columns: number, pitchMm = 10): MappedLed[] =>
  Array.from({ length: rows * columns }, (_, i) => ({
    xMm: pitchMm * (i % columns),
    yMm: pitchMm * Math.floor(i / columns),
    place: columns === 1 ? 0 : (i % columns) / (columns - 1),
  }));
/** LEDs anywhere, each at a place of its own; some share a place along the way. */
const anywhere: fc.Arbitrary<MappedLed[]> = fc.uniqueArray(
  fc.record({
    xMm: fc.integer({ min: 0, max: 6000 }).map((tenths) => tenths / 10),
    yMm: fc.integer({ min: 0, max: 3000 }).map((tenths) => tenths / 10),
    place: fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(0, 0.25, 0.5, 1)),
  }),
  { minLength: 1, maxLength: 60, selector: ({ xMm, yMm }) => `${xMm} ${yMm}` },
);

describe('coordinates', () => {
  test('a way is counted in 256ths of a turn; the end belongs to its last one; mirrored, both ends are its beginning', () => {
    const leds = [0, 0.1, 0.25, 0.5, 0.75, 0.999, 1].map((place) => ({ xMm: 0, yMm: 0, place }));
    expect([...wayMap(leds, 1)]).toEqual([0, 25, 64, 128, 192, 255, 255]);
    expect([...wayMap(leds, 1, true)]).toEqual([0, 51, 128, 255, 128, 0, 0]);
    // Two turns: the half way is a whole one. A half turn: the whole way is half a one.
    expect([...wayMap(leds, 2)]).toEqual([0, 51, 128, 0, 128, 255, 255]);
    expect([...wayMap(leds, 0.5)]).toEqual([0, 12, 32, 64, 96, 127, 127]);
  });

  test('a place on a gradient is counted from where its part begins; behind its end its beginning follows', () => {
    const leds = [0, 0.5, 1].map((place) => ({ xMm: 0, yMm: 0, place }));
    expect([...gradientMap(leds, 0, 1)]).toEqual([0, 127, 255]);
    expect([...gradientMap(leds, 0.25, 0.5)]).toEqual([64, 128, 191]);
    expect([...gradientMap(leds, 0.75, 0.5)]).toEqual([192, 0, 63]);
    expect([...gradientMap(leds, 0.5, 0)]).toEqual([128, 128, 128]);
  });

  test('a distance is counted in 256ths of the rings’ spacing', () => {
    fc.assert(
      fc.property(anywhere, fc.integer({ min: 10, max: 900 }), (leds, spacingMm) => {
        const map = distanceMap(leds, { xMm: 100, yMm: 120 }, spacingMm);
        for (const [i, { xMm, yMm }] of leds.entries()) {
          const rings = Math.hypot(xMm - 100, yMm - 120) / spacingMm;
          const off = map[i]! / 256 - (rings - Math.floor(rings));
          // Cut off: up to a step too few, never one too many.
          expect(off).toBeLessThanOrEqual(1e-9);
          expect(off).toBeGreaterThan(-1 / 256 - 1e-9);
        }
      }),
      { seed },
    );
    expect([...distanceMap([{ xMm: 5, yMm: 5, place: 0 }], { xMm: 5, yMm: 5 }, 10)]).toEqual([0]);
  });

  test('an angle runs clockwise from the right, 256 steps from spoke to spoke', () => {
    const centre = { xMm: 50, yMm: 50 };
    const around = [
      [60, 50],
      [60.1, 60],
      [50, 60],
      [40, 50],
      [50, 40],
    ].map(([xMm, yMm]) => ({ xMm: xMm!, yMm: yMm!, place: 0 }));
    // To the right; a little short of an eighth of a turn; below; left; above.
    expect([...angleMap(around, centre, 1, 0)]).toEqual([0, 31, 64, 128, 192]);
    expect([...angleMap(around, centre, 2, 0)]).toEqual([0, 63, 128, 0, 128]);
    // Half a turn's twist at the farthest, which is 20 mm away; the other is half as far.
    const twisted = [...angleMap([around[0]!, { xMm: 70, yMm: 50, place: 0 }], centre, 1, 0.5)];
    expect(twisted).toEqual([256 - 64, 128]);
  });

  test('a turn in a chase is counted along the way', () => {
    const leds = [0.9, 0, 0.4, 0.2, 0.6, 0.8, 1].map((place, i) => ({ xMm: i, yMm: 0, place }));
    // Sorted: 0 0.2 0.4 0.6 0.8 0.9 1, of every third: 0, 85, 170, 0, 85, 170, 0.
    expect([...chaseMap(leds, 3)]).toEqual([170, 0, 170, 85, 0, 85, 0]);
    for (const every of [2, 5, 16]) {
      const turns = chaseMap(grid(1, 60), every);
      expect([...turns]).toEqual(
        Array.from({ length: 60 }, (_, i) => Math.floor((256 * (i % every)) / every)),
      );
    }
  });

  test('LEDs at one place along the way have one turn: columns of a grid go together', () => {
    const map = chaseMap(grid(5, 8), 3);
    for (const [i, turn] of map.entries()) expect(turn).toBe(Math.floor((256 * ((i % 8) % 3)) / 3));
    // A place that differs in its last bits is the same place.
    const rounded = grid(5, 8).map((led, i) => ({ ...led, place: led.place * (1 + (i % 3) * 1e-12) }));
    expect([...chaseMap(rounded, 3)]).toEqual([...map]);
  });

  test('a lattice has 32 steps a patch from the area’s corner, and at most seven patches', () => {
    const leds = grid(4, 21);
    // 200 x 30 mm; patches of 100 mm: 32 steps in 100 mm.
    const map = latticeMap(leds, 100);
    for (const [i, { xMm, yMm }] of leds.entries())
      expect([map[2 * i], map[2 * i + 1]]).toEqual([Math.round(0.32 * xMm), Math.round(0.32 * yMm)]);
    expect(leastPatchMm(leds)).toBeCloseTo(200 / 7, 9);
    const finest = latticeMap(leds, 1);
    expect(Math.max(...finest)).toBe(224);
    expect([...finest]).toEqual([...latticeMap(leds, 200 / 7)]);
    // Where the area lies on the panel plays no part.
    const moved = leds.map((led) => ({ ...led, xMm: led.xMm + 1000, yMm: led.yMm + 77 }));
    expect([...latticeMap(moved, 100)]).toEqual([...map]);
  });

  test('a fire’s third byte is the height over the area’s foot', () => {
    const leds = grid(5, 3);
    const map = fireMap(leds, 50);
    const lattice = latticeMap(leds, 50);
    for (const [i] of leds.entries()) {
      expect([map[3 * i], map[3 * i + 1]]).toEqual([lattice[2 * i], lattice[2 * i + 1]]);
      expect(map[3 * i + 2]).toBe(Math.round((255 * (4 - Math.floor(i / 3))) / 4));
    }
    expect([...fireMap(grid(1, 3), 50)].filter((_, i) => i % 3 === 2)).toEqual([0, 0, 0]);
  });
});

describe('dice', () => {
  test.each([
    [1, 1],
    [1, 60],
    [7, 30],
    [16, 16],
  ])('of %i x %i LEDs are all different', (rows, columns) => {
    expect(new Set(chanceMap(grid(rows, columns))).size).toBe(rows * columns);
  });

  test('of more than 256 LEDs are as even as they can be, and equal ones are far apart', () => {
    const [rows, columns] = [20, 40];
    const leds = grid(rows, columns);
    const map = chanceMap(leds);
    const places = new Map<number, number[]>();
    for (const [i, byte] of map.entries()) places.set(byte, [...(places.get(byte) ?? []), i]);
    for (const same of places.values()) {
      expect(same.length).toBeGreaterThanOrEqual(Math.floor(800 / 256));
      expect(same.length).toBeLessThanOrEqual(Math.ceil(800 / 256));
      // 256 LEDs on, row by row of 40: more than six rows.
      for (const a of same)
        for (const b of same)
          if (a !== b) expect(Math.abs(leds[a]!.yMm - leds[b]!.yMm)).toBeGreaterThanOrEqual(60);
    }
  });

  test('of neighbours have nothing to do with one another', () => {
    const map = chanceMap(grid(16, 16));
    for (const step of [1, 2, 16, 17]) {
      const differences = [...map].slice(step).map((byte, i) => (byte - map[i]! + 256) % 256);
      // Even differences have a mean of 127.5 and a deviation of 74; four deviations of the mean of 240 and more.
      const mean = differences.reduce((a, b) => a + b, 0) / differences.length;
      expect(Math.abs(mean - 127.5), `${step} apart`).toBeLessThan(4 * (74 / Math.sqrt(differences.length)));
      expect(new Set(differences).size).toBeGreaterThan(100);
    }
  });

  test('a chance order is an order: each place once, evenly over the way, and not along it', () => {
    for (const count of [1, 2, 60, 256, 480]) {
      const map = [...chanceOrderMap(grid(1, count))];
      const expected = Array.from({ length: count }, (_, rank) => Math.floor((256 * rank) / count));
      expect([...map].sort((a, b) => a - b)).toEqual(expected);
      if (count >= 60) expect(map.filter((byte, i) => byte === expected[i]).length / count).toBeLessThan(0.2);
    }
  });
});

describe('the wiring', () => {
  const bytesEach = (one: Effect, leds: readonly MappedLed[]) => effectMap(one, leds).length / leds.length;

  test('decides nothing but the order of the bytes: each LED has the same wherever it stands on the wire', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(
        effect,
        fc.oneof(anywhere, fc.constantFrom(grid(6, 9), grid(1, 30))),
        fc.infiniteStream(fc.nat(1e6)),
        (one, leds, dice) => {
          kinds.add(one.kind);
          const order = leds.map((_, i) => ({ i, die: dice.next().value as number }));
          order.sort((a, b) => a.die - b.die || a.i - b.i);
          const each = bytesEach(one, leds);
          const map = effectMap(one, leds);
          const other = effectMap(
            one,
            order.map(({ i }) => leds[i]!),
          );
          for (const [place, { i }] of order.entries())
            expect([...other.subarray(each * place, each * (place + 1))], `${one.kind}, LED ${i}`).toEqual([
              ...map.subarray(each * i, each * (i + 1)),
            ]);
        },
      ),
      { seed, numRuns: 1500 },
    );
    expect(kinds.size).toBe(15);
  });

  let player: Player;
  beforeAll(async () => {
    player = await loadPlayer();
  });

  test('changes no picture: the chain in another order, runs laid the other way round', () => {
    const runs = gridOf(6, 12);
    const pitch = runs[0]!.firstLed;
    /** Levels by the LED's place on the panel. */
    const picture = (project: Project, timeMs: number) => {
      const layout = layOut(project);
      player.setShowData(compileShowData(project, layout, { frameMs: 1 })!);
      const wire = player.frame('attract', timeMs);
      return new Map(
        layout.wireLeds.map((led, i) => [
          `${led.xMm.toFixed(3)} ${led.yMm.toFixed(3)}`,
          [...wire.subarray(3 * i, 3 * i + 3)].join(),
        ]),
      );
    };
    fc.assert(
      fc.property(
        effect,
        fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
        fc.nat(20_000),
        (one, turned, timeMs) => {
          const clips = [{ effect: one }];
          const there = projectOfScene({ runs, clips });
          const other = runs.map((run, i) =>
            turned[i]
              ? { ...run, arrowDeg: 180, firstLed: { ...run.firstLed, xMm: pitch.xMm + (11 * 1000) / 144 } }
              : run,
          );
          const back = projectOfScene({ runs: [...other].reverse(), clips });
          expect(picture(back, timeMs)).toEqual(picture(there, timeMs));
        },
      ),
      { seed, numRuns: 300 },
    );
  });
});
