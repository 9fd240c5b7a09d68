// Six worked cases of voltage drop, to their last printed digit, built as project documents.
// All expected figures: textbook formulae; derived by hand from the inputs in each name. A feed "at the end" of a strip meets the
// cut edge, half a pitch before the LED: a strip of N equal loads then has exactly the drop of an evenly loaded one.
import { describe, expect, test } from 'vitest';
import { copperFactor } from '../../src/catalogue/index.ts';
import { assessPower, factorNetwork, pitchOhms } from '../../src/power/index.ts';
import { buildPanel, hair, halfPitchFeed, type PanelPlan, reel } from './build-project.ts';
import { expectPrinted } from './expect-volts.ts';
import { stripDraw, stripNetwork } from './strip-network.ts';

function worstOf(plan: PanelPlan) {
  const { project, layout } = buildPanel(plan);
  const { panel, worst } = assessPower(project, layout);
  return {
    amps: worst.totalAmps,
    ledVolts: worst.ledVolts,
    linkAmps: worst.linkAmps,
    lowestVolts: Math.min(...worst.ledVolts),
    dropVolts: project.power.supply.volts - Math.min(...worst.ledVolts),
    panel,
  };
}

type Feeds = NonNullable<PanelPlan['feeds']>;
const atPad = (...leds: number[]): Feeds => leds.map((led) => ({ run: 'r0', led, ...hair }));
const atCut = (...leds: number[]): Feeds => leds.map((led) => ({ run: 'r0', led, ...halfPitchFeed() }));
/** A feed between LEDs `led - 1` and `led`. */
const between = (...leds: number[]): Feeds => leds.flatMap((led) => atCut(led - 1, led));

describe('case 1: 60 LEDs, 36 mA, 1 m, 0.20 ohm/m, 5 V', () => {
  const lines = [[{ leds: 60 }]];
  test('the total is 2.16 A', () => {
    expectPrinted(worstOf({ lines, feeds: atPad(0) }).amps, '2.16');
  });
  test('one end fed loses 0.216 V (4.32 %)', () => {
    const { dropVolts } = worstOf({ lines, feeds: atCut(0) });
    expectPrinted(dropVolts, '0.216');
    expectPrinted((dropVolts / 5) * 100, '4.32');
  });
  test('both ends fed, or the middle, loses 0.054 V (1.08 %)', () => {
    for (const feeds of [atCut(0, 59), between(30)]) {
      const { dropVolts } = worstOf({ lines, feeds });
      expectPrinted(dropVolts, '0.054');
      expectPrinted((dropVolts / 5) * 100, '1.08');
    }
  });
  test('fed at the first LED loses 0.2124 V, so 4.7876 V are left', () => {
    const { dropVolts, lowestVolts } = worstOf({ lines, feeds: atPad(0) });
    expectPrinted(dropVolts, '0.2124');
    expectPrinted(lowestVolts, '4.7876');
  });
  test('fed at the first and the last LED, 59 pitches apart, loses 0.0522 V', () => {
    expectPrinted(worstOf({ lines, feeds: atPad(0, 59) }).dropVolts, '0.0522');
  });
  test('+ at one end and ground at the other loses 0.108 V at the ends and 0.162 V in the middle', () => {
    // A document's feed always has both wires, so this one is a bare network. Beyond the last LED a rail carries no current:
    // ground at the + end is ground at LED 0.
    const halfPitchOhms = pitchOhms(reel) / 2;
    const volts = factorNetwork(
      stripNetwork(60, 2 * pitchOhms(reel), [
        { led: 0, ohms: halfPitchOhms, rail: 'plus' },
        { led: 59, ohms: halfPitchOhms, rail: 'ground' },
      ]),
    ).solve(stripDraw(60, 0.036));
    expectPrinted(volts[1]!, '0.108');
    expectPrinted(5 - volts[118]!, '0.108');
    expectPrinted(5 - (volts[58]! - volts[59]!), '0.162');
  });
});

describe('case 2: 300 LEDs, 50 mA, 5 m, 0.20 ohm/m, 5 V', () => {
  const plan = {
    reel: { currentModel: 'largest', channelMilliamps: 50 },
    lines: [[{ leds: 300 }]],
  } as const;
  test('the total is 15 A and one end fed loses 7.5 V, more than there is', () => {
    const { amps, dropVolts, lowestVolts } = worstOf({ ...plan, feeds: atCut(0) });
    expectPrinted(amps, '15');
    expectPrinted(dropVolts, '7.5');
    expectPrinted(lowestVolts, '-2.5');
  });
  test('both ends fed loses 1.875 V', () => {
    expectPrinted(worstOf({ ...plan, feeds: atCut(0, 299) }).dropVolts, '1.875');
  });
  test('six feeds at 0, 1, 2, 3, 4 and 5 m lose 0.075 V (1.5 %)', () => {
    const { dropVolts } = worstOf({ ...plan, feeds: [...atCut(0, 299), ...between(60, 120, 180, 240)] });
    expectPrinted(dropVolts, '0.075');
    expectPrinted((dropVolts / 5) * 100, '1.5');
  });
  test('six feeds at the best places lose 0.05208 V', () => {
    expectPrinted(worstOf({ ...plan, feeds: between(25, 75, 125, 175, 225, 275) }).dropVolts, '0.05208');
  });
});

describe('case 3: 300 LEDs with one string each, 15 mA, 5 m, 0.20 ohm/m, 12 V', () => {
  const plan = {
    reel: { currentModel: 'largest', channelMilliamps: 15, supplyVolts: 12, floorVolts: 9.5 },
    lines: [[{ leds: 300 }]],
    supply: { volts: 12 },
  } as const;
  test('the total is 4.5 A and one end fed loses 2.25 V (18.75 %)', () => {
    const { amps, dropVolts } = worstOf({ ...plan, feeds: atCut(0) });
    expectPrinted(amps, '4.5');
    expectPrinted(dropVolts, '2.25');
    expectPrinted((dropVolts / 12) * 100, '18.75');
  });
  test('both ends fed loses 0.5625 V (4.69 %)', () => {
    const { dropVolts } = worstOf({ ...plan, feeds: atCut(0, 299) });
    expectPrinted(dropVolts, '0.5625');
    expectPrinted((dropVolts / 12) * 100, '4.69');
  });
});

/** LEDs of 100 mA behind one feed at the first of them: that LED's loss is the feed's. */
const behindFeed = (leds: number, wire: string, lengthMm: number) =>
  worstOf({
    reel: { currentModel: 'largest', channelMilliamps: 100 },
    lines: [[{ leds }]],
    feeds: [{ run: 'r0', led: 0, wire, lengthMm }],
  });

describe('case 4: 18 AWG, 1.5 m, 6 A', () => {
  const { ledVolts, panel } = behindFeed(60, 'AWG 18', 1500);
  const dropVolts = 5 - ledVolts[0]!;
  test('both conductors have 0.06284 ohm', () => {
    const [feed] = panel.feeds;
    const [plus, ground] = [feed!.plus, feed!.ground].map((link) => panel.network.links[link!]!.ohms);
    expectPrinted(plus! + ground!, '0.06284');
  });
  test('the wire drops 0.3771 V at 20 C and 0.4215 V at 50 C', () => {
    expectPrinted(dropVolts, '0.3771');
    expectPrinted(dropVolts * copperFactor(50), '0.4215');
  });
});

test('case 5: 0.75 mm2, 2 m, 5 A: the wire drops 0.52 V (10.4 %)', () => {
  const { ledVolts, panel } = behindFeed(50, '0.75 mm2', 2000);
  expectPrinted(panel.network.links[panel.feeds[0]!.plus!]!.ohms * 2, '0.104');
  expectPrinted(5 - ledVolts[0]!, '0.52');
  expectPrinted(((5 - ledVolts[0]!) / 5) * 100, '10.4');
});

describe('case 6: 12 rows of 36 LEDs, 36 mA, 0.20 ohm/m', () => {
  test('rows with a feed each draw 1.296 A and lose 0.07776 V', () => {
    // Runs outside every chain have no jumpers, so each row is alone, on ground too.
    const rows = Array.from({ length: 12 }, () => ({ leds: 36 }));
    const { amps, dropVolts, panel, linkAmps } = worstOf({
      lines: [],
      unchained: rows,
      feeds: rows.map((_, row) => ({ run: `r${row}`, led: 0, ...halfPitchFeed() })),
    });
    for (const { plus } of panel.feeds) expectPrinted(linkAmps[plus!]!, '1.296');
    expectPrinted(amps, '15.552');
    expectPrinted(dropVolts, '0.07776');
  });
  test('as one serpentine fed once they lose 11.20 V, more than there is', () => {
    const { dropVolts } = worstOf({
      lines: [Array.from({ length: 12 }, () => ({ leds: 36 }))],
      feeds: [{ run: 'r0', led: 0, ...halfPitchFeed() }],
    });
    expectPrinted(dropVolts, '11.20');
    expect(dropVolts).toBeGreaterThan(5);
  });
});
