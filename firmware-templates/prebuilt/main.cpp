// The ready-to-flash program: the player with its show data at a fixed place in flash, filled in later without a compiler
// (withBytes in src/board/intel-hex.ts). The frame buffer is all SRAM behind the program's own variables, since the number of LEDs isn't known here; where no
// input and no event can come, their variables are part of it.
// Built by firmware-templates/build.mjs without any core library; only avr-libc's start-up code is linked in.
#include <avr/io.h>
#include "board_avr.h"

static const lamploom::ShowData showData = (lamploom::ShowData)LAMPLOOM_SHOW_DATA_AT;
extern "C" uint8_t __noinit_start[], __heap_start[];

// What a start-up program that jumps here without a reset may leave on: the serial port, which would hold its two pins, and USB, whose interrupts
// nothing here would answer. Without its enable bit the USB controller is reset and off the bus.
static inline void leaveStartUp() {
  LAMPLOOM_UART(UCSR, B) = 0;
#ifdef USBCON
  USBCON = 0;
#endif
}

__attribute__((OS_main)) int main() {
  using namespace lamploom;
  leaveStartUp();
  U8 *const frame = isQuiet(showData) ? __noinit_start : __heap_start;
  boardBegin(showData, frame);
  for (;;) boardStep(showData, frame);
}
