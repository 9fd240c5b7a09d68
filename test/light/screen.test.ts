// Exposure and encoding against values worked out from the sRGB standard (IEC 61966-2-1), and the soft end's own rules.
import { describe, expect, it } from 'vitest';
import {
  brightestLight,
  decodeSrgb,
  encodeSrgb,
  exposureGain,
  halfCode,
  screenPixels,
  softEnd,
  softFrom,
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
});

describe('exposure', () => {
  it('puts the reference light on white at 0 stops, and doubles with each stop', () => {
    expect(exposureGain(0.002, 0) * 0.002).toBeCloseTo(1, 12);
    expect(exposureGain(0.002, 3) * 0.002).toBeCloseTo(8, 12);
    expect(exposureGain(0.002, -1) * 0.002).toBeCloseTo(0.5, 12);
  });

  it('stays dark where there is no light to expose for', () => {
    expect(exposureGain(0, 2)).toBe(0);
  });
});

describe('the soft end', () => {
  it('leaves darker light as it is', () => {
    for (const light of [0, 0.1, 1, softFrom]) expect(softEnd(light)).toBe(light);
  });

  it('rises without a kink, never passes its limit, and keeps brighter light brighter', () => {
    const step = 1e-4;
    expect((softEnd(softFrom + step) - softFrom) / step).toBeCloseTo(1, 3);
    let before = softFrom;
    for (let light = softFrom + 0.05; light < 20; light += 0.05) {
      const bent = softEnd(light);
      expect(bent).toBeGreaterThan(before);
      expect(bent).toBeLessThan(brightestLight);
      before = bent;
    }
  });
});

describe('half codes', () => {
  it('agree with the encoding to half a code, and a little for the table’s steps', () => {
    for (let light = 0; light <= softFrom; light += 0.00137)
      expect(Math.abs(halfCode(light) - 127.5 * encodeSrgb(light))).toBeLessThan(0.5 + 0.11);
  });

  it('reach twice white, and no further however strong the light', () => {
    // The standard's curve goes on: an encoded 2 is ((2 + 0.055) / 1.055)^2.4 = 4.9538 times white in light.
    expect(brightestLight).toBeCloseTo(4.9538, 3);
    expect(halfCode(16)).toBe(255);
    expect(halfCode(1e9)).toBe(255);
  });

  it('have the room’s light added in every channel, and pixels are opaque', () => {
    // 0.18 encodes to 0.461356 (58.8 of 127.5), 0.2 to 0.484529 (61.8), 0.02 to 1.055 x 0.02^(1 / 2.4) - 0.055 = 0.151704 (19.3).
    expect([...screenPixels(Float32Array.of(0.08, 0, 0.09), 2, 0.02)]).toEqual([59, 19, 62, 255]);
  });
});
