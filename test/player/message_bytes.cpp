// Gives messages of three bytes from its input, each to a receiver of its own, and puts out u8 event and u8 value of what was heard; 255 and 0 where
// nothing was. Not here: what should be heard (inputs.test.ts).
#include "inputs.h"
#include "vector_output.h"

using namespace lamploom;

int main() {
  for (;;) {
    Receiver receiver;
    receiverBegin(receiver);
    U8 heard = noMessage, value = 0;
    for (uint8_t i = 0; i < 3; i++) {
      const int byte = getchar();
      if (byte == EOF) return finishVectors();
      U8 withIt = 0;
      const U8 event = receive(receiver, (U8)(uint8_t)byte, withIt);
      if (event == noMessage) continue;
      heard = event;
      value = withIt;
    }
    put8((uint8_t)heard);
    put8((uint8_t)value);
  }
}
