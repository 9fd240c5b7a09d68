// Straightening a photo, against a drawing of known size seen by a pinhole camera of known place; and the pixels that a panel needs.
// The camera is written out here: a point X on the sheet falls on the image at focal length x (R (X - C)) / depth (the pinhole model).
import { describe, expect, test } from 'vitest';
import {
  type Corners,
  homography,
  type Image,
  mappedPoint,
  type PointPx,
  resampled,
  straighten,
  straightenedSize,
} from '../../src/panel/index.ts';

type Vector = readonly [number, number, number];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: Vector): Vector => {
  const length = Math.sqrt(dot(a, a));
  return [a[0] / length, a[1] / length, a[2] / length];
};

const sheet = { widthMm: 600, heightMm: 400 };

/** A camera in front of the sheet (z goes into it, so its own is negative), looking at a place on it, turned about its own axis. */
function camera(from: Vector, at: readonly [number, number], rollDeg: number, focalPx: number) {
  const ahead = unit([at[0] - from[0], at[1] - from[1], -from[2]]);
  const flatRight = unit(cross([0, 1, 0], ahead));
  const flatDown = cross(ahead, flatRight);
  const c = Math.cos((rollDeg * Math.PI) / 180);
  const s = Math.sin((rollDeg * Math.PI) / 180);
  const mix = (a: Vector, b: Vector, p: number, q: number): Vector => [
    p * a[0] + q * b[0],
    p * a[1] + q * b[1],
    p * a[2] + q * b[2],
  ];
  const right = mix(flatRight, flatDown, c, s);
  const down = mix(flatRight, flatDown, -s, c);
  const widthPx = 1600;
  const heightPx = 1200;
  return {
    widthPx,
    heightPx,
    seen: (xMm: number, yMm: number): PointPx => {
      const ray: Vector = [xMm - from[0], yMm - from[1], -from[2]];
      const depth = dot(ray, ahead);
      return {
        x: widthPx / 2 + (focalPx * dot(ray, right)) / depth,
        y: heightPx / 2 + (focalPx * dot(ray, down)) / depth,
      };
    },
    /** The place on the sheet's plane behind a place on the image. */
    behind: (x: number, y: number): readonly [number, number] => {
      const u = (x - widthPx / 2) / focalPx;
      const v = (y - heightPx / 2) / focalPx;
      const ray = mix(mix(ahead, right, 1, u), down, 1, v);
      const far = -from[2] / ray[2];
      return [from[0] + far * ray[0], from[1] + far * ray[1]];
    },
  };
}
type Camera = ReturnType<typeof camera>;

const cornersSeen = ({ seen }: Camera): Corners => [
  seen(0, 0),
  seen(sheet.widthMm, 0),
  seen(sheet.widthMm, sheet.heightMm),
  seen(0, sheet.heightMm),
];

/** Code of a share of white light, as IEC 61966-2-1 encodes it. */
const codeOf = (light: number): number =>
  Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));

/** The photo: `lightAt` on the sheet, grey around it; each pixel is the average of 5 x 5 rays. */
function photoOf(one: Camera, lightAt: (xMm: number, yMm: number) => number): Image {
  const { widthPx, heightPx } = one;
  const rays = 5;
  const rgba = new Uint8ClampedArray(widthPx * heightPx * 4).fill(255);
  for (let row = 0, at = 0; row < heightPx; row++)
    for (let column = 0; column < widthPx; column++, at += 4) {
      let light = 0;
      for (let i = 0; i < rays * rays; i++) {
        const [xMm, yMm] = one.behind(
          column + ((i % rays) + 0.5) / rays,
          row + (Math.floor(i / rays) + 0.5) / rays,
        );
        const isOn = xMm >= 0 && yMm >= 0 && xMm <= sheet.widthMm && yMm <= sheet.heightMm;
        light += isOn ? lightAt(xMm, yMm) : 0.4;
      }
      rgba.fill(codeOf(light / (rays * rays)), at, at + 3);
    }
  return { widthPx, heightPx, rgba };
}

const spacingMm = 50;
const markMm = 5;
/** Black discs every 50 mm, the outermost ones 25 mm from the edge. */
const discs = (xMm: number, yMm: number): number => {
  const off = (at: number): number => (((at % spacingMm) + spacingMm) % spacingMm) - spacingMm / 2;
  return Math.hypot(off(xMm), off(yMm)) <= markMm ? 0 : 1;
};

/** Centre of the darkness within 12 mm of a place, mm. */
function markNear({ widthPx, heightPx, rgba }: Image, xMm: number, yMm: number): readonly [number, number] {
  const perX = widthPx / sheet.widthMm;
  const perY = heightPx / sheet.heightMm;
  let [x, y, sum] = [0, 0, 0];
  for (let row = Math.floor((yMm - 12) * perY); row < (yMm + 12) * perY; row++)
    for (let column = Math.floor((xMm - 12) * perX); column < (xMm + 12) * perX; column++) {
      const code = rgba[(row * widthPx + column) * 4]! / 255;
      const dark = 1 - (code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4);
      x += dark * ((column + 0.5) / perX);
      y += dark * ((row + 0.5) / perY);
      sum += dark;
    }
  return [x / sum, y / sum];
}

function straightened(image: Image, corners: Corners, widthPx: number, heightPx: number): Image {
  const result = straighten(image, corners, widthPx, heightPx);
  if (!result.ok) throw new Error(result.problems[0]!.found);
  return result.value;
}

describe('a straightened photo', () => {
  test.each([
    ['from the left and above, turned', camera([120, -150, -900], [290, 210], 7, 1150)],
    ['from close by on the right', camera([640, 320, -620], [310, 200], -12, 800)],
    ['from straight ahead', camera([300, 200, -800], [300, 200], 0, 1000)],
  ])('%s has every mark within 0.5 per cent of the panel, and in truth far closer', (_, one) => {
    const corners = cornersSeen(one);
    for (const { x, y } of corners) {
      expect(x).toBeGreaterThan(0);
      expect(x).toBeLessThan(one.widthPx);
      expect(y).toBeGreaterThan(0);
      expect(y).toBeLessThan(one.heightPx);
    }
    const image = straightened(photoOf(one, discs), corners, 900, 600);
    let worstMm = 0;
    let marks = 0;
    for (let yMm = spacingMm / 2; yMm < sheet.heightMm; yMm += spacingMm)
      for (let xMm = spacingMm / 2; xMm < sheet.widthMm; xMm += spacingMm, marks++) {
        const [foundX, foundY] = markNear(image, xMm, yMm);
        worstMm = Math.max(worstMm, Math.hypot(foundX - xMm, foundY - yMm));
      }
    expect(marks).toBe(12 * 8);
    // 0.5 % of the shorter side is 2 mm. A centre of a disc of a hundred pixels is good to a tenth of a pixel: 0.07 mm.
    expect(worstMm).toBeLessThan(0.005 * sheet.heightMm);
    expect(worstMm).toBeLessThan(0.07);
  });

  test('makes an even grey of a pattern finer than its pixels, as light and not as codes', () => {
    // Lines of 3 mm, half of them black; pixels of 20 mm.
    const one = camera([300, 200, -800], [300, 200], 0, 1000);
    const image = straightened(
      photoOf(one, (xMm) => (xMm % 6 < 3 ? 0 : 1)),
      cornersSeen(one),
      30,
      20,
    );
    // Half of the light is code 188; a pixel's 20 mm hold 3 1/3 pairs of lines, so 1.5 mm more or less of black: 0.425 to 0.575, 174 to 200.
    for (let at = 0; at < image.rgba.length; at += 4) {
      expect(image.rgba[at]).toBeGreaterThanOrEqual(173);
      expect(image.rgba[at]).toBeLessThanOrEqual(201);
    }
  });

  test('of whole pixels is the very part of the photo', () => {
    const rgba = Uint8ClampedArray.from({ length: 20 * 20 * 4 }, (_, i) =>
      i % 4 === 3 ? 255 : (i * 37) % 256,
    );
    const corners: Corners = [
      { x: 2, y: 3 },
      { x: 14, y: 3 },
      { x: 14, y: 12 },
      { x: 2, y: 12 },
    ];
    const image = straightened({ widthPx: 20, heightPx: 20, rgba }, corners, 12, 9);
    for (let row = 0; row < 9; row++)
      expect([...image.rgba.subarray(row * 48, (row + 1) * 48)]).toEqual([
        ...rgba.subarray(((row + 3) * 20 + 2) * 4, ((row + 3) * 20 + 14) * 4),
      ]);
  });

  test('goes on with the edge where a corner lies beside the photo', () => {
    const rgba = new Uint8ClampedArray(10 * 10 * 4).fill(255);
    const corners: Corners = [
      { x: -5, y: -5 },
      { x: 15, y: -5 },
      { x: 15, y: 15 },
      { x: -5, y: 15 },
    ];
    expect(new Set(straightened({ widthPx: 10, heightPx: 10, rgba }, corners, 20, 20).rgba)).toEqual(
      new Set([255]),
    );
  });
});

describe('corners', () => {
  const image: Image = { widthPx: 100, heightPx: 100, rgba: new Uint8ClampedArray(40_000).fill(255) };
  const points = (...xy: number[]): Corners =>
    [0, 2, 4, 6].map((i) => ({ x: xy[i]!, y: xy[i + 1]! })) as unknown as Corners;

  test.each([
    ['crossed', points(10, 10, 90, 90, 90, 10, 10, 90), 'edges that cross'],
    ['counter-clockwise', points(10, 10, 10, 90, 90, 90, 90, 10), 'counter-clockwise'],
    ['three on a line', points(10, 10, 50, 10, 90, 10, 10, 90), 'three of them on one line'],
    ['two in one place', points(10, 10, 10, 10, 90, 90, 10, 90), 'one of 0.0'],
    ['bent inwards', points(10, 10, 90, 10, 30, 30, 10, 90), 'edges that cross or bend'],
    ['no places', points(10, 10, Number.NaN, 10, 90, 90, 10, 90), 'no place'],
  ])('that are %s are refused', (_, corners, found) => {
    const result = straighten(image, corners, 10, 10);
    expect(result.ok).toBe(false);
    if (!result.ok) {
      expect(result.problems[0]).toMatchObject({ code: 'photo-corners', at: '/panel/artwork' });
      expect(result.problems[0]!.found).toContain(found);
    }
  });

  test('that lie well are taken, a size without pixels or with far too many is not', () => {
    const corners = points(10, 10, 90, 12, 85, 88, 12, 90);
    expect(straighten(image, corners, 10, 10).ok).toBe(true);
    for (const [width, height] of [
      [0, 10],
      [4001, 4000],
    ] as const)
      expect(straighten(image, corners, width, height)).toMatchObject({
        ok: false,
        problems: [{ code: 'photo-size' }],
      });
  });

  test('map onto each other, and back', () => {
    const from = points(0, 0, 600, 0, 600, 400, 0, 400);
    const to = points(31, 47, 1500, 12, 1333, 1100, 99, 987);
    const there = homography(from, to)!;
    const back = homography(to, from)!;
    for (const [i, corner] of from.entries()) {
      expect(mappedPoint(there, corner).x).toBeCloseTo(to[i]!.x, 8);
      expect(mappedPoint(there, corner).y).toBeCloseTo(to[i]!.y, 8);
    }
    const place = { x: 123.4, y: 345.6 };
    const again = mappedPoint(back, mappedPoint(there, place));
    expect(again.x).toBeCloseTo(place.x, 7);
    expect(again.y).toBeCloseTo(place.y, 7);
    // Straight lines stay straight: the diagonals' crossing goes to the diagonals' crossing.
    const cut = mappedPoint(there, { x: 300, y: 200 });
    const side = (a: PointPx, b: PointPx): number =>
      (b.x - a.x) * (cut.y - a.y) - (b.y - a.y) * (cut.x - a.x);
    expect(side(to[0], to[2])).toBeCloseTo(0, 5);
    expect(side(to[1], to[3])).toBeCloseTo(0, 5);
  });

  test('on one line have no map', () => {
    expect(homography(points(0, 0, 1, 1, 2, 2, 3, 3), points(0, 0, 1, 0, 1, 1, 0, 1))).toBeUndefined();
  });
});

describe('the pixels that a panel needs', () => {
  const grey = (widthPx: number, heightPx: number): Image => ({
    widthPx,
    heightPx,
    rgba: new Uint8ClampedArray(widthPx * heightPx * 4).fill(128),
  });

  test('are four a millimetre at most', () => {
    expect(resampled(grey(1000, 600), 4, { widthMm: 100, heightMm: 50 })).toMatchObject({
      widthPx: 400,
      heightPx: 200,
    });
    expect(resampled(grey(1000, 600), 9, { widthMm: 100, heightMm: 50 })).toMatchObject({ widthPx: 400 });
    expect(resampled(grey(1000, 600), 2, { widthMm: 100, heightMm: 50 })).toMatchObject({ widthPx: 200 });
  });

  test('are never more than the picture has', () => {
    const small = grey(300, 150);
    expect(resampled(small, 4, { widthMm: 100, heightMm: 50 })).toBe(small);
    expect(resampled(grey(300, 900), 4, { widthMm: 100, heightMm: 50 })).toMatchObject({
      widthPx: 300,
      heightPx: 200,
    });
  });

  test('stay within sixteen million for a panel of 3 m', () => {
    const corners: Corners = [
      { x: 0, y: 0 },
      { x: 1e5, y: 0 },
      { x: 1e5, y: 1e5 },
      { x: 0, y: 1e5 },
    ];
    const { widthPx, heightPx } = straightenedSize(corners, { widthMm: 3000, heightMm: 3000 });
    expect(widthPx * heightPx).toBeLessThanOrEqual(16e6);
    expect(widthPx).toBe(4000);
  });

  test("follow the longer of a photo's opposite edges", () => {
    const corners: Corners = [
      { x: 0, y: 0 },
      { x: 1000, y: 0 },
      { x: 900, y: 500 },
      { x: 0, y: 450 },
    ];
    // The right edge is the root of 100^2 + 500^2 long: 509.9.
    expect(straightenedSize(corners, { widthMm: 600, heightMm: 400 })).toEqual({
      widthPx: 1000,
      heightPx: 509,
    });
  });

  test('are averaged as light, clear parts not counted', () => {
    // Black beside white: half of the light is code 188 (IEC 61966-2-1). White beside clear: white, half covered.
    const two = (...rgba: number[]): Image => ({
      widthPx: 2,
      heightPx: 1,
      rgba: Uint8ClampedArray.from(rgba),
    });
    const one = { widthMm: 0.25, heightMm: 0.25 };
    expect([...resampled(two(0, 0, 0, 255, 255, 255, 255, 255), 4, one).rgba]).toEqual([188, 188, 188, 255]);
    expect([...resampled(two(255, 255, 255, 255, 9, 9, 9, 0), 4, one).rgba]).toEqual([255, 255, 255, 128]);
  });
});
