// Whatever number an edit is given, the project it leaves can be read again: bounds are the schema's, as checkProject holds them.
// The figures of single cases are the bounds that the schema's own lines state: places within 10 m, sizes above 0.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  duplicateRun,
  setPanelWidthKeepingShape,
  setTrueScale,
  turnRunAboutMiddle,
} from '../../src/panel/index.ts';
import {
  addArea,
  addBaffles,
  addClip,
  addFeed,
  addGradient,
  addGuide,
  addKeepOut,
  addLampshow,
  addMeasure,
  addRow,
  addRun,
  addSheet,
  changeBaffle,
  changeClip,
  changeFeed,
  type Edit,
  edited,
  lengthenRun,
  moveClip,
  moveInChain,
  moveRow,
  moveRun,
  moveRunToChain,
  type Project,
  setAirGap,
  setAreaMembers,
  setAreaOrder,
  setBacking,
  setBaffles,
  setBoardPlace,
  setEffect,
  setGlass,
  setGradientStops,
  setGrid,
  setJumper,
  setLampshowLength,
  setLimit,
  setOpening,
  setOutput,
  setPanelSize,
  setPin,
  setSupply,
  startHistory,
  turnRun,
} from '../../src/project/index.ts';
import { faultsOf } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';

const project = sample('first-light');
const applied = (edit: Edit, before: Project = project): Project =>
  edited(startHistory(before), 'edit', edit).project;

const run = project.runs[0]!;
const area = project.areas[0]!.id;
const gradient = project.gradients[0]!.id;
const show = project.lampshows[0]!.id;
const place = { show, row: 0, clip: 0 };
const clip = project.lampshows[0]!.rows[0]!.clips[0]!;
const feed = project.power.feeds[0]!;

type Numbers = readonly [number, number, number, number];
const effects = (n: Numbers) =>
  [
    { kind: 'glow', breathSeconds: n[0], depth: n[1], gradientPlace: n[2], gradientSpan: n[3] },
    { kind: 'band', passSeconds: n[0], width: n[1], bands: n[2], travel: 'forward', softness: n[3] },
    { kind: 'stars', lifeSeconds: n[0], density: n[1], seed: n[2] },
    { kind: 'rings', centre: { xMm: n[0], yMm: n[1] }, spacingMm: n[2], ringSeconds: n[3], width: n[0] },
    { kind: 'cloud', patchMm: n[0], driftMmPerSecond: n[1], driftDeg: n[2], seed: n[3] },
  ] as const;
const clipOf = (n: Numbers, effect = 0) => ({
  ...clip,
  startMs: n[0],
  lengthMs: n[1],
  fadeInMs: n[2],
  fadeOutMs: n[3],
  levelPercent: n[0],
  effect: effects(n)[effect]!,
});
const rectangle = ([xMm, yMm, widthMm, heightMm]: Numbers) =>
  ({ kind: 'rectangle', xMm, yMm, widthMm, heightMm }) as const;
const around = (n: Numbers) =>
  ({ kind: 'around', centre: { xMm: n[0], yMm: n[1] }, startDeg: n[2] }) as const;
const path = (n: Numbers) => ({
  kind: 'path' as const,
  points: [
    { xMm: n[0], yMm: n[1] },
    { xMm: n[2], yMm: n[3] },
  ],
});
const stops = (n: Numbers) => n.map((at) => ({ at, colour: '#102030' }));

/** Feeds name an LED that must be there, so theirs is any of the run's. */
const edits: Readonly<Record<string, (n: Numbers) => Edit>> = {
  moveRun: (n) => moveRun(run.id, n[0], n[1]),
  turnRun: (n) => turnRun(run.id, n[0]),
  turnRunAboutMiddle: (n) => turnRunAboutMiddle(run.id, n[0]),
  lengthenRun: (n) => lengthenRun(run.id, n[0]),
  duplicateRun: (n) => duplicateRun(run.id, n[0], n[1]),
  addRun: (n) =>
    addRun(
      { id: 'fresh', strip: run.strip, firstLed: { xMm: n[0], yMm: n[1] }, arrowDeg: n[2], ledCount: n[3] },
      0,
    ),
  moveInChain: (n) => moveInChain(0, 0, n[0]),
  moveRunToChain: (n) => moveRunToChain(run.id, n[0], n[1]),
  setJumper: (n) => setJumper(0, 1, { power: 'cut', lengthMm: n[0] }),
  addArea: (n) => addArea({ id: 'fresh', members: [rectangle(n)], order: around(n) }),
  setAreaMembers: (n) => setAreaMembers(area, [{ kind: 'all' }, rectangle(n)]),
  'setAreaOrder, around': (n) => setAreaOrder(area, around(n)),
  'setAreaOrder, path': (n) => setAreaOrder(area, path(n) as never),
  setOpening: (n) => setOpening({ xMm: n[0], yMm: n[1], widthMm: n[2], heightMm: n[3] }),
  setPanelSize: (n) => setPanelSize({ widthMm: n[0], heightMm: n[1] }),
  setAirGap: (n) => setAirGap(n[0]),
  setGlass: (n) => setGlass(n[0]),
  setBacking: (n) => setBacking({ thicknessMm: n[0], channelDepthMm: n[1], bitMm: n[2] }),
  addBaffles: (n) => addBaffles([{ from: { xMm: n[0], yMm: n[1] }, to: { xMm: n[2], yMm: n[3] } }]),
  'setBaffles after a wall': (n) => (project) => {
    addBaffles([{ from: { xMm: 1, yMm: 2 }, to: { xMm: 3, yMm: 4 } }])(project);
    setBaffles({ thicknessMm: n[0], belowSheetMm: n[1] })(project);
    changeBaffle(0, { to: { xMm: n[2], yMm: n[3] } })(project);
  },
  setBoardPlace: (n) => setBoardPlace({ xMm: n[0], yMm: n[1] }),
  'addKeepOut, rectangle': (n) => addKeepOut({ id: 'fresh', purpose: 'other', shape: rectangle(n) }),
  'addKeepOut, circle': (n) =>
    addKeepOut({
      id: 'fresh',
      purpose: 'screw',
      shape: { kind: 'circle', centre: { xMm: n[0], yMm: n[1] }, diameterMm: n[2] },
    }),
  setGrid: (n) => setGrid({ origin: { xMm: n[0], yMm: n[1] }, rowMm: n[2], everyLeds: n[3] }),
  addGuide: (n) => addGuide('x', n[0]),
  addMeasure: (n) =>
    addMeasure({ from: { xMm: n[0], yMm: n[1] }, to: { xMm: n[2], yMm: 0 }, measuredMm: n[3] }),
  addSheet: (n) => addSheet({ id: 'fresh', transmission: n[0], thicknessMm: n[1], spreadMm: n[2] }),
  setTrueScale: (n) => setTrueScale({ xMm: n[0], yMm: n[1] }, { xMm: n[2], yMm: 5 }, n[3]),
  setPanelWidthKeepingShape: (n) => setPanelWidthKeepingShape(n[0], n[1]),
  setPin: (n) => setPin(0, n[0]),
  setOutput: (n) =>
    setOutput({
      gamma: { red: n[0], green: n[1], blue: n[2] },
      whiteBalance: { red: n[0], green: n[1], blue: n[2] },
      brightnessPercent: n[3],
    }),
  setSupply: (n) => setSupply({ volts: n[0], amps: n[1], outputMilliohms: n[2] }),
  setLimit: (n) => setLimit(n[0]),
  addFeed: (n) => addFeed({ ...feed, lengthMm: n[0], fuseAmps: n[1] }),
  changeFeed: (n) => changeFeed(0, { lengthMm: n[0], fuseAmps: n[1] }),
  addLampshow: (n) => addLampshow({ id: 'fresh', lengthMs: n[3], rows: [{ id: 'row', clips: [clipOf(n)] }] }),
  setLampshowLength: (n) => setLampshowLength(show, n[0]),
  addRow: (n) => addRow(show, { id: 'fresh', clips: [clipOf(n)] }, n[0]),
  moveRow: (n) => moveRow(show, 0, n[0]),
  addClip: (n) => addClip(place, clipOf(n)),
  changeClip: (n) => changeClip(place, clipOf(n)),
  moveClip: (n) => moveClip(place, 0, n[0]),
  addGradient: (n) => addGradient({ id: 'fresh', stops: stops(n) as never }),
  setGradientStops: (n) => setGradientStops(gradient, stops(n)),
  ...Object.fromEntries(
    effects([0, 0, 0, 0]).flatMap(({ kind }, at) => [
      [`setEffect, ${kind}`, (n: Numbers) => setEffect(place, effects(n)[at]!)],
      [`changeClip, ${kind}`, (n: Numbers) => changeClip(place, { effect: effects(n)[at]! })],
    ]),
  ),
};

const anyNumber = fc.oneof(
  fc.double(),
  fc.double({ min: -2000, max: 2000 }),
  fc.constantFrom(Number.NaN, Infinity, -Infinity, 0, -0, -1, 0.4, 1e9, -1e9, Number.MAX_VALUE, 5e-324),
);

describe('any number in any edit', () => {
  test.each(Object.entries(edits))('%s leaves a project that can be read', (_, edit) => {
    fc.assert(
      fc.property(fc.tuple(anyNumber, anyNumber, anyNumber, anyNumber), (numbers) => {
        expect(faultsOf(applied(edit(numbers)))).toEqual([]);
      }),
      { seed: 81, numRuns: 25 },
    );
  });
});

describe('numbers outside the bounds', () => {
  test('a run pulled a kilometre away stays at 10 m', () => {
    expect(applied(moveRun(run.id, 1e6, -1e6)).runs[0]!.firstLed).toEqual({ xMm: 10_000, yMm: -10_000 });
  });

  test('a size of nothing or less becomes the least that can be', () => {
    for (const gap of [0, -5]) expect(applied(setAirGap(gap)).panel.airGapMm).toBe(0.01);
  });

  test('a size that is small but allowed stays as it is', () => {
    expect(applied(setAirGap(0.003)).panel.airGapMm).toBe(0.003);
  });

  test('a pin is a whole number from 0 to 99', () => {
    expect([-3, 4.6, 200].map((pin) => applied(setPin(0, pin)).dataLines[0]!.pin)).toEqual([0, 5, 99]);
  });

  test('what is no number leaves what was there, and the rest of the change counts', () => {
    const { supply } = applied(setSupply({ volts: Number.NaN, amps: 7 })).power;
    expect(supply).toEqual({ ...project.power.supply, amps: 7 });
    expect(applied(moveRun(run.id, Number.NaN, 12)).runs[0]!.firstLed).toEqual({
      xMm: run.firstLed.xMm,
      yMm: 12,
    });
    expect(applied(lengthenRun(run.id, Infinity))).toBe(project);
  });

  test('what is no number and was none before is not there, and a new part that needs it is not added', () => {
    expect(applied(setLimit(Number.NaN), applied(setLimit(undefined))).power.limitAmps).toBeUndefined();
    expect(applied(addFeed({ ...feed, lengthMm: Number.NaN }))).toBe(project);
  });
});
