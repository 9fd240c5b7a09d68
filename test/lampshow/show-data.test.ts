// The show data's layout: what show_data.h says and what the compiler writes, read by this test on its own. Not here: clips and what they point to
// (show-data-clips.test.ts), lines, segments, gamma tables (line-data.test.ts), events and inputs (event-data.test.ts).
import { describe, expect, test } from 'vitest';
import {
  clipSize,
  crc16,
  eventSize,
  frameEntrySize,
  framesHeaderSize,
  headerSize,
  lineSize,
  parameterBytes,
  playerEffects,
  segmentSize,
  showDataFormat,
  showDataMagic,
} from '../../src/lampshow/index.ts';
import { at, compiled, headerText, namesOf, project } from './show-data-reader.ts';

describe('show_data.h', () => {
  /** A record's fields in their order, with the sizes that their comments tell; the last constant is the record's size. */
  const recordOf = (name: string) => {
    const [, body] = new RegExp(`enum ${name} \\{([^}]*)\\}`).exec(headerText)!;
    return [...body!.matchAll(/(\w+) = (\d+),?\s*(?:\/\/ (?:(\d+) x )?(?:u(8|16|32)\b|(\d+) bytes))?/g)].map(
      ([, field, offset, times, bits, bytes]) => ({
        field: field!,
        offset: Number(offset),
        size: bytes ? Number(bytes) : bits ? (Number(times ?? 1) * Number(bits)) / 8 : undefined,
      }),
    );
  };

  test.each([
    ['Header', 27],
    ['Line', 8],
    ['Segment', 7],
    ['Span', 4],
    ['Gradient', 4],
    ['Clip', 14],
    ['Envelope', 3],
    ['FrameEntry', 4],
    ['Event', 9],
  ])('the fields of enum %s lie one behind the other', (name, least) => {
    const fields = recordOf(name);
    expect(fields.length).toBeGreaterThanOrEqual(least);
    let offset = 0;
    for (const [i, field] of fields.entries()) {
      expect(field.offset, field.field).toBe(offset);
      // Only the last one, the size, is no field.
      expect(field.size === undefined, field.field).toBe(i === fields.length - 1);
      offset += field.size ?? 0;
    }
  });

  test('and the compiler agree on sizes, numbers and magic', () => {
    expect({
      headerSize,
      clipSize,
      lineSize,
      segmentSize,
      eventSize,
      framesList: framesHeaderSize,
      frameEntrySize,
      parameterBytes,
      showDataMagic,
      showDataFormat,
    }).toEqual(
      Object.fromEntries(
        [
          'headerSize',
          'clipSize',
          'lineSize',
          'segmentSize',
          'eventSize',
          'framesList',
          'frameEntrySize',
          'parameterBytes',
          'showDataMagic',
          'showDataFormat',
        ].map((name) => [name, at(name)]),
      ),
    );
  });

  test('and the compiler agree on the number of every effect', () => {
    const names = Object.entries(playerEffects).map(([kind, number]) => [
      `effect${kind[0]!.toUpperCase()}${kind.slice(1)}`,
      number,
    ]);
    const numbers = namesOf(/^effect[A-Z]/).map((name) => [name, at(name)]);
    expect(new Map([...names, ['effectCount', names.length]] as [string, number][])).toEqual(
      new Map(numbers as [string, number][]),
    );
  });
});

test('the check is CRC-16/IBM-3740: 0x29B1 over "123456789" (catalogue of parametrised CRC algorithms)', () => {
  expect(crc16(new TextEncoder().encode('123456789'))).toBe(0x29b1);
  expect(crc16(new Uint8Array())).toBe(0xffff);
});

const data = compiled(project, 'win');
const { u8, u16, u32, entry, clip } = data;

describe('the compiler writes what show_data.h names', () => {
  test('every field of the header', () => {
    const follows = (before: number, after: number) => expect(after).toBeGreaterThan(before);
    const fields: Readonly<Record<string, number>> = {
      headerMagic: u16(at('headerMagic')),
      headerFormat: u8(at('headerFormat')),
      headerFrameMs: u8(at('headerFrameMs')),
      headerSize16: u16(at('headerSize16')),
      headerCheck: u16(at('headerCheck')),
      headerLedCount: u16(at('headerLedCount')),
      headerLineCount: u8(at('headerLineCount')),
      headerOrderCount: u8(at('headerOrderCount')),
      headerAreaCount: u8(at('headerAreaCount')),
      headerGradientCount: u8(at('headerGradientCount')),
      headerShowCount: u8(at('headerShowCount')),
      headerEventCount: u8(at('headerEventCount')),
      headerStartShow: u8(at('headerStartShow')),
      headerInputs: u8(at('headerInputs')) & (at('inputSerial') | at('inputI2c')),
      headerLimited: u8(at('headerLimited')),
      headerRoomPort: u16(at('headerRoomPort')),
      headerRoomMask: u8(at('headerRoomMask')),
      headerI2cAddress: u8(at('headerI2cAddress')),
    };
    expect(fields).toEqual({
      headerMagic: 0x4c57,
      headerFormat: 3,
      headerFrameMs: 25,
      headerSize16: data.bytes.length,
      headerCheck: crc16(data.bytes.subarray(at('headerLedCount'))),
      headerLedCount: 60,
      headerLineCount: 1,
      headerOrderCount: 2,
      headerAreaCount: 2,
      // Ember in its use by the glow, sea in that by the letters, and a palette.
      headerGradientCount: 3,
      headerShowCount: 2,
      headerEventCount: 2,
      headerStartShow: 1,
      headerInputs: at('inputSerial') + at('inputI2c'),
      headerLimited: 1,
      // Pin 7 is bit 7 of port D, whose PIND register lies at 0x29 (ATmega328P data sheet).
      headerRoomPort: 0x29,
      headerRoomMask: 0x80,
      headerI2cAddress: 42,
    });
    // 40 % of 255, and 50 % and 20 % of that.
    expect([0, 1, 2].map((step) => u8(at('headerRoomScales') + step))).toEqual([102, 51, 20]);
    // 1 A less 60 x 0.6 mA at rest, in units of a channel's 12 mA, times 255; the unit is so fine that rounding is under a thousandth.
    const segment = u16(u16(at('headerLines')) + at('lineSegments'));
    const budget = u32(at('headerBudget')) / u16(segment + at('segmentCurrent'));
    expect(Math.abs(budget / ((255 * 964) / 12) - 1)).toBeLessThan(0.001);
    const offsets = [
      'headerLines',
      'headerAreas',
      'headerGradients',
      'headerShows',
      'headerEvents',
      'headerText',
    ];
    let before = headerSize - 1;
    for (const name of offsets) {
      follows(before, u16(at(name)));
      before = u16(at(name));
    }
    expect(String.fromCharCode(...data.bytes.subarray(before + 1, before + 1 + u8(before)))).toContain(
      'Test panel',
    );
    // Nothing in the header has been left out.
    const others = ['headerSize', 'headerBudget', 'headerRoomScales', ...offsets];
    expect(new Set(namesOf(/^header/))).toEqual(new Set([...Object.keys(fields), ...others]));
  });

  test('areas and their spans', () => {
    for (const [index, firstLed] of [0, 30].entries()) {
      const area = entry('headerAreas', index);
      const span = area + at('areaSpans');
      expect(u16(area + at('areaSpanCount'))).toBe(1);
      expect([
        u16(span + at('spanFirstLed')),
        u8(span + at('spanLedCount')),
        u8(span + at('spanOrder')),
      ]).toEqual([firstLed, 30, index]);
    }
    expect(entry('headerAreas', 1) - entry('headerAreas', 0)).toBe(at('areaSpans') + at('spanSize'));
  });

  test('gradients once for each colour order: the same pieces, channels in wire order', () => {
    // The first glow's gradient; clips are drawn by time.
    const number = u8(clip(0, 2) + at('clipGradient'));
    const [greenFirst, redFirst] = [
      entry('headerGradients', 2 * number),
      entry('headerGradients', 2 * number + 1),
    ];
    const pieces = u8(greenFirst);
    expect(u8(redFirst)).toBe(pieces);
    expect(redFirst - greenFirst).toBe(1 + pieces * at('pieceSize'));
    let entries = 0;
    for (let i = 0; i < pieces; i++) {
      const [a, b] = [greenFirst, redFirst].map((gradient) => gradient + 1 + i * at('pieceSize')) as [
        number,
        number,
      ];
      entries += u8(a + at('pieceEntries'));
      for (const field of ['pieceStart', 'pieceStep']) {
        const triple = (piece: number) => [0, 2, 4].map((place) => u16(piece + at(field) + place));
        const [red, green, blue] = triple(b);
        expect(triple(a)).toEqual([green, red, blue]);
      }
    }
    expect(entries).toBe(64);
    // Ember begins with #ffd060: red 255, green 208, blue 96, rounded by half a level.
    expect([0, 2, 4].map((place) => u16(redFirst + 1 + at('pieceStart') + place))).toEqual(
      [255, 208, 96].map((level) => 256 * level + 128),
    );
  });

  test('palettes, in wire order', () => {
    const number = u8(clip(0, 1) + at('clipGradient'));
    for (const [order, first] of [
      [0x20, 0x10, 0x30],
      [0x10, 0x20, 0x30],
    ].entries()) {
      const palette = entry('headerGradients', 2 * number + order);
      expect(u8(palette + at('paletteMark'))).toBe(0);
      expect(u8(palette + at('paletteCount'))).toBe(3);
      expect([0, 1, 2].map((place) => u8(palette + at('paletteColours') + place))).toEqual(first);
    }
  });
});
