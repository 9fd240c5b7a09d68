// The opacity layer: its grey multiplies the light that the artwork lets through, in the reference and in what the live renderers are given.
// Source of codes and light: IEC 61966-2-1 (128 decodes to 0.2158605; luminance 0.2126 red + 0.7152 green + 0.0722 blue).
import { describe, expect, it } from 'vitest';
import {
  frameByteCount,
  type Image,
  inkTransmission,
  lightOfCode,
  lightScene,
  livePicture,
  pictureOf,
  pixelGrid,
  printTransmission,
  withOpacity,
} from '../../src/light/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { sample } from '../support/lamploom.ts';

const image = (widthPx: number, heightPx: number, ...rgba: number[]): Image => ({
  widthPx,
  heightPx,
  rgba: Uint8Array.from(rgba),
});
const filled = (widthPx: number, heightPx: number, ...pixel: number[]): Image =>
  image(widthPx, heightPx, ...Array.from({ length: widthPx * heightPx }, () => pixel).flat());
/** Every code and alpha comes up. */
const motley = (widthPx: number, heightPx: number): Image =>
  image(widthPx, heightPx, ...Array.from({ length: widthPx * heightPx * 4 }, (_, i) => (i * 7919) % 256));

const white = [255, 255, 255, 255];
const black = [0, 0, 0, 255];

const grid = pixelGrid({ widthMm: 31, heightMm: 17 }, 1);
const opening = { xMm: 0, yMm: 0, widthMm: 31, heightMm: 17 };
const pixelsThrough = (ink: Float32Array | undefined, light: number, printLight: number) =>
  pictureOf({
    grid,
    behindSheet: Float32Array.from({ length: 31 * 17 * 3 }, (_, i) => light * (0.2 + ((i * 31) % 97) / 97)),
    ink,
    opening,
    factors: { through: 1, printLight, frameLight: 0 },
  });

describe('the opacity layer', () => {
  const artwork = motley(67, 41);

  it.each([
    ['white', filled(5, 3, ...white)],
    ['clear', filled(64, 40, 9, 99, 200, 0)],
  ])('where it is %s leaves every byte of the picture as it is', (_, layer) => {
    const without = printTransmission(artwork, undefined, 31, 17)!;
    const ink = printTransmission(artwork, layer, 31, 17)!;
    expect(ink).toEqual(without);
    expect(without).toEqual(inkTransmission(artwork, 31, 17));
    expect(pixelsThrough(ink, 0.7, 0.1)).toEqual(pixelsThrough(without, 0.7, 0.1));
  });

  it('where it is black stays black under any light', () => {
    const ink = printTransmission(artwork, filled(3, 3, ...black), 31, 17)!;
    expect(new Set(ink)).toEqual(new Set([0]));
    const pixels = pixelsThrough(ink, 1e6, 1e6);
    expect(new Set(pixels.filter((_, i) => i % 4 !== 3))).toEqual(new Set([0]));
    // Without the layer the same light shows.
    expect(Math.max(...pixelsThrough(printTransmission(artwork, undefined, 31, 17), 1e6, 0))).toBe(255);
  });

  it('multiplies each channel of the artwork by its grey', () => {
    const ink = printTransmission(image(1, 1, 128, 255, 64, 255), filled(1, 1, 128, 128, 128, 255), 1, 1)!;
    for (const [i, artworkAlone] of [0.2158605, 1, 0.0512695].entries())
      expect(ink[i]).toBeCloseTo(artworkAlone * 0.2158605, 6);
  });

  it('is grey by its luminance, and white where it covers nothing', () => {
    // Red alone; and grey 128 that covers a fifth: 0.8 + 0.2 x 0.2158605.
    const ink = printTransmission(undefined, image(2, 1, 255, 0, 0, 255, 128, 128, 128, 51), 2, 1)!;
    expect(ink[0]).toBeCloseTo(0.2126, 6);
    expect(ink[2]).toBeCloseTo(0.2126, 6);
    expect(ink[3]).toBeCloseTo(0.8431721, 6);
  });

  it('has its edge where the artwork has it: half a pixel black in both is half, not a quarter', () => {
    const half = image(2, 1, ...black, ...white);
    expect(printTransmission(half, half, 1, 1)![0]).toBeCloseTo(0.5, 6);
    const other = image(2, 1, ...white, ...black);
    expect(printTransmission(half, other, 1, 1)![0]).toBe(0);
  });

  it('may have another size than the artwork, and is stretched as it is', () => {
    // Left half black, right half white, in 2 and in 1,000 pixels.
    const wide = image(1000, 1, ...Array.from({ length: 1000 }, (_, i) => (i < 500 ? black : white)).flat());
    const narrow = image(2, 1, ...black, ...white);
    const ink = printTransmission(artwork, wide, 30, 16)!;
    for (const [i, share] of printTransmission(artwork, narrow, 30, 16)!.entries())
      expect(ink[i]).toBeCloseTo(share, 6);
  });
});

describe('the live picture', () => {
  const project = sample('midnight-carnival');
  const scene = lightScene(project, layOut(project));
  const painted = (layer: Image | undefined): Uint8ClampedArray => {
    const pixels = new Uint8ClampedArray(60 * 30 * 4);
    const ink = printTransmission(motley(67, 41), layer, 60, 30);
    const wireBytes = new Uint8Array(frameByteCount(scene.sources)).fill(255);
    livePicture(scene, 60, 30, ink).paint(wireBytes, { roomLight: 1, exposureStops: 6 }, pixels);
    return pixels;
  };

  it('is black inside the opening where the layer is, with all LEDs white in a lit room, and untouched where it is white', () => {
    const { xMm, yMm, widthMm, heightMm } = scene.opening;
    const dark = painted(filled(2, 2, ...black));
    const bare = painted(undefined);
    let seen = 0;
    for (let row = 0; row < 30; row++)
      for (let column = 0; column < 60; column++) {
        // A pixel and more inside the edge of the opening.
        const x = ((column + 0.5) / 60) * scene.widthMm;
        const y = ((row + 0.5) / 30) * scene.heightMm;
        if (Math.min(x - xMm, xMm + widthMm - x) < 20 || Math.min(y - yMm, yMm + heightMm - y) < 20) continue;
        seen++;
        const at = (row * 60 + column) * 4;
        expect([...dark.subarray(at, at + 4)]).toEqual([0, 0, 0, 255]);
        expect(Math.max(...bare.subarray(at, at + 3))).toBeGreaterThan(100);
      }
    expect(seen).toBeGreaterThan(500);
    expect(painted(filled(2, 2, ...white))).toEqual(bare);
  });
});

describe('artwork and opacity layer as one image', () => {
  const artwork = motley(33, 27);

  it('leave the artwork as it is where the layer is white, and cover it all where it is black', () => {
    expect([...withOpacity(artwork, filled(33, 27, ...white)).rgba]).toEqual([...artwork.rgba]);
    expect([...withOpacity(artwork, filled(33, 27, ...black)).rgba]).toEqual([
      ...filled(33, 27, ...black).rgba,
    ]);
  });

  it('let the same light through as the reference, to the nearest code', () => {
    const layer = image(33, 27, ...Array.from({ length: 33 * 27 * 4 }, (_, i) => (i * 104_729) % 256));
    const both = withOpacity(artwork, layer);
    const exact = printTransmission(artwork, layer, 33, 27, 1)!;
    for (let pixel = 0; pixel < 33 * 27; pixel++)
      for (let channel = 0; channel < 3; channel++) {
        const code = both.rgba[pixel * 4 + channel]!;
        // Between the codes below and above, or white where there is none above.
        expect(exact[pixel * 3 + channel]).toBeGreaterThanOrEqual(lightOfCode[Math.max(0, code - 1)]! - 1e-6);
        expect(exact[pixel * 3 + channel]).toBeLessThanOrEqual(lightOfCode[Math.min(255, code + 1)]! + 1e-6);
      }
  });

  it('without artwork is the layer in grey; sizes must be equal', () => {
    expect([...withOpacity(undefined, image(1, 1, 128, 128, 128, 255)).rgba]).toEqual([128, 128, 128, 255]);
    expect(() => withOpacity(artwork, filled(2, 2, ...white))).toThrow('one size');
  });
});
