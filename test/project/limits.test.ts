// Every limit of limits.ts, tried on both sides: the greatest allowed value is read, one more is refused at its place.
import { describe, expect, test } from 'vitest';
import { limits, type Project, type Run, readProject } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

const run = (id: string, ledCount = 1): Run => ({
  id,
  firstLed: { xMm: 10, yMm: 10 },
  arrowDeg: 0,
  ledCount,
  strip: 'ws2812b-60',
});
const runs = (count: number, ledCount = 1) =>
  Array.from({ length: count }, (_, i) => run(`run-${i}`, ledCount));
const many = <T>(count: number, make: (index: number) => T) =>
  Array.from({ length: count }, (_, i) => make(i));
const base = (): Project => projectOf({ runs: [run('only')] });
const clip = {
  startMs: 0,
  lengthMs: 10,
  area: 'everything',
  gradient: 'ember',
  blend: 'add',
  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
} as const;
const show = (rows: Project['lampshows'][number]['rows'], lengthMs = 1000) => [
  { id: 'attract', lengthMs, rows },
];

interface Case {
  /** A project that reaches `n` of what is limited. */
  readonly make: (n: number) => Project;
  readonly limit: number;
  readonly codes: readonly string[];
  readonly at: string;
}

/** LEDs spread over runs that are each within their own limit. */
function withLeds(total: number): Project {
  const full = Math.floor(total / 500);
  const rest = total - full * 500;
  return projectOf({ runs: [...runs(full, 500), ...(rest > 0 ? [run('rest', rest)] : [])] });
}

const image = (bytes: number): Project => ({
  ...base(),
  panel: {
    ...base().panel,
    artwork: { mediaType: 'image/png', base64: Buffer.alloc(bytes).toString('base64') },
  },
});

const place = (i: number) => ({ xMm: i, yMm: i % 7 });
const onPanel = (part: Partial<Project['panel']>): Project => ({
  ...base(),
  panel: { ...base().panel, ...part },
});

const cases: Readonly<Record<string, Case>> = {
  leds: { make: withLeds, limit: limits.leds, codes: ['too-many'], at: '/runs' },
  ledsPerRun: {
    make: (n) => projectOf({ runs: [run('long', n)] }),
    limit: limits.ledsPerRun,
    codes: ['schema-maximum'],
    at: '/runs/0/ledCount',
  },
  runs: {
    make: (n) => projectOf({ runs: runs(n) }),
    limit: limits.runs,
    codes: ['schema-maxItems', 'schema-maxItems'],
    at: '/runs',
  },
  dataLines: {
    make: (n) =>
      projectOf({ runs: runs(n), dataLines: many(n, (i) => ({ pin: i + 2, chain: [{ run: `run-${i}` }] })) }),
    limit: limits.dataLines,
    codes: ['schema-maxItems'],
    at: '/dataLines',
  },
  areas: {
    make: (n) => ({
      ...base(),
      areas: many(n, (i) => ({ id: `area-${i}`, members: [{ kind: 'all' }], order: { kind: 'up' } })),
    }),
    limit: limits.areas,
    codes: ['schema-maxItems'],
    at: '/areas',
  },
  gradients: {
    make: (n) => ({
      ...base(),
      gradients: many(n, (i) => ({ id: `gradient-${i}`, stops: [{ at: 0, colour: '#123456' }] })),
    }),
    limit: limits.gradients,
    codes: ['schema-maxItems'],
    at: '/gradients',
  },
  stopsPerGradient: {
    make: (n) => ({
      ...base(),
      gradients: [{ id: 'long', stops: many(n, (i) => ({ at: i / n, colour: '#123456' })) }],
    }),
    limit: limits.stopsPerGradient,
    codes: ['schema-maxItems'],
    at: '/gradients/0/stops',
  },
  envelopePoints: {
    make: (n) => ({
      ...base(),
      lampshows: show([
        { id: 'row', clips: [{ ...clip, envelope: many(n, (i) => ({ atMs: i, percent: 50 })) }] },
      ]),
    }),
    limit: limits.envelopePoints,
    codes: ['schema-maxItems'],
    at: '/lampshows/0/rows/0/clips/0/envelope',
  },
  lampshows: {
    make: (n) => ({
      ...base(),
      attractMode: 'show-0',
      lampshows: many(n, (i) => ({ id: `show-${i}`, lengthMs: 1000, rows: [] })),
    }),
    limit: limits.lampshows,
    codes: ['schema-maxItems'],
    at: '/lampshows',
  },
  rowsPerShow: {
    make: (n) => ({ ...base(), lampshows: show(many(n, (i) => ({ id: `row-${i}`, clips: [] }))) }),
    limit: limits.rowsPerShow,
    codes: ['schema-maxItems'],
    at: '/lampshows/0/rows',
  },
  clipsPerShow: {
    make: (n) => ({
      ...base(),
      lampshows: show([
        { id: 'one', clips: many(Math.min(n, 400), () => clip) },
        { id: 'two', clips: many(Math.max(0, n - 400), () => clip) },
      ]),
    }),
    limit: limits.clipsPerShow,
    codes: ['too-many'],
    at: '/lampshows/0',
  },
  clips: {
    make: (n) => ({
      ...base(),
      lampshows: Array.from({ length: 4 }, (_, i) => ({
        id: i === 0 ? 'attract' : `show-${i}`,
        lengthMs: 1000,
        rows: [{ id: 'one', clips: many(Math.min(300, Math.max(0, n - 300 * i)), () => clip) }],
      })),
    }),
    limit: limits.clips,
    codes: ['too-many'],
    at: '/lampshows',
  },
  showMs: {
    make: (n) => ({ ...base(), lampshows: show([], n) }),
    limit: limits.showMs,
    codes: ['schema-maximum'],
    at: '/lampshows/0/lengthMs',
  },
  panelMm: {
    make: (n) => ({ ...base(), panel: { ...base().panel, widthMm: n } }),
    limit: limits.panelMm,
    codes: ['schema-maximum'],
    at: '/panel/widthMm',
  },
  imageBytes: {
    make: image,
    limit: limits.imageBytes,
    codes: ['schema-maxLength'],
    at: '/panel/artwork/base64',
  },
  measures: {
    make: (n) =>
      onPanel({ measures: many(n, (i) => ({ from: place(0), to: place(i + 1), measuredMm: i + 1 })) }),
    limit: limits.measures,
    codes: ['schema-maxItems'],
    at: '/panel/measures',
  },
  keepOuts: {
    make: (n) =>
      onPanel({
        keepOuts: many(n, (i) => ({
          id: `keep-out-${i}`,
          purpose: 'screw' as const,
          shape: { kind: 'circle' as const, centre: place(i), diameterMm: 5 },
        })),
      }),
    limit: limits.keepOuts,
    codes: ['schema-maxItems'],
    at: '/panel/keepOuts',
  },
  guides: {
    make: (n) => onPanel({ guides: many(n, (i) => ({ axis: 'x' as const, atMm: i })) }),
    limit: limits.guides,
    codes: ['schema-maxItems'],
    at: '/panel/guides',
  },
  outlinePoints: {
    make: (n) => ({
      ...base(),
      areas: [
        ...base().areas,
        { id: 'lasso', members: [{ kind: 'outline', points: many(n, place) }], order: { kind: 'up' } },
      ],
    }),
    limit: limits.outlinePoints,
    codes: ['schema-maxItems'],
    at: `/areas/${base().areas.length}/members/0/points`,
  },
  beatsPerShow: {
    make: (n) => ({ ...base(), lampshows: [{ ...show([])[0]!, beatsMs: many(n, (i) => i) }] }),
    limit: limits.beatsPerShow,
    codes: ['schema-maxItems'],
    at: '/lampshows/0/beatsMs',
  },
  markersPerShow: {
    make: (n) => ({
      ...base(),
      lampshows: [{ ...show([])[0]!, markers: many(n, (i) => ({ atMs: i, name: 'Here' })) }],
    }),
    limit: limits.markersPerShow,
    codes: ['schema-maxItems'],
    at: '/lampshows/0/markers',
  },
  pressLogs: {
    make: (n) => ({
      ...base(),
      pressLogs: many(n, (i) => ({ id: `log-${i}`, lengthMs: 1000, presses: [] })),
    }),
    limit: limits.pressLogs,
    codes: ['schema-maxItems'],
    at: '/pressLogs',
  },
  pressesPerLog: {
    make: (n) => ({
      ...base(),
      gameEvents: [{ id: 'hit', lampshow: 'attract' }],
      pressLogs: [{ id: 'log', lengthMs: 1000, presses: many(n, (i) => ({ atMs: i, event: 'hit' })) }],
    }),
    limit: limits.pressesPerLog,
    codes: ['schema-maxItems'],
    at: '/pressLogs/0/presses',
  },
  baffles: {
    make: (n) =>
      onPanel({ baffles: { thicknessMm: 3, walls: many(n, (i) => ({ from: place(i), to: place(0) })) } }),
    limit: limits.baffles,
    codes: ['schema-maxItems'],
    at: '/panel/baffles/walls',
  },
  moreSupplies: {
    make: (n) => {
      const project = base();
      const moreSupplies = many(n, (i) => ({ id: `supply-${i}`, volts: 5, amps: 10 }));
      return { ...project, power: { ...project.power, moreSupplies } };
    },
    limit: limits.moreSupplies,
    codes: ['schema-maxItems'],
    at: '/power/moreSupplies',
  },
  channelPoints: {
    make: (n) => ({ ...base(), channels: [{ id: 'channel', points: many(n, place) }] }),
    limit: limits.channelPoints,
    codes: ['schema-maxItems'],
    at: '/channels/0/points',
  },
};

describe('[LIM] every limit of the document, on both sides', () => {
  test.each(Object.entries(cases))('%s', (_name, { make, limit, codes, at }) => {
    const within = readProject(JSON.stringify(make(limit)));
    expect(within.ok ? [] : within.problems).toEqual([]);
    // An image grows by three bytes before its text does, so one more than a whole group is the first that is too long.
    const beyond = readProject(JSON.stringify(make(limit + (at.endsWith('base64') ? 3 : 1))));
    expect(beyond.ok ? [] : beyond.problems.map((problem) => problem.code)).toEqual(codes);
    expect(!beyond.ok && beyond.problems[0]?.at).toBe(at);
  });

  test('the file, its nesting and its values', () => {
    const text = JSON.stringify(base());
    const padded = (length: number) => readProject(text + ' '.repeat(length - text.length));
    expect(padded(limits.fileBytes).ok).toBe(true);
    expect(padded(limits.fileBytes + 1).ok).toBe(false);
    const nested = (depth: number) => readProject(`${'['.repeat(depth)}${']'.repeat(depth)}`);
    const code = (result: ReturnType<typeof nested>) => !result.ok && result.problems[0]?.code;
    expect(code(nested(limits.nesting))).toBe('not-a-project');
    expect(code(nested(limits.nesting + 1))).toBe('json-too-deep');
    const values = (count: number) => readProject(`[${'1,'.repeat(count - 1)}1]`);
    expect(code(values(limits.values))).toBe('not-a-project');
    expect(code(values(limits.values + 1))).toBe('json-too-many-values');
  });

  test('no limit is left out here', () => {
    // The first three are tried above, frameMs in test/lampshow/findings.test.ts.
    const elsewhere = ['fileBytes', 'nesting', 'values', 'frameMs'];
    expect([...Object.keys(cases), ...elsewhere].sort()).toEqual(Object.keys(limits).sort());
  });
});
