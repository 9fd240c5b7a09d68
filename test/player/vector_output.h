// How the vector programs hand out their results: to a general purpose register that the emulator watches, or to standard output.
// Also their source of varied inputs, the same on every machine. Not here: what is computed.
#pragma once
#include <stdint.h>

#ifdef __AVR__
#include <avr/io.h>
static inline void put8(uint8_t value) { GPIOR0 = value; }
static inline int finishVectors() {
  GPIOR1 = 1;
  for (;;) {
  }
}
#else
#include <stdio.h>
static inline void put8(uint8_t value) { putchar(value); }
static inline int finishVectors() {
#ifdef LAMPLOOM_CHECKED
  const lamploom::CheckedReports &reports = lamploom::checkedReports();
  for (unsigned long i = 0; i < reports.count && i < lamploom::CheckedReports::kept; i++) fprintf(stderr, "%s\n", reports.text[i]);
  return reports.count ? 1 : 0;
#else
  return 0;
#endif
}
#endif
static inline void put16(uint16_t value) {
  put8((uint8_t)(value & 0xFF));
  put8((uint8_t)(value >> 8));
}
static inline void put32(uint32_t value) {
  put16((uint16_t)(value & 0xFFFF));
  put16((uint16_t)(value >> 16));
}

/** Marsaglia's 16-bit xorshift with shifts 7, 9, 8: every value but 0 once in 65,535 steps. */
static uint16_t variedState = 1;
static inline uint16_t varied16() {
  variedState ^= (uint16_t)(variedState << 7);
  variedState ^= (uint16_t)(variedState >> 9);
  variedState ^= (uint16_t)(variedState << 8);
  return variedState;
}
static inline uint8_t varied8() { return (uint8_t)(varied16() >> 4); }
