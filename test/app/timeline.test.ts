// The sums behind the timeline and its inspector: lanes, dragging and snapping, units of fields, and edits that this stage makes of several others.
// Expected values follow from the rules that the stage gives: steps of 10 ms, attraction within a few pixels, ends never crossing.
import { describe, expect, test } from 'vitest';
import { rulerMarks } from '../../src/app/playback/ruler.ts';
import { clipCycles } from '../../src/app/stages/lampshows/clip-cycles.ts';
import {
  attractingMs,
  draggedSpan,
  extentMs,
  lanesOf,
  type Snapping,
} from '../../src/app/stages/lampshows/clip-times.ts';
import { changedKind } from '../../src/app/stages/lampshows/effect-defaults.ts';
import {
  effectTable,
  parameterOf,
  shownNumber,
  storedNumber,
  withParameter,
} from '../../src/app/stages/lampshows/effect-table.ts';
import {
  placeInWidestGap,
  shareOf,
  shownPercent,
  unusedGradients,
} from '../../src/app/stages/lampshows/gradient-stops.ts';
import {
  plannedClip,
  plannedCopy,
  plannedGradient,
  plannedRow,
  plannedShow,
} from '../../src/app/stages/lampshows/show-edits.ts';
import { typedMs } from '../../src/app/stages/lampshows/units.ts';
import { predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { type Clip, type EffectKind, limits, type Project, type ShowRow } from '../../src/project/index.ts';
import { faultsOf, holdsLaws } from '../support/edit-laws.ts';
import { sample, samples } from '../support/lamploom.ts';

const clip = (startMs: number, lengthMs: number): Clip => ({
  startMs,
  lengthMs,
  area: 'sky',
  gradient: 'night',
  blend: 'over',
  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
});
const rowOf = (...clips: Clip[]): ShowRow => ({ id: 'row', clips });

describe('lanes of a row', () => {
  test('clips one after the other share a lane, also where one begins as the other ends', () => {
    expect(lanesOf(rowOf(clip(0, 100), clip(100, 50), clip(400, 50)))).toEqual({
      laneOfClip: [0, 0, 0],
      laneCount: 1,
    });
  });

  test('clips at the same time lie in different lanes, by start, whatever their order in the list', () => {
    expect(lanesOf(rowOf(clip(50, 100), clip(0, 100), clip(100, 10)))).toEqual({
      laneOfClip: [1, 0, 0],
      laneCount: 2,
    });
    expect(lanesOf(rowOf(clip(0, 100), clip(0, 100), clip(0, 100))).laneCount).toBe(3);
  });

  test('an empty row has one lane', () => {
    expect(lanesOf(rowOf())).toEqual({ laneOfClip: [], laneCount: 1 });
  });

  test('no two clips of a lane play at the same time, in all samples', () => {
    let compared = 0;
    for (const name of samples)
      for (const row of sample(name).lampshows.flatMap(({ rows }) => rows)) {
        const { laneOfClip, laneCount } = lanesOf(row);
        for (const [a, one] of row.clips.entries())
          for (const [b, other] of row.clips.entries()) {
            if (a >= b || laneOfClip[a] !== laneOfClip[b]) continue;
            compared++;
            const apart =
              one.startMs + one.lengthMs <= other.startMs || other.startMs + other.lengthMs <= one.startMs;
            expect(apart, `${name} ${row.id} ${a} ${b}`).toBe(true);
          }
        expect(Math.max(0, ...laneOfClip)).toBeLessThan(laneCount);
      }
    expect(compared).toBeGreaterThan(5);
  });
});

describe('dragging a clip', () => {
  const plain: Snapping = { stepMs: 10, attractMs: [], withinMs: 0 };
  const mostMs = 10_000;

  test('it moves in steps of 10 ms and keeps its length', () => {
    expect(draggedSpan(clip(1000, 505), 'both', 123, plain, mostMs)).toEqual({
      startMs: 1120,
      lengthMs: 505,
    });
  });

  test('it stops at 0 and at the end', () => {
    expect(draggedSpan(clip(1000, 500), 'both', -4000, plain, mostMs).startMs).toBe(0);
    expect(draggedSpan(clip(1000, 500), 'both', 90_000, plain, mostMs).startMs).toBe(9500);
  });

  test('either of its ends is caught by what is near, the nearer of two', () => {
    const snapping = { stepMs: 10, attractMs: [2003, 4007], withinMs: 20 };
    expect(draggedSpan(clip(1000, 500), 'both', 990, snapping, mostMs).startMs).toBe(2003);
    // The end lies 7 ms before 4,007, the start at 3,500 is near nothing.
    expect(draggedSpan(clip(1000, 500), 'both', 2500, snapping, mostMs).startMs).toBe(3507);
    expect(draggedSpan(clip(1000, 500), 'both', 1030, snapping, mostMs).startMs).toBe(2030);
    const both = { ...snapping, attractMs: [2000, 2507] };
    expect(draggedSpan(clip(1000, 500), 'both', 1003, both, mostMs).startMs).toBe(2000);
  });

  test('an end is trimmed and the other stays', () => {
    expect(draggedSpan(clip(1000, 500), 'start', 104, plain, mostMs)).toEqual({
      startMs: 1100,
      lengthMs: 400,
    });
    expect(draggedSpan(clip(1000, 500), 'end', 104, plain, mostMs)).toEqual({ startMs: 1000, lengthMs: 600 });
  });

  test('ends never cross: 10 ms are left', () => {
    expect(draggedSpan(clip(1000, 500), 'start', 4000, plain, mostMs)).toEqual({
      startMs: 1490,
      lengthMs: 10,
    });
    expect(draggedSpan(clip(1000, 500), 'end', -4000, plain, mostMs)).toEqual({
      startMs: 1000,
      lengthMs: 10,
    });
    expect(draggedSpan(clip(1000, 500), 'start', -4000, plain, mostMs)).toEqual({
      startMs: 0,
      lengthMs: 1500,
    });
  });

  test('without snapping it moves by single milliseconds', () => {
    const fine = { stepMs: 1, attractMs: [], withinMs: 0 };
    expect(draggedSpan(clip(1000, 500), 'both', 3.4, fine, mostMs).startMs).toBe(1003);
  });

  test('0, the show’s end, the ends of all other clips, beats and markers attract', () => {
    const dragged = clip(100, 100);
    const show = {
      id: 'a',
      lengthMs: 5000,
      rows: [rowOf(dragged, clip(700, 300)), { ...rowOf(clip(20, 5)), id: 'b' }],
    };
    expect(attractingMs(show, [dragged])).toEqual([0, 5000, 700, 1000, 20, 25]);
    const marked = { ...show, beatsMs: [250, 500], markers: [{ atMs: 333 }] };
    expect(attractingMs(marked, [dragged])).toEqual([0, 5000, 700, 1000, 20, 25, 250, 500, 333]);
    expect(extentMs(show)).toBe(5000);
    expect(extentMs({ ...show, lengthMs: 900 })).toBe(1000);
  });
});

describe('units of fields', () => {
  test('seconds with three digits come back as they were typed', () => {
    for (let ms = 0; ms <= 70_000; ms += 7)
      expect(typedMs(Number((ms / 1000).toFixed(3))) / 1000).toBe(ms / 1000);
    expect(typedMs(1.001)).toBe(1001);
    expect(typedMs(4.06)).toBe(4060);
  });

  test('every figure of an effect that can be typed is shown again as it was typed', () => {
    let rows = 0;
    for (const { rows: parameters } of Object.values(effectTable))
      for (const parameter of parameters)
        for (const row of parameter.type === 'number'
          ? [parameter]
          : parameter.type === 'optional'
            ? parameter.rows
            : []) {
          rows++;
          const ticks = 10 ** row.digits;
          const count = (row.most - row.least) * ticks;
          for (let i = 0; i <= count; i += Math.max(1, Math.floor(count / 997))) {
            const typed = Number((row.least + i / ticks).toFixed(row.digits));
            expect(shownNumber(row, storedNumber(row, typed)), `${row.key} ${typed}`).toBe(typed);
          }
        }
    expect(rows).toBeGreaterThan(15);
  });

  test('a stop’s per cents come back as they were typed, and stay on the bar', () => {
    for (let tenths = 0; tenths <= 1000; tenths++)
      expect(shownPercent(shareOf(tenths / 10))).toBe(tenths / 10);
    expect([shareOf(-3), shareOf(104)]).toEqual([0, 1]);
  });

  test('a new stop goes to the middle of the widest gap', () => {
    const stop = (at: number) => ({ at, colour: '#000000' });
    expect(placeInWidestGap([stop(0), stop(1)])).toBe(0.5);
    expect(placeInWidestGap([stop(1), stop(0.2), stop(0)])).toBe(0.6);
    expect(placeInWidestGap([stop(0.3)])).toBe(0.65);
  });
});

describe('another effect', () => {
  const panel = sample('midnight-carnival').panel;
  const kinds = Object.keys(effectTable) as EffectKind[];

  test('what both effects have carries over, and so does the pace', () => {
    const band = {
      kind: 'band',
      passSeconds: 7,
      width: 0.33,
      bands: 3,
      travel: 'backward',
      softness: 0,
    } as const;
    expect(changedKind(band, 'rings', panel)).toMatchObject({ kind: 'rings', width: 0.33, ringSeconds: 7 });
    expect(changedKind(band, 'stars', panel)).toMatchObject({ kind: 'stars', lifeSeconds: 7 });
    const stars = { kind: 'stars', lifeSeconds: 2, density: 0.1, seed: 77 } as const;
    expect(changedKind(stars, 'cloud', panel)).toMatchObject({ kind: 'cloud', seed: 77 });
    // A steady glow stays steady.
    expect(changedKind(stars, 'glow', panel)).not.toHaveProperty('breathSeconds');
  });

  test('a width below the other effect’s least is raised to it', () => {
    const narrow = {
      kind: 'band',
      passSeconds: 1,
      width: 0.02,
      bands: 1,
      travel: 'forward',
      softness: 0,
    } as const;
    expect(changedKind(narrow, 'rings', panel)).toMatchObject({ width: 0.05 });
  });

  test('every effect can become every other, and the project stays sound', () => {
    const project = sample('midnight-carnival');
    const withEffect = (effect: Clip['effect']): Project => {
      const copy = structuredClone(project);
      copy.lampshows[0]!.rows[0]!.clips[0]!.effect = effect;
      return copy;
    };
    for (const from of kinds)
      for (const to of kinds) {
        const effect = changedKind(changedKind(clip(0, 1).effect, from, panel), to, panel);
        expect(effect.kind).toBe(to);
        expect(faultsOf(withEffect(effect)), `${from} to ${to}`).toEqual([]);
      }
  });

  test('a parameter inside another is set without touching its neighbours', () => {
    const rings = changedKind(clip(0, 1).effect, 'rings', panel);
    const moved = withParameter(rings, 'centre.xMm', 12);
    expect(parameterOf(moved, 'centre.xMm')).toBe(12);
    expect(parameterOf(moved, 'centre.yMm')).toBe(parameterOf(rings, 'centre.yMm'));
    expect(parameterOf(rings, 'centre.xMm')).not.toBe(12);
    expect(withParameter(moved, 'inward', undefined)).not.toHaveProperty('inward');
  });
});

describe('edits of the stage', () => {
  const project = sample('first-light');
  const show = project.lampshows[1]!;

  test('a new clip plays where the row’s last one does, for 3 s or to the show’s end', () => {
    const { edit, place } = plannedClip(project, show, 1, 1003)!;
    const after = holdsLaws(project, 'Add clip', edit);
    const added = after.lampshows[1]!.rows[1]!.clips[place.clip]!;
    const like = show.rows[1]!.clips.at(-1)!;
    expect(place).toEqual({ show: show.id, row: 1, clip: show.rows[1]!.clips.length });
    expect(added).toMatchObject({ startMs: 1000, lengthMs: 3000, area: like.area, gradient: like.gradient });
    const late = plannedClip(project, show, 1, show.lengthMs - 500)!;
    const { lengthMs } = holdsLaws(project, 'Add clip', late.edit).lampshows[1]!.rows[1]!.clips[place.clip]!;
    expect(lengthMs).toBe(500);
  });

  test('a show without rows and a project without gradients get them with the first clip', () => {
    const bare: Project = {
      ...project,
      gradients: [],
      lampshows: [{ id: 'bare', lengthMs: 2000, rows: [] }],
      attractMode: 'bare',
      gameEvents: [],
    };
    const { edit, place } = plannedClip(bare, bare.lampshows[0]!, 0, 0)!;
    const after = holdsLaws(bare, 'Add clip', edit);
    expect(place).toEqual({ show: 'bare', row: 0, clip: 0 });
    // The first clip of an empty show fills it.
    expect(after.lampshows[0]!.rows[0]!.clips).toMatchObject([{ startMs: 0, lengthMs: 2000 }]);
    expect(after.gradients).toHaveLength(1);
  });

  test('without an area, or where the show is full, there is no new clip', () => {
    expect(
      plannedClip({ ...project, areas: [], lampshows: [] }, { ...show, rows: [] }, 0, 0),
    ).toBeUndefined();
    const full = {
      ...show,
      rows: [rowOf(...Array.from({ length: limits.clipsPerShow }, () => clip(0, 10)))],
    };
    expect(plannedClip(project, full, 0, 0)).toBeUndefined();
  });

  test('new rows, shows, copies and gradients have ids and names that nobody else has', () => {
    let now = project;
    for (let round = 0; round < 2; round++) {
      now = holdsLaws(now, 'New row', plannedRow(now.lampshows[1]!).edit);
      now = holdsLaws(now, 'New show', plannedShow(now).edit);
      now = holdsLaws(now, 'Duplicate show', plannedCopy(now, now.lampshows[1]!).edit);
      expect(now.lampshows.at(-1)!.rows).toEqual(now.lampshows[1]!.rows);
      const place = { show: show.id, row: 0, clip: 0 };
      const gradient = now.gradients.find(({ id }) => id === now.lampshows[1]!.rows[0]!.clips[0]!.gradient)!;
      const planned = plannedGradient(now, place, gradient);
      now = holdsLaws(now, 'New gradient', planned.edit);
      expect(now.lampshows[1]!.rows[0]!.clips[0]!.gradient).toBe(planned.place);
      expect(now.gradients.at(-1)!.stops).toEqual(gradient.stops);
    }
    const names = now.lampshows.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toHaveLength(project.lampshows.length + 4);
  });
});

describe('what a clip costs in a frame', () => {
  test('a second clip at the same time makes the slowest frame longer by its cycles', () => {
    const project = sample('midnight-carnival');
    const layout = layOut(project);
    const area = 'whole';
    const one: Clip = { ...clip(0, 1000), area };
    const slowest = (clips: Clip[]) =>
      predictSpeed(
        { ...project, lampshows: [{ id: 'a', lengthMs: 1000, rows: [rowOf(...clips)] }], attractMode: 'a' },
        layout,
      ).slowestFrameCycles.get('a')!;
    // 284 LEDs take more than the latch, so nothing hides in it.
    expect(clipCycles(project, layout, one)).toBeCloseTo(slowest([one, one]) - slowest([one]), 6);
    // A clip on a few LEDs hides in it in part by itself: beside a large one all its cycles show.
    const few: Clip = { ...one, area: 'bell' };
    expect(slowest([few]) - slowest([])).toBeLessThan(clipCycles(project, layout, few));
    expect(clipCycles(project, layout, few)).toBeCloseTo(slowest([one, few]) - slowest([one]), 6);
  });
});

describe('marks of the ruler', () => {
  test('a show of 12 s has a mark every second', () => {
    expect(rulerMarks(12_000)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12].map((s) => 1000 * s));
  });

  test('the figures of an hour would meet at its end, so the last mark but one is left out', () => {
    const minutes = [0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60];
    expect(rulerMarks(3_600_000)).toEqual(minutes.map((one) => 60_000 * one));
  });

  test('a show that ends between two marks keeps them all', () => {
    expect(rulerMarks(3_590_000).at(-1)).toBe(3_300_000);
  });
});

describe('gradients that no clip plays through', () => {
  test('are those of no clip in any show', () => {
    const project = sample('first-light');
    const fresh = { id: 'fresh', stops: project.gradients[0]!.stops };
    const used = project.lampshows.flatMap(({ rows }) =>
      rows.flatMap(({ clips }) => clips.map(({ gradient }) => gradient)),
    );
    const unused = project.gradients.filter(({ id }) => !used.includes(id));
    const more = { ...project, gradients: [fresh, ...project.gradients] };
    expect(unusedGradients(more)).toEqual([fresh, ...unused]);
  });
});
