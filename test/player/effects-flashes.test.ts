// Bursts and lightning against the schema's descriptions (src/project/schema-shows.ts), and both against the rule for flashes. One LED, white, a frame
// each millisecond. Nothing is taken from effects.h.
// Flash: a pair of opposing changes of 10 % of the full level or more; no more than three in any one second (WCAG 2.x, success criterion 2.3.1,
// general flash). Levels stand for relative luminance, which only counts more changes than there are.
import { beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Clip, Effect, EffectOf } from '../../src/project/index.ts';
import { projectOfScene, rowAt } from './stage.ts';
import { loadPlayer } from './varied-project.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

/** The level of the only LED at each moment, `everyMs` apart. */
function courseOf(effect: Effect, lengthMs: number, everyMs = 1, clip: Partial<Clip> = {}): Uint8Array {
  const project = projectOfScene({ runs: [rowAt('one', 0, 1)], clips: [{ effect, ...clip }] });
  player.setShowData(compileShowData(project, layOut(project), { frameMs: everyMs })!);
  return Uint8Array.from(
    { length: Math.floor(lengthMs / everyMs) },
    (_, i) => player.frame('attract', i)[0]!,
  );
}

/** Moments at which the level has turned and then changed by 10 % of the full level: each is the end of one of a flash's two changes. */
function changesOf(course: Uint8Array): number[] {
  const least = 25.5;
  const changes: number[] = [];
  let direction = 0;
  let [low, high] = [course[0]!, course[0]!];
  for (const [at, level] of course.entries()) {
    low = Math.min(low, level);
    high = Math.max(high, level);
    if (direction <= 0 && level - low >= least) {
      changes.push(at);
      direction = 1;
      high = level;
    } else if (direction >= 0 && high - level >= least) {
      changes.push(at);
      direction = -1;
      low = level;
    }
    if (direction > 0) low = level < high ? low : level;
    if (direction > 0 && level >= high) low = level;
    if (direction < 0 && level <= low) high = level;
  }
  return changes;
}

/** The most flashes in any one second. */
function mostFlashes(course: Uint8Array, everyMs: number): number {
  const changes = changesOf(course);
  const inSecond = changes.map(
    (from) => changes.filter((at) => at >= from && (at - from) * everyMs < 1000).length,
  );
  return Math.floor(Math.max(0, ...inSecond) / 2);
}

test('the count of flashes counts flashes', () => {
  const square = (periodMs: number, high: number, low: number) =>
    Uint8Array.from({ length: 5000 }, (_, i) => (i % periodMs < periodMs / 2 ? high : low));
  expect(mostFlashes(square(250, 255, 0), 1)).toBe(4);
  expect(mostFlashes(square(340, 255, 0), 1)).toBe(3);
  expect(mostFlashes(square(100, 255, 0), 1)).toBe(10);
  // Under 10 % it is no flash.
  expect(mostFlashes(square(100, 120, 100), 1)).toBe(0);
  expect(mostFlashes(new Uint8Array(5000).fill(9), 1)).toBe(0);
  // Slow ramps are changes, too.
  expect(
    mostFlashes(
      Uint8Array.from({ length: 5000 }, (_, i) => Math.abs((i % 500) - 250)),
      1,
    ),
  ).toBe(2);
});

/** Where lit stretches begin and end. */
function litStretches(course: Uint8Array): { from: number; to: number }[] {
  const stretches: { from: number; to: number }[] = [];
  for (let at = 1; at < course.length; at++) {
    if (course[at]! > 0 && course[at - 1] === 0) stretches.push({ from: at, to: course.length });
    if (course[at] === 0 && course[at - 1]! > 0 && stretches.length > 0) stretches.at(-1)!.to = at;
  }
  return stretches;
}

describe('bursts', () => {
  type Bursts = EffectOf<'bursts'>;
  const bursts = (parts: Partial<Bursts>): Bursts => ({
    kind: 'bursts',
    flashes: 3,
    flashesPerSecond: 2.5,
    pauseSeconds: 2,
    litShare: 0.5,
    softness: 0,
    gradientPlace: 0,
    gradientSpan: 0,
    ...parts,
  });

  test.each([
    bursts({}),
    bursts({ flashes: 1, flashesPerSecond: 0.5, pauseSeconds: 3, litShare: 0.2 }),
    bursts({ flashes: 10, flashesPerSecond: 3, pauseSeconds: 1, litShare: 0.7 }),
    bursts({ flashes: 4, flashesPerSecond: 2, pauseSeconds: 1.2, litShare: 0.95 }),
    bursts({ flashes: 2, flashesPerSecond: 1, pauseSeconds: 0, litShare: 0.05 }),
  ])('of $flashes flashes, $flashesPerSecond a second, $pauseSeconds s apart, lit $litShare', (effect) => {
    const { flashes, flashesPerSecond, pauseSeconds, litShare } = effect;
    const periodMs = 1000 / flashesPerSecond;
    const burstMs = flashes * periodMs + 1000 * pauseSeconds;
    const found = litStretches(courseOf(effect, 6 * burstMs + 500)).filter(({ to }) => to < 6 * burstMs);
    // The first is lit from the beginning, which is no edge.
    const starts = found.map(({ from }) => from);
    expect(starts.length).toBeGreaterThan(2 * flashes);
    // A 256th of a flash, twice cut off, and the two milliseconds at its edges.
    for (const { from, to } of found)
      expect(Math.abs(to - from - litShare * periodMs)).toBeLessThan((2 * periodMs) / 256 + 2);
    const apart = starts.slice(1).map((start, i) => start - starts[i]!);
    // A pause is a whole number of flashes long, so it may be half a flash off.
    const isPause = (ms: number) => ms > periodMs * 1.4;
    for (const ms of apart)
      if (pauseSeconds > 0 && isPause(ms))
        expect(Math.abs(ms - periodMs - 1000 * pauseSeconds)).toBeLessThan(periodMs / 2 + 3);
      else expect(Math.abs(ms - periodMs)).toBeLessThan(periodMs / 128 + 2);
    if (pauseSeconds === 0) return;
    // The first burst's first flash is not among the starts.
    const pauses = apart.flatMap((ms, i) => (isPause(ms) ? [i] : []));
    expect(pauses[0]).toBe(Math.max(flashes - 2, 0));
    for (const [i, pause] of pauses.slice(1).entries()) expect(pause - pauses[i]!).toBe(flashes);
  });

  test.each([0.05, 0.5, 0.95])(
    'of softness 0, lit %f, are at full level or dark, but for four 256ths of a flash at either edge',
    (litShare) => {
      const hard = courseOf(bursts({ litShare }), 3 * 400);
      const between = hard.filter((level) => level > 0 && level < 255).length;
      expect(Math.max(...hard)).toBe(255);
      expect(between).toBeLessThanOrEqual(3 * (2 * ((4 / 256) * 400 + 1)));
    },
  );

  test.each([0.05, 0.3, 0.95])('of softness 1, lit %f, swell to full level and fade', (litShare) => {
    const level = courseOf(bursts({ litShare, softness: 1 }), 400);
    expect(Math.max(...level)).toBe(255);
    // No flat top: at most the two highest of a few steps, and a tenth of the light.
    expect(level.filter((one) => one === 255).length).toBeLessThan(0.1 * litShare * 400 + (4 * 400) / 256);
  });

  test('of softness 1 rise and fall evenly', () => {
    const soft = courseOf(bursts({ flashesPerSecond: 1, litShare: 0.8, softness: 1, flashes: 1 }), 800);
    // A hump of 800 ms: half of it rises, evenly, by a 100th of the whole every 4 ms.
    for (const [share, level] of [
      [0.25, 0.5],
      [0.5, 1],
      [0.75, 0.5],
    ] as const)
      expect(Math.abs(soft[Math.round(800 * share)]! / 255 - level)).toBeLessThan(0.05);
    // 205 of a flash's 256 phases are lit, so that each is two and a half levels over the last, rounded to quarters, cut off and blended.
    const steps = [...soft].slice(1).map((level, i) => Math.abs(level - soft[i]!));
    expect(Math.max(...steps)).toBeLessThanOrEqual(4);
  });

  test.each([
    bursts({ flashes: 10, flashesPerSecond: 3, pauseSeconds: 0 }),
    bursts({ flashes: 3, flashesPerSecond: 3, pauseSeconds: 0.2, litShare: 0.05 }),
    bursts({ flashes: 5, flashesPerSecond: 3, pauseSeconds: 1, litShare: 0.95, softness: 1 }),
    bursts({ flashes: 1, flashesPerSecond: 2.9, pauseSeconds: 0, litShare: 0.3, softness: 0.5 }),
  ])(
    'never flash more than three times in any one second: $flashes at $flashesPerSecond a second',
    (effect) => {
      const most = mostFlashes(courseOf(effect, 60_000), 1);
      expect(most).toBeGreaterThan(0);
      expect(most).toBeLessThanOrEqual(3);
    },
  );
});

describe('lightning', () => {
  const lightning = (parts: Partial<EffectOf<'lightning'>>): EffectOf<'lightning'> => ({
    kind: 'lightning',
    strikesPerMinute: 12,
    glowSeconds: 0.3,
    gradientPlace: 0,
    gradientSpan: 0,
    seed: 1,
    ...parts,
  });
  /** Added to black, so that its levels are its own. */
  const add = { blend: 'add' } as const;
  const everyMs = 10;

  /** Where strikes begin: it becomes full after not having been so for half a second; a strike's second flash is closer than that. */
  const strikesOf = (course: Uint8Array): number[] => {
    const strikes: number[] = [];
    for (const [at, level] of course.entries())
      if (level === 255 && course[at - 1] !== 255 && (at - (strikes.at(-1) ?? -Infinity)) * everyMs > 500)
        strikes.push(at);
    return strikes;
  };

  const minutes = 30;
  const seeds = [0, 1, 2, 3, 77, 128, 200, 255];
  test.each([1, 4, 12, 30])(
    'strikes %i times a minute on average, at least a second apart, and flashes at most three times in any second',
    (strikesPerMinute) => {
      const counts = seeds.map((seed) => {
        const course = courseOf(lightning({ strikesPerMinute, seed }), minutes * 60_000, everyMs, add);
        const strikes = strikesOf(course);
        for (const [i, at] of strikes.slice(1).entries())
          expect((at - strikes[i]!) * everyMs).toBeGreaterThanOrEqual(1000 - everyMs);
        expect(mostFlashes(course, everyMs)).toBeLessThanOrEqual(3);
        return strikes.length;
      });
      // Strikes are thrown once in two seconds, which leaves a second between any two: so many throws, each with this chance. They come again
      // after 256 throws, so that a seed has no more than those: four standard deviations of so many. A chance is cut to a 256th, and
      // a hash of bytes may favour one of them by another.
      const throws = minutes * 30;
      const chance = Math.min(1, strikesPerMinute / 30);
      const deviation = (count: number) => Math.sqrt(Math.max(chance * (1 - chance), 1 / 256) / count);
      for (const count of counts)
        expect(Math.abs(count / throws - chance)).toBeLessThan(4 * deviation(256) + 1 / 256 + 1 / throws);
      const mean = counts.reduce((a, b) => a + b, 0) / counts.length / throws;
      expect(Math.abs(mean - chance)).toBeLessThan(4 * deviation(256 * seeds.length) + 2 / 256);
    },
  );

  /** A strike with nothing behind it for so long. */
  function loneStrike(course: Uint8Array, freeMs: number): number {
    const strikes = strikesOf(course);
    const found = strikes.find((at, i) => ((strikes[i + 1] ?? course.length) - at) * everyMs > freeMs);
    if (found === undefined) throw new Error('no strike stands alone');
    return found;
  }

  test.each([0.05, 0.3, 0.7, 2, 10])('leaves an after-glow that halves in %f s', (glowSeconds) => {
    const course = courseOf(
      lightning({ strikesPerMinute: 1, glowSeconds, seed: 5 }),
      20 * 60_000,
      everyMs,
      add,
    );
    const glowMs = 1000 * glowSeconds;
    const at = loneStrike(course, 400 + 5 * glowMs);
    // From when the strike is over: a quarter of a second is time enough for two short flashes.
    const begin = at + 250 / everyMs;
    const level = (halfLives: number) => course[begin + Math.round((halfLives * glowMs) / everyMs)]!;
    expect(level(0)).toBeGreaterThan(glowSeconds < 0.1 ? 30 : 80);
    // Whatever its course, a half life later half of it is left: halved up to four times and cut off, and cut off by the blend.
    for (const halfLives of [1, 2, 3, 4])
      expect(
        Math.abs(level(halfLives) - level(0) * 2 ** -halfLives),
        `${halfLives} half lives`,
      ).toBeLessThanOrEqual(2.5);
    // In between, straight lines between halvings are up to a sixteenth over the curve.
    expect(Math.abs(level(0.5) / level(0) - Math.SQRT1_2)).toBeLessThan(0.07 + 2 / level(0));
    expect(level(4)).toBeGreaterThan(0);
    // It never rises.
    for (let i = begin + 1; i < begin + (5 * glowMs) / everyMs; i++)
      expect(course[i]).toBeLessThanOrEqual(course[i - 1]!);
  });

  test('strikes twice close together: full, a dip, full, then the after-glow', () => {
    const course = courseOf(lightning({ strikesPerMinute: 2, seed: 9 }), 300_000, everyMs, add);
    const at = loneStrike(course, 3000);
    const second = course.subarray(at, at + 300 / everyMs);
    const isFull = [...second].map((level) => level === 255);
    const turns = isFull.slice(1).filter((full, i) => full !== isFull[i]).length;
    expect(isFull[0]).toBe(true);
    // Full, not, full, not.
    expect(turns).toBe(3);
  });

  test('of another seed strikes at other times', () => {
    const times = [1, 2].map((seed) => strikesOf(courseOf(lightning({ seed }), 300_000, everyMs, add)));
    expect(times[0]).not.toEqual(times[1]);
  });
});
