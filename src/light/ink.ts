// The print as a filter: the share of light that its ink lets through, per channel, for each pixel of a picture.
// An image is scaled by averaging the light that passes its pixels, not its codes: half black, half clear print passes half the light.
// Not here: decoding of files. Assumes codes are sRGB, and ink on a clear sheet: where there is no ink, everything passes.
import { type Image, lightOfCode, partsOf } from '../panel/index.ts';
import { channelCount } from './sources.ts';

export type { Image };

/** The image stretched over columns x rows pixels: red, green, blue of each, 0 opaque to 1 clear. */
export function inkTransmission(image: Image, columns: number, rows: number): Float32Array<ArrayBuffer> {
  const { widthPx, heightPx, rgba } = image;
  const across = partsOf(widthPx, columns);
  const ink = new Float32Array(columns * rows * channelCount);
  const line = new Float64Array(widthPx * channelCount);
  for (const [row, { first, shares }] of partsOf(heightPx, rows).entries()) {
    line.fill(0);
    for (const [i, share] of shares.entries())
      for (let column = 0, to = 0; column < widthPx; column++, to += channelCount) {
        const from = ((first + i) * widthPx + column) * 4;
        const covered = rgba[from + 3]! / 255;
        const clear = 1 - covered;
        line[to]! += share * (clear + covered * lightOfCode[rgba[from]!]!);
        line[to + 1]! += share * (clear + covered * lightOfCode[rgba[from + 1]!]!);
        line[to + 2]! += share * (clear + covered * lightOfCode[rgba[from + 2]!]!);
      }
    for (const [column, part] of across.entries())
      for (let channel = 0; channel < channelCount; channel++) {
        let sum = 0;
        for (const [i, share] of part.shares.entries())
          sum += share * line[(part.first + i) * channelCount + channel]!;
        ink[(row * columns + column) * channelCount + channel] = sum;
      }
  }
  return ink;
}
