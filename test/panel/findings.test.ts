// Findings about layouts: each code appears for its fault and not beside it.
import { describe, expect, test } from 'vitest';
import { layOut, panelFindings } from '../../src/panel/index.ts';
import type { Project, Run } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

const pitch = 1000 / 60;
const run = (firstXMm: number, ledCount = 10, more: Partial<Run> = {}): Run => ({
  id: 'a',
  firstLed: { xMm: firstXMm, yMm: 20 },
  arrowDeg: 0,
  ledCount,
  strip: 'ws2812b-60',
  ...more,
});
const codes = (project: Project) =>
  panelFindings(project, layOut(project)).map(({ severity, code, at }) => [severity, code, at]);
const panel = { widthMm: 200, heightMm: 50, airGapMm: 20, sheet: 'opal-pmma' } as const;

describe('[FIND1] runs', () => {
  test('a cut piece that just fits is no finding; a tenth of a mm further it sticks out', () => {
    expect(codes(projectOf({ panel, runs: [run(pitch / 2, 12)] }))).toEqual([]);
    expect(codes(projectOf({ panel, runs: [run(pitch / 2 + 0.1, 12)] }))).toEqual([
      ['error', 'run-off-panel', '/runs/0'],
    ]);
    expect(codes(projectOf({ panel, runs: [run(pitch / 2 - 0.1, 12)] }))).toEqual([
      ['error', 'run-off-panel', '/runs/0'],
    ]);
  });
  test('the strip’s width counts', () => {
    const near = (yMm: number) =>
      codes(projectOf({ panel, runs: [run(50, 3, { firstLed: { xMm: 50, yMm } })] }));
    expect(near(5)).toEqual([]);
    expect(near(4.9)).toEqual([['error', 'run-off-panel', '/runs/0']]);
  });
  test('an order with another number of bytes than the strip takes', () => {
    const ordered = (strip: string, colourOrder: NonNullable<Run['colourOrder']>) =>
      codes(projectOf({ panel, runs: [run(20, 3, { strip, colourOrder })] }));
    const told = [['warning', 'white-differs', '/runs/0/colourOrder']];
    expect(ordered('ws2812b-60', 'GRBW')).toEqual(told);
    expect(ordered('sk6812-white-60', 'GRB')).toEqual(told);
    expect(ordered('sk6812-white-60', 'WRGB')).toEqual([]);
    expect(ordered('ws2812b-60', 'BGR')).toEqual([]);
  });
  test('a run that no line passes stays dark', () => {
    const project = projectOf({
      panel,
      runs: [run(20, 3), run(20, 3, { id: 'b', firstLed: { xMm: 20, yMm: 40 } })],
      dataLines: [{ pin: 6, chain: [{ run: 'a' }] }],
    });
    expect(codes(project)).toEqual([['warning', 'run-unchained', '/runs/1']]);
  });
});

describe('[FIND2] pins', () => {
  const withPins = (...pins: (number | undefined)[]): Project => {
    const runs = pins.map((_, i) => run(20, 2, { id: `run-${i}`, firstLed: { xMm: 20 + 50 * i, yMm: 20 } }));
    return projectOf({
      panel,
      runs,
      dataLines: pins.map((pin, i) => ({
        ...(pin === undefined ? {} : { pin }),
        chain: [{ run: `run-${i}` }],
      })),
    });
  };
  test.each([2, 7, 8, 13, 14, 19])('pin %i of ports B, C and D is fine', (pin) => {
    expect(codes(withPins(pin))).toEqual([]);
  });
  test.each<[string, (number | undefined)[], unknown[]]>([
    ['no pin', [undefined], [['error', 'pin-missing', '/dataLines/0/pin']]],
    ['a pin that has no output', [20], [['error', 'pin-unknown', '/dataLines/0/pin']]],
    ['a pin of the USB link', [1], [['warning', 'pin-serial', '/dataLines/0/pin']]],
    ['one pin for two lines', [6, 6], [['error', 'pin-shared', '/dataLines/1/pin']]],
  ])('%s', (_name, pins, expected) => {
    expect(codes(withPins(...pins))).toEqual(expected);
  });
  test('no data line at all', () => {
    expect(codes(projectOf({ panel, runs: [], dataLines: [], areas: [] }))).toEqual([
      ['error', 'no-data-line', '/dataLines'],
    ]);
  });
});

test('[FIND3] an area without LEDs', () => {
  const areas: Project['areas'] = [
    {
      id: 'x',
      members: [{ kind: 'rectangle', xMm: 0, yMm: 0, widthMm: 1, heightMm: 1 }],
      order: { kind: 'up' },
    },
  ];
  expect(codes(projectOf({ panel, runs: [run(20, 3)], areas }))).toEqual([
    ['warning', 'area-empty', '/areas/0'],
  ]);
});

describe('[FIND4] the visible opening', () => {
  const whole = { xMm: 0, yMm: 0, widthMm: 200, heightMm: 50 };
  const withOpening = (opening: NonNullable<Project['panel']['opening']>) =>
    codes(projectOf({ panel: { ...panel, opening }, runs: [run(20, 3)] }));
  test('as large as the panel, or well inside it, it is no finding', () => {
    expect(withOpening(whole)).toEqual([]);
    expect(withOpening({ xMm: 10, yMm: 10, widthMm: 180, heightMm: 30 })).toEqual([]);
  });
  test.each([
    ['left', { ...whole, xMm: -0.1, widthMm: 100 }],
    ['top', { ...whole, yMm: -0.1, heightMm: 20 }],
    ['right', { ...whole, widthMm: 200.1 }],
    ['bottom', { ...whole, yMm: 10, heightMm: 40.1 }],
    ['wholly beside', { ...whole, xMm: 300 }],
  ])('a tenth of a mm beyond the panel’s edge it is: %s', (_side, opening) => {
    expect(withOpening(opening)).toEqual([['warning', 'opening-off-panel', '/panel/opening']]);
  });
});
