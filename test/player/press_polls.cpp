// Polls a pin as the board does: reads u16 ticks and u8 level (0 low, 1 high, 2 power-up) of each poll from its input until it ends, and puts
// out 1 for each poll at which a press began, else 0. Not here: when polls come and what the pin does (inputs.test.ts).
#include "inputs.h"
#include "vector_output.h"

using namespace lamploom;

int main() {
  U8 state = pinAtPowerUp;
  U16 polledAt = 0;
  for (;;) {
    const int low = getchar(), high = getchar(), level = getchar();
    if (level == EOF) return finishVectors();
    const U16 now = word16((U8)(uint8_t)high, (U8)(uint8_t)low);
    if (level == 2) {
      state = pinAtPowerUp;
      polledAt = now;
    }
    const U8 passedMs = takePassedMs(now, polledAt);
    put8(pollPin(state, level == 0, passedMs) ? 1 : 0);
  }
}
