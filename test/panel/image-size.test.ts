// Sizes of pictures from hand-made first bytes, written after the PNG specification (11.2.2), ITU-T T.81 (B.2.2) and Exif 2.3 (4.6.4).
import { describe, expect, test } from 'vitest';
import { imageSize, imageTooLarge, mostImagePixels, mostPhotoBytes } from '../../src/panel/index.ts';
import { limits } from '../../src/project/index.ts';

const ascii = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));
const big = (value: number, bytes: number): number[] =>
  Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** (bytes - 1 - i)) % 256);
const little = (value: number, bytes: number): number[] => big(value, bytes).reverse();

/** Signature, length of IHDR (13), its type, width, height, 8 bits a channel, colour with alpha. */
const png = (width: number, height: number): Uint8Array =>
  Uint8Array.from([
    ...[0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
    ...big(13, 4),
    ...ascii('IHDR'),
    ...big(width, 4),
    ...big(height, 4),
    ...[8, 6, 0, 0, 0],
  ]);

/** A segment: marker, length (itself included), data. */
const segment = (marker: number, ...data: number[]): number[] => [
  0xff,
  marker,
  ...big(data.length + 2, 2),
  ...data,
];
const app0 = segment(0xe0, ...ascii('JFIF'), 0, 1, 1, 0, 0, 1, 0, 1, 0, 0);
/** Precision, height, width, one component. */
const frame = (width: number, height: number, marker = 0xc0): number[] =>
  segment(marker, 8, ...big(height, 2), ...big(width, 2), 1, 1, 0x11, 0);
const jpeg = (...parts: number[][]): Uint8Array => Uint8Array.from([0xff, 0xd8, ...parts.flat()]);

/** TIFF header, a directory at 8 with the width and the orientation. */
const exif = (orientation: number, number: typeof big, order: string, type = 3): number[] =>
  segment(
    0xe1,
    ...ascii('Exif'),
    0,
    0,
    ...ascii(order),
    ...number(42, 2),
    ...number(8, 4),
    ...number(2, 2),
    ...[...number(256, 2), ...number(4, 2), ...number(1, 4), ...number(999, 4)],
    ...[...number(274, 2), ...number(type, 2), ...number(1, 4), ...number(orientation, 2), 0, 0],
    ...number(0, 4),
  );

describe('the size of a picture', () => {
  test('of a PNG stands in its first chunk', () => {
    expect(imageSize(png(640, 480))).toEqual({ format: 'png', widthPx: 640, heightPx: 480, orientation: 1 });
    expect(imageSize(png(2 ** 31 - 1, 70_000))).toMatchObject({ widthPx: 2 ** 31 - 1, heightPx: 70_000 });
  });

  test.each([0xc0, 0xc1, 0xc2, 0xc3, 0xc5, 0xc9, 0xcf])(
    'of a JPEG stands in its frame header %i',
    (marker) => {
      expect(imageSize(jpeg(app0, frame(4000, 3000, marker)))).toEqual({
        format: 'jpeg',
        widthPx: 4000,
        heightPx: 3000,
        orientation: 1,
      });
    },
  );

  test.each([
    // Huffman tables, an extension and arithmetic conditioning are no frame headers, though they lie between them.
    [0xc4, [0, 1, 2, 3, 4, 5, 6, 7]],
    [0xc8, [8, 0, 1, 0, 1, 1, 1]],
    [0xcc, [0, 0, 0, 0, 0, 0, 0]],
    // A comment that looks like a frame header.
    [0xfe, frame(1, 1)],
  ])('is not looked for in segment %i', (marker, data) => {
    expect(imageSize(jpeg(segment(marker, ...data), frame(300, 200)))).toMatchObject({
      widthPx: 300,
      heightPx: 200,
    });
  });

  test('is found behind fill bytes and markers that stand alone', () => {
    expect(imageSize(jpeg([0xff, 0xff, 0x01], [0xff, 0xd3], [0xff, 0xff], frame(30, 20)))).toMatchObject({
      widthPx: 30,
      heightPx: 20,
    });
  });

  test.each([
    ['MM', big],
    ['II', little],
  ] as const)('of a JPEG on its side is told as seen upright, byte order %s', (order, number) => {
    for (const orientation of [1, 2, 3, 4])
      expect(imageSize(jpeg(app0, exif(orientation, number, order), frame(40, 30)))).toEqual({
        format: 'jpeg',
        widthPx: 40,
        heightPx: 30,
        orientation,
      });
    for (const orientation of [5, 6, 7, 8])
      expect(imageSize(jpeg(exif(orientation, number, order), frame(40, 30)))).toEqual({
        format: 'jpeg',
        widthPx: 30,
        heightPx: 40,
        orientation,
      });
  });

  test('takes an orientation that is none for upright', () => {
    for (const part of [exif(0, big, 'MM'), exif(9, big, 'MM'), exif(6, big, 'MM', 4), exif(6, big, 'XX')])
      expect(imageSize(jpeg(part, frame(40, 30)))).toMatchObject({ widthPx: 40, orientation: 1 });
    const other = segment(0xe1, ...ascii('http://ns'), 0);
    expect(imageSize(jpeg(exif(6, big, 'MM'), other, frame(40, 30)))).toMatchObject({ orientation: 6 });
  });

  test('is unknown where the bytes are no picture, or end early, at whatever byte', () => {
    expect(imageSize(new Uint8Array())).toBeUndefined();
    expect(imageSize(Uint8Array.from(ascii('<svg xmlns="http://www.w3.org/2000/svg"/>')))).toBeUndefined();
    expect(imageSize(png(0, 5))).toBeUndefined();
    // A height of 0 is told after the first scan (T.81, B.2.5); browsers don't read such files.
    expect(imageSize(jpeg(frame(5, 0)))).toBeUndefined();
    expect(imageSize(jpeg(segment(0xda, 1, 2), frame(5, 5)))).toBeUndefined();
    expect(imageSize(jpeg([0xff, 0xe0, 0, 1], frame(5, 5)))).toBeUndefined();
    for (const whole of [
      png(640, 480).subarray(0, 24),
      jpeg(app0, exif(6, little, 'II'), frame(40, 30).slice(0, 9)),
    ])
      for (let length = 0; length <= whole.length; length++)
        expect(imageSize(whole.subarray(0, length)) === undefined).toBe(length < whole.length);
  });

  test('is found in bytes that begin within a larger buffer', () => {
    const padded = Uint8Array.from([1, 2, 3, ...png(640, 480)]);
    expect(imageSize(padded.subarray(3))).toMatchObject({ widthPx: 640, heightPx: 480 });
  });
});

describe('a picture that is too large', () => {
  test('in bytes is refused with both figures: 200 MB, and one byte too many', () => {
    expect(imageTooLarge(new Uint8Array(200e6), limits.imageBytes)).toMatchObject({
      code: 'artwork-too-large',
      at: '/panel/artwork',
      expected: 'at most 8 MiB',
      found: '190.7 MiB',
    });
    expect(imageTooLarge(new Uint8Array(limits.imageBytes), limits.imageBytes)).toBeUndefined();
    expect(imageTooLarge(new Uint8Array(limits.imageBytes + 1), limits.imageBytes)).toBeDefined();
    expect(imageTooLarge(new Uint8Array(limits.imageBytes + 1), mostPhotoBytes)).toBeUndefined();
  });

  test('in pixels is refused from its first bytes, PNG and JPEG', () => {
    for (const bytes of [png(1e6, 1e6), jpeg(app0, frame(65_535, 65_535))])
      expect(imageTooLarge(bytes, limits.imageBytes)).toMatchObject({
        code: 'artwork-too-large',
        expected: 'at most 100 million pixels',
      });
    expect(imageTooLarge(png(10_000, 10_000), limits.imageBytes)).toBeUndefined();
    expect(imageTooLarge(png(10_000, 10_001), limits.imageBytes)?.found).toBe('10000 x 10001');
    expect(mostImagePixels).toBe(100e6);
  });

  test('where the bytes tell no size is left to the decoder', () => {
    expect(imageTooLarge(Uint8Array.from(ascii('<svg/>')), limits.imageBytes)).toBeUndefined();
  });
});
