// The picture's stages: exposure, transmission, ink, room and frame, each by a rule of its own.
import { describe, expect, it } from 'vitest';
import {
  darkRoom,
  glowOf,
  inkTransmission,
  lightScene,
  livePicture,
  meanWhiteLight,
  pictureOf,
  pixelGrid,
  viewingFactors,
} from '../../src/light/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { sample } from '../support/lamploom.ts';

const image = (widthPx: number, heightPx: number, ...rgba: number[]) => ({
  widthPx,
  heightPx,
  rgba: Uint8Array.from(rgba),
});

describe('ink', () => {
  it('lets through what its sRGB colour says', () => {
    // Source: IEC 61966-2-1: 128 / 255 decodes to 0.2158605, 64 / 255 to 0.0512695.
    const ink = inkTransmission(image(1, 1, 128, 64, 255, 255), 1, 1);
    for (const [i, expected] of [0.2158605, 0.0512695, 1].entries()) expect(ink[i]).toBeCloseTo(expected, 6);
  });

  it('is clear where there is none: colour x alpha + (1 - alpha)', () => {
    const ink = inkTransmission(image(2, 1, 0, 0, 0, 0, 128, 0, 255, 51), 2, 1);
    for (const [i, expected] of [1, 1, 1, 0.2158605 * 0.2 + 0.8, 0.8, 1].entries())
      expect(ink[i]).toBeCloseTo(expected, 6);
  });

  it('is averaged as light: half black, half clear is half', () => {
    expect(inkTransmission(image(2, 1, 0, 0, 0, 255, 255, 255, 255, 255), 1, 1)[0]).toBeCloseTo(0.5, 6);
  });

  it('is averaged by area where sizes do not divide', () => {
    // Three pixels black, white, black on two: each gets one and a half, a third of it white.
    const ink = inkTransmission(image(3, 1, 0, 0, 0, 255, 255, 255, 255, 255, 0, 0, 0, 255), 2, 1);
    expect(ink[0]).toBeCloseTo(1 / 3, 6);
    expect(ink[3]).toBeCloseTo(1 / 3, 6);
  });

  it('keeps its mean whatever the size', () => {
    const codes = Array.from({ length: 7 * 5 }, (_, i) => (i * 37) % 256);
    const source = image(7, 5, ...codes.flatMap((code) => [code, code, code, 255]));
    const mean = (ink: Float32Array) => ink.reduce((a, b) => a + b, 0) / ink.length;
    const expected = mean(inkTransmission(source, 7, 5));
    for (const [columns, rows] of [
      [1, 1],
      [3, 4],
      [16, 9],
    ] as const)
      expect(mean(inkTransmission(source, columns, rows))).toBeCloseTo(expected, 5);
  });
});

describe('viewing', () => {
  const lamp = { whiteLight: 0.002, transmission: 1 };
  const through = viewingFactors(lamp, darkRoom).through;

  it('doubles with each stop, and halves with a sheet that lets half through', () => {
    expect(viewingFactors(lamp, { ...darkRoom, exposureStops: 1 }).through / through).toBeCloseTo(2, 12);
    expect(viewingFactors(lamp, { ...darkRoom, exposureStops: -2 }).through / through).toBeCloseTo(0.25, 12);
    expect(viewingFactors({ ...lamp, transmission: 0.5 }, darkRoom).through / through).toBeCloseTo(0.5, 12);
    expect(viewingFactors({ ...lamp, whiteLight: 0.004 }, darkRoom).through / through).toBeCloseTo(0.5, 12);
  });

  it('adds no light of the room in the dark, and some in a lit room, less from the frame than from print', () => {
    expect(viewingFactors(lamp, darkRoom)).toMatchObject({ printLight: 0, frameLight: 0 });
    const lit = viewingFactors(lamp, { roomLight: 1, exposureStops: 0 });
    expect(lit.frameLight).toBeGreaterThan(0);
    expect(lit.printLight).toBeGreaterThan(5 * lit.frameLight);
    expect(lit.through).toBeLessThan(through);
  });

  it('stays dark without LEDs', () => {
    expect(viewingFactors({ whiteLight: 0, transmission: 1 }, darkRoom).through).toBe(0);
  });
});

describe('a picture', () => {
  const grid = pixelGrid({ widthMm: 8, heightMm: 6 }, 1);
  const opening = { xMm: 2, yMm: 1.5, widthMm: 4, heightMm: 3 };
  const behindSheet = new Float32Array(8 * 6 * 3).fill(0.1);
  const factors = { through: 2, printLight: 0, frameLight: 0 };
  const code = (pixels: Uint8ClampedArray, column: number, row: number) => [
    ...pixels.subarray((row * 8 + column) * 4, (row * 8 + column) * 4 + 4),
  ];

  it('shows light x factor in the opening, black beside it, and half of it in a pixel half inside', () => {
    const pixels = pictureOf({ grid, behindSheet, ink: undefined, opening, factors });
    // 0.2 encodes to 0.484529 (124 of 255), 0.1 to 0.349190 (89 of 255): IEC 61966-2-1.
    expect(code(pixels, 3, 3)).toEqual([124, 124, 124, 255]);
    expect(code(pixels, 1, 3)).toEqual([0, 0, 0, 255]);
    expect(code(pixels, 3, 1)).toEqual([89, 89, 89, 255]);
  });

  it('has the room’s light on the print multiplied by its ink, and on the frame as it is', () => {
    const ink = new Float32Array(8 * 6 * 3).fill(0.5);
    const lit = { through: 0, printLight: 0.2, frameLight: 0.01 };
    const pixels = pictureOf({ grid, behindSheet, ink, opening, factors: lit });
    // 0.2 x 0.5 = 0.1 encodes to 89, 0.01 to 0.099853 (25).
    expect(code(pixels, 3, 3)).toEqual([89, 89, 89, 255]);
    expect(code(pixels, 0, 0)).toEqual([25, 25, 25, 255]);
  });

  it('keeps opaque black print black under 2,000 white LEDs', () => {
    const places = Array.from({ length: 2000 }, (_, i) => ({
      xMm: (i % 50) * 0.16,
      yMm: Math.floor(i / 50) * 0.15,
    }));
    const flux = new Float32Array(6000).fill(1);
    const ink = inkTransmission(image(2, 1, 0, 0, 0, 255, 255, 255, 255, 255), 8, 6);
    const glow = glowOf(places, flux, grid, 20, { spreadMm: 1.5 });
    const whole = { xMm: 0, yMm: 0, widthMm: 8, heightMm: 6 };
    // Exposed for a single LED: 2,000 times too bright.
    const lamp = { whiteLight: meanWhiteLight(places.slice(0, 1), whole, 20), transmission: 0.87 };
    const strong = viewingFactors(lamp, darkRoom);
    const pixels = pictureOf({ grid, behindSheet: glow.behindSheet, ink, opening: whole, factors: strong });
    for (let row = 0; row < 6; row++) {
      expect(code(pixels, 1, row)).toEqual([0, 0, 0, 255]);
      expect(code(pixels, 6, row)).toEqual([255, 255, 255, 255]);
    }
  });
});

describe('the live picture', () => {
  const project = sample('midnight-carnival');
  const scene = lightScene(project, layOut(project));
  const ledBytes = new Uint8Array(scene.sources.length * 3).map((_, i) =>
    (i * 7919) % 11 === 0 ? 255 : (i % 3) * 20,
  );

  it('agrees with the reference within 2 % of the brightest light', () => {
    const { widthMm, heightMm, airGapMm, opening } = scene;
    const columns = 150;
    const rows = 75;
    const live = livePicture(scene, columns, rows, undefined);
    const pixels = new Uint8ClampedArray(columns * rows * 4);
    live.paint(ledBytes, darkRoom, pixels);
    const grid = pixelGrid({ widthMm, heightMm }, 4);
    const flux = new Float32Array(scene.sources.length * 3);
    for (const [led, { colourOrder }] of scene.sources.entries())
      for (const [place, letter] of [...colourOrder].entries())
        flux[led * 3 + 'RGB'.indexOf(letter)] = ledBytes[led * 3 + place]! / 255;
    const { behindSheet } = glowOf(scene.sources, flux, grid, airGapMm, scene);
    const exact = pictureOf({
      grid,
      behindSheet,
      ink: undefined,
      opening,
      factors: viewingFactors(scene, darkRoom),
    });
    let worst = 0;
    for (let i = 0; i < pixels.length; i++) worst = Math.max(worst, Math.abs(pixels[i]! - exact[i]!));
    // 2 % of linear light is at most 0.02 x 255 / 2.2 codes near white: 2.3, and two roundings.
    expect(worst).toBeLessThanOrEqual(3);
  });

  it('keeps all weights for another size in pixels, and the picture is as if made anew', () => {
    const before = livePicture(scene, 100, 50, undefined);
    const after = livePicture(scene, 150, 75, undefined, before);
    expect(after.weights.leds.every((led, index) => led === before.weights.leds[index])).toBe(true);
    const [pixels, anew] = [after, livePicture(scene, 150, 75, undefined)].map((live) => {
      const own = new Uint8ClampedArray(150 * 75 * 4);
      live.paint(ledBytes, darkRoom, own);
      return own;
    });
    expect(pixels).toEqual(anew);
  });
});
