// What the player costs on an 8-bit AVR, in clock cycles: upper bounds, lit LEDs throughout.
// Measured on the emulated board (avr8js, whose cycles are exact) with avr-gcc 5.4 -Os and the profiling marks of
// test/support/profile-board.ts; rounded up. test/lampshow/frame-time.test.ts holds them against the emulated board: never below it.
import type { Blend, EffectKind } from '../project/index.ts';

export const playerCycles = {
  /** Once a frame: the step itself, finding the show, the time division, waiting for the exact tick of 64 cycles. */
  frame: 860,
  /** Each clip of the show, playing or not. */
  scan: 58,
  /** Each playing clip: finding its tables. */
  clip: 320,
  /** A fade in or out while it lasts: one 32-bit division. */
  fade: 680,
  prepare: { glow: 235, band: 250, stars: 215, rings: 255, cloud: 2330 } satisfies Record<EffectKind, number>,
  /** Filling the colour table, and each piece of the gradient. */
  table: 2130,
  piece: 265,
  /** Each stretch of an area on the wire, and each chunk of up to 32 LEDs in it: the loop, the effect's and the blend's beginnings. */
  span: 70,
  chunk: 190,
  effectLed: { glow: 17, band: 69, stars: 64, rings: 76, cloud: 74 } satisfies Record<EffectKind, number>,
  blendLed: { over: 64, add: 54, 'brighter-wins': 51, tint: 57 } satisfies Record<Blend, number>,
  /** The limiter: once, each segment, each LED. Off, it costs nothing worth counting. */
  limiter: 800,
  limiterSegment: 190,
  limiterLed: 32,
  /** Sending: once, each line, each segment. An LED takes exactly 24 bits x 20 cycles. */
  send: 340,
  sendLine: 60,
  sendSegment: 160,
  sendLed: 480,
  /** The chips' latch: at least 304 us of low between two frames. Rendering happens meanwhile. */
  latch: 4864,
} as const;

export const chunkLeds = 32;
