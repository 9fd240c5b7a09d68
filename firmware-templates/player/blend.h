// Blends: how an LED's colour goes into the frame buffer, and the loops over the LEDs of a span. An entry of the colour table is {three colour
// bytes, rest}; what they mean depends on the blend and was settled when the table was filled (colours.h).
// These bodies are the meaning of every loop; AVR has the frequent ones in assembler with the same results (loops_avr.h).
// Not here: gamma, brightness, limiter (output.h): everything here is in the document's colour levels.
#pragma once
#include "effects.h"

namespace lamploom {

static inline U8 *entryAt(U8 entry) { return colourTable + (uint8_t)(U8)(entry & 0xFC); }

/** On black LEDs over, add and brighter wins come to the same: the colour is written. Not for LEDs with a level of their own. */
enum { blendWrite = blendCount };

/** Over: what is there x rest, and the colour, which has its share already. Tint: the entry says what is kept. */
template <uint8_t blend>
static inline void blendEntry(U8 *led, const U8 *entry) {
  if (blend == blendOver && entry[entryRest] == 255) return;
  for (uint8_t i = 0; i < 3; i++) {
    const U8 colour = entry[entryColour + i];
    if (blend == blendOver) led[i] = add8(multiplyHigh8(led[i], entry[entryRest]), colour);
    if (blend == blendAdd) led[i] = addSaturating8(led[i], colour);
    if (blend == blendBrighterWins && led[i] < colour) led[i] = colour;
    if (blend == blendTint) led[i] = scale8(led[i], colour);
    if (blend == blendWrite) led[i] = colour;
  }
}

/** The same for an LED with a level of its own, at most 254. */
template <uint8_t blend>
static inline void blendLevelled(U8 *led, const U8 *entry, U8 level, U8 fade) {
  const U8 share = blend == blendOver ? scale8(level, fade) : level;
  if (share == 0) return;
  for (uint8_t i = 0; i < 3; i++) {
    const U8 colour = blend == blendTint ? invert8(entry[entryColour + i]) : entry[entryColour + i], part = scale8(colour, share);
    if (blend == blendOver) led[i] = highByte8(add16(multiply8(colour, share), multiply8(led[i], invert8(share))));
    if (blend == blendAdd) led[i] = addSaturating8(led[i], part);
    if (blend == blendBrighterWins && led[i] < part) led[i] = part;
    if (blend == blendTint) led[i] = scale8(led[i], invert8(part));
  }
}

/** LEDs to run over: neighbours on the wire. */
struct Stretch {
  U8 *led;
  ShowData map;   // the first LED's map bytes
  U16 number;     // the first LED's number within the area
  U8 ledCount;
};

static inline U8 alongStep(const Along &along, U8 coordinate) {
  return add8((U8)(coordinate ^ along.flip), along.whole);
}

/** While one painted frame turns into the next each colour is the sum of what is shown and what comes; together their shares are one. */
static inline void addEntries(U8 *to, const U8 *now, const U8 *next) {
  to[entryRest] = now[entryRest];
  for (uint8_t i = 0; i < 3; i++) to[entryColour + i] = add8(now[entryColour + i], next[entryColour + i]);
}

#ifndef __AVR__
template <uint8_t blend>
static inline void runAlong(const Along &along, Stretch stretch) {
  for (; stretch.ledCount; stretch.ledCount--, stretch.led += 3) {
    const U8 step = alongStep(along, readNext(stretch.map));
    if (step <= along.lastStep) blendEntry<blend>(stretch.led, entryAt(lowByte8(multiply8(step, along.stretch))));
  }
}
template <uint8_t blend>
static inline void runChance(const Chance &chance, U8 fade, Stretch stretch) {
  for (; stretch.ledCount; stretch.ledCount--, stretch.led += 3) {
    U8 level;
    const U8 entry = starEntry(chance, readNext(stretch.map), level);
    blendLevelled<blend>(stretch.led, entryAt(entry), level, fade);
  }
}
template <uint8_t blend>
static inline void runCloud(const Cloud &cloud, Stretch stretch) {
  for (; stretch.ledCount; stretch.ledCount--, stretch.led += 3) {
    const U8 x = readNext(stretch.map), y = readNext(stretch.map);
    blendEntry<blend>(stretch.led, entryAt((U8)(cloudValue(cloud, x, y) << 1)));
  }
}
template <uint8_t blend>
static inline void runFire(const Cloud &fire, Stretch stretch) {
  for (; stretch.ledCount; stretch.ledCount--, stretch.led += 3) {
    const U8 x = readNext(stretch.map), y = readNext(stretch.map), height = readNext(stretch.map);
    blendEntry<blend>(stretch.led, entryAt(fireEntry(fire, x, y, height)));
  }
}
template <uint8_t blend>
static inline void runLetters(const Lettering &letters, Stretch stretch) {
  for (; stretch.ledCount; stretch.ledCount--, stretch.led += 3) {
    const U8 column = readNext(stretch.map), rowBit = readNext(stretch.map);
    blendEntry<blend>(stretch.led, entryAt(letterEntry(letters, column, rowBit)));
  }
}
template <uint8_t blend>
static inline void runPainted(const Painted &painted, Stretch stretch) {
  for (; stretch.ledCount; stretch.ledCount--, stretch.led += 3, stretch.number = add16(stretch.number, 1)) {
    const U8 now = (U8)(cellAt(painted.cells, painted.bits, stretch.number) << 2);
    if (painted.share == 0) {
      blendEntry<blend>(stretch.led, entryAt(now));
    } else {
      U8 entry[entrySize];
      const U8 next = (U8)(cellAt(painted.nextCells, painted.bits, stretch.number) << 2);
      addEntries(entry, entryAt(now), entryAt(next) + paletteMost * entrySize);
      blendEntry<blend>(stretch.led, entry);
    }
  }
}

static void fillPainted(ShowData palette, Painted &painted, U8 blend, U8 fade) {
  fillPalette(palette, painted.share, blend, fade, colourTable, (U8)(paletteMost * entrySize));
}

template <uint8_t blend>
static void runFamily(U8 family, const ClipState &clip, U8 fade, const Stretch &stretch) {
  switch ((uint8_t)family) {
    case familyAlong: runAlong<blend>(clip.along, stretch); break;
    case familyChance: runChance<blend>(clip.chance, fade, stretch); break;
    case familyCloud: runCloud<blend>(clip.cloud, stretch); break;
    case familyFire: runFire<blend>(clip.cloud, stretch); break;
    case familyPainted: runPainted<blend>(clip.painted, stretch); break;
    default: runLetters<blend>(clip.letters, stretch); break;
  }
}

static void runStretch(U8 family, U8 blend, const ClipState &clip, U8 fade, const Stretch &stretch) {
  switch ((uint8_t)blend) {
    case blendOver: runFamily<blendOver>(family, clip, fade, stretch); break;
    case blendAdd: runFamily<blendAdd>(family, clip, fade, stretch); break;
    case blendBrighterWins: runFamily<blendBrighterWins>(family, clip, fade, stretch); break;
    case blendTint: runFamily<blendTint>(family, clip, fade, stretch); break;
    default: runFamily<blendWrite>(family, clip, fade, stretch); break;
  }
}
#endif

}  // namespace lamploom
