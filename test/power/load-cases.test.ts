// How much the LEDs draw in each case. Currents of the catalogue's strips as their data sheets give them.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  ampsMeter,
  darkAmps,
  frameAmps,
  limitedAmps,
  type PanelNetwork,
  panelNetwork,
  showLoad,
  totalAmps,
  whiteAmps,
  worstSecond,
} from '../../src/power/index.ts';
import { seedOf } from '../support/seed.ts';
import { buildPanel, hair, type PanelPlan, reel } from './build-project.ts';
import { fedAtFirst } from './closed-forms.ts';
import { expectClose } from './expect-volts.ts';

const seed = seedOf(20_251);
const networkOf = (plan: PanelPlan): PanelNetwork => {
  const { project, layout } = buildPanel(plan);
  return panelNetwork(project, layout);
};
const fed = (...runs: string[]) => runs.map((run) => ({ run, led: 0, ...hair }));
const milliamps = (ledAmps: Float64Array) => Array.from(ledAmps, (amps) => Number((amps * 1000).toFixed(6)));

describe('worst case', () => {
  test.each([
    // 3 x 12 + 0.6 mA: a secondary page that quotes the WS2812B-V5 data sheet.
    ['ws2812b-60', 36.6],
    // 15 + 2.1 mA, one series string: WS2815 data sheet and public hardware notes.
    ['ws2815-60', 17.1],
    // 3 x 18 + 0.6 mA: WS2813 data sheet.
    ['ws2813-60', 54.6],
  ])('an LED of %s draws %s mA', (strip, expected) => {
    const panel = networkOf({ lines: [[{ leds: 1, strip }]], feeds: fed('r0') });
    expect(milliamps(whiteAmps(panel))).toEqual([expected]);
  });

  test.each([
    // What the player can send: two colours of 18 mA, 36 mA, are more than the white die's 20 mA alone (worked out in worstLevels' comment).
    ['with a white die of 20 mA', { whiteMilliamps: 20 }, 37],
    // 50 mA of white are more than 36.
    ['with a white die of 50 mA', { whiteMilliamps: 50 }, 51],
    // As a colour: 18.
    ['with a white die like the others', {}, 37],
    // One string of colours: 18 alone, or 20 for white alone.
    ['with a shared string and a white die', { currentModel: 'largest', whiteMilliamps: 20 }, 21],
  ] as const)('an LED %s draws the most that the player can send', (_what, own, expected) => {
    const reel = { colourOrder: 'GRBW', channelMilliamps: 18, quiescentMilliamps: 1, ...own } as const;
    const panel = networkOf({ reel, lines: [[{ leds: 1 }]], feeds: fed('r0') });
    expect(milliamps(whiteAmps(panel))).toEqual([expected]);
  });

  test('[O-10] no colour that the player sends to an LED with a white die draws more', () => {
    const levels = [0, 1, 100, 254, 255];
    const reel = { colourOrder: 'RGBW', channelMilliamps: 25.5, quiescentMilliamps: 0 } as const;
    for (const currentModel of ['sum', 'largest'] as const)
      for (const whiteMilliamps of [5, 25.5, 30, 51, 60]) {
        const panel = networkOf({
          reel: { ...reel, currentModel, whiteMilliamps },
          lines: [[{ leds: 1 }]],
          feeds: fed('r0'),
        });
        const worst = totalAmps(whiteAmps(panel));
        for (const r of levels)
          for (const g of levels)
            for (const b of levels) {
              const white = Math.min(r, g, b);
              const bytes = Uint8Array.of(r - white, g - white, b - white, white);
              expect(totalAmps(frameAmps(panel, bytes))).toBeLessThanOrEqual(worst + 1e-12);
            }
      }
  });

  test('[O-10] spare LEDs count, and so do runs outside every chain that have a feed; those that have none do not', () => {
    const panel = networkOf({
      lines: [[{ leds: 2, spareLeds: [1] }]],
      unchained: [{ leds: 1 }, { leds: 1 }],
      feeds: fed('r0', 'r1'),
    });
    expect(milliamps(whiteAmps(panel))).toEqual([36, 36, 36, 0]);
  });

  test('a chained run counts before it has a feed, so that a supply can be chosen first', () => {
    expect(milliamps(whiteAmps(networkOf({ lines: [[{ leds: 1 }]] })))).toEqual([36]);
  });
});

describe('limited white', () => {
  // 10 LEDs with 36 mA of light and 1 mA quiescent, 5 with 15 + 2: 370 + 85 mA, of which 20 mA quiescent.
  const panel = networkOf({
    reel: { quiescentMilliamps: 1 },
    strips: [
      {
        ...buildPanel({ lines: [] }).project.strips![0]!,
        id: 'string',
        currentModel: 'largest',
        channelMilliamps: 15,
        quiescentMilliamps: 2,
      },
    ],
    lines: [[{ leds: 10 }, { leds: 5, strip: 'string' }]],
    feeds: fed('r0'),
  });

  test('draws the limit in all; quiescent currents stay and channels shrink alike', () => {
    const amps = limitedAmps(panel, 0.237);
    expectClose(totalAmps(amps), 0.237);
    // (237 - 20) / (455 - 20) mA is a scale of 217 / 435.
    expectClose(amps[0]!, 0.001 + (0.036 * 217) / 435);
    expectClose(amps[14]!, 0.002 + (0.015 * 217) / 435);
  });

  test('is the worst case where the limit is not reached, and dark where it lies below the quiescent current', () => {
    expectClose(totalAmps(limitedAmps(panel, 0.455)), 0.455);
    expectClose(totalAmps(limitedAmps(panel, 2)), 0.455);
    expect(limitedAmps(panel, 0.019)).toEqual(darkAmps(panel));
    expectClose(totalAmps(darkAmps(panel)), 0.02);
  });

  test('LEDs that get no data stay dark and take no part in the limit', () => {
    const amps = limitedAmps(
      networkOf({
        reel: { quiescentMilliamps: 1 },
        lines: [[{ leds: 10 }]],
        unchained: [{ leds: 1 }],
        feeds: fed('r0', 'r1'),
      }),
      0.1,
    );
    expectClose(totalAmps(amps.subarray(0, 10)), 0.1);
    expectClose(amps[10]!, 0.001);
  });
});

describe('a frame', () => {
  test('channels add up, or the largest counts, in whatever order they go out', () => {
    const plan = (currentModel: 'sum' | 'largest') => ({
      reel: { currentModel, channelMilliamps: 25.5, quiescentMilliamps: 1 },
      lines: [[{ leds: 3 }]],
      feeds: fed('r0'),
    });
    const bytes = Uint8Array.of(10, 20, 30, 30, 10, 20, 0, 0, 0);
    // 25.5 mA at 255 is 0.1 mA a level.
    expect(milliamps(frameAmps(networkOf(plan('sum')), bytes))).toEqual([7, 7, 1]);
    expect(milliamps(frameAmps(networkOf(plan('largest')), bytes))).toEqual([4, 4, 1]);
  });

  test('LEDs of three and four bytes on one line; white adds its own current wherever its byte stands', () => {
    const white = {
      ...buildPanel({ lines: [] }).project.strips![0]!,
      id: 'white',
      colourOrder: 'GWRB',
      channelMilliamps: 25.5,
      whiteMilliamps: 51,
      quiescentMilliamps: 2,
    } as const;
    const plan = (currentModel: 'sum' | 'largest') => ({
      reel: { channelMilliamps: 25.5, quiescentMilliamps: 1 },
      strips: [{ ...white, currentModel }],
      lines: [[{ leds: 1 }, { leds: 2, strip: 'white' }, { leds: 1 }]],
      feeds: fed('r0'),
    });
    // 25.5 mA at 255 is 0.1 mA a level, 51 mA 0.2.
    const bytes = Uint8Array.of(10, 20, 30, 10, 50, 20, 30, 0, 100, 0, 0, 1, 2, 3);
    expect(milliamps(frameAmps(networkOf(plan('sum')), bytes))).toEqual([7, 18, 22, 1.6]);
    expect(milliamps(frameAmps(networkOf(plan('largest')), bytes))).toEqual([7, 15, 22, 1.6]);
  });

  test('LEDs outside every chain draw their quiescent current where they have a feed', () => {
    const panel = networkOf({
      reel: { quiescentMilliamps: 1 },
      lines: [[{ leds: 1 }]],
      unchained: [{ leds: 1 }, { leds: 1 }],
      feeds: fed('r0', 'r1'),
    });
    expect(milliamps(frameAmps(panel, Uint8Array.of(255, 0, 0)))).toEqual([13, 1, 0]);
  });

  test('with another number of bytes is our own fault and throws', () => {
    const panel = networkOf({ lines: [[{ leds: 2 }]] });
    expect(() => frameAmps(panel, new Uint8Array(5))).toThrow('a frame of 2 LEDs has 5 bytes');
  });
});

describe('a lampshow', () => {
  const panel = networkOf({ lines: [[{ leds: 60 }]], feeds: fed('r0') });
  const frame = (...lit: number[]) => {
    const bytes = new Uint8Array(180);
    for (const led of lit) bytes.fill(255, 3 * led, 3 * led + 3);
    return bytes;
  };
  const all = Array.from({ length: 60 }, (_, led) => led);

  test('has its peak, its average, and its lowest volts with their place', () => {
    const load = showLoad(panel, [frame(), frame(...all), frame(0), frame(...all)])!;
    expect(load.frameCount).toBe(4);
    expectClose(load.peakAmps, 2.16);
    // 0 + 2.16 + 0.036 + 2.16 A over four frames.
    expectClose(load.averageAmps, 1.089);
    // Textbook formula; derived: 0.2124 V. The feed's nanoohms lose under a microvolt.
    expect(Math.abs(5 - fedAtFirst(60, 0.036, 0.2 / 60) - load.lowestVolts)).toBeLessThan(1e-6);
    expect([load.lowestLed, load.lowestFrame]).toEqual([59, 1]);
  });

  test('its lowest volts need not be in the frame of its peak', () => {
    // 20 LEDs next to the feed draw more than 10 at the far end, but lose less: 20 x 19 / 2 pitches against 10 x 50 + 10 x 9 / 2.
    const near = all.slice(0, 20);
    const far = all.slice(50);
    const load = showLoad(panel, [frame(...near), frame(...far)])!;
    expectClose(load.peakAmps, 20 * 0.036);
    expect([load.lowestLed, load.lowestFrame]).toEqual([59, 1]);
    expect(Math.abs(5 - load.lowestVolts - (0.036 * 0.2 * 545) / 60)).toBeLessThan(1e-6);
  });

  test('its worst second may lie across the join of the last frame and the first', () => {
    // 500 ms a frame: white in the last and the first is one second of white, 2.16 A. Elsewhere half a second at most.
    const load = showLoad(panel, [frame(...all), frame(), frame(), frame(...all)], 500)!;
    expectClose(load.worstSecondAmps, 2.16);
    expect([load.worstSecondFrame, load.peakFrame]).toEqual([3, 0]);
    expectClose(showLoad(panel, [frame(...all), frame(), frame(), frame()], 500)!.worstSecondAmps, 1.08);
  });

  test('its watts are its amperes at the volts of the supply', () => {
    const load = showLoad(panel, [frame(), frame(...all)])!;
    expectClose(load.averageWatts, 5 * 1.08);
  });

  test('frames may come one by one, and none make no load', () => {
    const oneByOne = function* () {
      yield frame(0);
      yield frame(0, 1);
    };
    expectClose(showLoad(panel, oneByOne())!.peakAmps, 0.072);
    expect(showLoad(panel, [])).toBeUndefined();
  });
});

describe('the worst second', () => {
  test('begins or ends with a frame and need not be whole frames', () => {
    // 400 ms a frame. Once through, the best second takes 10 A for 800 ms, and 4 A for 200: (8 + 0.8) / 1. It ends with the frame of 10 A.
    const { amps, fromFrame } = worstSecond([0, 4, 10, 10, 1, 0], 400, false)!;
    expectClose(amps, 8.8);
    expect(fromFrame).toBe(1);
  });

  test('of what lasts less than a second', () => {
    // Repeating, 300 ms at 6 A and 300 at 0: a second that begins with the 6 A holds 300, 300 dark, 300, 100 dark. Once, it is the mean of all.
    expectClose(worstSecond([6, 0], 300, true)!.amps, 6 * 0.6);
    expectClose(worstSecond([6, 0], 300, false)!.amps, 3);
    expect(worstSecond([], 300, true)).toBeUndefined();
  });

  test('is the largest of all seconds that slide by in milliseconds', () => {
    // Brute force: the mean of every 1,000 values, one for each millisecond.
    fc.assert(
      fc.property(
        fc.array(fc.nat(20), { minLength: 1, maxLength: 30 }),
        fc.integer({ min: 1, max: 240 }),
        fc.boolean(),
        (drawn, frameMs, repeats) => {
          const perMs = drawn.flatMap((amps) => Array.from({ length: frameMs }, () => amps));
          const starts = repeats ? perMs.length : perMs.length - 1000 + 1;
          let most = repeats || starts > 0 ? 0 : perMs.reduce((sum, amps) => sum + amps, 0) / perMs.length;
          for (let from = 0; from < starts; from++) {
            let sum = 0;
            for (let ms = from; ms < from + 1000; ms++) sum += perMs[ms % perMs.length]!;
            most = Math.max(most, sum / 1000);
          }
          expectClose(worstSecond(drawn, frameMs, repeats)!.amps, most);
        },
      ),
      { seed, numRuns: 60 },
    );
  });
});

test('the quick meter and the sum over LEDs agree, for every kind of chip, with LEDs off the wire and behind a wrong joint', () => {
  const panel = networkOf({
    reel: { quiescentMilliamps: 1 },
    strips: [
      { ...reel, id: 'shared', currentModel: 'largest', quiescentMilliamps: 2 },
      { ...reel, id: 'white', colourOrder: 'WGRB', whiteMilliamps: 21 },
      { ...reel, id: 'both', colourOrder: 'GRBW', whiteMilliamps: 21, currentModel: 'largest' },
    ],
    lines: [
      [{ leds: 3 }, { leds: 2, strip: 'shared' }],
      [
        { leds: 2, strip: 'white' },
        { leds: 2, strip: 'both' },
      ],
    ],
    unchained: [{ leds: 2 }],
    feeds: fed('r0', 'r4'),
  });
  const darkEnd = {
    ...panel,
    leds: panel.leds.map((led, index) => ({
      ...led,
      isReached: led.isReached && index !== 2 && index !== 4,
    })),
  };
  const bytes = fc.uint8Array({ minLength: 5 * 3 + 4 * 4, maxLength: 5 * 3 + 4 * 4 });
  for (const one of [panel, darkEnd]) {
    const meter = ampsMeter(one);
    fc.assert(
      fc.property(bytes, (frame) => expectClose(meter(frame), totalAmps(frameAmps(one, frame)))),
      { seed, numRuns: 50 },
    );
  }
});
