// What the player costs on an 8-bit AVR, in clock cycles, at the dearest moment of each part. Loops in assembler are counted by the instruction set
// manual's table of cycles (firmware-templates/player/loops_avr.h); all else is measured with `npm run bench` (test/bench/calibrate.bench.ts) on the
// emulated board, whose cycles are exact, with avr-gcc 5.4 and the flags of firmware-templates/build.mjs.
// test/lampshow/frame-time.test.ts holds the sums against the emulated board.
import type { Blend } from '../project/index.ts';
import type { PlayerEffect } from './effects.ts';

type ByBlend = Readonly<Record<Blend | 'write', number>>;
type ByEffect = Readonly<Record<PlayerEffect, number>>;

/** An LED: what finds its entry, and the blend. Brighter wins is counted as if every byte won. */
const loop = (find: number, next: number): ByBlend => ({
  over: find + 31 + next,
  add: find + 27 + next,
  'brighter-wins': find + 26 + next,
  tint: find + 30 + next,
  write: find + 12 + next,
});
/** Where black LEDs are added to, not written. */
const added = (by: ByBlend): ByBlend => ({ ...by, write: by.add });

export const playerCycles = {
  /** Once a frame: the step itself, finding the show and the time in it, waiting for the exact tick of 64 cycles. */
  frame: 920,
  /** The same where events and inputs are heard: the director; and reading the inputs, once and every so many cycles of drawing. */
  director: 740,
  poll: 180,
  eventPin: 62,
  pollEvery: 64_000,
  /** Each clip of the show that doesn't play, and each that does. */
  scan: 58,
  clip: 657,
  /** A fade in or out while it lasts: one 32-bit division. An envelope, and each of its points that lies before. */
  fade: 656,
  envelope: 700,
  envelopePoint: 60,
  prepare: {
    glow: 503,
    bands: 642,
    column: 540,
    bursts: 540,
    lightning: 1800,
    stars: 531,
    cloud: 2350,
    fire: 2350,
    painted: 1600,
    letters: 522,
  } satisfies ByEffect,
  easing: 150,
  cycle: 132,
  paintedFrame: 60,
  /** Filling the colour table from a gradient: beginning, each piece, each entry as it is or scaled, what edges, tint and letters add. */
  table: {
    begin: 400,
    piece: 61,
    pieceBetween: 24,
    pieceTint: 13,
    plain: 17,
    scaled: 40,
    tint: 3,
    edges: 142,
    edge: 20.4,
    four: 29,
  },
  palette: { begin: 200, perColour: 250, perPair: 40, pairsMost: 8 },
  /** Each stretch of an area on the wire. */
  span: 186,
  loops: {
    way: loop(7, 3),
    along: added(loop(12, 3)),
    row: loop(27, 3),
    cloud: added(loop(49, 4)),
    chance: { over: 78, add: 64, 'brighter-wins': 62, tint: 76, write: 0 },
    fire: { over: 132, add: 128, 'brighter-wins': 127, tint: 131, write: 128 },
    letters: { over: 86, add: 82, 'brighter-wins': 81, tint: 85, write: 82 },
    painted: { over: 70, add: 66, 'brighter-wins': 65, tint: 69, write: 66 },
    paintedPairs: { over: 94, add: 90, 'brighter-wins': 88, tint: 93, write: 90 },
    paintedSums: { over: 170, add: 166, 'brighter-wins': 164, tint: 169, write: 166 },
  } satisfies Record<string, ByBlend>,
  /** A cloud's row of corners that is mixed anew where the height changes. */
  row: 204,
  /** An LED that the effect leaves as it is. */
  dark: { along: 13, chance: 23 },
  /** The limiter, by what an LED's chip is. Off, it costs nothing worth counting. */
  limiter: { begin: 120, segment: 510, led: 23.8, ledShared: 41, ledWhite: 52 },
  /** Sending: once, each line or pair of lines. A byte takes exactly 8 bits x 20 cycles. */
  send: 155,
  sendLine: 680,
  sendByte: 160,
  /** The chips' latch: at least 304 us of low between two frames. Rendering happens meanwhile. */
  latch: 4864,
} as const;
