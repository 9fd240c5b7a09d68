// SPEC.md itself: every rule is cited by a test, no test cites a rule that is not there, and its tables of bytes are those of show_data.h. Then rules that no test of
// its subject checks: what gradients, maps and light all round may be. Not here: whether the player keeps to them (spec-player.test.ts).
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compileShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Effect } from '../../src/project/index.ts';
import {
  byteTables,
  namedOffsets,
  namedSizes,
  placeOf,
  ruleIds,
  SpecReader,
  sizeOf,
  spec,
} from './spec-tables.ts';
import { densestPitchMm, gridOf, projectOfScene, rowAt, stageOf } from './stage.ts';
import { loadPlayer, seed, variedProject } from './varied-project.ts';

describe('rules', () => {
  const files = readdirSync('test', { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.test.ts'),
  );
  /** File of each rule cited by one id in square brackets, or by several behind commas. */
  const cited = new Map<string, string>();
  for (const file of files)
    for (const [, ids] of readFileSync(join('test', file), 'utf8').matchAll(
      /\[([A-Z]-\d+(?:, [A-Z]-\d+)*)\]/g,
    ))
      for (const id of ids!.split(', ')) cited.set(id, file);

  test('have ids of their own, numbered from 1 in each subject', () => {
    const next = new Map<string, number>();
    for (const id of ruleIds) {
      const [subject, number] = id.split('-') as [string, string];
      expect(Number(number), id).toBe((next.get(subject) ?? 0) + 1);
      next.set(subject, Number(number));
    }
    const subjects = /^Subjects: (.*)\.$/m
      .exec(spec)![1]!
      .split(', ')
      .map((one) => one[0]!);
    expect([...next.keys()]).toEqual(subjects);
  });

  test('are each cited by a test', () => {
    expect(ruleIds.filter((id) => !cited.has(id))).toEqual([]);
  });

  test('are all there that tests cite', () => {
    expect([...cited].filter(([id]) => !ruleIds.includes(id))).toEqual([]);
  });
});

describe('[B-3, B-4, B-5, B-6, B-7, B-8, B-9, B-10, B-11, B-12, B-13, B-14] bytes', () => {
  const header = readFileSync('firmware-templates/player/show_data.h', 'utf8');
  const valuesIn = (text: string): [name: string, value: number][] =>
    [...text.matchAll(/\b(\w+) = (0x[\dA-Fa-f]+|\d+)\b/g)].map(([, name, value]) => [name!, Number(value)]);
  const constants = new Map(valuesIn(header));
  /** Members of an enum. */
  const membersOf = (name: string): [name: string, value: number][] =>
    valuesIn(new RegExp(`enum ${name} \\{([^}]*)\\}`).exec(header)![1]!);

  test.each<[record: string, itsFirst: string]>([
    ['Header', 'headerMagic'],
    ['Line', 'lineLedCount'],
    ['Segment', 'segmentLedCount'],
    ['Span', 'spanFirstLed'],
    ['Gradient', 'pieceEntries'],
    ['Show', 'showLengthMs'],
    ['Clip', 'clipStartMs'],
    ['Envelope', 'envelopeMs'],
    ['Frames', 'framesBits'],
    ['FrameEntry', 'frameStartMs'],
    ['Event', 'eventShow'],
  ])(
    'of %s are all told by show_data.h’s names and places, one behind the other up to its size',
    (name, first) => {
      const table = byteTables.find(([field]) => field!.name === first)!;
      const members = membersOf(name);
      const size = members.find(([member]) => member.endsWith('Size'));
      expect(table.map((field) => [field.name, field.offset])).toEqual(
        members.filter((member) => member !== size),
      );
      for (const [i, { offset, size: bytes }] of table.entries())
        if (i + 1 < table.length) expect(offset + bytes).toBe(table[i + 1]!.offset);
      if (size)
        expect([table.at(-1)!.offset + table.at(-1)!.size, namedSizes.get(size[0])]).toEqual([
          size[1],
          size[1],
        ]);
    },
  );

  test('of areas, palettes and letters stand in the text', () => {
    for (const name of ['Area', 'Palette', 'Letters'])
      for (const [member, value] of membersOf(name))
        expect([member, namedOffsets.get(member)]).toEqual([member, value]);
  });

  test('no table is without its enum, no size without its constant', () => {
    for (const { name, offset } of byteTables.flat())
      expect([name, offset]).toEqual([name, constants.get(name)]);
    for (const [name, size] of namedSizes) expect([name, size]).toEqual([name, constants.get(name)]);
    expect(byteTables).toHaveLength(11);
  });

  test('numbers of effects, blends and bits are those of show_data.h', () => {
    const effects = /0 glow,.*9 letters/.exec(spec)![0].matchAll(/(\d) (\w+)/g);
    for (const [, number, name] of effects)
      expect([name, constants.get(`effect${name![0]!.toUpperCase()}${name!.slice(1)}`)]).toEqual([
        name,
        Number(number),
      ]);
    expect(constants.get('effectCount')).toBe(10);
    expect(
      ['Over', 'Add', 'BrighterWins', 'Tint', 'OnBlack'].map((name) => constants.get(`blend${name}`)),
    ).toEqual([0, 1, 2, 3, 0x80]);
    expect(['Serial', 'I2c', 'Watchdog'].map((name) => constants.get(`input${name}`))).toEqual([1, 2, 4]);
    expect(['Queues', 'Resumes', 'HasValue'].map((name) => constants.get(`event${name}`))).toEqual([1, 2, 4]);
    expect(['None', 'Leads'].map((name) => constants.get(`partner${name}`))).toEqual([0xff, 0xfe]);
    expect([constants.get('showDataMagic'), constants.get('showDataFormat')]).toEqual([0x4c57, 3]);
  });
});

const compiled = (effect: Effect, ledCount: number) => {
  const project = projectOfScene({ runs: [rowAt('row', 0, ledCount)], clips: [{ effect }] });
  const data = new SpecReader(compileShowData(project, layOut(project), { frameMs: 20 })!.bytes);
  const show = data.u16(data.field(0, 'headerShows'));
  return { data, clip: show + placeOf('showClips') };
};

test('[B-7] gradients of random projects have at most 64 colours, and one more step stays inside', () => {
  fc.assert(
    fc.property(variedProject, (project) => {
      const data = new SpecReader(compileShowData(project, layOut(project), { frameMs: 20 })!.bytes);
      const count = data.field(0, 'headerGradientCount') * data.field(0, 'headerOrderCount');
      for (let g = 0; g < count; g++) {
        const at = data.u16(data.field(0, 'headerGradients') + 2 * g);
        const pieces = Array.from({ length: data.u8(at) }, (_, p) => at + 1 + p * sizeOf('pieceSize'));
        let colours = 0;
        for (const piece of pieces) {
          const entries = data.field(piece, 'pieceEntries');
          expect(entries).toBeGreaterThan(0);
          colours += entries;
          for (const byte of [0, 2, 4]) {
            const start = data.u16(piece + placeOf('pieceStart') + byte);
            const end = start + entries * data.i16(piece + placeOf('pieceStep') + byte);
            expect(Math.min(start, end)).toBeGreaterThanOrEqual(0);
            expect(Math.max(start, end)).toBeLessThanOrEqual(65_535);
          }
        }
        expect(colours).toBeLessThanOrEqual(64);
      }
    }),
    { seed, numRuns: 60 },
  );
});

describe('maps', () => {
  const count = 100;
  const width = densestPitchMm * (count - 1);
  const mapOf = (effect: Effect, bytesEach: number, ledCount = count): number[][] => {
    const { data, clip } = compiled(effect, ledCount);
    const at = data.field(clip, 'clipMap');
    return Array.from({ length: ledCount }, (_, led) =>
      Array.from({ length: bytesEach }, (_unused, byte) => data.u8(at + bytesEach * led + byte)),
    );
  };
  const leds = Array.from({ length: count }, (_, i) => i);
  const band = {
    kind: 'band',
    passSeconds: 1,
    width: 0.3,
    bands: 1,
    travel: 'forward',
    softness: 0,
  } as const;
  const centre = { xMm: 0, yMm: 0 };

  test('[M-2] along: places of a row, mirrored ones, distances and turns in a chase', () => {
    // The last step belongs to the way's end: 1,023 of 1,024.
    const stepOf = (place: number, turns = 1): number =>
      Math.floor(256 * turns * Math.min(1023 / 1024, place)) % 256;
    expect(mapOf(band, 1).flat()).toEqual(leds.map((i) => stepOf(i / (count - 1))));
    expect(mapOf({ ...band, bands: 3 }, 1).flat()).toEqual(leds.map((i) => stepOf(i / (count - 1), 3)));
    expect(mapOf({ ...band, travel: 'there-and-back' }, 1).flat()).toEqual(
      leds.map((i) => stepOf(i / (count - 1), 0.5)),
    );
    expect(mapOf({ ...band, mirror: true }, 1).flat()).toEqual(
      leds.map((i) => stepOf(1 - Math.abs((2 * i) / (count - 1) - 1))),
    );
    const rings = {
      kind: 'rings',
      centre,
      spacingMm: 60,
      ringSeconds: 1,
      width: 0.5,
      inward: false,
    } as const;
    expect(mapOf(rings, 1).flat()).toEqual(
      leds.map((i) => Math.floor((256 * i * densestPitchMm) / 60) % 256),
    );
    const chase = { kind: 'chase', every: 3, stepSeconds: 1, travel: 'forward', softness: 0 } as const;
    expect(mapOf(chase, 1).flat()).toEqual(leds.map((i) => [0, 85, 170][i % 3]));
  });

  test('[M-2] along: angles, clockwise from the right, and a thrown order that holds each place once', () => {
    const spokes = { kind: 'spokes', spokes: 1, turnSeconds: 1, width: 0.5, softness: 0 } as const;
    // Seen from above the left end, LEDs lie below and to the right: from a quarter turn towards the right.
    const above = { xMm: 0, yMm: -100 };
    expect(mapOf({ ...spokes, centre: above }, 1).flat()).toEqual(
      leds.map((i) => Math.floor((256 * Math.atan2(100, i * densestPitchMm)) / (2 * Math.PI))),
    );
    const column = {
      kind: 'column',
      fillSeconds: 1,
      travel: 'fills',
      softness: 0,
      order: 'by-chance',
    } as const;
    const thrown = mapOf(column, 1).flat();
    expect(thrown).not.toEqual([...thrown].sort((a, b) => a - b));
    expect([...thrown].sort((a, b) => a - b)).toEqual(leds.map((k) => Math.floor((256 * k) / count)));
  });

  test('[M-3] stars: up to 256 LEDs have bytes of their own', () => {
    const stars = { kind: 'stars', lifeSeconds: 1, density: 0.5, seed: 1 } as const;
    expect(new Set(mapOf(stars, 1, 256).flat()).size).toBe(256);
  });

  test('[M-4, M-5] clouds and fire: 32nds of a cell, at most 224, and the height over the foot', () => {
    const cloud = { kind: 'cloud', patchMm: 200, driftMmPerSecond: 0, driftDeg: 0, seed: 1 } as const;
    expect(mapOf(cloud, 2)).toEqual(leds.map((i) => [Math.round((32 * i * densestPitchMm) / 200), 0]));
    // A patch under a seventh of the width is held to it.
    expect(mapOf({ ...cloud, patchMm: 1 }, 2).at(-1)).toEqual([224, 0]);
    expect(mapOf({ ...cloud, patchMm: 1 }, 2)).toEqual(
      leds.map((i) => [Math.round((224 * i * densestPitchMm) / width), 0]),
    );
    const project = projectOfScene({
      runs: gridOf(6, 2),
      clips: [{ effect: { kind: 'fire', patchMm: 100, riseMmPerSecond: 0, height: 1, seed: 1 } }],
    });
    const data = new SpecReader(compileShowData(project, layOut(project), { frameMs: 20 })!.bytes);
    const map = data.field(data.u16(data.field(0, 'headerShows')) + placeOf('showClips'), 'clipMap');
    const heights = [255, 204, 153, 102, 51, 0];
    for (const [led, { yMm }] of layOut(project).wireLeds.entries())
      expect(data.u8(map + 3 * led + 2)).toBe(heights[Math.round(yMm / densestPitchMm)]);
  });
});

test('[E-4] light all round has no gap, at any phase', async () => {
  const stream = { kind: 'stream', passSeconds: 2, repeats: 1, travel: 'forward' } as const;
  const stage = stageOf(await loadPlayer(), { runs: gridOf(2, 100), clips: [{ effect: stream }] });
  for (let timeMs = 0; timeMs < 2100; timeMs++)
    expect(Math.min(...stage.reds(timeMs)), `${timeMs} ms`).toBe(255);
});
