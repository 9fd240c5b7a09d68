// Painted frames and letters against what the schema's descriptions say: src/project/schema-painted.ts. Which cell an LED takes, and which rows
// and columns letters lie on, have tests of their own (test/lampshow); here is what the player makes of them. Nothing is taken from effects.h.
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { cellsOf, fitLetters, type Player, textColumns } from '../../src/lampshow/index.ts';
import type { LettersEffect, PaintedEffect } from '../../src/project/index.ts';
import { gridOf, type Scene, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const stage = (effect: PaintedEffect | LettersEffect, runs: Scene['runs'], more: Partial<Scene> = {}) =>
  stageOf(player, { runs, clips: [{ effect }], ...more });

describe('painted frames', () => {
  /** The fade's share is cut to a whole 255th, which is a level at most, and either colour's part to a whole level. */
  const levelTolerance = 3;
  const hex = (digits: number[]): string => digits.map((digit) => digit.toString(16)).join('');

  const painted = fc
    .record({
      columns: fc.integer({ min: 1, max: 8 }),
      rows: fc.integer({ min: 1, max: 4 }),
      palette: fc.array(fc.nat(0xffffff), { minLength: 1, maxLength: 16 }),
      picks: fc.array(fc.nat(15), { minLength: 4 * 32, maxLength: 4 * 32 }),
      frames: fc.array(
        fc.record({ holdMs: fc.integer({ min: 20, max: 70 }), fadePercent: fc.constantFrom(0, 0, 40, 100) }),
        { minLength: 1, maxLength: 4 },
      ),
    })
    .map(({ columns, rows, palette, picks, frames }): PaintedEffect => {
      const [first, ...others] = frames.map(({ holdMs, fadePercent }, f) => ({
        holdMs,
        fadeMs: Math.floor((holdMs * fadePercent) / 100),
        cells: hex(picks.slice(32 * f, 32 * f + columns * rows).map((pick) => pick % palette.length)),
      }));
      const [dark, ...more] = palette.map((code) => `#${code.toString(16).padStart(6, '0')}`);
      return { kind: 'painted', columns, rows, palette: [dark!, ...more], frames: [first!, ...others] };
    });

  test('show each cell its colour of the frame, and its fade into the next, over and over', () => {
    fc.assert(
      fc.property(painted, fc.array(fc.nat(100_000), { minLength: 6, maxLength: 6 }), (effect, times) => {
        const { leds, levels } = stage(effect, gridOf(4, 9));
        const cells = cellsOf(leds, effect);
        const lengthMs = effect.frames.reduce((sum, frame) => sum + frame.holdMs, 0);
        for (const timeMs of [0, ...times]) {
          let left = timeMs % lengthMs;
          let f = 0;
          for (; left >= effect.frames[f]!.holdMs; f++) left -= effect.frames[f]!.holdMs;
          const { holdMs, fadeMs = 0, cells: now } = effect.frames[f]!;
          const { cells: next } = effect.frames[(f + 1) % effect.frames.length]!;
          const share = left > holdMs - fadeMs ? (left - (holdMs - fadeMs)) / fadeMs : 0;
          const shown = levels(timeMs);
          for (const [led, cell] of cells.entries())
            for (const channel of [0, 1, 2]) {
              const level = (digits: string) =>
                Number.parseInt(
                  effect.palette[Number.parseInt(digits.charAt(cell), 16)]!.slice(
                    1 + 2 * channel,
                    3 + 2 * channel,
                  ),
                  16,
                );
              const wanted = level(now) * (1 - share) + level(next) * share;
              expect(Math.abs(shown[3 * led + channel]! - wanted)).toBeLessThanOrEqual(levelTolerance);
            }
        }
      }),
      { numRuns: 60 },
    );
  });

  test('are exact where nothing fades', () => {
    const effect: PaintedEffect = {
      kind: 'painted',
      columns: 2,
      rows: 1,
      palette: ['#000000', '#ff8001'],
      frames: [
        { holdMs: 50, cells: '01' },
        { holdMs: 50, cells: '10' },
      ],
    };
    const { levels } = stage(effect, gridOf(1, 2));
    expect([0, 49, 50, 99, 100].map((timeMs) => [...levels(timeMs)])).toEqual([
      [0, 0, 0, 255, 128, 1],
      [0, 0, 0, 255, 128, 1],
      [255, 128, 1, 0, 0, 0],
      [255, 128, 1, 0, 0, 0],
      [0, 0, 0, 255, 128, 1],
    ]);
  });
});

describe('letters', () => {
  const columns = 24;
  const letters = (parts: Partial<LettersEffect>): LettersEffect => ({
    kind: 'letters',
    text: 'TILT',
    ...parts,
  });

  test('that pass are where the time says, each column mixed with the next', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('A', 'TILT', 'Extra ball!', '1,000,000'),
        fc.constantFrom<'left' | 'right'>('left', 'right'),
        fc.integer({ min: 4, max: 80 }).map((eighths) => eighths / 8),
        fc.constantFrom(5, 7, 9, 11, 14),
        fc.array(fc.nat(999), { minLength: 5, maxLength: 5 }),
        (text, travel, passSeconds, rowCount, parts) => {
          const { leds, reds } = stage(letters({ text, travel, passSeconds }), gridOf(rowCount, columns));
          const fit = fitLetters(leds);
          if (!fit.fits) throw new Error(fit.fault.message);
          const { dots, fontRows, columnCount } = fit.value;
          const picture = textColumns(text, fontRows);
          const passColumns = columnCount + picture.length;
          // The time is right to half a step of the rate in 2^24 / (1,000 x seconds), the place to a 65,536th of the pass; levels to two.
          const tolerance = 255 * passColumns * (passSeconds * 6e-5 + 2 / 65_536) + 255 / 256 + 2;
          for (const thousandth of parts) {
            const timeMs = Math.floor(passSeconds * thousandth);
            const share = timeMs / (1000 * passSeconds);
            const passed = passColumns * (travel === 'left' ? share : (1 - share) % 1);
            const shown = reds(timeMs);
            for (const [led, dot] of dots.entries()) {
              const place = dot ? dot.column - columnCount + passed : 0;
              const bit = (column: number) => (dot ? ((picture[column] ?? 0) >> dot.row) & 1 : 0);
              const part = place - Math.floor(place);
              const wanted = 255 * (bit(Math.floor(place)) * (1 - part) + bit(Math.floor(place) + 1) * part);
              expect(Math.abs(shown[led]! - wanted)).toBeLessThanOrEqual(tolerance);
            }
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  test('that stay never move', () => {
    const { reds } = stage(letters({}), gridOf(7, columns));
    const first = [...reds(0)];
    expect(first.filter((level) => level === 255).length).toBeGreaterThan(10);
    expect(new Set(first)).toEqual(new Set([0, 255]));
    for (const timeMs of [1, 999, 70_000]) expect([...reds(timeMs)]).toEqual(first);
  });

  test('take the gradient across the area', () => {
    const gradient = {
      id: 'g',
      stops: [
        { at: 0, colour: '#000000' },
        { at: 1, colour: '#ffffff' },
      ],
    };
    // A bar of minus signs: every column is lit but those between them.
    const { levels } = stage(letters({ text: '------------' }), gridOf(5, 32), { gradients: [gradient] });
    const middle = levels(0).slice(2 * 32 * 3, 3 * 32 * 3);
    const lit = Array.from({ length: 32 }, (_, column) => middle[3 * column]!).filter(
      (_, column) => column % 4 !== 3,
    );
    for (let column = 1; column < lit.length; column++)
      expect(lit[column]).toBeGreaterThanOrEqual(lit[column - 1]!);
    // 16 steps from black to white.
    expect(lit[0]).toBeLessThan(16);
    expect(lit.at(-1)).toBeGreaterThan(239);
    expect(new Set(lit).size).toBe(16);
  });

  test('light nothing on an area that has no room for them', () => {
    const { levels } = stage(letters({ text: 'TILT' }), gridOf(4, columns));
    expect(new Set(levels(0))).toEqual(new Set([0]));
  });
});
