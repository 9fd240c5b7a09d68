// The output side of the show data, read by the names of show_data.h: lines, pairs of lines, segments, gamma tables, budget, room steps.
// Registers: ATmega328P data sheet (PORTB 0x25, PORTC 0x28, PORTD 0x2B in data space; PINx two below). Not here: what the player makes of it.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { ByteWriter } from '../../src/lampshow/byte-writer.ts';
import {
  lineBytesPerLed,
  linePairs,
  lineSize,
  ordersOf,
  type RoomSteps,
  segmentSize,
  segmentsOf,
  wireByteCount,
  writeGammaPages,
  writeLines,
} from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project, StripData } from '../../src/project/index.ts';
import { panelOf } from '../player/output-stage.ts';
import { root } from '../support/lamploom.ts';

/** Every name = value of the enums in show_data.h. */
const constants = new Map(
  [
    ...readFileSync(`${root}/firmware-templates/player/show_data.h`, 'utf8').matchAll(
      /\b(\w+) = (0x[0-9A-Fa-f]+|\d+)/g,
    ),
  ].map(([, name, value]) => [name!, Number(value)]),
);
const at = (name: string): number => {
  const value = constants.get(name);
  if (value === undefined) throw new Error(`show_data.h has no ${name}`);
  return value;
};

/** The show data of a project's output side, and its numbers by place. */
function written(project: Project, room?: RoomSteps) {
  const layout = layOut(project);
  const to = new ByteWriter();
  to.append(new Array<number>(at('headerSize')).fill(0));
  writeGammaPages(to, project, writeLines(to, project, layout, segmentsOf(layout), room));
  const bytes = to.bytes();
  const view = new DataView(bytes.buffer);
  const u8 = (n: number) => view.getUint8(n);
  const u16 = (n: number) => view.getUint16(n, true);
  const u32 = (n: number) => view.getUint32(n, true);
  const lines = layout.lines.map((_, index) => {
    const line = u16(at('headerLines')) + index * at('lineSize');
    return {
      ledCount: u16(line + at('lineLedCount')),
      firstLed: u16(line + at('lineFirstLed')),
      port: u16(line + at('linePortAddress')),
      mask: u8(line + at('linePinMask')),
      partner: u8(line + at('linePartner')),
      segments: Array.from({ length: u8(line + at('lineSegmentCount')) }, (__, s) => {
        const segment = u16(line + at('lineSegments')) + s * at('segmentSize');
        return {
          ledCount: u16(segment + at('segmentLedCount')),
          pages: [0, 1, 2].map((place) => u8(segment + at('segmentGammaPages') + place)),
          white: u8(segment + at('segmentWhite')),
          current: u16(segment + at('segmentCurrent')),
          whiteCurrent: u16(segment + at('segmentWhiteCurrent')),
          sharesString: u8(segment + at('segmentSharesString')),
        };
      }),
    };
  });
  return { bytes, u8, u16, u32, lines };
}

const piece = (ledCount: number, strip: Partial<StripData> = {}) => ({ ledCount, strip });
const output = { gamma: { red: 1, green: 2, blue: 3 }, brightnessPercent: 40 } as const;
const white = { colourOrder: 'GWRB', whiteMilliamps: 18 } as const;

test('both sides agree on the sizes', () => {
  expect([lineSize, segmentSize]).toEqual([at('lineSize'), at('segmentSize')]);
});

describe('lines and segments', () => {
  const project = panelOf({
    lines: [
      {
        pin: 6,
        pieces: [
          piece(45),
          piece(5),
          piece(7, white),
          piece(3, { channelMilliamps: 15, currentModel: 'largest' }),
        ],
      },
      { pin: 8, pieces: [piece(300, { colourOrder: 'BRG' })] },
    ],
    output: { ...output, whiteBalance: { red: 1, green: 0.5, blue: 0.25 } },
    limitAmps: 1,
  });
  const data = written(project);

  test('[O-6] stand in wire order with register and bit; runs that the output stage treats alike are one segment', () => {
    expect(data.lines.map(({ segments, ...line }) => [line, segments.map((one) => one.ledCount)])).toEqual([
      [{ ledCount: 60, firstLed: 0, port: 0x2b, mask: 0x40, partner: at('partnerNone') }, [50, 7, 3]],
      [{ ledCount: 300, firstLed: 60, port: 0x25, mask: 0x01, partner: at('partnerNone') }, [300]],
    ]);
  });

  test('a white die has its byte’s place and current, and its colours the order without it', () => {
    const [plain, four, string] = data.lines[0]!.segments;
    expect([plain!.white, four!.white, string!.white]).toEqual([0, 2, 0]);
    expect(four!.pages).toEqual(plain!.pages);
    expect(plain!.whiteCurrent).toBe(0);
    expect([plain!.sharesString, four!.sharesString, string!.sharesString]).toEqual([0, 0, 1]);
    // 12 mA a colour, 18 mA white, 15 mA of the string: whole units, rounded up.
    const units = [plain!.current, four!.whiteCurrent, string!.current].map(
      (count) => count / plain!.current,
    );
    for (const [i, milliamps] of [12, 18, 15].entries()) expect(units[i]).toBeCloseTo(milliamps / 12, 2);
    expect(ordersOf(segmentsOf(layOut(project)))).toEqual(['GRB', 'BRG']);
  });

  test('bytes of each LED and of a frame', () => {
    const layout = layOut(project);
    expect(lineBytesPerLed(layout.lines[0]!)).toEqual([
      ...new Array<number>(50).fill(3),
      ...new Array<number>(7).fill(4),
      ...new Array<number>(3).fill(3),
    ]);
    expect(wireByteCount(layout)).toBe(3 * 353 + 4 * 7);
  });

  test('gamma tables on pages, each channel its own, equal ones once', () => {
    const level = (page: number) => data.u8(256 * page + 128);
    const [green, red, blue] = data.lines[0]!.segments[0]!.pages;
    // 128 / 255 to the powers 1, 2, 3, times the white balance.
    expect(level(red!)).toBe(128);
    expect(level(green!)).toBe(Math.round(255 * 0.5 * (128 / 255) ** 2));
    expect(level(blue!)).toBe(Math.round(255 * 0.25 * (128 / 255) ** 3));
    expect(data.lines[1]!.segments[0]!.pages).toEqual([blue, red, green]);
    expect(data.bytes.length).toBe(256 * (Math.max(red!, green!, blue!) + 1));
  });

  test('[O-2] a level of 0 is dark in every table', () => {
    for (const { segments } of data.lines)
      for (const { pages } of segments) for (const page of pages) expect(data.u8(256 * page)).toBe(0);
  });
});

test('a strip’s own white balance takes the project’s place and parts the segments', () => {
  const own = { whiteBalance: { red: 0.5, green: 1, blue: 1 } };
  const { lines, u8 } = written(
    panelOf({ lines: [{ pin: 6, pieces: [piece(2), piece(3, own), piece(4, own)] }], output }),
  );
  expect(lines[0]!.segments.map((one) => one.ledCount)).toEqual([2, 7]);
  const top = (segment: number) => lines[0]!.segments[segment]!.pages.map((page) => u8(256 * page + 255));
  // GRB; 255 x 0.5 is 127.5, rounded up.
  expect([top(0), top(1)]).toEqual([
    [255, 255, 255],
    [255, 128, 255],
  ]);
});

describe('[W-3] pairs of lines', () => {
  const pairs = (
    ...lines: readonly (readonly [pin: number, ledCount: number, strip?: Partial<StripData>])[]
  ) => {
    const project = panelOf({
      lines: lines.map(([pin, count, strip]) => ({ pin, pieces: [piece(count, strip)] })),
    });
    const layout = layOut(project);
    return linePairs(project, layout, segmentsOf(layout));
  };
  test.each([
    [
      'of one port',
      [
        [6, 10],
        [7, 20],
      ],
      [[0, 1]],
    ],
    [
      'not of two ports',
      [
        [7, 10],
        [8, 20],
      ],
      [],
    ],
    [
      'not with a white die',
      [
        [6, 10],
        [7, 20, { colourOrder: 'RGBW' }],
      ],
      [],
    ],
    [
      'the two longest of three',
      [
        [2, 10],
        [3, 30],
        [4, 20],
      ],
      [[1, 2]],
    ],
    // 40 + 20 LEDs of time; any other pairing takes 40 + 30.
    [
      'of four: long with long',
      [
        [2, 40],
        [3, 10],
        [4, 20],
        [5, 30],
      ],
      [
        [0, 3],
        [1, 2],
      ],
    ],
    [
      'of each port by itself',
      [
        [2, 5],
        [8, 5],
        [3, 5],
        [9, 5],
      ],
      [
        [0, 2],
        [1, 3],
      ],
    ],
    [
      'not of one pin',
      [
        [6, 10],
        [6, 10],
      ],
      [],
    ],
    [
      'not of pins that the board has not',
      [
        [98, 10],
        [99, 10],
      ],
      [],
    ],
  ] as const)('%s', (_name, lines, expected) => {
    expect(pairs(...lines)).toEqual(expected);
  });

  test('not with several segments; the earlier line names the later one, which only follows', () => {
    const lines = [
      { pin: 2, pieces: [piece(1), piece(1, { colourOrder: 'RGB' })] },
      { pin: 3, pieces: [piece(4)] },
      { pin: 4, pieces: [piece(9)] },
    ];
    expect(written(panelOf({ lines })).lines.map((line) => line.partner)).toEqual([
      at('partnerNone'),
      2,
      at('partnerLeads'),
    ]);
  });
});

describe('the limiter’s units', () => {
  test('off without a limit', () => {
    const { u8, u32 } = written(panelOf({ lines: [{ pin: 6, pieces: [piece(45)] }] }));
    expect([u8(at('headerLimited')), u32(at('headerBudget'))]).toEqual([0, 0]);
  });

  test('the budget is 255 x what all channels may draw, the chips’ own current taken off', () => {
    const { u8, u32, lines } = written(panelOf({ lines: [{ pin: 6, pieces: [piece(45)] }], limitAmps: 1 }));
    expect(u8(at('headerLimited'))).toBe(1);
    // 1 A less 45 x 0.6 mA leaves 973 mA; a channel draws 12.
    const { current } = lines[0]!.segments[0]!;
    expect(u32(at('headerBudget')) / (255 * current)).toBeCloseTo(973 / 12, 2);
  });

  test('[O-7] no channel counts for less than it draws, and none for a thousandth more', () => {
    const milliamps = [17, 18, 20, 5.5, 60];
    const pieces = milliamps.map((channelMilliamps, i) =>
      piece(30, {
        channelMilliamps,
        quiescentMilliamps: 0,
        colourOrder: i % 2 ? 'RGB' : 'WGRB',
        whiteMilliamps: 9.3,
      }),
    );
    const { u32, lines } = written(panelOf({ lines: [{ pin: 6, pieces }], limitAmps: 1 }));
    // The budget is 255 x 1,000 mA in the same unit, cut off to a whole number.
    const unitMilliamps = (255 * 1000) / u32(at('headerBudget'));
    const expectClose = (units: number, wanted: number) => {
      expect(units * unitMilliamps).toBeGreaterThanOrEqual(wanted * (1 - 1e-8));
      expect(units * unitMilliamps).toBeLessThan(wanted * 1.001);
    };
    for (const [i, segment] of lines[0]!.segments.entries()) {
      expectClose(segment.current, milliamps[i]!);
      if (segment.white) expectClose(segment.whiteCurrent, 9.3);
    }
  });

  test('[O-7] all LEDs at full level stay within 32 bits, on the largest panel too', () => {
    const pieces = Array.from({ length: 10 }, (_, i) =>
      piece(250, { channelMilliamps: 100, whiteMilliamps: 100, colourOrder: i % 2 ? 'RGBW' : 'RGB' }),
    );
    const { lines } = written(panelOf({ lines: [{ pin: 6, pieces }], limitAmps: 200 }));
    const most = lines[0]!.segments.reduce(
      (sum, { ledCount, current, whiteCurrent }) => sum + ledCount * 255 * (3 * current + whiteCurrent),
      0,
    );
    expect(most).toBeLessThan(2 ** 32);
  });
});

describe('room steps', () => {
  const project = panelOf({ lines: [{ pin: 6, pieces: [piece(1)] }], output });
  const scales = ({ u8 }: ReturnType<typeof written>) =>
    [0, 1, 2].map((step) => u8(at('headerRoomScales') + step));

  test('[O-9] are shares of the project’s brightness; without a button all the same', () => {
    const data = written(project);
    // 40 % of 255.
    expect(scales(data)).toEqual([102, 102, 102]);
    expect([data.u16(at('headerRoomPort')), data.u8(at('headerRoomMask'))]).toEqual([0, 0]);
  });

  test('with a button on pin 15', () => {
    const data = written(project, { percents: [100, 50, 25], pin: 15 });
    expect(scales(data)).toEqual([102, 51, 26]);
    // Port C bit 1, read at PINC.
    expect([data.u16(at('headerRoomPort')), data.u8(at('headerRoomMask'))]).toEqual([0x26, 2]);
  });
});
