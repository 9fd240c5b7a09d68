// The player as a native program for the tests: reads show data and what to play, answers with wire bytes or with what the director says, until its
// input ends. Built plain, with sanitizers, and with checked integers (native.ts). Not here: what the frames should be.
// Request: u32 size, show data, u32 kind. Kind 0, frames of shows: u32 count, then {u32 show, u32 frame number} each. Kinds 1 and 2, a
// performance: u32 show at power-up, u32 count and {u32 frame, u32 event, u32 value} of each event by frame, u32 count and u32 number of each frame,
// ascending. Value 256: as it was. Answer: u32 overflows reported for this request (0 unless checked), u32 bytes a frame, then each frame: its wire
// bytes (0 bytes a frame and no frames where the show data are not sound), or for kind 2 u8 layers, u8 value, and twice {u8 show, u32 ms, u8 master}. All little endian. Exit status 1: some request reported an overflow.
// The buffers are exactly as large as the data, so that the sanitizer sees a read or write one byte beyond.
#include <stdio.h>
#include <vector>
#include "check.h"
#include "director.h"
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

typedef std::vector<U8> Bytes;
enum Kind { framesOfShows = 0, performance = 1, directorOnly = 2 };
enum { keepsValue = 256, mostLeds = 2000 };

struct Event {
  uint32_t frame, number, value;
};

static void append32(Bytes &to, lamploom::U32 value) {
  const uint32_t plain = (uint32_t)value;
  for (int i = 0; i < 4; i++) to.push_back((U8)(uint8_t)(plain >> (8 * i)));
}

/** Appends the wire bytes of some layers. */
static void render(const Bytes &data, const lamploom::Layer *layers, uint8_t count, U8 value, Bytes &to) {
  const size_t ledCount = (size_t)(uint16_t)lamploom::read16(data.data() + lamploom::headerLedCount);
  Bytes frame(3 * ledCount, U8(0)), wire((size_t)(uint16_t)lamploom::wireByteCount(data.data()), U8(0));
  for (uint8_t i = 0; i < count; i++) lamploom::renderLayer(data.data(), layers[i], value, i == 0, frame.data());
  lamploom::outputFrame(data.data(), frame.data(), data[lamploom::headerRoomScales], wire.data());
  to.insert(to.end(), wire.begin(), wire.end());
}

static bool answerFrames(const Bytes &data, bool sound, Bytes &answer) {
  uint32_t count, show, number;
  if (!readNumber(count)) return false;
  for (; count; count--) {
    if (!readNumber(show) || !readNumber(number)) return false;
    if (!sound) continue;
    const lamploom::Layer layer = {(U8)(uint8_t)show, lamploom::showTimeMs(data.data(), (U8)(uint8_t)show, (lamploom::U32)number), (U8)255};
    render(data, &layer, 1, (U8)0, answer);
  }
  return true;
}

static bool answerPerformance(const Bytes &data, bool sound, bool rendered, Bytes &answer) {
  uint32_t show, count, number;
  if (!readNumber(show) || !readNumber(count)) return false;
  std::vector<Event> events(count);
  for (Event &event : events)
    if (!readNumber(event.frame) || !readNumber(event.number) || !readNumber(event.value)) return false;
  lamploom::Director director;
  lamploom::directorBegin(director, (U8)(uint8_t)show);
  size_t heard = 0;
  if (!readNumber(count)) return false;
  for (; count; count--) {
    if (!readNumber(number)) return false;
    if (!sound) continue;
    for (; heard < events.size() && events[heard].frame <= number; heard++) {
      const Event &event = events[heard];
      lamploom::directorHear(data.data(), director, (U8)(uint8_t)event.number,
                             event.value < keepsValue ? (U8)(uint8_t)event.value : director.value, (lamploom::U32)event.frame);
    }
    lamploom::Layer layers[2] = {};
    const uint8_t layerCount = lamploom::directorFrame(data.data(), director, (lamploom::U32)number, layers);
    if (rendered) {
      render(data, layers, layerCount, director.value, answer);
      continue;
    }
    answer.push_back((U8)layerCount);
    answer.push_back(director.value);
    for (const lamploom::Layer &layer : layers) {
      answer.push_back(layer.show);
      append32(answer, layer.timeMs);
      answer.push_back(layer.master);
    }
  }
  return true;
}

int main() {
  uint32_t size, kind, overflows = 0;
  while (readNumber(size)) {
    Bytes data(size), answer;
    if ((size && !readBytes(data.data(), size)) || !readNumber(kind)) return 2;
    // The director alone needs no lines and areas.
    const bool sound = kind == directorOnly || lamploom::isSound(data.data(), size, mostLeds);
    if (!(kind == framesOfShows ? answerFrames(data, sound, answer) : answerPerformance(data, sound, kind == performance, answer)))
      return 2;
    const uint32_t bytesEach = !sound ? 0u : kind == directorOnly ? 14u : (uint32_t)(uint16_t)lamploom::wireByteCount(data.data());
    const uint32_t reports = takeReports();
    overflows += reports;
    writeNumber(reports);
    writeNumber(bytesEach);
    if (!answer.empty()) fwrite(answer.data(), 1, answer.size(), stdout);
    fflush(stdout);
  }
  return overflows ? 1 : 0;
}
