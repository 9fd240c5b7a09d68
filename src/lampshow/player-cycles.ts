// What the player costs on an 8-bit AVR, in clock cycles: upper bounds, lit LEDs throughout.
// Measured with `npm run bench` (test/bench/calibrate.bench.ts) on the emulated board, whose cycles are exact; avr-gcc 5.4 -Os; rounded up. test/lampshow/frame-time.test.ts holds them against the emulated board: never below it.
import type { Blend, EffectKind } from '../project/index.ts';

export const playerCycles = {
  /** Once a frame: the step itself, finding the show, the time division, waiting for the exact tick of 64 cycles. */
  frame: 860,
  /** Each clip of the show, playing or not. */
  scan: 58,
  /** Each playing clip: finding its tables. */
  clip: 320,
  /** A fade in or out while it lasts: one 32-bit division. */
  fade: 650,
  prepare: { glow: 230, band: 270, stars: 205, rings: 240, cloud: 2190 } satisfies Record<EffectKind, number>,
  /** Filling the colour table, with its colours as they are or faded, and each piece of the gradient. */
  tablePlain: 1235,
  tableFaded: 2390,
  piece: 47,
  /** Each stretch of an area on the wire. */
  span: 70,
  /** Each chunk of up to 32 LEDs: the loop around it, the effect's and the blend's beginnings. */
  chunk: { glow: 105, band: 272, stars: 165, rings: 212, cloud: 200 } satisfies Record<EffectKind, number>,
  effectLed: { glow: 17, band: 52, stars: 53, rings: 57, cloud: 63 } satisfies Record<EffectKind, number>,
  blendLed: { over: 64, add: 54, 'brighter-wins': 51, tint: 57 } satisfies Record<Blend, number>,
  /** The limiter: once, each segment, each LED. Off, it costs nothing worth counting. */
  limiter: 800,
  limiterSegment: 190,
  limiterLed: 32,
  /** Gamma before sending, on lines of several segments: each segment, each LED. */
  gammaSegment: 190,
  gammaLed: 28,
  /** Sending: once, each line. An LED takes exactly 24 bits x 20 cycles. */
  send: 380,
  sendLine: 320,
  sendLed: 480,
  /** The chips' latch: at least 304 us of low between two frames. Rendering happens meanwhile. */
  latch: 4864,
} as const;

export const chunkLeds = 32;
