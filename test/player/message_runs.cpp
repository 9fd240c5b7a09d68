// Runs of a sender, written from rules I-5 to I-8 of SPEC.md alone, against the player's receiver. Between them stands the port's hardware, which holds
// three bytes while a frame goes out, and a line that loses bytes at random in both directions. Puts out, for each run: u8 events sent, u8 events
// heard, u8 heard that were not the next one sent, u16 bytes lost; and in between now and then the sender forgets its bit and says hello.
#include "inputs.h"
#include "vector_output.h"

using namespace lamploom;

enum { runs = 3000, eventsEach = 25, mostRepeats = 4000 };

struct Sent {
  uint8_t event, value;
};

static uint16_t lost;
/** Whether the line loses this byte. */
static bool loses(uint8_t percent) {
  const bool is = varied16() % 100 < percent;
  if (is) lost++;
  return is;
}

/** The port: two bytes wait, a third stands in the shift register, where the next one takes its place. */
struct Port {
  uint8_t bytes[3];
  uint8_t count;
  void arrive(uint8_t byte) {
    if (count < 3) count++;
    else lost++;
    bytes[count - 1] = byte;
  }
  uint8_t take() {
    const uint8_t first = bytes[0];
    bytes[0] = bytes[1];
    bytes[1] = bytes[2];
    count--;
    return first;
  }
};

struct Board {
  Receiver receiver;
  Port port;
  uint8_t event, value;  // waits for its frame; 0xFF: none
  uint8_t answers[8], answerCount;

  void poll() {
    while (port.count && event == 0xFF) {
      U8 withIt = 0;
      const U8 heard = receive(receiver, (U8)port.take(), withIt);
      if (heard != noMessage && heard != helloEvent) {
        event = (uint8_t)heard;
        value = (uint8_t)withIt;
      }
      if (receiver.answer) {
        answers[answerCount++] = (uint8_t)receiver.answer;
        receiver.answer = 0;
      }
    }
  }
};

static void arriveAtBoard(Board &board, const uint8_t *message, uint8_t percent) {
  const bool frameGoesOut = varied16() % 2;
  for (uint8_t i = 0; i < 3; i++) {
    if (!loses(percent)) board.port.arrive(message[i]);
    if (!frameGoesOut) board.poll();
  }
}

/** Sends one message until it is answered. */
static bool deliver(Board &board, uint8_t head, uint8_t value, uint8_t percent, void (*heard)(uint8_t, uint8_t)) {
  const uint8_t x = head ^ value;
  const uint8_t message[3] = {head, (uint8_t)(value >> 2), (uint8_t)(0x40 | (value & 3) << 4 | ((x ^ x >> 4) & 15))};
  for (uint16_t repeats = 0; repeats < mostRepeats; repeats++) {
    arriveAtBoard(board, message, percent);
    // The next frame: the board polls, hears what waits, and answers.
    board.poll();
    if (board.event != 0xFF) {
      heard(board.event, board.value);
      board.event = 0xFF;
    }
    bool answered = false;
    for (uint8_t i = 0; i < board.answerCount; i++)
      if (!loses(percent) && board.answers[i] == head) answered = true;
    board.answerCount = 0;
    if (answered) return true;
  }
  return false;
}

static Sent expected;
static uint8_t heardCount, wrongCount;
static bool isDue;
static void hear(uint8_t event, uint8_t value) {
  heardCount++;
  if (!isDue || event != expected.event || value != expected.value) wrongCount++;
  isDue = false;
}

int main() {
  for (uint16_t run = 0; run < runs; run++) {
    const uint8_t percent = (uint8_t)(varied16() % 60);
    Board board = {};
    receiverBegin(board.receiver);
    board.event = 0xFF;
    lost = 0;
    heardCount = wrongCount = 0;
    uint8_t bit = (uint8_t)(varied16() % 2), sent = 0;
    while (sent < eventsEach) {
      if (varied16() % 10 == 0) {
        if (!deliver(board, 0x80 | 63, 0, percent, hear)) break;
        bit = (uint8_t)(varied16() % 2);
      }
      // Few events, so that the same one often comes twice in a row.
      expected.event = (uint8_t)(varied16() % 3 ? varied16() % 3 : varied16() % 63);
      expected.value = varied8();
      isDue = true;
      if (!deliver(board, (uint8_t)(0x80 | bit << 6 | expected.event), expected.value, percent, hear)) break;
      sent++;
      bit ^= 1;
    }
    put8(sent);
    put8(heardCount);
    put8(wrongCount);
    put16(lost);
  }
  return finishVectors();
}
