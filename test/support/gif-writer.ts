// Writes small GIFs for tests, from the format's own text (GIF89a): every pixel as a code of its own, and a clear code before the code size would grow.
// Not a compressor, and no part of the program.

export interface GifFrame {
  readonly left?: number;
  readonly top?: number;
  readonly width: number;
  readonly height: number;
  /** Numbers of colours, row by row from the top left. */
  readonly pixels: readonly number[];
  readonly delayHundredths?: number;
  readonly disposal?: 0 | 1 | 2 | 3;
  readonly transparent?: number;
  readonly interlaced?: boolean;
  readonly palette?: readonly (readonly [number, number, number])[];
}

/** Four colours: 2 bits a pixel, so codes have 3 bits, 4 clears, 5 ends (GIF89a, appendix F). */
const codeSize = 2;
const clear = 4;
const end = 5;

const u16 = (value: number): number[] => [value & 255, value >> 8];

function packed(pixels: readonly number[]): number[] {
  // The table grows by one code a pixel from 6 on; at 8 codes would need 4 bits, so it is cleared after each second pixel.
  const codes = [...pixels.flatMap((pixel, i) => (i % 2 === 0 ? [clear, pixel] : [pixel])), end];
  const bytes: number[] = [];
  let held = 0;
  let bits = 0;
  for (const code of codes) {
    held |= code << bits;
    bits += codeSize + 1;
    for (; bits >= 8; bits -= 8) {
      bytes.push(held & 255);
      held >>= 8;
    }
  }
  if (bits > 0) bytes.push(held & 255);
  const blocks: number[] = [];
  for (let at = 0; at < bytes.length; at += 255) {
    const block = bytes.slice(at, at + 255);
    blocks.push(block.length, ...block);
  }
  return [codeSize, ...blocks, 0];
}

/** Rows in the order of the four passes (GIF89a, appendix E). */
function interlacedRows({ width, height, pixels }: GifFrame): number[] {
  const passes = [
    [0, 8],
    [4, 8],
    [2, 4],
    [1, 2],
  ] as const;
  return passes.flatMap(([first, step]) => {
    const rows: number[] = [];
    for (let row = first; row < height; row += step)
      rows.push(...pixels.slice(row * width, (row + 1) * width));
    return rows;
  });
}

/** A GIF89a of four colours. */
export function gifOf(
  width: number,
  height: number,
  palette: readonly (readonly [number, number, number])[],
  frames: readonly GifFrame[],
): Uint8Array {
  const four = (colours: readonly (readonly [number, number, number])[]): number[] =>
    Array.from({ length: 4 }, (_, i) => colours[i] ?? [0, 0, 0]).flat();
  const bytes = [
    ...Buffer.from('GIF89a'),
    ...u16(width),
    ...u16(height),
    0b1000_0001,
    0,
    0,
    ...four(palette),
  ];
  for (const frame of frames) {
    const flags = ((frame.disposal ?? 0) << 2) | (frame.transparent === undefined ? 0 : 1);
    bytes.push(0x21, 0xf9, 4, flags, ...u16(frame.delayHundredths ?? 10), frame.transparent ?? 0, 0);
    bytes.push(
      0x2c,
      ...u16(frame.left ?? 0),
      ...u16(frame.top ?? 0),
      ...u16(frame.width),
      ...u16(frame.height),
    );
    bytes.push((frame.palette ? 0b1000_0001 : 0) | (frame.interlaced ? 0b0100_0000 : 0));
    if (frame.palette) bytes.push(...four(frame.palette));
    bytes.push(...packed(frame.interlaced ? interlacedRows(frame) : frame.pixels));
  }
  return Uint8Array.from([...bytes, 0x3b]);
}
