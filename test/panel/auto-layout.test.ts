// Automatic layout. Plain rectangles have counts in closed form: rows = floor((height - 2 margins - board) / spacing) + 1, each of floor((width - 2 margins) / pitch)
// LEDs. Of any outline it must hold that every board lies inside, clear of keep-outs and of each other, and that the budget is kept.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { areaLeds } from '../../src/panel/areas.ts';
import {
  type AutoLayoutTask,
  autoLayout,
  autoLayoutEdit,
  distanceToLineMm,
  edgesOf,
  evenSpacingMm,
  isInside,
  layOut,
  linesCross,
  nearPairs,
  type PointMm,
  rectangleOutline,
} from '../../src/panel/index.ts';
import { edited, type KeepOut, limits, type Project, startHistory } from '../../src/project/index.ts';
import { overlappingPairs, shrunkBoard } from '../support/boards.ts';
import { holdsLaws } from '../support/edit-laws.ts';
import { projectOf } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';

const at = (xMm: number, yMm: number): PointMm => ({ xMm, yMm });
const strip = 'ws2812b-60';
const pitch = 1000 / 60;

/** An empty panel of 600 x 400 mm with an air gap of 30 mm. */
const empty = (panel: Partial<Project['panel']> = {}, more: Partial<Project> = {}): Project => ({
  ...projectOf({ runs: [] }),
  dataLines: [],
  panel: { widthMm: 600, heightMm: 400, airGapMm: 30, sheet: 'opal-pmma', ...panel },
  ...more,
});
const laid = (project: Project, task: AutoLayoutTask): Project =>
  holdsLaws(project, 'automatic layout', autoLayoutEdit(project, task).edit);

describe('[AUTO1] a plain rectangle', () => {
  test.each([
    // 600 / 16.667 = 36 LEDs; (400 - 10) / 30 = 13 spaces, 14 rows.
    ['the whole panel', empty(), {}, 14, 36],
    // Opening 500 x 300: 30 LEDs; (300 - 10) / 30 = 9.67, 10 rows.
    [
      'the visible opening',
      empty({ opening: { xMm: 50, yMm: 50, widthMm: 500, heightMm: 300 } }),
      {},
      10,
      30,
    ],
    // 560 / 16.667 = 33.6; (400 - 40 - 10) / 30 = 11.67.
    ['with a margin', empty(), { marginMm: 20 }, 12, 33],
    // (400 - 10) / 50 = 7.8.
    ['with a spacing', empty(), { spacingMm: 50 }, 8, 36],
    // 12 V, cut every 3: 600 / 16.667 = 36, a multiple of 3; with a margin of 5 mm 35.4, so 33.
    ['by cut marks', empty({}, { strips: [cutByThree()] }), { strip: 'by-three', marginMm: 5 }, 13, 33],
    ['an outline', empty(), { outline: rectangleOutline(100, 100, 200, 100) }, 4, 12],
  ] as const)('rows: %s', (_name, project, task, rows, ledsPerRow) => {
    const layout = autoLayout(project, { pattern: 'rows', strip, ...task });
    expect(layout.runs).toHaveLength(rows);
    expect(layout.runs.map((run) => run.ledCount)).toEqual(layout.runs.map(() => ledsPerRow));
    expect(layout.ledCount).toBe(rows * ledsPerRow);
    expect(layout.leftOut).toEqual({ shortPieces: 0, ledsOverBudget: 0 });
    expect(layout.isSpacingGrown).toBe(false);
  });

  test('columns: the same, turned', () => {
    const layout = autoLayout(empty(), { pattern: 'columns', strip });
    // (600 - 10) / 30 = 19.67, 20 columns; 400 / 16.667 = 24.
    expect(layout.runs.map((run) => run.ledCount)).toEqual(Array.from({ length: 20 }, () => 24));
    expect(new Set(layout.runs.map((run) => run.arrowDeg))).toEqual(new Set([90, 270]));
  });

  test('rows stand evenly between equal margins, every second one turned, the chain straight down', () => {
    const project = laid(empty(), { pattern: 'rows', strip, marginMm: 7 });
    const runs = project.runs;
    const gaps = runs.slice(1).map((run, i) => run.firstLed.yMm - runs[i]!.firstLed.yMm);
    for (const gap of gaps) expect(gap).toBeCloseTo(30, 5);
    expect(runs[0]!.firstLed.yMm).toBeCloseTo(400 - runs.at(-1)!.firstLed.yMm, 5);
    expect(runs.map((run) => run.arrowDeg)).toEqual(runs.map((_, i) => (i % 2 === 0 ? 0 : 180)));
    // 586 mm hold 35 LEDs, 583.333 mm: the cut ends lie 8.333 mm from either side.
    for (const { dinEnd, doutEnd } of layOut(project).runs) {
      expect(Math.min(dinEnd.xMm, doutEnd.xMm)).toBeCloseTo((600 - 35 * pitch) / 2, 5);
      expect(dinEnd.xMm + doutEnd.xMm).toBeCloseTo(600, 5);
    }
    for (const jumper of layOut(project).lines[0]!.jumpers) expect(jumper.lengthMm).toBeCloseTo(30, 5);
  });

  test('along the edge: four runs, none over another at the corners', () => {
    const layout = autoLayout(empty(), { pattern: 'edge', strip, marginMm: 5 });
    // Top: 590 / 16.667 = 35.4. Right: 400 - 5 - 15 = 380 are 22.8. Bottom: 590 - 10 = 580 are 34.8. Left: 400 - 15 - 15 = 370 are 22.2.
    // The chain goes round clockwise, from wherever it is shortest.
    const first = layout.runs.findIndex((run) => run.arrowDeg === 0);
    const fromTop = [...layout.runs.slice(first), ...layout.runs.slice(0, first)];
    expect(fromTop.map((run) => [run.arrowDeg, run.ledCount])).toEqual([
      [0, 35],
      [270, 22],
      [180, 34],
      [90, 22],
    ]);
    expect(fromTop[0]!.firstLed.yMm).toBeCloseTo(10, 6);
    expect(layout.spacingMm).toBeUndefined();
  });
});

function cutByThree(): NonNullable<Project['strips']>[number] {
  return {
    id: 'by-three',
    supplyVolts: 12,
    floorVolts: 10,
    ledsPerMetre: 60,
    boardWidthMm: 10,
    colourOrder: 'GRB',
    channelMilliamps: 15,
    quiescentMilliamps: 1,
    currentModel: 'largest',
    railOhmPerMetre: 0.1,
    cutEveryLeds: 3,
  };
}

describe('[AUTO2] what rows go round', () => {
  const speaker: KeepOut = {
    id: 'speaker',
    purpose: 'speaker',
    shape: { kind: 'rectangle', xMm: 250, yMm: 180, widthMm: 100, heightMm: 40 },
  };

  test('a keep-out in the middle splits the rows that meet it, and the chain passes all pieces', () => {
    const layout = autoLayout(empty({ keepOuts: [speaker] }), { pattern: 'rows', strip, clearanceMm: 2 });
    // Rows at 5, 35, ..., 395. Boards from 178 to 222 meet it: those at 185 and 215 alone (155 + 5 and 245 - 5 are clear). 248 mm hold 14 LEDs.
    expect(layout.runs).toHaveLength(16);
    expect(layout.runs.filter((run) => run.ledCount === 14)).toHaveLength(4);
    expect(layout.ledCount).toBe(12 * 36 + 4 * 14);
  });

  test('pieces that are too short are left out and counted', () => {
    const narrow = empty({
      keepOuts: [{ ...speaker, shape: { kind: 'rectangle', xMm: 30, yMm: 0, widthMm: 500, heightMm: 400 } }],
    });
    // 28 mm on the left hold 1 LED, 68 mm on the right 4; 14 rows.
    const layout = autoLayout(narrow, { pattern: 'rows', strip });
    expect(layout.leftOut.shortPieces).toBe(14);
    expect(layout.runs.map((run) => run.ledCount)).toEqual(Array.from({ length: 14 }, () => 4));
    expect(autoLayout(narrow, { pattern: 'rows', strip, leastLeds: 1 }).runs).toHaveLength(28);
  });

  test('an outline like a U has two pieces a row, and one below', () => {
    const u = [
      at(0, 0),
      at(200, 0),
      at(200, 200),
      at(400, 200),
      at(400, 0),
      at(600, 0),
      at(600, 400),
      at(0, 400),
    ];
    const layout = autoLayout(empty(), { pattern: 'rows', strip, outline: u });
    // Rows at 5, 35, ..., 395: those whose boards end above 200 (5 to 185, seven) have two pieces of 12 LEDs, the seven others 36.
    expect(layout.runs.filter((run) => run.ledCount === 12)).toHaveLength(14);
    expect(layout.runs.filter((run) => run.ledCount === 36)).toHaveLength(7);
  });

  test('runs that lie there already are gone round, with the wall that the backing wants', () => {
    const project = empty(
      { backing: { thicknessMm: 9, bitMm: 3 } },
      {
        runs: [{ id: 'old', firstLed: at(100, 200), arrowDeg: 0, ledCount: 10, strip }],
        dataLines: [{ pin: 6, chain: [{ run: 'old' }] }],
      },
    );
    const after = laid(project, { pattern: 'rows', strip });
    expect(nearPairs(layOut(after).runs, 6)).toEqual([]);
    expect(after.dataLines[0]!.chain[0]).toEqual({ run: 'old' });
    expect(after.dataLines[0]!.pin).toBe(6);
  });
});

describe('[AUTO3] spacing and budget', () => {
  test('rows are as far apart as the air gap, but two channels have room', () => {
    expect(evenSpacingMm(empty({ airGapMm: 40 }).panel, 10)).toBe(40);
    expect(evenSpacingMm(empty({ airGapMm: 5 }).panel, 10)).toBe(10);
    // A laser wants a wall as thick as the sheet, 9 mm, and channels are 0.6 mm wider than the board.
    expect(evenSpacingMm(empty({ airGapMm: 5, backing: { thicknessMm: 9 } }).panel, 10)).toBeCloseTo(19.6, 9);
  });

  test('fewer LEDs: rows stand farther apart, in the middle of equal bands', () => {
    const layout = autoLayout(empty(), { pattern: 'rows', strip, mostLeds: 200 });
    // 36 a row: five rows are 180. 400 / 5 = 80.
    expect(layout.runs.map((run) => run.firstLed.yMm)).toEqual([40, 120, 200, 280, 360]);
    expect(layout.ledCount).toBe(180);
    expect(layout.spacingMm).toBeCloseTo(80, 9);
    expect(layout.isSpacingGrown).toBe(true);
  });

  test('fewer than one row: the row gets shorter, in the middle', () => {
    const layout = autoLayout(empty(), { pattern: 'rows', strip, mostLeds: 20 });
    expect(layout.runs.map((run) => [run.ledCount, run.firstLed.yMm])).toEqual([[20, 200]]);
    expect(layout.runs[0]!.firstLed.xMm).toBeCloseTo(300 - 9.5 * pitch, 5);
    expect(layout.leftOut.ledsOverBudget).toBe(16);
    expect(autoLayout(empty(), { pattern: 'rows', strip, mostLeds: 2 }).runs).toEqual([]);
  });

  test('the document holds what is proposed, however large the panel', () => {
    const large = empty({ widthMm: 3000, heightMm: 3000, airGapMm: 10 });
    for (const pattern of ['rows', 'columns', 'edge'] as const) {
      const after = laid(large, { pattern, strip: 'ws2812b-144', spacingMm: 12 });
      expect(layOut(after).plannedLeds.length).toBeLessThanOrEqual(limits.leds);
      expect(after.runs.length).toBeGreaterThan(0);
    }
  });
});

describe('[AUTO4] any outline', () => {
  const whole = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });
  /** A star-shaped outline, mostly concave. */
  const anyOutline = fc
    .array(whole(60, 190), { minLength: 3, maxLength: 12 })
    .map((radii) =>
      radii.map((radius, i) =>
        at(
          300 + 1.4 * radius * Math.cos((2 * Math.PI * i) / radii.length),
          200 + radius * Math.sin((2 * Math.PI * i) / radii.length),
        ),
      ),
    );
  const anyKeepOut: fc.Arbitrary<KeepOut['shape']> = fc.oneof(
    fc.record({
      kind: fc.constant('rectangle' as const),
      xMm: whole(100, 450),
      yMm: whole(50, 300),
      widthMm: whole(3, 90),
      heightMm: whole(3, 90),
    }),
    fc.record({
      kind: fc.constant('circle' as const),
      centre: fc.tuple(whole(100, 500), whole(50, 350)).map(([x, y]) => at(x, y)),
      diameterMm: whole(3, 90),
    }),
  );
  const anyTask = fc.record({
    pattern: fc.constantFrom('rows', 'columns', 'edge'),
    outline: anyOutline,
    strip: fc.constantFrom('ws2812b-30', strip, 'ws2812b-144', 'by-three'),
    marginMm: whole(0, 15),
    clearanceMm: whole(0, 6),
    spacingMm: fc.option(whole(12, 80), { nil: undefined }),
    mostLeds: fc.option(whole(1, 300), { nil: undefined }),
    leastLeds: whole(1, 6),
  });

  /** Least distance of a board to a line of the outline, or below 0 where the line runs through it. */
  const gapMm = (board: readonly PointMm[], a: PointMm, b: PointMm): number => {
    const crosses = edgesOf(board).some(([c, d]) => linesCross(a, b, c, d)) || isInside(board, a);
    const gaps = edgesOf(board).flatMap(([c, d]) => [
      distanceToLineMm(c, d, a),
      distanceToLineMm(c, d, b),
      distanceToLineMm(a, b, c),
    ]);
    return crosses ? -1 : Math.min(...gaps);
  };
  const near = 2e-4;

  test('boards lie inside by the margin, clear of keep-outs and of each other, within the budget, cut at marks', () => {
    let boards = 0;
    fc.assert(
      fc.property(
        anyTask,
        fc.array(anyKeepOut, { maxLength: 4 }),
        fc.boolean(),
        (task, shapes, isOnePiece) => {
          const keepOuts = shapes.map((shape, i): KeepOut => ({ id: `k-${i}`, purpose: 'other', shape }));
          const backing = isOnePiece ? {} : { backing: { thicknessMm: 4, bitMm: 3 } };
          const project = empty({ keepOuts, ...backing }, { strips: [cutByThree()] });
          const { layout } = autoLayoutEdit(project, task);
          const after = laid(project, task);
          expect(after.runs).toEqual(layout.runs);
          expect(layout.ledCount).toBe(layout.runs.reduce((sum, run) => sum + run.ledCount, 0));
          expect(layout.ledCount).toBeLessThanOrEqual(task.mostLeds ?? limits.leds);
          expect(layout.runs.every((run) => run.ledCount >= task.leastLeds)).toBe(true);
          if (task.strip === 'by-three')
            expect(layout.runs.filter((run) => run.ledCount % 3 !== 0)).toEqual([]);
          const placed = layOut(after).runs;
          boards += placed.length;
          for (const one of placed) {
            const board = shrunkBoard(one);
            expect(isInside(task.outline, one.leds[0]!)).toBe(true);
            for (const [a, b] of edgesOf(task.outline))
              expect(gapMm(board, a, b)).toBeGreaterThan(task.marginMm - near);
            for (const { shape } of keepOuts) {
              if (shape.kind === 'circle') {
                expect(isInside(board, shape.centre)).toBe(false);
                const away = Math.min(
                  ...edgesOf(board).map(([a, b]) => distanceToLineMm(a, b, shape.centre)),
                );
                expect(away).toBeGreaterThan(shape.diameterMm / 2 + task.clearanceMm - near);
              } else {
                const box = rectangleOutline(shape.xMm, shape.yMm, shape.widthMm, shape.heightMm);
                expect(isInside(box, one.leds[0]!)).toBe(false);
                for (const [a, b] of edgesOf(box))
                  expect(gapMm(board, a, b)).toBeGreaterThan(task.clearanceMm - near);
              }
            }
          }
          // A wall of 6 mm for a small bit, and 0.6 mm that channels are wider than boards.
          const close = isOnePiece ? overlappingPairs(placed) : nearPairs(placed, 6.6 - near);
          // Rows that were asked to be nearer than two channels can be are laid as asked.
          if (
            task.pattern === 'edge' ||
            (task.spacingMm ?? 99) >= 6.6 + Math.max(...placed.map((one) => one.strip.boardWidthMm))
          )
            expect(close).toEqual([]);
        },
      ),
      { seed: seedOf(61), numRuns: 250 },
    );
    expect(boards).toBeGreaterThan(500);
  });
});

describe('[AUTO5] the edit', () => {
  const task: AutoLayoutTask = { pattern: 'rows', strip, spacingMm: 100 };
  const before: Project = {
    ...projectOf({
      runs: [
        { id: 'row-1', firstLed: at(50, 300), arrowDeg: 0, ledCount: 5, strip },
        { id: 'other', firstLed: at(300, 300), arrowDeg: 0, ledCount: 5, strip },
      ],
      dataLines: [{ pin: 6, chain: [{ run: 'row-1' }, { run: 'other', jumper: { power: 'cut' } }] }],
    }),
    areas: [
      { id: 'everything', members: [{ kind: 'all' }], order: { kind: 'across' } },
      { id: 'named', members: [{ kind: 'runs', runs: ['row-1'] }], order: { kind: 'across' } },
    ],
  };
  const project: Project = { ...before, panel: { ...before.panel, widthMm: 600, heightMm: 400 } };

  test('adds runs at the end of the chain, with ids of their own and plain jumpers', () => {
    const after = laid(project, task);
    expect(after.runs.slice(0, 2)).toEqual(project.runs);
    const ids = after.runs.map((run) => run.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(after.dataLines[0]!.chain).toEqual([
      ...project.dataLines[0]!.chain,
      ...ids.slice(2).map((run) => ({ run })),
    ]);
    expect(after.areas).toEqual(project.areas);
  });

  test('replaces what lies there: the line keeps its pin, areas by name are empty, everything is everything', () => {
    const after = laid(project, { ...task, replace: true });
    expect(after.runs.map((run) => run.id)).toEqual(['row-1', 'row-2', 'row-3', 'row-4']);
    expect(after.dataLines).toEqual([{ pin: 6, chain: after.runs.map(({ id }) => ({ run: id })) }]);
    const layout = layOut(after);
    expect(areaLeds(layout, after.areas[0]!)).toHaveLength(4 * 36);
    expect(areaLeds(layout, after.areas[1]!)).toHaveLength(0);
  });

  test('a project without a data line gets one, without a pin', () => {
    const after = laid(empty(), task);
    expect(after.dataLines).toEqual([{ chain: after.runs.map(({ id }) => ({ run: id })) }]);
  });

  test('nothing to lay leaves the project as it is', () => {
    const none = autoLayoutEdit(project, { ...task, outline: rectangleOutline(0, 0, 20, 20), replace: true });
    expect(none.layout.runs).toEqual([]);
    expect(edited(startHistory(project), 'layout', none.edit).project).toBe(project);
  });
});
