// The helpers of arithmetic.h over their inputs: all of them where they are 8 bits, edges and a dense sample beyond.
// Compiled for the chip (assembler bodies), natively (C++ bodies) and with checked integers. arithmetic.test.ts knows the order.
#include "effects.h"
#include "vector_output.h"

using namespace lamploom;

#define FOR_ALL_PAIRS for (uint16_t a = 0; a < 256; a++) for (uint16_t b = 0; b < 256; b++)
#define FOR_ALL_BYTES for (uint16_t a = 0; a < 256; a++)

static const uint16_t edges[] = {0x0000, 0x0001, 0x0002, 0x007F, 0x0080, 0x0081, 0x00FE, 0x00FF, 0x0100, 0x0101, 0x01FF, 0x0FFF,
                                 0x1000, 0x5555, 0x7F80, 0x7FFF, 0x8000, 0x8001, 0x80FF, 0xAAAA, 0xFE01, 0xFEFF, 0xFF00, 0xFF01,
                                 0xFFFE, 0xFFFF};
enum { edgeCount = sizeof edges / sizeof edges[0], samples = 20000, easeEvery = 8 };
#define FOR_ALL_EDGES(i) for (uint8_t i = 0; i < edgeCount; i++)

static void allPairs() {
  FOR_ALL_PAIRS put16((uint16_t)multiply8((U8)a, (U8)b));
  FOR_ALL_PAIRS put8((uint8_t)multiplyHigh8((U8)a, (U8)b));
  FOR_ALL_PAIRS put8((uint8_t)scale8((U8)a, (U8)b));
  FOR_ALL_PAIRS put8((uint8_t)addSaturating8((U8)a, (U8)b));
  FOR_ALL_PAIRS put8((uint8_t)fold8((U8)a, (U8)b));
  FOR_ALL_PAIRS {
    U8 larger = (U8)a, smaller = (U8)b;
    order8(larger, smaller);
    put8((uint8_t)larger);
    put8((uint8_t)smaller);
  }
  FOR_ALL_PAIRS put8((uint8_t)chance8((U8)a, (U8)b));
}

static void singleInputs() {
  FOR_ALL_BYTES put8((uint8_t)triangle8((U8)a));
  FOR_ALL_BYTES put8((uint8_t)half8((U8)a));
  FOR_ALL_BYTES put8((uint8_t)eighth8((U8)a));
  FOR_ALL_BYTES put8((uint8_t)quarter8((U8)a));
  FOR_ALL_BYTES put8((uint8_t)square8((U8)a));
  FOR_ALL_BYTES put8((uint8_t)ease8((U8)a));
}

static void words() {
  FOR_ALL_EDGES(i)
    for (uint16_t b = 0; b < 256; b++) {
      put16((uint16_t)multiplyLow16((U16)edges[i], (U8)b));
      put16((uint16_t)multiplyMiddle16((U16)edges[i], (U8)b));
      put16((uint16_t)shareOfStep16((U16)edges[i], (U8)b));
    }
  for (uint16_t n = 0; n < samples; n++) {
    const uint16_t a = varied16();
    const uint8_t b = varied8();
    put16((uint16_t)multiplyLow16((U16)a, (U8)b));
    put16((uint16_t)multiplyMiddle16((U16)a, (U8)b));
    put16((uint16_t)shareOfStep16((U16)a, (U8)b));
  }
}

static void wordPairs() {
  FOR_ALL_EDGES(i)
  FOR_ALL_EDGES(j) {
    put16((uint16_t)multiplyHigh16((U16)edges[i], (U16)edges[j]));
    put16((uint16_t)addSaturating16((U16)edges[i], (U16)edges[j]));
    put32((uint32_t)multiply32((U32)((uint32_t)edges[i] * 65536u + edges[j]), (U32)((uint32_t)edges[j] * 65536u + edges[i])));
  }
  FOR_ALL_EDGES(i)
  for (uint8_t places = 0; places <= 16; places++) put16((uint16_t)shiftRight16((U16)edges[i], (U8)places));
  for (uint8_t easing = 0; easing < 4; easing++) {
    for (uint32_t way = 0; way < 65536; way += easeEvery) put16((uint16_t)ease16((U8)easing, (U16)(uint16_t)way));
    put16((uint16_t)ease16((U8)easing, (U16)(uint16_t)65535u));
  }
}

int main() {
  allPairs();
  singleInputs();
  words();
  wordPairs();
  return finishVectors();
}
