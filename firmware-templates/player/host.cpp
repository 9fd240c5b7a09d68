// The player for the preview (WebAssembly) and for tests on a computer: the same headers as on the chip, behind a few plain functions.
// Buffers are static, so that the module needs no allocator: show data up to 64 KB (its offsets are 16-bit), 2,000 LEDs.
#include "check.h"
#include "director.h"
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

enum { mostLeds = 2000, mostShowDataBytes = 65536, keepsValue = 256 };
static lamploom::U8 showData[mostShowDataBytes];
static lamploom::U8 frame[mostLeds * 3 + 1];
static lamploom::U8 wire[mostLeds * 4];
static lamploom::Director director;

LAMPLOOM_EXPORT(showDataAt) void *showDataAt() { return showData; }
/** Where the last frame's wire bytes lie, and how many there are with the show data of now. */
LAMPLOOM_EXPORT(wireAt) void *wireAt() { return wire; }
LAMPLOOM_EXPORT(wireBytes) uint32_t wireBytes() { return (uint32_t)lamploom::wireByteCount(showData); }

/** Whether the `size` bytes laid down there may be played; nothing else may be called until they may. */
LAMPLOOM_EXPORT(isPlayable) uint32_t isPlayable(uint32_t size) { return lamploom::isSound(showData, size, mostLeds); }

static void clearFrame() {
  for (uint16_t i = 0; i < (uint16_t)sizeof frame; i++) frame[i] = 0;
}
static void output() { lamploom::outputFrame(showData, frame, lamploom::read8(showData + lamploom::headerRoomScales), wire); }

static void renderShow(uint32_t show, uint32_t frameNumber) {
  using namespace lamploom;
  const Layer layer = {(U8)(uint8_t)show, showTimeMs(showData, (U8)(uint8_t)show, (U32)frameNumber), (U8)255};
  clearFrame();
  renderLayer(showData, layer, 0, 1, frame);
}

/** A frame of a show that plays from power-up on without any event, to wire bytes. */
LAMPLOOM_EXPORT(renderToWire) void renderToWire(uint32_t show, uint32_t frameNumber) {
  renderShow(show, frameNumber);
  output();
}

/** From power-up on: begin, then events and frames, none of them earlier than the one before. */
LAMPLOOM_EXPORT(begin) void begin(uint32_t show) { lamploom::directorBegin(director, (lamploom::U8)(uint8_t)show); }
/** `value` 0 to 255, or keepsValue. */
LAMPLOOM_EXPORT(hear) void hear(uint32_t event, uint32_t value, uint32_t frameNumber) {
  using namespace lamploom;
  directorHear(showData, director, (U8)(uint8_t)event, value < keepsValue ? (U8)(uint8_t)value : director.value, (U32)frameNumber);
}
LAMPLOOM_EXPORT(playToWire) void playToWire(uint32_t frameNumber) {
  using namespace lamploom;
  Layer layers[2];
  clearFrame();
  const uint8_t count = directorFrame(showData, director, (U32)frameNumber, layers);
  for (uint8_t i = 0; i < count; i++) renderLayer(showData, layers[i], director.value, i == 0, frame);
  output();
}

/** Places of 32-bit numbers, in which `directorAt` tells; events by number, noEvent where there is none. */
enum Told {
  toldShow, toldEvent, toldSinceFrame, toldValue,
  toldFadingFrom, toldShare,        // the outgoing show; how much of the arriving one, 0 to 254: 255 where nothing fades
  toldBackShow, toldBack,           // what comes back behind all that wait, and how
  toldWaiting,                      // events, the next one first
  toldDelayed = toldWaiting + lamploom::mostWaiting,      // events, the one that counts first in front
  toldDelayedFrame = toldDelayed + lamploom::mostDelayed,  // the frame from which each counts
  toldCount = toldDelayedFrame + lamploom::mostDelayed
};
enum Back { nothingBack, backAnew, backWhereItWas, backAsIfItPlayed };
static uint32_t told[toldCount];

static void tellWhatComesBack() {
  using namespace lamploom;
  const U8 event = director.events[aside];
  told[toldBackShow] = (uint32_t)director.baseShow;
  if (director.events[playing] == noEvent) told[toldBack] = nothingBack;
  else if (event == noEvent) told[toldBack] = director.baseStands ? backWhereItWas : backAsIfItPlayed;
  else {
    told[toldBackShow] = (uint32_t)showOf(showData, director, (U8)(event & (uint8_t)(goesOn - 1)));
    told[toldBack] = event & goesOn ? backWhereItWas : backAnew;
  }
}

/** What the director holds at a frame, without rendering it: where the numbers lie. */
LAMPLOOM_EXPORT(directorAt) void *directorAt(uint32_t frameNumber) {
  using namespace lamploom;
  Layer layers[2];
  const bool fades = directorFrame(showData, director, (U32)frameNumber, layers) > 1;
  told[toldShow] = (uint32_t)showOf(showData, director, director.events[playing]);
  told[toldEvent] = (uint32_t)director.events[playing];
  told[toldSinceFrame] = (uint32_t)director.sinceFrame;
  told[toldValue] = (uint32_t)director.value;
  told[toldFadingFrom] = (uint32_t)layers[0].show;
  told[toldShare] = fades ? (uint32_t)layers[1].master : 255;
  tellWhatComesBack();
  for (uint8_t i = 0; i < mostWaiting; i++) told[toldWaiting + i] = (uint32_t)director.events[waiting + i];
  uint32_t counts = frameNumber;
  for (uint8_t i = 0; i < mostDelayed; i++) {
    told[toldDelayed + i] = (uint32_t)director.delayed[i].event;
    counts += (uint32_t)director.delayed[i].frames;
    told[toldDelayedFrame + i] = counts;
  }
  return told;
}

/** Renders `count` frames one after the other without the output stage: what a benchmark times. */
LAMPLOOM_EXPORT(renderMany) uint32_t renderMany(uint32_t show, uint32_t count) {
  uint32_t sum = 0;
  for (uint32_t i = 0; i < count; i++) {
    renderShow(show, i);
    sum += (uint32_t)frame[i % 100];
  }
  return sum;
}
