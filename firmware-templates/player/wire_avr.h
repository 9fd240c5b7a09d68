// The sender: 800 kbit/s, exactly 20 cycles a bit at 16 MHz: T0H 6 cycles (375 ns), T1H 12 cycles (750 ns), the only long pulse
// inside the window of every listed chip. The next LED is worked out in the idle cycles of the one that goes out, changes from one kind
// of strip to another included, so a line never pauses; and the frame buffer is left cleared for the next frame.
// The port is found at run time (`st X`), so one program serves every pin. Other pins of the port keep their level, but a change that
// an interrupt would make to them waits until the line is out: interrupts are off, 30 or 40 us an LED.
// In assembler every slot's cycles are counted; a branch over one instruction (`.+2`) takes 2 cycles either way.
#pragma once
#include <avr/interrupt.h>
#include <avr/io.h>
#include "output.h"

namespace lamploom {

// Idle cycles in few bytes of code.
#define LAMPLOOM_IDLE1 "nop\n\t"
#define LAMPLOOM_IDLE2 "rjmp .+0\n\t"
#define LAMPLOOM_IDLE3 LAMPLOOM_IDLE2 LAMPLOOM_IDLE1
#define LAMPLOOM_IDLE4 LAMPLOOM_IDLE2 LAMPLOOM_IDLE2
#define LAMPLOOM_IDLE5 LAMPLOOM_IDLE4 LAMPLOOM_IDLE1
#define LAMPLOOM_IDLE6 LAMPLOOM_IDLE4 LAMPLOOM_IDLE2
// scale8 of a byte: 4 cycles, the result in r1.
#define LAMPLOOM_SCALE(byte) "mul " byte ",%[scale]\n\t add r0," byte "\n\t adc r1,%[zero]\n\t"

// One bit of one line. Free for other work: `short` 1 cycle, `high` 4, `low` 6.
// Cycles: pin high 2, choose 3, short 1, pin as the bit says 2, high 4, pin low 2, low 6.
#define LAMPLOOM_BIT(byte, n, short, high, low)                                                                       \
  "st X,%[up]\n\t mov r0,%[down]\n\t sbrc " byte "," #n "\n\t mov r0,%[up]\n\t" short "st X,r0\n\t" high \
  "st X,%[down]\n\t" low
/** Bits 7 to 1 with nothing else to do; bit 0 stands at bit 7 then. `value` must be 7. */
#define LAMPLOOM_IDLE_BITS(byte, label)                                                                                     \
  #label ": " LAMPLOOM_BIT(byte, 7, LAMPLOOM_IDLE1, LAMPLOOM_IDLE4, "lsl " byte "\n\t dec %[value]\n\t" LAMPLOOM_IDLE2 "brne " #label "b\n\t") \
  LAMPLOOM_IDLE1

#define BYTE0 "%A[bytes]"
#define BYTE1 "%B[bytes]"
#define BYTE2 "%C[bytes]"
#define BYTE3 "%D[bytes]"
#define NEXT0 "%A[next]"
#define NEXT1 "%B[next]"
#define NEXT2 "%C[next]"
#define NEXT3 "%D[next]"
/** Gamma of the next LED's byte at `offset`: its page is in `next`, its level goes there. 6 cycles. */
#define LAMPLOOM_LOOK_UP(next, offset) "mov r31," next "\n\t ldd r30,Y+" #offset "\n\t lpm " next ",Z\n\t"
#define LAMPLOOM_CLEAR(offset) "std Y+" #offset ",%[zero]\n\t" LAMPLOOM_IDLE2

/**
 * Sends `ledCount` LEDs of one line from `firstLed` on without a pause and clears them. It goes once round with the pin low, as if for an LED
 * before the first one, so that the first needs no code of its own. `startPage` is the page on which the show data begins; `portUp` and `portDown` what
 * the port holds while the pin is high and low. Interrupts must be off.
 */
static LAMPLOOM_NOINLINE void sendLine(U8 *firstLed, U16 ledCount, ShowData firstSegment, U8 startPage, volatile U8 *toPort, U8 portUp,
                                       U8 portDown, U8 scaleBy) {
  // Registers by name: nearly all are needed, and the compiler doesn't find by itself how to share them out. Y may be its frame pointer.
  register U32 bytes asm("r2") = 0;
  register U32 next asm("r6");
  register U8 scale asm("r10") = scaleBy, up asm("r11") = portDown, down asm("r12") = portDown, zero asm("r13") = 0;
  register ShowData segment asm("r14") = firstSegment - segmentSize;
  register U8 value asm("r16"), white asm("r17") = 255;  // white: place of the white byte, 255 where there is none
  register U16 left asm("r18") = 1;                      // LEDs of this segment
  register U8 *led asm("r20") = firstLed - 3;
  register U8 start asm("r22") = startPage, high asm("r23") = portUp;
  register U16 count asm("r24") = ledCount + 1;
  register volatile U8 *port asm("r26") = toPort;
  asm volatile(
      "push r28\n\t push r29\n\t movw r28,%[led]\n\t"
      "1:\n\t"
      // T: the next LED is the first of the next segment. Y: the next LED, or again this one, which is dark by now, if it is the last.
      LAMPLOOM_BIT(BYTE0, 7, LAMPLOOM_IDLE1, "subi %A[left],1\n\t sbci %B[left],0\n\t in %[value],__SREG__\n\t bst %[value],1\n\t",
                   "sbiw %[count],1\n\t ldi %[value],3\n\t brne .+2\n\t ldi %[value],0\n\t add r28,%[value]\n\t")
      LAMPLOOM_BIT(BYTE0, 6, "adc r29,%[zero]\n\t", "ldi %[value],%[segmentSize]\n\t brts .+2\n\t ldi %[value],0\n\t add %A[segment],%[value]\n\t",
                   "adc %B[segment],%[zero]\n\t movw r30,%[segment]\n\t lpm %[value],Z+\n\t" LAMPLOOM_IDLE1)
      // T from here on: this LED has three bytes.
      LAMPLOOM_BIT(BYTE0, 5, LAMPLOOM_IDLE1, "brtc .+2\n\t mov %A[left],%[value]\n\t" LAMPLOOM_IDLE2,
                   "lpm %[value],Z+\n\t brtc .+2\n\t mov %B[left],%[value]\n\t bst %[white],7\n\t")
      LAMPLOOM_BIT(BYTE0, 4, LAMPLOOM_IDLE1, "lpm " NEXT0 ",Z+\n\t add " NEXT0 ",%[start]\n\t", "lpm " NEXT1 ",Z+\n\t lpm " NEXT2 ",Z+\n\t")
      LAMPLOOM_BIT(BYTE0, 3, "add " NEXT1 ",%[start]\n\t", "lpm %[white],Z\n\t dec %[white]\n\t", LAMPLOOM_LOOK_UP(NEXT0, 0))
      LAMPLOOM_BIT(BYTE0, 2, "add " NEXT2 ",%[start]\n\t", LAMPLOOM_CLEAR(0), LAMPLOOM_LOOK_UP(NEXT1, 1))
      LAMPLOOM_BIT(BYTE0, 1, LAMPLOOM_IDLE1, LAMPLOOM_CLEAR(1), LAMPLOOM_LOOK_UP(NEXT2, 2))
      LAMPLOOM_BIT(BYTE0, 0, "mov " NEXT3 "," NEXT0 "\n\t", LAMPLOOM_CLEAR(2), "cp " NEXT3 "," NEXT1 "\n\t brcs .+2\n\t mov " NEXT3 "," NEXT1 "\n\t" LAMPLOOM_IDLE3)
      LAMPLOOM_BIT(BYTE1, 7, LAMPLOOM_IDLE1, "cp " NEXT3 "," NEXT2 "\n\t brcs .+2\n\t mov " NEXT3 "," NEXT2 "\n\t" LAMPLOOM_IDLE1,
                   "sbrc %[white],7\n\t clr " NEXT3 "\n\t sub " NEXT0 "," NEXT3 "\n\t sub " NEXT1 "," NEXT3 "\n\t sub " NEXT2 "," NEXT3 "\n\t" LAMPLOOM_IDLE1)
      LAMPLOOM_BIT(BYTE1, 6, LAMPLOOM_IDLE1, LAMPLOOM_SCALE(NEXT0), "mov " NEXT0 ",r1\n\t" LAMPLOOM_IDLE5)
      LAMPLOOM_BIT(BYTE1, 5, LAMPLOOM_IDLE1, LAMPLOOM_SCALE(NEXT1), "mov " NEXT1 ",r1\n\t" LAMPLOOM_IDLE5)
      LAMPLOOM_BIT(BYTE1, 4, LAMPLOOM_IDLE1, LAMPLOOM_SCALE(NEXT2), "mov " NEXT2 ",r1\n\t" LAMPLOOM_IDLE5)
      LAMPLOOM_BIT(BYTE1, 3, LAMPLOOM_IDLE1, LAMPLOOM_SCALE(NEXT3), "mov " NEXT3 ",r1\n\t mov %[value],r1\n\t" LAMPLOOM_IDLE4)
      // The white byte moves forward to its place, one step for each bound that it lies below.
      LAMPLOOM_BIT(BYTE1, 2, LAMPLOOM_IDLE1, "cpi %[white],3\n\t brcc .+2\n\t mov " NEXT3 "," NEXT2 "\n\t" LAMPLOOM_IDLE1,
                   "brcc .+2\n\t mov " NEXT2 ",%[value]\n\t cpi %[white],2\n\t brcc .+2\n\t mov " NEXT2 "," NEXT1 "\n\t" LAMPLOOM_IDLE1)
      LAMPLOOM_BIT(BYTE1, 1, LAMPLOOM_IDLE1, "brcc .+2\n\t mov " NEXT1 ",%[value]\n\t" LAMPLOOM_IDLE2,
                   "cpi %[white],1\n\t brcc .+2\n\t mov " NEXT1 "," NEXT0 "\n\t brcc .+2\n\t mov " NEXT0 ",%[value]\n\t" LAMPLOOM_IDLE1)
      LAMPLOOM_BIT(BYTE1, 0, LAMPLOOM_IDLE1, LAMPLOOM_IDLE4, "ldi %[value],7\n\t" LAMPLOOM_IDLE5)
      LAMPLOOM_IDLE_BITS(BYTE2, 5)
      // Z flag: no LED is left.
      LAMPLOOM_BIT(BYTE2, 7, LAMPLOOM_IDLE1, "movw %A[bytes],%A[next]\n\t mov " BYTE2 "," NEXT2 "\n\t adiw %[count],0\n\t",
                   "brtc 3f\n\t mov " BYTE3 "," NEXT3 "\n\t mov %[up],%[high]\n\t breq 2f\n\t rjmp 1b\n\t")
      "2: rjmp 4f\n\t"
      "3: ldi %[value],7\n\t" LAMPLOOM_IDLE3
      LAMPLOOM_IDLE_BITS(BYTE3, 6)
      LAMPLOOM_BIT(BYTE3, 7, LAMPLOOM_IDLE1, "adiw %[count],0\n\t" LAMPLOOM_IDLE2, LAMPLOOM_IDLE2 "mov " BYTE3 "," NEXT3 "\n\t breq 4f\n\t rjmp 1b\n\t")
      "4: pop r29\n\t pop r28\n\t clr __zero_reg__\n\t"
      : [bytes] "+r"(bytes), [next] "=&r"(next), [value] "=&d"(value), [white] "+d"(white), [left] "+d"(left), [count] "+w"(count),
        [segment] "+r"(segment), [up] "+r"(up)
      : [led] "r"(led), [start] "r"(start), [high] "r"(high), [down] "r"(down), "x"(port), [scale] "r"(scale), [zero] "r"(zero),
        [segmentSize] "M"(segmentSize)
      : "r0", "r30", "r31", "memory", "cc");
}

#undef BYTE0
#undef BYTE1
#undef BYTE2
#undef BYTE3
#undef NEXT0
#undef NEXT1
#undef NEXT2
#undef NEXT3

// Gamma pages of both lines of a pair, by byte, lie in the workspace, since no register is left.
// One bit of two lines. While it goes out, the pins' pattern for bit `n` of two bytes is made. Free for other work: `early` 4 cycles,
// `late` 4, `last` 1. Cycles: both pins high 2, early 4, pins as the bits say 2, late 4, both low 2, pattern 5, last 1.
#define LAMPLOOM_PAIR(n, early, late, last)                                                                   \
  "st X,%[up]\n\t" early "st X,%[pattern]\n\t" late "st X,%[down]\n\t mov %[pattern],%[down]\n\t"            \
  "sbrc %[byte0]," #n "\n\t or %[pattern],%[mask0]\n\t sbrc %[byte1]," #n "\n\t or %[pattern],%[mask1]\n\t" last
/** Gamma of a byte: 4 cycles and 3. */
#define LAMPLOOM_PAGE(next, line) "movw r30,%[pages]\n\t ldd r31,Z+" #line "\n\t mov r30,%[" #next "]\n\t"
#define LAMPLOOM_LEVEL(next) "lpm %[" #next "],Z\n\t"

/**
 * Sends two lines of one port at the same time without a pause and clears their LEDs: `ledCount0` LEDs from `first0` on, and no more than as many,
 * `ledCount1`, from `first1` on; both of one segment with three bytes an LED, their pages in the workspace. The shorter line stays low after its end. Begins with
 * both pins low for one byte, as sendLine does for an LED. Interrupts must be off.
 */
static LAMPLOOM_NOINLINE void sendPair(U8 *first0, U16 ledCount0, U8 *first1, U16 ledCount1, volatile U8 *toPort, U8 bit0, U8 bit1, U8 scaleBy) {
  const U8 low = *toPort & (U8)~(bit0 | bit1);
  // Registers by name, as in sendLine.
  register U8 byte0 asm("r2"), byte1 asm("r3"), next0 asm("r4"), next1 asm("r5"), pattern asm("r6"), nextPattern asm("r7");
  register U8 up asm("r8"), down asm("r9") = low, both asm("r10") = low | bit0 | bit1, alone asm("r11") = low | bit0;
  register U8 mask0 asm("r12") = bit0, mask1 asm("r13") = bit1, scale asm("r14") = scaleBy, zero asm("r15") = 0;
  register U8 step0 asm("r16"), step1 asm("r17");          // bytes to the line's next one: 0 at its end
  register U16 count1 asm("r18") = 3 * ledCount1 + 1;
  register U8 *led1 asm("r20") = first1 - 1;
  register U8 *pages asm("r22") = workspace;
  register U16 count0 asm("r24") = 3 * ledCount0 + 1;
  register volatile U8 *port asm("r26") = toPort;
  register U8 *led0 asm("r30") = first0 - 1;
  asm volatile(
      "push r28\n\t push r29\n\t movw r28,r30\n\t clr %[byte0]\n\t clr %[byte1]\n\t mov %[pattern],%[down]\n\t mov %[up],%[down]\n\t"
      "ldi %[step0],1\n\t ldi %[step1],1\n\t"
      "1:\n\t"
      // A line whose last byte this is looks at it again instead of the next one; it is dark by now.
      LAMPLOOM_PAIR(6, "sbiw %[count0],1\n\t brne .+2\n\t ldi %[step0],0\n\t",
                    "subi %A[count1],1\n\t sbci %B[count1],0\n\t brne .+2\n\t ldi %[step1],0\n\t", LAMPLOOM_IDLE1)
      LAMPLOOM_PAIR(5, "add r28,%[step0]\n\t adc r29,%[zero]\n\t add %A[led1],%[step1]\n\t adc %B[led1],%[zero]\n\t",
                    "ld %[next0],Y\n\t st Y,%[zero]\n\t", LAMPLOOM_IDLE1)
      LAMPLOOM_PAIR(4, LAMPLOOM_PAGE(next0, 0), LAMPLOOM_LEVEL(next0) LAMPLOOM_IDLE1, LAMPLOOM_IDLE1)
      LAMPLOOM_PAIR(3, LAMPLOOM_SCALE("%[next0]"), "mov %[next0],r1\n\t movw r30,%[led1]\n\t ld %[next1],Z\n\t", LAMPLOOM_IDLE1)
      LAMPLOOM_PAIR(2, "st Z,%[zero]\n\t" LAMPLOOM_IDLE2, LAMPLOOM_PAGE(next1, 1), LAMPLOOM_IDLE1)
      LAMPLOOM_PAIR(1, LAMPLOOM_LEVEL(next1) "subi %A[pages],-2\n\t", LAMPLOOM_SCALE("%[next1]"), "mov %[next1],r1\n\t")
      LAMPLOOM_PAIR(0, "mov %[nextPattern],%[down]\n\t cpi %A[pages],lo8(%[firstPages]+6)\n\t brne .+2\n\t ldi %A[pages],lo8(%[firstPages])\n\t",
                    "sbrc %[next0],7\n\t or %[nextPattern],%[mask0]\n\t sbrc %[next1],7\n\t or %[nextPattern],%[mask1]\n\t", LAMPLOOM_IDLE1)
      // Once the second line has ended, only the first one's pin goes high.
      "st X,%[up]\n\t mov %[byte0],%[next0]\n\t mov %[byte1],%[next1]\n\t" LAMPLOOM_IDLE2
      "st X,%[pattern]\n\t mov %[up],%[both]\n\t tst %[step1]\n\t brne .+2\n\t mov %[up],%[alone]\n\t"
      "st X,%[down]\n\t mov %[pattern],%[nextPattern]\n\t" LAMPLOOM_IDLE2 "sbrc %[step0],0\n\t rjmp 1b\n\t"
      "pop r29\n\t pop r28\n\t clr __zero_reg__\n\t"
      : [byte0] "=&r"(byte0), [byte1] "=&r"(byte1), [up] "=&r"(up), [count0] "+w"(count0), [count1] "+d"(count1), [led1] "+r"(led1),
        [next0] "=&r"(next0), [next1] "=&r"(next1), [pattern] "=&r"(pattern), [nextPattern] "=&r"(nextPattern), [step0] "=&d"(step0),
        [step1] "=&d"(step1), [pages] "+d"(pages), "+z"(led0)
      : [down] "r"(down), [both] "r"(both), [alone] "r"(alone), [mask0] "r"(mask0), [mask1] "r"(mask1), "x"(port), [scale] "r"(scale), [zero] "r"(zero),
        [firstPages] "i"(workspace)
      : "r0", "memory", "cc");
}

static inline void loadPairPages(ShowData data, ShowData line, U8 *pages) {
  ShowData from = data + read16(line + lineSegments) + segmentGammaPages;
  const U8 start = highByte8((U16)data);  // the show data begins on a page of its own
  for (uint8_t place = 0; place < 3; place++) pages[2 * place] = start + read8(from + place);
}

/** Sends a whole frame, line after line or pair after pair, and clears it. `frame` holds 3 bytes for each LED. Interrupts are on between lines. */
static void sendFrame(ShowData data, U8 *frame, U8 scale) {
  ShowData lines = data + read16(data + headerLines), line = lines;
  for (U8 left = read8(data + headerLineCount); left; left--, line += lineSize) {
    const U8 partner = read8(line + linePartner);
    if (partner == partnerLeads) continue;
    volatile U8 *const port = (volatile U8 *)read16(line + linePortAddress);
    if (partner == partnerNone) {
      const U8 mask = read8(line + linePinMask);
      cli();
      const U8 level = *port;
      sendLine(frame + 3 * read16(line + lineFirstLed), read16(line + lineLedCount), data + read16(line + lineSegments), highByte8((U16)data), port,
               level | mask, level & (U8)~mask, scale);
    } else {
      ShowData longer = line, shorter = lines + lineSize * partner;
      if (read16(longer + lineLedCount) < read16(shorter + lineLedCount)) {
        longer = shorter;
        shorter = line;
      }
      loadPairPages(data, longer, workspace);
      loadPairPages(data, shorter, workspace + 1);
      cli();
      sendPair(frame + 3 * read16(longer + lineFirstLed), read16(longer + lineLedCount), frame + 3 * read16(shorter + lineFirstLed),
               read16(shorter + lineLedCount), port, read8(longer + linePinMask), read8(shorter + linePinMask), scale);
    }
    sei();
  }
}

#undef LAMPLOOM_BIT
#undef LAMPLOOM_IDLE_BITS
#undef LAMPLOOM_LOOK_UP
#undef LAMPLOOM_CLEAR
#undef LAMPLOOM_SCALE
#undef LAMPLOOM_PAIR
#undef LAMPLOOM_PAGE
#undef LAMPLOOM_LEVEL
#undef LAMPLOOM_IDLE1
#undef LAMPLOOM_IDLE2
#undef LAMPLOOM_IDLE3
#undef LAMPLOOM_IDLE4
#undef LAMPLOOM_IDLE5
#undef LAMPLOOM_IDLE6

}  // namespace lamploom
