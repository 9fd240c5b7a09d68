// The sender: 800 kbit/s, exactly 20 cycles a bit at 16 MHz: T0H 6 cycles (375 ns), T1H 12 cycles (750 ns), the only long pulse
// inside the window of every listed chip. Gamma and scale of the next byte are worked out in the idle cycles of the current one,
// and the frame buffer is left cleared for the next frame.
// The port is found at run time (`st X`), so one program serves every pin. Other pins of the port keep their level, but a change that
// an interrupt would make to them waits until the frame is out: interrupts are off, 30 us an LED.
#pragma once
#include <avr/interrupt.h>
#include <avr/io.h>
#include "output.h"

namespace lamploom {

// Idle cycles in few bytes of code.
#define LAMPLOOM_IDLE2 "rjmp .+0\n\t"
#define LAMPLOOM_IDLE4 LAMPLOOM_IDLE2 LAMPLOOM_IDLE2
#define LAMPLOOM_IDLE6 LAMPLOOM_IDLE4 LAMPLOOM_IDLE2
// One bit. `high` fills 4 cycles of the high time, `low` 6 cycles of the low time.
// Cycles: pin high 2, choose 4, pin as the bit says 2, high 4, pin low 2, low 6.
#define LAMPLOOM_BIT(n, high, low)                                                                              \
  "st X,%[up]\n\t mov %[level],%[down]\n\t sbrc %[byte]," #n "\n\t mov %[level],%[up]\n\t nop\n\t st X,%[level]\n\t" high \
  "st X,%[down]\n\t" low

/** Sends `byteCount` bytes (a multiple of 3) from `from` without a pause and clears them. Interrupts must be off. */
static LAMPLOOM_NOINLINE void sendLine(U8 *from, U16 byteCount, volatile U8 *port, U8 mask, U8 scale, ShowData gamma0,
                                          ShowData gamma1, ShowData gamma2) {
  U8 *const after = from + byteCount;
  const U8 keep = *after;  // the look-ahead of the last byte reads and clears one byte more
  U8 up = *port | mask, down = *port & (U8)~mask;
  U8 page0 = highByte8((U16)gamma0), page1 = highByte8((U16)gamma1), page2 = highByte8((U16)gamma2);
  U8 byte = scale8(read8(gamma0 + *from), scale), next, level, zero = 0;
  *from++ = 0;
  asm volatile(
      "1:\n\t"
      LAMPLOOM_BIT(7, "ld %[next],Y\n\t st Y+,%[zero]\n\t", "mov r30,%[next]\n\t mov r31,%[page1]\n\t lpm %[next],Z\n\t nop\n\t")
      LAMPLOOM_BIT(6, "mul %[next],%[scale]\n\t add r0,%[next]\n\t adc r1,%[zero]\n\t",
                   "mov %[next],r1\n\t mov r0,%[page0]\n\t mov %[page0],%[page1]\n\t mov %[page1],%[page2]\n\t mov %[page2],r0\n\t nop\n\t")
      LAMPLOOM_BIT(5, LAMPLOOM_IDLE4, LAMPLOOM_IDLE6)
      LAMPLOOM_BIT(4, LAMPLOOM_IDLE4, LAMPLOOM_IDLE6)
      LAMPLOOM_BIT(3, LAMPLOOM_IDLE4, LAMPLOOM_IDLE6)
      LAMPLOOM_BIT(2, LAMPLOOM_IDLE4, LAMPLOOM_IDLE6)
      LAMPLOOM_BIT(1, LAMPLOOM_IDLE4, LAMPLOOM_IDLE6)
      LAMPLOOM_BIT(0, "sbiw %[count],1\n\t" LAMPLOOM_IDLE2, "mov %[byte],%[next]\n\t breq 2f\n\t" LAMPLOOM_IDLE2 "rjmp 1b\n\t")
      "2: clr __zero_reg__\n\t"
      : [byte] "+r"(byte), [next] "=&r"(next), [level] "=&r"(level), [count] "+w"(byteCount), "+y"(from), [page0] "+r"(page0),
        [page1] "+r"(page1), [page2] "+r"(page2)
      : [up] "r"(up), [down] "r"(down), "x"(port), [scale] "r"(scale), [zero] "r"(zero)
      : "r0", "r30", "r31", "memory", "cc");
  *after = keep;
}

/** Sends a whole frame, line after line, after correctMixedLines. `frame` holds 3 bytes for each LED and one byte more. */
static void sendFrame(ShowData data, U8 *frame, U8 scale) {
  ShowData line = data + read16(data + headerLines), segment = data + read16(data + headerSegments);
  U8 *led = frame;
  for (U8 lines = read8(data + headerLineCount); lines; lines--, line += lineSize) {
    const U8 segments = read8(line + lineSegmentCount);
    const U16 byteCount = (U16)(read16(line + lineLedCount) * 3u);
    ShowData gamma0 = gammaTable(data, segment, 0), gamma1 = gammaTable(data, segment, 1),
             gamma2 = gammaTable(data, segment, 2);
    if (segments > 1) gamma0 = gamma1 = gamma2 = data + word16(read8(data + headerPlainPage), 0);
    cli();
    sendLine(led, byteCount, (volatile U8 *)read16(line + linePortAddress), read8(line + linePinMask), scale, gamma0, gamma1, gamma2);
    sei();
    led += byteCount;
    segment += segments * segmentSize;
  }
}

#undef LAMPLOOM_BIT
#undef LAMPLOOM_IDLE2
#undef LAMPLOOM_IDLE4
#undef LAMPLOOM_IDLE6

}  // namespace lamploom
