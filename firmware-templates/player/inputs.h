// What the board's inputs mean, without any register: when a pin counts as pressed, and how events come as bytes. Rules I-1 and so on in SPEC.md.
// While a frame goes out nothing can be polled, so both are made to stand gaps: a press is told by time, and a message is repeated
// until it is answered.
// Not here: reading pins and ports (inputs_avr.h), what an event does (director.h).
#pragma once
#include "arithmetic.h"

namespace lamploom {

// ---- pins ----

enum {
  ticksPerMs = 250,      // Timer1 at 16 MHz / 64
  pressMs = 20,          // a new level counts once every poll has seen it for this long
  longestPassMs = 19,    // a longer gap between two polls counts as this, so that two low polls alone are never a press
  pinPressed = 0x80,     // in a pin's state; the other bits: 0 while its level agrees, else 1 + ms since it does not
  pinAtPowerUp = pinPressed  // so that a line that is low from the start is no press
};

/** Whole ms since `polledAt`, at most longestPassMs; `polledAt` comes to `now`, less what is left of a ms. Both are ticks of the timer. */
static U8 takePassedMs(U16 now, U16 &polledAt) {
  U16 passed = subtract16(now, polledAt);
  U8 ms = 0;
  for (; passed >= (U16)ticksPerMs && ms < longestPassMs; passed = subtract16(passed, (U16)ticksPerMs)) ms = add8(ms, 1);
  polledAt = passed < (U16)ticksPerMs ? subtract16(now, passed) : now;
  return ms;
}

/** One poll of a pin, `passedMs` (at most longestPassMs) after the last one. Whether a press begins. */
static bool pollPin(U8 &state, bool isLow, U8 passedMs) {
  const U8 pressed = (U8)(state & pinPressed);
  if (isLow == (pressed != 0)) {
    state = pressed;
    return false;
  }
  const U8 since = state == pressed ? (U8)1 : add8(state, passedMs);
  if ((U8)(since & (uint8_t)(pinPressed - 1)) <= pressMs) {
    state = (U8)(since | pressed);
    return false;
  }
  state = isLow ? (U8)pinPressed : (U8)0;
  return isLow;
}

// ---- messages ----
// Three bytes: 1 b e e e e e e, 0 0 and the value's upper six bits, 0 1 and its lower two and a check of four bits; b alternates from one event
// to the next, e is the event's number. Three, because that many wait in the serial port's hardware while a frame goes out.
// The two upper bits tell the place of each byte, so bytes of two messages are never taken for one.

enum {
  messageHead = 0x80, messageBit = 0x40, messageEvent = 0x3F, messageLower = 0x40,
  helloEvent = 63,       // this number is no event: it asks who is there, and makes the next event new whatever its bit
  noMessage = 0xFF
};

struct Receiver {
  U8 head;      // first byte of the message that is coming in; 0: none
  U8 upper;     // its second; noMessage: not yet
  U8 heardBit;  // of the last event; noMessage: none since power-up or hello
  U8 answer;    // byte that acknowledges; 0: none is due
};

static void receiverBegin(Receiver &receiver) {
  receiver.head = receiver.answer = 0;
  receiver.upper = receiver.heardBit = noMessage;
}

/** Four bits that change when any one bit of head or value does. */
static U8 messageCheck(U8 head, U8 value) {
  const U8 both = (U8)(head ^ value);
  return (U8)((both ^ (U8)(both >> 4)) & 0x0F);
}

/** Takes a byte. Returns the number of an event that is new, or helloEvent, or noMessage; `value` is the one that came with it. */
static U8 receive(Receiver &receiver, U8 byte, U8 &value) {
  if (byte & messageHead) {
    receiver.head = byte;
    receiver.upper = noMessage;
    return noMessage;
  }
  if (!(byte & messageLower)) {
    receiver.upper = byte;
    return noMessage;
  }
  const U8 head = receiver.head, upper = receiver.upper;
  receiver.head = 0;
  if (!head || upper == noMessage) return noMessage;
  value = (U8)((U8)(upper << 2) | (U8)((U8)(byte >> 4) & 3));
  if ((byte & 0x0F) != messageCheck(head, value)) return noMessage;
  receiver.answer = head;
  const U8 event = (U8)(head & messageEvent), bit = (U8)(head & messageBit);
  if (event == helloEvent) {
    receiver.heardBit = noMessage;
    return event;
  }
  if (bit == receiver.heardBit) return noMessage;
  receiver.heardBit = bit;
  return event;
}

}  // namespace lamploom
