// The loops of blend.h that have an assembler body: the four blends, the colour table; random inputs and edges.
// Each case puts out its inputs too, so that blend.test.ts can work out the result by itself.
#include "render.h"
#include "vector_output.h"

using namespace lamploom;

enum { rounds = 60, ledBytes = 3 * chunkLeds, guardBytes = 3 };
static const uint8_t edges[] = {0, 1, 127, 128, 254, 255};

/** An edge as often as not. */
static uint8_t level8() {
  const uint8_t n = varied8();
  return n & 1 ? varied8() : edges[n / 2 % sizeof edges];
}
static void putAll(const U8 *bytes, uint16_t count) {
  for (uint16_t i = 0; i < count; i++) put8((uint8_t)bytes[i]);
}

static U8 leds[ledBytes + guardBytes];

/** blend, fade, LED count; pairs, colours, LEDs before; LEDs after, with bytes that must stay as they are. */
static void blendCase(uint8_t blend, uint8_t fade, uint8_t ledCount) {
  for (uint8_t i = 0; i < 2 * chunkLeds; i++) scratch[i] = level8();
  for (uint16_t i = 0; i < tableEntries * tableStride; i++) colourTable[i] = level8();
  for (uint8_t i = 0; i < ledBytes + guardBytes; i++) leds[i] = level8();
  put8(blend);
  put8(fade);
  put8(ledCount);
  putAll(scratch, 2 * chunkLeds);
  putAll(colourTable, tableEntries * tableStride);
  putAll(leds, ledBytes + guardBytes);
  blendChunk((U8)blend, leds, (U8)fade, (U8)ledCount);
  putAll(leds, ledBytes + guardBytes);
}

// Three pieces of 2, 61 and 1 colours, as gradientPieces would write them: up steeply, down slowly and up, one colour.
static const U8 gradient[] LAMPLOOM_FLASH = {
    3,
    2,  0x80, 0x00, 0x80, 0xFF, 0x80, 0x10, 0x00, 0xFF, 0x00, 0x81, 0x00, 0x7F,
    61, 0x80, 0xF0, 0x80, 0x0A, 0x00, 0x80, 0x40, 0xFC, 0xC0, 0x03, 0x01, 0x00,
    1,  0x7F, 0xFF, 0xFF, 0x01, 0xFF, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00};

static void tables() {
  for (uint8_t blend = 0; blend < 4; blend++)
    for (uint8_t fade = 0; fade < sizeof edges; fade++) {
      for (uint16_t i = 0; i < tableEntries * tableStride; i++) colourTable[i] = 0;
      fillColourTable(gradient, (U8)blend, (U8)edges[fade]);
      putAll(colourTable, tableEntries * tableStride);
    }
}

int main() {
  for (uint8_t blend = 0; blend < 4; blend++)
    for (uint8_t n = 0; n < rounds; n++) {
      const uint8_t fade = n < sizeof edges ? edges[n] : level8();
      blendCase(blend, fade, n % 2 ? (uint8_t)(1 + varied8() % chunkLeds) : (uint8_t)chunkLeds);
    }
  tables();
  return finishVectors();
}
