// Painted frames: which cell an LED takes, how cells are packed, the bytes by show_data.h, and the rules that a schema can't say.
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cellsOf } from '../../src/lampshow/cells.ts';
import { framesBytes, packFrames, paletteBytes, writeFrames } from '../../src/lampshow/painted.ts';
import { areaLeds, layOut, type PointMm } from '../../src/panel/index.ts';
import {
  type Clip,
  checkProject,
  type Effect,
  type PaintedEffect,
  type Project,
} from '../../src/project/index.ts';
import { paintedProblems } from '../../src/project/rules-painted.ts';
import { root } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const at = (xMm: number, yMm: number): PointMm => ({ xMm, yMm });

/** Value of a name in show_data.h. */
const header = readFileSync(`${root}/firmware-templates/player/show_data.h`, 'utf8');
const named = (name: string): number => {
  const value = new RegExp(`\\b${name} = (\\d+)`).exec(header)?.[1];
  if (value === undefined) throw new Error(`show_data.h has no ${name}`);
  return Number(value);
};

const painted = (parts: Partial<PaintedEffect>): PaintedEffect => ({
  kind: 'painted',
  columns: 2,
  rows: 1,
  palette: ['#000000', '#ffffff'],
  frames: [{ holdMs: 100, cells: '01' }],
  ...parts,
});

/** Collects what is put, as the show compiler does. */
function store() {
  const bytes: number[] = [];
  const put = (added: Uint8Array): number => {
    const offset = bytes.length;
    bytes.push(...added);
    return offset;
  };
  return { bytes, put };
}

/** Colour number of one LED, read as FrameEntry in show_data.h says: lowest bits first. */
function colourOf(cells: Uint8Array, bits: number, led: number): number {
  let colour = 0;
  for (let bit = 0; bit < bits; bit++) {
    const place = led * bits + bit;
    colour += ((cells[Math.floor(place / 8)]! >> (place % 8)) % 2) * 2 ** bit;
  }
  return colour;
}

describe('[PNT1] the cell of an LED', () => {
  test('[P-1] is the one that its place falls in, when the grid lies over the box around the LEDs', () => {
    // A box of 90 x 40 mm from (10, 20): cells of 30 x 20 mm in 3 columns and 2 rows.
    const leds = [at(10, 20), at(39, 39), at(41, 20), at(69, 41), at(71, 60), at(100, 60), at(10, 60)];
    expect(cellsOf(leds, { columns: 3, rows: 2 })).toEqual([0, 0, 1, 4, 5, 5, 3]);
  });

  test('[P-1] behind a border is the next one, and the last one at the far edge', () => {
    expect(cellsOf([at(0, 0), at(10, 0), at(20, 0), at(30, 0)], { columns: 3, rows: 1 })).toEqual([
      0, 1, 2, 2,
    ]);
  });

  test('[P-2] is the middle row for one row of LEDs, the middle column for one column, of two the further one', () => {
    const row = [at(0, 7), at(10, 7)];
    expect(cellsOf(row, { columns: 2, rows: 5 })).toEqual([4, 5]);
    expect(cellsOf(row, { columns: 2, rows: 4 })).toEqual([4, 5]);
    expect(cellsOf([at(3, 0), at(3, 10)], { columns: 3, rows: 2 })).toEqual([1, 4]);
    expect(cellsOf([at(3, 3)], { columns: 64, rows: 1 })).toEqual([32]);
    expect(cellsOf([], { columns: 3, rows: 2 })).toEqual([]);
  });

  test('is its own where a grid as fine as the LEDs lies over rows of strip, laid from either side', () => {
    const project = projectOf({ runs: rowsOfStrip(120) });
    const { wireLeds } = layOut(project);
    const cells = cellsOf(wireLeds, { columns: 30, rows: 4 });
    // Rows go back and forth (rowsOfStrip), so LED i of an odd row is column 29 - i.
    const expected = Array.from({ length: 120 }, (_, i) => {
      const row = Math.floor(i / 30);
      return row * 30 + (row % 2 === 0 ? i % 30 : 29 - (i % 30));
    });
    expect(cells).toEqual(expected);
  });

  test('is the same column in every row, laid from either side, even where an LED lies on a border', () => {
    // 31 LEDs a row: the 16th lies in the middle, on the border of 2 columns; so do two more in 6 columns.
    const { wireLeds } = layOut(projectOf({ runs: rowsOfStrip(124, 31) }));
    for (const columns of [2, 3, 5, 6, 10, 15]) {
      const cells = cellsOf(wireLeds, { columns, rows: 1 });
      for (let i = 0; i < 31; i++) expect(cells[31 + i]).toBe(cells[30 - i]);
      expect(cells[15]).toBe(Math.floor(columns / 2));
    }
  });
});

describe('[PNT2] packing', () => {
  test('[P-3] takes the least bits that hold the palette', () => {
    const bits = (count: number) =>
      packFrames(
        painted({
          palette: Array.from({ length: count }, () => '#000000') as never,
          frames: [{ holdMs: 20, cells: '00' }],
        }),
        [at(0, 0)],
      ).bits;
    expect([1, 2, 3, 4, 5, 16].map(bits)).toEqual([1, 1, 2, 2, 4, 4]);
  });

  test('[P-4] puts the first LED into the lowest bits', () => {
    const leds = Array.from({ length: 9 }, (_, i) => at(i, 0));
    const one = packFrames(painted({ columns: 9, frames: [{ holdMs: 100, cells: '101100001' }] }), leds)
      .entries[0]!;
    // LEDs 0, 2, 3 and 8: bits 0, 2, 3 of the first byte, bit 0 of the second.
    expect([...one.cells]).toEqual([0b00001101, 1]);
    const palette = ['#000000', '#110000', '#220000', '#330000', '#440000'] as never;
    const four = packFrames(
      painted({ columns: 3, palette, frames: [{ holdMs: 100, cells: '423' }] }),
      leds.slice(0, 3),
    ).entries[0]!;
    expect([...four.cells]).toEqual([0x24, 0x03]);
  });

  test('keeps a painted place its colour whatever the wiring is', () => {
    const effect = painted({
      columns: 7,
      rows: 3,
      palette: ['#000000', '#ff0000', '#00ff00', '#0000ff', '#ffffff'],
      frames: [{ holdMs: 100, cells: '012340123401234012340' }],
    });
    const byPlace = (project: Project) => {
      const layout = layOut(project);
      const leds = areaLeds(layout, project.areas[0]!).map(({ wire }) => layout.wireLeds[wire]!);
      const { bits, entries } = packFrames(effect, leds);
      return new Map(
        leds.map((led, i) => [`${led.run} ${led.led}`, colourOf(entries[0]!.cells, bits, i)] as const),
      );
    };
    const project = projectOf({ runs: rowsOfStrip(150) });
    const rerouted: Project = {
      ...project,
      dataLines: [{ pin: 6, chain: [3, 0, 4, 2, 1].map((row) => ({ run: `row-${row}` })) }],
    };
    const here = byPlace(project);
    expect([...byPlace(rerouted)].sort()).toEqual([...here].sort());
    // Top left and bottom right cells, from the effect's own text: '0' and '0'; the cell right of the first is '1'.
    expect(here.get('row-0 0')).toBe(0);
    expect(here.get('row-0 5')).toBe(1);
  });

  test('holds what every cell says', () => {
    fc.assert(
      fc.property(
        fc.record({
          columns: fc.integer({ min: 1, max: 9 }),
          rows: fc.integer({ min: 1, max: 9 }),
          colours: fc.integer({ min: 1, max: 16 }),
          picks: fc.array(fc.nat(15), { minLength: 81, maxLength: 81 }),
          places: fc.array(fc.tuple(fc.nat(500), fc.nat(500)), { minLength: 1, maxLength: 60 }),
        }),
        ({ columns, rows, colours, picks, places }) => {
          const cells = picks.slice(0, columns * rows).map((pick) => pick % colours);
          const leds = places.map(([x, y]) => at(x, y));
          const packed = packFrames(
            painted({
              columns,
              rows,
              palette: Array.from({ length: colours }, () => '#123456') as never,
              frames: [{ holdMs: 20, cells: cells.map((cell) => cell.toString(16)).join('') }],
            }),
            leds,
          );
          const cellOf = cellsOf(leds, { columns, rows });
          for (let led = 0; led < leds.length; led++)
            expect(colourOf(packed.entries[0]!.cells, packed.bits, led)).toBe(cells[cellOf[led]!]);
        },
      ),
    );
  });

  test('[P-5] starts each frame where the one before ends, and fades into no equal one', () => {
    const { entries, lengthMs } = packFrames(
      painted({
        frames: [
          { holdMs: 100, fadeMs: 40, cells: '01' },
          { holdMs: 250, fadeMs: 250, cells: '10' },
          { holdMs: 20, fadeMs: 20, cells: '10' },
          { holdMs: 60_000, cells: '01' },
        ],
      }),
      [at(0, 0), at(1, 0)],
    );
    expect(entries.map(({ startMs, fadeMs }) => [startMs, fadeMs])).toEqual([
      [0, 40],
      [100, 0],
      [350, 20],
      [370, 0],
    ]);
    expect(lengthMs).toBe(60_370);
  });
});

describe('[PNT3] the bytes', () => {
  const leds = [at(0, 0), at(1, 0), at(2, 0)];
  const effect = painted({
    columns: 3,
    palette: ['#000000', '#ff0000', '#00ff00'],
    frames: [
      { holdMs: 300, fadeMs: 260, cells: '012' },
      { holdMs: 70_000 - 300 - 10_000, cells: '210' },
      { holdMs: 10_000, cells: '012' },
    ],
  });

  test('are what show_data.h names', () => {
    const packed = packFrames(effect, leds);
    const { bytes, put } = store();
    put(Uint8Array.of(9, 9));
    const offset = writeFrames(put, packed);
    const view = new DataView(Uint8Array.from(bytes).buffer);
    expect(view.getUint8(offset + named('framesBits'))).toBe(2);
    expect(view.getUint16(offset + named('framesCount'), true)).toBe(3);
    expect(view.getUint32(offset + named('framesLengthMs'), true)).toBe(70_000);
    const entries = [0, 1, 2].map((entry) => {
      const from = offset + named('framesList') + entry * named('frameEntrySize');
      const cells = view.getUint16(from + named('frameCells'), true);
      return [
        view.getUint32(from + named('frameStartMs'), true),
        view.getUint16(from + named('frameFadeMs'), true),
        view.getUint8(cells),
      ];
    });
    // Colours 0, 1, 2 in two bits each, lowest first: 2 x 16 + 1 x 4 + 0; and 0 x 16 + 1 x 4 + 2.
    expect(entries).toEqual([
      [0, 260, 36],
      [300, 0, 6],
      [60_000, 0, 36],
    ]);
  });

  test('[P-9] hold equal frames once, and are as many as told', () => {
    const packed = packFrames(effect, leds);
    const { bytes, put } = store();
    writeFrames(put, packed);
    // Two different frames of one byte each.
    expect(bytes.length).toBe(named('framesList') + 3 * named('frameEntrySize') + 2);
    expect(framesBytes(packed)).toBe(bytes.length);
  });

  test('[P-8] of a palette are its mark, its count and its colours in wire order', () => {
    expect([named('paletteMark'), named('paletteCount'), named('paletteColours')]).toEqual([0, 1, 2]);
    expect([...paletteBytes(['#102030', '#FFa00b'], 'GRB')]).toEqual([
      0, 2, 0x20, 0x10, 0x30, 0xa0, 0xff, 0x0b,
    ]);
    expect([...paletteBytes(['#102030'], 'BGR')]).toEqual([0, 1, 0x30, 0x20, 0x10]);
  });
});

/** A project whose only clip plays this effect. */
const projectWith = (effect: Effect): Project => {
  const clip: Clip = {
    startMs: 0,
    lengthMs: 1000,
    area: 'everything',
    gradient: 'sea',
    blend: 'over',
    effect,
  };
  return projectOf({
    runs: rowsOfStrip(30),
    lampshows: [{ id: 'attract', lengthMs: 1000, rows: [{ id: 'row', clips: [clip] }] }],
  });
};

describe('[PNT4] rules that the schema can not say', () => {
  const found = (parts: Partial<PaintedEffect>) =>
    paintedProblems(painted(parts), '/effect').map(({ code, at: place }) => [code, place]);

  test('as many cells as the grid has', () => {
    expect(found({})).toEqual([]);
    for (const cells of ['0', '010'])
      expect(found({ frames: [{ holdMs: 100, cells }] })).toEqual([
        ['painted-cells', '/effect/frames/0/cells'],
      ]);
  });

  test('only colours of the palette', () => {
    expect(found({ frames: [{ holdMs: 100, cells: '02' }] })).toEqual([
      ['painted-colour', '/effect/frames/0/cells'],
    ]);
  });

  test('no fade longer than the hold', () => {
    const frames = (fadeMs: number): PaintedEffect['frames'] => [
      { holdMs: 100, cells: '01' },
      { holdMs: 100, fadeMs, cells: '10' },
    ];
    expect(found({ frames: frames(100) })).toEqual([]);
    expect(found({ frames: frames(101) })).toEqual([['painted-fade', '/effect/frames/1/fadeMs']]);
  });

  test('are told when a project is read, with the place in the file', () => {
    const frames = (cells: string): PaintedEffect['frames'] => [{ holdMs: 100, cells }];
    expect(checkProject(projectWith(painted({ frames: frames('01') }))).ok).toBe(true);
    const refused = checkProject(projectWith(painted({ frames: frames('011') })));
    expect(refused.ok ? [] : refused.problems.map((problem) => problem.at)).toEqual([
      '/lampshows/0/rows/0/clips/0/effect/frames/0/cells',
    ]);
  });

  test('other effects have none of them', () => {
    expect(paintedProblems({ kind: 'glow' }, '/effect')).toEqual([]);
  });
});

describe('[PNT5] limits, on both sides', () => {
  const grid = (columns: number, rows: number): Effect =>
    painted({ columns, rows, frames: [{ holdMs: 20, cells: '0'.repeat(columns * rows) }] });
  const colours = (count: number): Effect =>
    painted({ palette: Array.from({ length: count }, () => '#000000') as never });
  const frames = (count: number): Effect =>
    painted({ frames: Array.from({ length: count }, () => ({ holdMs: 20, cells: '01' })) as never });
  const hold = (holdMs: number): Effect => painted({ frames: [{ holdMs, cells: '01' }] });
  const text = (length: number): Effect => ({ kind: 'letters', text: 'A'.repeat(length) });
  const pass = (passSeconds: number): Effect => ({ kind: 'letters', text: 'A', passSeconds });

  test.each<[string, Effect, Effect]>([
    ['64 columns', grid(64, 64), grid(65, 64)],
    ['64 rows', grid(1, 64), grid(1, 65)],
    ['16 colours', colours(16), colours(17)],
    ['a colour', painted({ palette: ['#000000'], frames: [{ holdMs: 20, cells: '00' }] }), colours(0)],
    ['250 frames', frames(250), frames(251)],
    ['a frame', frames(1), frames(0)],
    ['a hold of 20 ms', hold(20), hold(19)],
    ['a hold of a minute', hold(60_000), hold(60_001)],
    ['60 characters', text(60), text(61)],
    ['a character', text(1), text(0)],
    ['a pass of 0.2 s', pass(0.2), pass(0.19)],
    ['a pass of 600 s', pass(600), pass(601)],
  ])('%s', (_, within, beyond) => {
    expect(checkProject(projectWith(within)).ok).toBe(true);
    expect(checkProject(projectWith(beyond)).ok).toBe(false);
  });
});
