// The player for the preview (WebAssembly) and for tests on a computer: the same headers as on the chip, behind a few plain functions.
// Buffers are static, so that the module needs no allocator: show data up to 64 KB (its offsets are 16-bit), 2,000 LEDs.
#include "render.h"
#include "output.h"

#if defined(__wasm__)
#define LAMPLOOM_EXPORT(name) extern "C" __attribute__((export_name(#name)))
extern "C" void *memset(void *to, int value, __SIZE_TYPE__ count) {
  volatile uint8_t *byte = (volatile uint8_t *)to;
  while (count--) *byte++ = (uint8_t)value;
  return to;
}
#else
#define LAMPLOOM_EXPORT(name) extern "C"
#endif

enum { mostLeds = 2000, mostShowDataBytes = 65536 };
static lamploom::U8 showData[mostShowDataBytes];
static lamploom::U8 frame[mostLeds * 3 + 1];

LAMPLOOM_EXPORT(showDataAt) void *showDataAt() { return showData; }
LAMPLOOM_EXPORT(frameAt) void *frameAt() { return frame; }

static void clearFrame() {
  for (uint16_t i = 0; i < (uint16_t)sizeof frame; i++) frame[i] = 0;
}

/** Renders a frame of a show to wire bytes in the frame buffer. */
LAMPLOOM_EXPORT(renderToWire) void renderToWire(uint32_t show, uint32_t frameNumber) {
  clearFrame();
  lamploom::renderFrame(showData, (lamploom::U8)(uint8_t)show, (lamploom::U32)frameNumber, frame);
  lamploom::outputFrame(showData, frame);
}

/** Renders `count` frames one after the other without the output stage: what a benchmark times. */
LAMPLOOM_EXPORT(renderMany) uint32_t renderMany(uint32_t show, uint32_t count) {
  uint32_t sum = 0;
  for (uint32_t i = 0; i < count; i++) {
    clearFrame();
    lamploom::renderFrame(showData, (lamploom::U8)(uint8_t)show, (lamploom::U32)i, frame);
    sum += (uint32_t)frame[i % 100];
  }
  return sum;
}
