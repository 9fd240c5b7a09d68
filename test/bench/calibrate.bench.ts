// The cycles behind src/lampshow/player-cycles.ts, measured on the emulated board: part by part for every effect, then for every blend over a lit
// ground, then what fades, envelopes and cycling gradients add. Beside each total stands the prediction.
import { test } from 'vitest';
import { predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Blend, Clip, Effect } from '../../src/project/index.ts';
import { type Part, profile } from '../support/profile-board.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const way = { gradientPlace: 0, gradientSpan: 1 };
const band = { kind: 'band', passSeconds: 3, width: 1, bands: 1, travel: 'forward', softness: 1 } as const;
const colours = ['#112233', '#aabbcc', '#ff0000', '#00ff00', '#0000ff', '#ffffff'];
const painted = (palette: string[]): Effect => ({
  kind: 'painted',
  columns: 8,
  rows: 4,
  palette,
  frames: ['0123', '4321'].map((four) => ({ holdMs: 100, fadeMs: 100, cells: four.repeat(8) })),
});

const effects: Readonly<Record<string, Effect>> = {
  glow: { kind: 'glow', breathSeconds: 3, depth: 0.5, ...way },
  'band, whole way': band,
  'band, eased back': { ...band, bands: 3, travel: 'there-and-back', easing: 'both' },
  'band, narrow': { ...band, width: 0.2 },
  rings: { kind: 'rings', centre: { xMm: 20, yMm: 40 }, spacingMm: 50, ringSeconds: 0.5, width: 1 },
  spokes: {
    kind: 'spokes',
    centre: { xMm: 200, yMm: 40 },
    spokes: 5,
    turnSeconds: 3,
    width: 0.4,
    softness: 0.5,
  },
  stream: { kind: 'stream', passSeconds: 3, repeats: 2, travel: 'forward' },
  column: { kind: 'column', fillSeconds: 3, travel: 'fills', softness: 0.1 },
  bursts: {
    kind: 'bursts',
    flashes: 3,
    flashesPerSecond: 3,
    pauseSeconds: 0,
    litShare: 0.9,
    softness: 0,
    ...way,
  },
  lightning: { kind: 'lightning', strikesPerMinute: 30, glowSeconds: 3, ...way, seed: 3 },
  stars: { kind: 'stars', lifeSeconds: 1, density: 1, seed: 1 },
  glints: { kind: 'glints', lifeSeconds: 1, density: 1, seed: 1 },
  cloud: { kind: 'cloud', patchMm: 100, driftMmPerSecond: 300, driftDeg: 30, seed: 1 },
  fire: { kind: 'fire', patchMm: 100, riseMmPerSecond: 300, height: 1, seed: 1 },
  'painted, pairs': painted(colours),
  'painted, sums': painted([...colours, ...colours]),
  letters: { kind: 'letters', text: 'FAIR', passSeconds: 3 },
};

const wholeShow = { startMs: 0, lengthMs: 20_000, area: 'everything' } as const;
const ground: Clip = {
  ...wholeShow,
  gradient: 'sea',
  blend: 'over',
  effect: { kind: 'glow', ...way },
};

async function worst(ledCount: number, clips: readonly Clip[]) {
  const project = projectOf({
    runs: rowsOfStrip(ledCount, 30),
    lampshows: [
      {
        id: 'attract',
        lengthMs: 20_000,
        rows: clips.map((clip, i) => ({ id: `row-${i}`, clips: [clip] })),
      },
    ],
    power: { supply: { volts: 5, amps: 20 }, limitAmps: 20, feeds: [] },
  });
  const measured = await profile(project, 30, 60);
  const slowest = measured.reduce((a, b) => (b.total > a.total ? b : a));
  const predicted = predictSpeed(project, layOut(project)).slowestFrameCycles.get('attract')!;
  return { ...slowest, predicted };
}
const clipOf = (effect: Effect, blend: Blend, more: Partial<Clip> = {}): Clip => ({
  ...wholeShow,
  gradient: 'ember',
  blend,
  effect,
  ...more,
});

/** An LED's share of a part, from 120 and 240 LEDs, and what is left. */
async function report(name: string, clips: readonly Clip[]): Promise<void> {
  const [more, fewer] = [await worst(240, clips), await worst(120, clips)];
  const led = (part: Part) => (more.byPart[part] - fewer.byPart[part]) / 120;
  const { clip, prepare, table } = fewer.byPart;
  const error = (100 * (more.predicted / more.total - 1)).toFixed(2);
  console.log(
    `  ${name.padEnd(30)} clip ${clip}, prepare ${prepare}, table ${table}, LED ${led('effect').toFixed(2)}, limiter LED ${led('limiter').toFixed(2)}; predicted ${error} % off`,
  );
}

test('every effect on black', async () => {
  console.log('\n');
  for (const [name, effect] of Object.entries(effects)) await report(name, [clipOf(effect, 'over')]);
});

test('every blend over a lit ground, whose LED takes 29', async () => {
  for (const blend of ['over', 'add', 'brighter-wins', 'tint'] as const)
    for (const [name, effect] of Object.entries(effects))
      await report(`${name}, ${blend}`, [ground, clipOf(effect, blend)]);
});

test('fades, envelopes, cycling gradients', async () => {
  const additions: readonly Partial<Clip>[] = [
    {},
    { levelPercent: 50 },
    { fadeInMs: 20_000 },
    { fadeInMs: 20_000, fadeOutMs: 20_000 },
    {
      envelope: [
        { atMs: 0, percent: 10 },
        { atMs: 9000, percent: 50 },
      ],
    },
    { cycle: { seconds: 3 } },
  ];
  for (const more of additions)
    await report(JSON.stringify(more).slice(0, 30), [clipOf(effects['stream']!, 'over', more)]);
});
