// Effects: what an LED shows, worked out in two steps. Prepare, once a clip and frame: everything that is the same for all LEDs, and how the
// colour table runs. Then for each LED which entry of that table it takes (and for some a level of its own).
// Three families do nearly all: "along" looks up a coordinate that the show compiler gave the LED (its place on the way, its distance from a
// point, its angle around it, its turn in a chase); "chance" throws dice by the LED's chance byte; "cloud" mixes a lattice.
// Every effect is a pure function of (parameters, the LED's bytes in the clip's map, time); chance is a hash, never a running generator.
// Not here: colours and blending (colours.h, blend.h), loops in assembler (loops_avr.h). How to add one: DEVELOPERS.md.
#pragma once
#include "colours.h"

namespace lamploom {

enum { latticeSide = 9 };
/** Chance values at the corners of a cloud's cells, 0 to 127, made anew for each clip and frame. */
static U8 lattice[latticeSide * latticeSide];

enum Family { familyAlong = 0, familyChance = 1, familyCloud = 2, familyFire = 3, familyPainted = 4, familyLetters = 5 };
static inline U8 familyOf(U8 effect) { return effect < effectStars ? (U8)familyAlong : (U8)subtract8(effect, effectStars - familyChance); }
/** Bytes that an LED has in a clip's map. */
static inline U8 mapBytes(U8 family) {
  if (family == familyPainted) return 0;
  if (family == familyFire) return 3;
  return family <= familyChance ? (U8)1 : (U8)2;
}

/** Along: step = (coordinate ^ flip) + whole, 256 a turn; entry = low byte of step x stretch; dark where the step is behind lastStep. */
struct Along {
  U8 flip;       // 255: coordinates count down
  U8 whole;
  U8 lastStep;
  U8 stretch;    // 1, 2 or 4 quarters of an entry a step
};
struct Chance {
  U8 phase;
  U8 thrown;     // dice of the time slot that LEDs are in
  U8 density, seed, dies;
  U8 fade;       // for the loops in assembler
  U8 thrownNext; // dice of the slot that LEDs with an early beginning are in already
};
struct Cloud {
  U8 offsetX, offsetY;      // 32nds of a cell
  U8 fractionX, fractionY;  // 256ths of a cell, under 8
  U8 rowwise;               // 1: neighbours on the wire mostly have the same y, which a loop may make use of
  U8 base, cooling;         // fire only
};
struct Painted {
  ShowData cells, nextCells;
  U8 bits;
  U8 share;      // of the next cells
  U8 asPairs;    // 1: the table holds an entry for each pair of what is shown and what comes (loops_avr.h)
};
struct Lettering {
  ShowData columns;  // the one that the area's first column shows
  U8 bandGain;       // sixteenths of the area's width a column, 4.4
};

/** What is the same for all LEDs of a clip in one frame. */
struct ClipState {
  ShowData data;
  ShowData parameters;
  U32 timeMs;    // since the clip began
  U8 value;      // the byte from outside
  TableRun table;
  union {
    Along along;
    Chance chance;
    Cloud cloud;
    Painted painted;
    Lettering letters;
  };
};

/** Turns, 8.24: the top byte counts whole turns, the next two are the phase. */
static LAMPLOOM_NOINLINE U32 turnsAt(U32 timeMs, ShowData rate) { return multiply32(timeMs, read32(rate)); }
static inline U16 phase16(U32 turns) { return (U16)(turns >> 8); }
static LAMPLOOM_NOINLINE U16 phaseAt(U32 timeMs, ShowData rate) { return phase16(turnsAt(timeMs, rate)); }
static inline U8 wholeTurns(U32 turns) { return (U8)(turns >> 24); }

static LAMPLOOM_NOINLINE void evenTable(ClipState &clip, U8 level) {
  clip.table.entries = tableEntries;
  clip.table.shift = 0;
  clip.table.level = level;
  clip.table.shares = sharesEven;
}
/** The whole way is the whole table; which colours it holds is the gradient's matter. */
static LAMPLOOM_NOINLINE void wholeWay(ClipState &clip, U8 level) {
  clip.along.flip = 0;
  clip.along.whole = 0;
  clip.along.lastStep = 255;
  clip.along.stretch = 1;
  evenTable(clip, level);
}

// ---- glow: u32 turns/ms, u8 depth ----

static void prepareGlow(ClipState &clip) {
  const U8 swing = ease8(triangle8(highByte8(phaseAt(clip.timeMs, clip.parameters))));
  wholeWay(clip, invert8(scale8(read8(clip.parameters + 4), swing)));
}

// ---- bands: u32 turns/ms, u16 width, u16 offset (steps 8.8), u16 front gain, u16 back gain (levels an entry 8.8), u8 BandFlags, u8 bands ----
// A turn is 256 steps, in which coordinates count. Light lies where the distance u behind a band's beginning is under the width.

enum BandFlags {
  bandTravel = 3,        // BandTravel
  bandEasing = 12,       // Easing x 4
  bandStepsAnEntry = 48, // 0, 1, 2 x 16: 1, 2 or 4 steps an entry
  bandLowFirst = 64      // the gradient begins at the low end whatever the travel, else in front
};
enum BandTravel { travelForward = 0, travelBackward = 1, travelThereAndBack = 2 };

static void prepareBands(ClipState &clip) {
  ShowData at = clip.parameters;
  const U8 flags = read8(at + 12), travel = (U8)(flags & bandTravel), easing = quarter8((U8)(flags & bandEasing));
  const U16 width = read16(at + 4);
  U16 way = phaseAt(clip.timeMs, at);
  U8 lowFirst = flags & bandLowFirst ? (U8)1 : (U8)0;
  U16 centre;
  if (travel == travelThereAndBack) {
    const U8 isBack = way & 0x8000 ? (U8)1 : (U8)0;
    way = ease16(easing, (U16)(way << 1));
    if (isBack) {
      way = (U16)(~way);
      lowFirst = 1;
    }
    // A single band's turn is both ways; a train as a whole goes the whole way, which is as many turns as there are bands.
    const U8 bands = read8(at + 13);
    centre = bands > 1 ? multiplyLow16(way, bands) : shiftRight16(way, 1);
  } else {
    centre = ease16(easing, way);
    if (travel == travelBackward) {
      centre = subtract16(0, centre);
      lowFirst = 1;
    }
  }
  const U16 offset = read16(at + 6);
  const U16 phase = lowFirst ? subtract16(offset, centre) : add16(offset, centre);
  // Counting down is counting the complement up, and one more.
  clip.along.flip = lowFirst ? (U8)0 : (U8)255;
  const U8 places = (U8)(highByte8((U16)((U16)(flags & bandStepsAnEntry) << 4)));
  const U8 lastInEntry = subtract8((U8)(places == 2 ? 4 : places == 1 ? 2 : 1), 1);
  clip.along.whole = add8((U8)(highByte8(phase) & invert8(lastInEntry)), lowFirst ? (U8)0 : (U8)1);
  clip.along.stretch = (U8)(places == 2 ? 1 : places == 1 ? 2 : 4);
  clip.along.lastStep = highByte8(subtract16(width, 1));
  clip.table.shift = lowByte8(shiftRight16((U16)(phase & word16(lastInEntry, 255)), places));
  clip.table.edges.width = shiftRight16(width, places);
  clip.table.entries = add8(highByte8(subtract16(clip.table.edges.width, 1)), 1);
  clip.table.edges.frontGain = read16(at + 8);
  clip.table.edges.backGain = read16(at + 10);
  clip.table.level = 255;
  const U8 closed = width == 65535u ? (U8)1 : (U8)0;
  clip.table.shares = clip.table.edges.frontGain || clip.table.edges.backGain || (lowByte8(width) && !closed) ? (U8)sharesEdges : (U8)sharesEven;
}

// ---- column: u32 turns/ms, u16 end gain (levels an entry 8.8), u8 entries from empty to full, u8 ColumnFlags ----

enum ColumnFlags { columnTravel = 3, columnEasing = 12, columnByValue = 16 };

static void prepareColumn(ClipState &clip) {
  ShowData at = clip.parameters;
  const U8 flags = read8(at + 7), travel = (U8)(flags & columnTravel);
  U16 full;
  if (flags & columnByValue) {
    full = word16(clip.value, clip.value);
  } else {
    full = phaseAt(clip.timeMs, at);
    if (travel == travelThereAndBack) full = (U16)((U16)(full << 1) ^ (U16)(full & 0x8000 ? 65535u : 0u));
    if (travel == travelBackward) full = (U16)(~full);
    full = ease16(quarter8((U8)(flags & columnEasing)), full);
  }
  wholeWay(clip, 255);
  clip.table.shares = sharesEdges;
  clip.table.edges.width = multiplyMiddle16(full, read8(at + 6));
  clip.table.edges.frontGain = 0;
  clip.table.edges.backGain = read16(at + 4);
}

// ---- bursts: u32 bursts/ms, u8 flashes in a burst, u8 flashes from burst to burst, u8 lit share, u8 edge gain 6.2 ----

static void prepareBursts(ClipState &clip) {
  ShowData at = clip.parameters;
  const U16 flash = multiplyMiddle16(phaseAt(clip.timeMs, at), read8(at + 5));
  const U8 phase = lowByte8(flash), lit = read8(at + 6);
  U8 level = 0;
  if (highByte8(flash) < read8(at + 4) && phase < lit) {
    const U8 left = subtract8(lit, phase);
    const U16 rise = multiply8(add8(phase < left ? phase : left, 1), read8(at + 7));
    level = highByte8(rise) > 3 ? (U8)255 : lowByte8(shiftRight16(rise, 2));
  }
  wholeWay(clip, level);
}

// ---- lightning: u16 slot ms, u8 chance of a strike in a slot, u8 seed, u16 half life of the after-glow ms ----
// A slot holds one strike at most, somewhere in its first half, so that strikes are at least half a slot apart.

/** A strike: full, a dip, full again, then it dies away. */
enum { strikeMs = 60, dipMs = 50, secondMs = 60, dipLevel = 40, glowLevel = 150 };

static U8 strikeLevel(U16 age, U16 halfLifeMs) {
  if (age >= strikeMs && age < strikeMs + dipMs) return dipLevel;
  if (age < strikeMs + dipMs + secondMs) return 255;
  U16 fading = subtract16(age, strikeMs + dipMs + secondMs);
  U8 level = glowLevel;
  for (; fading >= halfLifeMs; fading = subtract16(fading, halfLifeMs)) {
    level = half8(level);
    if (level == 0) return 0;
  }
  return subtract8(level, scale8(half8(level), (U8)((U32)((U32)fading * 255u) / (U32)halfLifeMs)));
}

static void prepareLightning(ClipState &clip) {
  ShowData at = clip.parameters;
  const U16 slotMs = read16(at);
  const U32 slot = (U32)(clip.timeMs / (U32)slotMs);
  U16 age = (U16)(U32)(clip.timeMs - multiply32(slot, (U32)slotMs));
  const U16 halfLifeMs = read16(at + 4), oldestMs = subtract16(65535u, slotMs);
  U8 level = 0, number = (U8)slot;
  // This slot's strike, or, before it or without one, what is left of the one before, for as long as an after-glow lasts: eight half lives.
  for (U32 before = slot;; before = (U32)(before - 1u)) {
    const U8 chance = chance8(number, read8(at + 3)), when = chance8(chance, number);
    const U16 start = multiplyMiddle16(shiftRight16(slotMs, 1), when);
    if (chance < read8(at + 2) && age >= start) {
      level = strikeLevel(subtract16(age, start), halfLifeMs);
      break;
    }
    if (before == 0 || age > oldestMs || shiftRight16(age, 3) > halfLifeMs) break;
    age = add16(age, slotMs);
    number = subtract8(number, 1);
  }
  wholeWay(clip, level);
}

// ---- stars: u32 turns/ms, u8 density, u8 seed, u8 1: begins bright and dies out, 0: swells and fades ----

static void prepareStars(ClipState &clip) {
  const U32 turns = turnsAt(clip.timeMs, clip.parameters);
  clip.chance.phase = highByte8(phase16(turns));
  clip.chance.density = read8(clip.parameters + 4);
  clip.chance.seed = read8(clip.parameters + 5);
  clip.chance.dies = read8(clip.parameters + 6);
  clip.chance.thrown = chance8(wholeTurns(turns), clip.chance.seed);
  clip.chance.thrownNext = chance8(add8(wholeTurns(turns), 1), clip.chance.seed);
  evenTable(clip, 255);
  clip.table.shares = sharesLevelled;
}

/** Odd factor whose fold spreads the bytes most evenly: no more than 4 of 256 too many or too few lie under any bound. */
enum { starFold = 0x5B };

/** Entry (low two bits mean nothing) and level; a dark LED has level 0. */
static inline U8 starEntry(const Chance &chance, U8 own, U8 &level) {
  own = (U8)(own ^ chance.seed);
  U8 age = add8(chance.phase, own);                      // each LED has its own beginning
  const U8 thrown = fold8((U8)((age < own ? chance.thrownNext : chance.thrown) ^ own), starFold);
  if (thrown < chance.density) {
    age = chance.dies ? invert8(age) : triangle8(age);
    level = square8(age);
  } else {
    level = 0;
  }
  return add8(thrown, own);
}

// ---- cloud: u32 drift x, u32 drift y (cells/ms 8.24, two's complement), u8 seed, u8 rowwise; fire also: u8 base, u8 cooling ----
// An LED's map bytes are its place in 32nds of a cell, at most 7 cells from the area's corner; fire's third byte is its height.

/** Odd factors of the lattice's two folds. */
enum { latticeFoldX = 0xB5, latticeFoldY = 0x9B };

#ifdef __AVR__
static void fillLatticeRow(U8 *to, U8 column, U8 rowChance) {
  const U8 x = latticeFoldX, y = latticeFoldY;
  U8 left = latticeSide, value;
  asm volatile("1: mul %[column],%[x]\n\t mov %[value],r0\n\t eor %[value],r1\n\t eor %[value],%[row]\n\t"
               "mul %[value],%[y]\n\t mov %[value],r0\n\t eor %[value],r1\n\t lsr %[value]\n\t st X+,%[value]\n\t"
               "inc %[column]\n\t dec %[left]\n\t brne 1b\n\t clr __zero_reg__\n\t"
               : "+x"(to), [column] "+r"(column), [left] "+r"(left), [value] "=&r"(value)
               : [row] "r"(rowChance), [x] "r"(x), [y] "r"(y)
               : "r0", "memory");
}
#else
static void fillLatticeRow(U8 *to, U8 column, U8 rowChance) {
  for (U8 left = latticeSide; left; left--, column = add8(column, 1))
    *to++ = half8(fold8((U8)(fold8(column, latticeFoldX) ^ rowChance), latticeFoldY));
}
#endif

static void prepareCloud(ClipState &clip) {
  const U32 x = turnsAt(clip.timeMs, clip.parameters), y = turnsAt(clip.timeMs, clip.parameters + 4);
  const U8 seed = read8(clip.parameters + 8);
  const U8 shareX = highByte8(phase16(x)), shareY = highByte8(phase16(y));
  clip.cloud.offsetX = eighth8(shareX);
  clip.cloud.offsetY = eighth8(shareY);
  clip.cloud.fractionX = (U8)(shareX & 7);
  clip.cloud.fractionY = (U8)(shareY & 7);
  clip.cloud.rowwise = read8(clip.parameters + 9);
  clip.cloud.base = read8(clip.parameters + 10);
  clip.cloud.cooling = read8(clip.parameters + 11);
  U8 row = wholeTurns(y);
  for (U8 *to = lattice; to < lattice + latticeSide * latticeSide; to += latticeSide, row = add8(row, 1))
    fillLatticeRow(to, wholeTurns(x), chance8(row, seed));
  evenTable(clip, 255);
}

/** From a to b, both under 128, by share / 256. */
static inline U8 between7(U8 a, U8 b, U8 share) {
  const I16 moved = (I16)((I16)(I8)subtract8(b, a) * (I16)share);
  return add8(a, highByte8((U16)moved));
}

/** 0 to 127 at a place in the lattice. */
static inline U8 cloudValue(const Cloud &cloud, U8 mapX, U8 mapY) {
  const U16 x = multiply8(add8(mapX, cloud.offsetX), 8), y = multiply8(add8(mapY, cloud.offsetY), 8);
  const U8 shareX = (U8)(lowByte8(x) | cloud.fractionX), shareY = (U8)(lowByte8(y) | cloud.fractionY);
  const U8 *corner = lattice + (uint8_t)add8(lowByte8(multiply8(highByte8(y), latticeSide)), highByte8(x));
  return between7(between7(corner[0], corner[latticeSide], shareY), between7(corner[1], corner[latticeSide + 1], shareY), shareX);
}

/** Four times a loss, at most 252: nothing is hot enough for more. */
static inline U8 fourfold8(U8 lost) { return (U8)((lost < 64 ? lost : (U8)63) << 2); }
/** What the lattice gives, more at the foot and less with height. */
static inline U8 fireEntry(const Cloud &cloud, U8 mapX, U8 mapY, U8 height) {
  const U8 heat = addSaturating8((U8)(cloudValue(cloud, mapX, mapY) << 1), cloud.base), lost = fourfold8(multiplyHigh8(height, cloud.cooling));
  return heat < lost ? (U8)0 : subtract8(heat, lost);
}

// ---- painted: u16 offset of the frames ----

static LAMPLOOM_NOINLINE void preparePainted(ClipState &clip) {
  ShowData frames = clip.data + read16(clip.parameters);
  const U16 count = read16(frames + framesCount);
  const U32 lengthMs = read32(frames + framesLengthMs), now = (U32)(clip.timeMs % lengthMs);
  ShowData entry = frames + framesList, next = entry;
  U32 endMs = lengthMs;
  for (U16 left = subtract16(count, 1); left; left--) {
    next = entry + frameEntrySize;
    if (read32(next + frameStartMs) > now) {
      endMs = read32(next + frameStartMs);
      break;
    }
    entry = next;
    next = frames + framesList;
  }
  const U32 leftMs = (U32)(endMs - now);
  const U16 fadeMs = read16(entry + frameFadeMs);
  clip.painted.share = leftMs < fadeMs ? (U8)((U32)((U32)((U32)fadeMs - leftMs) * 255u) / (U32)fadeMs) : (U8)0;
  clip.painted.cells = clip.data + read16(entry + frameCells);
  clip.painted.nextCells = clip.data + read16(next + frameCells);
  clip.painted.bits = read8(frames + framesBits);
  evenTable(clip, 255);
}

/** Number of the palette colour of an LED, counted over the whole area. */
static inline U8 cellAt(ShowData cells, U8 bits, U16 led) {
  switch ((uint8_t)bits) {
    case 1: return (U8)((U8)(read8(cells + (uint16_t)(U16)(led >> 3)) >> (uint8_t)(U8)(lowByte8(led) & 7)) & 1);
    case 2: return (U8)((U8)(read8(cells + (uint16_t)(U16)(led >> 2)) >> (uint8_t)(U8)((U8)(lowByte8(led) & 3) << 1)) & 3);
    default: return (U8)((U8)(read8(cells + (uint16_t)(U16)(led >> 1)) >> (uint8_t)(U8)((U8)(lowByte8(led) & 1) << 2)) & 15);
  }
}

// ---- letters: u32 passes/ms (8.24), u16 columns of a pass, u16 first column, u8 band gain, u16 offset of the letters ----
// An LED's map bytes: its column in the area, and the bit of its row in a column's byte.

static void prepareLetters(ClipState &clip) {
  ShowData at = clip.parameters, letters = clip.data + read16(at + 9);
  // Columns passed, 16.8.
  const U32 passed = (U32)(multiply32((U32)phaseAt(clip.timeMs, at), (U32)read16(at + 4)) >> 8);
  const U8 share = lowByte8((U16)passed);
  clip.letters.columns = letters + lettersColumns + (uint16_t)add16(read16(at + 6), (U16)(passed >> 8));
  clip.letters.bandGain = read8(at + 8);
  evenTable(clip, 255);
  clip.table.shares = sharesFours;
  clip.table.four[0] = 0;
  clip.table.four[1] = invert8(share);
  clip.table.four[2] = share;
  clip.table.four[3] = 255;
}

static inline U8 letterEntry(const Lettering &letters, U8 column, U8 rowBit) {
  ShowData here = letters.columns + (uint8_t)column;
  const U8 lit = read8(here) & rowBit ? (U8)4 : (U8)0, litNext = read8(here + 1) & rowBit ? (U8)8 : (U8)0;
  return (U8)((U8)(lowByte8(multiply8(column, letters.bandGain)) & 0xF0) | (U8)(lit | litNext));
}

static LAMPLOOM_NOINLINE void prepareEffect(U8 effect, ClipState &clip) {
  switch ((uint8_t)effect) {
    case effectGlow: prepareGlow(clip); break;
    case effectBands: prepareBands(clip); break;
    case effectColumn: prepareColumn(clip); break;
    case effectBursts: prepareBursts(clip); break;
    case effectLightning: prepareLightning(clip); break;
    case effectStars: prepareStars(clip); break;
    case effectCloud:
    case effectFire: prepareCloud(clip); break;
    case effectPainted: preparePainted(clip); break;
    default: prepareLetters(clip); break;
  }
}

}  // namespace lamploom
