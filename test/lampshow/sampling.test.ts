// Pictures to painted frames: average light of cells, OKLab against another implementation, the palette, merging, and the errors that are told.
import chroma from 'chroma-js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { linearOf, oklabOf, srgbDecoded, srgbEncoded } from '../../src/lampshow/oklab.ts';
import { paletteOf } from '../../src/lampshow/palette.ts';
import { cellLight, type Picture, paintedFrom, type SampledFrame } from '../../src/lampshow/sampling.ts';

/** A picture of `#rrggbb` or `#rrggbbaa` pixels, row by row. */
function pictureOf(rows: readonly (readonly string[])[]): Picture {
  const bytes = rows
    .flat()
    .flatMap((pixel) => [1, 3, 5, 7].map((at) => Number.parseInt(pixel.slice(at, at + 2) || 'ff', 16)));
  return { widthPx: rows[0]!.length, heightPx: rows.length, rgba: Uint8Array.from(bytes) };
}
const black = '#000000';
const white = '#ffffff';
const frameOf = (rows: readonly (readonly string[])[], holdMs = 100): SampledFrame => ({
  light: cellLight(pictureOf(rows), { columns: rows[0]!.length, rows: rows.length }),
  holdMs,
});
/** OKLab by chroma-js, which has its own matrices. */
const labOf = (hex: string): [number, number, number] => chroma(hex).oklab();
const distance = (a: readonly number[], b: readonly number[]): number =>
  Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!);

describe('[SMP1] colours', () => {
  test('OKLab is that of chroma-js, there and back', () => {
    fc.assert(
      fc.property(fc.nat(0xffffff), (code) => {
        const hex = `#${code.toString(16).padStart(6, '0')}`;
        const linear = [1, 3, 5].map((at) => srgbDecoded(Number.parseInt(hex.slice(at, at + 2), 16) / 255));
        const lab = oklabOf(linear[0]!, linear[1]!, linear[2]!);
        // chroma-js 3.2.0 rounds its matrices elsewhere; a ten-thousandth is a fiftieth of what can be seen.
        expect(distance(lab, labOf(hex))).toBeLessThan(1e-4);
        for (const [channel, value] of linearOf(lab).entries())
          expect(Math.abs(value - linear[channel]!)).toBeLessThan(1e-5);
      }),
    );
  });

  test("sRGB's curve is that of IEC 61966-2-1", () => {
    // The standard's own pieces at three places: below the knee, at half light, at white.
    expect(srgbDecoded(0.04)).toBeCloseTo(0.04 / 12.92, 12);
    expect(srgbEncoded(0.5)).toBeCloseTo(1.055 * 0.5 ** (1 / 2.4) - 0.055, 12);
    expect(srgbDecoded(1)).toBeCloseTo(1, 12);
    for (const encoded of [0, 0.02, 0.04045, 0.3, 0.9])
      expect(srgbEncoded(srgbDecoded(encoded))).toBeCloseTo(encoded, 6);
  });
});

describe('[SMP2] the light of a cell', () => {
  test('is the average of linear light, not of codes', () => {
    const light = cellLight(
      pictureOf([
        [black, white],
        [white, black],
      ]),
      { columns: 1, rows: 1 },
    );
    // Half of the light; encoded it is 188 (IEC 61966-2-1), where the average of codes would be 128.
    expect([...light]).toEqual([0.5, 0.5, 0.5]);
    expect(paintedFrom([{ light, holdMs: 100 }], { columns: 1, rows: 1 })?.effect.palette).toEqual([
      '#bcbcbc',
    ]);
  });

  test('counts a pixel on a border by its share in each cell', () => {
    // Three pixels over two cells: each cell is one pixel and a half.
    const light = cellLight(pictureOf([[white, '#ff0000', black]]), { columns: 2, rows: 1 });
    const third = 1 / 3;
    for (const [i, value] of [1, 2 * third, 2 * third, third, 0, 0].entries())
      expect(light[i]).toBeCloseTo(value, 6);
  });

  test('shows black behind what is transparent', () => {
    const light = cellLight(pictureOf([['#ffffff80', '#ff000000']]), { columns: 2, rows: 1 });
    for (const [i, value] of [128 / 255, 128 / 255, 128 / 255, 0, 0, 0].entries())
      expect(light[i]).toBeCloseTo(value, 6);
  });

  test('of a grid finer than the picture is that of the pixel', () => {
    const light = cellLight(pictureOf([[white, black]]), { columns: 4, rows: 3 });
    expect([...light]).toEqual(
      Array.from({ length: 3 }, () => [...Array(6).fill(1), ...Array(6).fill(0)]).flat(),
    );
  });

  test('is in rows from the top left, and none gets lost', () => {
    const rows = [
      ['#ff0000', '#00ff00', '#0000ff'],
      ['#ffff00', '#00ffff', '#ff00ff'],
    ];
    const light = cellLight(pictureOf(rows), { columns: 3, rows: 2 });
    expect([...light]).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1, 1, 1, 0, 0, 1, 1, 1, 0, 1]);
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 20 }),
        fc.integer({ min: 1, max: 20 }),
        fc.infiniteStream(fc.nat(255)),
        (columns, gridRows, widthPx, heightPx, levels) => {
          const rgba = Uint8Array.from({ length: widthPx * heightPx * 4 }, (_, i) =>
            i % 4 === 3 ? 255 : levels.next().value!,
          );
          const cells = cellLight({ widthPx, heightPx, rgba }, { columns, rows: gridRows });
          for (const channel of [0, 1, 2]) {
            const mean = (values: ArrayLike<number>, step: number, of: (value: number) => number) => {
              let sum = 0;
              for (let at = channel; at < values.length; at += step) sum += of(values[at]!);
              return (sum * step) / values.length;
            };
            expect(mean(cells, 3, (value) => value)).toBeCloseTo(
              mean(rgba, 4, (code) => srgbDecoded(code / 255)),
              4,
            );
          }
        },
      ),
      { numRuns: 50 },
    );
  });
});

describe('[SMP3] the palette', () => {
  test('is the colours themselves where they are few, from dark to bright', () => {
    const made = paintedFrom([frameOf([['#ffe080', black, '#c02040', black]])], { columns: 4, rows: 1 })!;
    expect(made.effect.palette).toEqual([black, '#c02040', '#ffe080']);
    expect(made.effect.frames).toEqual([{ holdMs: 100, cells: '2010' }]);
    expect(made.worstError).toBeLessThan(1e-6);
  });

  test('has no more colours than asked for, and each cell has the nearest of them', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat(0xffffff), { minLength: 12, maxLength: 60 }),
        fc.integer({ min: 1, max: 16 }),
        (codes, most) => {
          const row = codes.map((code) => `#${code.toString(16).padStart(6, '0')}`);
          const made = paintedFrom([frameOf([row])], { columns: row.length, rows: 1 }, most)!;
          const { palette, frames } = made.effect;
          expect(palette.length).toBeLessThanOrEqual(most);
          expect(new Set(palette).size).toBe(palette.length);
          expect(new Set(frames[0]!.cells).size).toBe(palette.length);
          let sum = 0;
          let worst = 0;
          for (const [cell, colour] of row.entries()) {
            const errors = palette.map((one) => distance(labOf(one), labOf(colour)));
            const error = errors[Number.parseInt(frames[0]!.cells.charAt(cell), 16)]!;
            expect(error).toBeLessThanOrEqual(Math.min(...errors) + 1e-3);
            sum += error;
            worst = Math.max(worst, error);
          }
          // What is told is what chroma-js finds.
          expect(Math.abs(made.meanError - sum / row.length)).toBeLessThan(2e-3);
          expect(Math.abs(made.worstError - worst)).toBeLessThan(2e-3);
        },
      ),
      { numRuns: 60 },
    );
  });

  test('finds groups that lie apart, each by its middle', () => {
    // Three groups of five near colours each: no colour may be farther from its group's middle than its group is wide.
    const groups = ['#801010', '#10a030', '#4060f0'].map((middle) =>
      [0, 1, 2, 3, 4].map((i) => {
        const code = Number.parseInt(middle.slice(1), 16) + i * 0x010101;
        return `#${code.toString(16).padStart(6, '0')}`;
      }),
    );
    const made = paintedFrom([frameOf([groups.flat()])], { columns: 15, rows: 1 }, 3)!;
    for (const group of [0, 1, 2])
      expect(new Set(made.effect.frames[0]!.cells.slice(5 * group, 5 * group + 5)).size).toBe(1);
    const widest = Math.max(...groups.map((group) => distance(labOf(group[0]!), labOf(group[4]!))));
    expect(made.worstError).toBeLessThan(widest);
  });

  test('leaves black black among many colours that are nearly black', () => {
    const dark = Array.from(
      { length: 40 },
      (_, i) => `#${(0x010101 * (1 + (i % 4))).toString(16).padStart(6, '0')}`,
    );
    // Beside few bright cells the dark ones have colours of their own; beside many they are nearest to black, and must not draw it up.
    for (const bright of [1, 40]) {
      const row = [black, ...dark, ...Array.from({ length: bright }, () => ['#ff8020', '#20ff80']).flat()];
      for (const most of [2, 3, 4]) {
        const { effect } = paintedFrom([frameOf([row])], { columns: row.length, rows: 1 }, most)!;
        expect(effect.palette[0]).toBe(black);
        expect(effect.frames[0]!.cells.charAt(0)).toBe('0');
      }
    }
  });

  test('does not depend on the order in which colours are met', () => {
    const codes = Array.from({ length: 200 }, (_, i) => [(i * 0x3fa7c1) % 0x1000000, 1 + (i % 5)] as const);
    const straight = paletteOf(new Map(codes), 16);
    const reversed = paletteOf(new Map([...codes].reverse()), 16);
    expect(reversed.palette).toEqual(straight.palette);
    for (const [code] of codes) expect(reversed.numbers.get(code)).toBe(straight.numbers.get(code));
  });

  test('errs less than the same number of colours taken evenly through all', () => {
    // A sunset: two gradients. The 8 corners of the colour cube are the even choice.
    const row = Array.from({ length: 64 }, (_, i) => chroma.mix('#102040', '#ff9040', i / 63, 'rgb').hex());
    const made = paintedFrom([frameOf([row])], { columns: 64, rows: 1 }, 8)!;
    const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((corner) =>
      labOf(`#${[4, 2, 1].map((bit) => (corner & bit ? 'ff' : '00')).join('')}`),
    );
    const even = row.reduce(
      (sum, colour) => sum + Math.min(...corners.map((corner) => distance(corner, labOf(colour)))),
      0,
    );
    expect(made.meanError).toBeLessThan(even / row.length / 4);
    // Eight pieces of a way: no colour is farther than a piece from one of them.
    expect(made.worstError).toBeLessThan(distance(labOf(row[0]!), labOf(row[63]!)) / 7);
  });
});

describe('[SMP4] frames', () => {
  const grid = { columns: 2, rows: 1 };
  const a = [[black, white]];
  const b = [[white, black]];

  test('that equal the one before are held longer instead', () => {
    const made = paintedFrom([frameOf(a, 40), frameOf(a, 60), frameOf(b, 30), frameOf(a, 20)], grid)!;
    expect(made.effect.frames).toEqual([
      { holdMs: 100, cells: '01' },
      { holdMs: 30, cells: '10' },
      { holdMs: 20, cells: '01' },
    ]);
  });

  test('are held as the document can hold them', () => {
    const made = paintedFrom([frameOf(a, 5), frameOf(b, 90_000), frameOf(b, 50), frameOf(a, 33.4)], grid)!;
    expect(made.effect.frames.map((frame) => frame.holdMs)).toEqual([20, 60_000, 50, 33]);
  });

  test('are 250 at most, after equal ones were joined', () => {
    const many = (count: number) => Array.from({ length: count }, (_, i) => frameOf(i % 2 === 0 ? a : b));
    expect(paintedFrom(many(250), grid)?.effect.frames).toHaveLength(250);
    expect(paintedFrom(many(251), grid)).toBeUndefined();
    expect(paintedFrom([...many(250), frameOf(b)], grid)?.effect.frames).toHaveLength(250);
  });

  test('are the same for the same pictures', () => {
    const pictures = Array.from({ length: 6 }, (_, f) =>
      frameOf([Array.from({ length: 40 }, (_, i) => chroma.hsl(i * 9, 0.8, 0.1 + 0.14 * f).hex())]),
    );
    const wide = { columns: 40, rows: 1 };
    expect(paintedFrom(pictures, wide)).toEqual(paintedFrom(pictures, wide));
  });
});
