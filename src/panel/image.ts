// Images as pixels, and bringing one down to fewer: each new pixel takes the average light of the part of the image it stands for, so that
// nothing finer than a pixel makes patterns of its own.
// Not here: decoding files, straightening photos (photo.ts), what ink does to light (src/light/ink.ts).
import { codeOfLight, lightOfCode } from './srgb.ts';

export interface Image {
  readonly widthPx: number;
  readonly heightPx: number;
  /** 8-bit red, green, blue, alpha in sRGB, row by row from the top left; colours not multiplied by alpha. */
  readonly rgba: Uint8Array | Uint8ClampedArray;
}

/** A part of a line of pixels: the first pixel under it, and the share of the part that this one and each further one takes. */
export interface LinePart {
  readonly first: number;
  readonly shares: readonly number[];
}

/** For each of `count` equal parts of a line of `length` pixels: the pixels under it, and how much of its width each one takes. */
export function partsOf(length: number, count: number): LinePart[] {
  return Array.from({ length: count }, (_, part) => {
    const from = (part * length) / count;
    const to = ((part + 1) * length) / count;
    const first = Math.min(length - 1, Math.floor(from));
    const last = Math.max(first, Math.min(length - 1, Math.ceil(to) - 1));
    const shares = Array.from(
      { length: last - first + 1 },
      (_, i) => (Math.min(to, first + i + 1) - Math.max(from, first + i)) / (to - from),
    );
    return { first, shares };
  });
}

/** Writes a pixel whose light, already multiplied by its alpha, and alpha are given as sums over `weight`. */
export function writePixel(
  rgba: Uint8ClampedArray,
  at: number,
  red: number,
  green: number,
  blue: number,
  alpha: number,
  weight: number,
): void {
  if (alpha <= 0) return;
  // Rounding may carry a sum a hair above what it is made of.
  rgba[at] = codeOfLight(Math.min(1, red / alpha));
  rgba[at + 1] = codeOfLight(Math.min(1, green / alpha));
  rgba[at + 2] = codeOfLight(Math.min(1, blue / alpha));
  rgba[at + 3] = Math.round((255 * alpha) / weight);
}

/** The image in another number of pixels, each the average light of its part. Meant for fewer pixels; more are drawn as blocks. */
export function scaledImage({ widthPx, heightPx, rgba }: Image, columns: number, rows: number): Image {
  const across = partsOf(widthPx, columns);
  const scaled = new Uint8ClampedArray(columns * rows * 4);
  const line = new Float64Array(widthPx * 4);
  for (const [row, down] of partsOf(heightPx, rows).entries()) {
    line.fill(0);
    for (const [i, share] of down.shares.entries()) {
      const first = (down.first + i) * widthPx * 4;
      for (let at = 0; at < line.length; at += 4) {
        const alpha = (share * rgba[first + at + 3]!) / 255;
        line[at]! += alpha * lightOfCode[rgba[first + at]!]!;
        line[at + 1]! += alpha * lightOfCode[rgba[first + at + 1]!]!;
        line[at + 2]! += alpha * lightOfCode[rgba[first + at + 2]!]!;
        line[at + 3]! += alpha;
      }
    }
    for (const [column, part] of across.entries()) {
      const sums = [0, 0, 0, 0];
      for (const [i, share] of part.shares.entries())
        for (let channel = 0; channel < 4; channel++)
          sums[channel]! += share * line[(part.first + i) * 4 + channel]!;
      writePixel(scaled, (row * columns + column) * 4, sums[0]!, sums[1]!, sums[2]!, sums[3]!, 1);
    }
  }
  return { widthPx: columns, heightPx: rows, rgba: scaled };
}
