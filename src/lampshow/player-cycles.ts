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
  clip: 603,
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
    /** A gradient that travels is begun in its middle, after passing over pieces, and begun again behind its end. */
    pieceSkipped: 46,
    begunAgain: 335,
    plain: 17,
    scaled: 40,
    tint: 3,
    edges: 142,
    edge: 20.4,
    four: 29,
  },
  palette: { begin: 194, perColour: 250, perPair: 75, pairsMost: 8 },
  /** Each stretch of an area on the wire, and what some loops begin with. */
  span: 238,
  spanBegin: {
    way: 0,
    along: 0,
    row: 9,
    cloud: 40,
    chance: 33,
    fire: 0,
    letters: 0,
    painted: 0,
    paintedPairs: 0,
    paintedSums: 0,
  },
  /** So many LEDs at a time whose entries are gathered first, and what each such group costs. */
  group: {
    fire: { leds: 16, cycles: 330 },
    letters: { leds: 48, cycles: 294 },
    painted: { leds: 32, cycles: 335 },
    paintedPairs: { leds: 32, cycles: 335 },
    paintedSums: { leds: 32, cycles: 335 },
  },
  loops: {
    way: loop(7, 3),
    along: added(loop(12, 3)),
    row: loop(30, 3),
    cloud: added(loop(49, 4)),
    chance: { over: 78, add: 64, 'brighter-wins': 62, tint: 76, write: 0 },
    fire: { over: 107, add: 103, 'brighter-wins': 102, tint: 106, write: 103 },
    letters: { over: 70, add: 66, 'brighter-wins': 65, tint: 69, write: 66 },
    painted: { over: 70, add: 66, 'brighter-wins': 65, tint: 69, write: 66 },
    paintedPairs: { over: 82, add: 78, 'brighter-wins': 77, tint: 81, write: 78 },
    paintedSums: { over: 134, add: 130, 'brighter-wins': 129, tint: 133, write: 130 },
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
