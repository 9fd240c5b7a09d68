// The loops that fill a clip's colour table and a cloud's lattice: shares along edges, a gradient's pieces, palettes, rows of dice. Compiled for the
// chip (assembler bodies), natively (C++ bodies) and with checked integers; loops-tables.test.ts compares the three and works some out itself.
#include "render.h"
#include "vector_output.h"

using namespace lamploom;

enum { evenCases = 64, edgeCases = 300, pieceCases = 400, colourCases = 300, paletteCases = 60, rowCases = 200 };
static const uint8_t edges[] = {0, 1, 127, 128, 254, 255};

// Gradients as the show compiler writes them, and ones of any bytes at all: u8 pieces, then {u8 entries, 3 starts, 3 steps}.
#define ANY(n) (uint8_t)((n) * (n) * 11u + (n) * 59u + 3u)
#define ANY_4(n) ANY(n), ANY((n) + 1u), ANY((n) + 2u), ANY((n) + 3u)
#define ANY_12(n) ANY_4(n), ANY_4((n) + 4u), ANY_4((n) + 8u)
enum { gradientBytes = 1 + 7 * pieceSize, gradientCount = 5 };
static const U8 gradients[gradientCount][gradientBytes] LAMPLOOM_FLASH = {
    {1, 64, 0x80, 0x00, 0x80, 0xFF, 0x80, 0x7F, 0xF0, 0x03, 0x10, 0xFC, 0x00, 0x00},
    {3, 2, 0x80, 0x00, 0x80, 0xFF, 0x80, 0x10, 0x00, 0xFF, 0x00, 0x81, 0x00, 0x7F,
     61, 0x80, 0xF0, 0x80, 0x0A, 0x00, 0x80, 0x40, 0xFC, 0xC0, 0x03, 0x01, 0x00,
     1, 0x7F, 0xFF, 0xFF, 0x01, 0xFF, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00},
    {1, 1, 0x80, 0x40, 0x80, 0x80, 0x80, 0xFF, 0, 0, 0, 0, 0, 0},
    {7, 3, ANY_12(2u), 1, ANY_12(20u), 12, ANY_12(41u), 1, ANY_12(62u), 5, ANY_12(83u), 20, ANY_12(104u), 7, ANY_12(125u)},
    {4, 16, ANY_12(140u), 16, ANY_12(161u), 16, ANY_12(182u), 16, ANY_12(203u)}};
#define COLOURS_6(n) ANY_12(n), ANY_4((n) + 12u), ANY((n) + 16u), ANY((n) + 17u)
enum { paletteBytes = paletteColours + 3 * paletteMost };
static const U8 palettes[3][paletteBytes] LAMPLOOM_FLASH = {
    {paletteMark, 1, 255, 128, 1},
    {paletteMark, 6, COLOURS_6(9u)},
    {paletteMark, 16, COLOURS_6(31u), COLOURS_6(60u), ANY_12(90u)}};

/** An edge as often as not. */
static uint8_t level8() {
  const uint8_t n = varied8();
  return n & 1 ? varied8() : edges[n / 2 % sizeof edges];
}
static U16 gain16() {
  switch (varied8() & 3) {
    case 0: return (U16)0;
    case 1: return (U16)1;
    case 2: return (U16)(uint16_t)(varied16() & 0x1FFF);
    default: return (U16)varied16();
  }
}
static void varyTable() {
  for (uint16_t i = 0; i < tableEntries * entrySize; i++) colourTable[i] = (U8)level8();
}
static void putTable() {
  for (uint16_t i = 0; i < tableEntries * entrySize; i++) put8((uint8_t)colourTable[i]);
}

static void evens() {
  for (uint8_t left = 1; left <= evenCases; left++) {
    for (uint16_t i = 0; i < tableEntries * entrySize; i++) colourTable[i] = (U8)(uint8_t)i;
    shareEven((U8)left, (U8)(uint8_t)(left * 5));
    putTable();
  }
}

/** u8 left, u16 level, u16 gain, u8 fade, u8 first entry, u8 1: downwards; the table before and after. */
static void edgeCase() {
  const bool down = varied8() & 1;
  const uint8_t left = (uint8_t)(1 + varied8() % tableEntries), first = down ? (uint8_t)(left - 1) : (uint8_t)(varied8() % (uint8_t)(tableEntries + 1 - left));
  const U16 level = word16((U8)level8(), (U8)varied8()), gain = gain16();
  const U8 fade = (U8)level8();
  varyTable();
  put8(left);
  put16((uint16_t)level);
  put16((uint16_t)gain);
  put8((uint8_t)fade);
  put8(first);
  put8(down ? 1 : 0);
  putTable();
  shareEdge(colourTable + entryShare + entrySize * first, (U8)left, level, gain, fade, down ? (I16)-entrySize : (I16)entrySize);
  putTable();
}

/** u8 gradient, u8 left, u8 skip, u8 between, u8 kind, u8 flip or rest; the table before; what is left, the table after. */
static void pieceCase(uint8_t n) {
  const uint8_t gradient = (uint8_t)(n % gradientCount);
  Filling filling;
  filling.to = colourTable;
  filling.piece = gradients[gradient] + 1;
  filling.pieces = read8(gradients[gradient]);
  filling.left = (U8)(uint8_t)(1 + varied8() % tableEntries);
  filling.skip = (U8)(uint8_t)(varied8() & 1 ? 0 : varied8() % 66);
  filling.between = (U8)level8();
  filling.kind = (U8)(uint8_t)(varied8() % 3);
  filling.flipRest = (U8)(varied8() & 1 ? 255 : 0);
  varyTable();
  put8(gradient);
  put8((uint8_t)filling.left);
  put8((uint8_t)filling.skip);
  put8((uint8_t)filling.between);
  put8((uint8_t)filling.kind);
  put8((uint8_t)filling.flipRest);
  putTable();
  put8((uint8_t)fillPieces(filling));
  putTable();
}

/** Everything together, as a frame does it. */
static void colourCase(uint8_t n) {
  TableRun run;
  run.entries = (U8)(uint8_t)(1 + varied8() % tableEntries);
  run.shift = (U8)level8();
  run.level = (U8)level8();
  run.shares = (U8)(uint8_t)(varied8() & 3);
  if (run.shares == sharesFours) {
    for (uint8_t i = 0; i < 4; i++) run.four[i] = (U8)level8();
  } else {
    run.edges.width = varied8() & 1 ? word16(subtract8(run.entries, 1), (U8)varied8()) : (U16)varied16();
    run.edges.frontGain = gain16();
    run.edges.backGain = gain16();
  }
  const U16 turned = (U16)(varied8() & 1 ? 0 : varied16() % ((uint16_t)(uint8_t)run.entries * 256u));
  const U8 blend = (U8)(uint8_t)(varied8() & 3), fade = (U8)level8();
  varyTable();
  fillColours(gradients[n % gradientCount], run, turned, blend, fade);
  putTable();
}

/** u8 share, u8 blend, u8 fade; the table before and after. */
static void paletteCase(uint8_t n) {
  const U8 share = (U8)(varied8() & 1 ? 0 : level8()), blend = (U8)(uint8_t)(n & 3), fade = (U8)level8();
  varyTable();
  put8((uint8_t)share);
  put8((uint8_t)blend);
  put8((uint8_t)fade);
  putTable();
  fillPalette(palettes[n % 3], share, blend, fade, colourTable, (U8)(paletteMost * entrySize));
  putTable();
}

/** u8 column, u8 chance of the row; the row, one byte behind it. */
static void rowCase() {
  const uint8_t column = level8(), chance = level8();
  lattice[latticeSide] = (U8)0xA5;
  fillLatticeRow(lattice, (U8)column, (U8)chance);
  put8(column);
  put8(chance);
  for (uint8_t i = 0; i <= latticeSide; i++) put8((uint8_t)lattice[i]);
}

int main() {
  evens();
  for (uint16_t n = 0; n < edgeCases; n++) edgeCase();
  for (uint16_t n = 0; n < pieceCases; n++) pieceCase((uint8_t)(n % 200));
  for (uint16_t n = 0; n < colourCases; n++) colourCase((uint8_t)(n % 200));
  for (uint16_t n = 0; n < paletteCases; n++) paletteCase((uint8_t)n);
  for (uint16_t n = 0; n < rowCases; n++) rowCase();
  return finishVectors();
}
