// Facts about the wire decoder and the chip windows, from edges written by hand. Emulators: harness.test.ts.
// At 16 MHz a cycle is 62.5 ns, so T0H 6, T1H 12 cycles are 375, 750 ns; 300 us are 4800 cycles.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CHIP_WINDOWS, chipsMissed, formatMargins, marginsNs } from './chip-windows.ts';
import { WireDecoder, type WireDecoderOptions } from './wire-decoder.ts';

const BIT_CYCLES = 20;
const HIGH_CYCLES = [6, 12] as const;

/** Sends bits from a cycle on, most significant first; answers the cycle at which the last bit's time is over. */
function sendBits(decoder: WireDecoder, startCycle: number, bits: readonly number[]): number {
  let cycle = startCycle;
  for (const bit of bits) {
    decoder.edge(cycle, 1);
    decoder.edge(cycle + HIGH_CYCLES[bit === 1 ? 1 : 0], 0);
    cycle += BIT_CYCLES;
  }
  return cycle;
}

const bitsOf = (bytes: readonly number[]): number[] =>
  bytes.flatMap((byte) => [7, 6, 5, 4, 3, 2, 1, 0].map((place) => (byte >> place) & 1));

function decodeHighTime(highCycles: number, options: WireDecoderOptions = {}): WireDecoder {
  const decoder = new WireDecoder(options);
  decoder.edge(100, 1);
  decoder.edge(100 + highCycles, 0);
  decoder.finish(100_000);
  return decoder;
}

describe('wire decoder', () => {
  test('any bytes come back, most significant bit first, however the frames are divided', () => {
    const anyFrame = fc.array(fc.integer({ min: 0, max: 255 }), { minLength: 1, maxLength: 100 });
    fc.assert(
      fc.property(fc.array(anyFrame, { maxLength: 4 }), (frames) => {
        const decoder = new WireDecoder();
        let cycle = 1000;
        for (const bytes of frames) cycle = sendBits(decoder, cycle, bitsOf(bytes)) + 5000;
        expect(decoder.finish(cycle).unfinished).toBeNull();
        expect(decoder.frames.map((frame) => [...frame.bytes])).toEqual(frames);
        expect(decoder.frames.every((frame) => frame.strayBits === 0)).toBe(true);
      }),
      { seed: 20260, numRuns: 100 },
    );
  });

  test('a high time of 9 cycles (562.5 ns) is a zero, one of 10 cycles a one', () => {
    expect(decodeHighTime(9).pulses).toMatchObject({ T0H: { minCycles: 9 }, T1H: null });
    expect(decodeHighTime(10).pulses).toMatchObject({ T0H: null, T1H: { minCycles: 10 } });
  });

  test('at 8 MHz the same times take half the cycles', () => {
    expect(decodeHighTime(4, { clockHz: 8e6 }).pulses.T0H?.count).toBe(1);
    expect(decodeHighTime(5, { clockHz: 8e6 }).pulses.T1H?.count).toBe(1);
  });

  test('a low time of 4799 cycles continues a frame, one of 4800 (300 us) ends it', () => {
    for (const [lowCycles, frameCount] of [
      [4799, 1],
      [4800, 2],
    ] as const) {
      const decoder = new WireDecoder();
      sendBits(decoder, 0, bitsOf([0xff]));
      const lastFallCycle = 7 * BIT_CYCLES + 12;
      const endCycle = sendBits(decoder, lastFallCycle + lowCycles, bitsOf([0x01]));
      decoder.finish(endCycle + 4800);
      expect(decoder.frames.length).toBe(frameCount);
      expect(decoder.pulses.shortestLatchCycles).toBe(frameCount === 2 ? 4800 : null);
      expect(decoder.pulses.T1L?.maxCycles).toBe(frameCount === 2 ? 8 : 4799);
    }
  });

  test('a shorter latch can be agreed on', () => {
    const decoder = new WireDecoder({ latchMinCycles: 800 });
    const cycle = sendBits(decoder, 0, bitsOf([1]));
    sendBits(decoder, cycle + 800, bitsOf([2]));
    decoder.finish(10_000);
    expect(decoder.frames.map(({ bytes }) => [...bytes])).toEqual([[1], [2]]);
  });

  test('a frame spans from its first rising to its last falling edge', () => {
    const decoder = new WireDecoder();
    sendBits(decoder, 333, bitsOf([0x00, 0x01]));
    decoder.finish(9000);
    expect(decoder.frames[0]).toMatchObject({ startCycle: 333, endCycle: 333 + 15 * BIT_CYCLES + 12 });
  });

  test('bits after the last whole byte are stray bits', () => {
    const decoder = new WireDecoder();
    sendBits(decoder, 0, [...bitsOf([0xa5]), 1, 0, 1]);
    decoder.finish(9000);
    expect(decoder.frames[0]?.strayBits).toBe(3);
    expect([...(decoder.frames[0]?.bytes ?? [])]).toEqual([0xa5]);
  });

  test('the low time at a frame end is no T0L or T1L', () => {
    const decoder = new WireDecoder();
    const cycle = sendBits(decoder, 0, bitsOf([0x00, 0xff]));
    sendBits(decoder, cycle + 5000, bitsOf([0x00, 0xff]));
    decoder.finish(cycle + 20_000);
    const { T0L, T1L, shortestLatchCycles } = decoder.pulses;
    expect(T0L).toEqual({ minCycles: 14, maxCycles: 14, count: 16 });
    expect(T1L).toEqual({ minCycles: 8, maxCycles: 8, count: 14 });
    expect(shortestLatchCycles).toBe(5008);
  });

  test('a frame that the end of the recording cuts off is unfinished, not a frame', () => {
    const decoder = new WireDecoder();
    const cycle = sendBits(decoder, 0, bitsOf([0x5a]));
    const { unfinished } = decoder.finish(cycle + 100);
    expect(decoder.frames).toEqual([]);
    expect([...(unfinished?.bytes ?? [])]).toEqual([0x5a]);
  });

  test('a repeat of the present level is no edge', () => {
    const decoder = new WireDecoder();
    decoder.edge(10, 0);
    decoder.edge(20, 1);
    decoder.edge(24, 1);
    decoder.edge(26, 0);
    decoder.finish(9000);
    expect(decoder.pulses.T0H).toEqual({ minCycles: 6, maxCycles: 6, count: 1 });
  });
});

describe('chip windows', () => {
  const pulsesOf = (t0hCycles: number, t1hCycles: number, latchCycles = 4800) => ({
    T0H: { minCycles: t0hCycles, maxCycles: t0hCycles, count: 1 },
    T1H: { minCycles: t1hCycles, maxCycles: t1hCycles, count: 1 },
    T0L: { minCycles: 14, maxCycles: 14, count: 1 },
    T1L: { minCycles: 8, maxCycles: 8, count: 1 },
    shortestLatchCycles: latchCycles,
  });

  test('T0H 5 or 6 and T1H 12 cycles at 16 MHz lie inside every window, and no other whole numbers do', () => {
    // Intersection of the windows: T0H 300..380 ns, T1H exactly 750 ns, so 4.8..6.08 and 12 cycles of 62.5 ns.
    const fitting: [number, number][] = [];
    for (let t0h = 1; t0h <= 20; t0h++) {
      for (let t1h = 1; t1h <= 30; t1h++) {
        if (chipsMissed(marginsNs(pulsesOf(t0h, t1h), 16e6)).length === 0) fitting.push([t0h, t1h]);
      }
    }
    expect(fitting).toEqual([
      [5, 12],
      [6, 12],
    ]);
  });

  test('the margin is the distance to the nearer edge of the window', () => {
    const margins = marginsNs(pulsesOf(6, 12), 16e6);
    const byChip = new Map(margins.map((margin) => [margin.chip, margin]));
    // 375 ns in 250..550, 220..380, 300..450; 750 ns in 650..950, 580..1000, 750..1000; 300 us against 50, 280, 300.
    expect(byChip.get('WS2812B V1')).toMatchObject({ T0H: 125, T1H: 100, reset: 250_000 });
    expect(byChip.get('WS2812B-V5')).toMatchObject({ T0H: 5, T1H: 170, reset: 20_000 });
    expect(byChip.get('WS2813')).toMatchObject({ T0H: 75, T1H: 0, reset: 0 });
    // 875 ns in 580..1000; 500 ns is 80 short of 580: printed windows of the low times are compared, not judged.
    expect(byChip.get('WS2812B-V5')?.lowTimes).toEqual({ T0L: 125, T1L: -80 });
  });

  test('a latch under a chip’s reset time is missed by that chip', () => {
    expect(chipsMissed(marginsNs(pulsesOf(6, 12, 4640), 16e6))).toEqual([
      'WS2813: reset outside by 10000 ns',
      'WS2815: reset outside by 10000 ns',
    ]);
  });

  test('a pulse never seen has no margin, and no chip is missed', () => {
    const margins = marginsNs(
      { T0H: null, T1H: null, T0L: null, T1L: null, shortestLatchCycles: null },
      16e6,
    );
    expect(margins.every(({ T0H, T1H, reset }) => T0H === null && T1H === null && reset === null)).toBe(true);
    expect(chipsMissed(margins)).toEqual([]);
  });

  test('the table has one row a chip, below its title row', () => {
    const rows = formatMargins(marginsNs(pulsesOf(6, 12), 16e6)).split('\n');
    expect(rows.length).toBe(CHIP_WINDOWS.length + 1);
    expect(rows[1]?.split(/ {2,}/)).toEqual(['WS2812B V1', '+125', '+100', '+250000', '+125', '+100']);
  });
});
