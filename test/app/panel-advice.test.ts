// Which areas are told of, what rows an area is like, and that the advice reaches what it promises.
import { describe, expect, test } from 'vitest';
import { newProject } from '../../src/app/files/new-project.ts';
import { adviceFor, adviceWords, rowsOf } from '../../src/app/stages/panel/area-advice.ts';
import {
  areasAtGap,
  areasOnMap,
  areasToShow,
  curveOf,
  gapsMm,
} from '../../src/app/stages/panel/area-evenness.ts';
import { pitchMm, strips } from '../../src/catalogue/index.ts';
import { evennessMap, evennessOfArea, ripple } from '../../src/light/index.ts';
import { areaLeds, layOut } from '../../src/panel/index.ts';
import type { Area, Project } from '../../src/project/index.ts';
import { sample } from '../support/lamploom.ts';

const aim = 0.9;

/** Rows of strip with 60 LEDs per m, every second one the other way round. */
function rowsProject(rows: readonly { readonly yMm: number; readonly arrowDeg?: number }[]): Project {
  const runs = rows.map(({ yMm, arrowDeg = 0 }, i) => ({
    id: `row-${i}`,
    firstLed: { xMm: arrowDeg === 180 ? 550 : 50, yMm },
    arrowDeg,
    ledCount: 30,
    strip: 'ws2812b-60',
  }));
  return { ...newProject('2031-02-03'), runs, dataLines: [{ chain: runs.map(({ id }) => ({ run: id })) }] };
}

const allOf = (project: Project) => {
  const layout = layOut(project);
  return { layout, leds: areaLeds(layout, project.areas[0]!) };
};

describe('rows of an area', () => {
  test('their distance is the usual one to the next row beside, whichever way they point', () => {
    const { layout, leds } = allOf(
      rowsProject([{ yMm: 50 }, { yMm: 90, arrowDeg: 180 }, { yMm: 130 }, { yMm: 170 }, { yMm: 300 }]),
    );
    const rows = rowsOf(layout, leds)!;
    // 1000 mm by 60 LEDs.
    expect(rows.alongMm).toBeCloseTo(1000 / 60, 9);
    expect(rows.acrossMm).toBeCloseTo(40, 6);
  });

  test('a single row has none beside it, nor one that goes on in the same line or stands across', () => {
    expect(rowsOf(...argsOf(rowsProject([{ yMm: 50 }])))!.acrossMm).toBeUndefined();
    expect(
      rowsOf(...argsOf(rowsProject([{ yMm: 50 }, { yMm: 50, arrowDeg: 180 }])))!.acrossMm,
    ).toBeUndefined();
    expect(
      rowsOf(...argsOf(rowsProject([{ yMm: 50 }, { yMm: 390, arrowDeg: 90 }])))!.acrossMm,
    ).toBeUndefined();
  });

  test('an area without LEDs has none', () => {
    expect(rowsOf(layOut(newProject('2031-02-03')), [])).toBeUndefined();
  });
});

const argsOf = (project: Project): Parameters<typeof rowsOf> => {
  const { layout, leds } = allOf(project);
  return [layout, leds];
};

describe('advice', () => {
  const rows = rowsOf(...argsOf(rowsProject([{ yMm: 50 }, { yMm: 90 }, { yMm: 130 }])))!;
  const gapMm = 12;
  const advice = adviceFor(aim, rows, gapMm);

  test('the gap reaches the aim, and half a millimetre less does not', () => {
    const { leastGapMm } = advice;
    expect(ripple(rows.alongMm, rows.acrossMm, leastGapMm!).minByMean).toBeGreaterThanOrEqual(aim);
    expect(ripple(rows.alongMm, rows.acrossMm, leastGapMm! - 0.5).minByMean).toBeLessThan(aim);
  });

  test('a strip or a row spacing is only told where it alone reaches the aim', () => {
    // At 40 mm from row to row and a gap of 12 mm the dark between rows is there for any strip: the same sum with LEDs without end between.
    expect(ripple(1, rows.acrossMm, gapMm).minByMean).toBeLessThan(aim);
    expect(advice.ledsPerMetre).toBeUndefined();
    const { widestRowsMm } = advice;
    if (widestRowsMm !== undefined) {
      expect(ripple(rows.alongMm, widestRowsMm, gapMm).minByMean).toBeGreaterThanOrEqual(aim);
      expect(ripple(rows.alongMm, widestRowsMm + 0.5, gapMm).minByMean).toBeLessThan(aim);
    }
  });

  test('a denser strip helps where single rows are what is uneven', () => {
    const single = { ...rows, acrossMm: undefined };
    const { ledsPerMetre } = adviceFor(aim, single, 6);
    const strip = strips.find((one) => one.ledsPerMetre === ledsPerMetre)!;
    expect(strip.ledsPerMetre).toBeGreaterThan(60);
    expect(ripple(pitchMm(strip), undefined, 6).minByMean).toBeGreaterThanOrEqual(aim);
    const sparser = strips.filter((one) => one.ledsPerMetre < strip.ledsPerMetre);
    for (const one of sparser) expect(ripple(pitchMm(one), undefined, 6).minByMean).toBeLessThan(aim);
  });

  const now = { minByMean: 0.5, minByMax: 0.4, michelson: 0.4 };
  const none = { now, leastGapMm: undefined, widestRowsMm: undefined, ledsPerMetre: undefined };
  const at = (airGapMm: number, minByMean: number, isDarkestAtEdge = true) => ({
    airGapMm,
    minByMean,
    isDarkestAtEdge,
  });
  /** Rows so near to each other that endless ones are even at gaps of some centimetres. */
  const near = { ...rows, acrossMm: 20 };

  test('the gap that is told is the nearest one at which the area’s own curve reaches the aim, wider or narrower', () => {
    const words = (gap: number) =>
      adviceWords(aim, { rows: near, ...none }, gap, [at(12, 0.5), at(21, 0.9), at(24, 0.95), at(33, 0.7)]);
    expect(words(12)).toBe('To reach 0.90 here: air gap of 21 mm.');
    expect(words(33)).toBe('To reach 0.90 here: air gap of 24 mm.');
  });

  test('what endless rows need is told as theirs, rounded to the side that holds', () => {
    const needs = { ...none, leastGapMm: 21.21, widestRowsMm: 18.09, ledsPerMetre: 96 };
    expect(adviceWords(aim, { rows: near, ...needs }, 12, [at(12, 0.5), at(24, 0.95)])).toBe(
      'To reach 0.90 here: air gap of 24 mm. At this gap endless rows need rows at most 18.0 mm apart, or 96 LEDs per m.',
    );
  });

  test('no gap is told that the area’s own curve doesn’t bear out: what decides is told instead', () => {
    const words = (of: typeof near | typeof single, isAtEdge: boolean) =>
      adviceWords(aim, { rows: of, ...none, leastGapMm: 21 }, 24, [
        at(12, 0.5, isAtEdge),
        at(24, 0.72, isAtEdge),
        at(42, 0.6, isAtEdge),
      ]);
    const single = { ...rows, acrossMm: undefined };
    const most = 'No air gap reaches 0\\.90 here \\(0\\.72 at 24 mm\\)';
    expect(words(near, true)).toMatch(new RegExp(`^${most}: it is darkest at its edge`));
    expect(words(near, false)).toMatch(new RegExp(`^${most}: it is darkest inside`));
    expect(words(single, true)).toMatch(new RegExp(`^${most}: it is darkest at its ends`));
    // A gap of 24 mm evens out rows 20 mm apart, but not rows 200 mm apart.
    expect(words({ ...rows, acrossMm: 200 }, true)).toMatch(
      new RegExp(`^${most}. Its rows lie too far apart`),
    );
  });

  test('in the samples every gap that is told reaches the aim on a map of its own, and some area is told one', () => {
    let told = 0;
    const deepSea = sample('deep-sea');
    const projects = [
      sample('first-light'),
      deepSea,
      // Too narrow for an area that is even at its own gap of 35 mm.
      { ...deepSea, panel: { ...deepSea.panel, airGapMm: 15 } },
      sample('midnight-carnival'),
    ];
    for (const project of projects) {
      const layout = layOut(project);
      const areas = areasToShow(layout, project.areas);
      const map = evennessMap(project, layout);
      const { airGapMm } = project.panel;
      const atGaps = gapsMm.map((gap) => areasAtGap(project, layout, areas, gap, map.mmPerPx));
      const evenness = { airGapMm, now: areasOnMap(map, layout, areas), atGaps };
      for (const [index, { leds }] of areas.entries()) {
        if (evenness.now[index]!.minByMean >= aim) continue;
        const of = rowsOf(layout, leds)!;
        const given = adviceWords(
          aim,
          { rows: of, ...adviceFor(aim, of, airGapMm) },
          airGapMm,
          curveOf(evenness, index),
        );
        const gap = /^To reach 0\.90 here: air gap of ([\d.]+) mm/.exec(given)?.[1];
        if (gap === undefined) {
          expect(given).toMatch(/^No air gap reaches /);
          continue;
        }
        told++;
        const there = evennessMap({ ...project, panel: { ...project.panel, airGapMm: Number(gap) } }, layout);
        expect(evennessOfArea(there, layout, leds).minByMean).toBeGreaterThanOrEqual(aim);
      }
    }
    expect(told).toBeGreaterThan(0);
  });
});

describe('areas that are told of', () => {
  const project = rowsProject([{ yMm: 50 }, { yMm: 90 }, { yMm: 130 }]);
  const area = (id: string, runs: string[]): Area => ({
    id,
    members: [{ kind: 'runs', runs }],
    order: { kind: 'across' },
  });

  test('the largest first; the whole panel only where parts don’t hold most LEDs; equal ones once', () => {
    const layout = layOut(project);
    const whole = project.areas[0]!;
    const areas = [
      whole,
      area('one', ['row-0']),
      area('two', ['row-0', 'row-1']),
      area('same', ['row-1', 'row-0']),
    ];
    expect(areasToShow(layout, areas).map((shown) => shown.area.id)).toEqual(['two', 'one']);
    // One row of three is not most of them.
    expect(areasToShow(layout, [area('one', ['row-0']), whole]).map((shown) => shown.area.id)).toEqual([
      'whole',
      'one',
    ]);
    expect(areasToShow(layout, [whole]).map((shown) => shown.area.id)).toEqual(['whole']);
    expect(areasToShow(layOut(newProject('2031-02-03')), [whole])).toEqual([]);
  });

  test('a curve goes through the figure of the present gap, and rises from narrow gaps', () => {
    const layout = layOut(project);
    const shown = areasToShow(layout, project.areas);
    const { airGapMm } = project.panel;
    const map = evennessMap(project, layout);
    const now = areasOnMap(map, layout, shown);
    const [again] = areasAtGap(project, layout, shown, airGapMm, map.mmPerPx);
    expect(again).toEqual(now[0]);
    const first = areasAtGap(project, layout, shown, gapsMm[0]!, map.mmPerPx);
    expect(first[0]!.minByMean).toBeLessThan(now[0]!.minByMean - 0.2);
    const curve = curveOf({ airGapMm, now, atGaps: [first] }, 0);
    expect(curve.map((point) => point.airGapMm)).toEqual([gapsMm[0], airGapMm]);
    expect(curve[1]!.minByMean).toBe(now[0]!.minByMean);
    expect(airGapMm).toBeGreaterThan(gapsMm[0]!);
    expect(airGapMm).toBeLessThan(gapsMm.at(-1)!);
  });
});
