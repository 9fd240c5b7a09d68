// The evenness map against the formula of one LED, written out anew; its figures against the published ripple of grids; areas and dark places by hand.
import { describe, expect, test } from 'vitest';
import {
  evennessMap,
  evennessOfArea,
  faceLight,
  figuresOf,
  lightAt,
  pixelGrid,
  worstPlaces,
} from '../../src/light/index.ts';
import { areaLeds, hullOf, layOut } from '../../src/panel/index.ts';
import type { Project, Run } from '../../src/project/index.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';

const mm = (xMm: number, yMm: number) => ({ xMm, yMm });
/** 50 LEDs a metre: 20 mm apart. */
const pitchMm = 20;
const strip: NonNullable<Project['strips']>[number] = {
  id: 'even',
  supplyVolts: 5,
  floorVolts: 4.5,
  ledsPerMetre: 1000 / pitchMm,
  boardWidthMm: 10,
  colourOrder: 'GRB',
  channelMilliamps: 12,
  quiescentMilliamps: 0.6,
  currentModel: 'sum',
  railOhmPerMetre: 0.1,
};
const rowAt = (row: number, xMm: number, yMm: number, ledCount: number): Run => ({
  id: `row-${row}`,
  firstLed: mm(xMm, yMm),
  arrowDeg: 0,
  ledCount,
  strip: 'even',
});
const panelOf = (runs: Run[], panel: Partial<Project['panel']>, more: Partial<Project> = {}): Project =>
  projectOf({
    runs,
    strips: [strip],
    panel: { widthMm: 2000, heightMm: 2000, airGapMm: pitchMm, sheet: 'opal-pmma', ...panel },
    ...more,
  });
/** Rows and columns 20 mm apart, the first LED at 20, 20. */
const gridOf = (side: number, panel: Partial<Project['panel']>): Project =>
  panelOf(
    Array.from({ length: side }, (_, row) => rowAt(row, pitchMm, pitchMm * (row + 1), side)),
    panel,
  );

/** Source: Lambertian LED over a parallel plane, E = z^2 / (pi (r^2 + z^2)^2). */
const ledsOf = (project: Project) => layOut(project).runs.flatMap(({ leds }) => leds);
const lightByFormula = (project: Project, xMm: number, yMm: number): number => {
  const z2 = project.panel.airGapMm ** 2;
  let sum = 0;
  for (const led of ledsOf(project))
    sum += z2 / (Math.PI * ((led.xMm - xMm) ** 2 + (led.yMm - yMm) ** 2 + z2) ** 2);
  return sum;
};

describe('the evenness map', () => {
  test('is the formula at random places of the opening, and the picture’s light', () => {
    const project = sample('midnight-carnival');
    const layout = layOut(project);
    const map = evennessMap(project, layout, { mmPerPx: 3.1 });
    const opening = project.panel.opening!;
    expect(map).toMatchObject({
      leftMm: opening.xMm,
      topMm: opening.yMm,
      widthPx: Math.round(opening.widthMm / 3.1),
      heightPx: Math.round(opening.heightMm / 3.1),
      mmPerPx: 3.1,
      airGapMm: project.panel.airGapMm,
    });
    const picture = faceLight(
      ledsOf(project),
      new Float32Array(ledsOf(project).length * 3).fill(1),
      { ...pixelGrid(opening, 3.1), leftMm: opening.xMm, topMm: opening.yMm },
      project.panel.airGapMm,
    );
    for (let i = 0; i < 60; i++) {
      const at = (i * 7919 * 31) % map.light.length;
      const xMm = opening.xMm + ((at % map.widthPx) + 0.5) * 3.1;
      const yMm = opening.yMm + (Math.floor(at / map.widthPx) + 0.5) * 3.1;
      expect(map.light[at]! / lightByFormula(project, xMm, yMm)).toBeCloseTo(1, 6);
      expect(map.light[at]! / picture[at * 3]!).toBeCloseTo(1, 6);
    }
  });

  test('counts runs that no chain passes, but no spare, dead or bypassed LED, and no run that was skipped', () => {
    const runs = [rowAt(0, 100, 100, 3), rowAt(1, 100, 140, 3)];
    const unchained = panelOf(runs, {}, { dataLines: [{ pin: 6, chain: [{ run: 'row-0' }] }] });
    const chained = panelOf(runs, {});
    const map = (project: Project) => evennessMap(project, layOut(project), { mmPerPx: 20 });
    expect(map(unchained).light).toEqual(map(chained).light);
    const some = panelOf(
      [{ ...rowAt(0, 100, 100, 4), spareLeds: [1], deadLeds: [0], bypassedLeds: [3] }],
      {},
    );
    const one = panelOf([rowAt(0, 140, 100, 1)], {});
    expect(map(some).light).toEqual(map(one).light);
    const skipped = panelOf(runs, {}, { asBuilt: { runs: [{ run: 'row-1', skipped: true }], swaps: [] } });
    expect(map(skipped).light).toEqual(map(panelOf([runs[0]!], {})).light);
  });

  test('without LEDs has no light and no evenness', () => {
    const project = panelOf([rowAt(0, 0, 0, 1)], { widthMm: 100, heightMm: 100 });
    const dark = { ...project, runs: [{ ...project.runs[0]!, spareLeds: [0] }] };
    const map = evennessMap(dark, layOut(dark));
    expect(map).toMatchObject({
      mean: 0,
      least: 0,
      greatest: 0,
      minByMean: 0,
      minByMax: 0,
      michelson: 0,
      cv: 0,
    });
    expect(worstPlaces(map, 3)).toEqual([]);
  });

  test('counts only what lies inside an outline', () => {
    const project = gridOf(5, { widthMm: 120, heightMm: 120 });
    const triangle = [mm(20, 20), mm(100, 20), mm(20, 100)];
    const map = evennessMap(project, layOut(project), { mmPerPx: 4, within: triangle });
    expect(map).toMatchObject({ leftMm: 20, topMm: 20, widthPx: 20, heightPx: 20 });
    let sum = 0;
    let count = 0;
    for (const [at, light] of map.light.entries()) {
      const column = at % 20;
      const row = Math.floor(at / 20);
      // The slope runs through the middles of the pixels with column + row = 19.
      if (column + row === 19) continue;
      expect(Number.isNaN(light)).toBe(column + row > 19);
    }
    for (const light of map.light)
      if (!Number.isNaN(light)) {
        sum += light;
        count++;
      }
    expect(map.mean).toBeCloseTo(sum / count, 9);
  });

  test('counts nothing where the outline lies beside the opening', () => {
    const opening = { xMm: 0, yMm: 0, widthMm: 60, heightMm: 60 };
    const project = gridOf(5, { widthMm: 120, heightMm: 120, opening });
    const beside = [mm(80, 20), mm(110, 20), mm(110, 50), mm(80, 50)];
    const { light, mean } = evennessMap(project, layOut(project), { within: beside });
    expect([...light].every(Number.isNaN)).toBe(true);
    expect(mean).toBe(0);
  });

  test('takes coarser pixels where a map of a huge panel would take long', () => {
    const runs = Array.from({ length: 20 }, (_, row) => rowAt(row, 20, 100 * row, 100));
    const project = panelOf(runs, { widthMm: 3000, heightMm: 3000, airGapMm: 60 });
    const { widthPx, heightPx, mmPerPx } = evennessMap(project, layOut(project));
    expect(widthPx * heightPx * 2000).toBeLessThan(41e6);
    expect(mmPerPx).toBeGreaterThan(20);
  });
});

/** u K1(u), u = 2 pi x gaps a pitch. Source: K1(u) is the integral of e^(-u cosh t) cosh t over t from 0 on (Abramowitz and Stegun, 9.6.24). */
function harmonic(gapsPerPitch: number): number {
  const u = 2 * Math.PI * gapsPerPitch;
  const step = 0.005;
  let sum = Math.exp(-u) / 2;
  for (let t = step; t < 6; t += step) sum += Math.exp(-u * Math.cosh(t)) * Math.cosh(t);
  return u * sum * step;
}

describe('its figures', () => {
  test('are the usual ones', () => {
    // 1, 2, 3, 6: mean 3, squares 4 + 1 + 0 + 9 = 14.
    const figures = figuresOf([1, 2, Number.NaN, 3, 6]);
    expect(figures).toMatchObject({ mean: 3, least: 1, greatest: 6, minByMean: 1 / 3, minByMax: 1 / 6 });
    expect(figures.michelson).toBeCloseTo(5 / 7, 12);
    expect(figures.cv).toBeCloseTo(Math.sqrt(14 / 4) / 3, 12);
  });

  // Source: E / mean of an endless square grid as a Fourier series with coefficients u K1(u), u = 2 pi z / pitch: min/max, min/mean, Michelson, CV
  // by z / pitch. The table's CV is
  // 2c of the first harmonic alone; the true one is the root of the squares of all.
  test.each([
    [0.5, 0.4394, 0.71, 0.3894, 0.213],
    [0.6, 0.6181, 0.8159, 0.236, 0.123],
    [0.75, 0.8115, 0.9127, 0.1041, 0.0526],
    [0.8, 0.8545, 0.9328, 0.0785, 0.0395],
    [0.9, 0.9152, 0.9607, 0.0443, 0.0222],
    [1, 0.9516, 0.9774, 0.0248, 0.0124],
    [1.25, 0.9887, 0.9946, 0.0057, 0.0029],
    [1.5, 0.9974, 0.9987, 0.0013, 0.0006],
  ])(
    'of the middle of a large grid at %d gaps a pitch are the table’s',
    (gaps, minByMax, minByMean, michelson, cv) => {
      // Two pitches in the middle, pixels centred on LEDs and on the middles between; whole periods, so that the mean is the mean.
      const side = 99;
      const middle = pitchMm * 50;
      const px = pitchMm / 20;
      const opening = {
        xMm: middle - px / 2,
        yMm: middle - px / 2,
        widthMm: 2 * pitchMm,
        heightMm: 2 * pitchMm,
      };
      // More LEDs than a document holds: an endless grid needs them.
      const project = gridOf(side, { airGapMm: gaps * pitchMm, opening });
      const map = evennessMap(project, layOut(project), { mmPerPx: px });
      expect(map.widthPx).toBe(40);
      expect(Math.abs(map.minByMax / minByMax - 1)).toBeLessThan(0.01);
      expect(Math.abs(map.minByMean / minByMean - 1)).toBeLessThan(0.01);
      expect(Math.abs(map.michelson - michelson)).toBeLessThan(0.01 * michelson + 0.00006);
      expect(Math.abs(2 * harmonic(gaps) - cv)).toBeLessThan(0.01 * cv + 0.00006);
      let squares = 0;
      for (let k = -6; k <= 6; k++)
        for (let l = -6; l <= 6; l++)
          if (k !== 0 || l !== 0) squares += harmonic(gaps * Math.hypot(k, l)) ** 2;
      expect(Math.abs(map.cv / Math.sqrt(squares) - 1)).toBeLessThan(0.01);
    },
  );

  test('of 11 x 11 LEDs at one pitch a gap fall off to 0.760 at the edge and 0.591 in the corner', () => {
    // Source: the sum over the grid, LED by LED (worked out beside the published ripple).
    const px = pitchMm / 4;
    const opening = {
      xMm: pitchMm - px / 2,
      yMm: pitchMm - px / 2,
      widthMm: 10.25 * pitchMm,
      heightMm: 10.25 * pitchMm,
    };
    const project = gridOf(11, { opening });
    const map = evennessMap(project, layOut(project), { mmPerPx: px });
    expect([map.widthPx, map.heightPx]).toEqual([41, 41]);
    const at = (column: number, row: number): number =>
      map.light[row * 41 + column]! / map.light[20 * 41 + 20]!;
    for (const [column, row] of [
      [0, 20],
      [40, 20],
      [20, 0],
      [20, 40],
    ] as const)
      expect(Math.abs(at(column, row) / 0.76 - 1)).toBeLessThan(0.01);
    for (const [column, row] of [
      [0, 0],
      [40, 40],
    ] as const)
      expect(Math.abs(at(column, row) / 0.591 - 1)).toBeLessThan(0.01);
  });
});

describe('areas', () => {
  const areas: Project['areas'] = [
    {
      id: 'block',
      members: [{ kind: 'runs', runs: ['row-0', 'row-1', 'row-2'] }],
      order: { kind: 'across' },
    },
    { id: 'lone', members: [{ kind: 'runs', runs: ['row-3'] }], order: { kind: 'across' } },
    { id: 'none', members: [{ kind: 'runs', runs: [] }], order: { kind: 'across' } },
  ];
  // A block of 3 x 8 LEDs, and far from it a lone row: the panel between them is dark on purpose.
  const project = panelOf(
    [rowAt(0, 40, 40, 8), rowAt(1, 40, 60, 8), rowAt(2, 40, 80, 8), rowAt(3, 40, 400, 8)],
    { widthMm: 220, heightMm: 440 },
    { areas },
  );
  const layout = layOut(project);
  const map = evennessMap(project, layout, { mmPerPx: 2 });
  const figures = (index: number) => evennessOfArea(map, layout, areaLeds(layout, areas[index]!));

  test('are measured inside the outline of their LEDs, where a sparse panel is even', () => {
    expect(map.minByMean).toBeLessThan(0.1);
    const inside: number[] = [];
    for (let yMm = 41; yMm < 80; yMm += 2)
      for (let xMm = 41; xMm < 180; xMm += 2) inside.push(lightByFormula(project, xMm, yMm));
    const mean = inside.reduce((sum, light) => sum + light, 0) / inside.length;
    expect(figures(0).mean / mean).toBeCloseTo(1, 6);
    expect(figures(0).minByMean).toBeCloseTo(Math.min(...inside) / mean, 6);
    expect(figures(0).minByMean).toBeGreaterThan(0.6);
  });

  test('as thin as a row are measured along it', () => {
    const along = Array.from({ length: 29 }, (_, i) => lightByFormula(project, 40 + 5 * i, 400));
    const mean = along.reduce((sum, light) => sum + light, 0) / along.length;
    expect(figures(1).minByMean).toBeCloseTo(Math.min(...along) / mean, 9);
    expect(figures(1).minByMax).toBeCloseTo(Math.min(...along) / Math.max(...along), 9);
  });

  test('without LEDs have no light', () => {
    expect(figures(2)).toMatchObject({ mean: 0, minByMean: 0 });
  });
});

describe('the darkest places', () => {
  test('are where a grid lacks LEDs, one place each, the darkest first', () => {
    // A grid of 13 x 13 without the LED at row 4, column 4, and without two neighbours at row 9, columns 8 and 9; seen well inside its edges.
    const runs = Array.from({ length: 13 }, (_, row) => rowAt(row, 20, 20 * (row + 1), 13));
    runs[3] = { ...runs[3]!, spareLeds: [3] };
    runs[8] = { ...runs[8]!, spareLeds: [7, 8] };
    const opening = { xMm: 60, yMm: 60, widthMm: 160, heightMm: 160 };
    const project = panelOf(runs, { widthMm: 280, heightMm: 280, opening });
    const map = evennessMap(project, layOut(project), { mmPerPx: 2 });
    const [first, second] = worstPlaces(map, 2);
    // Between the two that lack, at 170, 180; and at 80, 80. Half a pitch off at most, since the neighbours' pull is uneven.
    expect(Math.hypot(first!.xMm - 170, first!.yMm - 180)).toBeLessThan(10);
    expect(Math.hypot(second!.xMm - 80, second!.yMm - 80)).toBeLessThan(10);
    expect(first!.byMean).toBeLessThan(second!.byMean);
    expect(first!.byMean).toBeCloseTo(map.minByMean, 6);
    expect(first!.byMean * map.mean).toBeCloseTo(lightAtShining(project, first!.xMm, first!.yMm), 9);
  });

  test('around a single LED are the four corners, and no others on the way there', () => {
    const project = panelOf([rowAt(0, 103, 99, 1)], { widthMm: 200, heightMm: 200 });
    const places = worstPlaces(evennessMap(project, layOut(project), { mmPerPx: 2 }), 10);
    // The farthest corner first.
    expect(places.map(({ xMm, yMm }) => [xMm, yMm])).toEqual([
      [1, 199],
      [1, 1],
      [199, 199],
      [199, 1],
    ]);
  });

  test('lie at least two air gaps apart, and are no more than asked for', () => {
    const project = gridOf(20, { airGapMm: 12, widthMm: 420, heightMm: 420 });
    const map = evennessMap(project, layOut(project));
    const places = worstPlaces(map, 30);
    expect(places).toHaveLength(30);
    expect(places.map(({ byMean }) => byMean)).toEqual(
      places.map(({ byMean }) => byMean).sort((a, b) => a - b),
    );
    for (const [i, a] of places.entries())
      for (const b of places.slice(i + 1))
        expect(Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm)).toBeGreaterThanOrEqual(24);
  });
});

function lightAtShining(project: Project, xMm: number, yMm: number): number {
  const z2 = project.panel.airGapMm ** 2;
  return ledsOf(project)
    .filter(({ spare }) => !spare)
    .reduce((sum, led) => sum + z2 / (Math.PI * ((led.xMm - xMm) ** 2 + (led.yMm - yMm) ** 2 + z2) ** 2), 0);
}

describe('the light of a few LEDs', () => {
  // Source: maximally flat spacing for E = z^m / (r^2 + z^2)^((m + 2) / 2), which is this light at m = 2 (Moreno, Avendano-Alejo, Tzonchev, Appl.
  // Opt. 45, 2265, 2006): the second derivative in the middle vanishes.
  const z = 20;
  const bend = (leds: readonly { xMm: number; yMm: number }[]): number => {
    const h = 0.01 * z;
    const [left, middle, right] = [-h, 0, h].map((xMm) => lightAt(leds, mm(xMm, 0), z));
    return ((left! + right! - 2 * middle!) / (h * h) / middle!) * z * z;
  };
  const two = (d: number) => [mm(-d / 2, 0), mm(d / 2, 0)];
  const four = (d: number) => [
    ...two(d).map((p) => mm(p.xMm, -d / 2)),
    ...two(d).map((p) => mm(p.xMm, d / 2)),
  ];
  const ring = (radius: number) =>
    Array.from({ length: 6 }, (_, i) =>
      mm(radius * Math.cos((i * Math.PI) / 3), radius * Math.sin((i * Math.PI) / 3)),
    );

  test.each([
    ['two', two, 0.8944],
    ['four in a square', four, 1],
    ['six in a ring, by its radius,', ring, Math.SQRT1_2],
  ] as const)('%s is flattest at the published spacing, dips beyond and peaks before', (_, leds, spacing) => {
    expect(Math.abs(bend(leds(spacing * z)))).toBeLessThan(0.002);
    expect(bend(leds(spacing * z * 1.01))).toBeGreaterThan(0.01);
    expect(bend(leds(spacing * z * 0.99))).toBeLessThan(-0.01);
  });

  test('one LED in a cell as wide as the gap: the corner has 4/9 of the middle', () => {
    // r^2 is z^2 / 2 there, so (1 / 1.5)^2.
    expect(lightAt([mm(0, 0)], mm(z / 2, z / 2), z) / lightAt([mm(0, 0)], mm(0, 0), z)).toBeCloseTo(
      4 / 9,
      12,
    );
  });

  test('two LEDs 20 mm apart and away: 0.003200 half way, 0.003125 under one of them', () => {
    // Source: the same formula for an intensity of 1, which is a flux of pi.
    expect(Math.PI * lightAt(two(20), mm(0, 0), 20)).toBeCloseTo(0.0032, 9);
    expect(Math.PI * lightAt(two(20), mm(10, 0), 20)).toBeCloseTo(0.003125, 9);
  });
});

test('the hull of points is the outline round them', () => {
  const inner = [mm(5, 5), mm(3, 7), mm(5, 0)];
  const corners = [mm(0, 0), mm(10, 0), mm(10, 10), mm(0, 10)];
  expect(new Set(hullOf([...inner, ...corners]).map(({ xMm, yMm }) => `${xMm} ${yMm}`))).toEqual(
    new Set(corners.map(({ xMm, yMm }) => `${xMm} ${yMm}`)),
  );
  expect(hullOf([mm(0, 0), mm(1, 1), mm(2, 2)]).length).toBeLessThan(3);
  expect(hullOf([])).toEqual([]);
});
