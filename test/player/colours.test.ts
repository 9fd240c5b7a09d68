// Colours on the wire: gradients against OKLab mixing computed independently, gamma tables against published values, blends of whole
// clips against their formulas. Not here: the blends' loops over all levels (blend.test.ts), the current limit (limiter.test.ts).
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { gammaTable, type Player } from '../../src/lampshow/index.ts';
import type { Blend, Gradient } from '../../src/project/index.ts';
import { labOfSrgb, labOfXyz, mixedInOklab, type Triple } from './oklab.ts';
import { rowAt, stageOf } from './stage.ts';
import { loadPlayer, seed } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

describe('the OKLab used as reference', () => {
  // Published pairs, 3 decimals: Ottosson (2020), table of XYZ inputs and OKLab outputs.
  test.each<[Triple, Triple]>([
    [
      [0.95, 1, 1.089],
      [1, 0, 0],
    ],
    [
      [1, 0, 0],
      [0.45, 1.236, -0.019],
    ],
    [
      [0, 1, 0],
      [0.922, -0.671, 0.263],
    ],
    [
      [0, 0, 1],
      [0.153, -1.415, -0.449],
    ],
  ])('turns XYZ %j into %j', (xyz, lab) => {
    for (const [i, value] of labOfXyz(xyz).entries()) expect(value).toBeCloseTo(lab[i]!, 3);
  });

  // sRGB primaries, derived from the same definition, 4 decimals.
  test.each<[string, Triple, Triple]>([
    ['red', [255, 0, 0], [0.628, 0.2249, 0.1258]],
    ['green', [0, 255, 0], [0.8664, -0.2339, 0.1795]],
    ['blue', [0, 0, 255], [0.452, -0.0325, -0.3115]],
    ['magenta', [255, 0, 255], [0.7017, 0.2746, -0.1692]],
  ])('gives %s its place', (_, srgb, lab) => {
    for (const [i, value] of labOfSrgb(srgb).entries()) expect(value).toBeCloseTo(lab[i]!, 3);
  });
});

const entries = 64;
/** An LED for each colour of the player's table: the middle of entry k is at place (k + 0.5) / 64 of a gradient. */
const ledCount = 256;
const runs = [rowAt('row', 100, ledCount)];

/** The 64 colours that the player shows, read from a glow that spreads the gradient over the row. */
function coloursOf(gradient: Gradient): Triple[] {
  const effect = { kind: 'glow', gradientPlace: 0, gradientSpan: 1 } as const;
  const levels = stageOf(player, { runs, gradients: [gradient], clips: [{ effect }] }).levels(0);
  return Array.from({ length: entries }, (_, k) => {
    const led = 3 * Math.round(((k + 0.5) / entries) * (ledCount - 1));
    return [levels[led]!, levels[led + 1]!, levels[led + 2]!] as const;
  });
}

const rgbOf = (colour: string): Triple => {
  const value = Number.parseInt(colour.slice(1), 16);
  return [value >> 16, (value >> 8) & 255, value & 255];
};

/** Colour at a place: stops by place, the first one's colour before it, the last one's behind it; a later stop at one place wins. */
function expectedAt({ stops }: Gradient, place: number): Triple {
  const sorted = [...stops].sort((a, b) => a.at - b.at);
  const right = sorted.find((stop) => stop.at > place);
  const left = sorted.findLast((stop) => stop.at <= place);
  if (!right || !left) return rgbOf((right ?? left)!.colour);
  return mixedInOklab(rgbOf(left.colour), rgbOf(right.colour), (place - left.at) / (right.at - left.at));
}

/** Largest distance of a shown channel from the true one, rounded to levels. */
function levelsOff(gradient: Gradient): number {
  const off = coloursOf(gradient).flatMap((colour, k) =>
    colour.map((level, channel) =>
      Math.abs(level - Math.round(expectedAt(gradient, k / (entries - 1))[channel]!)),
    ),
  );
  return Math.max(...off);
}

const gradientOf = (...colours: string[]): Gradient => ({
  id: 'g',
  stops: colours.map((colour, i) => ({ at: i / Math.max(1, colours.length - 1), colour })),
});

describe('a gradient', () => {
  test.each([
    [['#ff0000', '#0000ff']],
    [['#000000', '#ffffff']],
    [['#ffd060', '#ff4010', '#801040']],
    [['#00ff00', '#ff00ff']],
    [['#ffff00', '#0000ff', '#000000']],
    [['#123456']],
  ])('of %j is within one level of mixing in OKLab', (colours) => {
    expect(levelsOff(gradientOf(...colours))).toBeLessThanOrEqual(1);
  });

  const stop = fc.record({
    at: fc.integer({ min: 0, max: 100 }).map((percent) => percent / 100),
    colour: fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, '0')}`),
  });
  test(`of random stops is within one level of mixing in OKLab (seed ${seed})`, () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(stop, { minLength: 1, maxLength: 6, selector: ({ at }) => at }),
        (stops) => levelsOff({ id: 'g', stops }) <= 1,
      ),
      { seed, numRuns: 400 },
    );
  });

  test.each(['#0000ff', '#00ff00', '#ff0000', '#00ffff', '#ffff00', '#ff00ff'])(
    'between saturated colours and %s never leaves its ends’ range by a jump through 0 or 255',
    (colour) => {
      for (const other of ['#000000', '#ffffff', '#ff0000', '#0000ff', '#00ff00', '#ffff00'])
        expect(levelsOff(gradientOf(colour, other)), other).toBeLessThanOrEqual(1);
    },
  );

  test('has an edge where two stops stand at one place', () => {
    const stops = [
      { at: 0, colour: '#ff0000' },
      { at: 0.5, colour: '#ff0000' },
      { at: 0.5, colour: '#0000ff' },
    ];
    const colours = coloursOf({ id: 'g', stops });
    expect(colours[31]).toEqual([255, 0, 0]);
    expect(colours[32]).toEqual([0, 0, 255]);
  });
});

describe('gamma', () => {
  // round(255 (i / 255) ^ gamma), columns i; derived from that definition, with first lit level, distinct values and sum.
  const columns = [1, 16, 32, 64, 96, 128, 160, 192, 224, 254, 255];
  const tables = [
    {
      gamma: 2.2,
      values: [0, 1, 3, 12, 30, 56, 91, 137, 192, 253, 255],
      firstLit: 15,
      distinct: 184,
      sum: 20_443,
    },
    {
      gamma: 2.5,
      values: [0, 0, 1, 8, 22, 46, 80, 125, 184, 253, 255],
      firstLit: 22,
      distinct: 173,
      sum: 18_701,
    },
    {
      gamma: 2.8,
      values: [0, 0, 1, 5, 17, 37, 69, 115, 177, 252, 255],
      firstLit: 28,
      distinct: 163,
      sum: 17_241,
    },
  ];

  test.each(tables)(
    '$gamma turns levels into the published bytes',
    ({ gamma, values, firstLit, distinct, sum }) => {
      const table = gammaTable(gamma, 1);
      expect(columns.map((i) => table[i])).toEqual(values);
      expect(table.findIndex((byte) => byte > 0)).toBe(firstLit);
      expect(new Set(table).size).toBe(distinct);
      expect(table.reduce((a, b) => a + b, 0)).toBe(sum);
    },
  );

  test.each(tables)('$gamma is what the wire carries', ({ gamma, values }) => {
    const effect = { kind: 'glow', gradientPlace: 0, gradientSpan: 0 } as const;
    const sent = columns.map((i) => {
      const grey = `#${i.toString(16).padStart(2, '0').repeat(3)}`;
      const gradients = [{ id: 'g', stops: [{ at: 0, colour: grey }] }];
      return [
        ...stageOf(player, { runs: [rowAt('one', 0, 1)], gradients, gamma, clips: [{ effect }] }).levels(0),
      ];
    });
    expect(sent).toEqual(values.map((byte) => [byte, byte, byte]));
  });
});

describe('a clip on another', () => {
  const steady = { kind: 'glow', gradientPlace: 0, gradientSpan: 0 } as const;
  const colours = ['#000000', '#ffffff', '#ff8000', '#2060c0', '#808080', '#01fe7f'];
  /** Channels and level from 0 to 1. */
  const formulas: Readonly<Record<Blend, (below: number, above: number, level: number) => number>> = {
    over: (below, above, level) => below * (1 - level) + above * level,
    add: (below, above, level) => Math.min(1, below + above * level),
    'brighter-wins': (below, above, level) => Math.max(below, above * level),
    tint: (below, above, level) => below * (1 - (1 - above) * level),
  };

  test.each(Object.keys(formulas) as Blend[])(
    '%s follows the formula within 2 levels at every level',
    (blend) => {
      for (const below of colours)
        for (const above of colours)
          for (const levelPercent of [1, 25, 50, 99, 100]) {
            const sent = stageOf(player, {
              runs: [rowAt('one', 0, 1)],
              gradients: [
                { id: 'below', stops: [{ at: 0, colour: below }] },
                { id: 'above', stops: [{ at: 0, colour: above }] },
              ],
              clips: [
                { effect: steady, gradient: 'below' },
                { effect: steady, gradient: 'above', blend, levelPercent },
              ],
            }).levels(0);
            for (const [i, level] of sent.entries()) {
              const exact =
                255 * formulas[blend](rgbOf(below)[i]! / 255, rgbOf(above)[i]! / 255, levelPercent / 100);
              expect(Math.abs(level - exact), `${above} on ${below} at ${levelPercent} %`).toBeLessThan(2.5);
            }
          }
    },
  );
});
