// A column of light against the schema's descriptions (src/project/schema-shows.ts), in floating point, on a row of 256 LEDs: by time, by chance,
// by the value of a game event. Nothing is taken from effects.h.
import { beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { EffectOf, Gradient, Project } from '../../src/project/index.ts';
import { projectOfScene, rowAt, type Stage, stageOf } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

const ledCount = 256;
const runs = [rowAt('row', 100, ledCount)];
const wayOf = (led: number) => led / (ledCount - 1);
const fillSeconds = 2;
const fillMs = 1000 * fillSeconds;

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

type Column = EffectOf<'column'>;
const columnOf = (parts: Partial<Column>): Column => ({
  kind: 'column',
  fillSeconds,
  travel: 'fills',
  softness: 0,
  ...parts,
});
const stageOfColumn = (parts: Partial<Column>): Stage =>
  stageOf(player, { runs, clips: [{ effect: columnOf(parts) }] });

/** How full it is, 0 to 1, after so many times of filling. */
const fullness: Readonly<Record<Column['travel'], (fills: number) => number>> = {
  fills: (fills) => fills % 1,
  empties: (fills) => 1 - (fills % 1),
  'fills-and-empties': (fills) => (fills % 2 < 1 ? fills % 2 : 2 - (fills % 2)),
};
/** Light up to where it is full; its end fades over `softness` of the way, which is outside the area when it is empty or full. */
const levelAt = (place: number, full: number, softness: number): number => {
  const left = full * (1 + softness) - place;
  return 255 * Math.min(1, Math.max(0, softness === 0 ? Math.sign(left) : left / softness));
};
/** One of 64 colours, a place that is cut to a 256th; the time's rounding is less. */
const slack = 1 / 64 + 1 / 256;
/** The hardest edge that the player knows is a colour wide. */
const edgeSlack = (softness: number): number => (softness === 0 ? 1 / 64 : 0);

function expectColumn(levels: Uint8Array, full: number, softness: number, what: string): void {
  for (const [led, level] of levels.entries()) {
    const near = Array.from({ length: 21 }, (_, i) =>
      levelAt(wayOf(led) + ((slack + edgeSlack(softness)) * (i - 10)) / 10, full, softness),
    );
    expect(level, `LED ${led}, ${what}`).toBeGreaterThanOrEqual(Math.min(...near) - 3);
    expect(level, `LED ${led}, ${what}`).toBeLessThanOrEqual(Math.max(...near) + 3);
  }
}

describe('a column', () => {
  test.each<[Column['travel'], number]>([
    ['fills', 0],
    ['fills', 0.3],
    ['fills', 1],
    ['empties', 0],
    ['empties', 0.5],
    ['fills-and-empties', 0],
    ['fills-and-empties', 0.2],
  ])('that %s is as full as the time says, its end fading over %f of the way', (travel, softness) => {
    const stage = stageOfColumn({ travel, softness });
    for (const fills of [0.02, 0.25, 0.5, 0.77, 0.98, 1.1, 1.6, 1.95, 2.4, 33.3])
      expectColumn(
        stage.reds(Math.round(fills * fillMs)),
        fullness[travel](fills),
        softness,
        `${fills} fills`,
      );
  });

  test('is dark when it begins to fill and all lit when it is full', () => {
    const stage = stageOfColumn({ softness: 0.3 });
    expect(Math.max(...stage.reds(0))).toBe(0);
    // A millisecond before: 1/2,000 of 1.3 ways, far under a colour.
    expect(Math.min(...stage.reds(fillMs - 1))).toBeGreaterThanOrEqual(250);
    const back = stageOfColumn({ softness: 0.3, travel: 'empties' });
    expect(Math.min(...back.reds(0))).toBeGreaterThanOrEqual(250);
    expect(Math.max(...back.reds(fillMs - 1))).toBeLessThanOrEqual(5);
  });

  test.each(['in', 'out', 'both'] as const)('with easing %s is slow where it should be', (easing) => {
    const stage = stageOfColumn({ easing });
    const full = (share: number) =>
      [...stage.reds(share * fillMs)].filter((level) => level > 127).length / ledCount;
    const shares = Array.from({ length: 21 }, (_, i) => full(Math.min(0.999, i / 20)));
    for (let i = 1; i < shares.length; i++) expect(shares[i]).toBeGreaterThanOrEqual(shares[i - 1]!);
    expect(shares[0]).toBeLessThan(slack);
    expect(shares.at(-1)).toBeGreaterThan(1 - slack);
    // A quarter of the time fills less than a quarter where it begins slowly; the last quarter, where it ends slowly.
    expect(shares[5]! < 0.2).toBe(easing !== 'out');
    expect(1 - shares[15]! < 0.2).toBe(easing !== 'in');
  });

  test('has the gradient along it', () => {
    const gradient: Gradient = {
      id: 'g',
      stops: [
        { at: 0, colour: '#ff0000' },
        { at: 0.5, colour: '#ff0000' },
        { at: 0.5, colour: '#0000ff' },
        { at: 1, colour: '#0000ff' },
      ],
    };
    const { levels } = stageOf(player, { runs, gradients: [gradient], clips: [{ effect: columnOf({}) }] });
    const shown = levels(0.8 * fillMs);
    const at = (place: number) => [
      ...shown.subarray(3 * Math.round(place * 255), 3 * Math.round(place * 255) + 3),
    ];
    expect([at(0.1), at(0.45), at(0.55), at(0.75), at(0.9)]).toEqual([
      [255, 0, 0],
      [255, 0, 0],
      [0, 0, 255],
      [0, 0, 255],
      [0, 0, 0],
    ]);
  });
});

describe('a column by chance', () => {
  const stage = () => stageOfColumn({ order: 'by-chance' });
  const litAt = (share: number): Set<number> =>
    new Set([...stage().reds(share * fillMs)].flatMap((level, led) => (level > 127 ? [led] : [])));

  test('lights as many LEDs as it is full, and keeps each that is lit', () => {
    let before = new Set<number>();
    for (const share of [0.1, 0.25, 0.5, 0.75, 0.9]) {
      const lit = litAt(share);
      expect(Math.abs(lit.size / ledCount - share)).toBeLessThan(slack);
      for (const led of before) expect(lit.has(led), `LED ${led} at ${share}`).toBe(true);
      before = lit;
    }
  });

  test('lights them all over the area: about half of each quarter when it is half full', () => {
    const lit = litAt(0.5);
    for (let quarter = 0; quarter < 4; quarter++) {
      const count = [...lit].filter((led) => Math.floor(led / 64) === quarter).length;
      // 64 throws with even chances: 32, four standard deviations of 4.
      expect(Math.abs(count - 32)).toBeLessThanOrEqual(16);
    }
    // No stretch of LEDs as a column along the way would light: 12 in a row are expected once in 16 such rows.
    const longest = [...Array(ledCount).keys()].reduce(
      ({ run, most }, led) => {
        const now = lit.has(led) ? run + 1 : 0;
        return { run: now, most: Math.max(most, now) };
      },
      { run: 0, most: 0 },
    ).most;
    expect(longest).toBeLessThan(20);
  });
});

describe('a column by value', () => {
  const project = (softness: number): Project => {
    const scene = projectOfScene({
      runs,
      lengthMs: 60_000,
      clips: [{ effect: columnOf({ byValue: true, softness, travel: 'fills' }) }],
    });
    return {
      ...scene,
      gameEvents: [{ id: 'score', lampshow: 'attract', plays: 'until-next', hasValue: true }],
    };
  };

  test.each([0, 0.25])('is as full as the value says, at any time (softness %f)', (softness) => {
    const scene = project(softness);
    player.setShowData(compileShowData(scene, layOut(scene), { frameMs: 1 })!);
    for (const value of [0, 1, 10, 64, 128, 200, 254, 255])
      for (const timeMs of [100, 1234, 50_000]) {
        const frame = player.perform('attract', [{ frame: 50, event: 'score', value }])(timeMs);
        const reds = frame.slice().filter((_, i) => i % 3 === 0);
        expectColumn(reds, value / 255, softness, `value ${value} at ${timeMs} ms`);
        if (value === 0) expect(Math.max(...reds)).toBe(0);
        if (value === 255) expect(Math.min(...reds)).toBeGreaterThanOrEqual(254);
      }
  });

  test('keeps the value until another comes', () => {
    const scene = project(0);
    player.setShowData(compileShowData(scene, layOut(scene), { frameMs: 1 })!);
    const frames = player.perform('attract', [
      { frame: 50, event: 'score', value: 100 },
      { frame: 500, event: 'score' },
      { frame: 900, event: 'score', value: 30 },
    ]);
    const lit = (timeMs: number) => frames(timeMs).filter((level, i) => i % 3 === 0 && level > 127).length;
    for (const [timeMs, value] of [
      [400, 100],
      [700, 100],
      [1000, 30],
    ] as const)
      expect(Math.abs(lit(timeMs) / ledCount - value / 255)).toBeLessThan(slack);
  });
});
