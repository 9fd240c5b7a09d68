// What bands may have beside width and softness: a tail, easing, a mirrored way; against the schema's descriptions (src/project/schema-shows.ts)
// in floating point, on a row of 256 LEDs. Not here: plain bands (effects-band-glow.test.ts). Nothing is taken from effects.h.
import { beforeAll, describe, expect, test } from 'vitest';
import type { Player } from '../../src/lampshow/index.ts';
import type { EffectOf } from '../../src/project/index.ts';
import { rowAt, type Stage, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

const ledCount = 256;
const runs = [rowAt('row', 100, ledCount)];
const wayOf = (led: number) => led / (ledCount - 1);
const passSeconds = 4;
const passMs = 1000 * passSeconds;

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

type Band = EffectOf<'band'>;
const bandOf = (parts: Partial<Band>): Band => ({
  kind: 'band',
  passSeconds,
  width: 0.3,
  bands: 1,
  travel: 'forward',
  softness: 0,
  ...parts,
});
const stageOfBand = (parts: Partial<Band>): Stage =>
  stageOf(player, { runs, clips: [{ effect: bandOf(parts) }] });

describe('a band with a tail', () => {
  /** Which way its head goes at a time, and where its middle is. */
  const heads: Readonly<Record<Band['travel'], (passes: number) => { direction: 1 | -1; middle: number }>> = {
    forward: (passes) => ({ direction: 1, middle: passes % 1 }),
    backward: (passes) => ({ direction: -1, middle: 1 - (passes % 1) }),
    'there-and-back': (passes) =>
      passes % 2 < 1 ? { direction: 1, middle: passes % 2 } : { direction: -1, middle: 2 - (passes % 2) },
  };
  /** Level behind the front, in shares of the width: it rises over half the head's softness and dies away over the tail. */
  const levelBehind = (behind: number, tail: number, softness: number): number => {
    if (behind < 0 || behind > 1) return 0;
    const edge = (softness * (1 - tail)) / 2;
    const rising = edge === 0 ? 1 : behind / edge;
    return 255 * Math.min(1, rising, (1 - behind) / tail);
  };

  test.each<[Band['travel'], number, number]>([
    ['forward', 0.5, 0],
    ['forward', 1, 0],
    ['forward', 0.4, 1],
    ['backward', 0.5, 0],
    ['backward', 0.7, 0.5],
    ['there-and-back', 0.5, 0],
    ['there-and-back', 0.8, 0.3],
  ])('going %s dies away over %f of its width behind its head (softness %f)', (travel, tail, softness) => {
    const width = 0.3;
    const stage = stageOfBand({ travel, tail, softness, width });
    let lit = 0;
    for (const passes of [0.3, 0.45, 0.5, 0.62, 1.35, 1.5, 1.66]) {
      const { direction, middle } = heads[travel](passes);
      const front = middle + (direction * width) / 2;
      // A colour of the band's 64, a step of the 256 places, and the rounding of time: 1/128 of the way; either side of an edge.
      const slack = 1 / 128 / width;
      for (const [led, level] of stage.reds(passes * passMs).entries()) {
        const behind = ((front - wayOf(led)) * direction) / width;
        const near = Array.from({ length: 21 }, (_, i) =>
          levelBehind(behind + (slack * (i - 10)) / 10, tail, softness),
        );
        expect(level, `LED ${led} after ${passes} passes`).toBeGreaterThanOrEqual(Math.min(...near) - 4);
        expect(level, `LED ${led} after ${passes} passes`).toBeLessThanOrEqual(Math.max(...near) + 4);
        if (level > 0) lit++;
      }
    }
    expect(lit).toBeGreaterThan(400);
  });
});

describe('a band with easing', () => {
  /** Centre of light on the way, whose end is its beginning: a band that leaves at one end comes in at the other. */
  const centreOf = (stage: Stage, timeMs: number): number => {
    let [x, y] = [0, 0];
    for (const [led, level] of stage.reds(timeMs).entries()) {
      x += level * Math.cos(2 * Math.PI * wayOf(led));
      y += level * Math.sin(2 * Math.PI * wayOf(led));
    }
    return (Math.atan2(y, x) / (2 * Math.PI) + 1) % 1;
  };
  /** Narrow, so that its centre can be told from near one end to near the other. */
  const narrow = { width: 0.06, softness: 1 };
  /** A step of the 256 places either way. */
  const tolerance = 1 / 128;
  const shares = [0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9];

  type Eased = 'in' | 'out' | 'both';
  /** Where it may be: it begins slowly when it is late in the first half, ends slowly when it is early for the second. */
  const slowAtFirst: Readonly<Record<Eased, boolean>> = { in: true, out: false, both: true };
  const slowAtLast: Readonly<Record<Eased, boolean>> = { in: false, out: true, both: true };

  test.each<[Eased, 'forward' | 'backward']>([
    ['in', 'forward'],
    ['out', 'forward'],
    ['both', 'forward'],
    ['in', 'backward'],
    ['out', 'backward'],
    ['both', 'backward'],
  ])('%s, going %s, is slow where it should be and still goes the whole way', (easing, travel) => {
    const stage = stageOfBand({ ...narrow, easing, travel });
    const passed = (share: number) => {
      const centre = centreOf(stage, share * passMs);
      return travel === 'forward' ? centre : 1 - centre;
    };
    const places = shares.map(passed);
    for (let i = 1; i < places.length; i++) expect(places[i]).toBeGreaterThan(places[i - 1]!);
    const speed = (from: number, to: number) => (passed(to) - passed(from)) / (to - from);
    // Under two thirds of the mean speed, one way in one pass, is slow (common sense, no source).
    expect(speed(0.1, 0.2) < 2 / 3).toBe(slowAtFirst[easing]);
    expect(speed(0.8, 0.9) < 2 / 3).toBe(slowAtLast[easing]);
    // Half of the way at half of the time only where beginning and end are alike.
    if (easing === 'both') expect(Math.abs(passed(0.5) - 0.5)).toBeLessThan(tolerance);
    if (easing === 'in') expect(passed(0.5)).toBeLessThan(0.4);
    if (easing === 'out') expect(passed(0.5)).toBeGreaterThan(0.6);
    // Near both ends when nine tenths of the time are over: slow or not, a pass is a pass.
    expect(places[0]).toBeLessThan(0.2);
    expect(places.at(-1)).toBeGreaterThan(0.8);
  });

  test('none is even', () => {
    const stage = stageOfBand({ ...narrow, easing: 'none' });
    for (const share of shares)
      expect(Math.abs(centreOf(stage, share * passMs) - share)).toBeLessThan(tolerance);
  });

  test('both, there and back, is slow at both turns', () => {
    const stage = stageOfBand({ ...narrow, easing: 'both', travel: 'there-and-back' });
    const at = (passes: number) => centreOf(stage, passes * passMs);
    for (const [there, back] of [
      [0.2, 1.8],
      [0.5, 1.5],
      [0.7, 1.3],
    ] as const)
      expect(Math.abs(at(there) - at(back))).toBeLessThan(2 * tolerance);
    expect(Math.abs(at(0.5) - 0.5)).toBeLessThan(tolerance);
    for (const passes of [0.1, 0.8, 1.1, 1.8])
      expect(Math.abs(at(passes + 0.1) - at(passes)) / 0.1).toBeLessThan(2 / 3);
  });
});

describe('a mirrored band', () => {
  test.each(['forward', 'backward', 'there-and-back'] as const)(
    'going %s does the same from either end, and meets itself in the middle',
    (travel) => {
      const width = 0.2;
      const stage = stageOfBand({ travel, width, mirror: true });
      for (const passes of [0.15, 0.3, 0.5, 0.7, 0.85, 1.2, 1.4, 1.75]) {
        const levels = [...stage.reds(passes * passMs)];
        // The middle's two LEDs may lie on either side of a step.
        for (let led = 0; led < ledCount / 2; led++)
          expect(Math.abs(levels[led]! - levels[ledCount - 1 - led]!), `LED ${led}`).toBeLessThanOrEqual(1);
        // On the half way from an end to the middle it is where a pass of its own puts it.
        const part = passes % (travel === 'there-and-back' ? 2 : 1);
        const middle = travel === 'backward' ? 1 - part : part > 1 ? 2 - part : part;
        const lit = levels
          .slice(0, ledCount / 2)
          .flatMap((level, led) => (level > 0 ? [2 * wayOf(led)] : []));
        expect(Math.abs((Math.min(...lit) + Math.max(...lit)) / 2 - middle)).toBeLessThan(1 / 64);
        expect(Math.abs(Math.max(...lit) - Math.min(...lit) - width)).toBeLessThan(1 / 32);
      }
    },
  );
});
