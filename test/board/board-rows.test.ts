// The catalogue's boards against the headers that they are taken from: avr-libc's device headers, the Arduino core's pin tables and boards.txt.
// Sizes also against the chips' data sheets as they stand in their product tables. Not here: what the chips do (boards-on-chip.test.ts).
import { describe, expect, test } from 'vitest';
import { type Board, boards, pinLabel, rowById } from '../../src/catalogue/index.ts';
import { projectSchema } from '../../src/project/schema.ts';
import { playerManifest } from '../support/profile-board.ts';
import { boardsFile, deviceValues, type Mcu, pinPlaces, pinsHeader, pinTimers } from './chip-headers.ts';

const board = (id: string): Board => rowById(boards, id)!;
const sizeNames = ['FLASHEND', 'RAMSTART', 'RAMEND', 'E2END', 'USBCON'] as const;
const portNames = [...'ABCDEFGHJKL'].map((port) => `PORT${port}` as const);

/** A value of boards.txt. */
function boardsTxt(key: string): number {
  const line = boardsFile()
    .split('\n')
    .find((one) => one.startsWith(`${key}=`));
  if (line === undefined) throw new Error(`boards.txt has no ${key}`);
  return Number(line.slice(key.length + 1));
}

/** Where boards.txt keeps a board's upload settings. */
const uploadKeys = {
  atmega328p: 'nano.menu.cpu.atmega328.upload',
  'atmega328p-old': 'nano.menu.cpu.atmega328old.upload',
  atmega32u4: 'leonardo.upload',
  atmega2560: 'mega.menu.cpu.atmega2560.upload',
} as const;
const ids = Object.keys(uploadKeys) as (keyof typeof uploadKeys)[];

test('the boards are these four, and a project may name each of them and no other', () => {
  expect(boards.map(({ id }) => id)).toEqual(ids);
  expect(JSON.stringify(projectSchema)).toContain(`"enum":${JSON.stringify(ids)}`);
});

test('each chip has one prebuilt program, and each program a board', () => {
  expect(new Set(playerManifest().programs.map(({ mcu }) => mcu))).toEqual(
    new Set(boards.map(({ mcu }) => mcu)),
  );
  expect(playerManifest().programs).toHaveLength(3);
});

describe.each(ids)('%s', (id) => {
  const row = board(id);
  const mcu = row.mcu as Mcu;
  const sizes = deviceValues(mcu, sizeNames);

  test('has the SRAM and EEPROM of the device header, and USB where the header knows a USB controller', () => {
    expect(row.sramStart).toBe(sizes.RAMSTART);
    expect(row.sramStart + row.sramBytes - 1).toBe(sizes.RAMEND);
    expect(row.eepromBytes - 1).toBe(sizes.E2END);
    expect(row.hasOwnUsb).toBe(sizes.USBCON !== undefined);
  });

  test('has the flash that boards.txt lets a program fill, as far as `lpm` reads it', () => {
    const uploadable = boardsTxt(`${uploadKeys[id]}.maximum_size`);
    expect(uploadable).toBeLessThanOrEqual(sizes.FLASHEND! + 1);
    // AVR instruction set manual, LPM: the address is the 16 bits of Z. One page of 256 bytes stays free behind the last show data.
    expect(row.flashBytes).toBe(Math.min(uploadable, 0x10000 - 256));
    expect(row.uploadBaud).toBe(boardsTxt(`${uploadKeys[id]}.speed`));
  });

  test('knows register and bit of each pin as the headers do', () => {
    const places = pinPlaces(mcu);
    const addresses = deviceValues(mcu, portNames);
    for (const { pin, portAddress, bit } of row.pins) {
      const place = places[pin]!;
      expect({ pin, portAddress, bit }).toEqual({
        pin,
        portAddress: addresses[`PORT${place.port}` as (typeof portNames)[number]],
        bit: place.bit,
      });
    }
    expect(new Set(row.pins.map(({ portAddress, bit }) => `${portAddress} ${bit}`)).size).toBe(
      row.pins.length,
    );
  });

  test('leaves out only what is no pin of its own', () => {
    const pins = row.pins.map(({ pin }) => pin);
    const left = pinPlaces(mcu).flatMap((_, pin) => (pins.includes(pin) ? [] : [pin]));
    // pins_arduino.h of the variant leonardo: 24 to 29 are the analogue names of other pins, 17 and 30 the lamps RX and TX (TX_RX_LED_INIT).
    expect(left).toEqual(id === 'atmega32u4' ? [17, 24, 25, 26, 27, 28, 29, 30] : []);
  });

  test('has A0, I2C and Timer1 where pins_arduino.h has them', () => {
    const define = (name: string) =>
      Number(new RegExp(`#define ${name}\\s+\\((\\d+)\\)`).exec(pinsHeader(mcu))?.[1]);
    expect(row.firstAnaloguePin).toBe(define('PIN_A0'));
    expect(pinLabel(row, row.firstAnaloguePin)).toBe('A0');
    expect(pinLabel(row, row.firstAnaloguePin - 1)).toBe(`D${row.firstAnaloguePin - 1}`);
    expect(row.i2cPins).toEqual([define('PIN_WIRE_SDA'), define('PIN_WIRE_SCL')]);
    const onTimer1 = pinTimers(mcu).flatMap((timer, pin) => (/^TIMER1[ABC]$/.test(timer) ? [pin] : []));
    expect(row.timer1Pins).toEqual(onTimer1);
  });

  test('has its serial port on pins 0 and 1', () => {
    // Alternate functions in the data sheets: USART0 is on PD0 and PD1 of the ATmega328P and on PE0 and PE1 of the ATmega2560, USART1 on PD2 and
    // PD3 of the ATmega32U4 (from memory); the comments of pins_arduino.h name the same pins.
    const usart = { atmega328p: ['D0', 'D1'], atmega32u4: ['D2', 'D3'], atmega2560: ['E0', 'E1'] }[mcu];
    const places = pinPlaces(mcu);
    expect(row.serialPins.map((pin) => `${places[pin]!.port}${places[pin]!.bit}`)).toEqual(usart);
    // Only a chip without USB of its own needs its serial port for the USB link.
    expect(row.usbSerialPins).toEqual(row.hasOwnUsb ? [] : row.serialPins);
  });
});
