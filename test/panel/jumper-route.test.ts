// Ways of jumpers round keep-outs. Expected lengths are worked out by hand: Pythagoras round the corners of rectangles, two tangents and the arc
// between them round a circle; and rules that any way keeps to.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  distanceMm,
  jumperLengthMm,
  jumperRoute,
  type PointMm,
  rectangleOutline,
  routeLengthMm,
} from '../../src/panel/index.ts';
import type { KeepOut, Panel } from '../../src/project/index.ts';
import { seedOf } from '../support/seed.ts';

const at = (xMm: number, yMm: number): PointMm => ({ xMm, yMm });
const box = (xMm: number, yMm: number, widthMm: number, heightMm: number): KeepOut => ({
  id: `box-${xMm}-${yMm}`,
  purpose: 'other',
  shape: { kind: 'rectangle', xMm, yMm, widthMm, heightMm },
});
const disc = (xMm: number, yMm: number, diameterMm: number): KeepOut => ({
  id: `disc-${xMm}-${yMm}`,
  purpose: 'speaker',
  shape: { kind: 'circle', centre: at(xMm, yMm), diameterMm },
});

describe('[ROUTE1] ways worked out by hand', () => {
  const display = box(100, 100, 80, 40);
  test.each([
    ['nothing in the way', at(0, 0), at(30, 40), [display], 0, [at(0, 0), at(30, 40)]],
    ['along an edge', at(50, 100), at(250, 100), [display], 0, [at(50, 100), at(250, 100)]],
    [
      'round one corner',
      at(70, 130),
      at(140, 60),
      [box(100, 90, 80, 60)],
      0,
      [at(70, 130), at(100, 90), at(140, 60)],
    ],
    // Above: 2 x sqrt(50^2 + 10^2) + 80; below: 2 x sqrt(50^2 + 30^2) + 80.
    [
      'over the nearer side',
      at(50, 110),
      at(230, 110),
      [display],
      0,
      [at(50, 110), at(100, 100), at(180, 100), at(230, 110)],
    ],
    // The same corners pushed out by 5 mm each way.
    [
      'with clearance',
      at(50, 110),
      at(230, 110),
      [display],
      5,
      [at(50, 110), at(95, 95), at(185, 95), at(230, 110)],
    ],
    // Between the two there are 4 mm: too narrow for 5 mm on each side, so it goes round both.
    [
      'not through a gap too narrow',
      at(50, 122),
      at(230, 122),
      [box(100, 100, 80, 20), box(100, 124, 80, 60)],
      5,
      [at(50, 122), at(95, 95), at(185, 95), at(230, 122)],
    ],
    [
      'through a gap wide enough',
      at(50, 126),
      at(230, 126),
      [box(100, 100, 80, 20), box(100, 132, 80, 60)],
      5,
      [at(50, 126), at(230, 126)],
    ],
    ['straight out of a keep-out', at(140, 120), at(140, 50), [display], 5, [at(140, 120), at(140, 50)]],
    // Both ends lie on the edge of the keep-out, nearer than the clearance: out to a corner pushed out, and on.
    [
      'from an end on the edge itself',
      at(100, 120),
      at(180, 120),
      [display],
      5,
      [at(100, 120), at(95, 95), at(185, 95), at(180, 120)],
    ],
  ] as const)('%s', (_name, from, to, keepOuts, clearanceMm, expected) => {
    const route = jumperRoute(from, to, keepOuts, clearanceMm);
    // From an end in the middle of an edge two ways are equally long, so the length decides.
    expect(routeLengthMm(route)).toBeCloseTo(routeLengthMm(expected), 9);
    expect(route).toHaveLength(expected.length);
  });

  test('the way back is the same', () => {
    const route = jumperRoute(at(50, 110), at(230, 110), [display], 5);
    expect(jumperRoute(at(230, 110), at(50, 110), [display], 5)).toEqual(route.toReversed());
  });

  test('an end that keep-outs shut in is joined by the straight line', () => {
    const cell = [box(-50, -50, 100, 20), box(-50, 30, 100, 20), box(-50, -40, 20, 80), box(30, -40, 20, 80)];
    expect(jumperRoute(at(0, 0), at(200, 0), cell, 3)).toEqual([at(0, 0), at(200, 0)]);
  });

  test.each([
    [60, 100, 0],
    [100, 100, 0],
    [40, 90, 5],
    [6, 20, 2],
  ])(
    'round a circle of %d mm from %d mm away, clearance %d: two tangents and the arc',
    (diameterMm, awayMm, clearanceMm) => {
      const radiusMm = diameterMm / 2 + clearanceMm;
      const tangentMm = Math.sqrt(awayMm ** 2 - radiusMm ** 2);
      const arcMm = radiusMm * (Math.PI - 2 * Math.acos(radiusMm / awayMm));
      const lengthMm = routeLengthMm(
        jumperRoute(at(200 - awayMm, 150), at(200 + awayMm, 150), [disc(200, 150, diameterMm)], clearanceMm),
      );
      expect(lengthMm).toBeGreaterThanOrEqual(2 * tangentMm + arcMm - 1e-9);
      expect(lengthMm).toBeLessThan(1.01 * (2 * tangentMm + arcMm));
    },
  );
});

describe('[ROUTE2] any way', () => {
  const whole = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });
  const anyKeepOut = fc.oneof(
    fc
      .tuple(whole(0, 500), whole(0, 300), whole(4, 120), whole(4, 120))
      .map(([x, y, w, h]) => box(x, y, w, h)),
    fc.tuple(whole(0, 500), whole(0, 300), whole(4, 120)).map(([x, y, d]) => disc(x, y, d)),
  );
  const anyPoint = fc.tuple(whole(-20, 620), whole(-20, 420)).map(([x, y]) => at(x, y));

  /** How near a line's inner places come to the inside of a keep-out, by steps of a quarter millimetre: negative inside. */
  const depthMm = ({ shape }: KeepOut, p: PointMm): number =>
    shape.kind === 'circle'
      ? distanceMm(shape.centre, p) - shape.diameterMm / 2
      : Math.max(
          shape.xMm - p.xMm,
          shape.yMm - p.yMm,
          p.xMm - shape.xMm - shape.widthMm,
          p.yMm - shape.yMm - shape.heightMm,
        );
  const leastDepthMm = (keepOut: KeepOut, route: readonly PointMm[]): number => {
    let least = Number.POSITIVE_INFINITY;
    for (const [i, a] of route.slice(0, -1).entries()) {
      const b = route[i + 1]!;
      const steps = Math.ceil(distanceMm(a, b) * 4) + 1;
      for (let s = 0; s <= steps; s++)
        least = Math.min(
          least,
          depthMm(keepOut, at(a.xMm + ((b.xMm - a.xMm) * s) / steps, a.yMm + ((b.yMm - a.yMm) * s) / steps)),
        );
    }
    return least;
  };

  test('crosses no keep-out that neither end lies in, keeps its clearance from all far from its ends, and is no shorter than the straight line', () => {
    let bent = 0;
    fc.assert(
      fc.property(
        fc.array(anyKeepOut, { maxLength: 7 }),
        anyPoint,
        anyPoint,
        whole(0, 6),
        (keepOuts, from, to, clearanceMm) => {
          const route = jumperRoute(from, to, keepOuts, clearanceMm);
          expect(route[0]).toEqual(from);
          expect(route.at(-1)).toEqual(to);
          expect(routeLengthMm(route)).toBeGreaterThanOrEqual(distanceMm(from, to) - 1e-9);
          // The straight line, where it is no free way, is the answer for an end that is shut in.
          if (route.length === 2) return;
          bent++;
          for (const keepOut of keepOuts) {
            const nearest = Math.min(depthMm(keepOut, from), depthMm(keepOut, to));
            // A polygon round a circle lies up to 1 % outside it, a rectangle's clearance is measured straight across.
            if (nearest >= clearanceMm * Math.SQRT2 + 1)
              expect(leastDepthMm(keepOut, route)).toBeGreaterThan(clearanceMm - 1e-3);
            else if (nearest >= 0) expect(leastDepthMm(keepOut, route)).toBeGreaterThan(-1e-3);
          }
        },
      ),
      { seed: seedOf(71), numRuns: 600 },
    );
    expect(bent).toBeGreaterThan(100);
  });

  /** The shortest way round rectangles, plainly: every corner with every other, and all ways between them (Floyd and Warshall). */
  function shortestMm(from: PointMm, to: PointMm, boxes: readonly KeepOut[]): number {
    const places = [
      from,
      to,
      ...boxes.flatMap(({ shape }) =>
        shape.kind === 'circle' ? [] : rectangleOutline(shape.xMm, shape.yMm, shape.widthMm, shape.heightMm),
      ),
    ];
    const mm = places.map((a) =>
      places.map((b) =>
        boxes.every((box) => leastDepthMm(box, [a, b]) > -1e-9) ? distanceMm(a, b) : Number.POSITIVE_INFINITY,
      ),
    );
    for (const by of places.keys())
      for (const row of mm)
        for (const [b, now] of row.entries()) row[b] = Math.min(now, row[by]! + mm[by]![b]!);
    return mm[0]![1]!;
  }

  test('round rectangles is as short as the shortest of all ways by their corners', () => {
    let bent = 0;
    const anyBox = fc
      .tuple(whole(0, 40), whole(0, 24), whole(2, 14), whole(2, 14))
      .map(([x, y, w, h]) => box(10 * x, 10 * y, 10 * w, 10 * h));
    const anyPlace = fc.tuple(whole(0, 48), whole(0, 32)).map(([x, y]) => at(10 * x + 5, 10 * y + 5));
    fc.assert(
      fc.property(fc.array(anyBox, { minLength: 2, maxLength: 6 }), anyPlace, anyPlace, (boxes, from, to) => {
        fc.pre(boxes.every((one) => depthMm(one, from) > 0 && depthMm(one, to) > 0));
        const leastMm = shortestMm(from, to, boxes);
        const route = jumperRoute(from, to, boxes, 0);
        if (leastMm === Number.POSITIVE_INFINITY) expect(route).toEqual([from, to]);
        else expect(routeLengthMm(route)).toBeCloseTo(leastMm, 6);
        if (route.length > 3) bent++;
      }),
      { seed: seedOf(73), numRuns: 150 },
    );
    expect(bent).toBeGreaterThan(10);
  });

  test('a way found to one place is no longer than a way by any other place that is reached freely', () => {
    fc.assert(
      fc.property(
        fc.array(anyKeepOut, { maxLength: 5 }),
        anyPoint,
        anyPoint,
        anyPoint,
        (keepOuts, from, to, by) => {
          const outside = (p: PointMm): boolean => keepOuts.every((keepOut) => depthMm(keepOut, p) >= 2);
          fc.pre([from, to, by].every(outside));
          const length = (a: PointMm, b: PointMm): number => routeLengthMm(jumperRoute(a, b, keepOuts, 1));
          const isReached = (a: PointMm, b: PointMm): boolean => {
            const route = jumperRoute(a, b, keepOuts, 1);
            return route.length > 2 || keepOuts.every((keepOut) => leastDepthMm(keepOut, route) > 0.999);
          };
          fc.pre(isReached(from, by) && isReached(by, to));
          expect(length(from, to)).toBeLessThanOrEqual(length(from, by) + length(by, to) + 1e-6);
        },
      ),
      { seed: seedOf(72), numRuns: 200 },
    );
  });
});

describe('[ROUTE3] the wire a jumper takes', () => {
  const panel = (parts: Pick<Panel, 'backing' | 'keepOuts'>): Panel => ({
    widthMm: 600,
    heightMm: 400,
    airGapMm: 30,
    sheet: 'opal-pmma',
    ...parts,
  });

  test('without a backing it is the straight distance, whatever is in the way', () => {
    const keepOuts = [box(100, 100, 80, 40)];
    expect(jumperLengthMm(panel({ keepOuts }), at(50, 120), at(230, 120))).toBe(180);
  });

  test('with a backing it goes through it twice, with 20 mm of slack', () => {
    // 3-4-5: 30 across and 40 down are 50; the sheet twice is 24.
    expect(jumperLengthMm(panel({ backing: { thicknessMm: 12 } }), at(0, 0), at(30, 40))).toBeCloseTo(94, 9);
  });

  test('with a backing it goes round keep-outs, 2 mm away', () => {
    const keepOuts = [box(100, 100, 80, 40)];
    // Corners at (98, 98) and (182, 98): 2 x sqrt(48^2 + 14^2) = 2 x 50, 84 between, 2 x 9 through the board, 20 of slack.
    const lengthMm = jumperLengthMm(
      panel({ keepOuts, backing: { thicknessMm: 9 } }),
      at(50, 112),
      at(230, 112),
    );
    expect(lengthMm).toBeCloseTo(100 + 84 + 18 + 20, 9);
  });

  test('never less than 10 mm', () => {
    expect(jumperLengthMm(panel({}), at(0, 0), at(1, 0))).toBe(10);
  });
});
