// What every clip may have whatever its effect: an envelope, a gradient that travels along itself, a level, a muted row; against the schema's
// descriptions (src/project/schema-shows.ts). And that colours written on black LEDs are the bytes that blending would have given.
// Not here: fades and times (times.test.ts), the rule by which LEDs count as black (test/lampshow/show-data.test.ts).
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, crc16, type Player, type ShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Clip, Gradient } from '../../src/project/index.ts';
import { mixedInOklab, type Triple } from './oklab.ts';
import { projectOfScene, rowAt, stageOf } from './stage.ts';
import { frameNumbers, loadPlayer, seed, variedProject } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const steady = { kind: 'glow', gradientPlace: 0, gradientSpan: 0 } as const;
const one = [rowAt('one', 0, 1)];

describe('an envelope', () => {
  const levelOf = (envelope: NonNullable<Clip['envelope']>, more: Partial<Clip> = {}) => {
    const { reds } = stageOf(player, { runs: one, clips: [{ effect: steady, envelope, ...more }] });
    return (timeMs: number) => reds(timeMs)[0]!;
  };
  /** Straight lines between points by time, held before the first and behind the last; percent. */
  function percentAt(envelope: NonNullable<Clip['envelope']>, timeMs: number): number {
    const points = [...envelope].sort((a, b) => a.atMs - b.atMs);
    const next = points.findIndex(({ atMs }) => atMs > timeMs);
    if (next === -1) return points.at(-1)!.percent;
    if (next === 0) return points[0]!.percent;
    const [a, b] = [points[next - 1]!, points[next]!];
    return a.percent + ((b.percent - a.percent) * (timeMs - a.atMs)) / (b.atMs - a.atMs);
  }
  /** A share of 255 of the line, and the level, each cut off, and over. */
  const levelsOff = 4;

  test.each([
    [[{ atMs: 0, percent: 60 }]],
    [
      [
        { atMs: 100, percent: 0 },
        { atMs: 1100, percent: 100 },
      ],
    ],
    [
      [
        { atMs: 2000, percent: 20 },
        { atMs: 0, percent: 100 },
        { atMs: 500, percent: 0 },
        { atMs: 501, percent: 90 },
      ],
    ],
    [
      [
        { atMs: 70_000, percent: 100 },
        { atMs: 170_000, percent: 0 },
        { atMs: 3_000_000, percent: 50 },
      ],
    ],
  ])('of %j goes straight from point to point', (envelope) => {
    const level = levelOf(envelope);
    const times = envelope.flatMap(({ atMs }, i) => [
      atMs - 1,
      atMs,
      atMs + 1,
      atMs + 333 * (i + 1),
      atMs * 0.71,
    ]);
    for (const timeMs of [...times, 3_500_000].map(Math.round).filter((ms) => ms >= 0))
      expect(
        Math.abs(level(timeMs) - 2.55 * percentAt(envelope, timeMs)),
        `${timeMs} ms`,
      ).toBeLessThanOrEqual(levelsOff);
  });

  test('counts from the clip’s own beginning, and times its level', () => {
    const envelope = [
      { atMs: 0, percent: 0 },
      { atMs: 1000, percent: 100 },
    ];
    const level = levelOf(envelope, { startMs: 5000, lengthMs: 4000, levelPercent: 50 });
    for (const timeMs of [5000, 5250, 5500, 6000, 8999])
      expect(
        Math.abs(level(timeMs) - 1.275 * percentAt(envelope, timeMs - 5000)),
        `${timeMs} ms`,
      ).toBeLessThanOrEqual(levelsOff);
    expect(level(4999)).toBe(0);
    expect(level(9000)).toBe(0);
  });
});

describe('a gradient that travels along itself', () => {
  const ledCount = 256;
  const runs = [rowAt('row', 100, ledCount)];
  /** Ends as it begins. */
  const gradient: Gradient = {
    id: 'g',
    stops: [
      { at: 0, colour: '#202020' },
      { at: 0.5, colour: '#e0e0e0' },
      { at: 1, colour: '#202020' },
    ],
  };
  const grey = (level: number): Triple => [level, level, level];
  const levelAt = (place: number): number => {
    const at = place - Math.floor(place);
    return mixedInOklab(grey(0x20), grey(0xe0), at < 0.5 ? 2 * at : 2 - 2 * at)[0];
  };

  test.each([
    [4, false],
    [4, true],
    [0.7, false],
    [100, true],
  ])('once in %f s (backward: %s) is where the time says', (seconds, backward) => {
    const effect = { kind: 'glow', gradientPlace: 0, gradientSpan: 1 } as const;
    const { reds } = stageOf(player, {
      runs,
      gradients: [gradient],
      clips: [{ effect, cycle: { seconds, backward } }],
    });
    for (const share of [0, 0.1, 0.33, 0.5, 0.8, 1, 2.25]) {
      const timeMs = Math.round(1000 * seconds * share);
      const passed = ((backward ? -1 : 1) * timeMs) / 1000 / seconds;
      for (const [led, level] of reds(timeMs).entries()) {
        // 64 colours from the gradient's beginning to its end, both included; a place is cut to a 256th. Where it closes it stays for one of
        // them, and at the top it may go straight on for one.
        const slack = 2 / 64;
        const near = Array.from({ length: 17 }, (_, i) =>
          levelAt(led / (ledCount - 1) - passed + (slack * (i - 8)) / 8),
        );
        expect(level, `LED ${led}, ${timeMs} ms`).toBeGreaterThanOrEqual(Math.min(...near) - 8);
        expect(level, `LED ${led}, ${timeMs} ms`).toBeLessThanOrEqual(Math.max(...near) + 8);
      }
    }
  });

  test.each([false, true])(
    'turns the colour of a steady glow, too, and comes back to it (backward: %s)',
    (backward) => {
      const stops = [
        { at: 0, colour: '#ff0000' },
        { at: 0.5, colour: '#00ff00' },
        { at: 1, colour: '#0000ff' },
      ];
      const { levels } = stageOf(player, {
        runs: one,
        gradients: [{ id: 'g', stops }],
        clips: [{ effect: steady, cycle: { seconds: 6, backward } }],
      });
      const strongest = (timeMs: number) => [...levels(timeMs)].indexOf(Math.max(...levels(timeMs)));
      const order = [0, 1000, 2000, 3000, 4000, 5000].map((ms) => strongest(ms + 100));
      // Behind its end its beginning follows; which way it goes decides which colour comes next.
      expect(new Set(order)).toEqual(new Set([0, 1, 2]));
      expect(strongest(6100)).toBe(strongest(100));
      const forward = [...order].reverse();
      const changes = (backward ? order : forward).filter(
        (colour, i, all) => i === 0 || colour !== all[i - 1],
      );
      for (const [i, colour] of changes.slice(1).entries()) expect(colour).toBe((changes[i]! + 1) % 3);
    },
  );

  test('without cycle stays', () => {
    const effect = { kind: 'glow', gradientPlace: 0, gradientSpan: 1 } as const;
    const { reds } = stageOf(player, { runs, gradients: [gradient], clips: [{ effect }] });
    expect(reds(12_345)).toEqual(reds(0));
  });
});

test('a level of so many percent dims every effect to that share', () => {
  const effects = [
    steady,
    { kind: 'stream', passSeconds: 3, repeats: 2, travel: 'forward' },
    { kind: 'column', fillSeconds: 2, travel: 'fills', softness: 0.3 },
    { kind: 'stars', lifeSeconds: 1, density: 0.7, seed: 1 },
    { kind: 'cloud', patchMm: 60, driftMmPerSecond: 20, driftDeg: 0, seed: 1 },
  ] as const;
  const runs = [rowAt('row', 100, 64)];
  for (const effect of effects)
    for (const levelPercent of [1, 30, 75]) {
      const [full, dimmed] = [undefined, levelPercent].map((percent) =>
        stageOf(player, {
          runs,
          clips: [{ effect, blend: 'add', ...(percent ? { levelPercent: percent } : {}) }],
        }).reds(777),
      ) as [Uint8Array, Uint8Array];
      expect(Math.max(...full), effect.kind).toBeGreaterThan(100);
      // The level is a byte, and each product is cut off.
      for (const [led, level] of full.entries())
        expect(
          Math.abs(dimmed[led]! - (level * levelPercent) / 100),
          `${effect.kind}, ${levelPercent} %`,
        ).toBeLessThanOrEqual(2.5);
    }
});

describe('muted rows', () => {
  test('are as good as absent', () => {
    fc.assert(
      fc.property(
        variedProject,
        fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
        fc.nat(3000),
        (project, mutes, frame) => {
          const withRows = (keep: boolean) => ({
            ...project,
            lampshows: project.lampshows.map((show) => ({
              ...show,
              rows: keep
                ? show.rows.map((row, i) => ({ ...row, muted: mutes[i % 8]! }))
                : show.rows.filter((_, i) => !mutes[i % 8]!),
            })),
          });
          const frames = [withRows(true), withRows(false)].map((one) => {
            player.setShowData(compileShowData(one, layOut(one), { frameMs: 20 })!);
            return player.frame('attract', frame).slice();
          });
          expect(frames[0]).toEqual(frames[1]);
        },
      ),
      { seed, numRuns: 60 },
    );
  });

  test('are dark', () => {
    const project = projectOfScene({ runs: one, clips: [{ effect: steady }] });
    const muted = {
      ...project,
      lampshows: project.lampshows.map((show) => ({
        ...show,
        rows: show.rows.map((row) => ({ ...row, muted: true })),
      })),
    };
    player.setShowData(compileShowData(muted, layOut(muted), { frameMs: 20 })!);
    expect([...player.frame('attract', 5)]).toEqual([0, 0, 0]);
  });
});

describe('colours written on black LEDs', () => {
  /** Places of firmware-templates/player/show_data.h. */
  const at = { showCount: 14, shows: 24, clipCount: 4, clips: 6, clipSize: 41, blend: 19 };
  const onBlack = 0x80;

  /** The same show data without the mark that a clip's LEDs are black; how many there were. */
  function blended(data: ShowData): { data: ShowData; marks: number } {
    const bytes = data.bytes.slice();
    const view = new DataView(bytes.buffer);
    let marks = 0;
    for (let show = 0; show < bytes[at.showCount]!; show++) {
      const start = view.getUint16(view.getUint16(at.shows, true) + 2 * show, true);
      for (let clip = 0; clip < view.getUint16(start + at.clipCount, true); clip++) {
        const place = start + at.clips + clip * at.clipSize + at.blend;
        if (bytes[place]! & onBlack) marks++;
        bytes[place]! &= ~onBlack;
      }
    }
    view.setUint16(6, crc16(bytes.subarray(8)), true);
    return { data: { ...data, bytes }, marks };
  }

  test('are the bytes that blending gives, over random shows', () => {
    let marks = 0;
    let lit = 0;
    let all = 0;
    fc.assert(
      fc.property(variedProject, frameNumbers(20), (project, frames) => {
        const data = compileShowData(project, layOut(project), { frameMs: 20 })!;
        const other = blended(data);
        marks += other.marks;
        const render = (one: ShowData) => {
          player.setShowData(one);
          return frames.map((frame) => player.frame('attract', frame).slice());
        };
        const [written, mixed] = [render(data), render(other.data)];
        for (const [i, frame] of written.entries()) {
          expect(frame, `frame ${frames[i]}`).toEqual(mixed[i]);
          lit += frame.filter((byte) => byte > 0).length;
          all += frame.length;
        }
      }),
      { seed, numRuns: 100 },
    );
    expect(marks).toBeGreaterThan(100);
    expect(lit / all).toBeGreaterThan(0.3);
  });
});
