// The blends of blend.h over all levels of an LED and a colour, as C++: each level of both for entries that have their level in them, and for
// LEDs with a level of their own a few levels of both with all of theirs. blend.test.ts knows the order and works the results out itself.
#include "blend.h"
#include "vector_output.h"

using namespace lamploom;

static const uint8_t edges[] = {0, 1, 127, 128, 254, 255};
static const uint8_t someLevels[] = {0, 1, 2, 31, 64, 100, 127, 128, 129, 180, 200, 253, 254, 255};

template <uint8_t blend>
static void entries(uint8_t rest) {
  for (uint16_t led = 0; led < 256; led++)
    for (uint16_t colour = 0; colour < 256; colour++) {
      U8 leds[3] = {(U8)led, (U8)0, (U8)led};
      const U8 entry[entrySize] = {(U8)colour, (U8)colour, (U8)0, (U8)rest};
      blendEntry<blend>(leds, entry);
      put8((uint8_t)leds[0]);
    }
}
template <uint8_t blend>
static void levelled() {
  for (uint8_t f = 0; f < sizeof edges; f++)
    for (uint8_t i = 0; i < sizeof someLevels; i++)
      for (uint8_t j = 0; j < sizeof someLevels; j++)
        for (uint8_t level = 0; level < 255; level++) {
          U8 leds[3] = {(U8)someLevels[i], (U8)someLevels[i], (U8)someLevels[i]};
          const U8 entry[entrySize] = {(U8)someLevels[j], (U8)someLevels[j], (U8)someLevels[j], (U8)0};
          blendLevelled<blend>(leds, entry, (U8)level, (U8)edges[f]);
          put8((uint8_t)leds[2]);
        }
}

int main() {
  for (uint8_t i = 0; i < sizeof edges; i++) entries<blendOver>(edges[i]);
  entries<blendAdd>(0);
  entries<blendBrighterWins>(0);
  entries<blendTint>(0);
  entries<blendWrite>(0);
  levelled<blendOver>();
  levelled<blendAdd>();
  levelled<blendBrighterWins>();
  levelled<blendTint>();
  return finishVectors();
}
