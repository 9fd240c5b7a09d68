// The loops that fill a clip's colour table and a cloud's lattice: assembler on the emulated chip, C++ natively and with checked integers give the
// same bytes; and each against its rule, from the comments of colours.h and effects.h, worked out here in exact numbers.
// Not here: whole gradients against OKLab (colours.test.ts), bands' edges on a row of LEDs (effects-*.test.ts).
import { beforeAll, describe, expect, test } from 'vitest';
import { chipOutput } from './chip-output.ts';
import { nativeOutput, nativeProgram } from './native.ts';

const source = 'loops_table_vectors.cpp';
/** As in loops_table_vectors.cpp and the headers it includes. */
const counts = { even: 64, edge: 300, piece: 400, colour: 300, palette: 60, row: 200 };
const tableBytes = 256;
const entryBytes = 4;
/** In an entry; while the table is made, its share stands where its first colour comes. */
const [colourAt, shareAt, restAt] = [0, 0, 3];
const latticeSide = 9;
const [plainKind, tintKind, tintBlend] = [0, 2, 3];

let chip: Uint8Array;
let plain: Uint8Array;
let checked: { bytes: Uint8Array; exitCode: number; stderr: string };

beforeAll(async () => {
  chip = await chipOutput(source, 400e6);
  plain = (await nativeOutput(await nativeProgram(source, 'plain'))).bytes;
  checked = await nativeOutput(await nativeProgram(source, 'checked'));
});

/** The parts of the output by name. */
function parts() {
  const sizes = {
    even: counts.even * tableBytes,
    edge: counts.edge * (8 + 2 * tableBytes),
    piece: counts.piece * (7 + 2 * tableBytes),
    colour: counts.colour * tableBytes,
    palette: counts.palette * (3 + 2 * tableBytes),
    row: counts.row * (2 + latticeSide + 1),
  };
  let at = 0;
  const slices = Object.entries(sizes).map(([name, size]) => {
    at += size;
    return [name, { from: at - size, to: at }] as const;
  });
  expect(plain).toHaveLength(at);
  return Object.fromEntries(slices) as Record<keyof typeof sizes, { from: number; to: number }>;
}
const take = (name: keyof typeof counts): Uint8Array => {
  const { from, to } = parts()[name];
  return plain.subarray(from, to);
};
const cut = (bytes: Uint8Array, size: number): Uint8Array[] =>
  Array.from({ length: bytes.length / size }, (_, i) => bytes.subarray(i * size, (i + 1) * size));

/** a x (k + 1) / 256, cut off. */
const scaled = (a: number, k: number): number => Math.floor((a * (k + 1)) / 256);
/** A 16-bit number as two's complement, and modulo 65,536. */
const signed = (word: number): number => (word >= 0x8000 ? word - 0x10000 : word);
const modulo = (value: number): number => ((value % 0x10000) + 0x10000) % 0x10000;
const word = (bytes: Uint8Array, at: number): number => bytes[at]! + 256 * bytes[at + 1]!;

test.each(['even', 'edge', 'piece', 'colour', 'palette', 'row'] as const)(
  'the emulated chip and checked integers give the bytes of the C++ body: %s',
  (name) => {
    const { from, to } = parts()[name];
    expect(chip).toHaveLength(plain.length);
    for (const bytes of [chip, checked.bytes])
      for (let at = from; at < to; at++)
        if (bytes[at] !== plain[at])
          expect.unreachable(`byte ${at - from}: ${bytes[at]}, C++ says ${plain[at]}`);
  },
);

test('checked integers report nothing', () => {
  expect([checked.stderr, checked.exitCode]).toEqual(['', 0]);
});

describe('by their rules', () => {
  test('even shares go into the first entries’ shares and nowhere else', () => {
    for (const [i, table] of cut(take('even'), tableBytes).entries())
      for (const [at, byte] of table.entries())
        expect(byte).toBe(
          at % entryBytes === shareAt && Math.floor(at / entryBytes) <= i ? ((i + 1) * 5) % 256 : at,
        );
  });

  test('edges rise by their gain until the level is full; an entry that holds less keeps it', () => {
    for (const one of cut(take('edge'), 8 + 2 * tableBytes)) {
      const [left, fade, first, down] = [one[0]!, one[5]!, one[6]!, one[7]!];
      const expected = [...one.subarray(8, 8 + tableBytes)];
      for (let i = 0; i < left; i++) {
        const level = Math.floor((word(one, 1) + i * word(one, 3)) / 256);
        if (level >= 255) break;
        const at = entryBytes * (down ? first - i : first + i) + shareAt;
        expected[at] = Math.min(expected[at]!, scaled(level, fade));
      }
      expect([...one.subarray(8 + tableBytes)]).toEqual(expected);
    }
  });

  const any = (n: number): number => (n * n * 11 + n * 59 + 3) % 256;
  const anyTwelve = (n: number): number[] => Array.from({ length: 12 }, (_, i) => any(n + i));
  interface Piece {
    readonly entries: number;
    readonly bytes: readonly number[];
  }
  const piece = (entries: number, bytes: readonly number[]): Piece => ({ entries, bytes });
  /** The gradients of loops_table_vectors.cpp. */
  const gradients: readonly (readonly Piece[])[] = [
    [piece(64, [0x80, 0x00, 0x80, 0xff, 0x80, 0x7f, 0xf0, 0x03, 0x10, 0xfc, 0, 0])],
    [
      piece(2, [0x80, 0x00, 0x80, 0xff, 0x80, 0x10, 0x00, 0xff, 0x00, 0x81, 0x00, 0x7f]),
      piece(61, [0x80, 0xf0, 0x80, 0x0a, 0x00, 0x80, 0x40, 0xfc, 0xc0, 0x03, 0x01, 0x00]),
      piece(1, [0x7f, 0xff, 0xff, 0x01, 0xff, 0x00, 0, 0, 0, 0, 0, 0]),
    ],
    [piece(1, [0x80, 0x40, 0x80, 0x80, 0x80, 0xff, 0, 0, 0, 0, 0, 0])],
    [
      [3, 2],
      [1, 20],
      [12, 41],
      [1, 62],
      [5, 83],
      [20, 104],
      [7, 125],
    ].map(([entries, from]) => piece(entries!, anyTwelve(from!))),
    [140, 161, 182, 203].map((from) => piece(16, anyTwelve(from))),
  ];
  /** All colours of a gradient, 8.8, looked at `between` 256ths of an entry behind each. */
  const coloursOf = (pieces: readonly Piece[], between: number): number[][] =>
    pieces.flatMap(({ entries, bytes }) =>
      Array.from({ length: entries }, (_, i) =>
        [0, 2, 4].map((at) => {
          const start = bytes[at]! + 256 * bytes[at + 1]!;
          const step = signed(bytes[at + 6]! + 256 * bytes[at + 7]!);
          return modulo(start + i * step + Math.floor((step * between) / 256));
        }),
      ),
    );

  test('a gradient’s pieces fill the table from the colour after those passed over, levelled as the blend needs', () => {
    const seen = new Set<number>();
    for (const one of cut(take('piece'), 7 + 2 * tableBytes)) {
      const [gradient, left, skip, between, kind, flip] = [...one.subarray(0, 6)] as [
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      seen.add(kind);
      const colours = coloursOf(gradients[gradient]!, between).slice(skip, skip + left);
      const expected = [...one.subarray(6, 6 + tableBytes)];
      for (const [i, colour] of colours.entries()) {
        const share = kind === plainKind ? 255 : expected[entryBytes * i + shareAt]!;
        expected[entryBytes * i + restAt] = kind === plainKind ? flip : share ^ flip;
        for (const [c, value] of colour.entries()) {
          const level = Math.floor(value / 256);
          // Tint: the entry says what is kept, so that a share of 0 keeps all.
          expected[entryBytes * i + colourAt + c] =
            kind === tintKind ? 255 - scaled(255 - level, share) : scaled(level, share);
        }
      }
      expect(one[6 + tableBytes]).toBe(left - colours.length);
      expect([...one.subarray(7 + tableBytes)]).toEqual(expected);
    }
    expect(seen.size).toBe(3);
  });

  test('a palette’s colours are what is kept of the shown and what comes of the next; entries behind them stay', () => {
    const six = (from: number) => Array.from({ length: 18 }, (_, i) => any(from + i));
    const palettes = [[255, 128, 1], six(9), [...six(31), ...six(60), ...anyTwelve(90)]];
    const seen = new Set<number>();
    for (const [n, one] of cut(take('palette'), 3 + 2 * tableBytes).entries()) {
      const [share, blend, fade] = [one[0]!, one[1]!, one[2]!];
      seen.add(blend);
      const expected = [...one.subarray(3, 3 + tableBytes)];
      for (const [i, colour] of palettes[n % 3]!.entries()) {
        const [entry, place] = [Math.floor(i / 3), i % 3];
        const level = blend === tintBlend ? 255 - scaled(255 - colour, fade) : scaled(colour, fade);
        expected[entryBytes * entry + restAt] = 255 - fade;
        expected[entryBytes * entry + colourAt + place] = scaled(level, 255 - share);
        expected[entryBytes * (16 + entry) + colourAt + place] = scaled(level, share);
      }
      // Where nothing fades, nobody looks at what comes.
      const looked = (table: readonly number[]) => (share === 0 ? table.slice(0, 64) : table);
      expect(looked([...one.subarray(3 + tableBytes)])).toEqual(looked(expected));
    }
    expect(seen.size).toBe(4);
  });

  /** The two bytes of a x factor, folded together. */
  const folded = (a: number, factor: number): number => Math.floor((a * factor) / 256) ^ ((a * factor) % 256);

  test('a row of dice depends on column and row alone, lies under 128 and ends after nine', () => {
    for (const one of cut(take('row'), 2 + latticeSide + 1)) {
      const [column, chance] = [one[0]!, one[1]!];
      for (let i = 0; i < latticeSide; i++)
        expect(one[2 + i]).toBe(Math.floor(folded(folded((column + i) % 256, 0xb5) ^ chance, 0x9b) / 2));
      expect(one[2 + latticeSide]).toBe(0xa5);
    }
  });
});
