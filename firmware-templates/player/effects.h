// Effects: for each LED of a chunk, a place in the gradient and a level, written as pairs into the scratch buffer.
// An effect has two parts: prepare (once a clip and frame: everything that is the same for all LEDs) and run (once a chunk).
// Not here: colours and blending (blend.h). How to add one: DEVELOPERS.md.
// Every effect is a pure function of (parameters, seed, LED's place, time); chance is a hash of seed, place and time slot.
#pragma once
#include "arithmetic.h"
#include "show_data.h"

namespace lamploom {

enum { chunkLeds = 32, latticeSide = 9 };

/** {gradient place, level} of each LED of the chunk. */
static U8 scratch[2 * chunkLeds];
/** The cloud's chance values at the corners of its cells, 0 to 127, made anew for each clip and frame. */
static U8 lattice[latticeSide * latticeSide];

/** What is the same for all LEDs of a clip in one frame. Fields a, b, c and k0 to k3 are the effect's own. */
struct ClipState {
  ShowData parameters;
  U32 timeMs;       // since the clip began
  U16 a, b, c;
  U8 k0, k1, k2, k3;
};

/** LEDs to run over: their positions and their places along the area's order, both in flash. */
struct Chunk {
  ShowData positions;
  ShowData places;
  U8 ledCount;
};

/** Turns since the clip began, 8.24: the top byte counts whole turns, the next two are the phase. */
static inline U32 turns(const ClipState &clip) { return multiply32(clip.timeMs, read32(clip.parameters)); }
static inline U16 phase16(U32 turns) { return (U16)(turns >> 8); }
static inline U8 wholeTurns(U32 turns) { return (U8)(turns >> 24); }

static inline void putPair(U8 *&to, U8 gradientPlace, U8 level) {
#ifdef __AVR__
  asm volatile("st %a0+,%1\n\t st %a0+,%2" : "+e"(to) : "r"(gradientPlace), "r"(level) : "memory");
#else
  to[0] = gradientPlace;
  to[1] = level;
  to += 2;
#endif
}

// ---- glow: u32 turns/ms, u8 depth, u8 gradient place, u8 gradient span ----

static void prepareGlow(ClipState &clip) {
  U8 swing = ease8(triangle8(highByte8(phase16(turns(clip)))));
  clip.k0 = invert8(scale8(read8(clip.parameters + 4), swing));
  clip.k1 = read8(clip.parameters + 5);
  clip.k2 = read8(clip.parameters + 6);
}

LAMPLOOM_FAST static void runGlow(const ClipState &clip, Chunk chunk) {
  U8 level = clip.k0, start = clip.k1, span = clip.k2, left = chunk.ledCount;
  ShowData places = chunk.places;
  U8 *to = scratch;
  do {
    putPair(to, add8(start, multiplyHigh8(readNext(places), span)), level);
  } while (--left);
}

// ---- band: u32 turns/ms, u16 step per place, u16 half width, u16 255 / half width 8.8, u8 edge gain 4.4, u8 travel ----

enum { travelForward = 0, travelBackward = 1, travelThereAndBack = 2 };

static void prepareBand(ClipState &clip) {
  U16 centre = phase16(turns(clip));
  U8 travel = read8(clip.parameters + 11);
  U8 back = travel == travelBackward ? (U8)1 : (U8)0;
  if (travel == travelThereAndBack && highByte8(centre) >= 128) {
    centre = (U16)(~centre);
    back = 1;
  } else if (back) {
    centre = (U16)(~centre);
  }
  // Several bands there and back: the train as a whole goes the whole way, which is as many turns as there are bands.
  U8 bands = highByte8(read16(clip.parameters + 4));
  if (travel == travelThereAndBack && bands) centre = multiplyLow16((U16)(centre << 1), bands);
  clip.a = subtract16(0, centre);
  clip.b = read16(clip.parameters + 6);
  clip.c = read16(clip.parameters + 8);
  clip.k0 = read8(clip.parameters + 10);
  clip.k1 = back ? (U8)255 : (U8)0;
}

// Places are whole numbers of 256ths, so the fraction of the distance to the centre is the same for all LEDs: one of two values, for LEDs
// ahead of the centre and behind it. Only the whole part is worked out for each LED, and yet the band moves in steps of 1/65,536.
LAMPLOOM_FAST static void runBand(const ClipState &clip, Chunk chunk) {
  U8 whole = highByte8(clip.a), fraction = lowByte8(clip.a);
  U8 widthHigh = highByte8(clip.b), widthLow = lowByte8(clip.b);
  U16 nearness = clip.c;
  U16 restAhead = multiplyMiddle16(nearness, fraction), restBehind = multiplyMiddle16(nearness, invert8(fraction));
  U16 step = read16(clip.parameters + 4);
  U8 gain = clip.k0, flip = clip.k1, left = chunk.ledCount;
  ShowData places = chunk.places;
  U8 *to = scratch;
  do {
    U8 off = add8(highByte8(multiplyLow16(step, readNext(places))), whole);
    U8 side = flip, part = fraction;
    U16 rest = restAhead;
    if (off & 0x80) {
      off = invert8(off);
      side = invert8(side);
      part = invert8(part);
      rest = restBehind;
    }
    U8 level = 0, place = 0;
    if (off < widthHigh || (off == widthHigh && part < widthLow)) {
      U8 far = highByte8(add16(multiplyLow16(nearness, off), rest));
      U16 rise = multiply8(invert8(far), gain);
      level = highByte8(rise) > 15 ? (U8)255 : middle8(rise);
      place = (U8)(add8(half8(far), 128) ^ invert8(side));
    }
    putPair(to, place, level);
  } while (--left);
}

// ---- stars: u32 turns/ms, u8 density, u8 seed ----

static void prepareStars(ClipState &clip) {
  U32 turn = turns(clip);
  clip.k0 = highByte8(phase16(turn));
  clip.k1 = wholeTurns(turn);
  clip.k2 = read8(clip.parameters + 4);
  clip.k3 = read8(clip.parameters + 5);
}

LAMPLOOM_FAST static void runStars(const ClipState &clip, Chunk chunk) {
  U8 phase = clip.k0, turn = clip.k1, density = clip.k2, seed = clip.k3, left = chunk.ledCount;
  ShowData positions = chunk.positions;
  U8 *to = scratch;
  do {
    U8 x = readNext(positions), y = readNext(positions);
    U8 own = fold8(add8(fold8((U8)(x ^ seed), 0xB9), y), 0xD1);  // this LED's share of chance
    U8 age = add8(phase, own);                                   // each LED has its own beginning
    U8 slot = age < own ? add8(turn, 1) : turn;
    U8 throwOfSlot = fold8(add8((U8)(fold8(add8(slot, own), 0xCB) ^ x), y), 0x95);
    U8 level = throwOfSlot < density ? square8(triangle8(age)) : (U8)0;
    putPair(to, fold8((U8)(throwOfSlot ^ x), 0xA3), level);
  } while (--left);
}

// ---- rings: u32 turns/ms, u8 centre x, u8 centre y, u16 turns per unit, u8 lit width, u16 256 / lit width 8.8, u8 inward ----

static void prepareRings(ClipState &clip) {
  U16 phase = phase16(turns(clip));
  clip.a = read8(clip.parameters + 11) ? phase : subtract16(0, phase);
  clip.b = read16(clip.parameters + 9);
  clip.k0 = read8(clip.parameters + 4);
  clip.k1 = read8(clip.parameters + 5);
  clip.k2 = read8(clip.parameters + 8);
}

LAMPLOOM_FAST static void runRings(const ClipState &clip, Chunk chunk) {
  U16 phase = clip.a, gain = clip.b;
  U16 step = read16(clip.parameters + 6);
  U8 centreX = clip.k0, centreY = clip.k1, width = clip.k2, left = chunk.ledCount;
  ShowData positions = chunk.positions;
  U8 *to = scratch;
  do {
    U8 longer = distance8(readNext(positions), centreX), shorter = distance8(readNext(positions), centreY);
    order8(longer, shorter);
    // Distance within 3 %: the larger of the long side, and seven eighths of it plus half of the short one.
    U8 slant = addSaturating8(subtract8(longer, eighth8(longer)), half8(shorter));
    if (slant < longer) slant = longer;
    U8 along = highByte8(add16(multiplyLow16(step, slant), phase));
    U8 level = 0, place = 0;
    if (along <= width) {
      place = highByte8(multiplyLow16(gain, along));
      level = triangle8(place);
    }
    putPair(to, place, level);
  } while (--left);
}

// ---- cloud: u16 cells per unit 0.16, u8 seed, u32 drift x and u32 drift y in cells/ms 8.24 (two's complement) ----

static void prepareCloud(ClipState &clip) {
  U32 x = multiply32(clip.timeMs, read32(clip.parameters + 3));
  U32 y = multiply32(clip.timeMs, read32(clip.parameters + 7));
  U8 seed = read8(clip.parameters + 2);
  clip.a = (U16)highByte8(phase16(x));
  clip.b = (U16)highByte8(phase16(y));
  U8 *to = lattice;
  U8 row = wholeTurns(y);
  for (U8 j = latticeSide; j; j--, row = add8(row, 1)) {
    U8 rowChance = chance8(row, seed);
    U8 column = wholeTurns(x);
    for (U8 i = latticeSide; i; i--, column = add8(column, 1))
      *to++ = half8(fold8((U8)(fold8(column, 0xB5) ^ rowChance), 0x9B));
  }
}

/** From a to b, both under 128, by share / 256. */
static inline U8 between7(U8 a, U8 b, U8 share) {
  I16 moved = (I16)((I16)(I8)subtract8(b, a) * (I16)share);
  return add8(a, highByte8((U16)moved));
}

/** Mixes the four corners of a lattice cell. */
static inline U8 mixCell(const U8 *corner, U8 shareX, U8 shareY) {
#ifdef __AVR__
  U8 p, q, r, s;
  asm("ld %0,%a4\n\t ldd %1,%a4+1\n\t ldd %2,%a4+9\n\t ldd %3,%a4+10\n\t"
      "sub %1,%0\n\t mulsu %1,%5\n\t add %0,r1\n\t"
      "sub %3,%2\n\t mulsu %3,%5\n\t add %2,r1\n\t"
      "sub %2,%0\n\t mulsu %2,%6\n\t add %0,r1\n\t clr r1"
      : "=&a"(p), "=&a"(q), "=&a"(r), "=&a"(s)
      : "b"(corner), "a"(shareX), "a"(shareY)
      : "r0", "memory");
  return p;
#else
  return between7(between7(corner[0], corner[1], shareX), between7(corner[latticeSide], corner[latticeSide + 1], shareX),
                  shareY);
#endif
}

LAMPLOOM_FAST static void runCloud(const ClipState &clip, Chunk chunk) {
  U16 offsetX = clip.a, offsetY = clip.b;
  U16 step = read16(clip.parameters);
  U8 left = chunk.ledCount;
  ShowData positions = chunk.positions;
  U8 *to = scratch;
  do {
    U16 x = add16(multiplyMiddle16(step, readNext(positions)), offsetX);
    U16 y = add16(multiplyMiddle16(step, readNext(positions)), offsetY);
    const U8 *corner = lattice + add8(lowByte8(multiply8(highByte8(y), latticeSide)), highByte8(x));
    U8 value = mixCell(corner, lowByte8(x), lowByte8(y));
    putPair(to, (U8)(value << 1), 255);
  } while (--left);
}

// ---- one table for all ----

static void prepareEffect(U8 effect, ClipState &clip) {
  switch ((uint8_t)effect) {
    case effectGlow: prepareGlow(clip); break;
    case effectBand: prepareBand(clip); break;
    case effectStars: prepareStars(clip); break;
    case effectRings: prepareRings(clip); break;
    default: prepareCloud(clip); break;
  }
}

static inline void runEffect(U8 effect, const ClipState &clip, Chunk chunk) {
  switch ((uint8_t)effect) {
    case effectGlow: runGlow(clip, chunk); break;
    case effectBand: runBand(clip, chunk); break;
    case effectStars: runStars(clip, chunk); break;
    case effectRings: runRings(clip, chunk); break;
    default: runCloud(clip, chunk); break;
  }
}

}  // namespace lamploom
