// Chase and stream against the schema's descriptions (src/project/schema-shows.ts), in floating point. Nothing is taken from effects.h.
import { beforeAll, describe, expect, test } from 'vitest';
import type { Player } from '../../src/lampshow/index.ts';
import type { EffectOf, Gradient } from '../../src/project/index.ts';
import { mixedInOklab } from './oklab.ts';
import { rowAt, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

describe('a chase', () => {
  const ledCount = 50;
  const runs = [rowAt('row', 100, ledCount)];
  const chase = (parts: Partial<EffectOf<'chase'>>) =>
    stageOf(player, {
      runs,
      clips: [
        { effect: { kind: 'chase', every: 4, stepSeconds: 0.25, travel: 'forward', softness: 0, ...parts } },
      ],
    });

  /** When the light first goes from one lamp to the next, ms. */
  const firstStepMs = (reds: (timeMs: number) => Uint8Array, longestMs: number): number => {
    const before = reds(0).findIndex((level) => level > 0);
    for (let timeMs = 1; timeMs <= longestMs; timeMs++)
      if (reds(timeMs).findIndex((level) => level > 0) !== before) return timeMs;
    throw new Error('the light never steps');
  };

  test.each<[number, number, 'forward' | 'backward']>([
    [2, 0.3, 'forward'],
    [3, 0.2, 'forward'],
    [4, 0.25, 'backward'],
    [5, 0.5, 'forward'],
    [7, 0.11, 'backward'],
    [16, 0.06, 'forward'],
  ])('of every %i-th lamp steps on after %f s, going %s', (every, stepSeconds, travel) => {
    const { reds } = chase({ every, stepSeconds, travel });
    const stepMs = 1000 * stepSeconds;
    const stepsAt = firstStepMs(reds, stepMs + 1);
    const first = reds(0).findIndex((level) => level > 0);
    expect(first).toBeLessThan(every);
    for (let step = 0; step < 3 * every + 1; step++)
      // A chase is 256 places around: the lamps' places are cut to whole ones, so that its steps may come early or late by every/256 of a step.
      for (const share of [0.15, 0.5, 0.85]) {
        const timeMs = Math.round(stepsAt + (step + share) * stepMs);
        const lit = (((first + (travel === 'forward' ? 1 : -1) * (step + 1)) % every) + every) % every;
        const expected = Array.from({ length: ledCount }, (_, led) => (led % every === lit ? 255 : 0));
        expect([...reds(timeMs)], `${timeMs} ms`).toEqual(expected);
      }
  });

  test.each([2, 4, 9])('of softness 1 and every %i-th lamp fades each into the next', (every) => {
    const stepMs = 500;
    const { reds } = chase({ every, stepSeconds: stepMs / 1000, softness: 1 });
    // A lamp swells for a step and fades for a step: a triangle, brightest when it is its turn.
    const peakMs = Array.from(
      { length: every * stepMs },
      (_, timeMs) => [reds(timeMs)[1]!, timeMs] as const,
    ).sort((a, b) => b[0] - a[0])[0]![1];
    for (let timeMs = 0; timeMs < 2 * every * stepMs; timeMs += 37) {
      const levels = reds(timeMs);
      for (let led = 0; led < ledCount; led++) {
        const turns = (timeMs - peakMs) / stepMs - (led - 1);
        const away = Math.abs(turns - every * Math.round(turns / every));
        // Places cut to a 256th of the chase and colours to a 64th of two steps: together under a sixteenth of a step or two places.
        const tolerance = 255 * (1 / 16 + (2 * every) / 256) + 3;
        expect(Math.abs(levels[led]! - 255 * Math.max(0, 1 - away)), `LED ${led}, ${timeMs} ms`).toBeLessThan(
          tolerance,
        );
      }
    }
  });

  test('goes along the area’s order, whatever the wiring', () => {
    const back = { ...rowAt('row', 100, ledCount), arrowDeg: 180, firstLed: { xMm: 400, yMm: 100 } };
    const effect = { kind: 'chase', every: 5, stepSeconds: 0.2, travel: 'forward', softness: 0 } as const;
    const [there, other] = [
      stageOf(player, { runs, clips: [{ effect }] }),
      stageOf(player, { runs: [back], clips: [{ effect }] }),
    ];
    for (const timeMs of [0, 150, 333, 777])
      expect([...other.reds(timeMs)].reverse()).toEqual([...there.reds(timeMs)]);
  });
});

describe('a stream', () => {
  const ledCount = 256;
  const runs = [rowAt('row', 100, ledCount)];
  /** Ends as it begins, so that it closes without an edge. */
  const closed: Gradient = {
    id: 'g',
    stops: [
      { at: 0, colour: '#000000' },
      { at: 0.3, colour: '#ff2040' },
      { at: 0.6, colour: '#30c0ff' },
      { at: 1, colour: '#000000' },
    ],
  };
  const rgb = (colour: string) => {
    const value = Number.parseInt(colour.slice(1), 16);
    return [value >> 16, (value >> 8) & 255, value & 255] as const;
  };
  const colourAt = (place: number) => {
    const at = ((place % 1) + 1) % 1;
    const right = closed.stops.find((stop) => stop.at > at)!;
    const left = closed.stops.findLast((stop) => stop.at <= at)!;
    return mixedInOklab(rgb(left.colour), rgb(right.colour), (at - left.at) / (right.at - left.at));
  };
  const stream = (parts: Partial<EffectOf<'stream'>>) =>
    stageOf(player, {
      runs,
      gradients: [closed],
      clips: [{ effect: { kind: 'stream', passSeconds: 4, repeats: 1, travel: 'forward', ...parts } }],
    });

  test.each<[number, 'forward' | 'backward', number]>([
    [1, 'forward', 4],
    [1, 'backward', 4],
    [3, 'forward', 7],
    [5, 'backward', 2],
  ])('of %i gradients travels %s the whole area in %f s', (repeats, travel, passSeconds) => {
    const { levels } = stream({ repeats, travel, passSeconds });
    for (const timeMs of [0, 250, 999, 1700, 5000, 61_000]) {
      const passed = (travel === 'forward' ? 1 : -1) * (timeMs / 1000 / passSeconds);
      const shown = levels(timeMs);
      for (let led = 0; led < ledCount; led++) {
        const place = repeats * (led / (ledCount - 1) - passed);
        // One of 64 colours, a place cut to a 256th of the way, and the rate's 2^-24 turns a ms over so long.
        const slack = 1 / 64 + repeats / 256 + (timeMs * 0.5) / 2 ** 24;
        const near = Array.from({ length: 13 }, (_, i) => colourAt(place + (slack * (i - 6)) / 6));
        // Between two colours the player goes straight on from the first, so that close to a stop it may miss the bend by a colour's step.
        const bends = closed.stops.some(({ at }) => {
          const away = Math.abs(at - place) % 1;
          return Math.min(away, 1 - away) < slack + 1 / 64;
        });
        const colourStep = (channel: 0 | 1 | 2) =>
          Math.max(
            ...[-2, -1, 0, 1, 2].map((n) =>
              Math.abs(colourAt(place + n / 64)[channel] - colourAt(place + (n - 1) / 64)[channel]),
            ),
          );
        for (const channel of [0, 1, 2] as const) {
          const values = near.map((colour) => colour[channel]);
          const where = `LED ${led}, channel ${channel}, ${timeMs} ms`;
          const tolerance = 3 + (bends ? colourStep(channel) : 0);
          expect(shown[3 * led + channel]!, where).toBeGreaterThanOrEqual(Math.min(...values) - tolerance);
          expect(shown[3 * led + channel]!, where).toBeLessThanOrEqual(Math.max(...values) + tolerance);
        }
      }
    }
  });

  test('closes: behind the gradient’s end its beginning follows at once', () => {
    const grey: Gradient = {
      id: 'g',
      stops: [
        { at: 0, colour: '#000000' },
        { at: 0.5, colour: '#ffffff' },
        { at: 1, colour: '#000000' },
      ],
    };
    const effect = { kind: 'stream', passSeconds: 4, repeats: 1, travel: 'forward' } as const;
    const { reds } = stageOf(player, { runs, gradients: [grey], clips: [{ effect }] });
    for (const timeMs of [0, 500, 1234, 2000, 3100, 3999]) {
      const shown = [...reds(timeMs)];
      // 255 levels in half of 64 colours, at places up to a quarter steeper in OKLab; two colours at most from one LED to the next.
      const most = 2 * 1.25 * (255 / 32);
      for (const [led, level] of shown.entries())
        expect(Math.abs(level - shown.at(led - 1)!), `LED ${led}, ${timeMs} ms`).toBeLessThanOrEqual(most);
      expect(Math.max(...shown) - Math.min(...shown)).toBeGreaterThan(240);
    }
  });
});
