// Random clips for property tests: every effect of the document with everything it can be told, blends, fades, envelopes, cycling gradients, times
// beyond 65 s. Not here: the projects around them (projects.ts).
import fc from 'fast-check';
import type { Blend, Clip, Effect } from '../../src/project/index.ts';

export const share = fc.integer({ min: 0, max: 100 }).map((percent) => percent / 100);
const shareFrom = (least: number, most = 100) =>
  fc.integer({ min: least, max: most }).map((percent) => percent / 100);
const seconds = fc.integer({ min: 1, max: 80 }).map((n) => n / 8);
const seed = fc.nat(255);
export const point = fc.record({
  xMm: fc.integer({ min: 0, max: 600 }),
  yMm: fc.integer({ min: 0, max: 300 }),
});
export const degrees = fc.integer({ min: -180, max: 180 });
const travel = fc.constantFrom<'forward' | 'backward'>('forward', 'backward');
const easing = fc.constantFrom<'none' | 'in' | 'out' | 'both'>('none', 'in', 'out', 'both');
const colour = fc
  .integer({ min: 0, max: 0xffffff })
  .map((value) => `#${value.toString(16).padStart(6, '0')}`);
const way = { gradientPlace: share, gradientSpan: share };

export const gradient = fc
  .array(fc.record({ at: share, colour }), { minLength: 1, maxLength: 8 })
  .map((stops) => ({ stops }));

const painted = fc
  .record({
    columns: fc.integer({ min: 1, max: 9 }),
    rows: fc.integer({ min: 1, max: 6 }),
    palette: fc.array(colour, { minLength: 1, maxLength: 16 }),
    frames: fc.array(
      fc.record({ holdMs: fc.integer({ min: 20, max: 900 }), fades: share, dice: fc.nat(1e6) }),
      { minLength: 1, maxLength: 5 },
    ),
  })
  .map(
    ({ columns, rows, palette, frames }): Effect => ({
      kind: 'painted',
      columns,
      rows,
      palette,
      frames: frames.map(({ holdMs, fades, dice }) => ({
        holdMs,
        fadeMs: Math.floor(holdMs * fades),
        cells: Array.from({ length: columns * rows }, (_, cell) =>
          (Math.floor(((dice + 7) * (cell + 3) * 0.618_034) % palette.length) % 16).toString(16),
        ).join(''),
      })),
    }),
  );

const optional = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
/** Leaves out what is undefined, since the document knows no such value. */
export const withoutAbsent = <T extends object>(parts: T): T =>
  Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== undefined)) as T;

const effects: readonly fc.Arbitrary<Effect>[] = [
  fc.record({ kind: fc.constant('glow' as const), breathSeconds: seconds, depth: share, ...way }),
  fc
    .record({
      kind: fc.constant('band' as const),
      passSeconds: seconds,
      width: shareFrom(2),
      bands: fc.integer({ min: 1, max: 16 }),
      travel: fc.constantFrom('forward', 'backward', 'there-and-back'),
      softness: share,
      tail: optional(share),
      easing: optional(easing),
      mirror: optional(fc.boolean()),
    })
    .map((effect) => withoutAbsent(effect) as Effect),
  fc.record({
    kind: fc.constant('chase' as const),
    every: fc.integer({ min: 2, max: 16 }),
    stepSeconds: seconds,
    travel,
    softness: share,
  }),
  fc.record({
    kind: fc.constant('spokes' as const),
    centre: point,
    spokes: fc.integer({ min: 1, max: 16 }),
    turnSeconds: seconds,
    width: shareFrom(5),
    softness: share,
    counterClockwise: fc.boolean(),
    twistDeg: fc.integer({ min: -720, max: 720 }),
  }),
  fc.record({
    kind: fc.constant('rings' as const),
    centre: point,
    spacingMm: fc.integer({ min: 10, max: 900 }),
    ringSeconds: seconds,
    width: shareFrom(5),
    inward: fc.boolean(),
  }),
  fc.record({
    kind: fc.constant('stream' as const),
    passSeconds: seconds,
    repeats: fc.integer({ min: 1, max: 16 }),
    travel,
  }),
  fc.record({
    kind: fc.constant('column' as const),
    fillSeconds: seconds,
    travel: fc.constantFrom('fills', 'empties', 'fills-and-empties'),
    byValue: fc.boolean(),
    order: fc.constantFrom('along', 'by-chance'),
    softness: share,
    easing,
  }),
  fc.record({
    kind: fc.constant('bursts' as const),
    flashes: fc.integer({ min: 1, max: 10 }),
    flashesPerSecond: fc.integer({ min: 2, max: 30 }).map((n) => n / 10),
    pauseSeconds: fc.integer({ min: 0, max: 20 }).map((n) => n / 4),
    litShare: shareFrom(5, 95),
    softness: share,
    ...way,
  }),
  fc.record({
    kind: fc.constant('lightning' as const),
    strikesPerMinute: fc.integer({ min: 1, max: 30 }),
    glowSeconds: fc.integer({ min: 1, max: 40 }).map((n) => n / 8),
    ...way,
    seed,
  }),
  fc.record({ kind: fc.constant('stars' as const), lifeSeconds: seconds, density: share, seed }),
  fc.record({ kind: fc.constant('glints' as const), lifeSeconds: seconds, density: share, seed }),
  fc.record({
    kind: fc.constant('cloud' as const),
    patchMm: fc.integer({ min: 10, max: 2000 }),
    driftMmPerSecond: fc.integer({ min: 0, max: 500 }),
    driftDeg: degrees,
    seed,
  }),
  fc.record({
    kind: fc.constant('fire' as const),
    patchMm: fc.integer({ min: 10, max: 2000 }),
    riseMmPerSecond: fc.integer({ min: 0, max: 500 }),
    height: shareFrom(20),
    seed,
  }),
  painted,
  fc
    .record({
      kind: fc.constant('letters' as const),
      text: fc.constantFrom('FAIR', 'A', 'Night fair: 12,500 lamps!', '7 & 8'),
      // The schema's least is 0.2 s.
      passSeconds: optional(seconds.map((value) => value + 0.2)),
      travel: optional(fc.constantFrom<'left' | 'right'>('left', 'right')),
    })
    .map((effect) => withoutAbsent(effect) as Effect),
];

export const effect: fc.Arbitrary<Effect> = fc.oneof(...effects);

const envelope = fc.array(
  fc.record({ atMs: fc.integer({ min: 0, max: 8000 }), percent: fc.integer({ min: 0, max: 100 }) }),
  { minLength: 1, maxLength: 5 },
);

export const clip: fc.Arbitrary<Clip> = fc
  .record({
    startMs: fc.constantFrom(0, 0, 0, 700, 65_000, 66_000, 3_000_000),
    lengthMs: fc.constantFrom(900, 5000, 70_000, 3_500_000),
    fadeInMs: fc.constantFrom(0, 0, 300, 60_000),
    fadeOutMs: fc.constantFrom(0, 0, 800),
    area: fc.constantFrom('everything', 'left', 'some', 'round'),
    gradient: fc.constantFrom('g0', 'g1', 'g2'),
    blend: fc.constantFrom<Blend>('over', 'add', 'brighter-wins', 'tint'),
    levelPercent: fc.constantFrom(100, 100, 100, 37),
    envelope: fc.oneof({ weight: 3, arbitrary: fc.constant(undefined) }, { weight: 1, arbitrary: envelope }),
    cycle: fc.oneof(
      { weight: 3, arbitrary: fc.constant(undefined) },
      { weight: 1, arbitrary: fc.record({ seconds, backward: fc.boolean() }) },
    ),
    effect,
  })
  .map((one) => withoutAbsent(one) as Clip);
