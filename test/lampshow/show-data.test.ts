// The show data's layout: what show_data.h says and what the compiler writes, read by this test on its own.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  clipSize,
  compileShowData,
  effectRows,
  headerSize,
  showDataFormat,
  showDataMagic,
} from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { root } from '../support/lamploom.ts';
import { loadProject, projectOf, rowsOfStrip } from '../support/projects.ts';

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

function compiled(project: Project) {
  const { bytes } = compileShowData(project, layOut(project), { frameMs: 25 })!;
  const view = new DataView(bytes.buffer);
  return {
    u8: (n: number) => view.getUint8(n),
    u16: (n: number) => view.getUint16(n, true),
    u32: (n: number) => view.getUint32(n, true),
  };
}

describe('[DATA1] both sides agree', () => {
  test('on sizes, numbers and magic', () => {
    expect([headerSize, clipSize, showDataMagic, showDataFormat]).toEqual([
      at('headerSize'),
      at('clipSize'),
      at('showDataMagic'),
      at('showDataFormat'),
    ]);
  });

  test('on the number of every effect', () => {
    for (const [kind, { number }] of Object.entries(effectRows))
      expect(number).toBe(at(`effect${kind[0]!.toUpperCase()}${kind.slice(1)}`));
    expect([...constants.keys()].filter((name) => /^effect[A-Z]/.test(name))).toHaveLength(
      Object.keys(effectRows).length,
    );
  });
});

describe('[DATA2] the compiler writes what show_data.h names', () => {
  const project: Project = {
    ...loadProject(45, 2),
    power: { supply: { volts: 5, amps: 10 }, limitAmps: 1, feeds: [] },
    output: {
      gamma: { red: 1, green: 2, blue: 3 },
      whiteBalance: { red: 1, green: 0.5, blue: 0.25 },
      brightnessPercent: 40,
    },
  };
  const data = compiled(project);

  test('header', () => {
    expect(data.u16(at('headerMagic'))).toBe(at('showDataMagic'));
    expect(data.u8(at('headerFormat'))).toBe(at('showDataFormat'));
    // 40 % of 255.
    expect(data.u8(at('headerBrightness'))).toBe(102);
    expect(data.u8(at('headerFrameMs'))).toBe(25);
    expect([
      data.u8(at('headerLineCount')),
      data.u8(at('headerOrderCount')),
      data.u16(at('headerLedCount')),
    ]).toEqual([1, 1, 45]);
    expect(data.u8(at('headerLimited'))).toBe(1);
    // 1 A less 45 x 0.6 mA at rest leaves 973 mA; 12 mA of a channel are 255 units; times 255.
    expect(data.u32(at('headerBudget'))).toBe(Math.floor((973 * 255 * 255) / 12));
  });

  test('line, segment, area, gradient, show and clip', () => {
    const line = data.u16(at('headerLines'));
    // Pin 6 is bit 6 of port D, whose register lies at 0x2B (ATmega328P data sheet).
    expect([
      data.u16(line + at('lineLedCount')),
      data.u16(line + at('linePortAddress')),
      data.u8(line + at('linePinMask')),
    ]).toEqual([45, 0x2b, 0x40]);
    const segment = data.u16(at('headerSegments'));
    expect(data.u16(segment + at('segmentLedCount'))).toBe(45);
    // GRB: green, red, blue.
    expect([0, 1, 2].map((i) => data.u8(segment + at('segmentChannels') + i))).toEqual([1, 0, 2]);
    const area = data.u16(data.u16(at('headerAreas')));
    expect(data.u16(area + at('areaSpanCount'))).toBe(1);
    expect(data.u8(area + at('areaSpans') + at('spanLedCount'))).toBe(45);
    const gradient = data.u16(data.u16(at('headerGradients')));
    const pieces = Array.from({ length: data.u8(gradient) }, (_, i) => gradient + 1 + i * at('pieceSize'));
    expect(pieces.reduce((sum, piece) => sum + data.u8(piece + at('pieceEntries')), 0)).toBe(64);
    const show = data.u16(data.u16(at('headerShows')));
    expect([data.u32(show + at('showLengthMs')), data.u16(show + at('showClipCount'))]).toEqual([20_000, 2]);
    const second = show + at('showClips') + at('clipSize');
    expect([data.u8(second + at('clipEffect')), data.u8(second + at('clipBlend'))]).toEqual([
      at('effectStars'),
      at('blendAdd'),
    ]);
  });

  test('gamma tables on pages, each channel its own', () => {
    const table = (channel: number) => 256 * data.u8(at('headerGammaPages') + channel);
    // 128 / 255 to the powers 1, 2, 3; times the white balance.
    expect([0, 1, 2].map((channel) => data.u8(table(channel) + 128))).toEqual([
      128,
      Math.round(255 * 0.5 * (128 / 255) ** 2),
      Math.round(255 * 0.25 * (128 / 255) ** 3),
    ]);
  });
});

test('[DATA3] the limiter never counts a channel for less than it draws, whatever strips are mixed', () => {
  const milliamps = [17, 18, 20, 5.5];
  const runs = rowsOfStrip(120).map((run, i) => ({ ...run, strip: `reel-${i}` }));
  const strips = milliamps.map((channelMilliamps, i) => ({
    id: `reel-${i}`,
    supplyVolts: 5 as const,
    floorVolts: 4.5,
    ledsPerMetre: 60,
    boardWidthMm: 10,
    colourOrder: 'GRB' as const,
    channelMilliamps,
    quiescentMilliamps: 0,
    currentModel: 'sum' as const,
    railOhmPerMetre: 0.1,
  }));
  const data = compiled(
    projectOf({ runs, strips, power: { supply: { volts: 5, amps: 10 }, limitAmps: 1, feeds: [] } }),
  );
  const segments = data.u16(at('headerSegments'));
  const units = milliamps.map((_, i) => data.u8(segments + i * at('segmentSize') + at('segmentCurrent')));
  // The budget is 255 x 1,000 mA in the same unit.
  const unitMilliamps = (255 * 1000) / data.u32(at('headerBudget'));
  for (const [i, count] of units.entries()) {
    expect(count * unitMilliamps).toBeGreaterThanOrEqual(milliamps[i]! * (1 - 1e-6));
    expect(count * unitMilliamps).toBeLessThan(milliamps[i]! + unitMilliamps * 1.001);
  }
});
