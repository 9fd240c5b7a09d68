// The worst within a limit, for one LED: against trying every picture of LEDs that are on or off, and by hand.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  assessPower,
  lowestVoltsWithin,
  panelNetwork,
  powerFindings,
  solvePanel,
} from '../../src/power/index.ts';
import { buildPanel, hair } from './build-project.ts';
import { expectClose } from './expect-volts.ts';

test('no picture of LEDs on and off within the limit leaves it less, and one of the fullest leaves it as little', () => {
  const panels = fc.record({
    leds: fc.integer({ min: 2, max: 9 }),
    feeds: fc.array(fc.nat(), { minLength: 1, maxLength: 3 }),
    railOhmPerMetre: fc.double({ min: 0.1, max: 5, noNaN: true }),
    lit: fc.integer({ min: 1, max: 8 }),
    pick: fc.nat(),
  });
  fc.assert(
    fc.property(panels, ({ leds, feeds, railOhmPerMetre, lit, pick }) => {
      // 36 mA each and nothing when dark, so that so many may be lit and no part of one more.
      const { project, layout } = buildPanel({
        reel: { railOhmPerMetre },
        lines: [[{ leds }]],
        feeds: feeds.map((one) => ({ run: 'r0', led: one % leds, wire: 'AWG 26', lengthMm: 500 })),
      });
      const panel = panelNetwork(project, layout);
      const led = pick % leds;
      const most = Math.min(lit, leds);
      let least = Number.POSITIVE_INFINITY;
      for (let picture = 0; picture < 2 ** leds; picture++) {
        const on = Array.from({ length: leds }, (_, i) => (picture >> i) % 2);
        if (on.reduce((sum, one) => sum + one, 0) > most) continue;
        least = Math.min(
          least,
          solvePanel(
            panel,
            on.map((one) => one * 0.036),
          ).ledVolts[led]!,
        );
      }
      expectClose(lowestVoltsWithin(panel, led, most * 0.036), least);
    }),
    { seed: 12, numRuns: 100 },
  );
});

test('a panel whose even white within the limit holds is told of when a bright part does not', () => {
  // 100 LEDs, 36 mA, 0.2 ohm/m both rails, fed at the first. Even white of 2.3 A loses 2.3 x 0.00333 x 99 / 2 = 0.38 V; 63 LEDs at the far end lose
  // 0.036 x 0.00333 x (37 + 38 + ... + 99) = 0.514 V, and 32 mA more at the one before them 0.004 V (textbook formulae; derived): 4.482 V, under the
  // floor of 4.5 V.
  const of = (limitAmps: number) => {
    const { project, layout } = buildPanel({
      reel: { boardWidthMm: 12 },
      lines: [[{ leds: 100 }]],
      limitAmps,
      feeds: [{ run: 'r0', led: 0, ...hair }],
    });
    const [found] = powerFindings(project, layout).filter(({ code }) => code === 'voltage-too-low');
    return { found, volts: Math.min(...assessPower(project, layout).inUse.ledVolts) };
  };
  const bright = of(2.3);
  expect(bright.volts).toBeGreaterThan(4.6);
  expect(bright.found).toMatchObject({ severity: 'warning' });
  expect(bright.found!.message).toContain('a picture that is bright just there leaves it 4.48 V');
  expect(of(1.5).found!.message).toContain('The limit keeps it from that.');
});
