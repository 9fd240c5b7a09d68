// The print as a filter: the share of light that its ink lets through, per channel, for each pixel of a picture.
// An image is scaled by averaging the light that passes its pixels, not its codes: half black, half clear print passes half the light.
// A layer of opacity beside the artwork says where the print is thick or thin: its grey multiplies what the ink lets through.
// Not here: decoding of files. Assumes codes are sRGB, and ink on a clear sheet: where there is no ink, everything passes.
import { codeOfLight, type Image, lightOfCode, partsOf } from '../panel/index.ts';
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

/** Shares of a grey's light in red, green and blue. Source: IEC 61966-2-1, luminance of sRGB. */
const greyOf = (red: number, green: number, blue: number): number =>
  Math.fround(0.2126 * red + 0.7152 * green + 0.0722 * blue);

/**
 * What artwork and opacity layer let through together, stretched over columns x rows pixels as inkTransmission does; undefined without either.
 * Their product is taken on pixels `fineness` times finer each way and then averaged, since edges of both often lie in one place. A white
 * layer leaves every number as it is, a black one leaves nothing.
 */
export function printTransmission(
  artwork: Image | undefined,
  opacity: Image | undefined,
  columns: number,
  rows: number,
  fineness = 2,
): Float32Array<ArrayBuffer> | undefined {
  const ink = artwork && inkTransmission(artwork, columns, rows);
  if (!opacity) return ink;
  const print = ink ?? new Float32Array(columns * rows * channelCount).fill(1);
  const fineColumns = columns * fineness;
  const fineInk = artwork && inkTransmission(artwork, fineColumns, rows * fineness);
  const fineOpacity = inkTransmission(opacity, fineColumns, rows * fineness);
  const alone = new Float64Array(channelCount);
  const both = new Float64Array(channelCount);
  for (let row = 0, to = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      alone.fill(0);
      both.fill(0);
      for (let j = 0; j < fineness; j++) {
        const first = ((row * fineness + j) * fineColumns + column * fineness) * channelCount;
        for (let at = first; at < first + fineness * channelCount; at += channelCount) {
          const grey = greyOf(fineOpacity[at]!, fineOpacity[at + 1]!, fineOpacity[at + 2]!);
          for (let channel = 0; channel < channelCount; channel++) {
            const through = fineInk ? fineInk[at + channel]! : 1;
            alone[channel]! += through;
            both[channel]! += through * grey;
          }
        }
      }
      for (let channel = 0; channel < channelCount; channel++, to++)
        print[to]! *= alone[channel]! > 0 ? both[channel]! / alone[channel]! : 0;
    }
  return print;
}

/**
 * Artwork and opacity layer of one size as one opaque image, for renderers that take the artwork's codes. Where the layer is white, the artwork
 * stays as it is.
 */
export function withOpacity(artwork: Image | undefined, opacity: Image): Image {
  const { widthPx, heightPx } = opacity;
  if (artwork && (artwork.widthPx !== widthPx || artwork.heightPx !== heightPx))
    throw new Error('artwork and opacity layer are to have one size');
  const rgba = artwork
    ? new Uint8ClampedArray(artwork.rgba)
    : new Uint8ClampedArray(widthPx * heightPx * 4).fill(255);
  const light = (image: Uint8Array | Uint8ClampedArray, at: number, channel: number): number => {
    const covered = image[at + 3]! / 255;
    return 1 - covered + covered * lightOfCode[image[at + channel]!]!;
  };
  for (let at = 0; at < rgba.length; at += 4) {
    const layer = opacity.rgba;
    const grey = greyOf(light(layer, at, 0), light(layer, at, 1), light(layer, at, 2));
    if (grey === 1) continue;
    for (let channel = 0; channel < channelCount; channel++)
      rgba[at + channel] = codeOfLight(grey * light(rgba, at, channel));
    rgba[at + 3] = 255;
  }
  return { widthPx, heightPx, rgba };
}
