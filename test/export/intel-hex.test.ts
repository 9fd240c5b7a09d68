// Intel HEX against published records and against an independent reader.
import fc from 'fast-check';
import hexReader from 'nrf-intel-hex';
import { describe, expect, test } from 'vitest';
import { readHex, withBytes, writeHex } from '../../src/board/index.ts';

const image = (at: number, bytes: readonly number[]) => new Map(bytes.map((byte, i) => [at + i, byte]));
const bytesOf = (hexPairs: string) => (hexPairs.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16));

describe('[HEX1] records', () => {
  // Records as printed in public descriptions of the format; checksums recomputed by hand.
  test.each([
    [0x0123, '010203', ':03012300010203D3'],
    [0xfedc, '210080CF', ':04FEDC00210080CFB2'],
    [0x0100, '214601360121470136007EFE09D21901', ':10010000214601360121470136007EFE09D2190140'],
    [0x0000, '0C9434000C9434000C9434000C943400', ':100000000C9434000C9434000C9434000C943400A0'],
  ])('bytes at %i are written with their checksum', (at, pairs, record) => {
    expect(writeHex(image(at, bytesOf(pairs)))).toBe(`${record}\n:00000001FF\n`);
  });

  test('a record whose sum is wrong is our own fault and throws', () => {
    expect(() => readHex(':03012300010203D4\n:00000001FF\n')).toThrow(/bad Intel HEX record/);
    expect(() => readHex(':03012300010203D3\n')).toThrow(/end record/);
  });
});

describe('[HEX2] any image', () => {
  const anyImage = fc.uniqueArray(fc.tuple(fc.integer({ min: 0, max: 0x7fff }), fc.nat(255)), {
    selector: ([at]) => at,
    maxLength: 300,
  });

  test('an independent reader finds the same bytes, and so do we', () => {
    fc.assert(
      fc.property(anyImage, (entries) => {
        const written = writeHex(new Map(entries));
        const theirs = new Map<number, number>();
        for (const [at, block] of hexReader.fromHex(written))
          block.forEach((byte: number, i: number) => {
            theirs.set(at + i, byte);
          });
        const wanted = [...entries].sort(([a], [b]) => a - b);
        expect([...theirs].sort(([a], [b]) => a - b)).toEqual(wanted);
        expect([...readHex(written)].sort(([a], [b]) => a - b)).toEqual(wanted);
      }),
      { seed: 8, numRuns: 60 },
    );
  });

  test('bytes laid over an image replace what was there and leave the rest', () => {
    const merged = withBytes(image(10, [1, 2, 3, 4]), 12, Uint8Array.from([9, 9, 9]));
    expect([...merged]).toEqual([
      [10, 1],
      [11, 2],
      [12, 9],
      [13, 9],
      [14, 9],
    ]);
  });
});
