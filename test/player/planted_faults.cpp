// Runs the planted faults over pairs of edges and varied pairs: first each pair, then each function's result for it, 4 bytes each.
// With checked integers, standard error tells how many overflows each function had.
#include "planted_faults.h"
#include "vector_output.h"

using namespace lamploom;

typedef U32 (*Fault)(U16, U16);
static const Fault faults[] = {
    planted::weightedDifference, planted::wordFromBytes, planted::sumIsLarge,  planted::isNegativeOfSomething, planted::timeTimesRate,
    planted::changeFits,         planted::levelOf200,    planted::middleOfTwo, planted::isOver};
static const uint16_t edges[] = {0, 1, 50, 127, 128, 163, 164, 181, 182, 200, 255, 2621, 2622, 25000, 25001, 32767, 32768, 50000, 65485, 65535};
enum { faultCount = sizeof faults / sizeof faults[0], edgeCount = sizeof edges / sizeof edges[0], varied = 300 };

static uint32_t overflows[faultCount];

static void runOn(uint16_t a, uint16_t b) {
  put16(a);
  put16(b);
  for (uint8_t f = 0; f < faultCount; f++) {
#ifdef LAMPLOOM_CHECKED
    const unsigned long before = checkedReports().count;
    put32((uint32_t)faults[f]((U16)a, (U16)b));
    overflows[f] += (uint32_t)(checkedReports().count - before);
#else
    put32((uint32_t)faults[f]((U16)a, (U16)b));
#endif
  }
}

int main() {
  for (uint8_t i = 0; i < edgeCount; i++)
    for (uint8_t j = 0; j < edgeCount; j++) runOn(edges[i], edges[j]);
  for (uint16_t n = 0; n < varied; n++) {
    const uint16_t a = varied16();
    runOn(a, varied16());
  }
#ifdef LAMPLOOM_CHECKED
  for (uint8_t f = 0; f < faultCount; f++) fprintf(stderr, "%lu\n", (unsigned long)overflows[f]);
  fprintf(stderr, "%s\n", checkedReports().text[0]);
#endif
  (void)overflows;
#ifdef __AVR__
  return finishVectors();
#else
  return 0;
#endif
}
