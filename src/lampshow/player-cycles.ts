// What the player costs on an 8-bit AVR, in clock cycles. Loops in assembler are counted by hand from the instruction set manual's table of
// cycles (firmware-templates/player/loops_avr.h); all else is measured with `npm run bench` (test/bench/calibrate.bench.ts) on the emulated
// board, whose cycles are exact, with avr-gcc 5.4 -Os. test/lampshow/frame-time.test.ts holds the sum against the emulated board.
import type { Blend } from '../project/index.ts';
import type { playerEffects } from './effects.ts';

type PlayerEffect = keyof typeof playerEffects;
type ByBlend = Readonly<Record<Blend, number>>;
type ByEffect = Readonly<Record<PlayerEffect, number>>;

/** An LED that the effect lights, by what finds its colour and how it is blended. */
const along: ByBlend = { over: 53, add: 49, 'brighter-wins': 49, tint: 52 };
const chance: ByBlend = { over: 88, add: 73, 'brighter-wins': 73, tint: 82 };
const lattice: ByBlend = { over: 86, add: 82, 'brighter-wins': 82, tint: 85 };

export const playerCycles = {
  /** Once a frame: the step itself, finding the show, the time division, waiting for the exact tick of 64 cycles. */
  frame: 1200,
  /** Each clip of the show that doesn't play. */
  scan: 58,
  /** Each playing clip: finding its tables. */
  clip: 700,
  /** A fade in or out while it lasts: one 32-bit division. */
  fade: 650,
  envelope: 900,
  prepare: {
    glow: 400, bands: 600, column: 600, bursts: 500, lightning: 2000, stars: 300, cloud: 2400, fire: 2400, painted: 1500, letters: 700,
  } satisfies ByEffect,
  /** The colour table: each entry with its colours as they are or scaled, each entry of a band's edges, each piece of the gradient. */
  tablePlain: 22,
  tableScaled: 56,
  tableEdge: 30,
  piece: 350,
  /** Each stretch of an area on the wire. */
  span: 250,
  lit: {
    glow: along, bands: along, column: along, bursts: along, lightning: along, stars: chance, cloud: lattice,
    fire: { over: 200, add: 200, 'brighter-wins': 200, tint: 200 },
    painted: { over: 200, add: 200, 'brighter-wins': 200, tint: 200 },
    letters: { over: 200, add: 200, 'brighter-wins': 200, tint: 200 },
  } satisfies Readonly<Record<PlayerEffect, ByBlend>>,
  /** An LED that the effect leaves as it is. */
  dark: { along: 18, chance: 30 },
  /** The limiter: once, each segment, each LED. Off, it costs nothing worth counting. */
  limiter: 800,
  limiterSegment: 190,
  limiterLed: 26,
  /** Sending: once, each line. An LED takes exactly 20 cycles a bit. */
  send: 380,
  sendLine: 320,
  sendByte: 160,
  /** The chips' latch: at least 304 us of low between two frames. Rendering happens meanwhile. */
  latch: 4864,
} as const;
