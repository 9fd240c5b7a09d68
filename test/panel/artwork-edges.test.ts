// Straight edges of artwork that was painted for the test: their places are known.
import { describe, expect, test } from 'vitest';
import { lightnessOf, straightEdges } from '../../src/panel/index.ts';

const panel = { widthMm: 300, heightMm: 200 };
const whole = { leftMm: 0, topMm: 0, rightMm: 300, bottomMm: 200 };

/** Two pixels a millimetre; `paint` gives grey codes by millimetre. */
function painted(paint: (xMm: number, yMm: number) => number) {
  const [widthPx, heightPx] = [600, 400];
  const rgba = new Uint8Array(4 * widthPx * heightPx);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const at = 4 * (y * widthPx + x);
      rgba.fill(paint((x + 0.5) / 2, (y + 0.5) / 2), at, at + 3);
      rgba[at + 3] = 255;
    }
  return lightnessOf({ widthPx, heightPx, rgba });
}

describe('[EDGE]', () => {
  test('a bar from 60 to 75 mm down and a mast from 220 to 224 mm across', () => {
    const art = painted((x, y) => (y >= 60 && y < 75 ? 200 : x >= 220 && x < 224 ? 10 : 90));
    expect(straightEdges(art, panel, 'y', whole)).toEqual([60, 75]);
    expect(straightEdges(art, panel, 'x', whole)).toEqual([220, 224]);
  });
  test('an edge counts only along the stretch that was asked for', () => {
    // A counter on the left half.
    const art = painted((x, y) => (x < 150 && y >= 120 ? 220 : 60));
    const stretch = (leftMm: number, rightMm: number) => ({ leftMm, rightMm, topMm: 100, bottomMm: 110 });
    expect(straightEdges(art, panel, 'y', stretch(10, 140))).toEqual([120]);
    expect(straightEdges(art, panel, 'y', stretch(160, 290))).toEqual([]);
  });
  test('plain print, and print that changes slowly, has none; a step of a twelfth is not enough', () => {
    expect(
      straightEdges(
        painted(() => 80),
        panel,
        'y',
        whole,
      ),
    ).toEqual([]);
    expect(
      straightEdges(
        painted((_, y) => y),
        panel,
        'y',
        whole,
      ),
    ).toEqual([]);
    // 0.08 of 255 is 20.4 codes.
    const step = (codes: number) =>
      straightEdges(
        painted((_, y) => (y < 100 ? 100 : 100 + codes)),
        panel,
        'y',
        whole,
      );
    expect([step(20), step(21)]).toEqual([[], [100]]);
  });
  test('ten at most, and none of two closer than 3 mm but the stronger', () => {
    const stripes = painted((_, y) => (Math.floor(y / 5) % 2 === 0 ? 40 : 200));
    expect(straightEdges(stripes, panel, 'y', whole)).toHaveLength(10);
    const near = painted((_, y) => (y < 50 ? 20 : y < 52 ? 90 : 240));
    expect(straightEdges(near, panel, 'y', whole)).toEqual([52]);
  });
});
