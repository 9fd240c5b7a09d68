// Every effect's run over many chunks: varied places, positions and constants, chunks from 1 to 32 LEDs. Compiled for the chip (assembler
// bodies), natively (C++ bodies) and with checked integers; effect-bodies.test.ts compares the three.
#include "effects.h"
#include "vector_output.h"

using namespace lamploom;

enum { rounds = 60, tableBytes = 128, parameterSets = 6 };

#define BYTES_4(n) (uint8_t)((n) * 91 + 7), (uint8_t)((n) * 37 + 130), (uint8_t)((n) * 203 + 66), (uint8_t)((n) * 149 + 251)
#define BYTES_16(n) BYTES_4(n), BYTES_4((n) + 3), BYTES_4((n) + 8), BYTES_4((n) + 21)
#define BYTES_64(n) BYTES_16(n), BYTES_16((n) + 40), BYTES_16((n) + 77), BYTES_16((n) + 113)
static const U8 flash[tableBytes] LAMPLOOM_FLASH = {BYTES_64(0), BYTES_64(201)};

// What run reads beside the state: a band's step per place, a ring's turns per unit, a cloud's cells per unit.
static const U8 bandSteps[parameterSets][6] LAMPLOOM_FLASH = {{0, 0, 0, 0, 0, 1}, {0, 0, 0, 0, 0x80, 0}, {0, 0, 0, 0, 0, 2},
                                                              {0, 0, 0, 0, 0, 5}, {0, 0, 0, 0, 0, 16}, {0, 0, 0, 0, 0x80, 0}};
static const U8 ringSteps[parameterSets][8] LAMPLOOM_FLASH = {{0, 0, 0, 0, 0, 0, 0x22, 0}, {0, 0, 0, 0, 0, 0, 0x10, 1},
                                                              {0, 0, 0, 0, 0, 0, 0x99, 4}, {0, 0, 0, 0, 0, 0, 0xFF, 0x42},
                                                              {0, 0, 0, 0, 0, 0, 0, 0x10}, {0, 0, 0, 0, 0, 0, 0xFF, 0xFF}};
static const U8 cloudSteps[parameterSets][2] LAMPLOOM_FLASH = {{1, 0}, {0x40, 0}, {0xFF, 0}, {0x80, 1}, {0, 4}, {7, 7}};

static void putPairs(uint8_t ledCount) {
  for (uint8_t i = 0; i < 2 * ledCount; i++) put8((uint8_t)scratch[i]);
}

static void runAll(uint8_t n) {
  ClipState state;
  state.timeMs = 0;
  state.a = (U16)varied16();
  state.b = (U16)(n & 1 ? varied16() & 0x7FFF : 320u + varied8());
  state.c = (U16)varied16();
  state.k0 = (U8)varied8();
  state.k1 = (U8)(n & 2 ? 255 : 0);
  state.k2 = (U8)varied8();
  state.k3 = (U8)varied8();
  Chunk chunk;
  chunk.ledCount = (U8)(1 + n % chunkLeds);
  chunk.positions = flash + (varied8() & 63);
  chunk.places = flash + (varied8() & 63);
  const uint8_t set = n % parameterSets, ledCount = (uint8_t)chunk.ledCount;
  runGlow(state, chunk);
  putPairs(ledCount);
  state.parameters = bandSteps[set];
  runBand(state, chunk);
  putPairs(ledCount);
  runStars(state, chunk);
  putPairs(ledCount);
  state.parameters = ringSteps[set];
  runRings(state, chunk);
  putPairs(ledCount);
  for (uint8_t i = 0; i < latticeSide * latticeSide; i++) lattice[i] = (U8)(varied8() & 127);
  state.parameters = cloudSteps[set];
  state.a = (U16)varied8();
  state.b = (U16)varied8();
  runCloud(state, chunk);
  putPairs(ledCount);
}

int main() {
  for (uint8_t n = 0; n < rounds; n++) runAll(n);
  return finishVectors();
}
