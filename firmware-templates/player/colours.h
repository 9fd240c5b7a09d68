// The colour table of a clip: 64 entries {three colour bytes in wire order, rest}, made once a frame for each colour order. An effect whose
// level depends on the gradient place alone has it multiplied in here, so that nothing but a look-up and the blend is left for each LED.
// Here too: how the level runs along the table (a band's edges, a column's end) and how it turns in time.
// Not here: which entry an LED takes (effects.h), how it is blended (blend.h).
#pragma once
#include "arithmetic.h"
#include "show_data.h"

namespace lamploom {

enum { tableEntries = 64, entrySize = 4, paletteMost = 16 };
/** While the table is made, an entry's share stands where its first colour byte comes. */
enum { entryColour = 0, entryShare = 0, entryRest = 3 };

static U8 colourTable[tableEntries * entrySize] LAMPLOOM_TABLE_PLACE;

/** A rising and a falling edge. */
struct Edges {
  U16 width;       // entries 8.8 up to the end of the falling edge
  U16 frontGain;   // levels an entry 8.8; 0: a hard edge
  U16 backGain;
};
/** How the table's level runs: everything that an effect's preparation decides about colours. */
struct TableRun {
  U8 entries;      // how many are used
  U8 shift;        // 256ths of an entry: the table is looked at so far between its entries
  U8 level;        // of all entries
  U8 shares;       // TableShares
  union {
    Edges edges;
    U8 four[4];    // fours: levels of each four neighbouring entries
  };
};
enum TableShares {
  sharesEven = 0,      // all entries alike
  sharesLevelled = 1,  // each LED has a level of its own, so that only the clip's fade is multiplied in
  sharesEdges = 2,     // the level rises at the table's beginning and falls at its end
  sharesFours = 3      // four levels for every colour
};

/**
 * Levels along an edge: into the shares of the entries from `to` on, `stride` bytes apart, until the level is full or `left` entries are done.
 * `level` and `gain` are levels 8.8. An entry that holds less already keeps it.
 */
#ifdef __AVR__
static LAMPLOOM_NOINLINE void shareEdge(U8 *to, U8 left, U16 level, U16 gain, U8 fade, I16 stride) {
  const U8 zero = 0;
  asm volatile(
      "1: cpi %B[level],255\n\t brcc 3f\n\t mul %B[level],%[fade]\n\t add r0,%B[level]\n\t adc r1,%[zero]\n\t ld r0,X\n\t cp r1,r0\n\t brcc 2f\n\t st X,r1\n\t"
      "2: add r26,%A[stride]\n\t adc r27,%B[stride]\n\t add %A[level],%A[gain]\n\t adc %B[level],%B[gain]\n\t brcs 3f\n\t dec %[left]\n\t brne 1b\n\t"
      "3: clr __zero_reg__\n\t"
      : "+x"(to), [left] "+r"(left), [level] "+d"(level)
      : [gain] "r"(gain), [fade] "r"(fade), [stride] "r"(stride), [zero] "r"(zero)
      : "r0", "memory");
}
static void shareEven(U8 left, U8 share) {
  U8 *to = colourTable + entryShare;
  asm volatile("1: st X,%[share]\n\t adiw r26,%[size]\n\t dec %[left]\n\t brne 1b\n\t"
               : "+x"(to), [left] "+r"(left) : [share] "r"(share), [size] "i"(entrySize) : "memory");
}
#else
static void shareEdge(U8 *to, U8 left, U16 level, U16 gain, U8 fade, I16 stride) {
  for (; left && highByte8(level) < 255; left--, to += (int16_t)stride) {
    const U8 share = scale8(highByte8(level), fade);
    if (share < *to) *to = share;
    level = addSaturating16(level, gain);
  }
}
static void shareEven(U8 left, U8 share) {
  for (U8 *to = colourTable + entryShare; left; left--, to += entrySize) *to = share;
}
#endif

/** Falling edge: from the last lit entry towards the first; those behind it are dark. */
static void shareBack(const TableRun &run, U8 fade) {
  U16 at = word16(subtract8(run.entries, 1), run.shift);
  U8 left = run.entries;
  U8 *to = colourTable + (uint16_t)multiply8(subtract8(run.entries, 1), entrySize) + entryShare;
  for (; left && at >= run.edges.width; left--, to -= entrySize, at = subtract16(at, 256)) *to = 0;
  if (!left || run.edges.backGain == 0) return;
  const U32 first = (U32)(multiply32((U32)subtract16(run.edges.width, at), (U32)run.edges.backGain) >> 8);
  shareEdge(to, left, first > 65535u ? (U16)65535u : (U16)first, run.edges.backGain, fade, (I16)-entrySize);
}

/** Shares of all entries, which fillPieces then turns into what the blend needs. */
static void fillShares(const TableRun &run, U8 fade) {
  if (run.shares == sharesFours) {
    U8 *to = colourTable + entryShare;
    for (U8 left = tableEntries / 4; left; left--)
      for (uint8_t i = 0; i < 4; i++, to += entrySize) *to = scale8(run.four[i], fade);
    return;
  }
  shareEven(run.entries, fade);
  if (run.shares != sharesEdges) return;
  if (run.edges.frontGain)
    shareEdge(colourTable + entryShare, run.entries, multiplyMiddle16(run.edges.frontGain, run.shift), run.edges.frontGain, fade, (I16)entrySize);
  shareBack(run, fade);
}

/** What fillPieces works on; the assembler knows the offsets. */
struct Filling {
  U8 *to;          // entry that comes next
  ShowData piece;
  U8 pieces;       // pieces up to the gradient's end
  U8 left;         // entries still to fill
  U8 skip;         // colours that are passed over
  U8 between;      // 256ths of an entry that the table is looked at behind its entries
  U8 kind;         // FillKind
  U8 flipRest;     // plain: the rest byte, else what it is exclusive-ored with
};
enum FillKind { fillPlain = 0, fillScaled = 1, fillTint = 2 };

/** Fills entries until the table is full or the gradient's end is reached; the number of entries still to fill. */
#ifdef __AVR__
// r2 to r7 the three colours, r16 to r21 their steps; r10 skip, r11 pieces, r12 share, r13 kind, r14 left, r15 zero, r22 between, r23 in the
// making, r24 rest, r25 entries of this piece.
static LAMPLOOM_NOINLINE U8 fillPieces(const Filling &filling) {
  const Filling *at = &filling;
  U8 left;
#define LAMPLOOM_WORD(lo, hi) "lpm r" #lo ",Z+\n\t lpm r" #hi ",Z+\n\t"
#define LAMPLOOM_SKIP(vl, vh, sl, sh) "mul r" #sl ",r10\n\t add r" #vl ",r0\n\t adc r" #vh ",r1\n\t mul r" #sh ",r10\n\t add r" #vh ",r0\n\t"
#define LAMPLOOM_BETWEEN(vl, vh, sl, sh)                                                                               \
  "mul r" #sl ",r22\n\t mov r23,r1\n\t mulsu r" #sh ",r22\n\t add r0,r23\n\t adc r1,r15\n\t add r" #vl ",r0\n\t adc r" #vh ",r1\n\t"
#define LAMPLOOM_TURN(vl, vh, sl, sh) "com r" #vl "\n\t com r" #vh "\n\t com r" #sh "\n\t neg r" #sl "\n\t sbci r" #sh ",0xFF\n\t"
#define LAMPLOOM_STEP(vl, vh, sl, sh) "add r" #vl ",r" #sl "\n\t adc r" #vh ",r" #sh "\n\t"
#define LAMPLOOM_PLAIN(vl, vh, sl, sh) "st X+,r" #vh "\n\t" LAMPLOOM_STEP(vl, vh, sl, sh)
#define LAMPLOOM_SCALE(vh) "mul r" #vh ",r12\n\t add r0,r" #vh "\n\t adc r1,r15\n\t"
#define LAMPLOOM_SCALED(vl, vh, sl, sh) LAMPLOOM_SCALE(vh) "st X+,r1\n\t" LAMPLOOM_STEP(vl, vh, sl, sh)
#define LAMPLOOM_TINTED(vl, vh, sl, sh) LAMPLOOM_SCALE(vh) "com r1\n\t st X+,r1\n\t" LAMPLOOM_STEP(vl, vh, sl, sh)
#define LAMPLOOM_SHARE "ld r12,X\n\t"
#define LAMPLOOM_REST "mov r0,r12\n\t eor r0,r24\n\t st X+,r0\n\t"
#define LAMPLOOM_ALL(what) what(2, 3, 16, 17) what(4, 5, 18, 19) what(6, 7, 20, 21)
  asm volatile(
      "ldd r26,Z+0\n\t ldd r27,Z+1\n\t ldd r11,Z+4\n\t ldd r14,Z+5\n\t ldd r10,Z+6\n\t ldd r22,Z+7\n\t ldd r13,Z+8\n\t ldd r24,Z+9\n\t"
      "ldd r0,Z+2\n\t ldd r31,Z+3\n\t mov r30,r0\n\t clr r15\n\t"
      "1: lpm r25,Z+\n\t" LAMPLOOM_WORD(2, 3) LAMPLOOM_WORD(4, 5) LAMPLOOM_WORD(6, 7)
      LAMPLOOM_WORD(16, 17) LAMPLOOM_WORD(18, 19) LAMPLOOM_WORD(20, 21)
      "tst r10\n\t breq 2f\n\t cp r10,r25\n\t brcs 3f\n\t sub r10,r25\n\t rjmp 8f\n\t"
      "3: sub r25,r10\n\t" LAMPLOOM_ALL(LAMPLOOM_SKIP) "clr r10\n\t"
      "2: tst r22\n\t breq 4f\n\t" LAMPLOOM_ALL(LAMPLOOM_BETWEEN)
      "4: cp r14,r25\n\t brcc .+2\n\t mov r25,r14\n\t sub r14,r25\n\t mov r0,r13\n\t tst r0\n\t brne 6f\n\t"
      "5: " LAMPLOOM_ALL(LAMPLOOM_PLAIN) "st X+,r24\n\t dec r25\n\t brne 5b\n\t rjmp 8f\n\t"
      "6: dec r0\n\t brne 7f\n\t"
      "3: " LAMPLOOM_SHARE LAMPLOOM_ALL(LAMPLOOM_SCALED) LAMPLOOM_REST "dec r25\n\t brne 3b\n\t rjmp 8f\n\t"
      "7: " LAMPLOOM_ALL(LAMPLOOM_TURN)
      "3: " LAMPLOOM_SHARE LAMPLOOM_ALL(LAMPLOOM_TINTED) LAMPLOOM_REST "dec r25\n\t brne 3b\n\t"
      "8: tst r14\n\t breq 9f\n\t dec r11\n\t breq 9f\n\t rjmp 1b\n\t"
      "9: mov %[left],r14\n\t clr r1\n\t"
      : "+z"(at), [left] "=r"(left)
      :
      : "r0", "r2", "r3", "r4", "r5", "r6", "r7", "r10", "r11", "r12", "r13", "r14", "r15", "r16", "r17", "r18", "r19", "r20", "r21",
        "r22", "r23", "r24", "r25", "r26", "r27", "memory");
#undef LAMPLOOM_WORD
#undef LAMPLOOM_SKIP
#undef LAMPLOOM_BETWEEN
#undef LAMPLOOM_TURN
#undef LAMPLOOM_STEP
#undef LAMPLOOM_PLAIN
#undef LAMPLOOM_SCALE
#undef LAMPLOOM_SCALED
#undef LAMPLOOM_TINTED
#undef LAMPLOOM_SHARE
#undef LAMPLOOM_REST
#undef LAMPLOOM_ALL
  return left;
}
#else
static U8 fillPieces(const Filling &filling) {
  U8 *to = filling.to;
  ShowData piece = filling.piece;
  U8 skip = filling.skip, left = filling.left;
  const U8 flipIn = filling.kind == fillTint ? (U8)255 : (U8)0;
  for (U8 pieces = filling.pieces; pieces && left; pieces--, piece += pieceSize) {
    U8 entries = read8(piece + pieceEntries);
    if (skip >= entries) {
      skip = subtract8(skip, entries);
      continue;
    }
    entries = subtract8(entries, skip);
    if (entries > left) entries = left;
    left = subtract8(left, entries);
    U16 value[3], step[3];
    for (uint8_t i = 0; i < 3; i++) {
      step[i] = read16(piece + pieceStep + 2 * i);
      value[i] = add16(read16(piece + pieceStart + 2 * i),
                       add16(multiplyLow16(step[i], skip), shareOfStep16(step[i], filling.between)));
    }
    skip = 0;
    for (; entries; entries--, to += entrySize) {
      const U8 share = filling.kind == fillPlain ? (U8)255 : to[entryShare];
      to[entryRest] = filling.kind == fillPlain ? filling.flipRest : (U8)(share ^ filling.flipRest);
      for (uint8_t i = 0; i < 3; i++) {
        to[entryColour + i] = (U8)(scale8((U8)(highByte8(value[i]) ^ flipIn), share) ^ flipIn);
        value[i] = add16(value[i], step[i]);
      }
    }
  }
  return left;
}
#endif

/**
 * Fills the table from a gradient, whose channels are in the wire order of the span to come. `turned` (entries 8.8) is how far the gradient has
 * travelled along itself; behind its last colour the first follows.
 */
static LAMPLOOM_NOINLINE void fillColours(ShowData gradient, const TableRun &run, U16 turned, U8 blend, U8 fade) {
  // Levelled and over: the LED's level takes the fade, the colours stay.
  const U8 held = run.shares == sharesLevelled && blend == blendOver ? (U8)255 : scale8(run.level, fade);
  const U16 start = add16(turned, (U16)run.shift);
  LAMPLOOM_WORK(Filling, filling);
  filling.flipRest = blend == blendOver ? (U8)255 : (U8)0;
  filling.kind = blend == blendTint ? (U8)fillTint : (U8)fillScaled;
  if (run.shares <= sharesLevelled && held == 255 && blend != blendTint) {
    filling.kind = fillPlain;
    filling.flipRest = invert8(filling.flipRest);
  } else {
    fillShares(run, held);
  }
  filling.to = colourTable;
  filling.left = run.entries;
  filling.skip = highByte8(start);
  filling.between = lowByte8(start);
  filling.piece = gradient + 1;
  filling.pieces = read8(gradient);
  while ((filling.left = fillPieces(filling)) != 0) {
    filling.to = colourTable + (uint16_t)multiply8(subtract8(run.entries, filling.left), entrySize);
    filling.skip = 0;
  }
}

/**
 * Entries of a palette for painted frames, from `to` on: its colours x (255 - share) for what is shown, and the same number of bytes as `apart` says
 * behind each, x share for what comes.
 */
static void fillPalette(ShowData palette, U8 share, U8 blend, U8 fade, U8 *to, U8 apart) {
  const U8 rest = invert8(share), flip = blend == blendTint ? (U8)255 : (U8)0;
  ShowData colour = palette + paletteColours;
  for (U8 left = read8(palette + paletteCount); left; left--, colour += 3) {
    for (uint8_t place = 0; place < 3; place++, to++) {
      const U8 level = (U8)(scale8((U8)(read8(colour + place) ^ flip), fade) ^ flip);
      *to = scale8(level, rest);
      to[(uint8_t)apart] = scale8(level, share);
    }
    *to++ = invert8(fade);
  }
}

}  // namespace lamploom
