// The colour table of a clip: 64 entries {rest, three colour bytes in wire order}, made once a frame for each colour order. An effect whose
// level depends on the gradient place alone has it multiplied in here, so that nothing but a look-up and the blend is left for each LED.
// Here too: how the level runs along the table (a band's edges, a column's end) and how it turns in time.
// Not here: which entry an LED takes (effects.h), how it is blended (blend.h).
#pragma once
#include "arithmetic.h"
#include "show_data.h"

namespace lamploom {

enum { tableEntries = 64, entrySize = 4, paletteMost = 16 };
enum { entryRest = 0, entryColour = 1 };

static U8 colourTable[tableEntries * entrySize];

/** How the table's level runs: everything that an effect's preparation decides about colours. */
struct TableRun {
  U8 entries;      // how many are used
  U8 shift;        // 256ths of an entry: the table is looked at so far between its entries
  U8 level;        // of all entries
  U8 shares;       // TableShares
  U16 width;       // edges: entries 8.8 up to the end of the falling edge
  U16 frontGain;   // edges: levels an entry 8.8; 0: a hard edge
  U16 backGain;
  U8 four[4];      // fours: levels of each four neighbouring entries
};
enum TableShares {
  sharesEven = 0,      // all entries alike
  sharesLevelled = 1,  // each LED has a level of its own, so that only the clip's fade is multiplied in
  sharesEdges = 2,     // the level rises at the table's beginning and falls at its end
  sharesFours = 3      // four levels for every colour
};

/** What a blend multiplies and turns round. */
struct TableScale {
  U8 flipIn, flipOut, flipRest;
};
static inline TableScale tableScale(U8 blend, U8 shares) {
  TableScale scale;
  scale.flipIn = blend == blendTint ? (U8)255 : (U8)0;
  scale.flipOut = blend == blendTint && shares != sharesLevelled ? (U8)255 : (U8)0;
  scale.flipRest = blend == blendOver ? (U8)255 : (U8)0;
  return scale;
}

/** Rising edge: from the first entry on, until full. */
static void shareFront(const TableRun &run, U8 fade) {
  if (run.frontGain == 0) return;
  U16 level = multiplyMiddle16(run.frontGain, run.shift);
  U8 *to = colourTable + entryRest;
  for (U8 left = run.entries; left && highByte8(level) < 255; left--, to += entrySize) {
    *to = scale8(highByte8(level), fade);
    level = addSaturating16(level, run.frontGain);
  }
}

/** Falling edge: from the last lit entry towards the first, until full; those behind it are dark. */
static void shareBack(const TableRun &run, U8 fade) {
  U16 at = word16(subtract8(run.entries, 1), run.shift);
  U8 left = run.entries;
  U8 *to = colourTable + (uint16_t)(U16)((U16)subtract8(run.entries, 1) * (U16)entrySize) + entryRest;
  for (; left && at >= run.width; left--, to -= entrySize, at = subtract16(at, 256)) *to = 0;
  if (!left || run.backGain == 0) return;
  U32 first = (U32)(multiply32((U32)subtract16(run.width, at), (U32)run.backGain) >> 8);
  U16 level = first > 65535u ? (U16)65535u : (U16)first;
  for (; left && highByte8(level) < 255; left--, to -= entrySize) {
    U8 share = scale8(highByte8(level), fade);
    if (share < *to) *to = share;
    level = addSaturating16(level, run.backGain);
  }
}

/** Shares of all entries, into their rest bytes, which fillColours then turns into what the blend needs. */
static LAMPLOOM_NOINLINE void fillShares(const TableRun &run, U8 fade) {
  U8 *to = colourTable + entryRest;
  if (run.shares == sharesFours) {
    for (U8 left = tableEntries / 4; left; left--)
      for (uint8_t i = 0; i < 4; i++, to += entrySize) *to = scale8(run.four[i], fade);
    return;
  }
  for (U8 left = run.entries; left; left--, to += entrySize) *to = fade;
  if (run.shares != sharesEdges) return;
  shareFront(run, fade);
  shareBack(run, fade);
}

/** One piece's entries; `value` is its colour at the first, `step` what is added from one to the next. */
#ifdef __AVR__
static LAMPLOOM_NOINLINE U8 *fillPiece(U8 *to, U16 v0, U16 v1, U16 v2, U16 s0, U16 s1, U16 s2, U8 entries, const TableScale &scale, U8 plain) {
  const U8 flipIn = scale.flipIn, flipOut = scale.flipOut, flipRest = scale.flipRest, zero = 0;
  U8 share, level;
#define LAMPLOOM_STEP(v, s) "add %A[" #v "],%A[" #s "]\n\t adc %B[" #v "],%B[" #s "]\n\t"
#define LAMPLOOM_SCALED(v, s)                                                                                            \
  "mov %[level],%B[" #v "]\n\t eor %[level],%[flipIn]\n\t mul %[level],%[share]\n\t add r0,%[level]\n\t adc r1,%[zero]\n\t" \
  "eor r1,%[flipOut]\n\t st X+,r1\n\t" LAMPLOOM_STEP(v, s)
#define LAMPLOOM_PLAIN(v, s) "st X+,%B[" #v "]\n\t" LAMPLOOM_STEP(v, s)
  // The second loop is for the colours as they are.
  if (plain) {
    level = (U8)(255 ^ flipRest);
    asm volatile("1: st X+,%[level]\n\t" LAMPLOOM_PLAIN(v0, s0) LAMPLOOM_PLAIN(v1, s1) LAMPLOOM_PLAIN(v2, s2) "dec %[left]\n\t brne 1b\n\t"
                 : [v0] "+r"(v0), [v1] "+r"(v1), [v2] "+r"(v2), [left] "+r"(entries), "+x"(to)
                 : [s0] "r"(s0), [s1] "r"(s1), [s2] "r"(s2), [level] "r"(level)
                 : "memory");
  } else {
    asm volatile("1: ld %[share],X\n\t mov %[level],%[share]\n\t eor %[level],%[flipRest]\n\t st X+,%[level]\n\t"
                 LAMPLOOM_SCALED(v0, s0) LAMPLOOM_SCALED(v1, s1) LAMPLOOM_SCALED(v2, s2) "dec %[left]\n\t brne 1b\n\t clr __zero_reg__\n\t"
                 : [v0] "+r"(v0), [v1] "+r"(v1), [v2] "+r"(v2), [left] "+r"(entries), "+x"(to), [share] "=&r"(share), [level] "=&r"(level)
                 : [s0] "r"(s0), [s1] "r"(s1), [s2] "r"(s2), [flipIn] "r"(flipIn), [flipOut] "r"(flipOut), [flipRest] "r"(flipRest), [zero] "r"(zero)
                 : "r0", "memory");
  }
#undef LAMPLOOM_STEP
#undef LAMPLOOM_SCALED
#undef LAMPLOOM_PLAIN
  return to;
}
#else
static U8 *fillPiece(U8 *to, U16 v0, U16 v1, U16 v2, U16 s0, U16 s1, U16 s2, U8 entries, const TableScale &scale, U8) {
  U16 value[3] = {v0, v1, v2};
  const U16 step[3] = {s0, s1, s2};
  for (; entries; entries--) {
    const U8 share = to[entryRest];
    to[entryRest] = (U8)(share ^ scale.flipRest);
    for (uint8_t place = 0; place < 3; place++) {
      to[entryColour + place] = (U8)(scale8((U8)(highByte8(value[place]) ^ scale.flipIn), share) ^ scale.flipOut);
      value[place] = add16(value[place], step[place]);
    }
    to += entrySize;
  }
  return to;
}
#endif

/**
 * Fills the table from a gradient, whose channels are in the wire order of the span to come. `turned` (entries 8.8) is how far the gradient has
 * travelled along itself; behind its last colour the first follows.
 */
static void fillColours(ShowData gradient, const TableRun &run, U16 turned, U8 blend, U8 fade) {
  const TableScale scale = tableScale(blend, run.shares);
  // Levelled and over: the LED's level takes the fade, the colours stay.
  const U8 held = run.shares == sharesLevelled && blend == blendOver ? (U8)255 : scale8(run.level, fade);
  fillShares(run, held);
  const U8 plain = run.shares <= sharesLevelled && held == 255 && blend != blendTint ? (U8)1 : (U8)0;
  const U16 start = add16(turned, (U16)run.shift);
  U8 skip = highByte8(start), left = run.entries;
  const U8 between = lowByte8(start);
  U8 *to = colourTable;
  const U8 pieces = read8(gradient);
  ShowData piece = gradient + 1;
  U8 pieceLeft = pieces;
  while (left) {
    if (pieceLeft == 0) {
      piece = gradient + 1;
      pieceLeft = pieces;
    }
    U8 entries = read8(piece + pieceEntries);
    if (skip >= entries) {
      skip = subtract8(skip, entries);
    } else {
      entries = subtract8(entries, skip);
      if (entries > left) entries = left;
      U16 value[3], step[3];
      for (uint8_t place = 0; place < 3; place++) {
        step[place] = read16(piece + pieceStep + 2 * place);
        value[place] = add16(read16(piece + pieceStart + 2 * place),
                             add16(multiplyLow16(step[place], skip), shareOfStep16(step[place], between)));
      }
      to = fillPiece(to, value[0], value[1], value[2], step[0], step[1], step[2], entries, scale, plain);
      left = subtract8(left, entries);
      skip = 0;
    }
    piece += pieceSize;
    pieceLeft = subtract8(pieceLeft, 1);
  }
}

/** Fills the table from a palette for painted frames: its colours x (255 - share) for what is shown, and behind them x share for what comes. */
static void fillPalette(ShowData palette, U8 share, U8 blend, U8 fade) {
  const TableScale scale = tableScale(blend, sharesEven);
  const U8 rest = invert8(share);
  U8 *to = colourTable;
  ShowData colour = palette + paletteColours;
  for (U8 left = read8(palette + paletteCount); left; left--, to += entrySize, colour += 3)
    for (uint8_t place = 0; place < 3; place++) {
      const U8 level = (U8)(scale8((U8)(read8(colour + place) ^ scale.flipIn), fade) ^ scale.flipOut);
      to[entryColour + place] = scale8(level, rest);
      to[entryColour + place + paletteMost * entrySize] = scale8(level, share);
    }
}

}  // namespace lamploom
