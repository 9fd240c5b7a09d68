// Spokes against the schema's descriptions (src/project/schema-shows.ts), in floating point, on a grid of LEDs around a point. Angles run clockwise
// as seen, from the right. Nothing is taken from effects.h.
import { beforeAll, describe, expect, test } from 'vitest';
import type { Player } from '../../src/lampshow/index.ts';
import type { EffectOf } from '../../src/project/index.ts';
import { densestPitchMm, gridOf, type Stage, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

const [rows, columns] = [40, 50];
const runs = gridOf(rows, columns);
const centre = { xMm: 24.6 * densestPitchMm, yMm: 19.3 * densestPitchMm };

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

type Spokes = EffectOf<'spokes'>;
const spokesOf = (parts: Partial<Spokes>): Spokes => ({
  kind: 'spokes',
  centre,
  spokes: 3,
  turnSeconds: 6,
  width: 0.4,
  softness: 1,
  ...parts,
});
const stageOfSpokes = (effect: Spokes): Stage =>
  stageOf(player, { runs, widthMm: 400, heightMm: 300, clips: [{ effect }] });

interface Polar {
  readonly turns: number;
  readonly mm: number;
}
const polarOf = ({ xMm, yMm }: { xMm: number; yMm: number }): Polar => ({
  turns: Math.atan2(yMm - centre.yMm, xMm - centre.xMm) / (2 * Math.PI),
  mm: Math.hypot(xMm - centre.xMm, yMm - centre.yMm),
});

/** Where a spoke's middle is, in spoke distances from the right: the mean of the lit LEDs' angles, those of all spokes laid on one another. */
function middleOf(
  stage: Stage,
  timeMs: number,
  spokes: number,
  isSeen: (polar: Polar) => boolean = () => true,
): number {
  let [x, y] = [0, 0];
  for (const [i, level] of stage.reds(timeMs).entries()) {
    const polar = polarOf(stage.leds[i]!);
    if (!isSeen(polar)) continue;
    x += level * Math.cos(2 * Math.PI * spokes * polar.turns);
    y += level * Math.sin(2 * Math.PI * spokes * polar.turns);
  }
  return Math.atan2(y, x) / (2 * Math.PI);
}
/** From -0.5 to 0.5. */
const nearest = (turns: number): number => turns - Math.round(turns);

describe('spokes', () => {
  test.each([
    spokesOf({}),
    spokesOf({ spokes: 1, width: 0.2 }),
    spokesOf({ spokes: 8, width: 0.5, turnSeconds: 20 }),
    spokesOf({ spokes: 16, width: 0.6, softness: 0.5 }),
    spokesOf({ counterClockwise: true }),
    spokesOf({ spokes: 5, width: 0.3, counterClockwise: true, softness: 0, turnSeconds: 2.5 }),
    spokesOf({ spokes: 2, width: 1, softness: 1 }),
  ])('$spokes of them, $width wide, softness $softness, turn once in $turnSeconds s', (effect) => {
    const { spokes, width, softness, turnSeconds, counterClockwise } = effect;
    const stage = stageOfSpokes(effect);
    const first = middleOf(stage, 0, spokes);
    // An angle is cut to a 256th of a turn, a width of more than 64 steps has two or four of them a colour, and time is rounded: one and a half
    // steps where a spoke has its own colours, and half a colour more.
    const slack = (1.5 / 256) * spokes + width / 128;
    let lit = 0;
    for (const share of [0, 0.07, 0.31, 0.5, 0.93, 1, 7.4]) {
      const timeMs = Math.round(1000 * share * turnSeconds);
      const middle = first + ((counterClockwise ? -1 : 1) * spokes * timeMs) / 1000 / turnSeconds;
      for (const [i, level] of stage.reds(timeMs).entries()) {
        const off = nearest(spokes * polarOf(stage.leds[i]!).turns - middle);
        // Its edges take the share of half its width that softness says.
        const levelAt = (away: number) => {
          const inner = 1 - Math.abs(nearest(away)) / (width / 2);
          return inner <= 0 ? 0 : 255 * (softness === 0 ? 1 : Math.min(1, inner / softness));
        };
        const near = Array.from({ length: 17 }, (_, n) => levelAt(off + (slack * (n - 8)) / 8));
        const where = `LED ${i} at ${timeMs} ms`;
        // Sampled 17 times: an eighth of the slack at 510 levels a width.
        const step = softness === 0 ? 4 : ((510 / width / softness) * slack) / 8 + 4;
        expect(level, where).toBeGreaterThanOrEqual(Math.min(...near) - step);
        expect(level, where).toBeLessThanOrEqual(Math.max(...near) + step);
        if (level > 0) lit++;
      }
    }
    expect(lit).toBeGreaterThan(1000);
  });

  test('turn clockwise, as seen, unless told otherwise', () => {
    for (const counterClockwise of [false, true]) {
      const stage = stageOfSpokes(spokesOf({ spokes: 1, width: 0.2, turnSeconds: 8, counterClockwise }));
      const turned = nearest(middleOf(stage, 1000, 1) - middleOf(stage, 0, 1));
      expect(Math.abs(turned - (counterClockwise ? -1 : 1) / 8)).toBeLessThan(1 / 128);
    }
  });

  test.each([0.1, 0.35, 0.8])('of width %f light that share of the circle', (width) => {
    const stage = stageOfSpokes(spokesOf({ spokes: 4, width, softness: 0 }));
    const near = stage.leds.map(polarOf).map(({ mm }) => mm < 18 * densestPitchMm);
    const levels = [...stage.reds(1234)].filter((_, i) => near[i]);
    const share = levels.filter((level) => level > 0).length / levels.length;
    // Angles are cut to a 256th of a turn, a 64th of the distance between two of these spokes, at either edge.
    expect(Math.abs(share - width)).toBeLessThan(2 / 64);
  });

  test.each([90, -90, 200, 720])(
    'twisted by %f degrees are bent so far on the way to the farthest LED',
    (twistDeg) => {
      const straight = stageOfSpokes(spokesOf({ spokes: 1, width: 0.15 }));
      const twisted = stageOfSpokes(spokesOf({ spokes: 1, width: 0.15, twistDeg }));
      const polars = straight.leds.map(polarOf);
      const reachMm = Math.max(...polars.map(({ mm }) => mm));
      const bent = (share: number) => {
        const isSeen = ({ mm }: Polar) => Math.abs(mm / reachMm - share) < 0.03;
        return nearest(middleOf(twisted, 0, 1, isSeen) - middleOf(straight, 0, 1, isSeen));
      };
      // Measured on rings of LEDs: a lit width of 54 degrees has few LEDs on a ring, which may miss its middle by a tenth of it.
      const tolerance = 0.015 + 0.03 * Math.abs(twistDeg / 360) * 0.5;
      const sign = Math.sign(bent(0.25) || 1) * Math.sign(nearest((0.25 * twistDeg) / 360) || 1);
      for (const share of [0.2, 0.3, 0.4, 0.5, 0.6])
        expect(
          Math.abs(nearest(bent(share) - (sign * share * twistDeg) / 360)),
          `${share} of the way`,
        ).toBeLessThan(tolerance);
    },
  );

  test('twisted one way and the other are mirror images', () => {
    const bends = [120, -120].map((twistDeg) => {
      const stage = stageOfSpokes(spokesOf({ spokes: 1, width: 0.15, twistDeg }));
      const outside = ({ mm }: Polar) => mm > 12 * densestPitchMm && mm < 15 * densestPitchMm;
      return nearest(middleOf(stage, 0, 1, outside));
    });
    expect(bends[0]! * bends[1]!).toBeLessThan(0);
    expect(Math.abs(bends[0]! + bends[1]!)).toBeLessThan(0.02);
  });
});
