// Colours: the clip's gradient table, and the four blends of a chunk's pairs into the frame buffer.
// The C++ bodies are the meaning of each blend; AVR has loops in assembler with the same results.
// Not here: gamma, brightness, limiter (output.h): everything here is in the document's colour levels.
#pragma once
#include "effects.h"

namespace lamploom {

enum { tableEntries = 64, tableStride = 4 };

/** The clip's 64 colours in wire order, 4 bytes apart so that a gradient place needs only a mask to become an offset. */
static U8 colourTable[tableEntries * tableStride];

/**
 * Fills the colour table from a gradient's pieces, which are in the wire order of the span to come.
 * `fade` is multiplied in, except for `over`, where it thins the blend; `tint` gets what it takes away: (255 - colour) x fade.
 */
#ifdef __AVR__
static LAMPLOOM_NOINLINE void fillColourTable(ShowData gradient, U8 blend, U8 fade) {
  const U8 flip = blend == blendTint ? (U8)255 : (U8)0, scale = blend == blendOver ? (U8)255 : fade, zero = 0;
  U8 *entry = colourTable;
  U8 pieces = readNext(gradient), left, level;
  U16 v0, v1, v2, s0, s1, s2;
#define LAMPLOOM_LOAD(word) "lpm %A[" #word "],Z+\n\t lpm %B[" #word "],Z+\n\t"
#define LAMPLOOM_STEP(v, s) "add %A[" #v "],%A[" #s "]\n\t adc %B[" #v "],%B[" #s "]\n\t"
#define LAMPLOOM_SCALED(v, s)                                                                                            \
  "mov %[level],%B[" #v "]\n\t eor %[level],%[flip]\n\t mul %[level],%[scale]\n\t add r0,%[level]\n\t adc r1,%[zero]\n\t st X+,r1\n\t" LAMPLOOM_STEP(v, s)
#define LAMPLOOM_PLAIN(v, s) "st X+,%B[" #v "]\n\t" LAMPLOOM_STEP(v, s)
  // The second loop is for the colours as they are, which is most of the time.
  asm volatile(
      "1: lpm %[left],Z+\n\t" LAMPLOOM_LOAD(v0) LAMPLOOM_LOAD(v1) LAMPLOOM_LOAD(v2) LAMPLOOM_LOAD(s0) LAMPLOOM_LOAD(s1) LAMPLOOM_LOAD(s2)
      "cpi %[scale],255\n\t brne 2f\n\t tst %[flip]\n\t breq 3f\n\t"
      "2: " LAMPLOOM_SCALED(v0, s0) LAMPLOOM_SCALED(v1, s1) LAMPLOOM_SCALED(v2, s2) "adiw r26,1\n\t dec %[left]\n\t brne 2b\n\t rjmp 4f\n\t"
      "3: " LAMPLOOM_PLAIN(v0, s0) LAMPLOOM_PLAIN(v1, s1) LAMPLOOM_PLAIN(v2, s2) "adiw r26,1\n\t dec %[left]\n\t brne 3b\n\t"
      "4: dec %[pieces]\n\t brne 1b\n\t clr __zero_reg__\n\t"
      : [v0] "=&r"(v0), [v1] "=&r"(v1), [v2] "=&r"(v2), [s0] "=&r"(s0), [s1] "=&r"(s1), [s2] "=&r"(s2), [left] "=&r"(left),
        [level] "=&r"(level), [pieces] "+r"(pieces), "+z"(gradient), "+x"(entry)
      : [flip] "r"(flip), [scale] "d"(scale), [zero] "r"(zero)
      : "r0", "memory");
#undef LAMPLOOM_LOAD
#undef LAMPLOOM_STEP
#undef LAMPLOOM_SCALED
#undef LAMPLOOM_PLAIN
}
#else
static void fillColourTable(ShowData gradient, U8 blend, U8 fade) {
  U8 flip = blend == blendTint ? (U8)255 : (U8)0;
  U8 scale = blend == blendOver ? (U8)255 : fade;
  U8 *row = colourTable;
  ShowData piece = gradient + 1;
  for (U8 pieces = read8(gradient); pieces; pieces--, piece += pieceSize) {
    U8 entries = read8(piece + pieceEntries);
    for (uint8_t place = 0; place < 3; place++) {
      U16 value = read16(piece + pieceStart + 2 * place), step = read16(piece + pieceStep + 2 * place);
      U8 *to = row + place;
      for (U8 left = entries; left; left--, to += tableStride) {
        *to = scale8((U8)(highByte8(value) ^ flip), scale);
        value = add16(value, step);
      }
    }
    row += (uint16_t)(U16)((U16)entries * (U16)tableStride);
  }
}
#endif

#ifndef __AVR__

static inline const U8 *colourAt(U8 gradientPlace) { return colourTable + (uint8_t)(U8)(gradientPlace & 0xFC); }

static void blendOverChunk(U8 *led, U8 fade, U8 ledCount) {
  const U8 *pair = scratch;
  for (U8 left = ledCount; left; left--, pair += 2, led += 3) {
    const U8 *colour = colourAt(pair[0]);
    U8 share = scale8(pair[1], fade);
    U8 rest = invert8(share);
    if (share == 0) continue;
    for (uint8_t i = 0; i < 3; i++)
      led[i] = rest == 0 ? colour[i] : highByte8(add16(multiply8(colour[i], share), multiply8(led[i], rest)));
  }
}
static void blendAddChunk(U8 *led, U8 ledCount) {
  const U8 *pair = scratch;
  for (U8 left = ledCount; left; left--, pair += 2, led += 3) {
    const U8 *colour = colourAt(pair[0]);
    for (uint8_t i = 0; i < 3; i++) led[i] = addSaturating8(led[i], scale8(colour[i], pair[1]));
  }
}
static void blendBrighterWinsChunk(U8 *led, U8 ledCount) {
  const U8 *pair = scratch;
  for (U8 left = ledCount; left; left--, pair += 2, led += 3) {
    const U8 *colour = colourAt(pair[0]);
    for (uint8_t i = 0; i < 3; i++) {
      U8 level = scale8(colour[i], pair[1]);
      if (led[i] < level) led[i] = level;
    }
  }
}
static void blendTintChunk(U8 *led, U8 ledCount) {
  const U8 *pair = scratch;
  for (U8 left = ledCount; left; left--, pair += 2, led += 3) {
    const U8 *taken = colourAt(pair[0]);
    for (uint8_t i = 0; i < 3; i++) led[i] = subtract8(led[i], scale8(led[i], multiplyHigh8(taken[i], pair[1])));
  }
}

#else

// Registers: X the pairs, Y the frame buffer, Z the colour. Each loop takes the next pair, leaves dark LEDs alone and goes on.
#define LAMPLOOM_NEXT_PAIR "1: ld r30,X+\n\t andi r30,0xFC\n\t ld %[level],X+\n\t"
#define LAMPLOOM_COLOUR "clr r31\n\t subi r30,lo8(-(%[table]))\n\t sbci r31,hi8(-(%[table]))\n\t"
#define LAMPLOOM_SKIP_DARK "cpi %[level],1\n\t brcs 9f\n\t"
#define LAMPLOOM_LOOP "9: adiw r28,3\n\t dec %[left]\n\t brne 1b\n\t clr __zero_reg__\n\t"
// scale8(colour, level): product plus colour, high byte left in r1.
#define LAMPLOOM_SCALED(i) "ldd %[c],Z+" #i "\n\t mul %[c],%[level]\n\t add r0,%[c]\n\t adc r1,%[zero]\n\t"

static LAMPLOOM_NOINLINE void blendOverChunk(U8 *led, U8 fade, U8 ledCount) {
  const U8 *pair = scratch;
  U8 level, rest, left = ledCount, zero = 0;
#define LAMPLOOM_MIX(i)                                                                         \
  "ldd r0,Z+" #i "\n\t mul r0,%[level]\n\t movw r18,r0\n\t ldd r0,Y+" #i                        \
  "\n\t mul r0,%[rest]\n\t add r18,r0\n\t adc r19,r1\n\t std Y+" #i ",r19\n\t"
#define LAMPLOOM_COPY(i) "ldd r0,Z+" #i "\n\t std Y+" #i ",r0\n\t"
  asm volatile(LAMPLOOM_NEXT_PAIR
               "mul %[level],%[fade]\n\t add r0,%[level]\n\t adc r1,%[zero]\n\t mov %[level],r1\n\t" LAMPLOOM_SKIP_DARK
                   LAMPLOOM_COLOUR "mov %[rest],%[level]\n\t com %[rest]\n\t breq 2f\n\t" LAMPLOOM_MIX(0) LAMPLOOM_MIX(1)
                       LAMPLOOM_MIX(2) "rjmp 9f\n\t 2: " LAMPLOOM_COPY(0) LAMPLOOM_COPY(1) LAMPLOOM_COPY(2) LAMPLOOM_LOOP
               : [level] "=&d"(level), [rest] "=&r"(rest), [left] "+r"(left), "+x"(pair), "+y"(led)
               : [table] "i"(colourTable), [fade] "r"(fade), [zero] "r"(zero)
               : "r0", "r18", "r19", "r30", "r31", "memory");
#undef LAMPLOOM_MIX
#undef LAMPLOOM_COPY
}
static LAMPLOOM_NOINLINE void blendAddChunk(U8 *led, U8 ledCount) {
  const U8 *pair = scratch;
  U8 level, c, left = ledCount, zero = 0;
#define LAMPLOOM_ADD(i) LAMPLOOM_SCALED(i) "ldd %[c],Y+" #i "\n\t add %[c],r1\n\t brcc .+2\n\t ldi %[c],255\n\t std Y+" #i ",%[c]\n\t"
  asm volatile(LAMPLOOM_NEXT_PAIR LAMPLOOM_SKIP_DARK LAMPLOOM_COLOUR LAMPLOOM_ADD(0) LAMPLOOM_ADD(1) LAMPLOOM_ADD(2) LAMPLOOM_LOOP
               : [level] "=&d"(level), [c] "=&d"(c), [left] "+r"(left), "+x"(pair), "+y"(led)
               : [table] "i"(colourTable), [zero] "r"(zero)
               : "r0", "r30", "r31", "memory");
#undef LAMPLOOM_ADD
}
static LAMPLOOM_NOINLINE void blendBrighterWinsChunk(U8 *led, U8 ledCount) {
  const U8 *pair = scratch;
  U8 level, c, left = ledCount, zero = 0;
#define LAMPLOOM_WIN(i) LAMPLOOM_SCALED(i) "ldd %[c],Y+" #i "\n\t cp %[c],r1\n\t brcc .+2\n\t std Y+" #i ",r1\n\t"
  asm volatile(LAMPLOOM_NEXT_PAIR LAMPLOOM_SKIP_DARK LAMPLOOM_COLOUR LAMPLOOM_WIN(0) LAMPLOOM_WIN(1) LAMPLOOM_WIN(2) LAMPLOOM_LOOP
               : [level] "=&d"(level), [c] "=&d"(c), [left] "+r"(left), "+x"(pair), "+y"(led)
               : [table] "i"(colourTable), [zero] "r"(zero)
               : "r0", "r30", "r31", "memory");
#undef LAMPLOOM_WIN
}
static LAMPLOOM_NOINLINE void blendTintChunk(U8 *led, U8 ledCount) {
  const U8 *pair = scratch;
  U8 level, c, left = ledCount, zero = 0;
#define LAMPLOOM_TINT(i)                                                                                        \
  "ldd r0,Z+" #i "\n\t mul r0,%[level]\n\t mov r0,r1\n\t ldd %[c],Y+" #i                                        \
  "\n\t mul %[c],r0\n\t add r0,%[c]\n\t adc r1,%[zero]\n\t sub %[c],r1\n\t std Y+" #i ",%[c]\n\t"
  asm volatile(LAMPLOOM_NEXT_PAIR LAMPLOOM_SKIP_DARK LAMPLOOM_COLOUR LAMPLOOM_TINT(0) LAMPLOOM_TINT(1) LAMPLOOM_TINT(2) LAMPLOOM_LOOP
               : [level] "=&d"(level), [c] "=&d"(c), [left] "+r"(left), "+x"(pair), "+y"(led)
               : [table] "i"(colourTable), [zero] "r"(zero)
               : "r0", "r30", "r31", "memory");
#undef LAMPLOOM_TINT
}
#undef LAMPLOOM_NEXT_PAIR
#undef LAMPLOOM_COLOUR
#undef LAMPLOOM_SKIP_DARK
#undef LAMPLOOM_LOOP
#undef LAMPLOOM_SCALED

#endif

static inline void blendChunk(U8 blend, U8 *led, U8 fade, U8 ledCount) {
  switch ((uint8_t)blend) {
    case blendOver: blendOverChunk(led, fade, ledCount); break;
    case blendAdd: blendAddChunk(led, ledCount); break;
    case blendBrighterWins: blendBrighterWinsChunk(led, ledCount); break;
    default: blendTintChunk(led, ledCount); break;
  }
}

}  // namespace lamploom
