// The loops over LEDs in AVR assembler: the families along, chance and cloud with each of the four blends, effect and blend in one loop, so that
// nothing goes through memory in between. Same results as blend.h, byte for byte (test/player/loops.test.ts compares them).
// A loop is put together from a piece for the effect, which leaves the entry's offset in r26 and jumps to 8 where the LED stays as it is, and a
// piece for the blend. The compiler gives nothing but the argument's address, so the registers are ours to plan:
//   X entry, Y LED (saved here: it may be the compiler's frame pointer), Z map in flash, r0 and r1 products (r1 is zero again at the end),
//   r15 zero, r16 and r17 bytes in the making, r18 level, r19 LEDs left, r2 to r8 the effect's own values in the order of its struct.
#pragma once
#include "blend.h"

namespace lamploom {

/** A row of a cloud's corners, mixed for one y; or the offsets of some LEDs of a fire, which mixes no rows. */
enum { fireLeds = 16 };
static U8 latticeLine[fireLeds];

/** What a loop is given; the assembler knows the offsets. */
struct Loop {
  U8 *led;
  ShowData map;
  U8 left;
  U8 number;     // LoopFamily and blend
  union {
    Along along;
    Chance chance;
    Cloud cloud;
    Lettering letters;
  };
};

#define LAMPLOOM_LOAD(register, offset) "ldd r" #register ",Z+" #offset "\n\t"
#define LAMPLOOM_BEGIN                                                                                                 \
  "push r28\n\t push r29\n\t clr r15\n\t" LAMPLOOM_LOAD(28, 0) LAMPLOOM_LOAD(29, 1) LAMPLOOM_LOAD(26, 2) LAMPLOOM_LOAD(27, 3) \
  LAMPLOOM_LOAD(19, 4) LAMPLOOM_LOAD(20, 5) LAMPLOOM_LOAD(2, 6) LAMPLOOM_LOAD(3, 7) LAMPLOOM_LOAD(4, 8) LAMPLOOM_LOAD(5, 9) \
  LAMPLOOM_LOAD(6, 10) LAMPLOOM_LOAD(7, 11) LAMPLOOM_LOAD(8, 12) "mov r0,r26\n\t mov r1,r27\n\t" \
  "ldi r30,lo8(pm(.Lloops%=))\n\t ldi r31,hi8(pm(.Lloops%=))\n\t add r30,r20\n\t adc r31,r15\n\t movw r26,r0\n\t ijmp\n\t .Lloops%=:\n\t"
#define LAMPLOOM_FINISH ".Lend%=: clr r1\n\t pop r29\n\t pop r28\n\t"
// To the next LED; the second for loops that are longer than a branch reaches.
#define LAMPLOOM_NEXT "dec r19\n\t brne 1b\n\t rjmp .Lend%=\n\t 8: adiw r28,3\n\t dec r19\n\t brne 1b\n\t rjmp .Lend%=\n\t"
#define LAMPLOOM_FAR_NEXT "dec r19\n\t breq 9f\n\t rjmp 1b\n\t 8: adiw r28,3\n\t dec r19\n\t breq 9f\n\t rjmp 1b\n\t 9: rjmp .Lend%=\n\t"
// The same where no LED is left as it is.
#define LAMPLOOM_ALL_NEXT "dec r19\n\t brne 1b\n\t rjmp .Lend%=\n\t"
#define LAMPLOOM_ALL_FAR_NEXT "dec r19\n\t breq 9f\n\t rjmp 1b\n\t 9: rjmp .Lend%=\n\t"
// From the offset to the entry.
#ifdef LAMPLOOM_ALIGNED
#define LAMPLOOM_ENTRY "andi r26,0xFC\n\t ldi r27,hi8(%[table])\n\t"
#else
#define LAMPLOOM_ENTRY "andi r26,0xFC\n\t clr r27\n\t subi r26,lo8(-(%[table]))\n\t sbci r27,hi8(-(%[table]))\n\t"
#endif
#define LAMPLOOM_THRICE(text) text text text

// Blends of an entry whose level is in its colours.
#define LAMPLOOM_OVER1(colour) "ld r16,Y\n\t mul r16,r17\n\t add r1,r" #colour "\n\t st Y+,r1\n\t"
#define LAMPLOOM_OVER                                                                                                  \
  "ld r20,X+\n\t ld r21,X+\n\t ld r22,X+\n\t ld r17,X\n\t cpi r17,255\n\t breq 8f\n\t"                                 \
  LAMPLOOM_OVER1(20) LAMPLOOM_OVER1(21) LAMPLOOM_OVER1(22)
#define LAMPLOOM_ADD LAMPLOOM_THRICE("ld r16,Y\n\t ld r17,X+\n\t add r16,r17\n\t brcc .+2\n\t ldi r16,255\n\t st Y+,r16\n\t")
#define LAMPLOOM_WIN1(place) "ld r17,X+\n\t ldd r16,Y+" #place "\n\t cp r16,r17\n\t brcc .+2\n\t std Y+" #place ",r17\n\t"
#define LAMPLOOM_WIN LAMPLOOM_WIN1(0) LAMPLOOM_WIN1(1) LAMPLOOM_WIN1(2) "adiw r28,3\n\t"
#define LAMPLOOM_TINT LAMPLOOM_THRICE("ld r16,Y\n\t ld r17,X+\n\t mul r16,r17\n\t add r0,r16\n\t adc r1,r15\n\t st Y+,r1\n\t")

#define LAMPLOOM_WRITE LAMPLOOM_THRICE("ld r16,X+\n\t st Y+,r16\n\t")

// Blends of an entry for an LED with a level of its own, which is at most 254, so that scale8 is a product with the level and one; r7 is the fade.
#define LAMPLOOM_LEVELLED_OVER                                                                                         \
  "mul r18,r7\n\t add r0,r18\n\t adc r1,r15\n\t mov r18,r1\n\t mov r17,r1\n\t cpi r17,1\n\t brcs 8f\n\t com r17\n\t"    \
  LAMPLOOM_THRICE("ld r16,X+\n\t mul r16,r18\n\t movw r20,r0\n\t ld r16,Y\n\t mul r16,r17\n\t add r20,r0\n\t adc r21,r1\n\t st Y+,r21\n\t")
#define LAMPLOOM_LEVELLED_ADD                                                                                          \
  "inc r18\n\t" LAMPLOOM_THRICE("ld r17,X+\n\t mul r17,r18\n\t ld r16,Y\n\t add r16,r1\n\t brcc .+2\n\t ldi r16,255\n\t st Y+,r16\n\t")
#define LAMPLOOM_LEVELLED_WIN1(place) "ld r17,X+\n\t mul r17,r18\n\t ldd r16,Y+" #place "\n\t cp r16,r1\n\t brcc .+2\n\t std Y+" #place ",r1\n\t"
#define LAMPLOOM_LEVELLED_WIN                                                                                          \
  "inc r18\n\t" LAMPLOOM_LEVELLED_WIN1(0) LAMPLOOM_LEVELLED_WIN1(1) LAMPLOOM_LEVELLED_WIN1(2) "adiw r28,3\n\t"
#define LAMPLOOM_LEVELLED_TINT                                                                                         \
  "inc r18\n\t" LAMPLOOM_THRICE("ld r17,X+\n\t com r17\n\t mul r17,r18\n\t mov r17,r1\n\t com r17\n\t ld r16,Y\n\t mul r16,r17\n\t add r0,r16\n\t adc r1,r15\n\t st Y+,r1\n\t")

// r2 flip; r3 whole; r4 last step; r5 stretch.
#define LAMPLOOM_ALONG                                                                                                 \
  "1: lpm r17,Z+\n\t eor r17,r2\n\t add r17,r3\n\t cp r4,r17\n\t brcs 8f\n\t mul r17,r5\n\t mov r26,r0\n\t" LAMPLOOM_ENTRY
// The same where no LED is dark and a step is a quarter of an entry.
#define LAMPLOOM_WAY "1: lpm r26,Z+\n\t eor r26,r2\n\t add r26,r3\n\t" LAMPLOOM_ENTRY

// r2 phase; r3 this slot's throw; r4 density; r5 seed; r6 dies; r8 the next slot's throw. The carry of phase + own tells the slot of this LED.
#define LAMPLOOM_CHANCE                                                                                                \
  LAMPLOOM_FROM_FLASH "ldi r23,%[fold]\n\t bst r6,0\n\t"                                                               \
  "1: lpm r17,Z+\n\t eor r17,r5\n\t mov r18,r2\n\t mov r26,r3\n\t add r18,r17\n\t brcc .+2\n\t mov r26,r8\n\t eor r26,r17\n\t" \
  "mul r26,r23\n\t mov r26,r0\n\t eor r26,r1\n\t cp r26,r4\n\t brcc 8f\n\t add r26,r17\n\t brts 5f\n\t"                \
  "lsl r18\n\t sbc r0,r0\n\t eor r18,r0\n\t 4: mul r18,r18\n\t mov r18,r1\n\t" LAMPLOOM_ENTRY
// The other shape of a star's life, out of the way of the loop.
#define LAMPLOOM_CHANCE_NEXT LAMPLOOM_FAR_NEXT "5: com r18\n\t rjmp 4b\n\t"

// r2, r3 offsets; r4, r5 fractions. Mixes along y and then along x, of the four corners; differences are signed, shares are not.
#define LAMPLOOM_CLOUD_CONSTANTS "ldi r24,8\n\t ldi r25,%[side]\n\t"
#define LAMPLOOM_CORNERS                                                                                           \
  "1: lpm r17,Z+\n\t lpm r16,Z+\n\t add r17,r2\n\t add r16,r3\n\t mul r17,r24\n\t movw r20,r0\n\t or r20,r4\n\t"       \
  "mul r16,r24\n\t mov r16,r0\n\t or r16,r5\n\t mul r1,r25\n\t mov r26,r0\n\t add r26,r21\n\t"                         \
  "clr r27\n\t subi r26,lo8(-(%[lattice]))\n\t sbci r27,hi8(-(%[lattice]))\n\t"                                        \
  "ld r17,X+\n\t ld r18,X\n\t adiw r26,%[below]\n\t ld r22,X+\n\t ld r23,X\n\t sub r22,r17\n\t mulsu r22,r16\n\t add r17,r1\n\t" \
  "sub r23,r18\n\t mulsu r23,r16\n\t add r18,r1\n\t sub r18,r17\n\t mulsu r18,r20\n\t add r17,r1\n\t"
#define LAMPLOOM_CLOUD LAMPLOOM_CORNERS "mov r26,r17\n\t lsl r26\n\t" LAMPLOOM_ENTRY

// The same where neighbours mostly have the same y: r6 is the y whose mixed row of corners is ready.
#define LAMPLOOM_ROW_CONSTANTS LAMPLOOM_CLOUD_CONSTANTS "clr r6\n\t com r6\n\t"
#define LAMPLOOM_ROW_CORNERS                                                                                             \
  "1: lpm r17,Z+\n\t lpm r16,Z+\n\t cp r16,r6\n\t breq 2f\n\t rcall .Lrow%=\n\t 2: add r17,r2\n\t mul r17,r24\n\t or r0,r4\n\t" \
  "mov r20,r0\n\t mov r26,r1\n\t clr r27\n\t subi r26,lo8(-(%[line]))\n\t sbci r27,hi8(-(%[line]))\n\t"                \
  "ld r17,X+\n\t ld r18,X\n\t sub r18,r17\n\t mulsu r18,r20\n\t add r17,r1\n\t"
#define LAMPLOOM_ROW LAMPLOOM_ROW_CORNERS "mov r26,r17\n\t lsl r26\n\t" LAMPLOOM_ENTRY
// Mixes a row of corners for the y in r16.
#define LAMPLOOM_NEW_ROW                                                                                               \
  ".Lrow%=: mov r6,r16\n\t add r16,r3\n\t mul r16,r24\n\t mov r16,r0\n\t or r16,r5\n\t mul r1,r25\n\t movw r26,r0\n\t" \
  "subi r26,lo8(-(%[lattice]))\n\t sbci r27,hi8(-(%[lattice]))\n\t movw r20,r30\n\t ldi r30,lo8(%[line])\n\t ldi r31,hi8(%[line])\n\t" \
  "ldi r22,%[side]\n\t 1: ld r18,X\n\t adiw r26,%[side]\n\t ld r23,X\n\t sbiw r26,%[below]\n\t sub r23,r18\n\t mulsu r23,r16\n\t" \
  "add r18,r1\n\t st Z+,r18\n\t dec r22\n\t brne 1b\n\t movw r30,r20\n\t ret\n\t"

// Letters do the same: r2, r3 the column that the area's first one shows; r4 band gain.
#define LAMPLOOM_LETTERS                                                                                               \
  "1: lpm r17,Z+\n\t lpm r16,Z+\n\t movw r8,r30\n\t movw r30,r2\n\t add r30,r17\n\t adc r31,r15\n\t lpm r20,Z+\n\t lpm r21,Z\n\t movw r30,r8\n\t" \
  "mul r17,r4\n\t mov r17,r0\n\t andi r17,0xF0\n\t and r20,r16\n\t breq .+2\n\t ori r17,4\n\t and r21,r16\n\t breq .+2\n\t ori r17,8\n\t st Y+,r17\n\t"

// The entries' offsets lie in RAM already.
#define LAMPLOOM_INDEX "1: ld r26,Z+\n\t" LAMPLOOM_ENTRY

// Fire works out offsets and writes them where the LED would be: r7 base, r8 cooling.
#define LAMPLOOM_FIRE                                                                                                  \
  "lsl r17\n\t add r17,r7\n\t brcc .+2\n\t ldi r17,255\n\t lpm r16,Z+\n\t mul r16,r8\n\t mov r16,r1\n\t cpi r16,64\n\t" \
  "brcs .+2\n\t ldi r16,63\n\t lsl r16\n\t lsl r16\n\t sub r17,r16\n\t brcc .+2\n\t clr r17\n\t st Y+,r17\n\t"

/** A loop's number is its family's and the blend's. */
enum LoopFamily { loopAlong = 0, loopWay = 5, loopCloud = 10, loopRow = 15, loopIndex = 20, loopChance = 25, loopFire = 29, loopLetters = 30 };
#define LAMPLOOM_JUMPS(family)                                                                                         \
  "rjmp .L" family "0%=\n\t rjmp .L" family "1%=\n\t rjmp .L" family "2%=\n\t rjmp .L" family "3%=\n\t rjmp .L" family "4%=\n\t"
#define LAMPLOOM_LOOP(name, effect, blend, next) ".L" name "%=: " effect blend next
#define LAMPLOOM_FROM_FLASH "movw r30,r26\n\t"
#define LAMPLOOM_LOOPS(family, begin, effect, next, allNext)                                                           \
  LAMPLOOM_LOOP(family "0", begin effect, LAMPLOOM_OVER, next)                                          \
  LAMPLOOM_LOOP(family "1", begin effect, LAMPLOOM_ADD, allNext)                                      \
  LAMPLOOM_LOOP(family "2", begin effect, LAMPLOOM_WIN, allNext)                                      \
  LAMPLOOM_LOOP(family "3", begin effect, LAMPLOOM_TINT, allNext)
// On black LEDs adding is writing, in more time.
#define LAMPLOOM_ADD_WRITES(family) ".L" family "4%=: rjmp .L" family "1%=\n\t"

/** Runs the loop that `loop` names. */
static __attribute__((noinline, noclone)) void runLoop(const Loop *loop) {
  asm volatile(
      LAMPLOOM_BEGIN LAMPLOOM_JUMPS("a") LAMPLOOM_JUMPS("w") LAMPLOOM_JUMPS("l") LAMPLOOM_JUMPS("r") LAMPLOOM_JUMPS("i")
      "rjmp .Lc0%=\n\t rjmp .Lc1%=\n\t rjmp .Lc2%=\n\t rjmp .Lc3%=\n\t rjmp .Lf%=\n\t rjmp .Lt%=\n\t"
      LAMPLOOM_LOOPS("a", LAMPLOOM_FROM_FLASH, LAMPLOOM_ALONG, LAMPLOOM_NEXT, LAMPLOOM_NEXT) LAMPLOOM_ADD_WRITES("a")
      LAMPLOOM_LOOPS("w", LAMPLOOM_FROM_FLASH, LAMPLOOM_WAY, LAMPLOOM_NEXT, LAMPLOOM_ALL_NEXT)
      LAMPLOOM_LOOP("w4", LAMPLOOM_FROM_FLASH LAMPLOOM_WAY, LAMPLOOM_WRITE, LAMPLOOM_ALL_NEXT)
      LAMPLOOM_LOOPS("l", LAMPLOOM_FROM_FLASH LAMPLOOM_CLOUD_CONSTANTS, LAMPLOOM_CLOUD, LAMPLOOM_FAR_NEXT, LAMPLOOM_ALL_FAR_NEXT)
      LAMPLOOM_ADD_WRITES("l")
      LAMPLOOM_LOOPS("r", LAMPLOOM_FROM_FLASH LAMPLOOM_ROW_CONSTANTS, LAMPLOOM_ROW, LAMPLOOM_NEXT, LAMPLOOM_ALL_NEXT)
      LAMPLOOM_LOOP("r4", LAMPLOOM_FROM_FLASH LAMPLOOM_ROW_CONSTANTS LAMPLOOM_ROW, LAMPLOOM_WRITE, LAMPLOOM_ALL_NEXT)
      LAMPLOOM_NEW_ROW
      LAMPLOOM_LOOP("c0", LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_OVER, LAMPLOOM_CHANCE_NEXT)
      LAMPLOOM_LOOP("c1", LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_ADD, LAMPLOOM_CHANCE_NEXT)
      LAMPLOOM_LOOP("c2", LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_WIN, LAMPLOOM_CHANCE_NEXT)
      LAMPLOOM_LOOP("c3", LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_TINT, LAMPLOOM_CHANCE_NEXT)
      LAMPLOOM_LOOPS("i", LAMPLOOM_FROM_FLASH, LAMPLOOM_INDEX, LAMPLOOM_NEXT, LAMPLOOM_ALL_NEXT) LAMPLOOM_ADD_WRITES("i")
      LAMPLOOM_LOOP("f", LAMPLOOM_FROM_FLASH LAMPLOOM_CLOUD_CONSTANTS, LAMPLOOM_CORNERS, LAMPLOOM_FIRE LAMPLOOM_ALL_FAR_NEXT)
      LAMPLOOM_LOOP("t", LAMPLOOM_FROM_FLASH, LAMPLOOM_LETTERS, LAMPLOOM_ALL_NEXT)
      LAMPLOOM_FINISH
      : "+z"(loop)
      : [table] "i"(colourTable), [lattice] "i"(lattice), [side] "i"(latticeSide), [below] "i"(latticeSide - 1),
        [line] "i"(latticeLine), [fold] "i"(starFold)
      : "r0", "r2", "r3", "r4", "r5", "r6", "r7", "r8", "r9", "r15", "r16", "r17", "r18", "r19", "r20", "r21", "r22", "r23", "r24", "r25", "r26",
        "r27", "memory");
}

#undef LAMPLOOM_LOAD
#undef LAMPLOOM_BEGIN
#undef LAMPLOOM_FINISH
#undef LAMPLOOM_NEXT
#undef LAMPLOOM_FAR_NEXT
#undef LAMPLOOM_ALL_NEXT
#undef LAMPLOOM_ALL_FAR_NEXT
#undef LAMPLOOM_ENTRY
#undef LAMPLOOM_THRICE
#undef LAMPLOOM_OVER1
#undef LAMPLOOM_OVER
#undef LAMPLOOM_ADD
#undef LAMPLOOM_WIN1
#undef LAMPLOOM_WIN
#undef LAMPLOOM_TINT
#undef LAMPLOOM_WRITE
#undef LAMPLOOM_LEVELLED_OVER
#undef LAMPLOOM_LEVELLED_ADD
#undef LAMPLOOM_LEVELLED_WIN1
#undef LAMPLOOM_LEVELLED_WIN
#undef LAMPLOOM_LEVELLED_TINT
#undef LAMPLOOM_ALONG
#undef LAMPLOOM_WAY
#undef LAMPLOOM_CHANCE
#undef LAMPLOOM_CHANCE_NEXT
#undef LAMPLOOM_CLOUD
#undef LAMPLOOM_CLOUD_CONSTANTS
#undef LAMPLOOM_CORNERS
#undef LAMPLOOM_ROW_CONSTANTS
#undef LAMPLOOM_ROW
#undef LAMPLOOM_ROW_CORNERS
#undef LAMPLOOM_NEW_ROW
#undef LAMPLOOM_LETTERS
#undef LAMPLOOM_INDEX
#undef LAMPLOOM_FIRE
#undef LAMPLOOM_JUMPS
#undef LAMPLOOM_LOOP
#undef LAMPLOOM_FROM_FLASH
#undef LAMPLOOM_LOOPS
#undef LAMPLOOM_ADD_WRITES

// The other families put the offsets of a few LEDs' entries into RAM and blend them from there: fire, which needs the lattice, where a mixed row would be,
// the others where the lattice would be.
enum { indexedLeds = 48 };

/** With up to so many colours, the table gets an entry for each pair of them while one frame turns into the next: 8 x what is shown + what comes. */
enum { pairsMost = 8 };
static LAMPLOOM_NOINLINE void fillPainted(ShowData palette, Painted &painted, U8 blend, U8 fade) {
  const U8 count = read8(palette + paletteCount);
  painted.asPairs = painted.share && count <= pairsMost;
  if (!painted.asPairs) {
    fillPalette(palette, painted.share, blend, fade, colourTable, paletteMost * entrySize);
    return;
  }
  // The lattice has nothing to do meanwhile, nor have offsets.
  fillPalette(palette, painted.share, blend, fade, lattice, pairsMost * entrySize);
  const U8 *now = lattice;
  for (U8 i = 0; i < count; i++, now += entrySize) {
    U8 *to = colourTable + (U8)(i * pairsMost * entrySize);
    const U8 *next = lattice + pairsMost * entrySize;
    for (U8 left = count; left; left--, to += entrySize, next += entrySize) addEntries(to, now, next);
  }
}

/** Reads cells one after the other: lowest bits first. */
struct CellReader {
  ShowData next;
  U8 bits;  // still to come, the lowest first
};
static inline void skipCells(CellReader &reader, ShowData cells, U8 each, U16 number) {
  const U16 bit = number * (U16)each;
  reader.next = cells + (bit >> 3);
  reader.bits = readNext(reader.next) >> (lowByte8(bit) & 7);
}

/**
 * While one frame turns into the next the entry is that of a pair, or, with more colours than make pairs, one of the LED's own behind those of
 * the two palettes.
 */
LAMPLOOM_FAST static void indexPainted(U8 *to, const Painted &painted, U16 number, U8 count) {
  const U8 each = painted.bits, mask = each == 4 ? 15 : each == 2 ? 3 : 1, down = each == 4 ? 16 : each == 2 ? 64 : 128;
  const U8 fading = painted.share, asPairs = painted.asPairs;
  U8 own = 2 * paletteMost * entrySize;
  CellReader now, next;
  skipCells(now, painted.cells, each, number);
  skipCells(next, painted.nextCells, each, number);
  U8 place = lowByte8(number * (U16)each) & 7;
  for (; count; count--) {
    U8 entry = (now.bits & mask) << 2;
    if (fading) {
      const U8 coming = (next.bits & mask) << 2;
      if (asPairs) {
        entry = (U8)(entry << 3) | coming;
      } else {
        addEntries(colourTable + own, entryAt(entry), entryAt(coming) + paletteMost * entrySize);
        entry = own;
        own += entrySize;
      }
      next.bits = multiplyHigh8(next.bits, down);
    }
    *to++ = entry;
    now.bits = multiplyHigh8(now.bits, down);
    place += each;
    if (place == 8 && count > 1) {
      place = 0;
      now.bits = readNext(now.next);
      if (fading) next.bits = readNext(next.next);
    }
  }
}
static LAMPLOOM_NOINLINE void runIndexed(U8 family, U8 blend, const ClipState &clip, const Stretch &stretch) {
  LAMPLOOM_WORK(Loop, loop);
  U8 *const offsets = family == familyFire ? latticeLine : lattice;
  // A painted LED's own entry lies behind the two palettes, which leaves room for 32.
  const U8 most = family == familyFire ? (U8)fireLeds : family == familyPainted ? (U8)(tableEntries - 2 * paletteMost) : (U8)indexedLeds;
  ShowData map = stretch.map;
  U8 *led = stretch.led;
  U16 number = stretch.number;
  U8 count;
  for (U8 left = stretch.ledCount; left; left -= count) {
    count = left < most ? left : most;
    if (family == familyPainted) {
      indexPainted(offsets, clip.painted, number, count);
    } else {
      if (family == familyFire) loop.cloud = clip.cloud;
      else loop.letters = clip.letters;
      loop.number = family == familyFire ? (U8)loopFire : (U8)loopLetters;
      loop.led = offsets;
      loop.map = map;
      loop.left = count;
      runLoop(&loop);
    }
    loop.number = (U8)(loopIndex + blend);
    loop.led = led;
    loop.map = offsets;
    loop.left = count;
    runLoop(&loop);
    map += family == familyFire ? 3 * count : 2 * count;
    led += 3 * count;
    number += count;
  }
}

static void runStretch(U8 family, U8 blend, const ClipState &clip, U8 fade, const Stretch &stretch) {
  LAMPLOOM_WORK(Loop, loop);
  loop.led = stretch.led;
  loop.map = stretch.map;
  loop.left = stretch.ledCount;
  switch (family) {
    case familyAlong:
      loop.along = clip.along;
      loop.number = (U8)((loop.along.stretch == 1 && loop.along.lastStep == 255 ? loopWay : loopAlong) + blend);
      break;
    case familyChance:
      loop.chance = clip.chance;
      loop.chance.fade = fade;
      loop.number = (U8)(loopChance + blend);
      break;
    case familyCloud:
      loop.cloud = clip.cloud;
      loop.number = (U8)((clip.cloud.rowwise ? loopRow : loopCloud) + blend);
      break;
    default: runIndexed(family, blend, clip, stretch); return;
  }
  runLoop(&loop);
}

}  // namespace lamploom
