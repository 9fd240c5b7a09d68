// Clips in the show data and what they point to, read by the names of show_data.h: every field, maps, envelopes, painted frames, letters; equal ones
// are stored once; and when LEDs count as black. Not here: the header, areas, gradients (show-data.test.ts), maps (maps.test.ts).
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clipsOnBlack } from '../../src/lampshow/index.ts';
import type { Blend, Clip } from '../../src/project/index.ts';
import { at, clips, compiled, namesOf, project } from './show-data-reader.ts';

const { u8, u16, u32, entry, clip } = compiled(project);
/** The clips by time: letters, painted frames, the glow over, the glow added. */
const [letters, painted, over, added] = [0, 1, 2, 3].map((index) => clip(0, index)) as [
  number,
  number,
  number,
  number,
];

describe('a clip', () => {
  test('stands in its show by time', () => {
    const show = entry('headerShows', 0);
    expect([u32(show + at('showLengthMs')), u16(show + at('showClipCount'))]).toEqual([300_000, 4]);
    expect(u16(entry('headerShows', 1) + at('showClipCount'))).toBe(0);
    const kinds = [letters, painted, over, added].map((place) => [
      u8(place + at('clipEffect')),
      u8(place + at('clipBlend')) % at('blendOnBlack'),
    ]);
    expect(kinds).toEqual([
      [at('effectLetters'), at('blendBrighterWins')],
      [at('effectPainted'), at('blendTint')],
      [at('effectGlow'), at('blendOver')],
      [at('effectGlow'), at('blendAdd')],
    ]);
  });

  test('has every field that show_data.h names', () => {
    const fields = {
      clipStartMs: u32(over + at('clipStartMs')),
      clipLengthMs: u32(over + at('clipLengthMs')),
      clipFadeInMs: u16(over + at('clipFadeInMs')),
      clipFadeOutMs: u16(over + at('clipFadeOutMs')),
      clipArea: u8(over + at('clipArea')),
      clipEffect: u8(over + at('clipEffect')),
      clipBlend: u8(over + at('clipBlend')),
      clipLevel: u8(over + at('clipLevel')),
      clipCycle: u32(over + at('clipCycle')),
    };
    expect(fields).toEqual({
      clipStartMs: 123,
      clipLengthMs: 70_000,
      clipFadeInMs: 300,
      clipFadeOutMs: 40_000,
      clipArea: 0,
      clipEffect: at('effectGlow'),
      // Nothing plays below it.
      clipBlend: at('blendOver') + at('blendOnBlack'),
      // 50 % of 255, rounded.
      clipLevel: 128,
      // Once in 2 s forward: colours are looked up ever further back, 2^24 / 2,000 a ms.
      clipCycle: 2 ** 32 - Math.round(2 ** 24 / 2000),
    });
    expect(u32(added + at('clipCycle'))).toBe(Math.round(2 ** 24 / 2000));
    expect([u32(letters + at('clipCycle')), u8(letters + at('clipLevel'))]).toEqual([0, 255]);
    // The others are offsets and numbers of tables, looked at below; and the glow's parameters: a breath in 2 s, 2^24 / 2,000 a ms, half as deep.
    const others = ['clipEnvelope', 'clipMap', 'clipGradient', 'clipParameters', 'clipSize'];
    expect(new Set(namesOf(/^clip/))).toEqual(new Set([...Object.keys(fields), ...others]));
    const parameters = Array.from({ length: at('parameterBytes') }, (_, i) =>
      u8(over + at('clipParameters') + i),
    );
    expect(parameters).toEqual([0xc5, 0x20, 0, 0, 128, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
  });

  test('points to a byte for each LED of its area, an envelope by time, its gradient', () => {
    // The gradient travels, so that each LED has its place on it: from the middle over a quarter, 64 of 256 steps, from left to right.
    const map = u16(over + at('clipMap'));
    for (let led = 0; led < 30; led++)
      expect(Math.abs(u8(map + led) - (128 + (64 * led) / 29))).toBeLessThanOrEqual(1);
    const envelope = u16(over + at('clipEnvelope'));
    expect(u8(envelope)).toBe(2);
    expect(
      [0, 1].map((point) => {
        const place = envelope + 1 + point * at('envelopeSize');
        return [u32(place + at('envelopeMs')), u8(place + at('envelopeLevel'))];
      }),
    ).toEqual([
      [40, 51],
      [500, 255],
    ]);
    expect(u16(added + at('clipEnvelope'))).toBe(0);
    expect(u8(over + at('clipGradient'))).toBe(u8(added + at('clipGradient')));
    expect(u8(over + at('clipGradient'))).not.toBe(u8(letters + at('clipGradient')));
  });

  test('of painted frames points to them', () => {
    const frames = u16(painted + at('clipParameters'));
    expect([
      u8(frames + at('framesBits')),
      u16(frames + at('framesCount')),
      u32(frames + at('framesLengthMs')),
    ]).toEqual([2, 2, 350]);
    const entries = [0, 1].map((frame) => {
      const place = frames + at('framesList') + frame * at('frameEntrySize');
      return {
        startMs: u32(place + at('frameStartMs')),
        fadeMs: u16(place + at('frameFadeMs')),
        cells: u16(place + at('frameCells')),
      };
    });
    expect(entries.map(({ startMs, fadeMs }) => [startMs, fadeMs])).toEqual([
      [0, 0],
      [100, 50],
    ]);
    // Row 1 runs from right to left, ten LEDs a cell: its first LED is in the last one. Four LEDs a byte, lowest bits first.
    const colours = (cells: number) =>
      Array.from({ length: 30 }, (_, led) => (u8(cells + (led >> 2)) >> (2 * (led & 3))) & 3);
    const ten = (colour: number) => Array.from({ length: 10 }, () => colour);
    expect(colours(entries[0]!.cells)).toEqual([2, 1, 0].flatMap(ten));
    expect(colours(entries[1]!.cells)).toEqual([0, 1, 2].flatMap(ten));
  });

  test('of letters points to their columns', () => {
    const text = u16(letters + at('clipParameters') + 9);
    expect(u16(text + at('lettersColumnCount'))).toBeGreaterThan(4);
    // Five rows and up: bit 0 is the top one, which the bar of a T fills.
    const columns = Array.from({ length: u16(text + at('lettersColumnCount')) }, (_, i) =>
      u8(text + at('lettersColumns') + i),
    );
    const first = columns.findIndex((column) => column > 0);
    expect(columns[first]! & 1).toBe(1);
    // Blank ones on both sides, for the time that it comes and goes.
    expect(first).toBeGreaterThan(0);
    expect(columns.at(-1)).toBe(0);
    expect(Math.max(...columns)).toBeLessThan(128);
  });
});

describe('equal tables are stored once', () => {
  const withClips = (more: readonly Clip[]) => ({
    ...project,
    lampshows: project.lampshows.map((show) =>
      show.id === 'attract' ? { ...show, rows: [{ id: 'row', clips: [...more] }] } : show,
    ),
  });
  const sizeOf = (more: readonly Clip[]): number => compiled(withClips(more)).bytes.length;

  test('a clip twice takes a record more and nothing else', () => {
    // Gamma tables follow on the next page, so that sizes go by pages; so many clips fill more than one.
    for (const one of clips) {
      const copies = (count: number) => Array.from({ length: count }, (_, i) => ({ ...one, startMs: i }));
      const grown = sizeOf(copies(101)) - sizeOf(copies(1));
      expect(Math.abs(grown - 100 * at('clipSize')), one.effect.kind).toBeLessThan(256);
    }
  });

  test('maps, envelopes, painted frames, letters and gradients are shared by clips that have the same', () => {
    const later = clips.map((one) => ({ ...one, startMs: one.startMs + 1 }));
    const twice = compiled(withClips([...clips, ...later]));
    const places = Array.from({ length: 8 }, (_, i) => twice.clip(0, i));
    for (const effect of ['effectLetters', 'effectPainted', 'effectGlow']) {
      const same = places.filter((place) => twice.u8(place + at('clipEffect')) === at(effect));
      for (const field of ['clipMap', 'clipParameters']) {
        const values = new Set(same.map((place) => twice.u16(place + at(field))));
        expect(values.size, `${effect} ${field}`).toBe(1);
      }
      expect(new Set(same.map((place) => twice.u8(place + at('clipGradient')))).size).toBe(1);
    }
    const envelopes = new Set(places.map((place) => twice.u16(place + at('clipEnvelope'))));
    expect(envelopes.size).toBe(2);
  });
});

describe('a clip’s LEDs count as black', () => {
  const areas: Readonly<Record<string, readonly number[]>> = {
    a: [0, 1],
    b: [1, 2],
    c: [3],
    d: [0, 1, 2, 3],
    none: [],
  };
  const wiresOf = (area: string): ReadonlySet<number> => new Set(areas[area]);
  const someClip = fc.record({
    startMs: fc.nat(12),
    lengthMs: fc.integer({ min: 1, max: 8 }),
    area: fc.constantFrom(...Object.keys(areas)),
    blend: fc.constantFrom<Blend>('over', 'add', 'brighter-wins', 'tint'),
    gradient: fc.constant('g'),
    effect: fc.constant({ kind: 'glow', gradientPlace: 0, gradientSpan: 0 } as const),
  });

  test('exactly where no clip before it ever plays on one of them while it plays; tint never writes', () => {
    let yes = 0;
    let no = 0;
    fc.assert(
      fc.property(fc.array(someClip, { maxLength: 6 }), (some) => {
        const given = clipsOnBlack(some, wiresOf);
        expect(given).toHaveLength(some.length);
        // Every millisecond and LED by itself.
        const plays = (one: Clip, ms: number, wire: number) =>
          ms >= one.startMs && ms < one.startMs + one.lengthMs && wiresOf(one.area).has(wire);
        for (const [i, one] of some.entries()) {
          let isBlack = one.blend !== 'tint';
          for (let ms = 0; ms < 24; ms++)
            for (let wire = 0; wire < 4; wire++)
              if (plays(one, ms, wire) && some.slice(0, i).some((below) => plays(below, ms, wire)))
                isBlack = false;
          expect(given[i]).toBe(isBlack);
          if (isBlack) yes++;
          else no++;
        }
      }),
      { numRuns: 2000 },
    );
    expect(Math.min(yes, no)).toBeGreaterThan(1000);
  });
});
