// Every loop over LEDs, of every family with every blend, over stretches of 1 to 255 LEDs with varied maps, parameters and tables, edges often.
// Compiled for the chip (assembler bodies), natively (C++ bodies) and with checked integers; loops.test.ts compares the three.
// Each case: u8 variant, u8 blend, u8 LED count; the stretch before and after, with the guard bytes around it.
#include "render.h"
#include "vector_output.h"

using namespace lamploom;

enum { rounds = 20, guardBytes = 6, guard = 0xA5, mostLeds = 255, mapLeds = 256 };
enum Variant { along, way, chanceSwells, chanceDies, cloud, cloudRows, fire, painted1, painted2, paintedPairs, painted4, letters, variantCount };

static const uint8_t edges[] = {0, 1, 127, 128, 254, 255};
/** The most that a cloud's map holds: seven cells of 32 steps. */
#define CELL(n) (uint8_t)((13ul * (n) * (n) + 97ul * (n) + 5ul) % 225ul)
#define EDGE(n) ((n) % 6 == 0 ? 0 : (n) % 6 == 1 ? 1 : (n) % 6 == 2 ? 127 : (n) % 6 == 3 ? 128 : (n) % 6 == 4 ? 254 : 255)
#define ANY(n) (uint8_t)((n) % 5 == 0 ? EDGE((n) / 5) : ((n) * (n) * 7u + (n) * 91u + 7u) & 255u)
/** Rows of eleven LEDs share a height. */
#define ROW(n) CELL((n) / 11u + 3u)

#define ANY_3(n) ANY(3u * (n)), ANY(3u * (n) + 1u), ANY(3u * (n) + 2u)
#define CLOUD_3(n) CELL(n), CELL(2u * (n) + 1u), ANY(n)
#define CLOUD_2(n) CELL(n), CELL(3u * (n) + 2u)
#define ROWS_2(n) CELL(n), ROW(n)
/** The bit of a row; an LED that is on none has none. */
#define LETTERS_2(n) ANY(n), (uint8_t)(1u << ((n) * 5u % 9u))
#define TIMES_4(what, n) what(n), what((n) + 1u), what((n) + 2u), what((n) + 3u)
#define TIMES_16(what, n) TIMES_4(what, n), TIMES_4(what, (n) + 4u), TIMES_4(what, (n) + 8u), TIMES_4(what, (n) + 12u)
#define TIMES_64(what, n) TIMES_16(what, n), TIMES_16(what, (n) + 16u), TIMES_16(what, (n) + 32u), TIMES_16(what, (n) + 48u)
#define ALL(what) TIMES_64(what, 0u), TIMES_64(what, 64u), TIMES_64(what, 128u), TIMES_64(what, 192u)

static const U8 anyMap[3 * mapLeds] LAMPLOOM_FLASH = {ALL(ANY_3)};
static const U8 cloudMap[2 * mapLeds] LAMPLOOM_FLASH = {ALL(CLOUD_2)};
static const U8 cloudRowsMap[2 * mapLeds] LAMPLOOM_FLASH = {ALL(ROWS_2)};
static const U8 fireMap[3 * mapLeds] LAMPLOOM_FLASH = {ALL(CLOUD_3)};
#define UNDER_8_3(n) (uint8_t)(ANY(3u * (n)) & 0x77), (uint8_t)(ANY(3u * (n) + 1u) & 0x77), (uint8_t)(ANY(3u * (n) + 2u) & 0x77)
static const U8 cellsUnder8[3 * mapLeds] LAMPLOOM_FLASH = {ALL(UNDER_8_3)};
/** A palette: its mark, its count, its colours. */
#define PALETTE(count) {paletteMark, count, ANY_3(1u), ANY_3(3u), ANY_3(10u), ANY_3(21u), ANY_3(30u), ANY_3(41u), ANY_3(50u), ANY_3(65u), \
    ANY_3(70u), ANY_3(81u), ANY_3(90u), ANY_3(101u), ANY_3(110u), ANY_3(115u), ANY_3(130u), ANY_3(141u)}
enum { paletteBytes = paletteColours + 3 * paletteMost };
static const U8 palettes[][paletteBytes] LAMPLOOM_FLASH = {PALETTE(2), PALETTE(4), PALETTE(8), PALETTE(16)};
static const U8 lettersMap[2 * mapLeds] LAMPLOOM_FLASH = {ALL(LETTERS_2)};

static U8 bytes[guardBytes + 3 * mostLeds + guardBytes];

/** An edge as often as not. */
static uint8_t level8() {
  const uint8_t n = varied8();
  return n & 1 ? varied8() : edges[n / 2 % sizeof edges];
}

/** The map's bytes, from any LED on that leaves room for the stretch. */
static ShowData placeIn(ShowData map, uint8_t bytesEach, uint8_t ledCount) {
  return map + (uint16_t)bytesEach * (uint16_t)(varied8() % (uint8_t)(mapLeds - ledCount));
}

static U8 prepareAlong(uint8_t variant, ClipState &clip, Stretch &stretch) {
  clip.along.flip = (U8)(varied8() & 1 ? 255 : 0);
  clip.along.whole = (U8)level8();
  clip.along.lastStep = variant == way ? (U8)255 : (U8)level8();
  clip.along.stretch = variant == way ? (U8)1 : (U8)(uint8_t)(1u << varied8() % 3);
  stretch.map = placeIn(anyMap, 1, (uint8_t)stretch.ledCount);
  return (U8)familyAlong;
}
static U8 prepareChance(uint8_t variant, ClipState &clip, Stretch &stretch) {
  clip.chance.phase = (U8)level8();
  clip.chance.thrown = (U8)varied8();
  clip.chance.thrownNext = (U8)varied8();
  clip.chance.density = (U8)(varied8() & 1 ? 255 : level8());
  clip.chance.seed = (U8)level8();
  clip.chance.dies = variant == chanceDies ? (U8)1 : (U8)0;
  stretch.map = placeIn(anyMap, 1, (uint8_t)stretch.ledCount);
  return (U8)familyChance;
}
static U8 prepareLattice(uint8_t variant, ClipState &clip, Stretch &stretch) {
  const bool rows = variant == cloudRows, burns = variant == fire;
  clip.cloud.offsetX = (U8)(varied8() & 31);
  clip.cloud.offsetY = (U8)(varied8() & 31);
  clip.cloud.fractionX = (U8)(varied8() & 7);
  clip.cloud.fractionY = (U8)(varied8() & 7);
  clip.cloud.rowwise = rows ? (U8)1 : (U8)0;
  clip.cloud.base = (U8)level8();
  clip.cloud.cooling = (U8)level8();
  for (uint8_t i = 0; i < latticeSide * latticeSide; i++) lattice[i] = (U8)(level8() & 127);
  if (burns) stretch.map = placeIn(fireMap, 3, (uint8_t)stretch.ledCount);
  else stretch.map = placeIn(rows ? cloudRowsMap : cloudMap, 2, (uint8_t)stretch.ledCount);
  return burns ? (U8)familyFire : (U8)familyCloud;
}
/** The table's entries, too: what fades may have an entry for each pair of colours. */
static U8 preparePaint(uint8_t variant, uint8_t blend, U8 fade, ClipState &clip, Stretch &stretch) {
  const ShowData cells = variant == paintedPairs ? cellsUnder8 : anyMap;
  clip.painted.bits = variant == painted1 ? (U8)1 : variant == painted2 ? (U8)2 : (U8)4;
  clip.painted.cells = cells + (varied8() & 127);
  clip.painted.nextCells = cells + 200 + (varied8() & 127);
  clip.painted.share = (U8)(varied8() & 1 ? 0 : level8());
  stretch.number = (U16)(varied16() & 511);
  fillPainted(palettes[variant - painted1], clip.painted, (U8)(blend == blendWrite ? (uint8_t)blendOver : blend), fade);
  return (U8)familyPainted;
}
static U8 prepareText(ClipState &clip, Stretch &stretch) {
  // A column beyond the area's last one may be looked at.
  clip.letters.columns = anyMap + (varied16() & 511);
  clip.letters.bandGain = (U8)level8();
  stretch.map = placeIn(lettersMap, 2, (uint8_t)stretch.ledCount);
  return (U8)familyLetters;
}

static U8 prepareVariant(uint8_t variant, uint8_t blend, U8 fade, ClipState &clip, Stretch &stretch) {
  switch (variant) {
    case along:
    case way: return prepareAlong(variant, clip, stretch);
    case chanceSwells:
    case chanceDies: return prepareChance(variant, clip, stretch);
    case painted1:
    case painted2:
    case paintedPairs:
    case painted4: return preparePaint(variant, blend, fade, clip, stretch);
    case letters: return prepareText(clip, stretch);
    default: return prepareLattice(variant, clip, stretch);
  }
}

static void putStretch(uint8_t ledCount) {
  for (uint16_t i = 0; i < 2u * guardBytes + 3u * ledCount; i++) put8((uint8_t)bytes[i]);
}

static void runCase(uint8_t variant, uint8_t blend, uint8_t ledCount) {
  ClipState clip;
  Stretch stretch;
  for (uint16_t i = 0; i < tableEntries * entrySize; i++) colourTable[i] = (U8)level8();
  for (uint16_t i = 0; i < sizeof bytes; i++) bytes[i] = (U8)guard;
  // What is written is written on black LEDs.
  for (uint16_t i = 0; i < 3u * ledCount; i++) bytes[guardBytes + i] = (U8)(blend == blendWrite ? 0 : level8());
  stretch.led = bytes + guardBytes;
  stretch.map = anyMap;
  stretch.number = (U16)0;
  stretch.ledCount = (U8)ledCount;
  const U8 fade = (U8)level8();
  const U8 family = prepareVariant(variant, blend, fade, clip, stretch);
  put8(variant);
  put8(blend);
  put8(ledCount);
  putStretch(ledCount);
  runStretch(family, (U8)blend, clip, fade, stretch);
  putStretch(ledCount);
}

int main() {
  static const uint8_t firstCounts[] = {1, 2, 31, 32, 33, 64, 255};
  for (uint8_t variant = 0; variant < variantCount; variant++) {
    const uint8_t blends = variant == chanceSwells || variant == chanceDies ? (uint8_t)blendCount : (uint8_t)(blendWrite + 1);
    for (uint8_t blend = 0; blend < blends; blend++)
      for (uint8_t n = 0; n < rounds; n++)
        runCase(variant, blend, n < sizeof firstCounts ? firstCounts[n] : (uint8_t)(1 + varied8() % mostLeds));
  }
  return finishVectors();
}
