// The player as a native program for the tests: reads show data and frame numbers, answers with wire bytes, until its input ends.
// Built plain, with sanitizers, and with checked integers (native.ts). Not here: what the frames should be.
// Request: u32 size, show data; u32 count, then {u32 show, u32 frame number} each. Answer: u32 overflows reported for this request
// (0 unless checked), then each frame's bytes, 3 an LED. All little endian. Exit status 1: some request reported an overflow.
// The buffers are exactly as large as the data, so that the sanitizer sees a read or write one byte beyond.
#include <stdio.h>
#include <vector>
#include "render.h"
#include "output.h"

using lamploom::U8;

static bool readBytes(void *to, size_t count) { return fread(to, 1, count, stdin) == count; }
static bool readNumber(uint32_t &to) {
  uint8_t bytes[4];
  if (!readBytes(bytes, sizeof bytes)) return false;
  to = bytes[0] | (uint32_t)bytes[1] << 8 | (uint32_t)bytes[2] << 16 | (uint32_t)bytes[3] << 24;
  return true;
}
static void writeNumber(uint32_t value) {
  for (int i = 0; i < 4; i++) putchar((int)(value >> (8 * i) & 0xFF));
}

#ifdef LAMPLOOM_CHECKED
static uint32_t takeReports() {
  lamploom::CheckedReports &reports = lamploom::checkedReports();
  const uint32_t count = (uint32_t)reports.count;
  for (uint32_t i = 0; i < count && i < lamploom::CheckedReports::kept; i++) fprintf(stderr, "overflow: %s\n", reports.text[i]);
  reports.count = 0;
  return count;
}
#else
static uint32_t takeReports() { return 0; }
#endif

int main() {
  uint32_t size, count, overflows = 0;
  while (readNumber(size)) {
    std::vector<U8> data(size);
    if (!readBytes(data.data(), size) || !readNumber(count)) return 2;
    const uint32_t frameBytes = 3u * ((uint32_t)data[lamploom::headerLedCount] | (uint32_t)data[lamploom::headerLedCount + 1] << 8);
    std::vector<U8> frames;
    for (; count; count--) {
      uint32_t show, number;
      if (!readNumber(show) || !readNumber(number)) return 2;
      std::vector<U8> frame(frameBytes, U8(0));
      lamploom::renderFrame(data.data(), (U8)show, (lamploom::U32)number, frame.data());
      lamploom::outputFrame(data.data(), frame.data());
      frames.insert(frames.end(), frame.begin(), frame.end());
    }
    const uint32_t reports = takeReports();
    overflows += reports;
    writeNumber(reports);
    fwrite(frames.data(), 1, frames.size(), stdout);
    fflush(stdout);
  }
  return overflows ? 1 : 0;
}
