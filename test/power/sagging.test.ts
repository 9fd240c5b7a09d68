// What a builder fears first: to be told that a panel is fine which then sags. Expected volts come from the textbook's closed forms alone.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { powerFindings } from '../../src/power/index.ts';
import { buildPanel, halfPitchFeed, type PanelPlan } from './build-project.ts';
import { betweenFeeds, fedOnePitchBefore } from './closed-forms.ts';

const voltageCodes = ['voltage-too-low', 'voltage-negative', 'voltage-low-when-hot'];

const strip = fc.record({
  leds: fc.integer({ min: 30, max: 200 }),
  milliamps: fc.double({ min: 2, max: 60, noNaN: true }),
  railOhmPerMetre: fc.double({ min: 0.05, max: 0.5, noNaN: true }),
  floorVolts: fc.double({ min: 3.5, max: 4.9, noNaN: true }),
  bothEnds: fc.boolean(),
  limitShare: fc.option(fc.double({ min: 0.05, max: 1, noNaN: true }), { nil: undefined }),
});

test('a panel that would sag is never called fine', () => {
  let sagging = 0;
  let fine = 0;
  fc.assert(
    fc.property(strip, ({ leds, milliamps, railOhmPerMetre, floorVolts, bothEnds, limitShare }) => {
      const loopOhms = (2 * railOhmPerMetre) / 60;
      // Fed half a pitch before an end: from one end half a pitch of both wires and rails less than a whole one before it; between two ends an
      // LED every pitch, and the outer half pitches carry half the current each.
      const half = (i: number) => i * leds * (loopOhms / 2);
      const dropOf = (i: number): number =>
        bothEnds
          ? betweenFeeds(leds - 1, i, loopOhms) + half(i) / 2
          : fedOnePitchBefore(leds, i, loopOhms) - half(i);
      const plan: PanelPlan = {
        reel: { currentModel: 'largest', channelMilliamps: milliamps, railOhmPerMetre, floorVolts },
        lines: [[{ leds }]],
        feeds: (bothEnds ? [0, leds - 1] : [0]).map((led) => ({
          run: 'r0',
          led,
          ...halfPitchFeed({ railOhmPerMetre, ledsPerMetre: 60 }),
        })),
        ...(limitShare === undefined ? {} : { limitAmps: (limitShare * leds * milliamps) / 1000 }),
      };
      const { project, layout } = buildPanel(plan);
      const findings = powerFindings(project, layout).filter(({ code }) => voltageCodes.includes(code));
      const lowestVolts = 5 - dropOf(milliamps / 1000);
      if (Math.abs(lowestVolts - floorVolts) < 1e-9) return;
      if (lowestVolts < floorVolts) {
        sagging++;
        expect(findings.some(({ code }) => code === 'voltage-too-low')).toBe(true);
        // In use too: an error, which no one can overlook.
        const inUseVolts = 5 - dropOf((milliamps / 1000) * (limitShare ?? 1));
        if (inUseVolts < floorVolts - 1e-9)
          expect(
            findings.some(({ code, severity }) => code === 'voltage-too-low' && severity === 'error'),
          ).toBe(true);
      } else {
        fine++;
        expect(findings.filter(({ code }) => code !== 'voltage-low-when-hot')).toEqual([]);
      }
    }),
    { seed: 7, numRuns: 700 },
  );
  expect(sagging).toBeGreaterThan(100);
  expect(fine).toBeGreaterThan(100);
});
