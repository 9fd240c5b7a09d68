// Projects made for tests: plain ones built from a few numbers, the load of the speed table, and random ones for property tests.
import fc from 'fast-check';
import { colourOrders } from '../../src/catalogue/index.ts';
import type { Clip, Project, Run } from '../../src/project/index.ts';
import { clip, degrees, gradient, point } from './random-clips.ts';

const gradients: Project['gradients'] = [
  {
    id: 'ember',
    stops: [
      { at: 0, colour: '#ffd060' },
      { at: 0.5, colour: '#ff4010' },
      { at: 1, colour: '#801040' },
    ],
  },
  {
    id: 'sea',
    stops: [
      { at: 0, colour: '#20a0ff' },
      { at: 1, colour: '#80ffd0' },
    ],
  },
];

/** Rows of 60 per m strip, back and forth, 25 mm apart; one data line on pin 6. */
export function rowsOfStrip(ledCount: number, ledsPerRow = 30): Run[] {
  const pitch = 1000 / 60;
  const runs: Run[] = [];
  for (let first = 0, row = 0; first < ledCount; first += ledsPerRow, row++) {
    const back = row % 2 === 1;
    runs.push({
      id: `row-${row}`,
      firstLed: { xMm: back ? 20 + pitch * (ledsPerRow - 1) : 20, yMm: 20 + 25 * row },
      arrowDeg: back ? 180 : 0,
      ledCount: Math.min(ledsPerRow, ledCount - first),
      strip: 'ws2812b-60',
    });
  }
  return runs;
}

/** A valid project around these parts. */
export function projectOf(parts: Partial<Project> & { readonly runs: Project['runs'] }): Project {
  const ledCount = parts.runs.reduce((sum, run) => sum + run.ledCount, 0);
  return {
    format: 'lamploom',
    version: 1,
    name: 'Test panel',
    savedOn: '2026-11-25',
    panel: {
      widthMm: 600,
      heightMm: 20 + 25 * Math.ceil(ledCount / 30) + 20,
      airGapMm: 30,
      sheet: 'opal-pmma',
    },
    dataLines: [{ pin: 6, chain: parts.runs.map((run) => ({ run: run.id })) }],
    areas: [{ id: 'everything', members: [{ kind: 'all' }], order: { kind: 'across' } }],
    gradients,
    lampshows: [{ id: 'attract', lengthMs: 20_000, rows: [] }],
    attractMode: 'attract',
    power: { supply: { volts: 5, amps: 40 }, feeds: [] },
    output: { gamma: { red: 2.2, green: 2.2, blue: 2.2 }, brightnessPercent: 100 },
    board: { id: 'atmega328p' },
    ...parts,
  };
}

const wholeShow = { startMs: 0, lengthMs: 20_000, area: 'everything' } as const;
const band: Clip = {
  ...wholeShow,
  gradient: 'ember',
  blend: 'over',
  effect: { kind: 'band', passSeconds: 3, width: 1, bands: 1, travel: 'forward', softness: 1 },
};
const stars: Clip = {
  ...wholeShow,
  gradient: 'sea',
  blend: 'add',
  effect: { kind: 'stars', lifeSeconds: 1.5, density: 1, seed: 7 },
};
const rings: Clip = {
  ...wholeShow,
  gradient: 'ember',
  blend: 'brighter-wins',
  effect: { kind: 'rings', centre: { xMm: 300, yMm: 100 }, spacingMm: 120, ringSeconds: 2, width: 1 },
};
const cloud: Clip = {
  ...wholeShow,
  gradient: 'sea',
  blend: 'tint',
  effect: { kind: 'cloud', patchMm: 120, driftMmPerSecond: 40, driftDeg: 20, seed: 3 },
};

/** The load of the speed table: every row lights every LED; the limiter is on and active. Rows 5 and 6 repeat stars and rings. */
export function loadProject(ledCount: number, rowCount: number): Project {
  const rows = [band, stars, rings, cloud, stars, rings].slice(0, rowCount);
  return projectOf({
    runs: rowsOfStrip(ledCount),
    lampshows: [
      { id: 'attract', lengthMs: 20_000, rows: rows.map((clip, i) => ({ id: `row-${i}`, clips: [clip] })) },
    ],
    power: { supply: { volts: 5, amps: 40 }, limitAmps: ledCount * 0.004, feeds: [] },
  });
}

// ---- random projects ----

/** Random layouts, strips, colour orders, areas, gradients, effects, blends, fades, limits and times, some beyond 65 s. */
export const randomProject: fc.Arbitrary<Project> = fc
  .record({
    ledCounts: fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 8 }),
    orders: fc.array(fc.constantFrom(...colourOrders), { minLength: 8, maxLength: 8 }),
    sharesString: fc.boolean(),
    places: fc.array(fc.tuple(point, degrees), { minLength: 8, maxLength: 8 }),
    gradients: fc.tuple(gradient, gradient, gradient),
    clips: fc.array(clip, { minLength: 3, maxLength: 7 }),
    steady: fc.constantFrom(true, true, true, true, false),
    /** Runs as horizontal rows instead of anywhere: letters need them, and clouds make use of them. */
    inRows: fc.constantFrom(true, false, false),
    limitAmps: fc.option(
      fc.integer({ min: 1, max: 40 }).map((n) => n / 10),
      { nil: undefined },
    ),
    brightnessPercent: fc.constantFrom(100, 100, 63),
    gamma: fc.record({
      red: fc.constantFrom(1, 1.8, 2.2),
      green: fc.constantFrom(1, 2.2),
      blue: fc.constantFrom(1, 2.2),
    }),
    whiteBalance: fc.record({
      red: fc.constant(1),
      green: fc.constantFrom(1, 0.8),
      blue: fc.constantFrom(1, 0.7),
    }),
    pin: fc.integer({ min: 2, max: 19 }),
    lengthMs: fc.constantFrom(4000, 90_000, 3_600_000),
  })
  .map((r) => {
    const mixed = r.sharesString ? 'ws2815-60' : 'ws2813-60';
    const runs = r.ledCounts.map((ledCount, i) => ({
      id: `run-${i}`,
      firstLed: r.inRows ? { xMm: 40, yMm: 40 + 30 * i } : r.places[i]![0],
      arrowDeg: r.inRows ? 0 : r.places[i]![1],
      ledCount,
      strip: i % 3 === 1 ? mixed : 'ws2812b-60',
      colourOrder: r.orders[i]!,
    }));
    // Over half of the bytes should be lit, or the comparison would prove little.
    const ground: Clip = {
      ...wholeShow,
      lengthMs: 3_600_000,
      gradient: 'g0',
      blend: 'add',
      effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
    };
    return projectOf({
      panel: { widthMm: 600, heightMm: 300, airGapMm: 30, sheet: 'opal-pmma' },
      runs,
      dataLines: [{ pin: r.pin, chain: runs.map((run) => ({ run: run.id })) }],
      areas: [
        { id: 'everything', members: [{ kind: 'all' }], order: { kind: 'wiring' } },
        {
          id: 'left',
          members: [{ kind: 'rectangle', xMm: 0, yMm: 0, widthMm: 300, heightMm: 300 }],
          order: { kind: 'up' },
        },
        {
          id: 'some',
          members: r.ledCounts.map((ledCount, i) => ({
            kind: 'leds',
            run: `run-${i}`,
            from: Math.floor(ledCount / 3),
            to: ledCount - 1,
          })),
          order: { kind: 'outward', centre: { xMm: 200, yMm: 100 }, reversed: true },
        },
        {
          id: 'round',
          members: [{ kind: 'runs', runs: ['run-0'] }],
          order: { kind: 'around', centre: { xMm: 300, yMm: 150 }, startDeg: 90 },
        },
      ],
      gradients: r.gradients.map((one, i) => ({ id: `g${i}`, ...one })),
      lampshows: [
        {
          id: 'attract',
          lengthMs: r.lengthMs,
          rows: [...(r.steady ? [ground] : []), ...r.clips].map((one, i) => ({
            id: `row-${i}`,
            clips: [one],
          })),
        },
      ],
      power: {
        supply: { volts: 5, amps: 20 },
        ...(r.limitAmps === undefined ? {} : { limitAmps: r.limitAmps }),
        feeds: [],
      },
      output: { gamma: r.gamma, whiteBalance: r.whiteBalance, brightnessPercent: r.brightnessPercent },
    });
  });
