// Encoding against values worked out from the sRGB standard (IEC 61966-2-1), and the shoulder's own rules.
import { describe, expect, it } from 'vitest';
import {
  decodeSrgb,
  encodeSrgb,
  lightOfCode,
  screenCode,
  shoulder,
  shoulderFrom,
} from '../../src/light/index.ts';

describe('sRGB', () => {
  it.each([
    [0.001, 0.01292],
    [0.01, 0.099853],
    [0.1, 0.34919],
    [0.18, 0.461356],
    [0.2, 0.484529],
    [0.5, 0.735357],
  ])('encodes %f as %f', (linear, encoded) => {
    expect(encodeSrgb(linear)).toBeCloseTo(encoded, 5);
  });

  it.each([
    [1 / 255, 0.0003035],
    [10 / 255, 0.0030353],
    [11 / 255, 0.0033465],
    [0.04045, 0.0031308],
    [64 / 255, 0.0512695],
    [0.5, 0.2140411],
    [128 / 255, 0.2158605],
    [192 / 255, 0.5271151],
  ])('decodes %f as %f', (encoded, linear) => {
    expect(decodeSrgb(encoded)).toBeCloseTo(linear, 6);
  });

  it('has the same values in the table of codes', () => {
    expect(lightOfCode[64]).toBeCloseTo(0.0512695, 6);
    expect(lightOfCode[192]).toBeCloseTo(0.5271151, 6);
    expect([lightOfCode[0], lightOfCode[255]]).toEqual([0, 1]);
  });
});

describe('the shoulder', () => {
  it('leaves darker light as it is', () => {
    for (const light of [0, 0.1, 0.5, shoulderFrom]) expect(shoulder(light)).toBe(light);
  });

  it('rises without a kink, never passes white, and keeps brighter light brighter', () => {
    const step = 1e-4;
    expect((shoulder(shoulderFrom + step) - shoulderFrom) / step).toBeCloseTo(1, 3);
    let before = shoulderFrom;
    for (let light = shoulderFrom + 0.05; light < 8; light += 0.05) {
      const bent = shoulder(light);
      expect(bent).toBeGreaterThan(before);
      expect(bent).toBeLessThan(1);
      before = bent;
    }
  });
});

describe('codes', () => {
  it('agree with the encoding to half a code, and a little for the table’s steps', () => {
    for (let light = 0; light <= shoulderFrom; light += 0.00137)
      expect(Math.abs(screenCode(light) - 255 * encodeSrgb(light))).toBeLessThan(0.5 + 0.11);
  });

  it('are 0 for no light and 255 for very strong light', () => {
    expect(screenCode(0)).toBe(0);
    expect(screenCode(4)).toBe(255);
    expect(screenCode(1e9)).toBe(255);
  });
});
