// What each part of the player costs on the emulated board: the figures behind src/lampshow/player-cycles.ts. Run after any change of the
// player's loops, round up, and let test/lampshow/frame-time.test.ts judge.
import { test } from 'vitest';
import { gradientPieces } from '../../src/lampshow/index.ts';
import type { Clip, Effect } from '../../src/project/index.ts';
import { type Part, profile } from '../support/profile-board.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const effects: Readonly<Record<string, Effect>> = {
  glow: { kind: 'glow', breathSeconds: 1, depth: 1, gradientPlace: 0.3, gradientSpan: 0.7 },
  'band, soft': { kind: 'band', passSeconds: 1, width: 1, bands: 1, travel: 'forward', softness: 1 },
  'band, hard': { kind: 'band', passSeconds: 1, width: 1, bands: 1, travel: 'backward', softness: 0 },
  'band, both ways': {
    kind: 'band',
    passSeconds: 0.3,
    width: 1,
    bands: 3,
    travel: 'there-and-back',
    softness: 0.4,
  },
  stars: { kind: 'stars', lifeSeconds: 0.4, density: 1, seed: 9 },
  rings: { kind: 'rings', centre: { xMm: 300, yMm: 20 }, spacingMm: 100, ringSeconds: 0.5, width: 1 },
  'rings, inward': {
    kind: 'rings',
    centre: { xMm: 20, yMm: 40 },
    spacingMm: 50,
    ringSeconds: 0.5,
    width: 1,
    inward: true,
  },
  cloud: { kind: 'cloud', patchMm: 100, driftMmPerSecond: 300, driftDeg: 30, seed: 1 },
};
const frames = 30;

/** Worst of some frames of one clip over `ledCount` LEDs, by part. */
async function worst(ledCount: number, effect: Effect, blend: Clip['blend'], more: Partial<Clip> = {}) {
  const clip = {
    startMs: 0,
    lengthMs: 20_000,
    area: 'everything',
    gradient: 'ember',
    blend,
    effect,
    ...more,
  };
  const measured = await profile(
    projectOf({
      runs: rowsOfStrip(ledCount),
      lampshows: [{ id: 'attract', lengthMs: 20_000, rows: [{ id: 'row', clips: [clip] }] }],
      power: { supply: { volts: 5, amps: 20 }, limitAmps: 20, feeds: [] },
    }),
    frames,
    40,
  );
  return (part: Part) => Math.max(...measured.map((frame) => frame.byPart[part]));
}

const perLed = (long: number, short: number, ledsBetween: number) =>
  ((long - short) / ledsBetween).toFixed(1);

test('effects: prepare, one LED, beginning of a chunk', async () => {
  console.log('\n');
  for (const [name, effect] of Object.entries(effects)) {
    const [chunk, half] = [await worst(32, effect, 'over'), await worst(16, effect, 'over')];
    const led = (chunk('effect') - half('effect')) / 16;
    console.log(
      `  ${name.padEnd(18)} prepare ${chunk('prepare')}, LED ${led.toFixed(1)}, chunk ${(half('effect') - 16 * led).toFixed(0)}`,
    );
  }
});

test('blends: one LED, beginning of a chunk, colour table', async () => {
  const pieces = gradientPieces(projectOf({ runs: [] }).gradients[0]!).length;
  for (const blend of ['over', 'add', 'brighter-wins', 'tint'] as const)
    for (const more of [{}, { levelPercent: 90 }]) {
      const [chunk, half] = [
        await worst(32, effects['cloud']!, blend, more),
        await worst(16, effects['cloud']!, blend, more),
      ];
      const led = (chunk('blend') - half('blend')) / 16;
      console.log(
        `  ${`${blend} ${JSON.stringify(more)}`.padEnd(34)} LED ${led.toFixed(1)}, chunk ${(half('blend') - 16 * led).toFixed(0)}, table of ${pieces} pieces ${chunk('table')}`,
      );
    }
  const sea = await worst(32, effects['cloud']!, 'add', { gradient: 'sea', levelPercent: 90 });
  console.log(
    `  table of ${gradientPieces(projectOf({ runs: [] }).gradients[1]!).length} pieces, faded ${sea('table')}`,
  );
});

test('frame, fades, limiter, sending', async () => {
  const plain = await worst(32, effects['glow']!, 'over');
  const faded = await worst(32, effects['glow']!, 'over', { fadeInMs: 9000 });
  const long = await worst(300, effects['glow']!, 'over');
  console.log(
    `  clip and frame with one chunk ${plain('clip')}, fading ${faded('clip')}, with ten chunks ${long('clip')}`,
  );
  console.log(
    `  limiter LED ${perLed(long('limiter'), plain('limiter'), 268)}, of 32 LEDs ${plain('limiter')}`,
  );
  console.log(
    `  sending LED ${perLed(long('send'), plain('send'), 268)}, beside the LEDs ${plain('send') - 32 * 480}`,
  );
});
