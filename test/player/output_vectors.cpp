// The output stage by itself: one frame after the other from given levels to the wire. Show data and frames are put into `space`: on the
// chip into its flash, where it is found by its first bytes; natively they come from standard input.
// On the chip the sender puts the bytes on the pins; what goes out as vectors is for each frame: its current, u32; 0, when the limiter begins;
// the scale, when it is done; and 0 if the buffer was left cleared. Natively: current, scale, u16 how many bytes there are, and the bytes.
#include "output.h"
#ifdef __AVR__
#include <util/delay.h>
#include "wire_avr.h"
#endif
#include "vector_output.h"

using namespace lamploom;

// Show data in front; behind it u8 frame count, u16 LED count; for each frame its room scale and 3 levels an LED.
enum { dataBytes = 4096, spaceBytes = 16384, mostLeds = 400 };

static U8 frame[3 * mostLeds + 1];

#ifdef __AVR__
extern const U8 space[spaceBytes] LAMPLOOM_FLASH __attribute__((aligned(256)));
const U8 space[spaceBytes] = {0x5A, 0x13, 0x77, 0xC9, 0x21, 0x0E, 0xB4, 0x68};

static void oneFrame(U8 roomScale) {
  put32((uint32_t)frameCurrent(space, frame));
  put8(0);
  const U8 scale = limiterScale(space, frame, roomScale);
  put8(scale);
  sendFrame(space, frame, scale);
  uint8_t left = 0;
  for (uint16_t i = 0; i < sizeof frame; i++) left |= frame[i];
  put8(left);
  _delay_us(350);
}
static void begin() {
  ShowData line = space + read16(space + headerLines);
  for (U8 lines = read8(space + headerLineCount); lines; lines--, line += lineSize)
    *((volatile U8 *)read16(line + linePortAddress) - 1) |= read8(line + linePinMask);
}
#else
static U8 space[spaceBytes];
static U8 wire[4 * mostLeds];

static void oneFrame(U8 roomScale) {
  put32((uint32_t)frameCurrent(space, frame));
  put8((uint8_t)limiterScale(space, frame, roomScale));
  outputFrame(space, frame, roomScale, wire);
  const uint16_t count = (uint16_t)wireByteCount(space);
  put16(count);
  for (uint16_t i = 0; i < count; i++) put8((uint8_t)wire[i]);
}
static void begin() {
  for (uint16_t i = 0; i < spaceBytes; i++) space[i] = (uint8_t)getchar();
}
#endif

int main() {
  begin();
  ShowData from = space + dataBytes;
  uint8_t frames = (uint8_t)read8(from);
  const U16 ledCount = read16(from + 1);
  from += 3;
  for (; frames; frames--) {
    const U8 roomScale = read8(from++);
    for (uint16_t i = 0; i < 3 * (uint16_t)ledCount; i++) frame[i] = read8(from++);
    oneFrame(roomScale);
  }
  return finishVectors();
}
