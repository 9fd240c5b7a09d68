// What the stage Power tells: which LED is lowest and what is drawn with something broken, one feed a line beside the plan, the words beside supplies,
// feeds as the page adds them, and where the chart's lines and words lie. Not here: the arithmetic (test/power), edits of supplies (power-supplies.test.ts).
import { describe, expect, test } from 'vitest';
import { voltScale } from '../../src/app/canvas/volt-colours.ts';
import { chartRows } from '../../src/app/stages/power/chart-rows.ts';
import { placesBeside, placeWords } from '../../src/app/stages/power/chart-words.ts';
import { forbid, isForbidden, keep } from '../../src/app/stages/power/feed-edits.ts';
import { placedWords, supplyLines } from '../../src/app/stages/power/supply-lines.ts';
import { drawWords, sizeWords, withoutHold } from '../../src/app/stages/power/supply-words.ts';
import { newFeed } from '../../src/app/workbench/commands/new-feed.ts';
import {
  caseTitle,
  drawnAmps,
  leastVolts,
  ledInWords,
  oneFeedInWords,
  oneFeedOutcome,
  withOneFeed,
} from '../../src/app/workbench/power-view.ts';
import { layOut } from '../../src/panel/index.ts';
import { assessPower, supplyLoads } from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { holdsLaws, withValues } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';

const carnival = sample('midnight-carnival');
const assess = (project: Project, ...faults: Parameters<typeof assessPower>[2][]) =>
  assessPower(project, layOut(project), ...faults);

describe('with a feed missing', () => {
  const plan = assess(carnival);
  const broken = assess(
    carnival,
    (['plus', 'ground'] as const).map((rail) => ({ at: { kind: 'feed', feed: 2, rail }, what: 'cut' })),
  );
  const zone = broken.panel.zones.find(({ feeds }) => feeds.includes(2))!;

  test('the lowest LED is one that has power, and the others are counted', () => {
    // It is the only feed of its zone, so the whole zone lies at 0 V.
    expect(zone.feeds).toEqual([2]);
    const { lowest, withoutPower } = leastVolts(broken, broken.worst);
    expect(withoutPower).toBe(zone.ledCount);
    expect(lowest!.volts).toBeGreaterThan(4);
    expect(broken.panel.isPowered[lowest!.led]).toBe(1);
    expect(leastVolts(broken, broken.worst, zone.firstLed, zone.ledCount)).toEqual({
      lowest: undefined,
      withoutPower: zone.ledCount,
    });
    expect(leastVolts(plan, plan.worst).withoutPower).toBe(0);
    expect(ledInWords(broken, broken.worst, zone.firstLed)).toBe('without power');
    expect(ledInWords(plan, plan.worst, zone.firstLed)).toMatch(/^4\.\d{3} V, 3\d\.\d mA$/);
  });

  test('what is cut off draws nothing; what the plan does not feed yet counts', () => {
    const { firstLed, ledCount } = zone;
    expect(drawnAmps(broken, broken.worst, true, firstLed, ledCount)).toBe(0);
    expect(drawnAmps(plan, plan.worst, false, firstLed, ledCount)).toBeGreaterThan(2);
    const unfed = assess(withValues(carnival, { '/power/feeds': [] }));
    expect(drawnAmps(unfed, unfed.worst, false, firstLed, ledCount)).toBeGreaterThan(2);
  });

  test('figures say what they are of', () => {
    const given = { limitAmps: 6, hotCelsius: 50 };
    expect(caseTitle('hot', given, false)).toBe('All white, 50 °C');
    expect(caseTitle('in-use', given, true)).toBe('With this broken, held to 6 A');
  });
});

describe('one feed a line', () => {
  const other = withOneFeed(carnival);

  test('has the same wire whatever the plan has', () => {
    expect(other.power.feeds).toHaveLength(carnival.dataLines.length);
    const thick = withValues(carnival, { '/power/feeds/0/wire': 'AWG 12', '/power/feeds/0/lengthMm': 20 });
    expect(withOneFeed(thick).power.feeds).toEqual(other.power.feeds);
  });

  test('is told by LEDs, never by volts that cannot be', () => {
    const assessed = assess(other);
    const outcome = oneFeedOutcome(assessed, 'white');
    const low = assessed.panel.leds.filter(({ strip }, i) => assessed.worst.ledVolts[i]! < strip.floorVolts);
    expect(outcome.belowFloor).toBe(low.length);
    // 10.4 A through one end of strip: nearly all are short of it.
    expect(outcome.belowFloor).toBeGreaterThan(200);
    expect(oneFeedInWords(outcome)).not.toMatch(/V|-/);
    // Held to a limit, fewer are.
    expect(oneFeedOutcome(assessed, 'in-use').belowFloor).toBeLessThan(outcome.belowFloor);
  });

  test('in words', () => {
    const ledVolts = new Float64Array();
    expect(oneFeedInWords({ ledVolts, belowFloor: 96, dark: 12 })).toBe(
      'One feed a line: 96 LEDs under the floor, 12 dark',
    );
    expect(oneFeedInWords({ ledVolts, belowFloor: 1, dark: undefined })).toBe(
      'One feed a line: 1 LED under the floor',
    );
    expect(oneFeedInWords({ ledVolts, belowFloor: 0, dark: 0 })).toBe(
      'One feed a line: no LED under the floor',
    );
  });
});

describe('words beside supplies', () => {
  const loadOf = (project: Project) => supplyLoads(project, assess(project).panel)[0]!;

  test('name the board where it hangs, and the limit where it acts', () => {
    const words = (values: Record<string, unknown>) => {
      const project = withValues(carnival, values);
      return drawWords(project, loadOf(project));
    };
    expect(words({})).toBe('With the board, limit kept');
    expect(words({ '/power/controller': { from: 'usb' } })).toBe('Limit kept');
    const free = { '/power/limitAmps': undefined, '/output/brightnessPercent': 100 };
    expect(words(free)).toBe('With the board, all white');
    expect(words({ ...free, '/power/controller': { from: 'usb' } })).toBe('All white');
    // More than all white draws: it never acts.
    expect(words({ ...free, '/power/limitAmps': 60 })).toBe('With the board, all white');
  });

  test('tell what follows without the limit, only where the limit makes the supply enough', () => {
    const load = loadOf(carnival);
    const without = withoutHold(carnival, load)!;
    expect(without.words).toBe('If the limit fails');
    // All white with the board: 50 mA more than the LEDs.
    expect(without.amps).toBeCloseTo(load.worstAmps + 0.05, 6);
    expect(without.share).toBeCloseTo(without.amps / 10, 9);
    const large = withValues(carnival, { '/power/supply/amps': 40 });
    expect(withoutHold(large, loadOf(large))).toBeUndefined();
    const small = withValues(carnival, { '/power/supply/amps': 4 });
    expect(withoutHold(small, loadOf(small))).toBeUndefined();
  });

  test('load and what is free make 100', () => {
    // 60.5 % shows as 61 (rounded half up), so 39 are free.
    expect(sizeWords({ verdict: 'enough', loadShare: 0.605 })).toBe('39 % free');
  });
});

describe('feeds', () => {
  const layout = layOut(carnival);

  test('that the page adds say their fuse', () => {
    expect(newFeed(carnival, layout, { run: carnival.runs[0]!.id, led: 3 })).toMatchObject({
      run: carnival.runs[0]!.id,
      led: 3,
      fuseKind: 'blade',
    });
  });

  test('keeping one and letting none in there exclude each other', () => {
    const place = carnival.power.feeds[1]!;
    const barred = holdsLaws(carnival, 'Forbid', forbid(carnival, place, true));
    expect(isForbidden(barred, place)).toBe(true);
    const kept = holdsLaws(barred, 'Keep', keep(barred, 1, true));
    expect(kept.power.feeds[1]!.isKept).toBe(true);
    expect(isForbidden(kept, place)).toBe(false);
    const again = holdsLaws(kept, 'Forbid', forbid(kept, place, true));
    expect(again.power.feeds[1]!.isKept).toBeUndefined();
    expect(isForbidden(again, place)).toBe(true);
    expect(isForbidden(holdsLaws(again, 'Allow', forbid(again, place, false)), place)).toBe(false);
  });
});

describe('the chart', () => {
  test('no line of one supply meets that of another', () => {
    const feeds = [
      { supply: 0, x: 100 },
      { supply: 1, x: 200 },
      { supply: 0, x: 300 },
      { supply: 2, x: 500 },
      { supply: 1, x: 350 },
    ];
    const lines = supplyLines(feeds, 60);
    expect(lines).toHaveLength(3);
    for (const line of lines) {
      const own = feeds.filter(({ supply }) => supply === line.supply);
      expect(own.every(({ x }) => x >= line.from && x <= line.to)).toBe(true);
      for (const other of lines)
        if (other !== line && other.level === line.level)
          expect(other.from >= line.to || line.from >= other.to).toBe(true);
    }
    // The third one begins behind both others: no further level.
    expect(lines.map(({ level }) => level).toSorted()).toEqual([0, 0, 1]);
  });

  test('levels take their room from the curves, never more than these have', () => {
    expect(chartRows(1).perLevel).toBe(0);
    for (const levels of [1, 2, 5, 8]) {
      const { supply, perLevel, fuse, top, bottom } = chartRows(levels);
      expect(supply + perLevel * (levels - 1)).toBeLessThan(fuse);
      expect(bottom - top).toBeGreaterThan(40);
    }
  });

  test('words at feeds go, the second line first, where the next feed is near', () => {
    const words = { first: 40, second: 60 };
    const shows = (x: number, right = 1000) =>
      placedWords(
        [
          { x: 100, ...words },
          { x, ...words },
        ],
        right,
      )[0]!;
    expect(shows(200)).toEqual({ isLeft: false, showsFirst: true, showsSecond: true });
    expect(shows(160)).toEqual({ isLeft: false, showsFirst: true, showsSecond: false });
    expect(shows(140)).toEqual({ isLeft: false, showsFirst: false, showsSecond: false });
    // At the right edge they stand on the left, and keep clear of the words before.
    const [before, last] = placedWords(
      [
        { x: 800, ...words },
        { x: 990, ...words },
      ],
      1000,
    );
    expect(before).toMatchObject({ isLeft: false, showsSecond: true });
    expect(last).toEqual({ isLeft: true, showsFirst: true, showsSecond: true });
    expect(
      placedWords(
        [
          { x: 900, ...words },
          { x: 990, ...words },
        ],
        1000,
      )[1],
    ).toMatchObject({ showsFirst: false });
  });

  test('no words cover others while a place is free', () => {
    const frame = { left: 0, right: 500, top: 10, bottom: 200 };
    const fixed = { width: 100, places: [{ x: 200, y: 100 }] };
    const at = { x: 195, y: 84 };
    const [, placed] = placeWords([fixed, { width: 120, places: placesBeside(at, 120, frame) }]);
    const isApart = placed!.x >= 300 || placed!.x + 120 <= 200 || Math.abs(placed!.y - 100) >= 16;
    expect(isApart).toBe(true);
    for (const { x, y } of placesBeside({ x: 490, y: 199 }, 120, frame)) {
      expect(x).toBeGreaterThanOrEqual(frame.left);
      expect(x + 120).toBeLessThanOrEqual(frame.right);
      expect(y).toBeLessThanOrEqual(frame.bottom);
    }
  });

  test('a supply below the floor leaves the scale that of the strips', () => {
    // Strip of 5 V that works down to 4.5 V (src/catalogue).
    const { panel } = assess(withValues(carnival, { '/power/supply/volts': 3 }));
    expect(voltScale({ panel })).toEqual({ lowVolts: 4.5, highVolts: 5 });
  });
});
