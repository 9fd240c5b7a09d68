// Animated GIFs: pieces laid over each other as the format says, delays, and files that are broken or too large.
import { describe, expect, test } from 'vitest';
import { gifPictures } from '../../src/lampshow/gif.ts';
import { type GifFrame, gifOf } from '../support/gif-writer.ts';

const palette = [
  [0, 0, 0],
  [255, 0, 0],
  [0, 255, 0],
  [0, 0, 255],
] as const;
const letters = ['k', 'r', 'g', 'b'];

/** Each frame as text: a letter a pixel (black, red, green, blue), '.' where nothing was drawn; and its hold. */
const shown = (bytes: Uint8Array): [string, number][] =>
  Array.from(gifPictures(bytes), ({ picture: { rgba }, holdMs }) => {
    let text = '';
    for (let at = 0; at < rgba.length; at += 4)
      text +=
        rgba[at + 3] === 0
          ? '.'
          : letters[palette.findIndex((colour) => colour.every((level, i) => rgba[at + i] === level))]!;
    return [text, holdMs];
  });

const whole = (pixels: readonly number[], more: Partial<GifFrame> = {}): GifFrame => ({
  width: 3,
  height: 2,
  pixels,
  ...more,
});
const piece = (pixels: readonly number[], more: Partial<GifFrame> = {}): GifFrame => ({
  left: 1,
  top: 0,
  width: 2,
  height: 1,
  pixels,
  ...more,
});
const red = whole([1, 1, 1, 1, 1, 1]);

describe('[GIF1] frames', () => {
  test('come whole and in order, a piece over what was there', () => {
    const gif = gifOf(3, 2, palette, [whole([0, 1, 2, 3, 2, 1]), piece([3, 3]), piece([2, 2], { top: 1 })]);
    expect(shown(gif).map(([text]) => text)).toEqual(['krgbgr', 'kbbbgr', 'kbbbgg']);
  });

  test('leave what was there where they are transparent, and nothing where nothing was', () => {
    expect(shown(gifOf(3, 2, palette, [red, piece([3, 2], { transparent: 3 })]))[1]![0]).toBe('rrgrrr');
    expect(shown(gifOf(3, 2, palette, [piece([3, 2], { transparent: 3 })]))[0]![0]).toBe('..g...');
  });

  test('are taken away as they ask: left, cleared, or put back', () => {
    const third = (disposal: 1 | 2 | 3) =>
      shown(
        gifOf(3, 2, palette, [red, piece([3, 3], { disposal }), piece([2], { width: 1, top: 1 })]),
      )[2]![0];
    expect(third(1)).toBe('rbbrgr');
    expect(third(2)).toBe('r..rgr');
    expect(third(3)).toBe('rrrrgr');
  });

  test('may have their own colours, and their rows in four passes', () => {
    const own = [palette[3], palette[2], palette[1], palette[0]];
    expect(shown(gifOf(3, 2, palette, [whole([0, 1, 2, 3, 2, 1], { palette: own })]))[0]![0]).toBe('bgrkrg');
    const pixels = Array.from({ length: 11 }, (_, row) => row % 4);
    const tall = gifOf(1, 11, palette, [{ width: 1, height: 11, pixels, interlaced: true }]);
    expect(shown(tall)[0]![0]).toBe('krgbkrgbkrg');
  });

  test('are held as long as they say; under 20 ms is 100 ms', () => {
    const holds = [7, 2, 1, 0, 65_535].map((delayHundredths) => ({ ...red, delayHundredths }));
    expect(shown(gifOf(3, 2, palette, holds)).map(([, holdMs]) => holdMs)).toEqual([
      70, 20, 100, 100, 655_350,
    ]);
  });
});

describe('[GIF2] files that are none', () => {
  const gif = gifOf(3, 2, palette, [red, piece([3, 3], { disposal: 3 }), red]);

  test('cut off anywhere they are errors', () => {
    for (let length = 0; length < gif.length; length++)
      expect(() => shown(gif.subarray(0, length))).toThrow('cut off');
    expect(shown(Uint8Array.from([...gif, 0, 0]))).toHaveLength(3);
  });

  test('with any byte changed they end in an error or in frames, soon', () => {
    let errors = 0;
    const tried = (bytes: Uint8Array) => {
      try {
        for (const { picture } of gifPictures(bytes)) expect(picture.rgba.length).toBeGreaterThan(0);
      } catch (error) {
        expect(error).toBeInstanceOf(Error);
        errors++;
      }
    };
    for (let at = 0; at < gif.length; at++)
      for (const value of [0, 1, 12, 0x21, 0x2c, 0x3b, 0x7f, 0xff]) {
        const changed = Uint8Array.from(gif);
        changed[at] = value;
        tried(changed);
      }
    expect(errors).toBeGreaterThan(20);
  });

  test('sizes are checked before anything is unpacked', () => {
    const large = Uint8Array.from(gif);
    large.set([0xff, 0xff, 0xff, 0xff], 6);
    expect(() => shown(large)).toThrow('16 million pixels');
    expect(() => shown(gifOf(3, 2, palette, [piece([1, 1], { left: 2 })]))).toThrow(
      'larger than the picture',
    );
    expect(() => shown(gifOf(3, 2, palette, []))).toThrow('no frame');
    expect(() => shown(gifOf(0, 2, palette, [red]))).toThrow('without pixels');
    const many = Array.from({ length: 5001 }, () => ({ width: 1, height: 1, pixels: [1] }));
    expect(() => shown(gifOf(3, 2, palette, many))).toThrow('5000 frames');
    const film = Array.from({ length: 130 }, () => ({ width: 1, height: 1, pixels: [1] }));
    expect(() => shown(gifOf(4000, 4000, palette, film))).toThrow('thousand million');
  });
});
