// The loops over LEDs in AVR assembler: the families along, chance and cloud with each of the four blends, effect and blend in one loop, so that
// nothing goes through memory in between. Same results as blend.h, byte for byte (test/player/loops.test.ts compares them).
// A loop is put together from a piece for the effect, which leaves the entry's offset in r26 and jumps to 8 where the LED stays as it is, and a
// piece for the blend. The compiler gives nothing but the argument's address, so the registers are ours to plan:
//   X entry, Y LED (saved here: it may be the compiler's frame pointer), Z map in flash, r0 and r1 products (r1 is zero again at the end),
//   r15 zero, r16 and r17 bytes in the making, r18 level, r19 LEDs left, r2 to r7 the effect's own values in the order of its struct.
#pragma once
#include "blend.h"

namespace lamploom {

/** What a loop is given; the assembler knows the offsets. */
struct Loop {
  U8 *led;
  ShowData map;
  U8 left;
  union {
    Along along;
    Chance chance;
    Cloud cloud;
  };
};

#define LAMPLOOM_LOAD(register, offset) "ldd r" #register ",Z+" #offset "\n\t"
#define LAMPLOOM_BEGIN                                                                                                 \
  "push r28\n\t push r29\n\t clr r15\n\t" LAMPLOOM_LOAD(28, 0) LAMPLOOM_LOAD(29, 1) LAMPLOOM_LOAD(26, 2) LAMPLOOM_LOAD(27, 3) \
  LAMPLOOM_LOAD(19, 4) LAMPLOOM_LOAD(2, 5) LAMPLOOM_LOAD(3, 6) LAMPLOOM_LOAD(4, 7) LAMPLOOM_LOAD(5, 8) LAMPLOOM_LOAD(6, 9) \
  LAMPLOOM_LOAD(7, 10) "movw r30,r26\n\t"
#define LAMPLOOM_END "9: clr r1\n\t pop r29\n\t pop r28\n\t"
#define LAMPLOOM_NEXT "dec r19\n\t brne 1b\n\t rjmp 9f\n\t 8: adiw r28,3\n\t dec r19\n\t brne 1b\n\t" LAMPLOOM_END
// Where the loop is longer than a branch reaches.
#define LAMPLOOM_FAR_NEXT "dec r19\n\t breq 9f\n\t rjmp 1b\n\t 8: adiw r28,3\n\t dec r19\n\t breq 9f\n\t rjmp 1b\n\t" LAMPLOOM_END
// From the offset to the entry's rest byte, or to its colour where no rest is needed.
#define LAMPLOOM_ENTRY "andi r26,0xFC\n\t clr r27\n\t subi r26,lo8(-(%[table]))\n\t sbci r27,hi8(-(%[table]))\n\t"
#define LAMPLOOM_THRICE(text) text text text

// Blends of an entry whose level is in its colours.
#define LAMPLOOM_OVER                                                                                                  \
  "ld r17,X+\n\t cpi r17,255\n\t breq 8f\n\t"                                                                          \
  LAMPLOOM_THRICE("ld r16,Y\n\t mul r16,r17\n\t ld r16,X+\n\t add r16,r1\n\t st Y+,r16\n\t")
#define LAMPLOOM_ADD LAMPLOOM_THRICE("ld r16,Y\n\t ld r17,X+\n\t add r16,r17\n\t brcc .+2\n\t ldi r16,255\n\t st Y+,r16\n\t")
#define LAMPLOOM_WIN LAMPLOOM_THRICE("ld r16,Y\n\t ld r17,X+\n\t cp r16,r17\n\t brcc .+2\n\t mov r16,r17\n\t st Y+,r16\n\t")
#define LAMPLOOM_TINT LAMPLOOM_THRICE("ld r16,Y\n\t ld r17,X+\n\t mul r16,r17\n\t add r0,r16\n\t adc r1,r15\n\t st Y+,r1\n\t")

#define LAMPLOOM_WRITE LAMPLOOM_THRICE("ld r16,X+\n\t st Y+,r16\n\t")

// Blends of an entry for an LED with a level of its own, which is at most 254, so that scale8 is a product with the level and one; r7 is the fade.
#define LAMPLOOM_LEVELLED_OVER                                                                                         \
  "mul r18,r7\n\t add r0,r18\n\t adc r1,r15\n\t mov r18,r1\n\t mov r17,r1\n\t cpi r17,1\n\t brcs 8f\n\t com r17\n\t"    \
  LAMPLOOM_THRICE("ld r16,X+\n\t mul r16,r18\n\t movw r20,r0\n\t ld r16,Y\n\t mul r16,r17\n\t add r20,r0\n\t adc r21,r1\n\t st Y+,r21\n\t")
#define LAMPLOOM_LEVELLED_ADD                                                                                          \
  "inc r18\n\t" LAMPLOOM_THRICE("ld r17,X+\n\t mul r17,r18\n\t ld r16,Y\n\t add r16,r1\n\t brcc .+2\n\t ldi r16,255\n\t st Y+,r16\n\t")
#define LAMPLOOM_LEVELLED_WIN                                                                                          \
  "inc r18\n\t" LAMPLOOM_THRICE("ld r17,X+\n\t mul r17,r18\n\t ld r16,Y\n\t cp r16,r1\n\t brcc .+2\n\t mov r16,r1\n\t st Y+,r16\n\t")
#define LAMPLOOM_LEVELLED_TINT                                                                                         \
  "inc r18\n\t" LAMPLOOM_THRICE("ld r17,X+\n\t com r17\n\t mul r17,r18\n\t mov r17,r1\n\t com r17\n\t ld r16,Y\n\t mul r16,r17\n\t add r0,r16\n\t adc r1,r15\n\t st Y+,r1\n\t")

// r2, r3 step; r4 whole; r5 last step; r6 stretch.
#define LAMPLOOM_ALONG                                                                                                 \
  "1: lpm r16,Z+\n\t mul r16,r2\n\t mov r17,r1\n\t mul r16,r3\n\t add r17,r0\n\t add r17,r4\n\t cp r5,r17\n\t brcs 8f\n\t" \
  "mul r17,r6\n\t mov r26,r0\n\t" LAMPLOOM_ENTRY

// The same where no LED is dark and a step is a quarter of an entry: r2, r3 step; r4 whole.
#define LAMPLOOM_WAY "1: lpm r16,Z+\n\t mul r16,r2\n\t mov r26,r1\n\t mul r16,r3\n\t add r26,r0\n\t add r26,r4\n\t" LAMPLOOM_ENTRY

// r2 phase; r3 turn; r4 density; r5 seed; r6 dies. The carry of phase + own is the turn that this LED is already in.
#define LAMPLOOM_CHANCE                                                                                                \
  "ldi r22,%[slot]\n\t ldi r23,%[thrown]\n\t"                                                                          \
  "1: lpm r17,Z+\n\t lpm r16,Z+\n\t eor r17,r5\n\t mov r18,r2\n\t mov r26,r3\n\t add r18,r17\n\t adc r26,r15\n\t add r26,r17\n\t" \
  "mul r26,r22\n\t mov r26,r0\n\t eor r26,r1\n\t eor r26,r16\n\t mul r26,r23\n\t mov r26,r0\n\t eor r26,r1\n\t"        \
  "cp r26,r4\n\t brcc 8f\n\t add r26,r16\n\t sbrc r6,0\n\t rjmp 5f\n\t"                                              \
  "lsl r18\n\t sbc r0,r0\n\t eor r18,r0\n\t 4: mul r18,r18\n\t mov r18,r1\n\t" LAMPLOOM_ENTRY
// The other shape of a star's life, out of the way of the loop.
#define LAMPLOOM_CHANCE_END "rjmp 6f\n\t 5: com r18\n\t rjmp 4b\n\t 6:\n\t"

// r2, r3 offsets; r4, r5 fractions. Two mixes along x, one along y, of the four corners; differences are signed, shares are not.
#define LAMPLOOM_CLOUD                                                                                                 \
  "ldi r24,8\n\t ldi r25,%[side]\n\t"                                                                                 \
  "1: lpm r17,Z+\n\t lpm r16,Z+\n\t add r17,r2\n\t add r16,r3\n\t mul r17,r24\n\t movw r20,r0\n\t or r20,r4\n\t"       \
  "mul r16,r24\n\t mov r16,r0\n\t or r16,r5\n\t mul r1,r25\n\t mov r26,r0\n\t add r26,r21\n\t"                          \
  "clr r27\n\t subi r26,lo8(-(%[lattice]))\n\t sbci r27,hi8(-(%[lattice]))\n\t"                                       \
  "ld r17,X+\n\t ld r18,X\n\t adiw r26,%[below]\n\t sub r18,r17\n\t mulsu r18,r20\n\t add r17,r1\n\t"                   \
  "ld r18,X+\n\t ld r22,X\n\t sub r22,r18\n\t mulsu r22,r20\n\t add r18,r1\n\t"                                       \
  "sub r18,r17\n\t mulsu r18,r16\n\t add r17,r1\n\t mov r26,r17\n\t lsl r26\n\t" LAMPLOOM_ENTRY

#define LAMPLOOM_LOOP(name, effect, blend, end, from)                                                                  \
  static LAMPLOOM_NOINLINE void name(const Loop *loop) {                                                               \
    asm volatile(LAMPLOOM_BEGIN effect blend end                                                         \
                 : "+z"(loop)                                                                                          \
                 : [table] "i"(colourTable + from), [lattice] "i"(lattice), [side] "i"(latticeSide),                   \
                   [below] "i"(latticeSide - 1), [slot] "i"(starFoldSlot), [thrown] "i"(starFoldThrow)                  \
                 : "r0", "r2", "r3", "r4", "r5", "r6", "r7", "r15", "r16", "r17", "r18", "r19", "r20", "r21", "r22", "r23", \
                   "r24", "r25", "r26", "r27", "memory");                                                              \
  }
LAMPLOOM_LOOP(alongOver, LAMPLOOM_ALONG, LAMPLOOM_OVER, LAMPLOOM_NEXT, entryRest)
LAMPLOOM_LOOP(alongAdd, LAMPLOOM_ALONG, LAMPLOOM_ADD, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(alongBrighterWins, LAMPLOOM_ALONG, LAMPLOOM_WIN, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(alongTint, LAMPLOOM_ALONG, LAMPLOOM_TINT, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(alongWrite, LAMPLOOM_ALONG, LAMPLOOM_WRITE, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(wayOver, LAMPLOOM_WAY, LAMPLOOM_OVER, LAMPLOOM_NEXT, entryRest)
LAMPLOOM_LOOP(wayAdd, LAMPLOOM_WAY, LAMPLOOM_ADD, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(wayBrighterWins, LAMPLOOM_WAY, LAMPLOOM_WIN, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(wayTint, LAMPLOOM_WAY, LAMPLOOM_TINT, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(wayWrite, LAMPLOOM_WAY, LAMPLOOM_WRITE, LAMPLOOM_NEXT, entryColour)
LAMPLOOM_LOOP(chanceOver, LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_OVER, LAMPLOOM_FAR_NEXT LAMPLOOM_CHANCE_END, entryColour)
LAMPLOOM_LOOP(chanceAdd, LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_ADD, LAMPLOOM_FAR_NEXT LAMPLOOM_CHANCE_END, entryColour)
LAMPLOOM_LOOP(chanceBrighterWins, LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_WIN, LAMPLOOM_FAR_NEXT LAMPLOOM_CHANCE_END, entryColour)
LAMPLOOM_LOOP(chanceTint, LAMPLOOM_CHANCE, LAMPLOOM_LEVELLED_TINT, LAMPLOOM_FAR_NEXT LAMPLOOM_CHANCE_END, entryColour)
LAMPLOOM_LOOP(cloudOver, LAMPLOOM_CLOUD, LAMPLOOM_OVER, LAMPLOOM_FAR_NEXT, entryRest)
LAMPLOOM_LOOP(cloudAdd, LAMPLOOM_CLOUD, LAMPLOOM_ADD, LAMPLOOM_FAR_NEXT, entryColour)
LAMPLOOM_LOOP(cloudBrighterWins, LAMPLOOM_CLOUD, LAMPLOOM_WIN, LAMPLOOM_FAR_NEXT, entryColour)
LAMPLOOM_LOOP(cloudTint, LAMPLOOM_CLOUD, LAMPLOOM_TINT, LAMPLOOM_FAR_NEXT, entryColour)
LAMPLOOM_LOOP(cloudWrite, LAMPLOOM_CLOUD, LAMPLOOM_WRITE, LAMPLOOM_FAR_NEXT, entryColour)

// The other families gather the entries of a few LEDs, one behind the other, and blend them from there: the map is in RAM.
#define LAMPLOOM_GATHERED "movw r26,r30\n\t 1:\n\t"
#define LAMPLOOM_GATHERED_NO_REST LAMPLOOM_GATHERED "adiw r26,1\n\t"
// Where an LED stays as it is, the rest of its entry is passed over too.
#define LAMPLOOM_GATHERED_OVER                                                                                         \
  "ld r17,X+\n\t cpi r17,255\n\t brne 3f\n\t adiw r26,3\n\t rjmp 8f\n\t 3:\n\t"                                        \
  LAMPLOOM_THRICE("ld r16,Y\n\t mul r16,r17\n\t ld r16,X+\n\t add r16,r1\n\t st Y+,r16\n\t")
LAMPLOOM_LOOP(gatheredOver, LAMPLOOM_GATHERED, LAMPLOOM_GATHERED_OVER, LAMPLOOM_NEXT, entryRest)
LAMPLOOM_LOOP(gatheredAdd, LAMPLOOM_GATHERED_NO_REST, LAMPLOOM_ADD, LAMPLOOM_NEXT, entryRest)
LAMPLOOM_LOOP(gatheredBrighterWins, LAMPLOOM_GATHERED_NO_REST, LAMPLOOM_WIN, LAMPLOOM_NEXT, entryRest)
LAMPLOOM_LOOP(gatheredTint, LAMPLOOM_GATHERED_NO_REST, LAMPLOOM_TINT, LAMPLOOM_NEXT, entryRest)
LAMPLOOM_LOOP(gatheredWrite, LAMPLOOM_GATHERED_NO_REST, LAMPLOOM_WRITE, LAMPLOOM_NEXT, entryRest)

#undef LAMPLOOM_LOAD
#undef LAMPLOOM_BEGIN
#undef LAMPLOOM_END
#undef LAMPLOOM_NEXT
#undef LAMPLOOM_FAR_NEXT
#undef LAMPLOOM_ENTRY
#undef LAMPLOOM_THRICE
#undef LAMPLOOM_OVER
#undef LAMPLOOM_ADD
#undef LAMPLOOM_WIN
#undef LAMPLOOM_TINT
#undef LAMPLOOM_LEVELLED_OVER
#undef LAMPLOOM_LEVELLED_ADD
#undef LAMPLOOM_LEVELLED_WIN
#undef LAMPLOOM_LEVELLED_TINT
#undef LAMPLOOM_WRITE
#undef LAMPLOOM_ALONG
#undef LAMPLOOM_WAY
#undef LAMPLOOM_CHANCE
#undef LAMPLOOM_CHANCE_END
#undef LAMPLOOM_CLOUD
#undef LAMPLOOM_LOOP
#undef LAMPLOOM_GATHERED
#undef LAMPLOOM_GATHERED_NO_REST
#undef LAMPLOOM_GATHERED_OVER

/** A family's loops by the number of the blend. */
typedef void (*LoopOfBlend)(const Loop *loop);
static void runLoop(const Loop &loop, U8 blend, LoopOfBlend over, LoopOfBlend add, LoopOfBlend brighterWins, LoopOfBlend tint,
                    LoopOfBlend write) {
  switch (blend) {
    case blendOver: over(&loop); break;
    case blendAdd: add(&loop); break;
    case blendBrighterWins: brighterWins(&loop); break;
    case blendTint: tint(&loop); break;
    default: write(&loop); break;
  }
}

enum { gatheredLeds = 8 };

static void copyEntry(U8 *to, const U8 *from) {
  for (uint8_t i = 0; i < entrySize; i++) to[i] = from[i];
}
/** Gathers the entries of `count` LEDs, the first of them number `number` of the area; moves `map` on. */
LAMPLOOM_FAST static void gatherEntries(U8 *to, U8 family, const ClipState &clip, U8 fade, ShowData &map, U16 number, U8 count) {
  for (; count; count--, number++, to += entrySize) {
    if (family == familyPainted) {
      paintedEntry(to, clip.painted, fade, number);
    } else if (family == familyFire) {
      const U8 x = readNext(map), y = readNext(map), height = readNext(map);
      copyEntry(to, entryAt(fireEntry(clip.cloud, x, y, height)));
    } else {
      const U8 column = readNext(map), rowBit = readNext(map);
      copyEntry(to, entryAt(letterEntry(clip.letters, column, rowBit)));
    }
  }
}
static LAMPLOOM_NOINLINE void runEntries(U8 family, U8 blend, const ClipState &clip, U8 fade, const Stretch &stretch) {
  U8 entries[gatheredLeds * entrySize];
  Loop loop;
  loop.led = stretch.led;
  loop.map = entries;
  ShowData map = stretch.map;
  U16 number = stretch.number;
  for (U8 left = stretch.ledCount; left; left -= loop.left) {
    loop.left = left < gatheredLeds ? left : (U8)gatheredLeds;
    gatherEntries(entries, family, clip, fade, map, number, loop.left);
    runLoop(loop, blend, gatheredOver, gatheredAdd, gatheredBrighterWins, gatheredTint, gatheredWrite);
    loop.led += 3 * loop.left;
    number += loop.left;
  }
}

static void runStretch(U8 family, U8 blend, const ClipState &clip, U8 fade, const Stretch &stretch) {
  Loop loop;
  loop.led = stretch.led;
  loop.map = stretch.map;
  loop.left = stretch.ledCount;
  switch (family) {
    case familyAlong:
      loop.along = clip.along;
      if (loop.along.stretch == 1 && loop.along.lastStep == 255) runLoop(loop, blend, wayOver, wayAdd, wayBrighterWins, wayTint, wayWrite);
      else runLoop(loop, blend, alongOver, alongAdd, alongBrighterWins, alongTint, alongWrite);
      break;
    case familyChance:
      loop.chance = clip.chance;
      loop.chance.fade = fade;
      runLoop(loop, blend, chanceOver, chanceAdd, chanceBrighterWins, chanceTint, chanceAdd);
      break;
    case familyCloud:
      loop.cloud = clip.cloud;
      runLoop(loop, blend, cloudOver, cloudAdd, cloudBrighterWins, cloudTint, cloudWrite);
      break;
    default: runEntries(family, blend, clip, fade, stretch); break;
  }
}

}  // namespace lamploom
