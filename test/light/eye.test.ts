// The eye in front of the panel, by its own rules: angles by trigonometry, one minute of arc, and an eye that closes faster than it opens.
import { describe, expect, it } from 'vitest';
import {
  adaptation,
  adaptedStops,
  angleDeg,
  bareLedCodes,
  darkRoom,
  eyeBlurMm,
  meanLevel,
  resolvedMm,
  seenPixelsPerMm,
  settledStops,
  viewingFactors,
} from '../../src/light/index.ts';

describe('viewing distance', () => {
  it('tells apart one minute of arc', () => {
    // tan(1 / 60 degree) = 2.9089e-4: 0.29 mm a metre.
    expect(resolvedMm(1)).toBeCloseTo(0.29089, 5);
    expect(resolvedMm(4)).toBeCloseTo(1.16355, 5);
    // A Gaussian is half as high 1.1774 standard deviations from its middle.
    expect(Math.exp(-0.5 * (resolvedMm(2) / 2 / eyeBlurMm(2)) ** 2)).toBeCloseTo(0.5, 4);
  });

  it('makes a panel as wide as twice its distance 90 degrees wide', () => {
    expect(angleDeg(1000, 0.5)).toBeCloseTo(90, 9);
    expect(angleDeg(0, 2)).toBe(0);
  });

  it('draws the panel true to size from as far as the screen, and half as large from twice as far', () => {
    // 96 CSS pixels an inch.
    expect(seenPixelsPerMm(0.6) * 25.4).toBeCloseTo(96, 9);
    expect(seenPixelsPerMm(1.2) * 25.4).toBeCloseTo(48, 9);
  });
});

describe('the eye', () => {
  it('takes the mean luminance of all LEDs', () => {
    // White and black: half. Pure green: its share of luminance, 0.7152 (IEC 61966-2-1).
    expect(meanLevel(Float32Array.of(1, 1, 1, 0, 0, 0))).toBeCloseTo(0.5, 6);
    expect(meanLevel(Float32Array.of(0, 1, 0))).toBeCloseTo(0.7152, 6);
    expect(meanLevel(new Float32Array(0))).toBe(0);
  });

  it('stays as it is at the usual level, opens below it and closes above it, within its limits', () => {
    const { usualLevel, share, leastStops, mostStops } = adaptation;
    expect(settledStops(usualLevel, 0)).toBeCloseTo(0, 9);
    // Twice the light is one stop.
    expect(settledStops(2 * usualLevel, 0)).toBeCloseTo(-share, 9);
    expect(settledStops(usualLevel / 2, 0)).toBeCloseTo(share, 9);
    expect(settledStops(0, 0)).toBe(mostStops);
    expect(settledStops(1, 0)).toBeGreaterThanOrEqual(leastStops);
    // In a lit room LEDs change little.
    expect(settledStops(0, 1)).toBeLessThan(settledStops(0, 0) / 2);
  });

  it('goes on its way by 63 % in its time, faster towards bright', () => {
    const { secondsToBright, secondsToDark } = adaptation;
    const gone = 1 - Math.exp(-1);
    expect(adaptedStops(1, -1, secondsToBright)).toBeCloseTo(1 - 2 * gone, 9);
    expect(adaptedStops(-1, 1, secondsToDark)).toBeCloseTo(-1 + 2 * gone, 9);
    expect(secondsToBright).toBeLessThan(secondsToDark);
    expect(adaptedStops(0.3, 1, 0)).toBeCloseTo(0.3, 12);
    // Two short steps are one long one.
    expect(adaptedStops(adaptedStops(1, 0, 0.2), 0, 0.3)).toBeCloseTo(adaptedStops(1, 0, 0.5), 9);
  });

  it('changes all that is seen alike', () => {
    const lamp = { whiteLight: 0.002, transmission: 0.8 };
    const before = viewingFactors(lamp, { roomLight: 0.4, exposureStops: 0 });
    const after = viewingFactors(lamp, { roomLight: 0.4, exposureStops: 0, adaptedStops: 1 });
    for (const key of ['through', 'printLight', 'frameLight'] as const)
      expect(after[key] / before[key]).toBeCloseTo(2, 9);
    expect(viewingFactors(lamp, darkRoom)).toEqual(viewingFactors(lamp, { ...darkRoom, adaptedStops: 0 }));
  });
});

describe('bare LEDs', () => {
  it('are dark without flux, and keep the order of their colours', () => {
    const flux = Float32Array.of(0, 0, 0, 0.2, 0.05, 0);
    expect(bareLedCodes(flux, 0, 0)).toEqual([0, 0, 0]);
    const [red, green, blue] = bareLedCodes(flux, 1, 0);
    expect(red).toBeGreaterThan(green);
    expect(green).toBeGreaterThan(0);
    expect(blue).toBe(0);
    expect(bareLedCodes(flux, 1, 1)[1]).toBeGreaterThan(green);
  });
});
