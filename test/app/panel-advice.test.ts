// Which areas are told of, what rows an area is like, and that the advice reaches what it promises.
import { describe, expect, test } from 'vitest';
import { newProject } from '../../src/app/files/new-project.ts';
import { adviceFor, adviceWords, rowsOf } from '../../src/app/stages/panel/area-advice.ts';
import { areasAtGap, areasOnMap, areasToShow, gapsMm } from '../../src/app/stages/panel/area-evenness.ts';
import { pitchMm, strips } from '../../src/catalogue/index.ts';
import { evennessMap, ripple } from '../../src/light/index.ts';
import { areaLeds, layOut } from '../../src/panel/index.ts';
import type { Area, Project } from '../../src/project/index.ts';

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
  test('words round to the side that holds', () => {
    expect(adviceWords(aim, { now, leastGapMm: 21.21, widestRowsMm: 18.09, ledsPerMetre: 96 })).toBe(
      'To reach 0.90 here: air gap at least 21.3 mm, rows at most 18.0 mm apart, or 96 LEDs per m.',
    );
    expect(
      adviceWords(aim, { now, leastGapMm: 21.2, widestRowsMm: undefined, ledsPerMetre: undefined }),
    ).toBe('To reach 0.90 here: air gap at least 21.2 mm.');
  });

  test('where nothing alone helps, or rows are even already, that is said', () => {
    const none = { leastGapMm: undefined, widestRowsMm: undefined, ledsPerMetre: undefined };
    expect(adviceWords(aim, { now, ...none })).toMatch(/^No gap, row spacing or strip alone reaches 0\.90/);
    expect(adviceWords(aim, { now: { ...now, minByMean: 0.95 }, ...none })).toMatch(
      /^Endless rows like these reach 0\.95/,
    );
  });
});

describe('areas that are told of', () => {
  const project = rowsProject([{ yMm: 50 }, { yMm: 90 }, { yMm: 130 }]);
  const area = (id: string, runs: string[]): Area => ({
    id,
    members: [{ kind: 'runs', runs }],
    order: { kind: 'across' },
  });

  test('the largest first; the whole panel only where it is alone; equal ones once', () => {
    const layout = layOut(project);
    const whole = project.areas[0]!;
    const areas = [
      whole,
      area('one', ['row-0']),
      area('two', ['row-0', 'row-1']),
      area('same', ['row-1', 'row-0']),
    ];
    expect(areasToShow(layout, areas).map((shown) => shown.area.id)).toEqual(['two', 'one']);
    expect(areasToShow(layout, [whole]).map((shown) => shown.area.id)).toEqual(['whole']);
    expect(areasToShow(layOut(newProject('2031-02-03')), [whole])).toEqual([]);
  });

  test('a curve goes through the figure of the present gap, and rises from narrow gaps', () => {
    const layout = layOut(project);
    const shown = areasToShow(layout, project.areas);
    const { airGapMm } = project.panel;
    const [now] = areasOnMap(evennessMap(project, layout), layout, shown);
    expect(areasAtGap(project, layout, shown, airGapMm)[0]).toBeCloseTo(now!, 1);
    expect(areasAtGap(project, layout, shown, gapsMm[0]!)[0]!).toBeLessThan(now! - 0.2);
    expect(airGapMm).toBeGreaterThan(gapsMm[0]!);
    expect(airGapMm).toBeLessThan(gapsMm.at(-1)!);
  });
});
