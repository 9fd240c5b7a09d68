// The board's inputs: event pins, serial port or I2C, the room button with its step kept in EEPROM, the watchdog. Everything is polled, from the loops
// that wait and between clips; no interrupt is used. Each is silent where the show data does not ask for it.
// Not here: what levels and bytes mean (inputs.h), what events do (director.h).
#pragma once
#include <avr/eeprom.h>
#include <avr/io.h>
#include <avr/wdt.h>
#include "inputs.h"
#include "show_data.h"

namespace lamploom {

// The serial port at pins 0 and 1: the ATmega32U4 calls its only one USART1.
#ifdef UDR0
#define LAMPLOOM_UART(name, suffix) name##0##suffix
#else
#define LAMPLOOM_UART(name, suffix) name##1##suffix
#endif

enum {
  pollTicks = 4 * ticksPerMs,                          // pins are read this often, and before and after each frame that goes out
  uart115200 = 16,                                     // at double speed: 117,647 baud, 2.1 % off
  mostEventPins = RAMEND > 0x1000 ? 48 : 16,
  mostPresses = 4,                                     // that wait for the next frame; pins are not read while there is no room
  roomStepCount = 3,
  roomStepMark = 0xA0                                  // with the step in EEPROM's last byte; anything else there is the brightest
};

struct Inputs {
  U8 pins[mostEventPins];  // of the events that have one, in their order
  U8 roomButton;
  U8 roomStep;
  U16 polledAt;            // Timer1 value of the last reading of the pins
  Receiver receiver;
  U8 presses[mostPresses]; // events whose pin was pressed, not taken yet
  U8 pressCount;
  U8 event, value;         // what came as a message and is not taken yet; noMessage: nothing
  ShowData text;           // what is left of the answer to a hello
  U8 textLeft;
};
// Not cleared at power-up, but by inputsBegin; and at the end of all variables, where the ready-to-flash program lays its frame buffer over them
// when nothing can start another show.
static Inputs inputs LAMPLOOM_LAST;

/** Whether no input is asked for and no event can come: the start show plays for ever, and neither inputs nor director are touched. */
static inline bool isQuiet(ShowData data) {
#ifdef LAMPLOOM_QUIET
  (void)data;
  return true;
#else
  return read8(data + headerEventCount) == 0 && (read8(data + headerInputs) & (inputSerial | inputI2c)) == 0 &&
         read16(data + headerRoomPort) == 0;
#endif
}

static inline U16 timerNow() { return TCNT1; }
static inline uint8_t *roomStepPlace() { return (uint8_t *)E2END; }

static inline void pullUp(U16 inputRegister, U8 mask) {
  // Direction and output registers lie one and two above.
  *(volatile U8 *)(inputRegister + 1) &= (U8)~mask;
  *(volatile U8 *)(inputRegister + 2) |= mask;
}
static inline bool isLow(U16 inputRegister, U8 mask) { return !(*(volatile U8 *)inputRegister & mask); }

/** Pull-ups, serial port, I2C, and the room step from EEPROM. */
static void inputsBegin(ShowData data) {
  for (U8 *byte = (U8 *)&inputs; byte < (U8 *)(&inputs + 1); byte++) *byte = 0;
  ShowData row = data + read16(data + headerEvents);
  for (U8 left = read8(data + headerEventCount); left; left--, row += eventSize) {
    const U16 port = read16(row + eventPortAddress);
    if (port) pullUp(port, read8(row + eventPinMask));
  }
  for (U8 i = 0; i < mostEventPins; i++) inputs.pins[i] = pinAtPowerUp;
  inputs.roomButton = pinAtPowerUp;
  const U16 roomPort = read16(data + headerRoomPort);
  if (roomPort) {
    pullUp(roomPort, read8(data + headerRoomMask));
    const U8 kept = (U8)(eeprom_read_byte(roomStepPlace()) - roomStepMark);
    inputs.roomStep = kept < roomStepCount ? kept : 0;
  }
  receiverBegin(inputs.receiver);
  inputs.event = noMessage;
  const U8 on = read8(data + headerInputs);
  if (on & inputSerial) {
    LAMPLOOM_UART(UBRR, ) = uart115200;
    LAMPLOOM_UART(UCSR, A) = _BV(LAMPLOOM_UART(U2X, ));
    LAMPLOOM_UART(UCSR, C) = _BV(LAMPLOOM_UART(UCSZ, 1)) | _BV(LAMPLOOM_UART(UCSZ, 0));
    LAMPLOOM_UART(UCSR, B) = _BV(LAMPLOOM_UART(RXEN, )) | _BV(LAMPLOOM_UART(TXEN, ));
  }
  if (on & inputI2c) {
    TWAR = (U8)(read8(data + headerI2cAddress) << 1);
    TWCR = _BV(TWEA) | _BV(TWEN) | _BV(TWINT);
  }
  inputs.polledAt = timerNow();
}

static void takeByte(ShowData data, U8 byte) {
  U8 value;
  const U8 event = receive(inputs.receiver, byte, value);
  if (event == helloEvent) {
    ShowData text = data + read16(data + headerText);
    inputs.textLeft = read8(text);
    inputs.text = text + 1;
  } else if (event != noMessage) {
    inputs.event = event;
    inputs.value = value;
  }
}

/** The next byte to send; 0: none. */
static U8 nextAnswer() {
  const U8 answer = inputs.receiver.answer;
  inputs.receiver.answer = 0;
  if (answer || !inputs.textLeft) return answer;
  inputs.textLeft--;
  return readNext(inputs.text);
}

static LAMPLOOM_NOINLINE void pollSerial(ShowData data) {
  // While an event waits for its frame, bytes wait in the port.
  while (inputs.event == noMessage && (LAMPLOOM_UART(UCSR, A) & _BV(LAMPLOOM_UART(RXC, )))) takeByte(data, LAMPLOOM_UART(UDR, ));
  if (LAMPLOOM_UART(UCSR, A) & _BV(LAMPLOOM_UART(UDRE, ))) {
    const U8 answer = nextAnswer();
    if (answer) LAMPLOOM_UART(UDR, ) = answer;
  }
}

static LAMPLOOM_NOINLINE void pollI2c(ShowData data) {
  if (!(TWCR & _BV(TWINT))) return;
  U8 control = _BV(TWINT) | _BV(TWEA) | _BV(TWEN);
  // Status codes of the data sheet's tables for slave receiver and slave transmitter.
  switch (TWSR & 0xF8) {
    case 0x80:  // a byte came; while an event waits for its frame, the clock is held low
      if (inputs.event != noMessage) return;
      takeByte(data, TWDR);
      break;
    case 0xA8:  // addressed for reading
    case 0xB8:  // a byte was read, and one more is wanted
      TWDR = nextAnswer();
      break;
    case 0x00:  // something illegal on the bus
      control |= _BV(TWSTO);
      break;
  }
  TWCR = control;
}

/** Reads all pins, whenever it was done last. */
static LAMPLOOM_NOINLINE void pollPins(ShowData data) {
  if (isQuiet(data)) return;
  if (inputs.pressCount == mostPresses) return;
  const U8 passedMs = takePassedMs(timerNow(), inputs.polledAt);
  U8 *pin = inputs.pins;
  ShowData row = data + read16(data + headerEvents) + eventPortAddress;
  for (U8 event = 0, count = read8(data + headerEventCount); event < count; event++, row += eventSize) {
    const U16 port = read16(row);
    if (!port) continue;
    if (pin == inputs.pins + mostEventPins || inputs.pressCount == mostPresses) break;
    if (pollPin(*pin++, isLow(port, read8(row + (eventPinMask - eventPortAddress))), passedMs)) inputs.presses[inputs.pressCount++] = event;
  }
  const U16 roomPort = read16(data + headerRoomPort);
  if (!roomPort || !pollPin(inputs.roomButton, isLow(roomPort, read8(data + headerRoomMask)), passedMs)) return;
  inputs.roomStep = inputs.roomStep < roomStepCount - 1 ? (U8)(inputs.roomStep + 1) : (U8)0;
  eeprom_update_byte(roomStepPlace(), (U8)(roomStepMark + inputs.roomStep));
}

/** Call wherever there is time; short where nothing is due. */
static LAMPLOOM_NOINLINE void pollInputs(ShowData data) {
  if (isQuiet(data)) return;
  const U8 on = read8(data + headerInputs);
  if (on & inputSerial) pollSerial(data);
  if (on & inputI2c) pollI2c(data);
  if ((U16)(timerNow() - inputs.polledAt) >= pollTicks) pollPins(data);
}

/** Calls `hear(event, hasOwnValue)` for each event that came since the last time: presses as they were found, then the message. */
template <class Hear>
static inline void takeEvents(Hear hear) {
  for (U8 i = 0; i < inputs.pressCount; i++) hear(inputs.presses[i], false);
  inputs.pressCount = 0;
  if (inputs.event != noMessage) hear(inputs.event, true);
  inputs.event = noMessage;
}

}  // namespace lamploom
