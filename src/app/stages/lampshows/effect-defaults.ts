// What an effect begins with, and what carries over to it from the one before.
import type { Effect, EffectKind, EffectOf, Project } from '../../../project/index.ts';
import { effectTable, type NumberRow, parameterOf, storedNumber, withParameter } from './effect-table.ts';

type Defaults = { readonly [K in EffectKind]: (panel: Project['panel']) => EffectOf<K> };

const patchOf = ({ widthMm, heightMm }: Project['panel']): number =>
  Math.round(Math.max(1, Math.min(3000, Math.hypot(widthMm, heightMm) / 4)));

const defaults: Defaults = {
  glow: () => ({ kind: 'glow', gradientPlace: 0, gradientSpan: 1 }),
  band: () => ({ kind: 'band', passSeconds: 2, width: 0.4, bands: 1, travel: 'forward', softness: 0.7 }),
  stars: () => ({ kind: 'stars', lifeSeconds: 1.5, density: 0.3, seed: 1 }),
  rings: ({ widthMm, heightMm }) => ({
    kind: 'rings',
    centre: { xMm: widthMm / 2, yMm: heightMm / 2 },
    spacingMm: Math.round(Math.min(5000, Math.max(10, widthMm / 4))),
    ringSeconds: 2,
    width: 0.5,
  }),
  cloud: (panel) => ({ kind: 'cloud', patchMm: patchOf(panel), driftMmPerSecond: 40, driftDeg: 0, seed: 1 }),
  chase: () => ({ kind: 'chase', every: 3, stepSeconds: 0.3, travel: 'forward', softness: 0.5 }),
  spokes: ({ widthMm, heightMm }) => ({
    kind: 'spokes',
    centre: { xMm: widthMm / 2, yMm: heightMm / 2 },
    spokes: 6,
    turnSeconds: 8,
    width: 0.5,
    softness: 0.6,
  }),
  stream: () => ({ kind: 'stream', passSeconds: 4, repeats: 1, travel: 'forward' }),
  column: () => ({ kind: 'column', fillSeconds: 3, travel: 'fills-and-empties', softness: 0.05 }),
  bursts: () => ({
    kind: 'bursts',
    flashes: 2,
    flashesPerSecond: 2,
    pauseSeconds: 2,
    litShare: 0.4,
    softness: 0.3,
    gradientPlace: 0,
    gradientSpan: 1,
  }),
  lightning: () => ({
    kind: 'lightning',
    strikesPerMinute: 8,
    glowSeconds: 0.4,
    gradientPlace: 0,
    gradientSpan: 1,
    seed: 1,
  }),
  glints: () => ({ kind: 'glints', lifeSeconds: 1, density: 0.2, seed: 1 }),
  fire: (panel) => ({ kind: 'fire', patchMm: patchOf(panel), riseMmPerSecond: 120, height: 0.8, seed: 1 }),
  painted: () => ({
    kind: 'painted',
    columns: 2,
    rows: 1,
    palette: ['#000000', '#ffffff'],
    frames: [
      { holdMs: 800, fadeMs: 200, cells: '10' },
      { holdMs: 800, fadeMs: 200, cells: '01' },
    ],
  }),
  letters: () => ({ kind: 'letters', text: 'FAIR', passSeconds: 8 }),
};

const numberRows = (kind: EffectKind): NumberRow[] =>
  effectTable[kind].rows.flatMap((row) =>
    row.type === 'number' ? [row] : row.type === 'optional' ? row.rows : [],
  );

/** A choice carries over only where the other effect has it too. */
const canBe = (kind: EffectKind, key: string, value: unknown): boolean =>
  effectTable[kind].rows.every(
    (row) => row.type !== 'choice' || row.key !== key || row.choices.some(({ id }) => id === value),
  );

/** Another effect that keeps what both have, and its pace; the rest is filled with what that effect begins with. */
export function changedKind(effect: Effect, kind: EffectKind, panel: Project['panel']): Effect {
  let next: Effect = defaults[kind](panel);
  for (const [key, value] of Object.entries(effect))
    if (key !== 'kind' && key in next && canBe(kind, key, value)) next = withParameter(next, key, value);
  const { pace } = effectTable[kind];
  const { pace: paceBefore } = effectTable[effect.kind];
  const seconds = paceBefore === undefined ? undefined : parameterOf(effect, paceBefore);
  if (pace !== undefined && pace in next && seconds !== undefined) next = withParameter(next, pace, seconds);
  for (const row of numberRows(kind)) {
    const value = parameterOf(next, row.key);
    if (typeof value !== 'number') continue;
    const least = storedNumber(row, row.least);
    if (value < least) next = withParameter(next, row.key, least);
  }
  return next;
}
