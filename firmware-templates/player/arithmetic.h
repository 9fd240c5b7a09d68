// Small integer operations with fixed widths: the only place where operators mix widths.
// Each has a C++ body, which is its meaning, and where it pays an AVR assembler body. Tests compare the two over all inputs
// (16-bit ones over a dense sample). gcc 5.4 widens 8-bit shifts and products to 16 bits, which the assembler avoids.
// In assembler r0 is scratch and r1 must be zero again at the end.
#pragma once
#include "integers.h"

namespace lamploom {

static inline U8 lowByte8(U16 v) { return (U8)v; }
static inline U8 highByte8(U16 v) { return (U8)(v >> 8); }
static inline U16 word16(U8 high, U8 low) { return (U16)((U16)((U16)high << 8) | (U16)low); }
static inline U8 add8(U8 a, U8 b) { return (U8)(a + b); }
static inline U8 subtract8(U8 a, U8 b) { return (U8)(a - b); }
static inline U16 add16(U16 a, U16 b) { return (U16)(a + b); }
static inline U16 subtract16(U16 a, U16 b) { return (U16)(a - b); }
static inline U8 invert8(U8 a) { return (U8)(~a); }

#ifdef __AVR__

static inline U16 multiply8(U8 a, U8 b) {
  U16 product;
  asm("mul %1,%2\n\t movw %0,r0\n\t clr r1" : "=r"(product) : "r"(a), "r"(b) : "r0");
  return product;
}
static inline U8 multiplyHigh8(U8 a, U8 b) {
  U8 high;
  asm("mul %1,%2\n\t mov %0,r1\n\t clr r1" : "=r"(high) : "r"(a), "r"(b) : "r0");
  return high;
}
static inline U8 scale8(U8 a, U8 k) {
  U8 result;
  U8 zero = 0;
  asm("mul %1,%2\n\t add r0,%1\n\t adc r1,%3\n\t mov %0,r1\n\t clr r1"
      : "=&r"(result) : "r"(a), "r"(k), "r"(zero) : "r0");
  return result;
}
static inline U8 triangle8(U8 phase) {
  asm("lsl %0\n\t sbc r0,r0\n\t eor %0,r0" : "+r"(phase)::"r0");
  return phase;
}
static inline U8 half8(U8 a) {
  asm("lsr %0" : "+r"(a));
  return a;
}
static inline U8 fold8(U8 a, U8 factor) {
  asm("mul %0,%1\n\t mov %0,r0\n\t eor %0,r1\n\t clr r1" : "+r"(a) : "r"(factor) : "r0");
  return a;
}
static inline U16 multiplyLow16(U16 a, U8 b) {
  U16 product;
  asm("mul %A1,%2\n\t movw %A0,r0\n\t mul %B1,%2\n\t add %B0,r0\n\t clr r1"
      : "=&r"(product) : "r"(a), "r"(b) : "r0");
  return product;
}
static inline U16 multiplyMiddle16(U16 a, U8 b) {
  U16 middle;
  U8 zero = 0;
  asm("mul %A1,%2\n\t mov %A0,r1\n\t mov %B0,%3\n\t mul %B1,%2\n\t add %A0,r0\n\t adc %B0,r1\n\t clr r1"
      : "=&r"(middle) : "r"(a), "r"(b), "r"(zero) : "r0");
  return middle;
}

#else

/** a x b, all 16 bits. */
static inline U16 multiply8(U8 a, U8 b) { return (U16)((U16)a * (U16)b); }
/** High byte of a x b. */
static inline U8 multiplyHigh8(U8 a, U8 b) { return (U8)((U16)((U16)a * (U16)b) >> 8); }
/** a x (k + 1) / 256, rounded down: k = 255 leaves a as it is, k = 0 gives 0. */
static inline U8 scale8(U8 a, U8 k) { return (U8)((U16)((U16)((U16)a * (U16)k) + (U16)a) >> 8); }
/** 0, 2, ... 254, 255, 253, ... 1 as phase goes from 0 to 255. */
static inline U8 triangle8(U8 phase) { return (U8)((U8)(phase << 1) ^ (U8)((phase & 0x80) ? 0xFF : 0)); }
static inline U8 half8(U8 a) { return (U8)(a >> 1); }
/** The two bytes of a x factor, folded together: the mixing step of all chance here. */
static inline U8 fold8(U8 a, U8 factor) {
  U16 product = (U16)((U16)a * (U16)factor);
  return (U8)((U8)(product >> 8) ^ (U8)product);
}
/** Low word of a x b; wraps on purpose. */
static inline U16 multiplyLow16(U16 a, U8 b) { return (U16)((U32)a * (U32)b); }
/** The upper two of the three bytes of a x b. */
static inline U16 multiplyMiddle16(U16 a, U8 b) { return (U16)((U32)((U32)a * (U32)b) >> 8); }

#endif

// Used only in bodies that AVR has in assembler, so one body is enough.
/** a + b, at most 255. */
static inline U8 addSaturating8(U8 a, U8 b) {
  U8 sum = (U8)(a + b);
  return sum < a ? (U8)255 : sum;
}
static inline U8 eighth8(U8 a) { return (U8)(a >> 3); }
/** Swaps the two if needed, so that the first is not the smaller one. */
static inline void order8(U8 &larger, U8 &smaller) {
  if (larger < smaller) {
    U8 keep = larger;
    larger = smaller;
    smaller = keep;
  }
}

static inline U8 quarter8(U8 a) { return (U8)(a >> 2); }
/** High word of a x b. */
static inline U16 multiplyHigh16(U16 a, U16 b) { return (U16)((U32)((U32)a * (U32)b) >> 16); }
/** b / 256 of a step in two's complement: what is added to a colour between two entries of its table. */
static inline U16 shareOfStep16(U16 step, U8 b) {
  U16 part = multiplyMiddle16(step, b);
  return step & 0x8000 ? subtract16(part, word16(b, 0)) : part;
}
static inline U16 addSaturating16(U16 a, U16 b) {
  U16 sum = (U16)(a + b);
  return sum < a ? (U16)65535u : sum;
}
static inline U16 shiftRight16(U16 a, U8 places) {
  for (; places; places--) a = (U16)(a >> 1);
  return a;
}
static inline U8 square8(U8 a) { return multiplyHigh8(a, a); }
/** Low double word of a x b; wraps on purpose: phases are fractions of a turn. */
static inline U32 multiply32(U32 a, U32 b) { return (U32)(a * b); }
/** An S-curve through 0, 128 and 255 for swelling levels. */
static inline U8 ease8(U8 a) {
  return a < 128 ? half8(square8((U8)(a << 1)))
                 : subtract8(255, half8(square8((U8)(invert8(a) << 1))));
}

enum Easing { easeNone = 0, easeIn = 1, easeOut = 2, easeBoth = 3 };
static inline U16 square16(U16 a) { return multiplyHigh16(a, a); }
/** A way from 0 to 65,535 begun slowly, ended slowly, or both. */
static inline U16 ease16(U8 easing, U16 way) {
  switch ((uint8_t)easing) {
    case easeIn: return square16(way);
    case easeOut: return (U16)(~square16((U16)(~way)));
    case easeBoth:
      return way < 32768u ? (U16)(square16((U16)(way << 1)) >> 1)
                          : (U16)(~(U16)(square16((U16)((U16)(~way) << 1)) >> 1));
    default: return way;
  }
}

/** Chance from two bytes: fixed, without state. */
static inline U8 chance8(U8 a, U8 b) {
  U8 h = fold8((U8)(a ^ 0x6D), 0xC5);
  h = fold8(add8((U8)(h ^ b), 0x2B), 0xA7);
  return fold8((U8)(h ^ a), 0x8D);
}

}  // namespace lamploom
