// The worst that a project can be made to draw: crossfades, values, presses again and again, recorded presses. Strip "ws2812b-60": 12 mA a channel and
// 0.6 mA quiescent an LED (a secondary page that quotes the WS2812B-V5 data sheet). Levels by the rules of firmware-templates/player/SPEC.md, worked
// out beside each check.
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { compileProject, type PowerPlays, powerPlaysOf } from '../../src/board/index.ts';
import type { Player } from '../../src/lampshow/index.ts';
import { ampsMeter, frameAmps, panelNetwork, totalAmps, worstSecond } from '../../src/power/index.ts';
import type { Clip, GameEvent, Lampshow, Project } from '../../src/project/index.ts';
import { loadPlayer, sample, samples, templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

const ledCount = 30;
const quiescent = 0.0006;
const whiteLed = 0.036;

function played(project: Project): PowerPlays {
  const compiled = compileProject(project, templates);
  player.setShowData(compiled.showData!);
  const work = powerPlaysOf(compiled, player);
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

const clip = (area: string, colour: string, lengthMs: number, blend: Clip['blend'] = 'over'): Clip => ({
  startMs: 0,
  lengthMs,
  area,
  gradient: 'ember',
  blend,
  effect: {
    kind: 'painted',
    columns: 1,
    rows: 1,
    palette: [colour, '#808080'],
    frames: [{ holdMs: 1000, cells: '0' }],
  },
});

const show = (id: string, lengthMs: number, ...clips: Clip[]): Lampshow => ({
  id,
  lengthMs,
  rows: clips.map((one, i) => ({ id: `row-${i}`, clips: [one] })),
});

/** One row of 30 LEDs, 15 in each half; gamma 1, so that levels are bytes. */
const panel = (parts: Partial<Project>): Project =>
  projectOf({
    runs: rowsOfStrip(ledCount),
    areas: [
      { id: 'everything', members: [{ kind: 'all' }], order: { kind: 'across' } },
      {
        id: 'left',
        members: [{ kind: 'leds', run: 'row-0', from: 0, to: 14 }],
        order: { kind: 'across' },
      },
      {
        id: 'right',
        members: [{ kind: 'leds', run: 'row-0', from: 15, to: 29 }],
        order: { kind: 'across' },
      },
    ],
    output: { gamma: { red: 1, green: 1, blue: 1 }, brightnessPercent: 100 },
    ...parts,
    power: {
      supply: { volts: 5, amps: 40 },
      feeds: [{ run: 'row-0', led: 0, wire: 'AWG 18', lengthMm: 300 }],
    },
  });

const white = '#ffffff';
/** Twice white, added: at half its level each LED is still full. */
const twice = (id: string, area: string, lengthMs: number): Lampshow =>
  show(id, lengthMs, clip(area, white, lengthMs, 'add'), clip(area, white, lengthMs, 'add'));
const near = (actual: number, expected: number) => expect(Math.abs(actual - expected)).toBeLessThan(1e-9);
const halfWhite = 15 * whiteLed + ledCount * quiescent;

describe('two shows that light different halves, each twice over, added', () => {
  const shows = [twice('attract', 'left', 4000), twice('hit', 'right', 3000)];
  const project = (change: Partial<GameEvent>): Project =>
    panel({ lampshows: shows, gameEvents: [{ id: 'hit', lampshow: 'hit', ...change }] });

  test('draw more in the middle of a crossfade than either alone', () => {
    const plays = played(project({ crossfadeMs: 1000 }));
    for (const { peakAmps } of plays.alone) near(peakAmps, halfWhite);
    // D-15, half way: f = 127, out by 128. scale8(255, 128) = 128, twice that is 255; scale8(255, 127) = 127, twice that is 254.
    const { peakAmps, show: from, log, peakFrame } = plays.highestPeak!;
    near(peakAmps, 15 * whiteLed + 15 * whiteLed * (254 / 255) + ledCount * quiescent);
    // What is told can be played again, and then draws so much.
    const compiled = compileProject(project({ crossfadeMs: 1000 }), templates);
    player.setShowData(compiled.showData!);
    const bytes = player.perform(from, log)(peakFrame);
    near(totalAmps(frameAmps(panelNetwork(compiled.project, compiled.layout), bytes)), peakAmps);
    expect(log.map(({ event }) => event)).toEqual(['hit']);
  });

  test('draw on average what the fade lets both give', () => {
    // A share x of a show gives min(1, 2 x) of its half. In the second of the fade the sum's mean is 3/4 + 3/4 of a half; steps of 8 bits and of frames
    // make that inexact by under a hundredth.
    const { worstSecondAmps } = played(project({ crossfadeMs: 1000 })).highestSecond!;
    const expected = 1.5 * 15 * whiteLed + ledCount * quiescent;
    expect(Math.abs(worstSecondAmps - expected)).toBeLessThan(expected / 100);
  });

  test('without a crossfade never do', () => {
    const plays = played(project({}));
    near(plays.highestPeak!.peakAmps, halfWhite);
    near(plays.highestSecond!.worstSecondAmps, halfWhite);
  });

  test('are found in recorded presses too, where only those come from a show', () => {
    const both = panel({
      lampshows: [show('attract', 4000), ...shows.slice(1), twice('demo', 'left', 4000)],
      gameEvents: [{ id: 'hit', lampshow: 'hit', crossfadeMs: 1000 }],
      pressLogs: [{ id: 'game', lampshow: 'demo', lengthMs: 4000, presses: [{ atMs: 1000, event: 'hit' }] }],
    });
    const { highestPeak } = played(both);
    expect(highestPeak!.title).toBe('Recorded presses "game"');
    near(highestPeak!.peakAmps, halfWhite + 15 * whiteLed * (254 / 255));
    expect(played({ ...both, pressLogs: [] }).highestPeak!.peakAmps).toBeLessThan(halfWhite + 0.001);
  });
});

test('what is found is as bad as the worst of all moments at which an event may be pressed', () => {
  const level = fc.constantFrom(0, 20, 60, 120, 255);
  /** Ten levels of grey, one after the other. */
  const restless = (area: string, lengthMs: number, levels: readonly number[]): Clip => ({
    ...clip(area, white, lengthMs, 'add'),
    effect: {
      kind: 'painted',
      columns: 1,
      rows: 1,
      palette: levels.map((one) => `#${one.toString(16).padStart(2, '0').repeat(3)}`),
      frames: levels.map((_, i) => ({ holdMs: lengthMs / levels.length, cells: String(i) })),
    },
  });
  const tens = fc.array(level, { minLength: 10, maxLength: 10 });
  fc.assert(
    fc.property(
      tens,
      tens,
      fc.integer({ min: 200, max: 1500 }),
      fc.boolean(),
      fc.constantFrom(1, 2),
      (before, after, crossfadeMs, resume, rows) => {
        const rowsOf = (one: Clip) => Array.from({ length: rows }, () => one);
        const project = panel({
          lampshows: [
            show('attract', 3000, ...rowsOf(restless('left', 3000, before))),
            show('hit', 2000, ...rowsOf(restless('right', 2000, after))),
          ],
          gameEvents: [{ id: 'hit', lampshow: 'hit', crossfadeMs, resume, retriggerMs: 60_000 }],
        });
        const { highestPeak, highestSecond } = played(project);
        const { layout, frameMs } = compileProject(project, templates);
        const meter = ampsMeter(panelNetwork(project, layout));
        let [peak, second] = [0, 0];
        for (let press = 0; press * frameMs < 3000; press += 5) {
          const frameOf = player.perform('attract', [{ frame: press, event: 'hit' }]);
          const amps = Array.from({ length: Math.ceil(3000 / frameMs) }, (_, i) => meter(frameOf(2 * i)));
          peak = Math.max(peak, ...amps);
          second = Math.max(second, worstSecond(amps, 2 * frameMs, false)!.amps);
        }
        expect(highestPeak!.peakAmps).toBeGreaterThan(0.98 * peak);
        expect(highestSecond!.worstSecondAmps).toBeGreaterThan(0.95 * second);
      },
    ),
    { seed: seedOf(315), numRuns: 6, endOnFailure: true },
  );
});

test('what a show covers with black shows through while it fades', () => {
  const covered = show('attract', 4000, clip('everything', white, 4000), clip('everything', '#000000', 4000));
  const project = panel({
    lampshows: [covered, show('hit', 3000)],
    gameEvents: [{ id: 'hit', lampshow: 'hit', crossfadeMs: 1000 }],
  });
  const { alone, highestPeak } = played(project);
  for (const { peakAmps } of alone) near(peakAmps, ledCount * quiescent);
  // white over black by s, then black over that by s: floor(s x (255 - s) / 256), at most 63.
  near(highestPeak!.peakAmps, ledCount * (quiescent + (whiteLed * 63) / 255));
});

test('the value of an event is tried at both ends', () => {
  const column: Clip = {
    ...clip('everything', white, 3000),
    gradient: 'plain',
    effect: { kind: 'column', fillSeconds: 1, travel: 'fills', byValue: true, softness: 0 },
  };
  const project = (lengthMs: number, plays?: 'until-next') =>
    panel({
      gradients: [
        { id: 'ember', stops: [{ at: 0, colour: white }] },
        {
          id: 'plain',
          stops: [
            { at: 0, colour: white },
            { at: 1, colour: white },
          ],
        },
      ],
      lampshows: [show('attract', 4000), { id: 'score', lengthMs, rows: [{ id: 'row', clips: [column] }] }],
      gameEvents: [{ id: 'score', lampshow: 'score', hasValue: true, ...(plays ? { plays } : {}) }],
    });
  for (const plays of [undefined, 'until-next'] as const) {
    const { alone, highestPeak } = played(project(3000, plays));
    near(alone[1]!.peakAmps, ledCount * quiescent);
    near(highestPeak!.peakAmps, ledCount * (whiteLed + quiescent));
    expect(highestPeak!.title).toContain('255');
    expect(highestPeak!.log[0]!.value).toBe(255);
  }
});

test('a value comes along with presses at bright moments too', () => {
  const column = (area: string): Clip => ({
    ...clip(area, white, 3000, 'add'),
    gradient: 'plain',
    effect: { kind: 'column', fillSeconds: 1, travel: 'fills', byValue: true, softness: 0 },
  });
  const lateFlash: Clip = { ...clip('left', white, 500, 'add'), startMs: 2000 };
  const project = panel({
    gradients: [
      { id: 'ember', stops: [{ at: 0, colour: white }] },
      {
        id: 'plain',
        stops: [
          { at: 0, colour: white },
          { at: 1, colour: white },
        ],
      },
    ],
    lampshows: [
      show('attract', 4000, lateFlash, lateFlash),
      show('score', 3000, column('right'), column('right')),
    ],
    gameEvents: [{ id: 'score', lampshow: 'score', hasValue: true, crossfadeMs: 400 }],
  });
  // The attract mode is lit for half a second, in which the score must be pressed: then nearly all are lit half way.
  expect(played(project).highestPeak!.peakAmps).toBeGreaterThan(0.95 * ledCount * whiteLed);
});

test('one event’s show into another’s: pressed before the first is brightest, so that the fade meets it', () => {
  // Lit for 150 ms from 1,000 ms on. Half way through a fade of a second both halves are full, so the press lies at about 550 ms.
  const glint: Clip = { ...clip('left', white, 150, 'add'), startMs: 1000 };
  const project = panel({
    lampshows: [show('attract', 4000), show('first', 3000, glint, glint), twice('second', 'right', 3000)],
    gameEvents: [
      { id: 'first', lampshow: 'first' },
      { id: 'second', lampshow: 'second', crossfadeMs: 1000 },
    ],
  });
  const { peakAmps, log } = played(project).highestPeak!;
  expect(peakAmps).toBeGreaterThan(0.95 * ledCount * whiteLed);
  expect(log.map(({ event }) => event)).toEqual(['first', 'second']);
});

test('around a show of less than a second that plays once it is dark', () => {
  const project = panel({
    lampshows: [show('attract', 4000), show('hit', 300, clip('everything', white, 300))],
    gameEvents: [{ id: 'hit', lampshow: 'hit', retriggerMs: 60_000 }],
  });
  const full = ledCount * whiteLed;
  for (const { worstSecondAmps } of [played(project).alone[1]!, played(project).highestSecond!])
    expect(Math.abs(worstSecondAmps - 0.3 * full - ledCount * quiescent)).toBeLessThan(full / 50);
});

test('a short flash draws little on average, and all the time where it is pressed again and again', () => {
  const flash = show('hit', 2000, clip('everything', white, 200));
  const project = (retriggerMs: number) =>
    panel({
      lampshows: [show('attract', 4000), flash],
      gameEvents: [{ id: 'hit', lampshow: 'hit', retriggerMs }],
    });
  const full = ledCount * whiteLed;
  const often = played(project(0));
  // A fifth of a second, and a frame at most.
  expect(Math.abs(often.alone[1]!.worstSecondAmps - full / 5 - ledCount * quiescent)).toBeLessThan(full / 50);
  near(often.highestSecond!.worstSecondAmps, full + ledCount * quiescent);
  // Every 500 ms: three flashes never lie in one second, two do.
  const seldom = played(project(500)).highestSecond!.worstSecondAmps;
  expect(Math.abs(seldom - (2 * full) / 5 - ledCount * quiescent)).toBeLessThan(full / 25);
});

test('a second may lie across the cut from one show to another', () => {
  const late = show('attract', 4000, { ...clip('everything', white, 400), startMs: 2000 });
  const early = show('hit', 3000, clip('everything', white, 400));
  const project = panel({
    lampshows: [late, early],
    gameEvents: [{ id: 'hit', lampshow: 'hit', retriggerMs: 60_000 }],
  });
  const { highestSecond } = played(project);
  // 400 ms of each, less or more a frame at each end.
  const full = ledCount * whiteLed;
  expect(Math.abs(highestSecond!.worstSecondAmps - 0.8 * full - ledCount * quiescent)).toBeLessThan(
    full / 25,
  );
});

test.each(samples)('%s: never below any show by itself, and never above white or the limit', (name) => {
  const project = sample(name);
  const compiled = compileProject(project, templates);
  const plays = played(project);
  expect(plays.alone.map(({ show: id }) => id)).toEqual(project.lampshows.map(({ id }) => id));
  expect(plays.leftOutCount).toBe(0);
  const network = panelNetwork(project, compiled.layout);
  player.setShowData(compiled.showData!);
  for (const { id, lengthMs } of project.lampshows)
    for (let frame = 0; frame * compiled.frameMs < lengthMs; frame++) {
      const amps = totalAmps(frameAmps(network, player.frame(id, frame)));
      expect(plays.highestPeak!.peakAmps).toBeGreaterThanOrEqual(amps - 1e-9);
    }
  for (const one of plays.alone)
    expect(plays.highestSecond!.worstSecondAmps).toBeGreaterThanOrEqual(one.worstSecondAmps - 1e-9);
  expect(plays.highestSecond!.worstSecondAmps).toBeLessThanOrEqual(plays.highestPeak!.peakAmps + 1e-9);
  expect(plays.highestPeak!.peakAmps).toBeLessThanOrEqual(
    project.power.limitAmps ?? Number.POSITIVE_INFINITY,
  );
});

test('says how far it is, and can be left at any time', () => {
  const compiled = compileProject(sample('first-light'), templates);
  player.setShowData(compiled.showData!);
  let before = -1;
  let steps = 0;
  for (const { doneCount, playCount } of powerPlaysOf(compiled, player)) {
    expect(doneCount).toBeGreaterThanOrEqual(before);
    expect(doneCount).toBeLessThanOrEqual(playCount);
    before = doneCount;
    if (++steps === 500) break;
  }
  expect(steps).toBe(500);
});
