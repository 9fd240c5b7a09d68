// Effects: for each LED of a chunk, a place in the gradient and a level, written as pairs into the scratch buffer.
// An effect has two parts: prepare (once a clip and frame: everything that is the same for all LEDs) and run (once a chunk).
// Not here: colours and blending (blend.h). How to add one: DEVELOPERS.md.
// The C++ body of each run is its meaning; on AVR a loop in assembler does the same in fewer cycles (X writes pairs, Z reads flash).
// A constant that both bodies need has a name, so that it is changed in one place.
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
/** The place in the gradient of a band's middle. */
enum { bandMiddle = 128 };

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
#ifdef __AVR__
LAMPLOOM_NOINLINE static void runBand(const ClipState &clip, Chunk chunk) {
  const U8 whole = highByte8(clip.a), fraction = lowByte8(clip.a), gain = clip.k0, flip = clip.k1;
  const U16 width = clip.b, nearness = clip.c, step = read16(clip.parameters + 4);
  const U16 restAhead = multiplyMiddle16(nearness, fraction), restBehind = multiplyMiddle16(nearness, invert8(fraction));
  U8 *to = scratch;
  U8 left = chunk.ledCount, off, side, place, level;
  U16 far;
  // 1: ahead of the centre, 3: behind it, 2: both, 5: dark, 6: full level, 4: write.
  asm volatile(
      "1: lpm %[place],Z+\n\t mul %[place],%A[step]\n\t mov %[off],r1\n\t mul %[place],%B[step]\n\t add %[off],r0\n\t"
      "add %[off],%[whole]\n\t mov %[side],%[flip]\n\t mov %[level],%[fraction]\n\t sbrc %[off],7\n\t rjmp 3f\n\t"
      "cp %[level],%A[width]\n\t cpc %[off],%B[width]\n\t brcc 5f\n\t"
      "mul %[off],%A[near]\n\t movw %A[far],r0\n\t mul %[off],%B[near]\n\t add %B[far],r0\n\t"
      "add %A[far],%A[ahead]\n\t adc %B[far],%B[ahead]\n\t"
      "2: mov %[place],%B[far]\n\t lsr %[place]\n\t subi %[place],lo8(-(%[middle]))\n\t com %[side]\n\t eor %[place],%[side]\n\t"
      "com %B[far]\n\t mul %B[far],%[gain]\n\t mov %[level],r1\n\t cpi %[level],16\n\t brcc 6f\n\t"
      "swap %[level]\n\t swap r0\n\t mov %[off],r0\n\t andi %[off],0x0F\n\t or %[level],%[off]\n\t"
      "4: st X+,%[place]\n\t st X+,%[level]\n\t dec %[left]\n\t brne 1b\n\t rjmp 7f\n\t"
      "3: com %[off]\n\t com %[side]\n\t com %[level]\n\t cp %[level],%A[width]\n\t cpc %[off],%B[width]\n\t brcc 5f\n\t"
      "mul %[off],%A[near]\n\t movw %A[far],r0\n\t mul %[off],%B[near]\n\t add %B[far],r0\n\t"
      "add %A[far],%A[behind]\n\t adc %B[far],%B[behind]\n\t rjmp 2b\n\t"
      "5: clr %[place]\n\t clr %[level]\n\t rjmp 4b\n\t"
      "6: ldi %[level],255\n\t rjmp 4b\n\t"
      "7: clr __zero_reg__\n\t"
      : "+z"(chunk.places), "+x"(to), [left] "+r"(left), [off] "=&d"(off), [side] "=&r"(side), [place] "=&d"(place),
        [level] "=&d"(level), [far] "=&r"(far)
      : [step] "r"(step), [whole] "r"(whole), [flip] "r"(flip), [fraction] "r"(fraction), [width] "r"(width), [near] "r"(nearness),
        [ahead] "r"(restAhead), [behind] "r"(restBehind), [gain] "r"(gain), [middle] "i"(bandMiddle)
      : "r0", "memory");
}
#else
static void runBand(const ClipState &clip, Chunk chunk) {
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
      place = (U8)(add8(half8(far), bandMiddle) ^ invert8(side));
    }
    putPair(to, place, level);
  } while (--left);
}
#endif

// ---- stars: u32 turns/ms, u8 density, u8 seed ----

/** Odd factors of the folds: the LED's own share of chance in two steps, the throw of its time slot in two, its colour. */
enum { starFoldX = 0xB9, starFoldY = 0xD1, starFoldSlot = 0xCB, starFoldThrow = 0x95, starFoldColour = 0xA3 };

static void prepareStars(ClipState &clip) {
  U32 turn = turns(clip);
  clip.k0 = highByte8(phase16(turn));
  clip.k1 = wholeTurns(turn);
  clip.k2 = read8(clip.parameters + 4);
  clip.k3 = read8(clip.parameters + 5);
}

#ifdef __AVR__
LAMPLOOM_NOINLINE static void runStars(const ClipState &clip, Chunk chunk) {
  const U8 phase = clip.k0, turn = clip.k1, density = clip.k2, seed = clip.k3, zero = 0;
  const U8 f1 = starFoldX, f2 = starFoldY, f3 = starFoldSlot, f4 = starFoldThrow, f5 = starFoldColour;
  U8 *to = scratch;
  U8 left = chunk.ledCount, x, y, own, chance, age;
#define LAMPLOOM_FOLD(v, factor) "mul %[" #v "],%[" #factor "]\n\t mov %[" #v "],r0\n\t eor %[" #v "],r1\n\t"
  asm volatile(
      "1: lpm %[x],Z+\n\t lpm %[y],Z+\n\t mov %[own],%[x]\n\t eor %[own],%[seed]\n\t" LAMPLOOM_FOLD(own, f1)
      "add %[own],%[y]\n\t" LAMPLOOM_FOLD(own, f2)
      // The carry of phase + own is the turn that this LED is already in.
      "mov %[age],%[phase]\n\t mov %[chance],%[turn]\n\t add %[age],%[own]\n\t adc %[chance],%[zero]\n\t add %[chance],%[own]\n\t"
      LAMPLOOM_FOLD(chance, f3) "eor %[chance],%[x]\n\t add %[chance],%[y]\n\t" LAMPLOOM_FOLD(chance, f4)
      "lsl %[age]\n\t sbc r0,r0\n\t eor %[age],r0\n\t mul %[age],%[age]\n\t mov %[age],r1\n\t"
      "cp %[chance],%[density]\n\t brcs .+2\n\t clr %[age]\n\t"
      "eor %[chance],%[x]\n\t" LAMPLOOM_FOLD(chance, f5)
      "st X+,%[chance]\n\t st X+,%[age]\n\t dec %[left]\n\t brne 1b\n\t clr __zero_reg__\n\t"
      : "+z"(chunk.positions), "+x"(to), [left] "+r"(left), [x] "=&r"(x), [y] "=&r"(y), [own] "=&r"(own), [chance] "=&r"(chance),
        [age] "=&r"(age)
      : [phase] "r"(phase), [turn] "r"(turn), [density] "r"(density), [seed] "r"(seed), [zero] "r"(zero), [f1] "r"(f1), [f2] "r"(f2),
        [f3] "r"(f3), [f4] "r"(f4), [f5] "r"(f5)
      : "r0", "memory");
#undef LAMPLOOM_FOLD
}
#else
static void runStars(const ClipState &clip, Chunk chunk) {
  U8 phase = clip.k0, turn = clip.k1, density = clip.k2, seed = clip.k3, left = chunk.ledCount;
  ShowData positions = chunk.positions;
  U8 *to = scratch;
  do {
    U8 x = readNext(positions), y = readNext(positions);
    U8 own = fold8(add8(fold8((U8)(x ^ seed), starFoldX), y), starFoldY);  // this LED's share of chance
    U8 age = add8(phase, own);                                   // each LED has its own beginning
    U8 slot = age < own ? add8(turn, 1) : turn;
    U8 throwOfSlot = fold8(add8((U8)(fold8(add8(slot, own), starFoldSlot) ^ x), y), starFoldThrow);
    U8 level = throwOfSlot < density ? square8(triangle8(age)) : (U8)0;
    putPair(to, fold8((U8)(throwOfSlot ^ x), starFoldColour), level);
  } while (--left);
}
#endif

// ---- rings: u32 turns/ms, u8 centre x, u8 centre y, u16 turns per unit, u8 lit width, u16 256 / lit width 8.8, u8 inward ----

static void prepareRings(ClipState &clip) {
  U16 phase = phase16(turns(clip));
  clip.a = read8(clip.parameters + 11) ? phase : subtract16(0, phase);
  clip.b = read16(clip.parameters + 9);
  clip.k0 = read8(clip.parameters + 4);
  clip.k1 = read8(clip.parameters + 5);
  clip.k2 = read8(clip.parameters + 8);
}

#ifdef __AVR__
LAMPLOOM_NOINLINE static void runRings(const ClipState &clip, Chunk chunk) {
  const U16 phase = clip.a, gain = clip.b, step = read16(clip.parameters + 6);
  const U8 centreX = clip.k0, centreY = clip.k1, width = clip.k2;
  U8 *to = scratch;
  U8 left = chunk.ledCount, longer, shorter, slant;
  U16 along;
  asm volatile(
      "1: lpm %[a],Z+\n\t sub %[a],%[x]\n\t brcc .+2\n\t neg %[a]\n\t lpm %[b],Z+\n\t sub %[b],%[y]\n\t brcc .+2\n\t neg %[b]\n\t"
      "cp %[a],%[b]\n\t brcc .+6\n\t mov r0,%[a]\n\t mov %[a],%[b]\n\t mov %[b],r0\n\t"
      "mov %[s],%[a]\n\t lsr %[s]\n\t lsr %[s]\n\t lsr %[s]\n\t neg %[s]\n\t add %[s],%[a]\n\t"
      "lsr %[b]\n\t add %[s],%[b]\n\t brcc .+2\n\t ldi %[s],255\n\t cp %[s],%[a]\n\t brcc .+2\n\t mov %[s],%[a]\n\t"
      "mul %[s],%A[step]\n\t movw %A[along],r0\n\t mul %[s],%B[step]\n\t add %B[along],r0\n\t"
      "add %A[along],%A[phase]\n\t adc %B[along],%B[phase]\n\t clr %[a]\n\t clr %[b]\n\t cp %[width],%B[along]\n\t brcs 2f\n\t"
      "mul %B[along],%A[gain]\n\t mov %[a],r1\n\t mul %B[along],%B[gain]\n\t add %[a],r0\n\t"
      "mov %[b],%[a]\n\t lsl %[b]\n\t sbc r0,r0\n\t eor %[b],r0\n\t"
      "2: st X+,%[a]\n\t st X+,%[b]\n\t dec %[left]\n\t brne 1b\n\t clr __zero_reg__\n\t"
      : "+z"(chunk.positions), "+x"(to), [left] "+r"(left), [a] "=&r"(longer), [b] "=&r"(shorter), [s] "=&d"(slant), [along] "=&r"(along)
      : [x] "r"(centreX), [y] "r"(centreY), [step] "r"(step), [phase] "r"(phase), [gain] "r"(gain), [width] "r"(width)
      : "r0", "memory");
}
#else
static void runRings(const ClipState &clip, Chunk chunk) {
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
#endif

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

#ifndef __AVR__
/** From a to b, both under 128, by share / 256. */
static inline U8 between7(U8 a, U8 b, U8 share) {
  I16 moved = (I16)((I16)(I8)subtract8(b, a) * (I16)share);
  return add8(a, highByte8((U16)moved));
}

/** Mixes the four corners of a lattice cell. */
static inline U8 mixCell(const U8 *corner, U8 shareX, U8 shareY) {
  return between7(between7(corner[0], corner[1], shareX), between7(corner[latticeSide], corner[latticeSide + 1], shareX),
                  shareY);
}
#endif

#ifdef __AVR__
LAMPLOOM_NOINLINE static void runCloud(const ClipState &clip, Chunk chunk) {
  const U8 offsetX = lowByte8(clip.a), offsetY = lowByte8(clip.b), zero = 0, full = 255, side = latticeSide;
  const U16 step = read16(clip.parameters);
  U8 *to = scratch;
  U16 next;
  U8 left = chunk.ledCount, position, cell, shareX, shareY, p, q, r;
#define LAMPLOOM_AXIS(share, cell, offset)                                                                               \
  "lpm %[position],Z+\n\t mul %[position],%A[step]\n\t mov %[" #share "],r1\n\t mul %[position],%B[step]\n\t add %[" #share "],r0\n\t" \
  "adc r1,%[zero]\n\t mov %[" #cell "],r1\n\t add %[" #share "],%[" #offset "]\n\t adc %[" #cell "],%[zero]\n\t"
#define LAMPLOOM_BETWEEN(from, to, share) "sub %[" #to "],%[" #from "]\n\t mulsu %[" #to "],%[" #share "]\n\t add %[" #from "],r1\n\t"
  asm volatile(
      "1: " LAMPLOOM_AXIS(shareX, cell, offsetX) LAMPLOOM_AXIS(shareY, p, offsetY)
      // Z points to the cell's corners for a while.
      "movw %A[next],r30\n\t mul %[p],%[side]\n\t add r0,%[cell]\n\t mov r30,r0\n\t clr r31\n\t"
      "subi r30,lo8(-(%[lattice]))\n\t sbci r31,hi8(-(%[lattice]))\n\t"
      "ld %[p],Z\n\t ldd %[q],Z+1\n\t" LAMPLOOM_BETWEEN(p, q, shareX)
      "ldd %[r],Z+%[below]\n\t ldd %[q],Z+%[below]+1\n\t movw r30,%A[next]\n\t" LAMPLOOM_BETWEEN(r, q, shareX)
      LAMPLOOM_BETWEEN(p, r, shareY) "lsl %[p]\n\t"
      "st X+,%[p]\n\t st X+,%[full]\n\t dec %[left]\n\t brne 1b\n\t clr __zero_reg__\n\t"
      : "+z"(chunk.positions), "+x"(to), [next] "=&r"(next), [left] "+r"(left), [position] "=&r"(position), [cell] "=&r"(cell),
        [shareX] "=&a"(shareX), [shareY] "=&a"(shareY), [p] "=&a"(p), [q] "=&a"(q), [r] "=&a"(r)
      : [offsetX] "r"(offsetX), [offsetY] "r"(offsetY), [step] "r"(step), [zero] "r"(zero), [full] "r"(full), [side] "r"(side),
        [lattice] "i"(lattice), [below] "i"(latticeSide)
      : "r0", "memory");
#undef LAMPLOOM_AXIS
#undef LAMPLOOM_BETWEEN
}
#else
static void runCloud(const ClipState &clip, Chunk chunk) {
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
#endif

// ---- one table for all ----

static void prepareEffect(U8 effect, ClipState &clip) {
  switch ((uint8_t)effect) {
    case effectGlow: prepareGlow(clip); break;
    case effectBand: prepareBand(clip); break;
    case effectStars: prepareStars(clip); break;
    case effectRings: prepareRings(clip); break;
    case effectCloud: prepareCloud(clip); break;
  }
}

static inline void runEffect(U8 effect, const ClipState &clip, Chunk chunk) {
  switch ((uint8_t)effect) {
    case effectGlow: runGlow(clip, chunk); break;
    case effectBand: runBand(clip, chunk); break;
    case effectStars: runStars(clip, chunk); break;
    case effectRings: runRings(clip, chunk); break;
    case effectCloud: runCloud(clip, chunk); break;
  }
}

}  // namespace lamploom
