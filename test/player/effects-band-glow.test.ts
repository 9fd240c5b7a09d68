// Band and glow against what the schema's descriptions say, in floating point: src/project/schema-shows.ts. On a row of 256 LEDs whose
// places are 0, 1/255 ... 1 of the way. Nothing here is taken from effects.h; tolerances stand beside each claim.
import { beforeAll, describe, expect, test } from 'vitest';
import type { Player } from '../../src/lampshow/index.ts';
import type { EffectOf, Gradient } from '../../src/project/index.ts';
import { rowAt, type Stage, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

const ledCount = 256;
const runs = [rowAt('row', 100, ledCount)];
const wayOf = (led: number) => led / (ledCount - 1);
/** Half a step of the 256 places, and the rounding of time and step: together less than 1/128 of the way. */
const placeTolerance = 1 / 128;
const levelTolerance = 3;

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

type Band = EffectOf<'band'>;
const bandOf = (parts: Partial<Band>): Band => ({
  kind: 'band',
  passSeconds: 4,
  width: 0.2,
  bands: 1,
  travel: 'forward',
  softness: 1,
  ...parts,
});
const stageOfBand = (parts: Partial<Band>, gradient?: Gradient): Stage =>
  stageOf(player, {
    runs,
    clips: [{ effect: bandOf(parts) }],
    ...(gradient ? { gradients: [gradient] } : {}),
  });

const part = (x: number) => x - Math.floor(x);

/** Where the first band's middle is, in ways; the others follow at equal distances. */
const middles: Readonly<Record<Band['travel'], (passes: number) => number>> = {
  forward: (passes) => part(passes),
  backward: (passes) => part(-passes),
  'there-and-back': (passes) => (passes % 2 < 1 ? passes % 2 : 2 - (passes % 2)),
};

/** Level from 0 to 255 at a signed distance from the band's middle, in ways. */
const bandLevel = (off: number, { width, softness }: Band): number => {
  const inner = 1 - Math.abs(off) / (width / 2);
  if (inner <= 0) return 0;
  return 255 * (softness === 0 ? 1 : Math.min(1, inner / softness));
};

/** Distance to the nearest of the evenly spaced bands; there and back a lone band has no neighbour to wrap to. */
function offNearest(place: number, middle: number, { bands, travel }: Band): number {
  if (travel === 'there-and-back') return place - middle;
  const spaces = (place - middle) * bands;
  return (spaces - Math.round(spaces)) / bands;
}

/** A hard edge may take a fifteenth of half the width: the least softness that the player knows. */
const edgeTolerance = ({ width, softness }: Band): number => (softness === 0 ? width / 2 / 15 : 0);

/** Whether a level is the band's somewhere within the place tolerance. */
function agrees(level: number, place: number, middle: number, band: Band): boolean {
  const off = Math.abs(offNearest(place, middle, band));
  const tolerance = placeTolerance + edgeTolerance(band);
  const most = bandLevel(Math.max(0, off - tolerance), band);
  const least = bandLevel(off + tolerance, band);
  return level >= least - levelTolerance && level <= most + levelTolerance;
}

const times = Array.from({ length: 40 }, (_, i) => 13 + i * 397);

describe('a band', () => {
  test.each([
    bandOf({}),
    bandOf({ travel: 'backward' }),
    bandOf({ travel: 'there-and-back' }),
    bandOf({ bands: 4, width: 0.1 }),
    bandOf({ bands: 16, width: 0.03, travel: 'backward' }),
    bandOf({ bands: 2, width: 0.5, softness: 0.5 }),
    bandOf({ width: 1, passSeconds: 0.5 }),
    bandOf({ width: 0.02, softness: 0.3, passSeconds: 30 }),
    bandOf({ softness: 0, travel: 'there-and-back', passSeconds: 1.5 }),
  ])(
    'of $width of the way, $bands at once, $travel, softness $softness, is where $passSeconds s a pass put it',
    (band) => {
      const stage = stageOfBand(band);
      for (const timeMs of times) {
        const middle = middles[band.travel](timeMs / 1000 / band.passSeconds);
        const wrong = [...stage.reds(timeMs)].findIndex(
          (level, led) => !agrees(level, wayOf(led), middle, band),
        );
        expect(wrong, `LED at ${timeMs} ms`).toBe(-1);
      }
    },
  );

  test.each(['forward', 'backward', 'there-and-back'] as const)(
    'moves its centre of light %s by the right share of the way between two moments',
    (travel) => {
      const stage = stageOfBand({ travel, width: 0.2 });
      const centre = (timeMs: number) => {
        const levels = [...stage.reds(timeMs)];
        return (
          levels.reduce((sum, level, led) => sum + level * wayOf(led), 0) / levels.reduce((a, b) => a + b, 0)
        );
      };
      for (const timeMs of [600, 1300, 2000, 2900, 4700, 6000, 7300]) {
        expect(Math.abs(centre(timeMs) - middles[travel](timeMs / 4000))).toBeLessThan(placeTolerance);
      }
    },
  );

  test.each([0.02, 0.1, 0.35, 0.8])('of width %f lights that share of the way', (width) => {
    const lit = [...stageOfBand({ width, softness: 0 }).reds(2000)].filter((level) => level > 0).length;
    expect(Math.abs(lit / ledCount - width)).toBeLessThan(2 * placeTolerance);
  });

  test('with softness 0 has hard edges: nearly all its LEDs are at full level', () => {
    const levels = [...stageOfBand({ softness: 0 }).reds(2000)].filter((level) => level > 0);
    const full = levels.filter((level) => level === 255).length;
    // An edge may be as wide as the least softness that the player knows, a fifteenth of half the width, on either side.
    expect(full / levels.length).toBeGreaterThan(1 - 1 / 15 - 0.05);
  });

  test('with softness 1 has no flat top', () => {
    const levels = [...stageOfBand({ softness: 1 }).reds(2000)];
    expect(levels.filter((level) => level > 245).length).toBeLessThanOrEqual(3);
  });

  const redThenBlue: Gradient = {
    id: 'g',
    stops: [
      { at: 0, colour: '#ff0000' },
      { at: 0.5, colour: '#ff0000' },
      { at: 0.5, colour: '#0000ff' },
      { at: 1, colour: '#0000ff' },
    ],
  };
  test.each([
    ['forward', 2000, 1],
    ['backward', 2000, -1],
    ['there-and-back', 2000, 1],
    ['there-and-back', 6000, -1],
  ] as const)(
    'going %s at %i ms shows the beginning of its gradient in front',
    (travel, timeMs, direction) => {
      const levels = stageOfBand({ travel, softness: 0, width: 0.4 }, redThenBlue).levels(timeMs);
      const at = (place: number) => [
        ...levels.subarray(3 * Math.round(place * 255), 3 * Math.round(place * 255) + 3),
      ];
      const [front, back] = [at(0.5 + 0.15 * direction), at(0.5 - 0.15 * direction)];
      expect(front[0]).toBe(255);
      expect(front[2]).toBe(0);
      expect(back[0]).toBe(0);
      expect(back[2]).toBe(255);
    },
  );

  test.each([
    ['forward', 2],
    ['forward', 5],
    ['backward', 3],
    ['there-and-back', 2],
    ['there-and-back', 4],
  ] as const)('going %s shows %i bands at once, evenly spaced', (travel, bands) => {
    const stage = stageOfBand({ travel, bands, width: 0.05, softness: 0 });
    for (let timeMs = 100; timeMs < 8000; timeMs += 250) {
      const lit = [...stage.reds(timeMs)].map((level) => level > 0);
      const starts = lit.flatMap((is, led) => (is && !lit[led - 1] ? [led] : []));
      const touchesEnd = lit[0] || lit[ledCount - 1];
      if (touchesEnd) continue;
      expect(starts.length, `${timeMs} ms`).toBe(bands);
      for (const [i, start] of starts.slice(1).entries())
        expect(Math.abs((start - starts[i]!) / 255 - 1 / bands)).toBeLessThan(2 * placeTolerance);
    }
  });
});

describe('a glow', () => {
  const glow = (parts: Partial<EffectOf<'glow'>>) =>
    stageOf(player, {
      runs,
      clips: [{ effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 0, ...parts } }],
    });

  test('without breath is steady', () => {
    const stage = glow({});
    for (const timeMs of [0, 1, 500, 70_000, 3_599_999])
      expect(stage.reds(timeMs).every((level) => level === 255)).toBe(true);
  });

  test.each([0.5, 3, 10, 60])(
    'that breathes in %f s repeats after that time and dims half way',
    (breathSeconds) => {
      const stage = glow({ breathSeconds, depth: 0.75 });
      const level = (breaths: number) => stage.reds(Math.round(breaths * breathSeconds * 1000))[0]!;
      for (const breaths of [0, 1, 2]) {
        expect(level(breaths)).toBeGreaterThanOrEqual(253);
        // A quarter of the light is left: 63.75 levels.
        expect(Math.abs(level(breaths + 0.5) - 63.75)).toBeLessThanOrEqual(2);
        // The phase has 256 steps of at most 3 levels at this depth; rounding and a long breath's rate may miss by three of them.
        expect(Math.abs(level(breaths + 0.25) - level(breaths + 0.75))).toBeLessThanOrEqual(9);
      }
    },
  );

  test('swells and dims without a jump', () => {
    const stage = glow({ breathSeconds: 2, depth: 1 });
    const levels = Array.from({ length: 201 }, (_, i) => stage.reds(10 * i)[0]!);
    const falling = levels.slice(0, 101);
    const rising = levels.slice(100);
    expect(falling.every((level, i) => i === 0 || level <= falling[i - 1]!)).toBe(true);
    expect(rising.every((level, i) => i === 0 || level >= rising[i - 1]!)).toBe(true);
    // Twice the average slope, for a curve that starts and ends flat: 4 levels in one of 256 phase steps. 10 ms are 1.28 of them.
    expect(Math.max(...levels.slice(1).map((level, i) => Math.abs(level - levels[i]!)))).toBeLessThanOrEqual(
      9,
    );
  });

  test('lays the asked share of the gradient across the area, from the asked place on', () => {
    const grey: Gradient = {
      id: 'g',
      stops: [
        { at: 0, colour: '#000000' },
        { at: 0.25, colour: '#400000' },
        { at: 0.75, colour: '#c00000' },
        { at: 1, colour: '#ff0000' },
      ],
    };
    const effect = { kind: 'glow', gradientPlace: 0.25, gradientSpan: 0.5 } as const;
    const levels = [...stageOf(player, { runs, gradients: [grey], clips: [{ effect }] }).reds(0)];
    // 64 and 192 at its ends (the table has 64 colours, a step of about 2.7 levels), rising between them.
    expect(Math.abs(levels[0]! - 0x40)).toBeLessThanOrEqual(3);
    expect(Math.abs(levels[255]! - 0xc0)).toBeLessThanOrEqual(3);
    expect(levels.every((level, i) => i === 0 || level >= levels[i - 1]!)).toBe(true);
  });
});
