// Corners on a photo, how they move, and what is told of measured distances.
import { describe, expect, test } from 'vitest';
import { checkWords } from '../../src/app/stages/panel/check-words.ts';
import {
  firstCorners,
  fitScale,
  keyStep,
  seenAspect,
  withCorner,
} from '../../src/app/stages/panel/straighten-geometry.ts';
import type { Corners } from '../../src/panel/index.ts';

const photo = { width: 4000, height: 3000 };

describe('corners', () => {
  test('begin clockwise from the top left, as far from all edges as the photo is wide and high', () => {
    const [a, b, c, d] = firstCorners(photo, false);
    expect(b).toEqual({ x: photo.width - a.x, y: a.y });
    expect(c).toEqual({ x: photo.width - a.x, y: photo.height - a.y });
    expect(d).toEqual({ x: a.x, y: photo.height - a.y });
    expect(a.x / photo.width).toBeCloseTo(a.y / photo.height, 3);
    expect(a.x).toBeGreaterThan(0);
  });

  test('of a picture that fills the panel already begin at its own corners', () => {
    expect(firstCorners(photo, true)).toEqual([
      { x: 0, y: 0 },
      { x: 4000, y: 0 },
      { x: 4000, y: 3000 },
      { x: 0, y: 3000 },
    ]);
  });

  test('one moves, the others stay; none leaves the photo', () => {
    const corners = firstCorners(photo, false);
    const moved = withCorner(corners, 2, { x: 3210.44, y: 5000 }, photo);
    expect(moved[2]).toEqual({ x: 3210.4, y: 3000 });
    expect([moved[0], moved[1], moved[3]]).toEqual([corners[0], corners[1], corners[3]]);
    expect(withCorner(corners, 0, { x: -3, y: 12 }, photo)[0]).toEqual({ x: 0, y: 12 });
  });

  test('arrow keys move by one pixel of the photo, with Shift by ten; y goes down', () => {
    expect(keyStep('ArrowLeft', false)).toEqual({ x: -1, y: 0 });
    expect(keyStep('ArrowDown', true)).toEqual({ x: 0, y: 10 });
    expect(keyStep('Enter', false)).toBeUndefined();
  });

  test('the whole photo fits into its box, and is never drawn larger than it is', () => {
    expect(fitScale(photo, { width: 400, height: 400 })).toBe(0.1);
    expect(fitScale(photo, { width: 4000, height: 300 })).toBe(0.1);
    expect(fitScale({ width: 100, height: 50 }, { width: 400, height: 400 })).toBe(1);
  });

  test('a piece seems as wide as its upper and lower edges are on average', () => {
    const trapezium: Corners = [
      { x: 100, y: 0 },
      { x: 300, y: 0 },
      { x: 400, y: 100 },
      { x: 0, y: 100 },
    ];
    // Edges of 200 and 400 above each other; the slanted ones are both 100 times the root of 2.
    expect(seenAspect(trapezium)).toBeCloseTo(300 / (100 * Math.SQRT2), 9);
  });
});

describe('a check of the scale in words', () => {
  test('found less measured, with a true minus', () => {
    expect(checkWords(223.6, 224, false)).toBe('agrees, \u22120.4');
    expect(checkWords(228, 224, true)).toBe('off by +4.0');
    expect(checkWords(224.04, 224, false)).toBe('agrees, 0.0');
    expect(checkWords(223.97, 224, false)).toBe('agrees, 0.0');
  });
});
