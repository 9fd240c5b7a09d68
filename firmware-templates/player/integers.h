// Integer types of the player, and the accessor for show data. Nothing in the player uses int, long or float by name.
// Not here: arithmetic (see arithmetic.h). The Arduino core is not needed by any header of the player but board_avr.h's caller.
// Assumes: int is 16 bits on AVR and 32 bits elsewhere; so every result is cast to one of these types at once.
#pragma once
#include <stdint.h>

#ifdef LAMPLOOM_CHECKED
// The tests' own types, which follow AVR's promotion rules and report what would overflow there.
#include "checked_integers.h"
#endif

namespace lamploom {

#ifdef LAMPLOOM_CHECKED
typedef Checked<uint8_t> U8;
typedef Checked<uint16_t> U16;
typedef Checked<uint32_t> U32;
typedef Checked<int8_t> I8;
typedef Checked<int16_t> I16;
#else
typedef uint8_t U8;
typedef uint16_t U16;
typedef uint32_t U32;
typedef int8_t I8;
typedef int16_t I16;
#endif

// Show data may lie in flash (AVR) or in memory (WebAssembly, native); only these functions know.
typedef const U8 *ShowData;

#ifdef __AVR__
#include <avr/pgmspace.h>
#define LAMPLOOM_FLASH PROGMEM
#define LAMPLOOM_NOINLINE __attribute__((noinline))
// -Os keeps loops small; the loops over LEDs are where the time goes.
#define LAMPLOOM_FAST __attribute__((noinline, optimize("O2")))
static inline U8 read8(ShowData p) { return pgm_read_byte(p); }
static inline U16 read16(ShowData p) { return pgm_read_word(p); }
static inline U32 read32(ShowData p) { return pgm_read_dword(p); }
static inline U8 readNext(ShowData &p) {
  U8 value;
  asm volatile("lpm %0,Z+" : "=r"(value), "+z"(p));
  return value;
}
// With the colour table on a page of its own the loops are quicker by two cycles an LED, where SRAM allows it.
#ifdef LAMPLOOM_ALIGNED
#define LAMPLOOM_TABLE_PLACE __attribute__((aligned(256)))
#else
#define LAMPLOOM_TABLE_PLACE
#endif
/** A variable that the start-up code doesn't clear. */
#define LAMPLOOM_LAST __attribute__((section(".noinit")))

/** Memory for what one step hands to the next loop in assembler: kept out of the stack, since no two such steps overlap. */
enum { workspaceBytes = 13 };
static U8 workspace[workspaceBytes] __attribute__((aligned(8)));  // so that one byte tells its first eight apart
template <class T>
static inline T &inWorkspace() {
  static_assert(sizeof(T) <= workspaceBytes, "the workspace is too small");
  void *const at = workspace;
  return *(T *)at;
}
#define LAMPLOOM_WORK(type, name) type &name = inWorkspace<type>()
#else
#define LAMPLOOM_WORK(type, name) type name
#define LAMPLOOM_TABLE_PLACE
#define LAMPLOOM_FLASH
#define LAMPLOOM_NOINLINE
#define LAMPLOOM_FAST
static inline U8 read8(ShowData p) { return *p; }
static inline U16 read16(ShowData p) { return (U16)(p[0] | (U16)((U16)p[1] << 8)); }
static inline U32 read32(ShowData p) { return (U32)((U32)read16(p) | (U32)((U32)read16(p + 2) << 16)); }
static inline U8 readNext(ShowData &p) { return *p++; }
#endif

#if defined(__AVR__) && defined(LAMPLOOM_PROFILE)
// A write that an emulator can time; absent from every exported program.
#define LAMPLOOM_MARK(value) (GPIOR0 = (value))
#else
#define LAMPLOOM_MARK(value)
#endif

}  // namespace lamploom
