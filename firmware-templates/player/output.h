// The output stage: from colour levels to the bytes on the wire. In this order: gamma and white balance (one table a channel, made by
// the show compiler), brightness and the limiter's scale (both linear in current). Colours are in wire order already.
// The limiter saves the supply from dimming; it is not protection: fuses and wire are sized for unlimited white.
#pragma once
#include "arithmetic.h"
#include "show_data.h"

namespace lamploom {

#ifdef __AVR__
// Both bodies walk the LEDs with X, look up gamma with Z and count in 24 bits; a gamma table's page is all of its address that matters.
#define LAMPLOOM_LEVEL(page, to) "ld r30,X+\n\t mov r31,%[" #page "]\n\t lpm " to ",Z\n\t"

static LAMPLOOM_NOINLINE U32 segmentLevels(const U8 *led, U16 ledCount, ShowData gamma0, ShowData gamma1, ShowData gamma2,
                                           U8 sharesString) {
  U32 total = 0;
  const U8 page0 = highByte8((U16)gamma0), page1 = highByte8((U16)gamma1), page2 = highByte8((U16)gamma2), zero = 0;
  U8 level;
  if (sharesString) {
    asm volatile("1: " LAMPLOOM_LEVEL(page0, "%[level]") LAMPLOOM_LEVEL(page1, "r0") "cp %[level],r0\n\t brcc .+2\n\t mov %[level],r0\n\t"
                 LAMPLOOM_LEVEL(page2, "r0") "cp %[level],r0\n\t brcc .+2\n\t mov %[level],r0\n\t"
                 "add %A[total],%[level]\n\t adc %B[total],%[zero]\n\t adc %C[total],%[zero]\n\t"
                 "sbiw %[count],1\n\t brne 1b\n\t"
                 : [total] "+r"(total), [count] "+w"(ledCount), "+x"(led), [level] "=&r"(level)
                 : [page0] "r"(page0), [page1] "r"(page1), [page2] "r"(page2), [zero] "r"(zero)
                 : "r0", "r30", "r31", "memory");
  } else {
#define LAMPLOOM_COUNT(page) LAMPLOOM_LEVEL(page, "r0") "add %A[total],r0\n\t adc %B[total],%[zero]\n\t adc %C[total],%[zero]\n\t"
    asm volatile("1: " LAMPLOOM_COUNT(page0) LAMPLOOM_COUNT(page1) LAMPLOOM_COUNT(page2) "sbiw %[count],1\n\t brne 1b\n\t"
                 : [total] "+r"(total), [count] "+w"(ledCount), "+x"(led)
                 : [page0] "r"(page0), [page1] "r"(page1), [page2] "r"(page2), [zero] "r"(zero)
                 : "r0", "r30", "r31", "memory");
#undef LAMPLOOM_COUNT
  }
  return total;
}
#undef LAMPLOOM_LEVEL

#else
/** Sum of the LEDs' gamma-corrected levels, each LED's channels added or the largest taken. */
static U32 segmentLevels(const U8 *led, U16 ledCount, ShowData gamma0, ShowData gamma1, ShowData gamma2, U8 sharesString) {
  U32 total = 0;
  for (; ledCount; ledCount--, led += 3) {
    U8 a = read8(gamma0 + (uint8_t)led[0]), b = read8(gamma1 + (uint8_t)led[1]), c = read8(gamma2 + (uint8_t)led[2]);
    if (sharesString) {
      order8(a, b);
      order8(a, c);
      total = (U32)(total + (U32)a);
    } else {
      total = (U32)(total + (U32)(U16)(add16(add16((U16)a, (U16)b), (U16)c)));
    }
  }
  return total;
}
#endif

/** Gamma table of wire byte 0, 1 or 2 of a segment's LEDs. */
static inline ShowData gammaTable(ShowData data, ShowData segment, uint8_t place) {
  const U8 channel = read8(segment + segmentChannels + place);
  return data + (uint16_t)word16(read8(data + headerGammaPages + (uint8_t)channel), 0);
}

/**
 * The scale for this frame's bytes (see scale8): the brightness, or less where the frame would draw more than the budget.
 * Estimate: sum of levels x (scale + 1) / 256. Bytes are rounded down afterwards, so what is sent never draws more.
 */
static U8 limiterScale(ShowData data, const U8 *frame) {
  U8 brightness = read8(data + headerBrightness);
  if (!read8(data + headerLimited)) return brightness;
  U32 wanted = 0;
  ShowData line = data + read16(data + headerLines), segment = data + read16(data + headerSegments);
  const U8 *led = frame;
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize)
    for (U8 left = read8(line + lineSegmentCount); left; left--, segment += segmentSize) {
      U16 ledCount = read16(segment + segmentLedCount);
      U32 levels = segmentLevels(led, ledCount, gammaTable(data, segment, 0), gammaTable(data, segment, 1), gammaTable(data, segment, 2),
                                 read8(segment + segmentSharesString));
      wanted = (U32)(wanted + multiply32(levels, (U32)read8(segment + segmentCurrent)));
      led += (uint16_t)(U16)(ledCount * (U16)3);
    }
  // (scale + 1) x wanted / 256 must stay within the budget; wanted / 256 is rounded up.
  U32 steps = (U32)(read32(data + headerBudget) / (U32)((U32)(wanted >> 8) + 1u));
  if (steps > (U32)brightness) return brightness;
  return steps ? (U8)(steps - 1u) : (U8)0;
}

#ifdef __AVR__
/** Gamma of a segment's bytes, in place. */
static LAMPLOOM_NOINLINE void applyGamma(U8 *led, U16 ledCount, ShowData gamma0, ShowData gamma1, ShowData gamma2) {
  const U8 page0 = highByte8((U16)gamma0), page1 = highByte8((U16)gamma1), page2 = highByte8((U16)gamma2);
#define LAMPLOOM_GAMMA(page) "ld r30,X\n\t mov r31,%[" #page "]\n\t lpm r0,Z\n\t st X+,r0\n\t"
  asm volatile("1: " LAMPLOOM_GAMMA(page0) LAMPLOOM_GAMMA(page1) LAMPLOOM_GAMMA(page2) "sbiw %[count],1\n\t brne 1b\n\t"
               : [count] "+w"(ledCount), "+x"(led)
               : [page0] "r"(page0), [page1] "r"(page1), [page2] "r"(page2)
               : "r0", "r30", "r31", "memory");
#undef LAMPLOOM_GAMMA
}

/**
 * The sender corrects gamma while it waits, but only with one set of tables a line: changing them between two LEDs would hold the line low for
 * some microseconds, which some chips take for the end of the frame. Lines of several segments are corrected here, before their moment.
 */
static void correctMixedLines(ShowData data, U8 *frame) {
  ShowData line = data + read16(data + headerLines), segment = data + read16(data + headerSegments);
  U8 *led = frame;
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize) {
    const U8 segments = read8(line + lineSegmentCount);
    for (U8 left = segments; left; left--, segment += segmentSize) {
      const U16 ledCount = read16(segment + segmentLedCount);
      if (segments > 1)
        applyGamma(led, ledCount, gammaTable(data, segment, 0), gammaTable(data, segment, 1), gammaTable(data, segment, 2));
      led += ledCount * 3u;
    }
  }
}
#endif

#ifndef __AVR__
/** Turns a frame's colour levels into wire bytes, in place. On AVR the sender does this while it waits (wire_avr.h). */
static void outputFrame(ShowData data, U8 *frame) {
  U8 scale = limiterScale(data, frame);
  ShowData line = data + read16(data + headerLines), segment = data + read16(data + headerSegments);
  U8 *byte = frame;
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize)
    for (U8 left = read8(line + lineSegmentCount); left; left--, segment += segmentSize)
      for (U16 leds = read16(segment + segmentLedCount); leds; leds--)
        for (uint8_t place = 0; place < 3; place++, byte++)
          *byte = scale8(read8(gammaTable(data, segment, place) + (uint8_t)*byte), scale);
}
#endif

}  // namespace lamploom
