// Fitting runs to engraved channels: random drawings with known answers, what stays of runs that lie there already, new runs, and the findings.
// Expected places follow from the rule: the most pitches that fit, centred in the usable length, LEDs half a pitch inside each cut edge.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pitchMm, strips } from '../../src/catalogue/index.ts';
import {
  arrowVector,
  type ChannelFit,
  channelFindings,
  channelsFrom,
  fitChannels,
  fitFindings,
  type PointMm,
  readDrawing,
} from '../../src/panel/index.ts';
import {
  type Channel,
  edited,
  limits,
  type Project,
  problemLine,
  type Run,
  startHistory,
} from '../../src/project/index.ts';
import {
  channelsDxf,
  channelsSvg,
  type KnownChannel,
  knownChannels,
  usableMm,
} from '../support/channel-drawings.ts';
import { sheet } from '../support/drawings.ts';
import { holdsLaws } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';

const pitch60 = 1000 / 60;
const heightMm = 600;
const panel = { widthMm: 900, heightMm, airGapMm: 30, sheet: 'opal-pmma' } as const;

function channelsOf(
  text: string,
  fileName: string,
  size: { widthMm: number; heightMm: number } = panel,
): readonly Channel[] {
  const read = readDrawing(new TextEncoder().encode(text), fileName, size.heightMm);
  if (!read.ok) throw new Error(read.problems.map(problemLine).join('\n'));
  const found = channelsFrom(read.value, { layer: 'channels', panel: size });
  if (!found.ok) throw new Error(found.problems.map(problemLine).join('\n'));
  return found.value.channels;
}

const fittedTo = (
  project: Project,
  channels: readonly Channel[],
): { project: Project; report: readonly ChannelFit[] } => {
  const { edit, report } = fitChannels(project, channels);
  return { project: holdsLaws(project, 'fit', edit), report };
};

/** A straight channel as its middle line, or as a rectangle of this width. */
const middleLine = (id: string, from: [number, number], to: [number, number]): Channel => ({
  id,
  points: [from, to].map(([xMm, yMm]) => ({ xMm, yMm })) as Channel['points'],
});
const box = (id: string, left: number, top: number, width: number, height: number): Channel => ({
  id,
  points: [
    [left, top],
    [left + width, top],
    [left + width, top + height],
    [left, top + height],
  ].map(([xMm, yMm]) => ({ xMm: xMm!, yMm: yMm! })) as unknown as Channel['points'],
});

const run = (id: string, xMm: number, yMm: number, ledCount: number, more: Partial<Run> = {}): Run => ({
  id,
  firstLed: { xMm, yMm },
  arrowDeg: 0,
  ledCount,
  strip: 'ws2812b-60',
  ...more,
});
const far = (strip: string): Run => run('far', 5000, 5000, 1, { strip });

const ledAt = (one: Run, led: number, pitch: number): PointMm => {
  const arrow = arrowVector(one.arrowDeg);
  return { xMm: one.firstLed.xMm + arrow.x * pitch * led, yMm: one.firstLed.yMm + arrow.y * pitch * led };
};

/** First and last LED by the rule, the one farther left (upright: lower) first. */
function expectedEnds(known: KnownChannel): [PointMm, PointMm] {
  const half = (known.pitchMm * (known.ledCount - 1)) / 2;
  const [cos, sin] = [Math.cos((known.turnDeg * Math.PI) / 180), Math.sin((known.turnDeg * Math.PI) / 180)];
  return [-half, half].map((s) => ({ xMm: known.xMm + s * cos, yMm: known.yMm + s * sin })) as [
    PointMm,
    PointMm,
  ];
}

function expectAsKnown(project: Project, known: KnownChannel): void {
  const [a, b] = expectedEnds(known);
  const off = (p: PointMm, q: PointMm): number => Math.hypot(p.xMm - q.xMm, p.yMm - q.yMm);
  const distances = project.runs
    .filter((one) => one.id !== 'far' && one.ledCount === known.ledCount)
    .map((one) => {
      const [first, last] = [ledAt(one, 0, known.pitchMm), ledAt(one, one.ledCount - 1, known.pitchMm)];
      return Math.min(Math.max(off(first, a), off(last, b)), Math.max(off(first, b), off(last, a)));
    });
  expect(Math.min(...distances)).toBeLessThanOrEqual(0.01);
}

describe('[FIT1] random drawings with known answers', () => {
  const tried = ['ws2812b-60', 'ws2812b-144', 'ws2812b-30'].map(
    (id) => strips.find((strip) => strip.id === id)!,
  );
  const writers = [
    ['SVG', (known: readonly KnownChannel[]) => channelsOf(channelsSvg(known, heightMm), 'a.svg')],
    [
      'DXF, polylines with bulges',
      (known: readonly KnownChannel[]) => channelsOf(channelsDxf(known, heightMm, false), 'a.dxf'),
    ],
    [
      'DXF, loose lines and arcs',
      (known: readonly KnownChannel[]) => channelsOf(channelsDxf(known, heightMm, true), 'a.dxf'),
    ],
  ] as const;
  test.each(writers)(
    '%s: every LED to 0.01 mm, every length and rest',
    (_, read) => {
      fc.assert(
        fc.property(
          fc
            .constantFrom(...tried)
            .chain((strip) =>
              fc.tuple(fc.constant(strip), knownChannels(pitchMm(strip), strip.boardWidthMm)),
            ),
          ([strip, known]) => {
            const channels = read(known);
            expect(channels).toHaveLength(known.length);
            const before = projectOf({ panel, runs: [far(strip.id)] });
            const { edit, report } = fitChannels(before, channels);
            const after = edited(startHistory(before), 'fit', edit).project;
            expect(after.runs).toHaveLength(known.length + 1);
            for (const one of known) expectAsKnown(after, one);
            const lengths = (values: readonly number[]): number[] => values.toSorted((a, b) => a - b);
            const wanted = lengths(known.map(usableMm));
            for (const [i, length] of lengths(report.map((fit) => fit.lengthMm)).entries())
              expect(Math.abs(length - wanted[i]!)).toBeLessThanOrEqual(0.01);
            const rests = lengths(known.map((one) => one.slackMm));
            for (const [i, rest] of lengths(report.map((fit) => fit.leftOverMm)).entries())
              expect(Math.abs(rest - rests[i]!)).toBeLessThanOrEqual(0.01);
          },
        ),
        { numRuns: 150, seed: seedOf(5) },
      );
    },
    60_000,
  );
  test('the long sides say which way a strip lies, not a short end whose corners were rounded', () => {
    // 600 mm of groove, and 5.7 mm of straight end between the cutter's circles.
    const known: KnownChannel = {
      pitchMm: 1000 / 30,
      boardWidthMm: 10,
      ledCount: 18,
      slackMm: 0,
      widthMm: 10.2,
      ends: ['round', 'dogbone'],
      xMm: 100,
      yMm: 156.1914,
      turnDeg: 33,
    };
    const before = projectOf({ panel, runs: [far('ws2812b-30')] });
    const { project, report } = fittedTo(before, channelsOf(channelsSvg([known], heightMm), 'a.svg'));
    expectAsKnown(project, known);
    expect(Math.abs(report[0]!.lengthMm - 600)).toBeLessThanOrEqual(0.01);
    expect(project.runs[1]!.arrowDeg).toBeCloseTo(327, 3);
  });
  test('the same for middle lines', () => {
    const lines =
      '<line x1="10" y1="20" x2="110.2" y2="20"/><path d="M300 50 L300 250"/><polyline points="10,100 40,140 70,180"/>';
    const { project, report } = fittedTo(
      projectOf({ panel, runs: [far('ws2812b-60')] }),
      channelsOf(sheet(lines), 'a.svg'),
    );
    // 100.2 mm hold 6 pitches, 200 mm hold 12; the slanted one is 100 mm long, at 3 : 4.
    expect(report.map((fit) => [fit.ledCount, fit.widthMm])).toEqual([
      [6, undefined],
      [12, undefined],
      [6, undefined],
    ]);
    const middles = project.runs.slice(1).map((one) => {
      const [first, last] = [ledAt(one, 0, pitch60), ledAt(one, one.ledCount - 1, pitch60)];
      return [(first.xMm + last.xMm) / 2, (first.yMm + last.yMm) / 2].map(
        (value) => Math.round(value * 100) / 100,
      );
    });
    expect(middles.toSorted((a, b) => a[0]! - b[0]!)).toEqual([
      [40, 140],
      [60.1, 20],
      [300, 150],
    ]);
    expect(report[0]!.leftOverMm).toBeCloseTo(0.2, 3);
  });
});

describe('[FIT2] runs that lie in a channel already', () => {
  test('channels drawn round the sample’s own runs change nothing but the channels', () => {
    const project = sample('midnight-carnival');
    const known = project.runs.map((one): KnownChannel => {
      const [first, last] = [ledAt(one, 0, pitch60), ledAt(one, one.ledCount - 1, pitch60)];
      return {
        pitchMm: pitch60,
        boardWidthMm: 10,
        ledCount: one.ledCount,
        slackMm: 0.2,
        widthMm: 11,
        ends: ['round', 'dogbone'],
        xMm: (first.xMm + last.xMm) / 2,
        yMm: (first.yMm + last.yMm) / 2,
        // The other way round than the arrow half of the time.
        turnDeg: one.ledCount % 2 === 0 ? -one.arrowDeg : 180 - one.arrowDeg,
      };
    });
    for (const channels of [
      channelsOf(channelsSvg(known, 300), 'a.svg', project.panel),
      channelsOf(channelsDxf(known, 300, true), 'a.dxf', project.panel),
    ]) {
      const { project: after, report } = fittedTo(project, channels);
      expect({ ...after, channels: undefined }).toEqual({ ...project, channels: undefined });
      expect(after.channels).toEqual(channels);
      expect(channelFindings(after)).toEqual([]);
      expect(report.every((fit) => !fit.isNew && fit.lostLeds === 0 && fit.obstacle === undefined)).toBe(
        true,
      );
      expect(new Set(report.map((fit) => fit.run))).toEqual(new Set(project.runs.map((one) => one.id)));
    }
  });

  test('shifted and slightly turned runs come back to their channels, with id, name, strip, direction and place in the chain', () => {
    const project = sample('midnight-carnival');
    const channels = project.runs.map((one) => {
      const ends = [-0.5, one.ledCount - 0.5].map((led) => ledAt(one, led, pitch60));
      return { id: `c-${one.id}`, points: ends as unknown as Channel['points'] };
    });
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.integer({ min: -40, max: 40 }),
            fc.integer({ min: -40, max: 40 }),
            fc.integer({ min: -20, max: 20 }),
          ),
          { minLength: 18, maxLength: 18 },
        ),
        (moves) => {
          const moved: Project = {
            ...project,
            runs: project.runs.map((one, i) => {
              const [dx, dy, turn] = moves[i]!;
              const { xMm, yMm } = one.firstLed;
              return {
                ...one,
                firstLed: { xMm: xMm + dx / 20, yMm: yMm + dy / 20 },
                arrowDeg: one.arrowDeg + turn / 100,
              };
            }),
          };
          const after = edited(startHistory(moved), 'fit', fitChannels(moved, channels).edit).project;
          expect(after.dataLines).toEqual(project.dataLines);
          for (const [i, one] of after.runs.entries()) {
            const wanted = project.runs[i]!;
            expect({ ...one, firstLed: 0, arrowDeg: 0 }).toEqual({ ...wanted, firstLed: 0, arrowDeg: 0 });
            for (const led of [0, wanted.ledCount - 1]) {
              const [a, b] = [ledAt(one, led, pitch60), ledAt(wanted, led, pitch60)];
              expect(Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm)).toBeLessThanOrEqual(0.01);
            }
          }
        },
      ),
      { numRuns: 30, seed: seedOf(7) },
    );
  });

  test('a channel too short takes LEDs off the end; feeds stay, lists and areas are kept as far as they fit', () => {
    const project = projectOf({
      panel,
      runs: [
        run('a', 20, 50, 12, {
          name: 'Sky',
          spareLeds: [3, 11],
          deadLeds: [10],
          arrowDeg: 180,
          firstLed: { xMm: 20 + 11 * pitch60, yMm: 50 },
        }),
      ],
      areas: [
        { id: 'part', members: [{ kind: 'leds', run: 'a', from: 8, to: 11 }], order: { kind: 'wiring' } },
      ],
      power: {
        supply: { volts: 5, amps: 10 },
        feeds: [{ run: 'a', led: 11, wire: 'AWG 18', lengthMm: 300 }],
      },
    });
    // 170 mm from 20 to 190: 10 pitches are 166.67, so 1.667 mm stay free at each end.
    const { project: after, report } = fittedTo(project, [box('c', 20, 44, 170, 12)]);
    expect(after.runs).toEqual([
      {
        id: 'a',
        firstLed: { xMm: 180, yMm: 50 },
        arrowDeg: 180,
        ledCount: 10,
        strip: 'ws2812b-60',
        name: 'Sky',
        spareLeds: [3],
        deadLeds: [],
      },
    ]);
    expect(after.areas[0]!.members).toEqual([{ kind: 'leds', run: 'a', from: 8, to: 9 }]);
    expect(after.power.feeds).toEqual([{ run: 'a', led: 9, wire: 'AWG 18', lengthMm: 300 }]);
    expect(report[0]).toMatchObject({ run: 'a', isNew: false, ledCount: 10, lostLeds: 2, widthMm: 12 });
    expect(fitFindings(report).map(({ severity, code, at }) => [severity, code, at])).toEqual([
      ['warning', 'channel-lost-leds', '/channels/0'],
    ]);
  });

  test('a run that lies right to the rounding of a drawing is left to the digit', () => {
    const lies = run('a', 20 + pitch60 / 2 + 0.0043217, 50, 6, { arrowDeg: 0.0007 });
    expect(fittedTo(projectOf({ panel, runs: [lies] }), [box('c', 20, 44, 100, 12)]).project.runs).toEqual([
      lies,
    ]);
  });

  test('one channel takes one run, the one that lies in it most; a run across or beside belongs to none', () => {
    const runs = [
      run('beside', 30, 58, 6),
      run('little', 130, 50, 6),
      run('most', 30, 51, 6),
      run('across', 80, 20, 4, { arrowDeg: 270 }),
      run('askew', 30, 55, 6, { arrowDeg: 8 }),
    ];
    const project = projectOf({ panel, runs });
    const { project: after, report } = fittedTo(project, [box('c', 20, 44, 110, 12)]);
    expect(report[0]!.run).toBe('most');
    expect(after.runs.filter((one) => one.id !== 'most')).toEqual(runs.filter((one) => one.id !== 'most'));
    expect(channelFindings(after).map(({ code, at }) => [code, at])).toEqual([
      ['channel-misfit', '/channels/0'],
      ['channel-shared', '/runs/1'],
      ['run-without-channel', '/runs/0'],
      ['run-without-channel', '/runs/3'],
      ['run-without-channel', '/runs/4'],
    ]);
  });

  test('two runs in one channel: the other stays, and is told', () => {
    const project = projectOf({ panel, runs: [run('a', 30, 50, 6), run('b', 150, 50, 5)] });
    const { project: after } = fittedTo(project, [box('c', 20, 44, 12 * pitch60, 12)]);
    expect(after.runs.map((one) => [one.id, one.ledCount])).toEqual([
      ['a', 12],
      ['b', 5],
    ]);
    expect(channelFindings(after).map(({ code, at }) => [code, at])).toEqual([['channel-shared', '/runs/1']]);
  });
});

describe('[FIT3] new runs', () => {
  test('left to right, then from the top; arrows to the right, upright ones up; behind the last data line', () => {
    const project = projectOf({
      panel,
      runs: [run('a', 600, 500, 3), run('b', 700, 500, 3, { strip: 'ws2812b-30' })],
      dataLines: [
        { pin: 6, chain: [{ run: 'a' }] },
        { pin: 7, chain: [{ run: 'b' }] },
      ],
    });
    const length = 4 * (1000 / 30);
    const { project: after, report } = fittedTo(project, [
      middleLine('right', [300, 20], [300 + length, 20]),
      middleLine('low', [50, 200], [50 + length, 200]),
      middleLine('upright', [150, 100], [150, 100 + length]),
      middleLine('backwards', [50 + length, 100], [50, 100]),
    ]);
    expect(after.runs.slice(2)).toEqual([
      { id: 'run-1', firstLed: { xMm: 66.667, yMm: 100 }, arrowDeg: 0, ledCount: 4, strip: 'ws2812b-30' },
      { id: 'run-2', firstLed: { xMm: 66.667, yMm: 200 }, arrowDeg: 0, ledCount: 4, strip: 'ws2812b-30' },
      { id: 'run-3', firstLed: { xMm: 150, yMm: 216.667 }, arrowDeg: 90, ledCount: 4, strip: 'ws2812b-30' },
      { id: 'run-4', firstLed: { xMm: 316.667, yMm: 20 }, arrowDeg: 0, ledCount: 4, strip: 'ws2812b-30' },
    ]);
    expect(after.dataLines).toEqual([
      { pin: 6, chain: [{ run: 'a' }] },
      { pin: 7, chain: ['b', 'run-1', 'run-2', 'run-3', 'run-4'].map((id) => ({ run: id })) },
    ]);
    expect(report.map((fit) => [fit.run, fit.isNew])).toEqual([
      ['run-4', true],
      ['run-2', true],
      ['run-3', true],
      ['run-1', true],
    ]);
  });
  test('an empty project gets the usual strip and a data line without a pin', () => {
    const project = projectOf({ panel, runs: [], dataLines: [] });
    const { project: after } = fittedTo(project, [middleLine('c', [0, 20], [100, 20])]);
    expect(after.runs).toEqual([
      { id: 'run-1', firstLed: { xMm: 8.333, yMm: 20 }, arrowDeg: 0, ledCount: 6, strip: 'ws2812b-60' },
    ]);
    expect(after.dataLines).toEqual([{ chain: [{ run: 'run-1' }] }]);
  });
  test('strip that is cut every so many LEDs comes in whole pieces', () => {
    const reel = { ...strips.find((strip) => strip.id === 'ws2812b-60')!, id: 'threes', cutEveryLeds: 3 };
    const { label: _, chip: _chip, source: _source, ...own } = reel;
    const project = projectOf({
      panel,
      strips: [own],
      runs: [run('far', 5000, 5000, 3, { strip: 'threes' })],
    } as Parameters<typeof projectOf>[0]);
    const { report } = fittedTo(project, [middleLine('c', [0, 20], [8 * pitch60 + 0.1, 20])]);
    expect(report[0]).toMatchObject({ ledCount: 6 });
    expect(report[0]!.leftOverMm).toBeCloseTo(2 * pitch60 + 0.1, 6);
    // Nearest whole number of pieces: 9 LEDs, of which 1 pitch less 0.1 mm is missing.
    expect(report[0]!.misfitMm).toBeCloseTo(pitch60 - 0.1, 6);
  });
  test('a hundredth of a mm too short still holds the LED, two don’t', () => {
    const counts = (length: number) =>
      fittedTo(projectOf({ panel, runs: [], dataLines: [] }), [middleLine('c', [0, 20], [length, 20])])
        .report[0]!.ledCount;
    expect(counts(100 - 0.009)).toBe(6);
    expect(counts(100 - 0.02)).toBe(5);
  });
  test('no more LEDs than the document holds, those that are there first', () => {
    const runs = [
      ...[0, 1].map((i) => run(`full-${i}`, 5000, 5000 + 50 * i, limits.ledsPerRun)),
      run('a', 30, 50, 10),
    ];
    const project = projectOf({ panel, runs });
    const long = middleLine('new', [0, 300], [10_000, 300]);
    const { project: after, report } = fittedTo(project, [long, box('c', 20, 44, 40 * pitch60, 12)]);
    const total = after.runs.reduce((sum, one) => sum + one.ledCount, 0);
    expect(total).toBe(limits.leds);
    expect(report[1]).toMatchObject({ run: 'a', ledCount: 40, obstacle: undefined });
    expect(report[0]).toMatchObject({ ledCount: limits.leds - 1440 - 40, obstacle: 'limit' });
    expect(fitFindings(report).map(({ severity, code }) => [severity, code])).toEqual([
      ['error', 'channel-limit'],
    ]);
  });
});

describe('[FIT4] findings', () => {
  const codes = (channels: readonly Channel[], runs: readonly Run[]) =>
    channelFindings(projectOf({ panel, runs: [...runs], channels: [...channels] })).map(
      ({ severity, code, at }) => [severity, code, at],
    );
  /** Room for 6 LEDs from 20 to 120 mm. */
  const groove = box('c', 20, 44, 100, 12);
  const inside = run('a', 20 + pitch60 / 2, 50, 6);

  test('a run that lies in its channel is none; without channels there are none', () => {
    expect(codes([groove], [inside])).toEqual([]);
    expect(codes([], [run('a', 900, 900, 3)])).toEqual([]);
  });
  test('misfit: over half a millimetre left over', () => {
    expect(codes([box('c', 20, 44, 100.49, 12)], [inside])).toEqual([]);
    expect(codes([box('c', 20, 44, 100.51, 12)], [inside])).toEqual([
      ['warning', 'channel-misfit', '/channels/0'],
    ]);
    const [finding] = channelFindings(
      projectOf({ panel, runs: [inside], channels: [box('c', 20, 44, 104.2, 12)] }),
    );
    expect(finding!.message).toBe(
      'Channel "c" is 104.20 mm long: 6 LEDs leave 4.20 mm over, and 12.47 mm are missing to one piece more.',
    );
    // 10 pitches of 96 per metre are 104.17 mm.
    expect(finding!.mend).toContain('10 LEDs of 96 per metre');
  });
  test('a run that leaves its channel by more than half a millimetre, along, across, turned', () => {
    const told = [['error', 'run-outside-channel', '/runs/0']];
    const moved = (dx: number, dy: number) => ({
      ...inside,
      firstLed: { xMm: inside.firstLed.xMm + dx, yMm: 50 + dy },
    });
    expect(codes([groove], [moved(0.49, 0)])).toEqual([]);
    expect(codes([groove], [moved(0.51, 0)])).toEqual(told);
    // 1 mm of clearance on each side.
    expect(codes([groove], [moved(0, 1.49)])).toEqual([]);
    expect(codes([groove], [moved(0, -1.51)])).toEqual(told);
    expect(codes([groove], [{ ...inside, ledCount: 7 }])).toEqual(told);
    expect(codes([groove], [{ ...inside, arrowDeg: 2 }])).toEqual(told);
    expect(codes([middleLine('c', [20, 50], [120, 50])], [moved(0, 0.49)])).toEqual([]);
    expect(codes([middleLine('c', [20, 50], [120, 50])], [moved(0, 0.51)])).toEqual(told);
  });
  test('empty, narrow and short channels, channels with room, runs without one', () => {
    expect(codes([groove], [])).toEqual([['warning', 'channel-empty', '/channels/0']]);
    // The board is 10 mm wide; a hundredth less is rounding.
    expect(codes([box('c', 20, 45, 100, 9.99)], [inside])).toEqual([]);
    expect(codes([box('c', 20, 45.1, 100, 9.8)], [inside])).toEqual([
      ['error', 'channel-narrow', '/channels/0'],
    ]);
    expect(codes([box('c', 20, 44, 15, 12)], [])).toEqual([['warning', 'channel-short', '/channels/0']]);
    expect(codes([groove], [{ ...inside, ledCount: 5 }])).toEqual([['note', 'channel-room', '/runs/0']]);
    expect(codes([groove], [inside, run('b', 300, 300, 3)])).toEqual([
      ['warning', 'run-without-channel', '/runs/1'],
    ]);
    const ring = run('ring', 300, 300, 12, { ring: { radiusMm: 30 } });
    expect(codes([groove], [inside, ring])).toEqual([]);
  });
  test('nothing is laid in a channel that is too narrow, and a run in it stays', () => {
    const project = projectOf({ panel, runs: [inside] });
    const { project: after, report } = fittedTo(project, [
      box('c', 20, 45.1, 100, 9.8),
      box('d', 20, 100, 100, 9),
    ]);
    expect(after.runs).toEqual([inside]);
    expect(report.map((fit) => [fit.run, fit.ledCount, fit.obstacle])).toEqual([
      [undefined, 0, 'narrow'],
      [undefined, 0, 'narrow'],
    ]);
  });
});

describe('[FIT5] what in a drawing is a channel', () => {
  const found = (body: string) => {
    const read = readDrawing(new TextEncoder().encode(sheet(body)), 'a.svg', 300);
    if (!read.ok) throw new Error('unreadable');
    return channelsFrom(read.value, { layer: 'channels', panel: { widthMm: 600, heightMm: 300 } });
  };
  const takenFrom = (body: string) => {
    const result = found(body);
    if (!result.ok) throw new Error(result.problems.map(problemLine).join());
    return result.value;
  };
  const rect = (x: number, y: number) => `<rect x="${x}" y="${y}" width="100" height="11"/>`;
  test('the group named channels alone, in reading order; without it everything but the panel’s edge', () => {
    const group = takenFrom(
      `${rect(0, 0)}<g id="Channels">${rect(200, 50.3)}${rect(20, 50)}${rect(300, 9)}</g>`,
    );
    expect(group.channels.map(({ id, points }) => [id, points[0]!.xMm])).toEqual([
      ['channel-1', 300],
      ['channel-2', 20],
      ['channel-3', 200],
    ]);
    expect(group.notes).toEqual([]);
    const all = takenFrom(
      `<rect width="600" height="300"/>${rect(10, 10)}<line x1="5" y1="90" x2="95" y2="90"/>`,
    );
    expect(all.channels.map(({ points }) => points.length)).toEqual([4, 2]);
    expect(all.notes).toEqual([
      'No layer or group "channels": all closed outlines and lines are taken.',
      "The outline round the whole panel is taken as the panel's edge.",
    ]);
  });
  test('lines with corners are taken apart, curves are left out and told', () => {
    const { channels, notes } = takenFrom(
      '<g id="channels"><path d="M10 10 H110 V90"/><path d="M200 100 A30 30 0 0 1 260 100"/></g>',
    );
    expect(channels.map(({ points }) => points)).toEqual([
      [
        { xMm: 10, yMm: 10 },
        { xMm: 110, yMm: 10 },
      ],
      [
        { xMm: 110, yMm: 10 },
        { xMm: 110, yMm: 90 },
      ],
    ]);
    expect(notes).toEqual([
      'A line with corners is taken as 2 straight channels.',
      'A line without a straight piece long enough for an LED is left out.',
    ]);
  });
  test('outlines with too many corners are thinned to within a hundredth', () => {
    const wavy = (steps: number, heightMm: number): string => {
      const corners = Array.from(
        { length: steps },
        (_, i) => `${10 + (500 * i) / steps} ${20 + heightMm * (i % 2)}`,
      );
      return `<g id="channels"><path d="M${corners.join('L')}L510 40 L10 40Z"/></g>`;
    };
    const { channels } = takenFrom(wavy(3000, 0.008));
    expect(channels[0]!.points.length).toBeLessThanOrEqual(limits.channelPoints);
    for (const { yMm } of channels[0]!.points)
      expect(Math.min(Math.abs(yMm - 20), Math.abs(yMm - 40))).toBeLessThan(0.011);
    const result = found(wavy(3000, 0.5));
    expect(result.ok ? [] : result.problems.map(({ code }) => code)).toEqual(['channel-too-fine']);
  });
  test.each([
    ['no-channels', '<text>nothing</text>'],
    ['too-many-channels', Array.from({ length: limits.runs + 1 }, (_, i) => rect(i, i)).join('')],
    ['channel-off-panel', rect(11_000, 0)],
  ])('%s', (code, body) => {
    const result = found(body);
    expect(result.ok ? [] : result.problems.map((one) => one.code)).toEqual([code]);
  });
});
