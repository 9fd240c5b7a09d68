// Weaves of clips: the picture in which time runs across and LEDs run down. Expected places and bytes follow from the effect's rule, or come from
// the public player playing an equivalent project; encodings from IEC 61966-2-1 (sRGB).
import { beforeAll, describe, expect, test } from 'vitest';
import { type ClipSource, clipSource, sameSource } from '../../src/app/weave/clip-source.ts';
import { Loom } from '../../src/app/weave/loom.ts';
import {
  clipPeakAmps,
  columnMoments,
  evenly,
  frameMoments,
  mostColumns,
  mostRows,
  partInView,
  rowWires,
  type Weave,
  type Work,
  weaveClip,
} from '../../src/app/weave/weave.ts';
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { assessPower } from '../../src/power/index.ts';
import type { Clip, Project } from '../../src/project/index.ts';
import { loadPlayer, sample } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

function done<T>(work: Work<T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

const band: Clip = {
  startMs: 700,
  lengthMs: 3000,
  area: 'everything',
  gradient: 'ember',
  blend: 'over',
  effect: { kind: 'band', passSeconds: 3, width: 0.1, bands: 1, travel: 'forward', softness: 1 },
};
const glow: Clip = { ...band, effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 0 } };

/** One run of 30 LEDs, its colours as they are in the gradient: no gamma. */
const oneRun = (): Project =>
  projectOf({
    runs: rowsOfStrip(30),
    output: { gamma: { red: 1, green: 1, blue: 1 }, brightnessPercent: 100 },
  });

const sourceOf = (clip: Clip, project = oneRun()): ClipSource => clipSource(project, layOut(project), clip)!;
const weaveOf = (clip: Clip, project?: Project): Weave => done(weaveClip(player, sourceOf(clip, project)));

const pixel = ({ columns, pixels }: Weave, column: number, row: number): number[] => [
  ...pixels.subarray(4 * (row * columns + column), 4 * (row * columns + column) + 4),
];
const light = (weave: Weave, column: number, row: number): number => {
  const [red = 0, green = 0, blue = 0] = pixel(weave, column, row);
  return red + green + blue;
};
const brightestRow = (weave: Weave, column: number): number => {
  const lights = Array.from({ length: weave.rows }, (_, row) => light(weave, column, row));
  return lights.indexOf(Math.max(...lights));
};

describe('a clip’s weave', () => {
  test('a band going forward along one run is a diagonal: its place is the share of the pass', () => {
    const weave = weaveOf(band);
    expect([weave.columns, weave.rows]).toEqual([240, 30]);
    for (const column of [24, 60, 120, 180, 216]) {
      // One pass in 3 s over 30 LEDs; a place is right to one LED, because places are 256 steps.
      const expected = ((column + 0.5) / 240) * 29;
      expect(Math.abs(brightestRow(weave, column) - expected)).toBeLessThanOrEqual(1);
    }
  });

  test('a band going backward is the other diagonal', () => {
    const weave = weaveOf({ ...band, effect: { ...band.effect, travel: 'backward' } as Clip['effect'] });
    expect(brightestRow(weave, 24)).toBeGreaterThan(brightestRow(weave, 120));
    expect(brightestRow(weave, 120)).toBeGreaterThan(brightestRow(weave, 216));
  });

  test('rows run in the area’s order: reversed, the band rises from the last LED', () => {
    const project = oneRun();
    const reversed: Project = {
      ...project,
      areas: [{ ...project.areas[0]!, order: { kind: 'across', reversed: true } }],
    };
    expect(rowWires(sourceOf(band, project))).toEqual(Array.from({ length: 30 }, (_, i) => i));
    expect(rowWires(sourceOf(band, reversed))).toEqual(Array.from({ length: 30 }, (_, i) => 29 - i));
    // In the area's own order it is the same diagonal.
    expect(brightestRow(weaveOf(band, reversed), 60)).toBe(brightestRow(weaveOf(band), 60));
  });

  test('a fade in makes every column at least as bright as the one before, from dark to full', () => {
    const weave = weaveOf({ ...glow, fadeInMs: 3000 });
    const lights = Array.from({ length: 240 }, (_, column) => light(weave, column, 7));
    for (let column = 1; column < 240; column++)
      expect(lights[column]).toBeGreaterThanOrEqual(lights[column - 1]!);
    expect(lights[0]).toBeLessThan(30);
    // #ffd060 as light is 1, 208 / 255 and 96 / 255; 255 x (1.055 x light ^ (1 / 2.4) - 0.055) is 255, 233.1 and 165.0.
    expect(pixel(weaveOf(glow), 100, 7)).toEqual([255, 233, 165, 255]);
  });

  test('colours are red, green, blue whatever order the strip wants them in', () => {
    for (const colourOrder of ['RGB', 'GRB', 'BGR', 'BRG'] as const) {
      const project = oneRun();
      const ordered = { ...project, runs: project.runs.map((run) => ({ ...run, colourOrder })) };
      expect(pixel(weaveOf(glow, ordered), 3, 3)).toEqual([255, 233, 165, 255]);
    }
  });

  test('every clip of the sample shows the bytes of a project in which it plays alone from the start', () => {
    const project = sample('first-light');
    const layout = layOut(project);
    const { limitAmps: _, ...power } = project.power;
    for (const clip of project.lampshows.flatMap(({ rows }) => rows.flatMap(({ clips }) => clips))) {
      const source = clipSource(project, layout, clip)!;
      const weave = done(weaveClip(player, source));
      const alone: Project = {
        ...project,
        power,
        lampshows: [
          {
            id: 'alone',
            lengthMs: 3_600_000,
            rows: [{ id: 'row', clips: [{ ...clip, startMs: 0, blend: 'over' }] }],
          },
        ],
        attractMode: 'alone',
        gameEvents: [],
      };
      player.setShowData(compileShowData(alone, layout, { frameMs: 1 })!);
      const wires = rowWires(source);
      for (const column of [0, 57, 239]) {
        const bytes = player.frame('alone', Math.floor(((column + 0.5) * clip.lengthMs) / 240));
        for (const [row, wire] of wires.entries()) {
          // The sample's strips are GRB, all of them.
          const [green, red, blue] = bytes.subarray(3 * wire, 3 * wire + 3);
          const code = (byte: number) => {
            const linear = byte / 255;
            return Math.round(
              255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055),
            );
          };
          expect(pixel(weave, column, row)).toEqual([code(red!), code(green!), code(blue!), 255]);
        }
      }
    }
  });

  test('a part in view has a column a pixel, each dot the byte of the player’s frame at the column’s middle', () => {
    const project = sample('midnight-carnival');
    const layout = layOut(project);
    const { limitAmps: _, ...power } = project.power;
    const [clip] = project.lampshows[0]!.rows[4]!.clips as [Clip];
    const alone: Project = {
      ...project,
      power,
      lampshows: [
        {
          id: 'alone',
          lengthMs: 3_600_000,
          rows: [{ id: 'row', clips: [{ ...clip, startMs: 0, blend: 'over' }] }],
        },
      ],
      attractMode: 'alone',
      gameEvents: [],
    };
    const source = clipSource(project, layout, clip)!;
    const wires = rowWires(source);
    let lit = 0;
    // The clip a tenth of a pixel a millisecond, a whole one, and beyond: more columns than milliseconds there are not.
    for (const pxPerMs of [0.1, 1, 5]) {
      const clipPx = clip.lengthMs * pxPerMs;
      const part = partInView(clip.lengthMs, clipPx, 0.4 * clipPx, 0.4 * clipPx + 50)!;
      expect(part.columns).toBe(Math.min(clip.lengthMs, Math.round(clipPx)));
      const weave = done(weaveClip(player, source, part));
      expect([weave.columns, weave.rows]).toEqual([part.toColumn - part.fromColumn, wires.length]);
      player.setShowData(compileShowData(alone, layout, { frameMs: 1 })!);
      for (const column of [0, 17, weave.columns - 1]) {
        const ms = Math.floor(((part.fromColumn + column + 0.5) * clip.lengthMs) / part.columns);
        const bytes = player.frame('alone', ms);
        for (const [row, wire] of wires.entries()) {
          // The sample's strips are GRB, all of them.
          const [green, red, blue] = bytes.subarray(3 * wire, 3 * wire + 3);
          const code = (byte: number) => {
            const linear = byte / 255;
            return Math.round(
              255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055),
            );
          };
          expect(pixel(weave, column, row)).toEqual([code(red!), code(green!), code(blue!), 255]);
          if (red! + green! + blue! > 0) lit++;
        }
      }
    }
    expect(lit).toBeGreaterThan(100);
  });

  test('parts of one zoom together are the whole at that zoom', () => {
    const clip = { ...band, lengthMs: 3000 };
    const source = sourceOf(clip);
    const left = done(weaveClip(player, source, { columns: 700, fromColumn: 0, toColumn: 300 }));
    const right = done(weaveClip(player, source, { columns: 700, fromColumn: 300, toColumn: 700 }));
    const all = done(weaveClip(player, source, { columns: 700, fromColumn: 0, toColumn: 700 }));
    for (const column of [0, 150, 299]) expect(pixel(left, column, 9)).toEqual(pixel(all, column, 9));
    for (const column of [0, 150, 399]) expect(pixel(right, column, 9)).toEqual(pixel(all, 300 + column, 9));
  });

  test('what is in view is woven, and a little more, so that a small scroll needs nothing new', () => {
    // 240 columns do for a clip that is no wider.
    expect(partInView(30_000, 240, 0, 240)).toBeUndefined();
    // 1,000 pixels of which 400 to 600 are in view; parts begin and end on multiples of 128.
    const part = partInView(30_000, 1000, 400, 600)!;
    expect(part).toEqual({ columns: 1000, fromColumn: 384, toColumn: 640 });
    expect(partInView(30_000, 1000, 420, 620)).toEqual(part);
    expect(partInView(30_000, 1000, -300, 5000)).toEqual({ columns: 1000, fromColumn: 0, toColumn: 1000 });
    expect(partInView(30_000, 1000, 1000, 1200)).toBeUndefined();
    expect(partInView(30_000, 1000, -50, 0)).toBeUndefined();
  });

  test('it has no more columns and rows than can be told apart, picked evenly', () => {
    const project = projectOf({ runs: rowsOfStrip(120) });
    const weave = weaveOf({ ...band, lengthMs: 60_000 }, project);
    expect([weave.columns, weave.rows]).toEqual([mostColumns, mostRows]);
    expect(weaveOf({ ...band, lengthMs: 5 }).columns).toBe(5);
    expect(evenly(4, 8)).toEqual([1, 3, 5, 7]);
    expect(evenly(3, 3)).toEqual([0, 1, 2]);
    expect(columnMoments(1)).toEqual([0]);
    expect(columnMoments(3_600_000).at(-1)).toBe(3_592_500);
  });

  test('an area without LEDs has no rows, and nothing is played', () => {
    const project = oneRun();
    const empty: Project = {
      ...project,
      areas: [{ ...project.areas[0]!, members: [{ kind: 'runs', runs: [] }] }],
    };
    expect(weaveOf(band, empty)).toMatchObject({ columns: 0, rows: 0 });
  });
});

describe('what a weave is made from', () => {
  const project = oneRun();
  const layout = layOut(project);
  const of = (clip: Clip, changed: Project = project) => clipSource(changed, layout, clip)!;

  test('moving a clip, its blend and its row change nothing', () => {
    expect(sameSource(of(band), of({ ...band, startMs: 9000, blend: 'add' }))).toBe(true);
  });

  test('its length, fades, level, effect, gradient and the output stage each change it', () => {
    const others: Clip[] = [
      { ...band, lengthMs: 2999 },
      { ...band, fadeInMs: 1 },
      { ...band, fadeOutMs: 1 },
      { ...band, levelPercent: 99 },
      { ...band, gradient: 'sea' },
      { ...band, effect: { ...band.effect } },
    ];
    for (const other of others) expect(sameSource(of(band), of(other))).toBe(false);
    const dimmed = { ...project, output: { ...project.output, brightnessPercent: 50 } };
    expect(sameSource(of(band), of(band, dimmed))).toBe(false);
    const renamed = { ...project, name: 'Another name' };
    expect(sameSource(of(band), of(band, renamed))).toBe(true);
  });
});

describe('what a clip draws', () => {
  test('white on 30 LEDs of 3 x 20 mA draws 1.8 A above the dark panel, limit or not', () => {
    const project = oneRun();
    const white: Project = {
      ...project,
      gradients: [{ id: 'ember', stops: [{ at: 0, colour: '#ffffff' }] }],
      power: { ...project.power, limitAmps: 0.5 },
      runs: project.runs.map((run) => ({ ...run, strip: 'white-test' })),
      strips: [
        {
          id: 'white-test',
          supplyVolts: 5,
          floorVolts: 3.5,
          railOhmPerMetre: 0.2,
          ledsPerMetre: 60,
          boardWidthMm: 10,
          colourOrder: 'GRB',
          channelMilliamps: 20,
          quiescentMilliamps: 1,
          currentModel: 'sum',
        } as NonNullable<Project['strips']>[number],
      ],
    };
    const source = sourceOf(glow, white);
    const { panel } = assessPower(white, source.layout);
    expect(done(clipPeakAmps(player, source, panel, [0, 1000]))).toBeCloseTo(1.8, 9);
    const dimmer = sourceOf({ ...glow, levelPercent: 20 }, white);
    // 20 % is level 51 of 255, and the player may cut one level off.
    const amps = done(clipPeakAmps(player, dimmer, panel, [500]));
    expect(amps).toBeLessThanOrEqual((1.8 * 51) / 255 + 1e-9);
    expect(amps).toBeGreaterThanOrEqual((1.8 * 50) / 255 - 1e-9);
  });

  test('frames fall on multiples of the frame time, up to the clip’s or the show’s end', () => {
    // Frames at 0, 40, 80...: the first inside begins at 120.
    expect(frameMoments({ startMs: 100, lengthMs: 100 }, 40, 5000)).toEqual([20, 60]);
    expect(frameMoments({ startMs: 0, lengthMs: 100 }, 40, 5000)).toEqual([0, 40, 80]);
    expect(frameMoments({ startMs: 80, lengthMs: 4000 }, 40, 200)).toEqual([0, 40, 80]);
    expect(frameMoments({ startMs: 300, lengthMs: 4000 }, 40, 200)).toEqual([]);
  });
});

describe('the loom', () => {
  /** Every look at the clock takes a millisecond. */
  function bench() {
    let now = 0;
    const queue: (() => void)[] = [];
    const loom = new Loom({ nowMs: () => now++, later: (run) => queue.push(run) });
    const finished: string[] = [];
    const work = (name: string, steps: number) =>
      function* (): Work<void> {
        for (let i = 0; i < steps; i++) yield;
        finished.push(name);
      };
    const slice = () => queue.shift()?.();
    return { loom, queue, finished, work, slice };
  }

  test('work that takes long is cut into slices, and another begins when it is done', () => {
    const { loom, queue, finished, work, slice } = bench();
    loom.ask({}, work('long', 12));
    loom.ask({}, work('short', 1));
    let slices = 0;
    while (queue.length > 0) {
      slice();
      slices++;
    }
    expect(finished).toEqual(['long', 'short']);
    // 13 + 2 steps, five to a slice.
    expect(slices).toBeGreaterThanOrEqual(3);
  });

  test('asking again replaces what waits, and what has begun is finished', () => {
    const { loom, queue, finished, work, slice } = bench();
    const slot = {};
    loom.ask(slot, work('first', 8));
    slice();
    loom.ask(slot, work('second', 1));
    loom.ask(slot, work('third', 1));
    while (queue.length > 0) slice();
    expect(finished).toEqual(['first', 'third']);
  });

  test('what was withdrawn before it began is never done', () => {
    const { loom, queue, finished, work, slice } = bench();
    const slot = {};
    loom.ask(slot, work('unwanted', 1));
    loom.withdraw(slot);
    while (queue.length > 0) slice();
    expect(finished).toEqual([]);
    loom.ask(slot, work('wanted', 1));
    while (queue.length > 0) slice();
    expect(finished).toEqual(['wanted']);
  });
});
