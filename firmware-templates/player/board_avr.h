// The player on a board: data pins, time, and the loop from frame to frame. Uses Timer1, what inputs_avr.h uses, no other part of the chip, no
// Arduino function. Time comes from the free-running timer, read a few times a frame: sending blocks interrupts, so a count kept by an interrupt
// would lose most of its ticks. Frame n goes out at the moment n x frameMs after frame 0. A frame that would be more than a quarter of that late is
// left out, so that it can't be taken for its neighbour.
#pragma once
#include "inputs_avr.h"
// What render.h does between two clips: without it a long frame would be one long gap between two polls.
#define LAMPLOOM_BETWEEN_CLIPS(data) pollInputs(data)
#include "check.h"
#include "director.h"
#include "wire_avr.h"

namespace lamploom {

enum {
  latchTicks = 76,  // 304 us: every listed chip shows what it got after at most 300 us of low
  calmTicks = 75    // 300 us before a frame is due polling ends, so that the frame starts on its tick
};

static Director director LAMPLOOM_LAST;
static U32 frameNumber;
static U16 frameDue;   // Timer1 value at which frameNumber goes out
static U16 sentAt;     // Timer1 value at the end of the last send

static void waitUntil(U16 tick) {
  while ((I16)(U16)(timerNow() - tick) < 0) {
  }
}

static LAMPLOOM_NOINLINE void sendNow(ShowData data, U8 *frame, U8 scale) {
  // Unsigned, so that a long pause since the last frame never looks like the future.
  while ((U16)(timerNow() - sentAt) < latchTicks) {
  }
  sendFrame(data, frame, scale);
  sentAt = timerNow();
}

/**
 * Data pins low, then black on every line, which also clears `frame`; frame 0 follows one frame time later. Call once. With show data that are not
 * what was compiled it never returns and touches no pin: the strips stay black.
 */
static void boardBegin(ShowData data, U8 *frame) {
  while (!isIntact(data)) {
  }
  // A watchdog that has fired stays on at its shortest time until it is told otherwise.
  MCUSR = 0;
  if (read8(data + headerInputs) & inputWatchdog) wdt_enable(WDTO_1S);
  else wdt_disable();
  ShowData line = data + read16(data + headerLines);
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize) {
    volatile U8 *port = (volatile U8 *)read16(line + linePortAddress);
    U8 mask = read8(line + linePinMask);
    *port &= (U8)~mask;
    *(port - 1) |= mask;  // the direction register lies one below the port register
  }
  TCCR1A = 0;
  TCCR1B = _BV(CS11) | _BV(CS10);
  sentAt = timerNow();
  sendNow(data, frame, 0);
  if (!isQuiet(data)) {
    inputsBegin(data);
    directorBegin(director, read8(data + headerStartShow));
  }
  frameNumber = 0;
  frameDue = (U16)(timerNow() + (U16)read8(data + headerFrameMs) * (U16)ticksPerMs);
}

/** Gives this frame up and aims at the first one whose moment is still to come when it will be rendered: `ahead` ticks from this one's. */
static void leaveOut(ShowData data, U8 *frame, U16 frameTicks, U32 ahead) {
  U8 slots = 1;
  for (; ahead >= frameTicks; ahead -= frameTicks) slots++;
  frameNumber += slots;
  frameDue = (U16)(frameDue + (U16)(slots * frameTicks));
  const U16 bytes = (U16)(read16(data + headerLedCount) * 3u);
  for (U16 i = 0; i < bytes; i++) frame[i] = 0;
}

/** Renders what the director says for the next frame, after the events that came before it; or the start show, where nothing else can play. */
static inline void renderNext(ShowData data, U8 *frame) {
  Layer layers[2];
  U8 count = 1, value = 0;
  if (isQuiet(data)) {
    layers[0].show = read8(data + headerStartShow);
    layers[0].timeMs = showTimeMs(data, layers[0].show, frameNumber);
    layers[0].master = 255;
  } else {
    takeEvents([data](U8 event, bool hasOwnValue) {
      directorHear(data, director, event, hasOwnValue ? inputs.value : director.value, frameNumber);
    });
    count = directorFrame(data, director, frameNumber, layers);
    value = director.value;
  }
  for (U8 i = 0; i < count; i++) renderLayer(data, layers[i], value, i == 0, frame);
}

/** Renders one frame, waits for its moment and sends it. Call again and again. */
static void boardStep(ShowData data, U8 *frame) {
  const U16 frameTicks = (U16)((U16)read8(data + headerFrameMs) * (U16)ticksPerMs);
  const U16 begun = timerNow();
  wdt_reset();
  LAMPLOOM_MARK(0x10);
  pollPins(data);
  renderNext(data, frame);
  LAMPLOOM_MARK(0x20);
  const U8 scale = limiterScale(data, frame, read8(data + headerRoomScales + (isQuiet(data) ? 0 : inputs.roomStep)));
  LAMPLOOM_MARK(0x30);
  while ((I16)(U16)(timerNow() - frameDue) < -(I16)calmTicks) pollInputs(data);
  pollPins(data);
  waitUntil(frameDue);
  const U16 now = timerNow(), late = (U16)(now - frameDue);
  if (late > frameTicks / 4) {
    leaveOut(data, frame, frameTicks, (U32)late + (U16)(now - begun));
    return;
  }
  LAMPLOOM_MARK(0x40);
  sendNow(data, frame, scale);
  frameNumber++;
  frameDue = (U16)(frameDue + frameTicks);
}

}  // namespace lamploom
