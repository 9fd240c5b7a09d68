// What the player costs on an 8-bit AVR, in clock cycles: upper bounds, lit LEDs throughout.
// Measured with `npm run bench -- calibrate` on the emulated board (avr8js, whose cycles are exact), avr-gcc 5.4 -Os; rounded up.
// test/lampshow/frame-time.test.ts holds them against the emulated board on random shows: never below it.
import type { Blend, EffectKind } from '../project/index.ts';

export const playerCycles = {
  /** Once a frame: the step itself, finding the show, the time division, waiting for the exact tick. */
  frame: 2200,
  /** Each clip of the show, playing or not. */
  scan: 60,
  /** Each playing clip: its fade (two divisions while fading), its tables. */
  clip: 2000,
  prepare: { glow: 420, band: 300, stars: 250, rings: 320, cloud: 2800 } satisfies Record<EffectKind, number>,
  /** Filling the colour table, and each piece of the gradient. */
  table: 4000,
  piece: 260,
  /** Each stretch of an area on the wire, and each chunk of up to 32 LEDs in it. */
  span: 90,
  chunk: 170,
  effectLed: { glow: 30, band: 72, stars: 68, rings: 80, cloud: 80 } satisfies Record<EffectKind, number>,
  blendLed: { over: 66, add: 56, 'brighter-wins': 52, tint: 60 } satisfies Record<Blend, number>,
  /** The limiter: once, each segment, each LED. Off, it costs nothing worth counting. */
  limiter: 900,
  limiterSegment: 260,
  limiterLed: 80,
  /** Sending: once, each line, each segment. An LED takes exactly 24 bits x 20 cycles. */
  send: 350,
  sendLine: 60,
  sendSegment: 160,
  sendLed: 480,
  /** The chips' latch: at least 304 us of low between two frames. Rendering happens meanwhile. */
  latch: 4864,
} as const;

export const chunkLeds = 32;
