// The output stage: from colour levels to the bytes on the wire. In this order: gamma and white balance (one table a channel, made by
// the show compiler), the white of 4-byte LEDs (what the three have in common, taken from them), brightness and the limiter's scale
// (both linear in current), the white byte's place. Colours are in wire order already, three bytes an LED whatever its chip.
// The limiter saves the supply from dimming; it is not protection: fuses and wire are sized for unlimited white.
#pragma once
#include "arithmetic.h"
#include "show_data.h"

namespace lamploom {

/** Levels of one LED as its chip would get them at full brightness; white is 0 where it has no white die. */
struct LedLevels {
  U8 first, second, third, white;
};

static inline U8 lesser8(U8 a, U8 b) { return a < b ? a : b; }

/** Gamma table of colour byte 0, 1 or 2 of a segment's LEDs. */
static inline ShowData gammaTable(ShowData data, ShowData segment, uint8_t place) {
  return data + (uint16_t)word16(read8(segment + segmentGammaPages + place), 0);
}

static inline LedLevels ledLevels(const U8 *led, ShowData gamma0, ShowData gamma1, ShowData gamma2, U8 whitePlace) {
  LedLevels levels;
  levels.first = read8(gamma0 + (uint8_t)led[0]);
  levels.second = read8(gamma1 + (uint8_t)led[1]);
  levels.third = read8(gamma2 + (uint8_t)led[2]);
  levels.white = 0;
  if (whitePlace) {
    levels.white = lesser8(lesser8(levels.first, levels.second), levels.third);
    levels.first = subtract8(levels.first, levels.white);
    levels.second = subtract8(levels.second, levels.white);
    levels.third = subtract8(levels.third, levels.white);
  }
  return levels;
}

/** What the limiter knows of some LEDs: the sum over them of their colours (added, or the largest one) and of their whites. */
struct LevelSum {
  U32 colours, whites;
};

#ifdef __AVR__
/** Adds 1 to 20,000 LEDs (3 x 255 each in 24 bits). */
static LAMPLOOM_NOINLINE void addLevels(LevelSum &sum, const U8 *led, U16 ledCount, ShowData gamma0, ShowData gamma1, ShowData gamma2,
                                        U8 whitePlace, U8 sharesString) {
  const U8 page0 = highByte8((U16)gamma0), page1 = highByte8((U16)gamma1), page2 = highByte8((U16)gamma2);
  U32 colours = sum.colours, whites = sum.whites;
  U8 first, second, third;
#define LAMPLOOM_LEVEL(page, to) "ld r30,X+\n\t mov r31,%[" #page "]\n\t lpm %[" #to "],Z\n\t"
#define LAMPLOOM_ADD(sum, level) "add %A[" #sum "]," level "\n\t adc %B[" #sum "],r1\n\t adc %C[" #sum "],r1\n\t"
#define LAMPLOOM_LARGER(other) "cp %[first],%[" #other "]\n\t brcc .+2\n\t mov %[first],%[" #other "]\n\t"
#define LAMPLOOM_LESSER(other) "cp r0,%[" #other "]\n\t brcs .+2\n\t mov r0,%[" #other "]\n\t"
  asm volatile("1: " LAMPLOOM_LEVEL(page0, first) LAMPLOOM_LEVEL(page1, second) LAMPLOOM_LEVEL(page2, third)
               "tst %[white]\n\t breq 2f\n\t mov r0,%[first]\n\t" LAMPLOOM_LESSER(second) LAMPLOOM_LESSER(third) LAMPLOOM_ADD(whites, "r0")
               "sub %[first],r0\n\t sub %[second],r0\n\t sub %[third],r0\n\t"
               "2: tst %[shares]\n\t breq 3f\n\t" LAMPLOOM_LARGER(second) LAMPLOOM_LARGER(third) "rjmp 4f\n\t"
               "3: " LAMPLOOM_ADD(colours, "%[second]") LAMPLOOM_ADD(colours, "%[third]")
               "4: " LAMPLOOM_ADD(colours, "%[first]") "sbiw %[count],1\n\t brne 1b\n\t"
               : [colours] "+r"(colours), [whites] "+r"(whites), [count] "+w"(ledCount), "+x"(led), [first] "=&r"(first),
                 [second] "=&r"(second), [third] "=&r"(third)
               : [page0] "r"(page0), [page1] "r"(page1), [page2] "r"(page2), [white] "r"(whitePlace), [shares] "r"(sharesString)
               : "r0", "r30", "r31", "memory");
#undef LAMPLOOM_LEVEL
#undef LAMPLOOM_ADD
#undef LAMPLOOM_LARGER
#undef LAMPLOOM_LESSER
  sum.colours = colours;
  sum.whites = whites;
}
#else
static void addLevels(LevelSum &sum, const U8 *led, U16 ledCount, ShowData gamma0, ShowData gamma1, ShowData gamma2,
                                    U8 whitePlace, U8 sharesString) {
  for (; ledCount; ledCount--, led += 3) {
    LedLevels levels = ledLevels(led, gamma0, gamma1, gamma2, whitePlace);
    if (sharesString) {
      order8(levels.first, levels.second);
      order8(levels.first, levels.third);
      sum.colours = (U32)(sum.colours + (U32)levels.first);
    } else {
      sum.colours = (U32)(sum.colours + (U32)add16(add16((U16)levels.first, (U16)levels.second), (U16)levels.third));
    }
    sum.whites = (U32)(sum.whites + (U32)levels.white);
  }
}
#endif

#ifdef __AVR__
enum { groupLeds = 4, roundGroups = 21 };  // 84 LEDs of 3 x 255 are the most whole groups that fit 16 bits

/** Sum of all channels of up to `roundGroups` groups of LEDs, three bytes an LED. One table at a time, so that its page stays where it is. */
static LAMPLOOM_NOINLINE U16 sumGroups(const U8 *led, U8 groups, U8 page0, U8 page1, U8 page2) {
  U16 sum = 0;
  const U8 zero = 0;
#define LAMPLOOM_LEVEL(at) "ldd r30,Y+" #at "\n\t lpm r0,Z\n\t add %A[sum],r0\n\t adc %B[sum],%[zero]\n\t"
  asm volatile("1: mov r31,%[page0]\n\t" LAMPLOOM_LEVEL(0) LAMPLOOM_LEVEL(3) LAMPLOOM_LEVEL(6) LAMPLOOM_LEVEL(9)
               "mov r31,%[page1]\n\t" LAMPLOOM_LEVEL(1) LAMPLOOM_LEVEL(4) LAMPLOOM_LEVEL(7) LAMPLOOM_LEVEL(10)
               "mov r31,%[page2]\n\t" LAMPLOOM_LEVEL(2) LAMPLOOM_LEVEL(5) LAMPLOOM_LEVEL(8) LAMPLOOM_LEVEL(11)
               "adiw r28,12\n\t dec %[groups]\n\t brne 1b\n\t"
               : [sum] "+r"(sum), [groups] "+r"(groups), "+y"(led)
               : [page0] "r"(page0), [page1] "r"(page1), [page2] "r"(page2), [zero] "r"(zero)
               : "r0", "r30", "r31", "memory");
#undef LAMPLOOM_LEVEL
  return sum;
}
#endif

/** The sums of a whole segment whose LEDs begin at `led`. */
static LevelSum segmentLevels(ShowData data, ShowData segment, const U8 *led) {
  LevelSum sum;
  sum.colours = sum.whites = 0;
  U16 left = read16(segment + segmentLedCount);
  const U8 whitePlace = read8(segment + segmentWhite), sharesString = read8(segment + segmentSharesString);
  ShowData gamma0 = gammaTable(data, segment, 0), gamma1 = gammaTable(data, segment, 1), gamma2 = gammaTable(data, segment, 2);
#ifdef __AVR__
  if (!whitePlace && !sharesString)
    while (left >= groupLeds) {
      const U8 groups = left >= groupLeds * roundGroups ? (U8)roundGroups : half8(half8(lowByte8(left)));
      sum.colours += sumGroups(led, groups, highByte8((U16)gamma0), highByte8((U16)gamma1), highByte8((U16)gamma2));
      left -= (U16)groups * groupLeds;
      led += (U16)groups * (groupLeds * 3);
    }
#endif
  if (left) addLevels(sum, led, left, gamma0, gamma1, gamma2, whitePlace, sharesString);
  return sum;
}

/** 255 x what all channels of a frame would draw at full brightness, in the unit of segmentCurrent. */
static U32 frameCurrent(ShowData data, const U8 *frame) {
  U32 wanted = 0;
  ShowData line = data + read16(data + headerLines);
  const U8 *led = frame;
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize) {
    ShowData segment = data + read16(line + lineSegments);
    for (U8 left = read8(line + lineSegmentCount); left; left--, segment += segmentSize) {
      LevelSum sum = segmentLevels(data, segment, led);
      wanted = (U32)(wanted + multiply32(sum.colours, (U32)read16(segment + segmentCurrent)));
      if (sum.whites) wanted = (U32)(wanted + multiply32(sum.whites, (U32)read16(segment + segmentWhiteCurrent)));
      led += (uint16_t)(U16)(read16(segment + segmentLedCount) * (U16)3);
    }
  }
  return wanted;
}

/**
 * Scale of every byte (see scale8): the room's, or less where the frame would draw more than the budget.
 * Estimate: current at full brightness x (scale + 1) / 256. Bytes are rounded down afterwards, so what is sent never draws more.
 */
static LAMPLOOM_NOINLINE U8 limiterScale(ShowData data, const U8 *frame, U8 roomScale) {
  if (!read8(data + headerLimited)) return roomScale;
  const U32 wanted = frameCurrent(data, frame), budget = read32(data + headerBudget);
  if (wanted <= budget) return roomScale;
  // The most steps of wanted / 256 that stay within the budget; a large one is first divided, rounding what is wanted up.
  const U32 steps = budget < 0x1000000u ? (U32)((U32)(budget << 8) / wanted) : (U32)(budget / (U32)((U32)(wanted >> 8) + 1u));
  if (steps > (U32)roomScale) return roomScale;
  return steps ? (U8)(steps - 1u) : (U8)0;
}

#ifndef __AVR__
/** One LED's bytes on the wire, in sending order; the fourth is 0 where it has three. */
static void wireBytes(ShowData data, ShowData segment, const U8 *led, U8 scale, U8 *bytes) {
  const U8 whitePlace = read8(segment + segmentWhite);
  const LedLevels levels =
      ledLevels(led, gammaTable(data, segment, 0), gammaTable(data, segment, 1), gammaTable(data, segment, 2), whitePlace);
  bytes[0] = scale8(levels.first, scale);
  bytes[1] = scale8(levels.second, scale);
  bytes[2] = scale8(levels.third, scale);
  bytes[3] = 0;
  if (whitePlace) {
    uint8_t place = 3;
    for (; place >= (uint8_t)whitePlace; place--) bytes[place] = bytes[place - 1];
    bytes[place] = scale8(levels.white, scale);
  }
}

/** Bytes of one frame on the wire, all lines together. */
static U16 wireByteCount(ShowData data) {
  U16 count = 0;
  ShowData line = data + read16(data + headerLines);
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize) {
    ShowData segment = data + read16(line + lineSegments);
    for (U8 left = read8(line + lineSegmentCount); left; left--, segment += segmentSize)
      count = add16(count, (U16)(read16(segment + segmentLedCount) * (U16)(read8(segment + segmentWhite) ? 4 : 3)));
  }
  return count;
}

/** A frame's bytes on the wire, line after line. On AVR the sender works them out while it waits (wire_avr.h). */
static void outputFrame(ShowData data, const U8 *frame, U8 roomScale, U8 *wire) {
  const U8 scale = limiterScale(data, frame, roomScale);
  ShowData line = data + read16(data + headerLines);
  const U8 *led = frame;
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize) {
    ShowData segment = data + read16(line + lineSegments);
    for (U8 left = read8(line + lineSegmentCount); left; left--, segment += segmentSize) {
      const uint8_t bytesPerLed = read8(segment + segmentWhite) ? 4 : 3;
      for (U16 leds = read16(segment + segmentLedCount); leds; leds--, led += 3) {
        U8 bytes[4];
        wireBytes(data, segment, led, scale, bytes);
        for (uint8_t place = 0; place < bytesPerLed; place++) *wire++ = bytes[place];
      }
    }
  }
}
#endif

}  // namespace lamploom
